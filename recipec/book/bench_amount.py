"""A sum at the bench, of amounts: into the unit asked for, in the cook's own words."""

from __future__ import annotations

import re
from fractions import Fraction
from typing import NamedTuple

from recipec.analyse.context import Context, Notes
from recipec.analyse.dimensions import Measurer, region_of
from recipec.analyse.names import identify
from recipec.base.source import Source
from recipec.base.span import Span
from recipec.base.suggest import nearest
from recipec.book.bench_types import Answer, NoAnswer, Side
from recipec.larder.ingredient import Ingredient
from recipec.larder.names import match_key, plural, singular
from recipec.measure.convert import Lack, Unconvertible, convert
from recipec.measure.numerals import NO_BREAK, VULGAR, decimal, mixed
from recipec.measure.quantity import Amount, Dimension, Quantity, Unit, one
from recipec.measure.show import show_amount
from recipec.measure.units import bare, unit
from recipec.measure.wording import word
from recipec.syntax.parse import parse_amount
from recipec.syntax.words import fold, words

_NUMBERED = re.compile(
    r"(?P<number>\d+(?:\.\d+)?|\d+\s*/\s*[1-9]\d*|\d+\s+\d+\s*/\s*[1-9]\d*)\s*(?P<unit>[^\W\d][\w .]*)"
)
_NOT_FOOD = frozenset({Dimension.TIME, Dimension.POWER, Dimension.LENGTH})
_DIGITS = 4
"""Figures of a number that comes out odd: more than any scale shows."""


class Food(NamedTuple):
    """What a sum is of: as the cook names it, and what the larder knows. `item` is None where it knows nothing."""

    name: str
    item: Ingredient | None
    states: tuple[str, ...]
    part: str | None


def asked_amount(text: str, measures: str) -> Amount | None:
    """`3 l`, `2 batches`, `1 quart` as an amount, in the measures of a book or a dish; None when it is none that can be told."""
    found = _parsed(text, measures, "")
    return found if isinstance(found, Amount) and all(term.low > 0 for term in found.terms) else None


def amount_sum(text: str, to: str, of: str | None, context: Context) -> Answer | NoAnswer:
    """`1 1/2 cups` in `g` of `flour`; `2 eggs` in `g`; `1 kg` in `onions`."""
    food = None if of is None else _food(of, context)
    given = _read(text, food, context)
    if given is None:
        return NoAnswer(f"{text!r} is no amount that can be measured.", _instead(text))
    if isinstance(given, NoAnswer):
        return given
    quantity, food = given
    target = _target(to, food, context)
    if target is None:
        return NoAnswer(f"{to!r} is no unit that can be measured in.", _instead(to))
    if isinstance(target, NoAnswer):
        return target
    wanted, food = target
    density, each = _figures(food, quantity.unit, wanted)
    result = convert(quantity, wanted, density, each)
    if isinstance(result, Unconvertible):
        return _lacking(result, food, context)
    name = "" if food is None else food.name
    if food is not None and food.item is not None and food.part not in (None, "white", "yolk"):
        # Juice is measured, the lemons it comes from are counted.
        counted = Dimension.COUNT in (quantity.unit.dimension, wanted.dimension)
        name = food.item.name if counted else name
    return Answer(
        _side(quantity, _given_text(quantity, name)),
        _side(result, _result_text(result, quantity, name)),
        _via(quantity, result, food, density, each),
    )


# ---------------------------------------------------------------- reading


def _food(text: str, context: Context) -> Food:
    name = " ".join(text.split())
    known = identify(name, None, context.larder)
    return Food(name, known.ingredient, known.before, known.part)


def _parsed(text: str, measures: str, of: str) -> Amount | NoAnswer | None:
    source = Source("amount", text)
    parsed = parse_amount(Span(source, 0, len(text)))
    if parsed is None:
        return None
    notes = Notes()
    measurer = Measurer(region_of(measures), notes)
    amount = measurer.amount(parsed, of)
    measurer.unsaid()
    if any(finding.slug == "missing-fact" for finding in notes.done()):
        return NoAnswer(f"{text!r} is not the same everywhere.", "Say whose it is: --measures us, uk, metric or au.")
    return amount


