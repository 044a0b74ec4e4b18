"""`recipec cost`."""

from __future__ import annotations

from fractions import Fraction
from pathlib import Path
from typing import TYPE_CHECKING

import click

from recipec.book.compile import Build, Overrides
from recipec.book.find import find_dish, find_event
from recipec.cli import options
from recipec.cli.books import compile_for, files_under, no_such, stop_if_wrong
from recipec.cli.card import settled, wanted_of
from recipec.cli.output import put, report, shown_findings
from recipec.cli.printing import not_onto_terminal, on_sheet, page_as

if TYPE_CHECKING:
    from recipec.model.dish import Dish
    from recipec.model.event import Event
    from recipec.plan.costing_types import Costing
    from recipec.plan.swaps_types import Swaps


@click.command()
@click.argument("what", metavar="EVENT|DISH")
@click.option(
    "--for",
    "wanted",
    metavar="N",
    callback=wanted_of,
    help="A dish for so many plates, or an amount like '3 l'; else as it is written.",
)
@click.option("--swaps", "help_wanted", is_flag=True, help="Budget help: which choices and shops would cost less.")
@options.several(
    options.formats(["text", "html", "pdf", "csv", "json"]),
    options.output,
    options.size,
    options.book,
    options.measures,
    options.show,
    options.lang,
    options.color,
)
def command(
    what: str,
    wanted: Fraction | str | None,
    help_wanted: bool,
    form: str,
    output: Path | None,
    size: str | None,
    book: Path | None,
    measures: str | None,
    show: str | None,
    lang: str | None,
    color: str,
) -> None:
    """What an EVENT or a DISH costs: on the plates and at the till, by dish, plate and guest. It is a file, its name, or its title.

    \b
    Example:
      recipec cost friday-supper --format html -o costing.html
    """
    not_onto_terminal(form, output)
    build = on_sheet(compile_for(what, book, Overrides(measures, show, lang)), size)
    found = find_event(build.book, what)
    if found.value is not None:
        if wanted is not None:
            raise click.UsageError(
                f"{found.value.title} is an event, and says itself for how many. --for is for dishes."
            )
        costing = _of_event(build, found.value, color)
        swaps = _swaps(build, found.value) if help_wanted else None
    else:
        swaps = None
        if help_wanted:
            raise click.UsageError("--swaps is for events: what is cheapest depends on the whole list.")
        dish = find_dish(build.book, what)
        if dish.value is None:
            raise no_such(build, what, "event or dish", (*found.near, *dish.near), color)
        costing = _of_dish(build, dish.value, wanted, color)
    _put(build, costing, swaps, form, output)


def _of_event(build: Build, event: Event, color: str) -> Costing:
    ordered = [order.dish for course in event.courses for order in course.orders if order.dish is not None]
    names = {event.span.source.name, *files_under(build, ordered), "prices.csv", "larder.csv"}
    stop_if_wrong(build, names, color)
    from recipec.book.money import money_of
    from recipec.plan.costing import cost_event
    from recipec.plan.styling import style_of

    costing = cost_event(build.book, build.larder, event.key, style_of(build.book))
    # Here the sum is asked for, so that what is unknown in it is said without a budget too.
    report(shown_findings(money_of(build.book, build.larder, event, costing.market), hints=False), color)
    return costing


def _swaps(build: Build, event: Event) -> Swaps:
    from recipec.plan.styling import style_of
    from recipec.plan.swaps import swaps

    return swaps(build.book, build.larder, (event.key,), style_of(build.book))


def _of_dish(build: Build, dish: Dish, wanted: Fraction | str | None, color: str) -> Costing:
    stop_if_wrong(build, {*files_under(build, [dish.key]), "prices.csv", "larder.csv"}, color)
    from recipec.plan.costing import cost_dish
    from recipec.plan.demand import Ask
    from recipec.plan.styling import style_of

    much = settled(dish, wanted, build.book.settings.measures)
    ask = Ask(dish.key, much) if isinstance(much, Fraction) else Ask(dish.key, None, much)
    return cost_dish(build.book, build.larder, ask, style_of(build.book))


def _put(build: Build, costing: Costing, swaps: Swaps | None, form: str, output: Path | None) -> None:
    if form in ("html", "pdf"):
        from recipec.emit.cost_page import cost_page
        from recipec.emit.paper import Request

        put(page_as(form, cost_page(Request(build.book, build.larder, build.findings), costing, swaps)), output)
    elif form == "csv":
        from recipec.emit.cost_csv import cost_csv

        put(cost_csv(costing, build.book.settings.language), output)
    elif form == "json":
        from recipec.emit.cost_json import cost_json

        put(cost_json(costing, swaps), output)
    else:
        from recipec.emit.cost_text import cost_text

        put(cost_text(costing, build.book.settings.language, swaps), output)
