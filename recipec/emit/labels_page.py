"""Labels for tubs on a sheet to cut up: what, made, used by, how it is kept, what is in it, and a line for initials."""

from __future__ import annotations

from dataclasses import dataclass

from recipec.emit.desk import Desk, page_name
from recipec.emit.request import Paper
from recipec.emit.tub_words import HeldText, held_text, use_by_text, without_text
from recipec.emit.when import moment_text
from recipec.measure.show import show_temperature
from recipec.model.event import Event
from recipec.model.reading import State
from recipec.plan.labels import Label, labels_of
from recipec.plan.paper_limits import paper_limit
from recipec.plan.rules import follow, limit
from recipec.plan.timeline_types import Planned


@dataclass(frozen=True, slots=True)
class LabelText:
    """A label, worded; `made` and `use_by` are '' where they are written in by hand."""

    name: str
    title: str
    without: str
    much: str
    made: str
    use_by: str
    why: str
    keep: str
    back: str
    held: HeldText


def label_sheets(desk: Desk) -> tuple[Paper, ...]:
    """The labels of every booking."""
    return tuple(_paper(desk, event) for event in desk.book.events)


def _paper(desk: Desk, event: Event) -> Paper:
    found = desk.plans.get(event.key)
    planned = found if isinstance(found, Planned) else None
    rules = desk.book.settings.safety
    labels = labels_of(desk.book, desk.request.larder, event, planned)
    return desk.paper(
        desk.paths.event(event.key, "labels.html"),
        "labels.html",
        ("base.css", "tubs.css"),
        kind="labels",
        page_title=page_name("Labels", event.title),
        title=event.title,
        when=moment_text(event.serve) if event.serve else "",
        follow=follow(rules),
        labels=tuple(_label(label, rules) for label in labels),
    )


def _label(label: Label, rules: str) -> LabelText:
    return LabelText(
        name=label.name,
        title="" if label.title.casefold() == label.name.casefold() else label.title,
        without=without_text(label.without),
        much=label.much,
        made="" if label.made is None else moment_text(label.made),
        use_by="" if label.use_by is None else use_by_text(label.use_by),
        why="" if label.use_by is None else label.use_by.why,
        keep=f"{label.keep}{_at(label.state, rules)}",
        back=f"{label.back}, once only" if label.back else "",
        held=held_text(label.held, label.open),
    )


def _at(state: State, rules: str) -> str:
    """At what temperature it is kept."""
    if state is State.CHILLED:
        cold = limit(rules, "hold cold")
        return "" if cold is None or cold.celsius is None else f", at {show_temperature(cold.celsius)} or colder"
    if state is State.FROZEN:
        frozen = paper_limit(rules, "freezer")
        return "" if frozen is None or frozen.celsius is None else f", at {show_temperature(frozen.celsius)} or colder"
    return ""
