"""One number of one unit, rounded and put in words. `show.py` joins these into amounts.

Every function takes an exact value in its base (g, ml, one) and gives a `Said`: the words, the value those words stand for,
and whether it keeps to the bound.
"""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from fractions import Fraction

from recipec.measure.language import ENGLISH, Language
from recipec.measure.numerals import NO_BREAK, decimal, mixed
from recipec.measure.quantity import Dimension, Unit
from recipec.measure.rounding import (
    EIGHTHS,
    EXEMPT_BELOW,
    HALVES,
    QUARTERS,
    QUARTERS_AND_THIRDS,
    WHOLE,
    by_parts,
    by_step,
    within,
)
from recipec.measure.temperature import nearest
from recipec.measure.units import NOMINAL, bare, unit

# English; the words of the units that a cook does not write as the key itself.
_WORDS = {"floz": "fl oz", "inch": "in"}
_SAME_IN_PLURAL = frozenset(
    {"kg", "g", "mg", "lb", "oz", "l", "dl", "cl", "ml", "tbsp", "tsp", "floz", "s", "min", "h", "d"}
    | {"mm", "cm", "m", "inch", "W", "kW"}
)
_PLURALS = {"leaf": "leaves", "loaf": "loaves"}

SPOON_SETS = {"us": ("us_tsp", "us_tbsp"), "metric": ("metric_tsp", "metric_tbsp"), "au": ("metric_tsp", "au_tbsp")}


@dataclass(frozen=True, slots=True)
class Said:
    """`terms` are (number, unit key) pairs; `value` is what they stand for, in the base; `kept` whether the bound holds; `lead` the number
    of the first term."""

    terms: tuple[tuple[str, str], ...]
    value: Fraction
    kept: bool
    lead: Fraction

    def text(self, tongue: Language = ENGLISH) -> str:
        """`1 cup plus 2 tbsp`, `2 lb 3 oz`."""
        several = len(self.terms) > 1 or tongue.many(self.lead)
        words = [worded(number, key, several, tongue) for number, key in self.terms]
        return (" " if self.terms[-1][1] == "oz" else tongue.say(" plus ")).join(words)


def word(key: str, plural: bool, tongue: Language = ENGLISH) -> str:
    """The word of a unit's bare key; '' for the bare piece."""
    if key == "piece":
        return ""
    return tongue.form(_english(key, False), _english(key, True), plural, context="unit")


def _english(key: str, plural: bool) -> str:
    single = _WORDS.get(key, key)
    if not plural or key in _SAME_IN_PLURAL:
        return single
    if key in _PLURALS:
        return _PLURALS[key]
    return single + ("es" if single.endswith(("ch", "sh", "x", "s")) else "s")


def worded(number: str, key: str, plural: bool, tongue: Language = ENGLISH) -> str:
    """Number and word. One pinch is `a pinch`."""
    if key in NOMINAL and number == "1":
        return tongue.say(f"a{NO_BREAK}{word(key, False)}", context="amount")
    text = word(key, plural and not single(number), tongue)
    return f"{number}{NO_BREAK}{text}" if text else number


def single(number: str) -> bool:
    """Whether a number as it is written takes no plural whatever stands beside it: one, and parts of one."""
    return number in {"1", "⅛", "¼", "⅓", "⅜", "½", "⅝", "⅔", "¾", "⅞"}


def say(value: Fraction, of: Unit, measures: str, limit: Fraction, tongue: Language) -> Said:
    """`value` in the base of `of`'s dimension, in words near to `of` or in the measures wished for.

    `measures` is `as written`, `metric` or `us`; `limit` the bound.
    """
    if of.name in NOMINAL:
        return _nominal(value, of)
    match of.dimension:
        case Dimension.MASS:
            if of.name == "butter_stick" and measures != "metric":
                return _first(value, _sticks(value, of, limit), _mass(value, of, measures, limit, tongue))
            return _mass(value, of, measures, limit, tongue)
        case Dimension.VOLUME:
            return _volume(value, of, measures, limit, tongue)
        case Dimension.COUNT:
            return say_count(value, of, limit)
        case _:
            number = value / of.factor
            return Said(((decimal(nearest(number, Fraction(1, 100)), tongue.mark), of.name),), value, True, number)


def metric_mass(value: Fraction, limit: Fraction, tongue: Language = ENGLISH) -> Said:
    """Grams, or kilograms from 1000 on."""
    return _metric(value, limit, tongue, "g", "kg")


