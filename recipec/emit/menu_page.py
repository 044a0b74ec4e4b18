"""The menu card: courses and dishes as guests read them, with marks by the numbers or words of the regulation and by no one else's codes.

It says nothing of seats, but which danger of a dish is accepted and why. Plates of one dish that differ are one dish here, marked with
whatever any of them holds.
"""

from __future__ import annotations

from dataclasses import dataclass

from recipec.base.finding import Severity
from recipec.emit.desk import Desk, page_name
from recipec.emit.guests_words import group_words, list_name
from recipec.emit.request import Paper
from recipec.emit.when import day_text
from recipec.larder.ingredient import Presence
from recipec.measure.language import Language
from recipec.model.event import Event
from recipec.plan.allergen_groups import Group
from recipec.plan.cautions import cautions_of_event
from recipec.plan.guests import Guests, Served, guests_of
from recipec.plan.needs import most
from recipec.plan.sheet import Caution


@dataclass(frozen=True, slots=True)
class MenuDish:
    """A dish, the marks of what it contains and may contain, and whether anything in it is not known."""

    title: str
    contains: str
    may: str
    unknown: bool


@dataclass(frozen=True, slots=True)
class MenuCourse:
    """A course."""

    name: str
    dishes: tuple[MenuDish, ...]


@dataclass(frozen=True, slots=True)
class KeyLine:
    """What a mark stands for."""

    mark: str
    words: str


def menu_cards(desk: Desk) -> tuple[Paper, ...]:
    """The menu card of every booking."""
    return tuple(
        _paper(desk, guests_of(desk.book, desk.request.larder, event), desk.paths.event(event.key, "menu.html"))
        for event in desk.book.events
    )


def _paper(desk: Desk, guests: Guests, path: str) -> Paper:
    event: Event = guests.event
    tongue = desk.tongue
    courses = tuple(_courses(guests, tongue))
    numbered = all(group.number for group in guests.groups.groups)
    return desk.paper(
        path,
        "menu.html",
        ("base.css", "guests.css"),
        kind="menu-card",
        page_title=page_name(tongue.say("Menu"), event.title),
        title=event.title,
        day=day_text(event.serve.date(), tongue.code) if event.serve else "",
        courses=courses,
        key=tuple(KeyLine(group.number, group_words(group, tongue)) for group in guests.groups.groups)
        if numbered
        else (),
        any_may=any(dish.may for course in courses for dish in course.dishes),
        any_unknown=any(dish.unknown for course in courses for dish in course.dishes),
        list_name=list_name(guests.groups, tongue),
        ask=tongue.say("Ask us about anything you must not eat before you order or eat."),
        accepted=_accepted(desk, event),
    )


def _accepted(desk: Desk, event: Event) -> tuple[Caution, ...]:
    """The dangers that are served with a reason: whoever eats must know. None of them is of a guest's own, for no reason answers those."""
    found = cautions_of_event(desk.book, event, desk.request.findings)
    return tuple(one for one in found if one.severity is Severity.DANGER and one.reason)


def _courses(guests: Guests, tongue: Language) -> list[MenuCourse]:
    found = []
    for course in guests.event.courses:
        by_dish: dict[str, list[Served]] = {}
        for served in guests.served:
            if served.order in course.orders and served.course == course.name:
                by_dish.setdefault(served.row.key or served.row.title, []).append(served)
        if by_dish:
            found.append(MenuCourse(course.name, tuple(_dish(guests, all_of, tongue) for all_of in by_dish.values())))
    return found


def _dish(guests: Guests, all_of: list[Served], tongue: Language) -> MenuDish:
    answers = {
        group.key: most(served.row.cells[group.key].presence for served in all_of) for group in guests.groups.groups
    }
    marked = {
        presence: [_mark(group, tongue) for group in guests.groups.groups if answers[group.key] is presence]
        for presence in Presence
    }
    return MenuDish(
        all_of[0].row.title,
        ", ".join(marked[Presence.CONTAINS]),
        ", ".join(marked[Presence.MAY_CONTAIN]),
        any(served.row.unknown for served in all_of) or bool(marked[Presence.UNKNOWN]),
    )


def _mark(group: Group, tongue: Language) -> str:
    return group.number or group_words(group, tongue)
