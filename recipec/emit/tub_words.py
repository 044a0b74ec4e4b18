"""What labels and leftovers say of allergens and of days, in words."""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass
from datetime import datetime

from recipec.emit.when import clock_text, day_text, moment_text
from recipec.larder.ingredient import Presence
from recipec.plan.labels import Held, UseBy


@dataclass(frozen=True, slots=True)
class HeldText:
    """Allergens in words, '' where there is nothing to say. `unknown` names the foods whose packets must be read; `none` stands in where no
    group of the list is in the recipe."""

    contains: str
    may: str
    unknown: str
    none: str


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