def metric_volume(value: Fraction, limit: Fraction, tongue: Language = ENGLISH, key: str = "ml") -> Said:
    """Millilitres (or the `dl`, `cl` that the cook uses), litres from 1000 on."""
    return _metric(value, limit, tongue, key, "l")


def _metric(value: Fraction, limit: Fraction, tongue: Language, small: str, large: str) -> Said:
    rounded = by_step(value, limit)
    key = large if rounded >= 1000 else small
    number = rounded / unit(key).factor
    kept = within(rounded, value, limit) or value < EXEMPT_BELOW
    return Said(((decimal(number, tongue.mark), key),), rounded, kept, number)


def say_count(value: Fraction, of: Unit, limit: Fraction) -> Said:
    """Pieces and counted units: quarters and thirds while few, halves up to ten, whole ones beyond."""
    parts = QUARTERS_AND_THIRDS if value < 4 else HALVES if value < 10 else WHOLE
    rounded = by_parts(value, parts)
    if not within(rounded, value, limit) and value < 10:
        rounded = by_parts(value, QUARTERS_AND_THIRDS)
    if not rounded and value:
        rounded = EIGHTHS[1]
    return Said(((mixed(rounded), of.name),), rounded, within(rounded, value, limit), rounded)


def say_by_eye(value: Fraction, of: Unit, limit: Fraction) -> Said:
    """Heaped and scant spoons, in halves of the very spoon: no one measures a quarter of a heap."""
    number = max(by_parts(value / of.factor, HALVES), Fraction(1, 2))
    said = number * of.factor
    return Said(((mixed(number), bare(of)),), said, within(said, value, limit), number)


def say_whole(value: Fraction, of: Unit) -> Said:
    """Leaves, sprigs and the like: whole ones, at least one. They are too small to weigh and too small to cut."""
    number = max(nearest(value, 1), Fraction(1))
    return Said(((mixed(number), of.name),), number, True, number)


def _nominal(value: Fraction, of: Unit) -> Said:
    number = max(by_parts(value / of.factor, HALVES), Fraction(1)) if value else Fraction(0)
    return Said(((mixed(number), of.name),), number * of.factor, True, number)


def _sticks(value: Fraction, of: Unit, limit: Fraction) -> Iterator[Said]:
    yield _single(value, of, QUARTERS, limit)


def _mass(value: Fraction, of: Unit, measures: str, limit: Fraction, tongue: Language) -> Said:
    ounces = measures == "us" or (measures == "as written" and of.name in {"oz", "lb", "butter_stick"})
    return _first(value, _ounces(value, limit) if ounces else iter(()), metric_mass(value, limit, tongue))


def _ounces(value: Fraction, limit: Fraction) -> Iterator[Said]:
    ounce, pound = unit("oz"), unit("lb")
    if value >= pound.factor * (1 - limit):
        quarter = _single(value, pound, QUARTERS, limit)
        if quarter.value == value or value >= 10 * pound.factor:
            yield quarter
        number = by_parts(value / ounce.factor, HALVES if value < 5 * pound.factor else WHOLE)
        said = number * ounce.factor
        pounds, rest = divmod(number, 16)
        terms: tuple[tuple[str, str], ...] = ((mixed(Fraction(pounds)), "lb"), (mixed(rest), "oz"))
        if number % 4 == 0:
            terms = ((mixed(number / 16), "lb"),)
        yield Said(tuple(term for term in terms if term[0] != "0"), said, within(said, value, limit), number / 16)
    # Under half an ounce a cook weighs in grams.
    elif value >= ounce.factor / 2:
        for parts in (HALVES, QUARTERS, EIGHTHS):
            yield _single(value, ounce, parts, limit)


def _volume(value: Fraction, of: Unit, measures: str, limit: Fraction, tongue: Language) -> Said:
    key = bare(of)
    system = of.name.partition("_")[0]
    if measures == "us":
        return _spoons(value, "us", unit("us_cup"), limit, tongue)
    if key in {"tsp", "tbsp"}:
        if measures == "metric":
            system = "au" if system == "au" else "metric"
        cup = unit("us_cup") if system == "us" else None
        # Past eight spoons a cook takes the jug.
        if cup is None and value >= 8 * unit("metric_tbsp").factor:
            return metric_volume(value, limit, tongue)
        return _spoons(value, system, cup, limit, tongue)
    if measures == "metric" or key in {"ml", "cl", "dl", "l"}:
        return metric_volume(value, limit, tongue, key if key in {"cl", "dl"} and measures == "as written" else "ml")
    if key == "cup":
        return _spoons(value, "us" if system == "us" else "metric", of, limit, tongue)
    otherwise = (
        _spoons(value, "us", unit("us_cup"), limit, tongue) if system == "us" else metric_volume(value, limit, tongue)
    )
    return _first(value, _customary(value, of, limit), otherwise)


