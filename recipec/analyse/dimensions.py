"""Amounts and readings of the tree with their units settled: regions, dimensions, whose temperature it is."""

from __future__ import annotations

from dataclasses import dataclass, field
from fractions import Fraction

from recipec.analyse.context import Notes
from recipec.base.finding import Label
from recipec.base.span import Span
from recipec.measure.quantity import Amount, Dimension, Quantity, Unit
from recipec.measure.units import Region, resolve
from recipec.model import reading as model
from recipec.syntax import tree

# Above what no dial of its kind goes, and below what no food does. Wide on purpose: common practice.
_HIGHEST_GAS = Fraction(10)
_HOTTEST_OVEN_C = Fraction(550)
_HOTTEST_CORE_C = Fraction(110)
_COLDEST_C = Fraction(-200)
_LONGEST = Fraction(3 * 365 * 86400)

# Used where a dish never says whose measures it follows; cups and pints differ too much for that and are findings.
_REGION_WHEN_UNSAID = Region.METRIC


def region_of(name: str) -> Region | None:
    """The region a `measures` fact names, None when it names none."""
    return Region(name) if name in {region.value for region in Region} else None


@dataclass(slots=True)
class Measurer:
    """Settles the units of one file. Speaks once a file of measures that were never said."""

    region: Region | None
    notes: Notes
    _spoons: list[Span] = field(default_factory=list)
    _regional: list[tuple[Span, str]] = field(default_factory=list)

    def unit(self, term: tree.Term, of: str = "") -> Unit:
        """The unit of one term. A regional unit with no region is noted, and taken as the nearest that exists."""
        settled = resolve(term.unit, self.region, of)
        if settled is not None:
            return settled
        assert term.unit is not None
        if self.region is None and term.unit == "tbsp":
            self._spoons.append(term.span)
        else:
            self._regional.append((term.span, term.unit))
        stand_in = resolve(term.unit, _REGION_WHEN_UNSAID, of) or resolve(term.unit, Region.UK, of)
        assert stand_in is not None, "every regional unit is British or metric"
        return stand_in

    def quantity(self, term: tree.Term, of: str = "") -> Quantity:
        """One term as a quantity."""
        return Quantity(term.low, term.high, self.unit(term, of))

    def amount(self, amount: tree.Amount, of: str = "") -> Amount:
        """A whole amount; terms of different dimensions in one sum are noted."""
        terms = tuple(self.quantity(term, of) for term in amount.terms)
        first = terms[0].unit
        for term, quantity in zip(amount.terms[1:], terms[1:], strict=True):
            if quantity.unit.kind != first.kind:
                self.notes.add(
                    "wrong-dimension",
                    term.span,
                    f"This can't be added to what stands before `plus`: one is {_of(first)}, the other {_of(quantity.unit)}.",
                    "Write both in weight, or both in volume, or make two marks of them.",
                    labels=(Label(amount.terms[0].span, f"{_of(first)} here"),),
                )
        each = None if amount.each is None else self.quantity(amount.each, of)
        return Amount(terms, amount.about, each, amount.terms[0].size)

    def food_amount(self, amount: tree.Amount, of: str) -> Amount:
        """As `amount`, and a time or a power for food is noted."""
        settled = self.amount(amount, of)
        for term, quantity in zip(amount.terms, settled.terms, strict=True):
            if quantity.unit.dimension in (Dimension.TIME, Dimension.POWER):
                self.notes.add(
                    "wrong-dimension",
                    term.span,
                    f"`{term.span.text}` is {_of(quantity.unit)}, and food comes by weight, by volume or by the piece.",
                    f"If it is a reading, write it in its own brackets: <{term.span.text}>.",
                )
        return settled

    def unsaid(self) -> None:
        """To be called at the end of a file: notes, once each, the measures that no one named."""
        if self._regional:
            span, word = self._regional[0]
            where = "" if self.region is None else f" in `{self.region.value}` measures"
            self.notes.add(
                "missing-fact",
                span,
                f"A {_PLAIN.get(word, word)} is not the same everywhere, and this does not say whose{where}.",
                "Add a line under the title: `measures: us` or `measures: uk`"
                + (", or `measures: metric` (250 ml cups) or `measures: au`." if word in ("cup", "tbsp") else "."),
                labels=tuple(Label(other, "here too") for other, _ in self._regional[1:4]),
            )
        elif self._spoons:
            self.notes.add(
                "measures-assumed",
                self._spoons[0],
                "A tablespoon is taken as 15 ml, since nothing says whose measures these are.",
                "To be exact, add a line under the title: `measures: metric`, `us`, `uk` or `au` (20 ml).",
            )


