"""`recipec convert`."""

from __future__ import annotations

from pathlib import Path

import click

from recipec.cli import options
from recipec.cli.output import put, refused


# A temperature below nothing starts with a hyphen, as an option does.
@click.command(context_settings={"ignore_unknown_options": True})
@click.argument("amount")
@click.argument("unit")
@click.option("--of", "thing", metavar="THING", help="What it is an amount of, when weight meets volume or pieces.")
@options.several(options.formats(["text", "json"]), options.output, options.book, options.measures, options.lang)
def command(
    amount: str,
    unit: str,
    thing: str | None,
    form: str,
    output: Path | None,
    book: Path | None,
    measures: str | None,
    lang: str | None,
) -> None:
    """Say AMOUNT in UNIT: "180 C" gas, "3 lb" kg, or by what the larder knows of a THING.

    The larder is the book's, when there is a book here.

    \b
    Example:
      recipec convert "1 1/2 cups" g --of flour --measures us
    """
    from recipec.book.bench import bench_sum
    from recipec.book.bench_types import NoAnswer
    from recipec.book.compile import Overrides, context_of
    from recipec.book.files import find_book
    from recipec.cli.books import book_folder

    root = find_book(Path.cwd()) if book is None else book_folder(book)
    answer = bench_sum(amount, unit, thing, context_of(root, Overrides(measures=measures, language=lang)))
    if isinstance(answer, NoAnswer):
        raise refused(answer.message, answer.hint)
    if form == "json":
        import json

        sides = {
            name: {
                "value": str(side.value),
                "unit": side.unit,
                **({} if side.high is None else {"high": str(side.high)}),
                "text": side.text,
            }
            for name, side in (("from", answer.given), ("to", answer.result))
        }
        put(json.dumps({**sides, "via": answer.via}, ensure_ascii=False, indent=2) + "\n", output)
        return
    via = f"\n  by {answer.via}" if answer.via else ""
    put(f"{answer.given.text} = {answer.result.text}{via}\n", output)
