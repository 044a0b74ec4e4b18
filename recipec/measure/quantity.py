"""Exact amounts: quantities, ranges, compound amounts and their sums.

Every number is a `fractions.Fraction`. Nothing here rounds, words or knows of regions; see `show.py` and `units.py`.
"""

from __future__ import annotations

from dataclasses import dataclass
from enum import StrEnum
from fractions import Fraction
from typing import NamedTuple


class Dimension(StrEnum):
    """What is measured. Bases: g, ml, one piece, s, mm, W."""

    MASS = "mass"
    VOLUME = "volume"
    COUNT = "count"
    TIME = "time"
    LENGTH = "length"
    POWER = "power"


_ORDER = {dimension: place for place, dimension in enumerate(Dimension)}


class Unit(NamedTuple):
    """A unit with its exact factor to the base of its dimension (g, ml, one, s, mm, W).

    Every counted unit is a kind of its own: a clove adds only to cloves. `piece` is the bare count.
    """

    name: str
    dimension: Dimension
    factor: Fraction

    @property
    def kind(self) -> str:
        """What it can be added to: its dimension, or for counted units its own name."""
        return self.name if self.dimension is Dimension.COUNT else self.dimension.value


class Quantity(NamedTuple):
    """A number, or a range from `low` to `high`, of one unit."""

    low: Fraction
    high: Fraction
    unit: Unit

    @property
    def is_range(self) -> bool:
        """Whether the ends differ."""
        return self.low != self.high

    @property
    def base_low(self) -> Fraction:
        """The lower end in the base of its dimension."""
        return self.low if self.unit.factor == 1 else self.low * self.unit.factor

    @property
    def base_high(self) -> Fraction:
        """The upper end in the base of its dimension; markets buy this one."""
        return self.high if self.unit.factor == 1 else self.high * self.unit.factor

    def scaled(self, factor: Fraction) -> Quantity:
        """Both ends times `factor`."""
        low = self.low * factor
        return Quantity(low, low if self.high == self.low else self.high * factor, self.unit)

    def to(self, unit: Unit) -> Quantity:
        """The same in another unit of its kind. Raises ValueError for another kind: the caller checks `unit.kind` first."""
        if unit.kind != self.unit.kind:
            raise ValueError(f"{self.unit.name} is no {unit.kind}")
        if unit.factor == self.unit.factor:
            return Quantity(self.low, self.high, unit)
        ratio = self.unit.factor / unit.factor
        return Quantity(self.low * ratio, self.high * ratio, unit)

    def add(self, other: Quantity) -> Quantity:
        """The sum, in the finer of the two units. Raises ValueError unless both are of one kind."""
        unit = min(self.unit, other.unit, key=lambda unit: unit.factor)
        one, two = self.to(unit), other.to(unit)
        return Quantity(one.low + two.low, one.high + two.high, unit)


def quantity(number: Fraction | int, unit: Unit, high: Fraction | int | None = None) -> Quantity:
    """A quantity of one number, or a range when `high` is given."""
    low = Fraction(number)
    return Quantity(low, low if high is None else Fraction(high), unit)


class Amount(NamedTuple):
    """What stands before a name: one quantity, or several parts of one (`1 cup plus 2 tbsp`).

    `each` is what one holds or weighs (`2 tins (400 g)`). `size` is small, medium, large, heaped, level or scant.
    `about` when the cook said so.
    """

    terms: tuple[Quantity, ...]
    about: bool = False
    each: Quantity | None = None
    size: str | None = None

    def scaled(self, factor: Fraction) -> Amount:
        """Every term times `factor`; what one holds stays."""
        return self._replace(terms=tuple(term.scaled(factor) for term in self.terms))

    def total(self) -> Quantity | None:
        """The terms as one quantity, in their finest unit; None when they are of several kinds, or there are none."""
        if not self.terms:
            return None
        total = self.terms[0]
        for term in self.terms[1:]:
            if term.unit.kind != total.unit.kind:
                return None
            total = total.add(term)
        return total

    def contents(self) -> Quantity | None:
        """The number of containers or pieces times what one holds; None without `each`."""
        total = self.total()
        if self.each is None or total is None:
            return None
        return Quantity(total.low * self.each.low, total.high * self.each.high, self.each.unit)


def one(quantity: Quantity) -> Amount:
    """An amount of one quantity."""
    return Amount((quantity,))


_Key = tuple[str, Quantity | None, str | None]


@dataclass(frozen=True, slots=True)
class Tally:
    """A sum of amounts of one thing: masses, volumes and every counted kind kept apart, exactly.

    Counted things of different size, or holding different amounts, are kept apart too. The order of adding never shows.
    """

    _entries: tuple[tuple[_Key, Amount], ...] = ()

    def add(self, amount: Amount) -> Tally:
        """This sum and `amount`. Terms of several kinds go to their own sums."""
        entries = dict(self._entries)
        for term in amount.terms:
            counted = term.unit.dimension is Dimension.COUNT
            each, size = (amount.each, amount.size) if counted else (None, None)
            key = (term.unit.kind, each, size)
            before = entries.get(key)
            if before is None:
                entries[key] = Amount((term,), amount.about, each, size)
            else:
                entries[key] = Amount((before.terms[0].add(term),), before.about or amount.about, each, size)
        return Tally(tuple(sorted(entries.items(), key=_place)))

    def plus(self, other: Tally) -> Tally:
        """Both sums together."""
        total = self
        for amount in other.amounts():
            total = total.add(amount)
        return total

    def amounts(self) -> tuple[Amount, ...]:
        """One amount for each kind, size and content, each in the finest unit that was added."""
        return tuple(amount for _, amount in self._entries)

    def quantities(self) -> tuple[Quantity, ...]:
        """One quantity for each kind. Containers whose content is known count as their content: two 400 g tins are 800 g."""
        sums: dict[str, Quantity] = {}
        for amount in self.amounts():
            part = amount.contents() or amount.terms[0]
            before = sums.get(part.unit.kind)
            sums[part.unit.kind] = part if before is None else before.add(part)
        return tuple(sorted(sums.values(), key=lambda part: (_ORDER[part.unit.dimension], part.unit.kind)))


def _place(entry: tuple[_Key, Amount]) -> tuple[int, str, str, Fraction, Fraction, str]:
    (kind, each, size), amount = entry
    nothing = Fraction(0)
    held = ("", nothing, nothing) if each is None else (each.unit.name, each.base_low, each.base_high)
    return (_ORDER[amount.terms[0].unit.dimension], kind, *held, size or "")
