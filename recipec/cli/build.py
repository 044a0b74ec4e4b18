"""`recipec build`."""

from __future__ import annotations

from pathlib import Path

import click

from recipec.book.build import Outcome, write_build, write_client_copy
from recipec.book.compile import Build, Overrides, compile_book
from recipec.book.find import find_event
from recipec.book.write import Refused, Written
from recipec.cli import options
from recipec.cli.books import book_folder, no_such
from recipec.cli.output import progress, report, shown_findings, tally
from recipec.cli.printing import on_sheet
from recipec.model.event import Event
from recipec.plan.client_copy import HOUSEHOLD

OUT = "out"
OUT_CLIENT = "client"


@click.command()
@click.argument("folder", metavar="[BOOK]", required=False, type=click.Path(path_type=Path, exists=True))
@click.option(
    "-o",
    "--output",
    type=click.Path(path_type=Path, file_okay=False),
    metavar="OUT",
    help=f"The folder to write; else {OUT} in the book's own.",
)
@click.option(
    "--for-client", "client", is_flag=True, help="A copy to give away: one event's menu, no costs, nobody's needs."
)
@click.option("--event", metavar="EVENT", help="With --for-client: whose menu, where the book has several events.")
@click.option(
    "--plates",
    type=click.IntRange(1, 100),
    metavar="N",
    help=f"With --for-client: plates of each dish; else {HOUSEHOLD}.",
)
@click.option("--no-pdf", "no_pdf", is_flag=True, help="Pages only: no cards, papers and book as PDF.")
@options.several(options.book, options.size, options.measures, options.show, options.lang, options.color, options.quiet)
def command(
    folder: Path | None,
    output: Path | None,
    client: bool,
    event: str | None,
    plates: int | None,
    no_pdf: bool,
    book: Path | None,
    size: str | None,
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
      recipec build my-book --for-client --event boathouse-supper -o gift
    """
    root = book_folder(folder or book)
    out = output if output is not None else root / (OUT_CLIENT if client else OUT)
    if not client and (event is not None or plates is not None):
        raise click.UsageError("--event and --plates belong to --for-client.")
    build = on_sheet(compile_book(root, overrides=Overrides(measures, show, lang), progress=progress(quiet)), size)
    if client:
        outcome = write_client_copy(build, _whose(build, event, color), plates or HOUSEHOLD, out, pdf=not no_pdf)
    else:
        from recipec.book.timeline import with_plans

        build, plans = with_plans(build)
        outcome = write_build(build, out, plans, pdf=not no_pdf)
    report(shown_findings(build.findings, hints=False), color)
    if not quiet:
        if shown_findings(build.findings, hints=False):
            click.echo(err=True)
        click.echo(said(build, outcome, out), err=True)
    elif not isinstance(outcome, Written):
        click.echo(said(build, outcome, out), err=True)
    return 0 if isinstance(outcome, Written) else 1


def _whose(build: Build, words: str | None, color: str) -> Event:
    events = build.book.events
    if words is not None:
        found = find_event(build.book, words)
        if found.value is None:
            raise no_such(build, words, "event", found.near, color)
        return found.value
    if len(events) != 1:
        names = ", ".join(event.key for event in events)
        raise click.UsageError(
            f"Say whose menu: --event with one of {names}." if events else "This book has no event to make a copy of."
        )
    return events[0]


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
