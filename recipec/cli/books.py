"""Which book a command works on, and compiling it."""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from pathlib import Path

import click

from recipec.book.compile import Build, Overrides, against, compile_book, compile_files
from recipec.book.files import SETTINGS, absolute, find_book, kind_of
from recipec.cli.output import report, shown_findings, tally

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
        if root is None:
            return compile_files([path], overrides=overrides)
    else:
        root = book_folder(book)
    # Sums are the business of the commands that reckon with them.
    return compile_book(root, overrides=overrides, events=False)


def files_under(build: Build, keys: Iterable[str]) -> set[str]:
    """The files of these dishes and of all that they ask for with `our`, at any depth."""
    todo, seen = list(keys), set[str]()
    names: set[str] = set()
    while todo:
        key = todo.pop()
        dish = build.book.dish(key)
        if key in seen or dish is None:
            continue
        seen.add(key)
        names.add(dish.span.source.name)
        todo += [target for _, target in dish.links]
    return names


def say_what_is_wrong(build: Build, names: Iterable[str], color: str) -> bool:
    """Report what is wrong in these files; whether any of it is an error or an open danger."""
    findings = build.about(names)
    report(shown_findings(findings, hints=False), color)
    return bool(against(findings))


def stop_if_wrong(build: Build, names: Iterable[str], color: str) -> None:
    """Report what is wrong in these files; end with exit 1 when no paper made from them would be right."""
    if say_what_is_wrong(build, names, color):
        findings = build.about(names)
        click.echo(f"\n{tally(findings, None, hints_shown=False)} Nothing was made of it.", err=True)
        raise click.exceptions.Exit(1)


def no_such(build: Build, words: str, noun: str, near: Sequence[str], color: str) -> click.UsageError:
    """Nothing of that name, or several. Files that could not be read are reported first: it may be in one of them."""
    stop_if_wrong(build, {one.span.source.name for one in build.findings if one.slug == "unreadable-file"}, color)
    message = f"There is no {noun} here called {words!r}, or more than one."
    if near:
        message += f" Did you mean {' or '.join(repr(name) for name in near[:3])}?"
    return click.UsageError(message)
