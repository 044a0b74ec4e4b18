"""Temperatures: exact conversions for sums, dial values for people.

Fan and gas belong to ovens only; what stands together on the dials is in `dials.tsv`, what food codes pair in
`cores.tsv`, each with its source.
"""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass
from enum import StrEnum
from fractions import Fraction
from functools import cache
from itertools import pairwise
from pathlib import Path
from types import MappingProxyType

FAN_BELOW = Fraction(20)
"""How many °C lower a fan oven is set than a conventional one: common practice, the oven's own book comes first."""

# The oldest cold there is; below it a reading is no temperature at all.
ABSOLUTE_ZERO = Fraction(-27315, 100)


class Scale(StrEnum):
    """What a temperature is read in."""

    C = "C"
    F = "F"
    GAS = "gas"


def fahrenheit_to_celsius(value: Fraction) -> Fraction:
    """Exact."""
    return (value - 32) * Fraction(5, 9)


def celsius_to_fahrenheit(value: Fraction) -> Fraction:
    """Exact."""
    return value * Fraction(9, 5) + 32


@dataclass(frozen=True, slots=True)
class DialRow:
    """One row of the oven table; `gas` None where no mark belongs."""

    gas: Fraction | None
    fahrenheit: Fraction
    celsius: Fraction
    source: str


@cache
def dial_rows() -> tuple[DialRow, ...]:
    """The oven table, coolest first."""
    return tuple(
        DialRow(Fraction(gas) if gas else None, Fraction(fahrenheit), Fraction(celsius), source)
        for gas, fahrenheit, celsius, source in _table("dials.tsv")
    )


@cache
def core_pairs() -> tuple[tuple[Fraction, Fraction], ...]:
    """(°C, °F) that food codes print side by side, coolest first: 68 is 155, though 154.4 by the sum."""
    return tuple((Fraction(celsius), Fraction(fahrenheit)) for celsius, fahrenheit, _ in _table("cores.tsv"))


def _table(name: str) -> list[list[str]]:
    lines = Path(__file__).with_name(name).read_text(encoding="utf-8").splitlines()
    return [line.split("\t") for line in lines if line and not line.startswith("#")][1:]


@cache
def _celsius_of() -> Mapping[Fraction, Fraction]:
    return MappingProxyType({row.fahrenheit: row.celsius for row in dial_rows()})


@cache
def _fahrenheit_of() -> Mapping[Fraction, Fraction]:
    return MappingProxyType({row.celsius: row.fahrenheit for row in dial_rows()})


def gas_to_celsius(mark: Fraction) -> Fraction | None:
    """Exact from the mark's nominal °F; between two marks by the straight line; None outside ¼ to 10."""
    marks = [(row.gas, row.fahrenheit) for row in dial_rows() if row.gas is not None]
    for (low, cool), (high, hot) in pairwise(marks):
        if low <= mark <= high:
            return fahrenheit_to_celsius(cool + (hot - cool) * (mark - low) / (high - low))
    return None


@dataclass(frozen=True, slots=True)
class OvenSetting:
    """An oven's setting as written. A gas oven has no fan setting."""

    value: Fraction
    scale: Scale
    fan: bool = False

    def conventional(self) -> Fraction | None:
        """°C of an oven without fan, exact; None for a gas mark that no cooker has."""
        if self.scale is Scale.GAS:
            return gas_to_celsius(self.value)
        celsius = self.value if self.scale is Scale.C else fahrenheit_to_celsius(self.value)
        return celsius + FAN_BELOW if self.fan else celsius

    def dial(self) -> Fraction | None:
        """°C of an oven without fan as a dial shows it: 350 °F is 180 °C. None for a gas mark that no cooker has."""
        if self.scale is Scale.C:
            return self.conventional()
        if self.scale is Scale.GAS:
            row = next((row for row in dial_rows() if row.gas == self.value), None)
            exact = gas_to_celsius(self.value)
            return row.celsius if row else None if exact is None else nearest(exact, 5)
        celsius = _celsius_of().get(self.value)
        if celsius is None:
            celsius = nearest(fahrenheit_to_celsius(self.value), 5)
        return celsius + FAN_BELOW if self.fan else celsius

    def equivalents(self) -> Equivalents | None:
        """The same setting on every dial; None for a gas mark that no cooker has."""
        celsius = self.dial()
        if celsius is None:
            return None
        as_written = self.scale is Scale.F and not self.fan
        fahrenheit = self.value if as_written else oven_fahrenheit(celsius)
        gas = self.value if self.scale is Scale.GAS else gas_mark(celsius)
        return Equivalents(celsius, celsius - FAN_BELOW, fahrenheit, gas)


@dataclass(frozen=True, slots=True)
class Equivalents:
    """One oven setting on every dial. `gas` None where no mark is within 10 °C."""

    celsius: Fraction
    fan: Fraction
    fahrenheit: Fraction
    gas: Fraction | None


def oven_fahrenheit(celsius: Fraction) -> Fraction:
    """°F on an oven's dial for its °C: 180 is 350; off the table to the nearest 5."""
    known = _fahrenheit_of().get(celsius)
    return nearest(celsius_to_fahrenheit(celsius), 5) if known is None else known


def gas_mark(celsius: Fraction) -> Fraction | None:
    """The mark whose dial °C is nearest, the lower one at a tie; None when none is within 10 °C."""
    marks = [(abs(row.celsius - celsius), row.gas) for row in dial_rows() if row.gas is not None]
    away, mark = min(marks)
    return mark if away <= 10 else None


def celsius(value: Fraction, scale: Scale, *, oven: bool, fan: bool = False) -> Fraction | None:
    """Exact °C of any reading, an oven's without fan. None when it is none: fan or gas that is no oven's, a mark that no
    cooker has, less than absolute zero."""
    if (fan or scale is Scale.GAS) and not oven:
        return None
    exact = OvenSetting(value, scale, fan).conventional()
    return None if exact is None or exact < ABSOLUTE_ZERO else exact


def food_degrees(value: Fraction, scale: Scale) -> Fraction:
    """A temperature in food in the other scale, for people: as food codes pair it, else to the nearest whole degree."""
    for cool, warm in core_pairs():
        if value == (cool if scale is Scale.C else warm):
            return warm if scale is Scale.C else cool
    return nearest(celsius_to_fahrenheit(value) if scale is Scale.C else fahrenheit_to_celsius(value), 1)


def nearest(value: Fraction, step: Fraction | int) -> Fraction:
    """The multiple of `step` nearest to `value`, halves away from zero."""
    # In whole numbers: every amount that is shown comes through here, and exact fractions are slow.
    over, under = abs(value.numerator) * step.denominator, value.denominator * step.numerator
    whole = (2 * over + under) // (2 * under)
    return Fraction(whole * step.numerator if value.numerator >= 0 else -whole * step.numerator, step.denominator)
