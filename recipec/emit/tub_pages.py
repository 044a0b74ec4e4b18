"""Labels on a sheet to cut up, the leftovers sheet and the safety log with room to write, as pages of one frame."""

from __future__ import annotations

from recipec.emit import labels_words, leftovers_words, safety_log_words
from recipec.emit.desk import Desk, desk_for_one, market_list, page_name
from recipec.emit.request import Paper, Request
from recipec.emit.tub_words import TubPaper, paper_title, tub_head
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
    say = desk.tongue.say
    doors = [] if alone else [("index.html", say("The menu"))]
    if doors and event.key in desk.plans:
        doors.append(("timeline.html", say("Run sheet")))
    others = (other for other in TubPaper if other is not paper)
    doors += [] if alone else [(f"{other}.html", paper_title(other, desk.tongue)) for other in others]
    return desk.paper(
        path,
        f"{paper}.html",
        ("base.css", "tubs.css"),
        alone=alone,
        kind=paper.value,
        page_title=page_name(paper_title(paper, desk.tongue), event.title),
        over=paper_title(paper, desk.tongue),
        head=head,
        doors=tuple(doors),
        **_said(desk, event, planned, paper),
    )


def _said(desk: Desk, event: Event, planned: Planned | None, paper: TubPaper) -> dict[str, object]:
    """What each of them says below the head."""
    tongue = desk.tongue
    book, larder, rules = desk.book, desk.request.larder, desk.book.settings.safety
    match paper:
        case TubPaper.LABELS:
            labels = labels_words.label_texts(labels_of(book, larder, event, planned), rules, tongue)
            return {"also": labels_words.also(tongue), "labels": labels, "nothing": labels_words.nothing(tongue)}
        case TubPaper.LEFTOVERS:
            lines = leftovers_words.left_texts(leftovers_of(book, larder, event, planned), rules, tongue)
            first = leftovers_words.first_of_all(rules, tongue)
            return {"also": "", "first": first, "lines": lines, "nothing": leftovers_words.nothing(tongue)}
        case TubPaper.LOG:
            known = desk.reckoned.get(event.key)
            bought = market_list(desk.request, (event.key,)) if known is None else known.market
            checks = safety_log(book, larder, event, bought, planned)
            return {"also": safety_log_words.also(tongue), "parts": safety_log_words.log_parts(checks, tongue)}
