"""`recipec card`."""

from __future__ import annotations

from fractions import Fraction
from pathlib import Path

import click

from recipec.book.compile import Overrides
from recipec.book.find import find_dish
from recipec.cli import options
from recipec.cli.books import compile_for, files_under, no_such, say_what_is_wrong
from recipec.cli.output import put

MOST_PLATES = 100_000


def plates_of(ctx: click.Context, param: click.Parameter, value: str | None) -> Fraction | None:
    """A number of plates, exact and above nothing: `8`, `1/2`, `4.5`."""
    if value is None:
        return None
    try:
        number = Fraction(value.strip())
    except (ValueError, ZeroDivisionError):
        raise click.BadParameter(f"{value!r} is no number of plates.") from None
    if not 0 < number <= MOST_PLATES:
        raise click.BadParameter(f"{value} plates can't be served.")
    return number


@click.command()
@click.argument("dish")
@click.option(
    "--for", "plates", metavar="N", callback=plates_of, help="For so many plates; else as the dish is written."
)
@options.several(
    options.formats(["text", "html", "json"]),
    options.output,
    options.book,
    options.measures,
    options.show,
    options.lang,
    options.color,
)
def command(
    dish: str,
    plates: Fraction | None,
    form: str,
    output: Path | None,
    book: Path | None,
    measures: str | None,
    show: str | None,
    lang: str | None,
    color: str,
) -> None:
    """One DISH as a card to print and cook from. DISH is a file, its name, or the dish's title.

    \b
    Example:
      recipec card leek-soup --for 10 --format html -o card.html
    """
    build = compile_for(dish, book, Overrides(measures, show, lang))
    found = find_dish(build.book, dish)
    if found.value is None:
        raise no_such(build, dish, "dish", found.near, color)
    key = found.value.key
    # A card with an error on it is worth more to a cook than none; it says so itself, and the exit code does.
    wrong = say_what_is_wrong(build, files_under(build, [key]), color)
    if (
        plates is not None
        and found.value.serves is None
        and (found.value.makes is None or found.value.makes.plate is None)
    ):
        raise click.ClickException(
            f"{found.value.title} does not say how many it serves, so it can't be made for a number of plates. "
            "Add a line under its title, like: serves: 4"
        )
    from recipec.emit.desk import sheet
    from recipec.emit.paper import Request

    request = Request(build.book, build.larder, build.findings)
    if form == "html":
        from recipec.emit.card_page import card_page

        put(card_page(request, key, plates).data, output)
    elif form == "json":
        from recipec.emit.json_papers import card_json

        put(card_json(sheet(request, key, plates)), output)
    else:
        from recipec.emit.card_text import card_text

        put(card_text(sheet(request, key, plates)), output)
    if wrong:
        raise click.exceptions.Exit(1)