def _read(text: str, food: Food | None, context: Context) -> tuple[Quantity, Food | None] | NoAnswer | None:
    """An amount, and what it is of: `2 eggs` says both."""
    measures = context.settings.measures
    item = "" if food is None or food.item is None else food.item.name
    parsed = _parsed(text, measures, item)
    if isinstance(parsed, NoAnswer):
        return parsed
    total = None if parsed is None else parsed.contents() or parsed.total()
    if total is not None:
        return total, food
    plain = _plain(text)
    if plain is not None:
        return plain, food
    parts = text.split()
    for place in range(len(parts) - 1, 0, -1):
        named = _food(" ".join(parts[place:]), context)
        if named.item is None:
            continue
        parsed = _parsed(" ".join(parts[:place]), measures, named.item.name)
        if isinstance(parsed, NoAnswer):
            return parsed
        total = None if parsed is None else parsed.contents() or parsed.total()
        if total is not None:
            return total, named if food is None else food
    return None


def _plain(text: str) -> Quantity | None:
    """A time, a length or a power: `90 min`, `2 kW`."""
    match = _NUMBERED.fullmatch(text.strip())
    key = None if match is None else words().unit_of.get(match["unit"]) or words().unit_of.get(fold(match["unit"]))
    if match is None or key is None:
        return None
    try:
        found = unit(key)
    except KeyError:
        return None
    number = sum((Fraction(part) for part in re.sub(r"\s*/\s*", "/", match["number"]).split()), Fraction())
    return Quantity(number, number, found) if found.dimension in _NOT_FOOD else None


def _target(to: str, food: Food | None, context: Context) -> tuple[Unit, Food | None] | NoAnswer | None:
    """The unit asked for. `onions` are pieces of onion."""
    found = _read(f"1 {to}", food, context)
    if isinstance(found, NoAnswer):
        return NoAnswer(f"{to!r} is not the same everywhere.", found.hint)
    if found is None:
        return None
    quantity, named = found
    if named is not None and food is not None:
        asked = _food(to, context)
        if asked.item is not None and asked.item is not food.item:
            return NoAnswer(f"{to!r} are not {food.name}.", "Ask for one thing at a time.")
    return quantity.unit, named


# ---------------------------------------------------------------- figures


def _figures(food: Food | None, *units: Unit) -> tuple[Fraction | None, Fraction | None]:
    """Grams per ml, and grams of the counted one of the units; of a part only its own."""
    if food is None or food.item is None:
        return None, None
    if food.part is None:
        counted = next((found for found in units if found.dimension is Dimension.COUNT), None)
        each = None if counted is None else food.item.weight_each(None, counted.name)
        return food.item.density(food.states), each
    density = next((known.value for known in food.item.densities if known.state == food.part), None)
    figure = food.item.part(food.part)
    if figure is None:
        return density, None
    return density, figure.amount if figure.unit == "g" else figure.amount * density if density else None


def _via(given: Quantity, result: Quantity, food: Food | None, density: Fraction | None, each: Fraction | None) -> str:
    if food is None or food.item is None or given.unit.kind == result.unit.kind:
        return ""
    parts: list[str] = []
    item, dimensions = food.item, {given.unit.dimension, result.unit.dimension}
    if Dimension.VOLUME in dimensions and density is not None:
        states = (food.part,) if food.part else (*food.states, "")
        figure = next(known for state in states for known in item.densities if known.state == state)
        state = f", {figure.state}" if figure.state else ""
        parts.append(f"{item.name}{state}: {_figure(density)} g per ml ({figure.source})")
    if Dimension.COUNT in dimensions and each is not None:
        counted = given.unit if given.unit.dimension is Dimension.COUNT else result.unit
        if food.part is not None:
            of_part = item.part(food.part)
            assert of_part is not None, "its weight came from there"
            parts.append(f"{item.name}: the {food.part} of one weighs {_figure(each)} g ({of_part.source})")
        else:
            weight = next(known for known in item.each if known.unit == counted.name and known.grams == each)
            what = "one" if counted.name == "piece" else f"a {counted.name}"
            parts.append(f"{item.name}: {what} weighs {_figure(each)} g ({weight.source})")
    return "; ".join(parts)