def _customary(value: Fraction, of: Unit, limit: Fraction) -> Iterator[Said]:
    """Gallons, quarts and pints in quarters; gills and fluid ounces in halves, then quarters."""
    if bare(of) in {"gallon", "quart", "pint"}:
        if value >= of.factor / 4 * (1 - limit):
            yield _single(value, of, QUARTERS, limit)
    else:
        yield _single(value, of, HALVES, limit)
    ounce = unit(of.name.partition("_")[0] + "_floz")
    if value < unit("us_pint").factor:
        for parts in (HALVES, QUARTERS):
            yield _single(value, ounce, parts, limit)


def _spoons(value: Fraction, system: str, cup: Unit | None, limit: Fraction, tongue: Language) -> Said:
    tsp, tbsp = (unit(key) for key in SPOON_SETS[system])
    tries = list(_spoon_tries(value, tsp, tbsp, cup, limit))
    return _first(value, iter(tries), tries[-1])


def _spoon_tries(value: Fraction, tsp: Unit, tbsp: Unit, cup: Unit | None, limit: Fraction) -> Iterator[Said]:
    # A hair less than a whole measure still counts as one, or a US spoon would never become a metric one.
    nearly = 1 - limit
    cups = cup is not None and value >= cup.factor / 4 * nearly
    if cup is not None and value >= 8 * cup.factor and cup.name == "us_cup":
        yield _single(value, unit("us_quart"), QUARTERS, limit)
    if cup is not None and cups:
        yield _single(value, cup, QUARTERS_AND_THIRDS, limit)
    if value >= tbsp.factor * nearly and (cup is None or value < cup.factor / 2):
        yield _single(value, tbsp, HALVES, limit)
    if cup is not None and cups:
        for cup_parts, spoon_parts in ((QUARTERS, WHOLE), (QUARTERS_AND_THIRDS, WHOLE), (QUARTERS_AND_THIRDS, HALVES)):
            yield _double(value, cup, cup_parts, tbsp, spoon_parts, limit)
    if value >= tbsp.factor * nearly:
        yield _double(value, tbsp, WHOLE, tsp, QUARTERS, limit)
    yield _single(value, tsp, QUARTERS, limit)
    if value < tsp.factor:
        # Beside a whole spoon nobody measures an eighth: then the weight says it.
        yield _single(value, tsp, EIGHTHS, limit)
    yield _least(_single(value, tsp, QUARTERS, limit), tsp)


def _least(said: Said, tsp: Unit) -> Said:
    # Never `0 tsp`: less than an eighth is shown as one, with its true amount beside it.
    return said if said.value else Said((("⅛", bare(tsp)),), tsp.factor / 8, False, EIGHTHS[1])


def _single(value: Fraction, of: Unit, parts: Sequence[Fraction], limit: Fraction) -> Said:
    number = by_parts(value / of.factor, parts)
    said = number * of.factor
    return Said(((mixed(number), bare(of)),), said, within(said, value, limit), number)


def _double(
    value: Fraction,
    large: Unit,
    large_parts: Sequence[Fraction],
    small: Unit,
    small_parts: Sequence[Fraction],
    limit: Fraction,
) -> Said:
    """As much of the large measure as goes in, the rest in the small one."""
    whole, rest = divmod(value / large.factor, 1)
    first = whole + max(part for part in large_parts if part <= rest)
    second = by_parts((value - first * large.factor) / small.factor, small_parts)
    said = first * large.factor + second * small.factor
    terms = tuple((mixed(number), bare(of)) for number, of in ((first, large), (second, small)) if number)
    return Said(terms, said, bool(terms) and within(said, value, limit), first)


def _first(value: Fraction, tries: Iterator[Said], otherwise: Said) -> Said:
    if not value:
        return otherwise
    return next((said for said in tries if said.kept and said.value), otherwise)