_PLAIN = {"floz": "fluid ounce"}
_DIMENSIONS = {
    Dimension.MASS: "a weight",
    Dimension.VOLUME: "a volume",
    Dimension.TIME: "a time",
    Dimension.LENGTH: "a length",
    Dimension.POWER: "a power",
    Dimension.COUNT: "a count",
}


def _of(unit: Unit) -> str:
    return _DIMENSIONS[unit.dimension]


def celsius(degrees: Fraction, scale: str) -> Fraction:
    """Degrees C of a C or F reading, exact."""
    return degrees if scale != "F" else (degrees - 32) * Fraction(5, 9)


def settle_reading(
    reading: tree.Reading, of: model.TemperatureOf, shown_only: bool, measurer: Measurer
) -> model.Reading:
    """A reading of the model. `of` is whose temperature it would be; `shown_only` for what follows `every` or `within`."""
    value = reading.value
    settled: model.Value
    match value:
        case tree.Duration():
            pace = None if value.pace is None else _pace(value.pace, measurer)
            settled = model.Duration(
                value.low, value.high, value.times, value.per_side, pace, value.about, value.assumed, shown_only
            )
            _check_duration(value, measurer.notes)
        case tree.Temperature():
            settled = _temperature(value, of, measurer.notes)
        case tree.Extent():
            quantity = measurer.quantity(value.term)
            settled = model.Extent(quantity.low, quantity.high, quantity, value.shape)
        case tree.Left():
            settled = model.Left(None if value.amount is None else measurer.amount(value.amount), value.fraction)
        case tree.Clock():
            settled = model.Clock(value.start, value.end)
        case tree.AfterCourse():
            settled = model.AfterCourse(value.seconds, value.course.text)
    touches = tuple(model.Touch(touch.verb, touch.seconds, touch.every) for touch in reading.touches)
    return model.Reading(reading.span, settled, model.Attention(reading.attention), touches, reading.cue)


def _pace(pace: tree.Term, measurer: Measurer) -> model.Pace:
    if pace.unit in ("plate", "batch"):
        return model.Pace(pace.unit, None)
    return model.Pace(pace.unit or "piece", measurer.quantity(pace))


def _check_duration(value: tree.Duration, notes: Notes) -> None:
    if value.assumed:
        notes.add(
            "time-assumed",
            value.span,
            "No time is given here, so a plan must assume one.",
            "Give the time you would expect, and keep the cue after a comma: <10 min, until golden>.",
        )
    elif value.high == 0 or value.high > _LONGEST:
        notes.add(
            "impossible-reading",
            value.span,
            f"`{value.span.text}` can't be how long this takes.",
            "Check the number and the unit.",
        )


def _temperature(value: tree.Temperature, of: model.TemperatureOf, notes: Notes) -> model.Temperature:
    if value.kind == "core":
        of = model.TemperatureOf.FOOD
    elif value.kind == "fan" or value.scale == "gas":
        if of is model.TemperatureOf.GEAR:
            notes.add(
                "impossible-reading",
                value.span,
                "A fan or gas setting is an oven's; this sentence heats something else.",
                "Give the temperature itself, in °C or °F.",
            )
        of = model.TemperatureOf.OVEN
    if value.scale == "gas" and value.high > _HIGHEST_GAS:
        notes.add(
            "impossible-reading", value.span, f"No oven has a gas mark {value.high}.", "Gas marks go from ¼ to 10."
        )
    if value.scale != "gas":
        high, low = celsius(value.high, value.scale), celsius(value.low, value.scale)
        limit = _HOTTEST_CORE_C if value.kind == "core" else _HOTTEST_OVEN_C
        if high > limit or low < _COLDEST_C:
            inside = "the inside of food" if value.kind == "core" else "a kitchen"
            swap = "°F" if value.scale == "C" else "°C"
            notes.add(
                "impossible-reading",
                value.span,
                f"`{value.span.text}` is not a temperature that {inside} reaches.",
                f"Check the number, and whether {swap} was meant.",
            )
    return model.Temperature(value.low, value.high, value.scale, value.kind == "fan", of, value.rises_to, value.about)


def settle_hold(holding: tree.Holding) -> model.Hold:
    """How something may be held."""
    return model.Hold(
        holding.low,
        holding.high,
        model.State(holding.state),
        None if holding.vessel is None else holding.vessel.name.text,
        holding.cooled_in,
        holding.back_in,
        None if holding.back_gear is None else holding.back_gear.name.text,
    )
