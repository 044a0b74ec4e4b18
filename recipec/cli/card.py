"""`recipec card`."""

from __future__ import annotations

import re
from fractions import Fraction
from pathlib import Path
from typing import TYPE_CHECKING

import click

from recipec.book.compile import Overrides
from recipec.book.find import find_dish
from recipec.cli import options
from recipec.cli.books import compile_for, files_under, no_such, say_what_is_wrong
from recipec.cli.output import put
from recipec.cli.printing import not_onto_terminal, on_sheet, page_as

if TYPE_CHECKING:
    from recipec.book.compile import Build
    from recipec.measure.quantity import Amount
    from recipec.model.dish import Dish

MOST_PLATES = 100_000


_LIKE_AN_AMOUNT = re.compile(r"\d[\d\s./]*\s*[^\W\d].*")


def wanted_of(ctx: click.Context, param: click.Parameter, value: str | None) -> Fraction | str | None:
    """A number of plates, exact and above nothing (`8`, `1/2`, `4.5`), or the words of an amount (`3 l`), read later."""
    if value is None:
        return None
    text = " ".join(value.split())
    try:
        number = Fraction(text)
    except (ValueError, ZeroDivisionError):
        if _LIKE_AN_AMOUNT.fullmatch(text):
            return text
        raise click.BadParameter(f"{value!r} is no number of plates, and no amount like '3 l'.") from None
    if not 0 < number <= MOST_PLATES:
        raise click.BadParameter(f"{value} plates can't be served.")
    return number


def settled(dish: Dish, wanted: Fraction | str | None, measures: str) -> Fraction | Amount | None:
    """What is wanted of a dish, once it is known that the dish can be made for it."""
    from recipec.plan.scale import Unscalable, factor_for

    if wanted is None:
        return None
    if isinstance(wanted, Fraction):
        if isinstance(factor_for(dish, wanted, None), Unscalable):
            raise click.ClickException(_no_plates(dish))
        return wanted
    amount = _pieces(dish, wanted) or _amount(wanted, dish.measures or measures)
    if amount is None:
        raise click.UsageError(
            f"{wanted!r} is no number of plates and no amount. Write it like 8, '3 l' or '24 pieces'."
        )
    found = factor_for(dish, None, amount)
    if isinstance(found, Unscalable):
        makes = _makes(dish)
        hint = f" Ask for it as it is made: it makes {makes}." if makes else " Ask for plates, like --for 8."
        raise click.ClickException(f"{dish.title} can't be made for {wanted!r}: {found.reason}.{hint}")
    if found > MOST_PLATES:
        raise click.UsageError(f"{wanted} is more than can be made.")
    return amount


def _amount(text: str, measures: str) -> Amount | None:
    from recipec.book.bench_amount import asked_amount

    return asked_amount(text, measures)


def _pieces(dish: Dish, text: str) -> Amount | None:
    """`24 blini` of a dish that makes blini, `24 pieces` of any that is counted."""
    from recipec.larder.names import normal_name
    from recipec.measure.quantity import one, quantity
    from recipec.measure.units import unit

    number, _, noun = text.rpartition(" ")
    nouns = {"piece", normal_name(dish.makes.noun or "piece") if dish.makes is not None else "piece"}
    if normal_name(noun) not in nouns:
        return None
    try:
        return one(quantity(Fraction(number), unit("piece"))) if Fraction(number) > 0 else None
    except (ValueError, ZeroDivisionError):
        return None


def _makes(dish: Dish) -> str:
    from recipec.measure.show import show_amount

    if dish.makes is None:
        return ""
    text = show_amount(dish.makes.amount, written=True).text
    total = dish.makes.amount.total()
    counted = total is not None and total.unit.name == "piece"
    return f"{text} {dish.makes.noun or 'pieces'}" if counted else text


def _a_plate(dish: Dish) -> str:
    """An example of the dish's own kind."""
    from recipec.measure.quantity import Dimension

    total = None if dish.makes is None else dish.makes.amount.total()
    if total is None or total.unit.dimension is Dimension.VOLUME:
        return "60 ml"
    return "60 g" if total.unit.dimension is Dimension.MASS else "2 pieces"


def _no_plates(dish: Dish) -> str:
    makes = _makes(dish)
    if not makes:
        return (
            f"{dish.title} does not say how many it serves, so it can't be made for a number of plates. "
            "Add a line under its title, like: serves: 4"
        )
    return (
        (
            f"{dish.title} makes {makes} and does not say how much goes on a plate. Ask for an amount, like --for {makes!r}, "
            f"or complete the line under its title: `makes: {makes}, {_a_plate(dish)} a plate`, or `serves: 4`"
        )
        .replace("\u00a0", " ")
        .replace("\\xa0", " ")
    )


def _can_be_left_out(build: Build, dish: Dish, foods: tuple[str, ...]) -> None:
    """Ends with the reason where they can't: a card that only seems to be free of something is worse than none."""
    from recipec.plan.cannot_leave import refusals
    from recipec.plan.leaving_out import Leaving
    from recipec.plan.links import Links

    refused = refusals(Leaving(Links(build.book), build.larder), dish, foods)
    if refused:
        raise click.ClickException("\n".join(f"{one.text} {one.hint}" for one in refused))


@click.command()
@click.argument("dish")
@click.option(
    "--for",
    "wanted",
    metavar="N",
    callback=wanted_of,
    help="For so many plates, or an amount like '3 l'; else as the dish is written.",
)
@click.option(
    "--without",
    metavar="FOOD",
    multiple=True,
    help="The version of the dish without that food, or that result of a step, and all that is made from it. May be given several times.",
)
@options.several(
    options.formats(["text", "html", "pdf", "json"]),
    options.output,
    options.size,
    options.book,
    options.measures,
    options.show,
    options.lang,
    options.color,
)
def command(
    dish: str,
    wanted: Fraction | str | None,
    without: tuple[str, ...],
    form: str,
    output: Path | None,
    size: str | None,
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
    not_onto_terminal(form, output)
    build = on_sheet(compile_for(dish, book, Overrides(measures, show, lang)), size)
    found = find_dish(build.book, dish)
    if found.value is None:
        raise no_such(build, dish, "dish", found.near, color)
    key = found.value.key
    # A card with an error on it is worth more to a cook than none; it says so itself, and the exit code does.
    wrong = say_what_is_wrong(build, files_under(build, [key]), color)
    much = settled(found.value, wanted, build.book.settings.measures)
    from recipec.plan.leaving_out import plain_name

    without = tuple(dict.fromkeys(plain_name(" ".join(food.split())) for food in without))
    if without:
        _can_be_left_out(build, found.value, without)
    from recipec.emit.desk import sheet
    from recipec.emit.paper import Request

    request = Request(build.book, build.larder, build.findings)
    if form in ("html", "pdf"):
        from recipec.emit.card_page import card_page

        put(page_as(form, card_page(request, key, much, without)), output)
    elif form == "json":
        from recipec.emit.json_papers import card_json

        put(card_json(sheet(request, key, much, without)), output)
    else:
        from recipec.emit.card_text import card_text

        put(card_text(sheet(request, key, much, without), build.book.settings.language), output)
    if wrong:
        raise click.exceptions.Exit(1)
