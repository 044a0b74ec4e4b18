"""`recipec guests`."""

from __future__ import annotations

from pathlib import Path
from typing import TYPE_CHECKING

import click

from recipec.base.finding import Severity
from recipec.book.compile import Build, Overrides, against
from recipec.book.find import find_event
from recipec.cli import options
from recipec.cli.books import compile_for, files_under, no_such, stop_if_wrong
from recipec.cli.output import put
from recipec.cli.printing import not_onto_terminal, on_sheet, page_as
from recipec.model.event import Event

if TYPE_CHECKING:
    from recipec.emit.tub_words import TubHead
    from recipec.plan.timeline_types import Planned


_MATRIX = "matrix"


@click.command()
@click.argument("event", metavar="EVENT")
@options.several(
    click.option(
        "--paper",
        type=click.Choice([_MATRIX, "labels", "leftovers", "log"]),
        default=_MATRIX,
        show_default=True,
        help="Which paper: what is in what, labels for tubs, the leftovers sheet, or the safety log.",
    ),
    options.formats(["text", "html", "pdf", "csv", "json"]),
    options.output,
    options.size_alone,
    options.book,
    options.measures,
    options.show,
    options.lang,
    options.color,
)
def command(
    event: str,
    paper: str,
    form: str,
    output: Path | None,
    size: str | None,
    book: Path | None,
    measures: str | None,
    show: str | None,
    lang: str | None,
    color: str,
) -> int:
    """What is in every dish of EVENT, and what that means for every seat: allergens and diets. EVENT is a file, its name, or its title.

    Where a guest is in danger the paper says so, and the exit code is 1. Labels, leftovers and log are of the same safety, with the days
    and times of the event's plan.

    \b
    Example:
      recipec guests friday-supper --format html -o guests.html
      recipec guests friday-supper --paper labels
    """
    if form == "csv" and paper != _MATRIX:
        raise click.UsageError(f"Of the papers only {_MATRIX} is written as csv.")
    not_onto_terminal(form, output)
    build = on_sheet(compile_for(event, book, Overrides(measures, show, lang)), size)
    found = find_event(build.book, event)
    if found.value is None:
        raise no_such(build, event, "event", found.near, color)
    ordered = [order.dish for course in found.value.courses for order in course.orders if order.dish is not None]
    names = {found.value.span.source.name, *files_under(build, ordered), "larder.csv"}
    if any(finding.severity is Severity.ERROR for finding in build.about(names)):
        stop_if_wrong(build, names, color)
    data, safe = _written(build, found.value, form) if paper == _MATRIX else _of_tubs(build, found.value, paper, form)
    put(data, output)
    return 0 if safe else 1


def _written(build: Build, event: Event, form: str) -> tuple[str | bytes, bool]:
    """The paper, and whether no danger is left open."""
    from recipec.emit.guests_words import findings_for
    from recipec.plan.guests import guests_of

    guests = guests_of(build.book, build.larder, event)
    findings = findings_for(build.book, guests, build.findings)
    safe = not against(findings)
    if form in ("html", "pdf"):
        from recipec.emit.guests_page import guests_page
        from recipec.emit.request import Request

        return page_as(form, guests_page(Request(build.book, build.larder, build.findings), event)), safe
    if form == "csv":
        from recipec.emit.guests_csv import guests_csv

        return guests_csv(guests, build.book.settings.language), safe
    if form == "json":
        from recipec.emit.guests_json import guests_json

        return guests_json(guests, findings), safe
    from recipec.emit.guests_text import guests_text

    return guests_text(guests, findings, build.book.settings.language), safe


def _of_tubs(build: Build, event: Event, name: str, form: str) -> tuple[str | bytes, bool]:
    """Labels, the leftovers sheet or the log, and whether no danger is left open. Without a plan they have no times."""
    from recipec.cli.planning import found_by_plan, plan_of
    from recipec.emit.guests_words import findings_for
    from recipec.emit.tub_words import TubPaper, tub_head
    from recipec.plan.guests import guests_of
    from recipec.plan.timeline_types import Unplanned

    plan = plan_of(build, event)
    findings = (*build.findings, *found_by_plan(build, event, plan))
    safe = not against(findings_for(build.book, guests_of(build.book, build.larder, event), findings))
    planned, paper = None if isinstance(plan, Unplanned) else plan, TubPaper(name)
    if form in ("html", "pdf"):
        from recipec.emit.request import Request
        from recipec.emit.tub_pages import tub_page

        return page_as(form, tub_page(Request(build.book, build.larder, findings), event, planned, paper)), safe
    head = tub_head(build.book, event, paper, findings)
    return _words_of_tubs(build, event, planned, head, form), safe


def _words_of_tubs(build: Build, event: Event, planned: Planned | None, head: TubHead, form: str) -> str:
    from recipec.emit import tub_json, tub_text
    from recipec.emit.tub_words import TubPaper

    book, larder = build.book, build.larder
    as_json = form == "json"
    match head.paper:
        case TubPaper.LABELS:
            from recipec.plan.labels import labels_of

            labels = labels_of(book, larder, event, planned)
            return tub_json.labels_json(head, labels) if as_json else tub_text.labels_text(head, labels)
        case TubPaper.LEFTOVERS:
            from recipec.plan.leftovers import leftovers_of

            left = leftovers_of(book, larder, event, planned)
            return tub_json.leftovers_json(head, left) if as_json else tub_text.leftovers_text(head, left)
        case TubPaper.LOG:
            from recipec.plan.market import market
            from recipec.plan.safety_log import safety_log
            from recipec.plan.styling import style_of

            bought = market(book, larder, (event.key,), style_of(book))
            checks = safety_log(book, larder, event, bought, planned)
            return tub_json.log_json(head, checks) if as_json else tub_text.log_text(head, checks)
