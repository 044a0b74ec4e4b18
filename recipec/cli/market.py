"""`recipec market`."""

from __future__ import annotations

from pathlib import Path

import click

from recipec.book.compile import Build, Overrides
from recipec.book.find import find_event
from recipec.cli import options
from recipec.cli.books import compile_for, files_under, no_such, stop_if_wrong
from recipec.cli.output import put
from recipec.cli.printing import not_onto_terminal, on_sheet, page_as


@click.command()
@click.argument("events", nargs=-1, required=True, metavar="EVENT...")
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
    events: tuple[str, ...],
    form: str,
    output: Path | None,
    size: str | None,
    book: Path | None,
    measures: str | None,
    show: str | None,
    lang: str | None,
    color: str,
) -> None:
    """One market list for all of EVENT..., summed through every dish. An EVENT is a file, its name, or its title.

    \b
    Example:
      recipec market friday-supper sunday-lunch --format csv -o market.csv
    """
    not_onto_terminal(form, output)
    build = on_sheet(compile_for(events[0], book, Overrides(measures, show, lang)), size)
    keys = tuple(_key(build, words, color) for words in events)
    names = {event.span.source.name for event in build.book.events if event.key in keys}
    ordered = [
        order.dish
        for event in build.book.events
        if event.key in keys
        for course in event.courses
        for order in course.orders
        if order.dish is not None
    ]
    stop_if_wrong(build, {*names, *files_under(build, ordered), "prices.csv", "larder.csv"}, color)
    from recipec.plan.market import market
    from recipec.plan.styling import style_of

    if form in ("html", "pdf"):
        from recipec.emit.market_page import market_page
        from recipec.emit.paper import Request

        put(page_as(form, market_page(Request(build.book, build.larder, build.findings), keys)), output)
        return
    found = market(build.book, build.larder, keys, style_of(build.book))
    if form == "csv":
        from recipec.emit.market_csv import market_csv

        put(market_csv(found, build.book.settings.language), output)
    elif form == "json":
        from recipec.emit.json_papers import market_json

        put(market_json(found), output)
    else:
        from recipec.emit.market_text import market_text

        put(market_text(found, build.book.settings.language), output)


def _key(build: Build, words: str, color: str) -> str:
    found = find_event(build.book, words)
    if found.value is None:
        raise no_such(build, words, "event", found.near, color)
    return found.value.key
