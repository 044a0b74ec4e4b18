"""A sum at the bench: an amount in another unit, a temperature on another dial."""

from __future__ import annotations

import re
from fractions import Fraction
from typing import NamedTuple

from recipec.analyse.context import Context, Notes
from recipec.analyse.dimensions import Measurer, region_of
from recipec.base.source import Source
from recipec.base.span import Span
from recipec.base.suggest import nearest
from recipec.larder.ingredient import Ingredient
from recipec.larder.names import match_key
from recipec.measure.convert import Lack, Unconvertible, convert
from recipec.measure.numerals import NO_BREAK, decimal
from recipec.measure.quantity import Amount, Dimension, Quantity, one
from recipec.measure.show import show_amount
from recipec.measure.show_reading import show_temperature
from recipec.measure.temperature import (
    ABSOLUTE_ZERO,
    OvenSetting,
    Scale,
    celsius_to_fahrenheit,
    fahrenheit_to_celsius,
)
from recipec.syntax.parse import parse_amount
from recipec.syntax.words import words

_NUMBER = r"(?P<number>[-−]?\d+(?:[.]\d+|\s*/\s*\d+|\s+\d+\s*/\s*\d+)?)"
_DEGREES = re.compile(rf"{_NUMBER}\s*°?\s*(?P<scale>[CF])(?P<fan>\s+fan)?", re.IGNORECASE)
_GAS = re.compile(rf"gas\s*(?:mark\s*)?{_NUMBER}", re.IGNORECASE)
_DIAL = re.compile(r"(?:°?\s*(?P<scale>[CF])(?P<fan>\s+fan)?|(?P<gas>gas)(?:\s+mark)?)", re.IGNORECASE)


class Side(NamedTuple):
    """One side of a sum: exact, with its unit, and in words; `high` is the upper end of a range."""

    value: Fraction
    unit: str
    text: str
    high: Fraction | None = None


class Answer(NamedTuple):
    """`via` says by what figure the sum was done, '' when the units alone decide."""

    given: Side
    result: Side
    via: str


class NoAnswer(NamedTuple):
    """Why there is none, and what to do."""

    message: str
    hint: str


def bench_sum(amount: str, to: str, of: str | None, context: Context) -> Answer | NoAnswer:
    """`1 1/2 cups` to `g` of `flour`; `180 C` to `gas`. `context` gives the region of bare cups and what is known of foods."""
    dial = _DIAL.fullmatch(to.strip())
    setting = _setting(amount.strip())
    if setting is not None or dial is not None:
        if setting is None or dial is None:
            odd = to if dial is None else amount
            return NoAnswer(
                f"{odd!r} is no temperature, and the other side is one.", "Write both so: 180 C, 350 F, gas 4."
            )
        return _temperature(setting, _scale(dial), fan=bool(dial["fan"]))
    return _amount(amount, to, of, context)


def asked_amount(text: str, measures: str) -> Amount | None:
    """`3 l`, `2 batches`, `1 quart` as an amount, in the measures of a book or a dish; None when it is none that can be told."""
    source = Source("amount", text)
    parsed = parse_amount(Span(source, 0, len(text)))
    notes = Notes()
    if parsed is None:
        return None
    measurer = Measurer(region_of(measures), notes)
    amount = measurer.amount(parsed)
    measurer.unsaid()
    known = not any(finding.slug in ("missing-fact", "wrong-dimension") for finding in notes.done())
    return amount if known and all(term.low > 0 for term in amount.terms) else None


# ---------------------------------------------------------------- temperatures


def _setting(text: str) -> OvenSetting | None:
    gas = _GAS.fullmatch(text)
    if gas is not None:
        value = _number(gas["number"])
        return None if value is None else OvenSetting(value, Scale.GAS)
    degrees = _DEGREES.fullmatch(text)
    if degrees is None:
        return None
    value = _number(degrees["number"])
    return None if value is None else OvenSetting(value, Scale(degrees["scale"].upper()), bool(degrees["fan"]))


def _scale(dial: re.Match[str]) -> Scale:
    return Scale.GAS if dial["gas"] else Scale(dial["scale"].upper())


def _number(text: str) -> Fraction | None:
    parts = re.sub(r"\s*/\s*", "/", text.replace("−", "-")).split()
    try:
        return sum((Fraction(part) for part in parts), Fraction())
    except ZeroDivisionError:
        return None


def _temperature(setting: OvenSetting, to: Scale, *, fan: bool) -> Answer | NoAnswer:
    given = Side(
        setting.value, _degree(setting.scale), show_temperature(setting.value, None, setting.scale, fan=setting.fan)
    )
    exact = _celsius(setting)
    if exact is not None and exact < ABSOLUTE_ZERO:
        return NoAnswer(f"Nothing is as cold as {given.text}.", "Check the figure.")
    dials = setting.equivalents()
    # Fan and gas belong to ovens, so such a sum goes by the dials; any other is the plain sum.
    if setting.fan or fan or Scale.GAS in (setting.scale, to):
        if dials is None:
            return NoAnswer(f"No cooker has {given.text}.", "Marks go from ¼ to 10.")
        on_dial = dials.gas if to is Scale.GAS else dials.celsius if to is Scale.C else dials.fahrenheit
        if on_dial is None:
            return NoAnswer(f"No gas mark comes near {given.text}.", "Marks go from ¼ to 10, 110 to 260 °C.")
        if fan:
            on_dial = dials.fan if to is Scale.C else celsius_to_fahrenheit(dials.fan)
        text = show_temperature(on_dial, None, to, oven=True, fan=fan)
        return Answer(given, Side(on_dial, _degree(to), text), "an oven's dial")
    assert exact is not None, "only a gas mark has no degrees"
    value = exact if to is Scale.C else celsius_to_fahrenheit(exact)
    whole = Fraction(round(value))
    text = f"{'about ' if whole != value else ''}{decimal(whole)}{NO_BREAK}{_degree(to)}"
    via = "the plain sum"
    if dials is not None and exact >= 100 and to is not setting.scale:
        on_dial = dials.celsius if to is Scale.C else dials.fahrenheit
        via += f"; an oven's dial for it is {decimal(on_dial)}{NO_BREAK}{_degree(to)}"
    return Answer(given, Side(value, _degree(to), text), via)


