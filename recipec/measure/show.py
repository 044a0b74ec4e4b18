"""Rounding and wording for people. The one place where an exact amount becomes text.

Bounds: salt, leavening, gelatin and cures (`strict`) within 3 %, everything else within 5 %. A number and its unit are held
together by a no-break space. Words and the decimal mark are the language's.
"""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass
from fractions import Fraction
from functools import lru_cache
from typing import Literal, TypeAlias

from recipec.measure.language import Language, language_of
from recipec.measure.numerals import NO_BREAK, decimal, mixed, span
from recipec.measure.quantity import Amount, Dimension, Quantity, one
from recipec.measure.rounding import FAR_OFF, FINEST, bound, by_step, within
from recipec.measure.show_reading import show_duration, show_equivalents, show_length, show_temperature
from recipec.measure.temperature import nearest
from recipec.measure.units import NOMINAL, bare, unit
from recipec.measure.wording import Said, metric_mass, metric_volume, say, say_by_eye, say_whole, worded

__all__ = [
    "AS_WRITTEN",
    "Shown",
    "Style",
    "shopping",
    "show_amount",
    "show_duration",
    "show_equivalents",
    "show_length",
    "show_nitrite",
    "show_temperature",
    "uneven",
]

_MOST_AMOUNTS = 1 << 12
"""Of amounts as they are written, how many texts are remembered: papers say each several times over."""

Measures: TypeAlias = Literal["as written", "metric", "us"]

# A heap is no measure: it is shown by eye, and never weighed.
BY_EYE = frozenset({"heaped", "scant"})
SPOONS = Fraction(3 * 15)
DECIMALS = frozenset({"kg", "g", "mg", "l", "dl", "cl", "ml", "m", "cm", "mm", "W", "kW"})


@dataclass(frozen=True, slots=True)
class Style:
    """How a book shows amounts. `as written` keeps to the kind of unit the cook used."""

    measures: Measures = "as written"
    language: str = "en"


AS_WRITTEN = Style()


@dataclass(frozen=True, slots=True)
class Shown:
    """An amount in words. `text` is all of it; `head` and `tail` are what stands before and after the name.

    `low` and `high` are what the words stand for, in g, ml or ones; None when the terms are of several kinds. `rounded` says
    whether that differs from the exact amount. `plural` is for the name: `1½ onions`.
    """

    text: str
    rounded: bool
    low: Fraction | None
    high: Fraction | None
    head: str
    tail: str
    plural: bool

    def with_name(self, singular: str, plural: str | None = None) -> str:
        """`2 large eggs`, `7 eggs plus 17 g beaten egg`, `4 duck legs (250 g each)`. `plural` is for things that are counted."""
        name = plural if self.plural and plural is not None else singular
        return f"{self.head} {name}{self.tail}" if self.head else f"{name}{self.tail}"


