"""The facts above a text, by name and kind."""

from __future__ import annotations

from collections.abc import Iterator
from datetime import date, datetime, time, timedelta
from decimal import Decimal
from fractions import Fraction
from typing import TypeVar

from recipec.analyse.context import Notes
from recipec.base.finding import FORESEEN, KINDS, NEVER_ACCEPTED
from recipec.base.suggest import nearest
from recipec.model.dish import Accepted
from recipec.model.kitchen import HandsTurn
from recipec.model.prices import Money
from recipec.syntax import tree

V = TypeVar("V")


class Facts:
    """What one file says of itself. A fact of the wrong kind has had its finding from the parser and counts as unsaid."""

    def __init__(self, file: tree.File) -> None:
        self.all = file.facts

    def each(self, key: str, kind: type[V]) -> Iterator[tuple[tree.Fact, V]]:
        """Every readable fact of that name, in order."""
        for fact in self.all:
            if fact.key == key and isinstance(fact.value, kind):
                yield fact, fact.value

    def one(self, key: str, kind: type[V]) -> V | None:
        """The first readable fact of that name."""
        return next((value for _, value in self.each(key, kind)), None)

    def fact(self, key: str) -> tree.Fact | None:
        """The first fact of that name, readable or not."""
        return next((fact for fact in self.all if fact.key == key), None)

    def text(self, key: str) -> str:
        """The words of a fact; '' when unsaid."""
        value = self.one(key, tree.Text)
        return "" if value is None else value.text.strip()

    def items(self, key: str) -> tuple[str, ...]:
        """The items of all facts of that name, in order."""
        return tuple(item.text for _, value in self.each(key, tree.Items) for item in value.items)

    def number(self, key: str) -> int:
        """A whole number; 0 when unsaid."""
        value = self.one(key, tree.Number)
        return 0 if value is None else int(value.high)


def accepted(facts: Facts, notes: Notes) -> tuple[Accepted, ...]:
    """The findings that the cook stands by. A slug that is none is said."""
    taken = []
    for fact, value in facts.each("accept", tree.Acceptance):
        slug = value.slug.text
        if slug not in KINDS and slug not in FORESEEN:
            near = nearest(slug, sorted({*KINDS, *FORESEEN}))
            notes.add(
                "bad-fact",
                value.slug.span,
                f"`{slug}` is not the name of a finding.",
                f"Did you mean `{near[0]}`?" if near else "Copy the name from the finding's first line.",
            )
            continue
        if slug in NEVER_ACCEPTED:
            notes.add(
                "bad-fact",
                value.slug.span,
                f"`{slug}` can't be accepted, for whatever reason: the guest has not agreed to it.",
                "Change what that guest is served, and take this line out.",
            )
            continue
        subject = None if value.subject is None else value.subject.text
        taken.append(Accepted(fact.span, slug, subject, value.reason.text))
    return tuple(taken)


def one_of(facts: Facts, key: str, allowed: tuple[str, ...], notes: Notes) -> str:
    """A fact whose value must be one of a few words; '' when unsaid or none of them, which is noted."""
    value = facts.one(key, tree.Text)
    if value is None:
        return ""
    word = value.text.strip().lower()
    if word in allowed:
        return word
    near = nearest(word, allowed)
    notes.add(
        "bad-fact",
        value.span,
        f"`{key}` can't be `{value.text.strip()}`.",
        f"Did you mean `{near[0]}`?" if near else f"Write one of: {', '.join(allowed)}.",
    )
    return ""


def money(value: tree.Sum | None) -> Money | None:
    """A sum as money; the number is decimal by the grammar, so it is exact."""
    return None if value is None else Money(decimal(value.value), value.currency)


def decimal(value: Fraction) -> Decimal:
    """An exact decimal of a number that was written as one. ValueError if it has no end (never from the grammar)."""
    digits = 0
    while value.denominator != 1:
        value *= 10
        digits += 1
        if digits > 12:
            raise ValueError("not a decimal number")
    return Decimal(value.numerator).scaleb(-digits)


def hands(value: tree.Hands | None) -> tuple[HandsTurn, ...]:
    """Pairs of hands by time of day; () when unsaid."""
    return () if value is None else tuple(HandsTurn(turn.number, turn.start, turn.end) for turn in value.turns)


def moment(value: tree.DayTime, minute: int, other_day: date | None, notes: Notes) -> datetime | None:
    """A day and minute as local time; on `other_day` where the fact names no day of its own."""
    day = other_day
    if value.date is not None:
        try:
            day = date(*value.date)
        except ValueError:
            notes.add(
                "bad-fact",
                value.span,
                f"`{value.span.text.strip()}` has a day that no calendar has.",
                "Write it as 2026-10-17 19:30.",
            )
            return None
    if day is None:
        return None
    return datetime.combine(day, time()) + timedelta(minutes=minute)
