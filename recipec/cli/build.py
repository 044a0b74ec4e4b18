"""`recipec build`."""

from __future__ import annotations

from pathlib import Path

import click

from recipec.book.build import Outcome, write_build
from recipec.book.compile import Build, Overrides, compile_book
from recipec.book.write import Refused, Written
from recipec.cli import options
from recipec.cli.books import book_folder
from recipec.cli.output import progress, report, shown_findings, tally

OUT = "out"


@click.command()
@click.argument("folder", metavar="[BOOK]", required=False, type=click.Path(path_type=Path, exists=True))
@click.option(
    "-o",
    "--output",
    type=click.Path(path_type=Path, file_okay=False),
    metavar="OUT",
    help=f"The folder to write; else {OUT} in the book's own.",
)
@options.several(options.book, options.measures, options.show, options.lang, options.color, options.quiet)
def command(
    folder: Path | None,
    output: Path | None,
    book: Path | None,
    measures: str | None,
    show: str | None,
    lang: str | None,
    color: str,
    quiet: bool,
) -> int:
    """Make the whole of BOOK: the cookbook, a card for every dish, the papers of every event.

    Only what changed is written. With errors nothing is written, and the last good book stays.

    \b
    Example:
      recipec build my-book -o my-book/out
    """
    root = book_folder(folder or book)
    out = output if output is not None else root / OUT
    build = compile_book(root, overrides=Overrides(measures, show, lang), progress=progress(quiet))
    from recipec.book.timeline import with_plans

    build, plans = with_plans(build)
    outcome = write_build(build, out, plans)
    report(shown_findings(build.findings, hints=False), color)
    if not quiet:
        if shown_findings(build.findings, hints=False):
            click.echo(err=True)
        click.echo(said(build, outcome, out), err=True)
    elif not isinstance(outcome, Written):
        click.echo(said(build, outcome, out), err=True)
    return 0 if isinstance(outcome, Written) else 1


def said(build: Build, outcome: Outcome, out: Path) -> str:
    """One line on how a build ended."""
    if isinstance(outcome, Refused):
        return f"{outcome.message} {outcome.hint}"
    line = tally(build.findings, None, hints_shown=False)
    if not isinstance(outcome, Written):
        return f"{line} Nothing was written."
    if not outcome.written and not outcome.removed:
        return f"{line} {out}: all {outcome.unchanged} files are as they were."
    removed = f", {outcome.removed} removed" if outcome.removed else ""
    return f"{line} {out}: {outcome.written} written{removed}, {outcome.unchanged} as they were."
