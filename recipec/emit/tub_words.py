"""What labels, the leftovers sheet and the safety log have in common: their head, and allergens and days in words."""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass
from datetime import datetime
from enum import StrEnum

from recipec.base.finding import Finding
from recipec.emit.guests_words import group_words
from recipec.emit.when import clock_text, day_text, moment_text, weekday_text
from recipec.larder.ingredient import Presence
from recipec.measure.language import ENGLISH, Language, language_of
from recipec.model.book import Book
from recipec.model.event import Event
from recipec.plan.cautions import cautions_of_event
from recipec.plan.labels import Held, UseBy
from recipec.plan.rules import LOCAL, edition
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


def paper_title(paper: TubPaper, tongue: Language = ENGLISH) -> str:
    """What a paper is called."""
    match paper:
        case TubPaper.LABELS:
            return tongue.say("Labels")
        case TubPaper.LEFTOVERS:
            return tongue.say("Leftovers")
        case TubPaper.LOG:
            return tongue.say("Safety log")


@dataclass(frozen=True, slots=True)
class TubHead:
    """What stands above each of them. `rules` says by which rule set, and that it is no substitute; `tongue` is the paper's language."""

    paper: TubPaper
    event: str
    title: str
    when: str
    rule_set: str
    rules: str
    cautions: tuple[Caution, ...]
    tongue: Language


def tub_head(book: Book, event: Event, paper: TubPaper, findings: Iterable[Finding]) -> TubHead:
    """The head of a booking's paper, with the dangers that touch the booking."""
    rules, tongue = book.settings.safety, language_of(book.settings.language)
    when = moment_text(event.serve, tongue.code) if event.serve else ""
    found = cautions_of_event(book, event, findings)
    known = edition(rules)
    by = tongue.say("By %(rules)s (%(note)s).", rules=known.name, note=known.note)
    return TubHead(
        paper, event.key, event.title, when, rules, f"{by} {tongue.say(LOCAL, context='safety')}", found, tongue
    )


def held_text(held: tuple[Held, ...], open_foods: tuple[str, ...], tongue: Language = ENGLISH) -> HeldText:
    """The groups of the rule set. As long as anything is not known nothing is said to be in none of it."""
    contains = ", ".join(_group(one, tongue) for one in held if one.presence is Presence.CONTAINS)
    may = ", ".join(_group(one, tongue) for one in held if one.presence is Presence.MAY_CONTAIN)
    unknown = [one for one in held if one.presence is Presence.UNKNOWN]
    foods = dict.fromkeys((*open_foods, *(food for one in unknown for food in one.foods)))
    words = ", ".join(foods)
    if unknown and not words:
        words = tongue.say("what is in it")
    none = ""
    if not (contains or may or words):
        none = tongue.say("none of the %(number)s groups is in the recipe", number=len(held))
    return HeldText(contains, may, words, none)


def use_by_text(use_by: UseBy, tongue: Language = ENGLISH) -> str:
    """`Tuesday 24 February 2026, 16:29`, or the day alone where all of it counts."""
    if use_by.to_the_day:
        return day_text(use_by.at.date(), tongue.code)
    return moment_text(use_by.at, tongue.code)


def due_text(at: datetime | None, tongue: Language = ENGLISH) -> str:
    """`Sat 16:29`-like: the day and the time a line is due; '' where nobody knows."""
    return "" if at is None else f"{weekday_text(at.date(), tongue.code)} {clock_text(at, tongue.code)}"


def without_text(without: Iterable[str], tongue: Language = ENGLISH) -> str:
    """`without hazelnuts, without milk`."""
    return ", ".join(tongue.say("without %(food)s", food=food) for food in without)


def _group(held: Held, tongue: Language) -> str:
    kinds = ", ".join(tongue.say(kind, context="allergen") for kind in held.kinds)
    return group_words(held.group, tongue) + (f" ({kinds})" if kinds else "")
