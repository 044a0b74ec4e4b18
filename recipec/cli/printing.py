"""Papers as PDF on a command line: on which sheet, and never onto a terminal."""

from __future__ import annotations

import dataclasses
import sys
from pathlib import Path
from typing import TYPE_CHECKING

import click

if TYPE_CHECKING:
    from recipec.book.compile import Build
    from recipec.emit.request import Paper


def not_onto_terminal(form: str, output: Path | None) -> None:
    """Ends with a word of help where a PDF would be poured out before someone's eyes."""
    if form == "pdf" and output is None and sys.stdout.isatty():
        raise click.UsageError(
            "A PDF is nothing to read on a terminal. Name a file for it, like -o paper.pdf, or a pipe."
        )


def on_sheet(build: Build, size: str | None) -> Build:
    """The book with another sheet of paper than it names, where one is asked for."""
    if size is None:
        return build
    settings = build.book.settings._replace(paper=size)
    return dataclasses.replace(build, book=build.book._replace(settings=settings))


def page_as(form: str, paper: Paper) -> bytes:
    """A page as it is, for `html`; set for printing, for `pdf`."""
    if form != "pdf":
        return paper.data
    from recipec.emit.pdf.press import job, set_type

    assert paper.form is not None
    work = job(paper.form)
    assert work is not None
    return set_type(work)
