"""Which files a book has, and the one place that reads them."""

from __future__ import annotations

import contextlib
import os
import stat
from collections.abc import Mapping
from pathlib import Path
from typing import Literal, NamedTuple, TypeAlias

from recipec.base.finding import Finding
from recipec.base.source import Source, decode
from recipec.base.span import Span

SETTINGS = "cookbook.toml"
PRICES = "prices.csv"
LARDER = "larder.csv"
MANIFEST = ".recipec-written.json"
"""Stands in every output folder; a folder that holds it is never read as part of a book."""

LARGEST = 16 * 1024 * 1024
"""Bytes. A file larger than this is no recipe, and reading it would only stall the machine."""

TextKind: TypeAlias = Literal["dish", "event", "kitchen"]
Overlay: TypeAlias = Mapping[str, str]
"""Unsaved text by a file's name in the book: it stands for the file, whether there is one on the disk or not."""

PICTURES = (".png", ".jpg", ".jpeg", ".webp")
"""Endings of pictures that every browser shows."""

_KINDS: tuple[TextKind, ...] = ("dish", "event", "kitchen")


class Picture(NamedTuple):
    """A picture file by its name in the book; size in bytes, last change in nanoseconds."""

    name: str
    size: int
    changed: int


class Listing(NamedTuple):
    """Names relative to the book, with forward slashes, sorted. `folders` are those looked into, '' for the book's own.

    `pictures` are the picture files that stand in those folders themselves: a link is none.
    """

    names: tuple[str, ...]
    folders: tuple[str, ...]
    findings: tuple[Finding, ...]
    pictures: tuple[Picture, ...] = ()


class Read(NamedTuple):
    """A file's text, None when it could not be read (a finding says why), and what is to be said of it."""

    source: Source | None
    findings: tuple[Finding, ...]


def kind_of(name: str) -> TextKind | None:
    """Which text file it is, by its ending in any case; None for another file."""
    lower = name.lower()
    return next((kind for kind in _KINDS if lower.endswith(f".{kind}")), None)


def is_picture(name: str) -> bool:
    """Whether it is a picture that a page can show, by its ending in any case."""
    return name.lower().endswith(PICTURES)


def concerns(name: str) -> bool:
    """Whether a change of this name in a book, a file's or a folder's, may change what the book says."""
    parts = name.split("/")
    if any(part.startswith(".") for part in parts):
        return False
    # A folder that came, went or was renamed takes its dishes with it; whether it was one can't be asked of one that is gone.
    return _wanted(name) or is_picture(name) or "." not in parts[-1]


def absolute(path: Path) -> Path:
    """The whole path, `..` taken out by its letters: following links could lead out of the book the cook named."""
    return Path(os.path.normpath(path.absolute()))


def find_book(start: Path) -> Path | None:
    """The nearest folder upward from `start` (a file or a folder) that holds `cookbook.toml`."""
    start = absolute(start)
    for folder in (start, *start.parents):
        if (folder / SETTINGS).is_file():
            return folder
    return None


def list_book(root: Path, overlay: Overlay) -> Listing:
    """Every dish, event and kitchen below `root`, and the book's own three files where there are any.

    Hidden folders, folders a build has written, other books in this one and linked folders are not looked into.
    """
    names: set[str] = set()
    folders: list[str] = []
    findings: list[Finding] = []
    pictures: list[Picture] = []
    waiting = [""]
    while waiting:
        folder = waiting.pop()
        try:
            with os.scandir(root / folder) as found:
                entries = list(found)
        except OSError as problem:
            findings.append(
                _unreadable(folder or ".", f"This folder can't be read: {why(problem)}.", "See that you may read it.")
            )
            continue
        if any(entry.name == MANIFEST or (folder and entry.name == SETTINGS) for entry in entries):
            continue
        folders.append(folder)
        for entry in entries:
            name = f"{folder}/{entry.name}" if folder else entry.name
            if entry.name.startswith("."):
                continue
            if entry.is_dir(follow_symlinks=False):
                waiting.append(name)
            elif _wanted(name):
                if _printable(name):
                    names.add(name)
                else:
                    shown = name.encode("utf-8", "replace").decode("utf-8")
                    findings.append(_unreadable(shown, "This file's name is not UTF-8.", "Give the file another name."))
            elif is_picture(name) and _printable(name) and entry.is_file(follow_symlinks=False):
                with contextlib.suppress(OSError):  # gone since the folder was listed
                    state = entry.stat(follow_symlinks=False)
                    pictures.append(Picture(name, state.st_size, state.st_mtime_ns))
    names.update(name for name in overlay if _wanted(name))
    return Listing(tuple(sorted(names)), tuple(sorted(folders)), tuple(findings), tuple(sorted(pictures)))


