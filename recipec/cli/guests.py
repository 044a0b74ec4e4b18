"""`recipec guests`."""

from __future__ import annotations

from pathlib import Path

import click

from recipec.base.finding import Severity
from recipec.book.compile import Build, Overrides, against
from recipec.book.find import find_event
from recipec.cli import options
from recipec.cli.books import compile_for, files_under, no_such, stop_if_wrong
from recipec.cli.output import put
from recipec.model.event import Event


@click.command()
@click.argument("event", metavar="EVENT")
@options.several(
    options.formats(["text", "html", "csv", "json"]),
    options.output,
    options.book,
    options.measures,
    options.show,
    options.lang,
    options.color,
)
def command(
    event: str,
    form: str,
    output: Path | None,
    book: Path | None,
    measures: str | None,
    show: str | None,
    lang: str | None,
    color: str,
) -> int:
    """What is in every dish of EVENT, and what that means for every seat: allergens and diets. EVENT is a file, its name, or its title.

    Where a guest is in danger the paper says so, and the exit code is 1.

    \b
    Example:
      recipec guests friday-supper --format html -o guests.html
    """
    build = compile_for(event, book, Overrides(measures, show, lang))
    found = find_event(build.book, event)
    if found.value is None:
        raise no_such(build, event, "event", found.near, color)
    ordered = [order.dish for course in found.value.courses for order in course.orders if order.dish is not None]
    names = {found.value.span.source.name, *files_under(build, ordered), "larder.csv"}
    if any(finding.severity is Severity.ERROR for finding in build.about(names)):
        stop_if_wrong(build, names, color)
    data, safe = _written(build, found.value, form)
    put(data, output)
    return 0 if safe else 1


def _written(build: Build, event: Event, form: str) -> tuple[str | bytes, bool]:
    """The paper, and whether no danger is left open."""
    from recipec.emit.guests_words import findings_for
    from recipec.plan.guests import guests_of

    guests = guests_of(build.book, build.larder, event)
    findings = findings_for(build.book, guests, build.findings)
    safe = not against(findings)
    if form == "html":
        from recipec.emit.guests_page import guests_page
        from recipec.emit.request import Request

        return guests_page(Request(build.book, build.larder, build.findings), event).data, safe
    if form == "csv":
        from recipec.emit.guests_csv import guests_csv

        return guests_csv(guests), safe
    if form == "json":
        from recipec.emit.guests_json import guests_json

        return guests_json(guests, findings), safe
    from recipec.emit.guests_text import guests_text

    return guests_text(guests, findings), safe