def show_amount(
    amount: Amount,
    style: Style = AS_WRITTEN,
    *,
    strict: bool = False,
    density: Fraction | None = None,
    each: Fraction | None = None,
    rest: str = "",
    uncut: bool = False,
    solid: bool = False,
    written: bool = False,
) -> Shown:
    """An amount for a card or a list.

    `written` says that this is the cook's own amount at factor 1: as written, it is then shown to the letter. `density`
    (g per ml) and `each` (g per one) put the weight beside spoons and pieces that miss their bound. `rest` is for things that
    can't be cut, such as eggs: what a part of one is called (`beaten egg`), and is weighed as, when `each` is known. `uncut` is for what
    is neither cut nor weighed, such as bay leaves: whole ones, at least one, whatever the bound. `solid`
    is for what a metric kitchen weighs: cups of it become grams, more than three spoons too.
    """
    tongue = language_of(style.language)
    if written and style.measures == "as written":
        return _to_the_letter(amount, tongue)
    total = amount.total()
    if total is None:
        return _of_several_kinds(amount, style, strict, tongue)
    if solid and density and style.measures == "metric" and amount.size not in BY_EYE and _by_the_cup(total):
        factor = total.unit.factor * density
        total = Quantity(total.low * factor, total.high * factor, unit("g"))
        amount = Amount((total,), amount.about)
        shown = show_amount(amount, style, strict=strict)
        low_ml, high_ml = (None if end is None else end / density for end in (shown.low, shown.high))
        return Shown(shown.text, shown.rounded, low_ml, high_ml, shown.head, shown.tail, shown.plural)
    limit = bound(strict)
    counted = total.unit.dimension is Dimension.COUNT
    held = amount.each.base_low if amount.each is not None and not amount.each.is_range else None
    if counted and rest and total.is_range:
        # Between two and three eggs there is nothing to weigh.
        whole = [max(nearest(end, 1), Fraction(1)) for end in (total.low, total.high)]
        total = Quantity(whole[0], whole[1], total.unit)
    elif counted and rest and each:
        return _whole_ones(total.low, each, limit, tongue, rest, amount)
    exacts = (total.base_low, total.base_high)
    by_eye = amount.size in BY_EYE and total.unit.dimension is Dimension.VOLUME
    if counted and uncut:
        low, high = (say_whole(value, total.unit) for value in exacts)
    elif by_eye:
        low, high = (say_by_eye(value, total.unit, limit) for value in exacts)
    else:
        low, high = (say(value, total.unit, style.measures, limit, tongue) for value in exacts)
    text = _joined(low, high, tongue)
    size = amount.size
    ends = (low.value, high.value)
    beside = about = ""
    if not (low.kept and high.kept):
        metric, factor = _weight(total, density, held or each, amount.each)
        if metric is not None and not by_eye:
            said = [metric(value * factor, limit, tongue) for value in exacts]
            beside = _joined(said[0], said[1], tongue)
            ends = (said[0].value / factor, said[1].value / factor)
            if not all(within(part.value, exact, FAR_OFF) for part, exact in zip((low, high), exacts, strict=True)):
                # An eighth of a spoon that means a fiftieth would mislead: the weight stands alone, and grams are not large or small.
                text, beside, counted, size = beside, "", False, None
        else:
            about = tongue.say("about ")
    if held is not None and not beside and ends[1] < 1:
        # Half a tin of 400 g is what is taken of it.
        beside = show_amount(one(amount.each.scaled(exacts[1])) if amount.each else amount, style, strict=strict).text
    elif amount.each is not None and not beside:
        beside = show_amount(one(amount.each), style, strict=strict).text
        if not ends[0] == ends[1] == 1:
            beside = tongue.say("%(much)s each", much=beside)
    # A container's content belongs to its unit (`2 tins (400 g each)`); a piece's follows the name.
    inner = f" ({beside})" if beside and not (counted and total.unit.name == "piece") else ""
    tail = f" ({beside})" if beside and not inner else ""
    start = tongue.say("about ") if amount.about else about
    head = f"{start}{_with_size(text, size, tongue.many(ends[1]), tongue)}{inner}"
    plural = counted and total.unit.name == "piece" and tongue.many(ends[1])
    rounded = ends != exacts
    return Shown(head + tail, rounded, *ends, head, tail, plural)


def show_nitrite(much: Quantity, style: Style = AS_WRITTEN) -> Shown:
    """A mass of curing salt, or where the cook gave no better a volume: rounded down, to 0.1 g or ml (0.01 under that), never in
    spoons (common practice).

    Raises ValueError for anything else.
    """
    base = unit("ml" if much.unit.dimension is Dimension.VOLUME else "g")
    exact = much.to(base)
    tongue = language_of(style.language)
    low, high = (
        # A jug has no finer marks than 5 ml.
        _down(
            value,
            Fraction(5)
            if value >= 100 and base.name == "ml"
            else Fraction(1, 10)
            if value >= Fraction(1, 10)
            else FINEST,
        )
        for value in (exact.low, exact.high)
    )
    text = worded(span(decimal(low, tongue.mark), decimal(high, tongue.mark)), base.name, True, tongue)
    return Shown(text, (low, high) != (exact.low, exact.high), low, high, text, "", False)


def shopping(quantity: Quantity, style: Style = AS_WRITTEN) -> Shown:
    """What to buy: the upper end, rounded up, never less than what is needed."""
    need = quantity.base_high
    tongue = language_of(style.language)
    of = quantity.unit
    customary = style.measures == "us" or (style.measures == "as written" and of.name in {"lb", "oz", "butter_stick"})
    if of.dimension is Dimension.MASS and customary:
        key = "oz" if need < unit("lb").factor else "lb"
        bought = _up(need / unit(key).factor, Fraction(1, 2) if key == "oz" else Fraction(1, 4)) * unit(key).factor
        text = worded(mixed(bought / unit(key).factor), key, True, tongue)
    elif of.dimension in {Dimension.MASS, Dimension.VOLUME}:
        step = next(step for start, step in SHOP_STEPS if need >= start)
        bought = _up(need, step)
        small, large = ("g", "kg") if of.dimension is Dimension.MASS else ("ml", "l")
        key = large if bought >= 1000 else small
        text = worded(decimal(bought / unit(key).factor, tongue.mark), key, True, tongue)
    else:
        number = _up(quantity.high, Fraction(1))
        bought = number * of.factor
        text = worded(str(number), bare(of), tongue.many(number), tongue)
    return Shown(text, bought != need, bought, bought, text, "", of.name == "piece" and tongue.many(bought))


SHOP_STEPS = (
    (Fraction(1000), Fraction(50)),
    (Fraction(100), Fraction(10)),
    (Fraction(20), Fraction(5)),
    (Fraction(0), Fraction(1)),
)


def _down(value: Fraction, step: Fraction) -> Fraction:
    return value // step * step


