"""Which book a command works on, and compiling it."""

from __future__ import annotations

from collections.abc import Sequence
from pathlib import Path

import click

from recipec.book.compile import Build, Overrides, compile_book, compile_files
from recipec.book.files import SETTINGS, absolute, find_book, kind_of

NO_BOOK = f"There is no book here: no folder upward holds a {SETTINGS}."


def book_folder(given: Path | None) -> Path:
    """The folder of the book meant; a usage error when there is none."""
    if given is not None:
        folder = absolute(given)
        if not (folder / SETTINGS).is_file():
            raise click.UsageError(f"{given} is no book: it holds no {SETTINGS}.")
        return folder
    found = find_book(Path.cwd())
    if found is None:
        raise click.UsageError(f"{NO_BOOK} `recipec new DIR` starts one.")
    return found


def compile_for(words: str, book: Path | None, overrides: Overrides) -> Build:
    """The book in which `words`, a dish or an event, is looked for: the one asked for, else that of the file of that
    name, else the nearest upward; a file that is in no book stands by itself."""
    path = Path(words)
    is_text = kind_of(words) is not None and path.is_file()
    if book is None and is_text:
        root = find_book(path)
        return compile_files([path], overrides=overrides) if root is None else compile_book(root, overrides=overrides)
    return compile_book(book_folder(book), overrides=overrides)


def no_such(words: str, noun: str, near: Sequence[str]) -> click.UsageError:
    """Nothing of that name, or several."""
    message = f"There is no {noun} {words!r} that could be told from the others here."
    if near:
        message += f" Did you mean {' or '.join(repr(name) for name in near[:3])}?"
    return click.UsageError(message)