def _celsius(setting: OvenSetting) -> Fraction | None:
    if setting.scale is Scale.GAS:
        return None
    return setting.value if setting.scale is Scale.C else fahrenheit_to_celsius(setting.value)


def _degree(scale: Scale) -> str:
    return "gas" if scale is Scale.GAS else f"°{scale.value}"


# ---------------------------------------------------------------- amounts


def _amount(text: str, to: str, of: str | None, context: Context) -> Answer | NoAnswer:
    food: Ingredient | None = None
    states: tuple[str, ...] = ()
    if of is not None:
        match = context.larder.find(of)
        if match is None:
            near = nearest(match_key(of), context.larder.names())
            hint = f"Did you mean {near[0]!r}?" if near else "Add it to the book's larder.csv."
            return NoAnswer(f"The larder does not know {of!r}.", hint)
        food, states = match.ingredient, match.before
    given = _quantity(text, food, context)
    target = _quantity(f"1 {to}", food, context)
    for found, what in ((given, text), (target, to)):
        if found is None:
            return NoAnswer(f"{what!r} is no amount that can be measured.", _instead(what))
        if isinstance(found, NoAnswer):
            return found
    assert isinstance(given, Quantity) and isinstance(target, Quantity)
    density = None if food is None else food.density(states)
    counted = next((one for one in (given.unit, target.unit) if one.dimension is Dimension.COUNT), None)
    each = None if food is None or counted is None else food.weight_each(None, counted.name)
    result = convert(given, target.unit, density, each)
    if isinstance(result, Unconvertible):
        return _lacking(result, of)
    name = "" if food is None else f" {food.name}"
    asked = _side(given, show_amount(one(given), written=True).text + name)
    return Answer(asked, _side(result, show_amount(one(result)).text), _via(given, result, food, states, density, each))


def _instead(text: str) -> str:
    refused = words().refused_units
    meant = next((refused[word] for word in text.split() if word in refused), None)
    return f"Write {meant}." if meant is not None else "Write it as 1 1/2 cups, 200 g, 3 or 12 fl oz."


def _side(quantity: Quantity, text: str) -> Side:
    return Side(quantity.low, quantity.unit.name, text, quantity.high if quantity.is_range else None)


def _quantity(text: str, food: Ingredient | None, context: Context) -> Quantity | NoAnswer | None:
    source = Source("amount", text)
    parsed = parse_amount(Span(source, 0, len(text)))
    if parsed is None:
        return None
    notes = Notes()
    measurer = Measurer(region_of(context.settings.measures), notes)
    amount = measurer.amount(parsed, "" if food is None else food.name)
    measurer.unsaid()
    if any(finding.slug == "missing-fact" for finding in notes.done()):
        return NoAnswer(f"{text!r} is not the same everywhere.", "Say whose it is: --measures us, uk, metric or au.")
    return amount.contents() or amount.total()


def _lacking(problem: Unconvertible, of: str | None) -> NoAnswer:
    if problem.reason is Lack.WRONG_DIMENSION:
        return NoAnswer(
            "These two are not amounts of the same kind.", "Weight, volume and pieces can become one another."
        )
    if of is None:
        return NoAnswer("That depends on what it is.", "Say of what: --of flour.")
    if problem.reason is Lack.NO_DENSITY:
        return NoAnswer(
            f"How much a cup of {of} weighs is not known.", "Weigh one, and write it into the book's larder.csv."
        )
    return NoAnswer(f"How much one {of} weighs is not known.", "Weigh one, and write it into the book's larder.csv.")


def _via(
    given: Quantity,
    result: Quantity,
    food: Ingredient | None,
    states: tuple[str, ...],
    density: Fraction | None,
    each: Fraction | None,
) -> str:
    if food is None or given.unit.kind == result.unit.kind:
        return ""
    parts: list[str] = []
    dimensions = {given.unit.dimension, result.unit.dimension}
    if Dimension.VOLUME in dimensions and density is not None:
        figure = next(one for state in (*states, "") for one in food.densities if one.state == state)
        state = f", {figure.state}" if figure.state else ""
        parts.append(f"{food.name}{state}: {_figure(density)} g per ml ({figure.source})")
    if Dimension.COUNT in dimensions and each is not None:
        counted = given.unit if given.unit.dimension is Dimension.COUNT else result.unit
        weight = next(one for one in food.each if one.unit == counted.name and one.grams == each)
        what = "one" if counted.name == "piece" else f"a {counted.name}"
        parts.append(f"{food.name}: {what} weighs {_figure(each)} g ({weight.source})")
    return "; ".join(parts)


def _figure(value: Fraction) -> str:
    # Three figures behind the point are more than any table gives.
    return decimal(Fraction(round(value * 1000), 1000))