def _figure(value: Fraction) -> str:
    # Three figures behind the point are more than any table gives.
    return decimal(Fraction(round(value * 1000), 1000))


def _lacking(problem: Unconvertible, food: Food | None, context: Context) -> NoAnswer:
    pair = (problem.quantity.unit, problem.to)
    if problem.reason is Lack.WRONG_DIMENSION:
        return NoAnswer(
            "These two are not amounts of the same kind.", "Weight, volume and pieces can become one another."
        )
    if food is None:
        return NoAnswer("That depends on what it is.", "Say of what: --of flour.")
    if food.item is None:
        near = nearest(match_key(food.name), context.larder.names())
        hint = f"Did you mean {near[0]!r}?" if near else "Add it to the book's larder.csv."
        return NoAnswer(f"The larder does not know {food.name!r}.", hint)
    weigh = "Weigh one, and write it into the book's larder.csv."
    if problem.reason is Lack.NO_DENSITY:
        return NoAnswer(f"How much a cup of {food.name} weighs is not known.", weigh)
    counted = next(found for found in pair if found.dimension is Dimension.COUNT)
    what = f"a {word(counted.name, False)} of {food.name}" if counted.name != "piece" else f"one {_single(food.name)}"
    return NoAnswer(f"How much {what} weighs is not known.", weigh)


def _instead(text: str) -> str:
    refused = words().refused_units
    meant = next((refused[word] for word in text.split() if word in refused), None)
    return f"Write {meant}." if meant is not None else "Write it as 1 1/2 cups, 200 g, 3 or 12 fl oz."


# ---------------------------------------------------------------- wording


def _side(quantity: Quantity, text: str) -> Side:
    return Side(quantity.low, quantity.unit.name, text, quantity.high if quantity.is_range else None)


def _given_text(quantity: Quantity, name: str) -> str:
    text = show_amount(one(quantity), written=True).text
    return _with_name(text, quantity, name)


def _result_text(result: Quantity, given: Quantity, name: str) -> str:
    """In the unit asked for, and beside it as a kitchen would measure it where that reads otherwise."""
    if result.unit.dimension is Dimension.COUNT:
        shown = show_amount(one(result))
        about = "about " if shown.rounded and not shown.text.startswith("about ") else ""
        return _with_name(about + shown.text, result, name)
    key = bare(result.unit)
    low, high = _number(result.low, key), _number(result.high, key)
    number = low if low == high else f"{low}–{high}"
    unit_word = word(key, result.high > 1)
    text = f"{number}{NO_BREAK}{unit_word}" if unit_word else number
    if result.unit.dimension in _NOT_FOOD or not any(char == "." for char in number):
        return text
    beside = show_amount(one(result)).text
    odd = beside.split(NO_BREAK)[-1] == text.split(NO_BREAK)[-1] or beside == show_amount(one(given)).text
    return text if odd or result.unit.dimension is Dimension.MASS else f"{text} ({beside})"


def _number(value: Fraction, key: str) -> str:
    """`5⅓` spoons, `2.646` lb: fractions where a kitchen has them, else four figures."""
    if key not in {"kg", "g", "mg", "l", "dl", "cl", "ml", "mm", "cm", "m", "W", "kW"} and (
        value.denominator == 1 or (value % 1) in VULGAR
    ):
        return mixed(value)
    if not value:
        return "0"
    places = _DIGITS - 1
    size = abs(value)
    while size >= 10 and places > 0:
        size, places = size / 10, places - 1
    while size < 1 and places < 9:
        size, places = size * 10, places + 1
    rounded = round(value * 10**places)
    whole, part = divmod(abs(rounded), 10**places)
    decimals = f"{part:0{places}d}".rstrip("0") if places else ""
    return f"{whole}.{decimals}" if decimals else str(whole)


def _with_name(text: str, quantity: Quantity, name: str) -> str:
    if not name:
        return text
    return f"{text} {_in_number(name, quantity.high > 1) if quantity.unit.name == 'piece' else name}"


def _in_number(name: str, several: bool) -> str:
    head, space, last = name.rpartition(" ")
    single = singular(last)
    return f"{head}{space}{plural(single) if several else single}"


def _single(name: str) -> str:
    return _in_number(name, False)
