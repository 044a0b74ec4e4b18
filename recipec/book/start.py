"""A new book: a few files that build at once."""

from __future__ import annotations

from pathlib import Path

from recipec.book.write import Refused


def starter_files() -> dict[str, bytes]:
    """The files of a new book by name; all content is invented."""
    folder = Path(__file__).with_name("starter")
    return {path.name: path.read_bytes() for path in sorted(folder.iterdir()) if path.is_file()}


def start_book(place: Path) -> tuple[str, ...] | Refused:
    """Write a new book into `place`, a folder that is empty or not there yet; the names written, in order."""
    try:
        place.mkdir(parents=True, exist_ok=True)
        if any(place.iterdir()):
            return Refused(f"{place.name or place} is not empty, and nothing in it was touched.", "Name a new folder.")
        files = starter_files()
        for name, data in files.items():
            # "x" never overwrites, whatever has appeared there meanwhile.
            with (place / name).open("xb") as file:
                file.write(data)
    except OSError as problem:
        why = (problem.strerror or "the system refused it").lower()
        return Refused(f"The folder {place.name or place} can't be written: {why}.", "Name another folder.")
    return tuple(files)
