"""`recipec timeline`."""

from __future__ import annotations

from pathlib import Path

import click

from recipec.base.finding import Finding
from recipec.book.compile import Build, Overrides, against
from recipec.book.find import find_event
from recipec.cli import options
from recipec.cli.books import compile_for, files_under, no_such, stop_if_wrong
from recipec.cli.output import put, report
from recipec.cli.planning import found_by_plan, plan_of
from recipec.cli.printing import not_onto_terminal, on_sheet, page_as
from recipec.model.event import Event
from recipec.plan.timeline_types import Planned, Unplanned


@click.command()
@click.argument("event", metavar="EVENT")
@options.several(
    options.formats(["text", "html", "pdf", "json", "svg", "ics"]),
    options.output,
    options.size,
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
    size: str | None,
    book: Path | None,
    measures: str | None,
    show: str | None,
    lang: str | None,
    color: str,
) -> int:
    """Who does what when for EVENT, so that every course lands on time: run sheet, prep list and pull list; as svg the lanes, as ics a
    calendar with alarms. EVENT is a file, its name, or its title.

    Where it can't be done, what collides is said with what would free it, and the exit code is 1.

    \b
    Example:
      recipec timeline friday-supper --format ics -o friday.ics
    """
    not_onto_terminal(form, output)
    build = on_sheet(compile_for(event, book, Overrides(measures, show, lang)), size)
    found = find_event(build.book, event)
    if found.value is None:
        raise no_such(build, event, "event", found.near, color)
    ordered = [order.dish for course in found.value.courses for order in course.orders if order.dish is not None]
    kitchen = build.book.kitchen(found.value.kitchen)
    names = {found.value.span.source.name, *files_under(build, ordered), "larder.csv"}
    stop_if_wrong(build, names | ({kitchen.span.source.name} if kitchen is not None else set()), color)
    planned = plan_of(build, found.value)
    if isinstance(planned, Unplanned):
        for reason in planned.reasons:
            click.echo(reason, err=True)
        return 1
    said = found_by_plan(build, found.value, planned)
    report(said, color)
    if against(said):
        return 1
    put(_written(build, found.value, planned, form, (*build.findings, *said)), output)
    return 0 if planned.plan.placed else 1


def _written(build: Build, event: Event, planned: Planned, form: str, findings: tuple[Finding, ...]) -> str | bytes:
    from recipec.emit.timeline_words import style_for

    look = style_for(build.book, event)
    if form in ("html", "pdf"):
        from recipec.emit.paper import Request
        from recipec.emit.timeline_page import timeline_page

        return page_as(form, timeline_page(Request(build.book, build.larder, findings), event, planned))
    if form == "svg":
        from recipec.emit.timeline_svg import timeline_svg

        return timeline_svg(planned, look)
    if form == "ics":
        from recipec.emit.timeline_ics import timeline_ics

        return timeline_ics(planned, look)
    from recipec.plan.cautions import cautions_of_event
    from recipec.plan.market import market
    from recipec.plan.prep_list import prep_list
    from recipec.plan.styling import style_of

    prep = prep_list(planned, build.book, market(build.book, build.larder, (event.key,), style_of(build.book)))
    cautions = cautions_of_event(build.book, event, findings)
    if form == "json":
        from recipec.emit.timeline_json import timeline_json

        return timeline_json(planned, prep, cautions)
    from recipec.emit.timeline_text import timeline_text

    return timeline_text(planned, prep, look, cautions)
