"""The guest matrix as a page, for the kitchen: who must not have what, what is in every dish, and what is not known."""

from __future__ import annotations

from recipec.base.finding import Finding, Severity
from recipec.emit.desk import Desk, desk_for_one, page_name
from recipec.emit.guests_csv import guests_csv
from recipec.emit.guests_words import diet_words, findings_for, local_code, never_free, rows, rules_line, seats
from recipec.emit.request import Paper, Request
from recipec.emit.when import moment_text
from recipec.model.event import Event
from recipec.plan.diets import DIETS
from recipec.plan.guests import Guests, guests_of
from recipec.plan.sheet import Caution


def guest_matrices(desk: Desk) -> tuple[Paper, ...]:
    """The matrix of every booking, as a page and as a table for a spreadsheet."""
    papers: list[Paper] = []
    for event in desk.book.events:
        found = guests_of(desk.book, desk.request.larder, event)
        papers.append(_paper(desk, found, desk.paths.event(event.key, "guests.html"), alone=False))
        papers.append(Paper(desk.paths.event(event.key, "guests.csv"), guests_csv(found, desk.tongue.code)))
    return tuple(papers)


def guests_page(request: Request, event: Event) -> Paper:
    """A matrix that travels alone."""
    return _paper(desk_for_one(request), guests_of(request.book, request.larder, event), "guests.html", alone=True)


def _paper(desk: Desk, guests: Guests, path: str, *, alone: bool) -> Paper:
    event = guests.event
    tongue = desk.tongue
    all_rows = rows(guests, tongue)
    return desk.paper(
        path,
        "guests.html",
        ("base.css", "guests.css"),
        alone=alone,
        kind="guests",
        page_title=page_name(tongue.say("Guests"), event.title),
        title=event.title,
        when=moment_text(event.serve, tongue.code) if event.serve else "",
        back=not alone,
        rules=rules_line(guests, tongue),
        local_code=local_code(tongue),
        never_free=never_free(tongue),
        all_cautions=tuple(
            _caution(finding)
            for finding in findings_for(desk.book, guests, desk.request.findings)
            if finding.severity is not Severity.HINT
        ),
        seats=seats(guests, tongue),
        groups=guests.groups.groups,
        diets=tuple(diet_words(diet, tongue) for diet in DIETS),
        rows=all_rows,
        unsettled=tuple(row for row in all_rows if row.unknown),
    )


def _caution(finding: Finding) -> Caution:
    return Caution(finding.slug, finding.severity, finding.message, finding.accepted or "")
