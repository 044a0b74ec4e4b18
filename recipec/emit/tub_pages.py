"""Labels on a sheet to cut up, the leftovers sheet and the safety log with room to write, as pages of one frame."""

from __future__ import annotations

from recipec.emit.desk import Desk, desk_for_one, market_list, page_name
from recipec.emit.labels_words import ALSO as LABELS_ALSO
from recipec.emit.labels_words import NOTHING as NO_LABELS
from recipec.emit.labels_words import label_texts
from recipec.emit.leftovers_words import NOTHING as NO_LEFTOVERS
from recipec.emit.leftovers_words import first_of_all, left_texts
from recipec.emit.request import Paper, Request
from recipec.emit.safety_log_words import ALSO as LOG_ALSO
from recipec.emit.safety_log_words import log_parts
from recipec.emit.tub_words import TITLES, TubPaper, tub_head
from recipec.model.event import Event
from recipec.plan.labels import labels_of
from recipec.plan.leftovers import leftovers_of
from recipec.plan.safety_log import safety_log
from recipec.plan.timeline_types import Planned


def label_sheets(desk: Desk) -> tuple[Paper, ...]:
    """The labels of every booking."""
    return _all(desk, TubPaper.LABELS)


def leftover_sheets(desk: Desk) -> tuple[Paper, ...]:
    """The leftovers sheet of every booking."""
    return _all(desk, TubPaper.LEFTOVERS)


def safety_logs(desk: Desk) -> tuple[Paper, ...]:
    """The log of every booking."""
    return _all(desk, TubPaper.LOG)


def tub_page(request: Request, event: Event, planned: Planned | None, paper: TubPaper) -> Paper:
    """One of them that travels alone."""
    return _page(desk_for_one(request), event, planned, paper, f"{paper}.html", alone=True)


def _all(desk: Desk, paper: TubPaper) -> tuple[Paper, ...]:
    found: list[Paper] = []
    for event in desk.book.events:
        plan = desk.plans.get(event.key)
        planned = plan if isinstance(plan, Planned) else None
        found.append(_page(desk, event, planned, paper, desk.paths.event(event.key, f"{paper}.html"), alone=False))
    return tuple(found)


def _page(desk: Desk, event: Event, planned: Planned | None, paper: TubPaper, path: str, *, alone: bool) -> Paper:
    head = tub_head(desk.book, event, paper, desk.request.findings)
    doors = [] if alone else [("index.html", "The menu")]
    if doors and event.key in desk.plans:
        doors.append(("timeline.html", "Run sheet"))
    doors += [] if alone else [(f"{other}.html", TITLES[other]) for other in TubPaper if other is not paper]
    return desk.paper(
        path,
        f"{paper}.html",
        ("base.css", "tubs.css"),
        alone=alone,
        kind=paper.value,
        page_title=page_name(TITLES[paper], event.title),
        over=TITLES[paper],
        head=head,
        doors=tuple(doors),
        **_said(desk, event, planned, paper),
    )


def _said(desk: Desk, event: Event, planned: Planned | None, paper: TubPaper) -> dict[str, object]:
    """What each of them says below the head."""
    book, larder, rules = desk.book, desk.request.larder, desk.book.settings.safety
    match paper:
        case TubPaper.LABELS:
            labels = label_texts(labels_of(book, larder, event, planned), rules)
            return {"also": LABELS_ALSO, "labels": labels, "nothing": NO_LABELS}
        case TubPaper.LEFTOVERS:
            lines = left_texts(leftovers_of(book, larder, event, planned), rules)
            return {"also": "", "first": first_of_all(rules), "lines": lines, "nothing": NO_LEFTOVERS}
        case TubPaper.LOG:
            known = desk.reckoned.get(event.key)
            bought = market_list(desk.request, (event.key,)) if known is None else known.market
            checks = safety_log(book, larder, event, bought, planned)
            return {"also": LOG_ALSO, "parts": log_parts(checks)}
