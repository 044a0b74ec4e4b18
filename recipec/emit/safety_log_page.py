"""The safety log: what is to be measured, by which limit, and room to write down what it was, when, what was done, and by whom."""

from __future__ import annotations

from dataclasses import dataclass
from itertools import groupby

from recipec.emit.desk import Desk, page_name
from recipec.emit.request import Paper
from recipec.emit.tub_words import due_text
from recipec.emit.when import moment_text
from recipec.model.event import Event
from recipec.plan.rules import follow
from recipec.plan.safety_log import Check, safety_log
from recipec.plan.timeline_types import Planned


@dataclass(frozen=True, slots=True)
class CheckText:
    """A line, worded; a blank to write in for each of `limits`."""

    what: str
    of: str
    due: str
    limits: tuple[str, ...]


@dataclass(frozen=True, slots=True)
class LogPart:
    """The lines of one kind; `sources` are where their limits come from."""

    id: str
    name: str
    lines: tuple[CheckText, ...]
    sources: tuple[str, ...]


def safety_logs(desk: Desk) -> tuple[Paper, ...]:
    """The log of every booking."""
    return tuple(_paper(desk, event) for event in desk.book.events)


def _paper(desk: Desk, event: Event) -> Paper:
    found = desk.plans.get(event.key)
    planned = found if isinstance(found, Planned) else None
    checks = safety_log(desk.book, desk.request.larder, event, desk.reckoned[event.key].market, planned)
    return desk.paper(
        desk.paths.event(event.key, "log.html"),
        "log.html",
        ("base.css", "tubs.css"),
        kind="log",
        page_title=page_name("Safety log", event.title),
        title=event.title,
        when=moment_text(event.serve) if event.serve else "",
        timeline=event.key in desk.plans,
        follow=follow(desk.book.settings.safety),
        parts=tuple(_part(kind.value, tuple(lines)) for kind, lines in groupby(checks, key=lambda check: check.kind)),
    )


def _part(name: str, checks: tuple[Check, ...]) -> LogPart:
    lines = tuple(CheckText(check.what, check.of, due_text(check.at), check.limits) for check in checks)
    return LogPart(
        name.replace(" ", "-"),
        name[:1].upper() + name[1:],
        lines,
        tuple(dict.fromkeys(check.source for check in checks)),
    )
