"""`recipec new`."""

from __future__ import annotations

from pathlib import Path

import click

from recipec.cli import options
from recipec.cli.output import refused


@click.command()
@click.argument("directory", type=click.Path(path_type=Path))
@options.quiet
def command(directory: Path, quiet: bool) -> None:
    """Start a book in DIRECTORY, a new or empty folder: a dish, an event, a kitchen and prices, ready to build.

    \b
    Example:
      recipec new my-book
    """
    from recipec.book.start import start_book
    from recipec.book.write import Refused

    result = start_book(directory)
    if isinstance(result, Refused):
        raise refused(result.message, result.hint)
    if not quiet:
        click.echo(f"Wrote {', '.join(result)}.")
        click.echo(f"Next: recipec build {directory}")