def read_file(root: Path, name: str, overlay: Overlay) -> Read:
    """One file of the book as a source of that name."""
    if name in overlay:
        return Read(Source(name, overlay[name]), ())
    # Plain strings here: a large book is read on every check, and paths as objects cost more than the reading.
    path = os.path.join(root, name)  # noqa: PTH118
    try:
        if os.path.islink(path) and not Path(path).resolve().is_relative_to(root.resolve()):  # noqa: PTH114
            message = "This is a link that leads out of the book, and it is not followed."
            return Read(None, (_unreadable(name, message, "Put the file itself into the book."),))
        data = read_bytes(path, LARGEST)
    except (OSError, ValueError, RuntimeError) as problem:  # RuntimeError: a circle of links
        hint = "Put the file back or take the name away, and see that you may read it."
        return Read(None, (_unreadable(name, f"This file can't be read: {why(problem)}.", hint),))
    return decoded(name, data)


def decoded(name: str, data: bytes) -> Read:
    """Bytes to a source; what is no UTF-8 is a finding at its place, and the rest is still read."""
    source, bad = decode(name, data)
    if bad is None:
        return Read(source, ())
    if data[:2] in (b"\xff\xfe", b"\xfe\xff"):
        message = "This file is saved as UTF-16, and recipec reads UTF-8."
        at, end = 0, 0
    else:
        message = f"Byte {bad + 1} of this file is no UTF-8: a letter was saved in another encoding."
        at = len(data[:bad].decode("utf-8-sig"))
        end = at + 1
    hint = "Save the file as UTF-8; every editor has a setting for it."
    return Read(source, (Finding("bad-encoding", Span(source, at, end), message, hints=(hint,)),))


def read_bytes(path: str, most: int) -> bytes:
    """The first `most` bytes of an ordinary file no larger than LARGEST. OSError or ValueError, with words, when there is none."""
    # Opening a pipe would wait for a writer that never comes, unless told not to wait.
    handle = os.open(path, os.O_RDONLY | getattr(os, "O_NONBLOCK", 0) | getattr(os, "O_BINARY", 0))
    try:
        state = os.fstat(handle)
        if not stat.S_ISREG(state.st_mode):
            raise ValueError("it is no ordinary file")
        if state.st_size > LARGEST:
            raise ValueError(f"it is larger than {LARGEST // (1024 * 1024)} MB")
        # Asked for no more than there is: room for the largest file, made anew for each, took most of the time of reading.
        pieces: list[bytes] = []
        left = min(most, state.st_size)
        while left > 0 and (piece := os.read(handle, left)):
            pieces.append(piece)
            left -= len(piece)
        return b"".join(pieces)
    finally:
        os.close(handle)


def _wanted(name: str) -> bool:
    return kind_of(name) is not None or name in (SETTINGS, PRICES, LARDER)


def _printable(name: str) -> bool:
    try:
        name.encode("utf-8")
    except UnicodeEncodeError:
        return False
    return True


def why(problem: Exception) -> str:
    """Why a file can't be read: the system's own words, without the path, which differs from machine to machine."""
    if isinstance(problem, OSError):
        return (problem.strerror or "the system refused it").lower()
    if isinstance(problem, RuntimeError):
        return "its links go in a circle"
    return str(problem)


def _unreadable(name: str, message: str, *hints: str) -> Finding:
    return Finding("unreadable-file", Span(Source(name, ""), 0, 0), message, hints=hints)