def _up(value: Fraction, step: Fraction) -> Fraction:
    return -(-value // step) * step


def _by_the_cup(total: Quantity) -> bool:
    """A volume that a metric kitchen has no vessel for, or more than three spoons."""
    key = bare(total.unit)
    if total.unit.dimension is not Dimension.VOLUME or key in DECIMALS or key in NOMINAL:
        return False
    return key not in {"tsp", "tbsp"} or total.base_high > SPOONS


def _joined(low: Said, high: Said, tongue: Language) -> str:
    if low.terms == high.terms:
        return high.text(tongue)
    if len(low.terms) == len(high.terms) == 1 and low.terms[0][1] == high.terms[0][1]:
        number = span(low.terms[0][0], high.terms[0][0])
        return worded(number, high.terms[0][1], tongue.many(high.lead), tongue)
    return span(low.text(tongue), high.text(tongue))


def _with_size(text: str, size: str | None, several: bool, tongue: Language) -> str:
    # `1 small bunch`, `2 large`: the size stands between number and unit.
    if size is None:
        return text
    number, space, rest = text.partition(NO_BREAK)
    return f"{number} {tongue.form(size, size, several, context='size')}{' ' if space else ''}{rest}"


_Metric: TypeAlias = Callable[[Fraction, Fraction, Language], Said]


def _weight(
    total: Quantity, density: Fraction | None, each: Fraction | None, content: Quantity | None
) -> tuple[_Metric | None, Fraction]:
    """How to weigh what was said in spoons or pieces, and how many g or ml of it one base unit is."""
    match total.unit.dimension:
        case Dimension.VOLUME:
            return (metric_mass, density) if density else (metric_volume, Fraction(1))
        case Dimension.COUNT if each:
            fluid = content is not None and content.unit.dimension is Dimension.VOLUME
            return (metric_volume if fluid else metric_mass), each
        case Dimension.MASS:
            return metric_mass, Fraction(1)
        case _:
            return None, Fraction(1)


def uneven(number: Fraction, strict: bool = False) -> bool:
    """Whether so many of what can't be cut don't come out as whole ones."""
    near = nearest(number, 1)
    return not near or not within(near, number, bound(strict))


def _whole_ones(
    number: Fraction, each: Fraction, limit: Fraction, tongue: Language, rest: str, amount: Amount
) -> Shown:
    """`7`, `7` … ` plus 17 g beaten egg`; less than one is grams alone (`17 g`), of what the caller then names."""
    whole, part = divmod(number, 1)
    full = Fraction(whole)
    near = nearest(number, 1)
    about = tongue.say("about ") if amount.about else ""
    tail = ""
    if near and within(near, number, limit):
        full = value = near
    else:
        # The bound is on the whole amount, and grams are at least as fine for a part of it.
        grams = by_step(part * each, limit)
        weight = metric_mass(part * each, limit, tongue).text(tongue)
        value = full + grams / each
        if not full:
            head = about + weight
            return Shown(head, value != number, value, value, head, "", False)
        tail = f"{tongue.say(' plus ')}{weight} {rest}"
    several = tongue.many(full)
    head = about + _with_size(str(full), amount.size, several, tongue)
    return Shown(head + tail, value != number, value, value, head, tail, several)


def _of_several_kinds(amount: Amount, style: Style, strict: bool, tongue: Language) -> Shown:
    parts = [show_amount(one(term), style, strict=strict) for term in amount.terms]
    text = (tongue.say("about ") if amount.about else "") + tongue.say(" plus ").join(part.text for part in parts)
    return Shown(text, any(part.rounded for part in parts), None, None, text, "", False)


def _to_the_letter(amount: Amount, tongue: Language) -> Shown:
    words = [_exact(term, tongue) for term in amount.terms]
    if amount.size and len(words) == 1:
        words = [_with_size(words[0], amount.size, tongue.many(amount.terms[0].high), tongue)]
    head = (tongue.say("about ") if amount.about else "") + tongue.say(" plus ").join(words)
    total = amount.total()
    tail = ""
    piece = total is not None and total.unit.name == "piece"
    if amount.each is not None:
        single = total is not None and total.low == total.high == 1
        much = _exact(amount.each, tongue)
        content = f" ({much if single else tongue.say('%(much)s each', much=much)})"
        head, tail = (head, content) if piece else (head + content, "")
    low, high = (None, None) if total is None else (total.base_low, total.base_high)
    return Shown(head + tail, False, low, high, head, tail, piece and high is not None and tongue.many(high))


@lru_cache(maxsize=_MOST_AMOUNTS)
def _exact(quantity: Quantity, tongue: Language) -> str:
    key = bare(quantity.unit)

    def number(value: Fraction) -> str:
        # Spoons and pieces in fractions, scales in decimals, as a cook writes them.
        sign = mixed(value)
        return decimal(value, tongue.mark) if key in DECIMALS or "/" in sign else sign

    return worded(span(number(quantity.low), number(quantity.high)), key, tongue.many(quantity.high), tongue)
