"""`recipec watch`."""

from __future__ import annotations

import gc
from pathlib import Path

import click

from recipec.book.build import write_build
from recipec.book.compile import Overrides, compile_book
from recipec.book.files import absolute
from recipec.cli import options
from recipec.cli.books import book_folder
from recipec.cli.build import OUT, said
from recipec.cli.output import report, shown_findings


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
    """Build BOOK, then build it again whenever one of its files changes. Ctrl-C ends it.

    A broken file is reported, and the last good book stays until it is mended.

    \b
    Example:
      recipec watch my-book
    """
    from recipec.watch import Watcher, disk_events

    root = book_folder(folder or book)
    out = absolute(output) if output is not None else root / OUT
    overrides = Overrides(measures, show, lang)
    gc.enable()

    def build(names: tuple[str, ...]) -> None:
        if names and not quiet:
            click.echo(f"\nChanged: {', '.join(names[:5])}{' …' if len(names) > 5 else ''}", err=True)
        from recipec.book.timeline import with_plans

        compiled, plans = with_plans(compile_book(root, overrides=overrides))
        outcome = write_build(compiled, out, plans)
        report(shown_findings(compiled.findings, hints=False), color)
        click.echo(said(compiled, outcome, output or Path(OUT)), err=True)

    try:
        with disk_events(root) as events:
            build(())
            if not quiet:
                click.echo("Watching. Ctrl-C ends it.", err=True)
            Watcher(root, out, events, build).run()
    except KeyboardInterrupt:
        pass
    return 0
