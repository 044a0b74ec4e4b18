"""What labels, the leftovers sheet and the safety log have in common: their head, and allergens and days in words."""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass
from datetime import datetime
from enum import StrEnum
from types import MappingProxyType

from recipec.base.finding import Finding
from recipec.emit.when import clock_text, day_text, moment_text
from recipec.larder.ingredient import Presence
from recipec.model.book import Book
from recipec.model.event import Event
from recipec.plan.cautions import cautions_of_event
from recipec.plan.labels import Held, UseBy
from recipec.plan.rules import follow
from recipec.plan.sheet import Caution


@dataclass(frozen=True, slots=True)
class HeldText:
    """Allergens in words, '' where there is nothing to say. `unknown` names the foods whose packets must be read; `none` stands in where no
    group of the list is in the recipe."""

    contains: str
    may: str
    unknown: str
    none: str


class TubPaper(StrEnum):
    """Which of the three; also the name of its page and of its template."""

    LABELS = "labels"
    LEFTOVERS = "leftovers"
    LOG = "log"


TITLES = MappingProxyType(
    {TubPaper.LABELS: "Labels", TubPaper.LEFTOVERS: "Leftovers", TubPaper.LOG: "Safety log"},
)


@dataclass(frozen=True, slots=True)
class TubHead:
    """What stands above each of them. `rules` says by which rule set, and that it is no substitute."""

    paper: TubPaper
    event: str
    title: str
    when: str
    rule_set: str
    rules: str
    cautions: tuple[Caution, ...]


def tub_head(book: Book, event: Event, paper: TubPaper, findings: Iterable[Finding]) -> TubHead:
    """The head of a booking's paper, with the dangers that touch the booking."""
    rules = book.settings.safety
    when = moment_text(event.serve) if event.serve else ""
    found = cautions_of_event(book, event, findings)
    return TubHead(paper, event.key, event.title, when, rules, follow(rules), found)


def held_text(held: tuple[Held, ...], open_foods: tuple[str, ...]) -> HeldText:
    """The groups of the rule set. As long as anything is not known nothing is said to be in none of it."""
    contains = ", ".join(_group(one) for one in held if one.presence is Presence.CONTAINS)
    may = ", ".join(_group(one) for one in held if one.presence is Presence.MAY_CONTAIN)
    unknown = [one for one in held if one.presence is Presence.UNKNOWN]
    foods = dict.fromkeys((*open_foods, *(food for one in unknown for food in one.foods)))
    words = ", ".join(foods)
    if unknown and not words:
        words = "what is in it"
    none = "" if contains or may or words else f"none of the {len(held)} groups is in the recipe"
    return HeldText(contains, may, words, none)


def use_by_text(use_by: UseBy) -> str:
    """`Tuesday 24 February 2026, 16:29`, or the day alone where all of it counts."""
    return day_text(use_by.at.date()) if use_by.to_the_day else moment_text(use_by.at)


def due_text(at: datetime | None) -> str:
    """`Sat 16:29`-like: the day and the time a line is due; '' where nobody knows."""
    return "" if at is None else f"{day_text(at.date()).partition(' ')[0][:3]} {clock_text(at)}"


def without_text(without: Iterable[str]) -> str:
    """`without hazelnuts, without milk`."""
    return ", ".join(f"without {food}" for food in without)


def _group(held: Held) -> str:
    return held.group.words + (f" ({', '.join(held.kinds)})" if held.kinds else "")
