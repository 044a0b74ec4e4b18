"""Tins and dishes whose food grows: the size of equal depth. Areas of like shapes go by the square of a side, so π never comes in."""

from __future__ import annotations

import math
import re
from collections.abc import Iterator
from dataclasses import dataclass
from fractions import Fraction
from functools import cache

from recipec.larder.names import folded, normal_name
from recipec.measure.language import ENGLISH, Language
from recipec.measure.numerals import NO_BREAK, decimal, mixed
from recipec.measure.quantity import Dimension
from recipec.measure.wording import word
from recipec.model.dish import Dish, GearAt, GearUse, ReadingAt
from recipec.model.reading import Extent
from recipec.plan.figures import rows
from recipec.plan.pieces import pieces_wanted
from recipec.plan.scale import grows
from recipec.plan.wording import Desk

# Shallower or deeper than this nobody bakes by another clock: common practice, like the words below.
_ALIKE = Fraction(1, 10)
_MOST_TINS = 12
_BAKED_IN = re.compile(
    r"\b(?:tin|mould|gratin|(?:baking|pie|tart|lasagne|roasting|gratin|oven|casserole) dish|terrine|dish)$"
)
_NOT_BAKED_IN = re.compile(r"\b(?:roasting|muffin|bun|patty|serving|shallow)\b")
_FRIED_IN = re.compile(r"\b(?:frying pan|sauté pan|saute pan|skillet|griddle pan|griddle|wok|grill pan)$")
_SIZE = re.compile(
    r"(?<![\d.])(\d{1,3}(?:\.\d)?)\s*(?:cm|in|inch|inches|\")?(?:\s*(?:x|×|by)\s*(\d{1,3}(?:\.\d)?))?\s*(cm|in|inch|inches|\")(?![a-z])"
)


@dataclass(frozen=True, slots=True)
class Pan:
    """What is baked or fried in: its sides in `unit` (`cm` or `inch`); `second` is None for round and square ones, and for oval
    ones known by their length. `shape` is round, square, oblong, or '' for any other."""

    sides: tuple[Fraction, Fraction | None]
    unit: str
    shape: str

    def area_over(self, other: Pan) -> Fraction | None:
        """How many times the area of `other`, of like shape and unit, this has; None for unlike ones."""
        if self.unit != other.unit or (self.sides[1] is None) != (other.sides[1] is None):
            return None
        return self._product() / other._product()

    def _product(self) -> Fraction:
        return self.sides[0] * (self.sides[0] if self.sides[1] is None else self.sides[1])

    def text(self, tongue: Language = ENGLISH) -> str:
        """`20 cm`, `20 × 30 cm`, `9 × 13 in`."""
        numbers = " × ".join(decimal(side, tongue.mark) for side in self.sides if side is not None)
        return f"{numbers}{NO_BREAK}{word(self.unit, False, tongue)}"


@cache
def shop_sizes() -> tuple[Pan, ...]:
    """What shops sell, in the order of the table."""
    found = []
    for shape, sides, unit in rows("tins.tsv"):
        first, _, second = sides.partition("x")
        found.append(Pan((Fraction(first), Fraction(second) if second else None), unit, shape))
    return tuple(found)


def read_pan(words: str) -> Pan | None:
    """The size in the words of a mark or reading (`20 cm round`, `square, 8 inch`, `20 x 30 cm`); None when it says none."""
    text = folded(words)
    found = _SIZE.search(text)
    if found is None:
        return None
    first, second = Fraction(found[1]), None if found[2] is None else Fraction(found[2])
    if not first or second == 0:
        return None
    unit = "cm" if found[3] == "cm" else "inch"
    if second is not None and second != first:
        return Pan((min(first, second), max(first, second)), unit, "oblong")
    square = second is not None or re.search(r"\bsquare\b", text) is not None
    shape = "square" if square else "" if re.search(r"\b(?:oval|gratin|loaf|oblong)\b", text) else "round"
    return Pan((first, None), unit, shape)


@dataclass(frozen=True, slots=True)
class Fit:
    """So many of a pan, with `area` times the area in all that the written one has."""

    count: int
    pan: Pan
    area: Fraction


def fits(pan: Pan, factor: Fraction) -> tuple[Fit, ...]:
    """What holds `factor` times as much about as deep: one of another size, and several of the size there is. Where neither will do, the
    fewest of another size; none where even that fails."""
    sizes = [size for size in shop_sizes() if size.shape == (pan.shape or "round")]
    one = _nearest(pan, factor, 1, sizes)
    number = max(round(factor), 1)
    same = [Fit(number, pan, Fraction(number))] if number > 1 and _alike(factor, Fraction(number)) else []
    found = [fit for fit in (one, *same) if fit is not None]
    if found:
        return tuple(found)
    several = (_nearest(pan, factor, count, sizes) for count in range(2, _MOST_TINS + 1))
    return tuple(fit for fit in several if fit is not None)[:1]


def nearest(pan: Pan, factor: Fraction) -> Fit | None:
    """The one pan of another size whose area is nearest, however far off; None where nothing like it is sold."""
    areas = [
        (size, area) for size in shop_sizes() if size.shape == (pan.shape or "round") and (area := size.area_over(pan))
    ]
    return min((Fit(1, size, area) for size, area in areas), key=lambda fit: _off(fit, factor), default=None)


def _nearest(pan: Pan, factor: Fraction, count: int, sizes: list[Pan]) -> Fit | None:
    areas = [(size, area * count) for size in sizes if (area := size.area_over(pan)) is not None]
    alike = [Fit(count, size, area) for size, area in areas if _alike(factor, area)]
    return min(alike, key=lambda fit: _off(fit, factor), default=None)


def _off(fit: Fit, factor: Fraction) -> tuple[Fraction, Fraction]:
    return (abs(factor / fit.area - 1), fit.pan.sides[0])


def _alike(factor: Fraction, area: Fraction) -> bool:
    return abs(factor / area - 1) <= _ALIKE


# ---------------------------------------------------------------- for a card


def pan_notes(desk: Desk) -> Iterator[str]:
    """A sentence for every tin whose food grows, and for every frying pan; none where the depth stays about the same."""
    factor = desk.scaled.factor
    if _alike(factor, Fraction(1)) or not any(use.amount is not None and grows(use) for use in desk.dish.uses):
        return
    told: set[tuple[str, str]] = set()
    for gear in desk.dish.gear:
        name = normal_name(gear.name)
        if gear.same or gear.amount is not None or pieces_wanted(gear, desk) != gear.pieces:
            # As many more ramekins as plates keep their depth.
            continue
        words = f"{gear.name} {gear.size or _extent_beside(gear, desk.dish)}"
        pan = read_pan(words)
        if (name, words) in told:
            continue
        told.add((name, words))
        fried = _FRIED_IN.search(name) is not None and not _in_the_oven(name, desk.dish)
        if fried:
            if factor > 1 and (pan is not None or gear.takes is not None):
                yield _in_batches(gear, desk)
        elif pan is not None and (_BAKED_IN.search(name) or _FRIED_IN.search(name)) and not _NOT_BAKED_IN.search(name):
            yield _same_depth(gear, pan, factor, desk.tongue)


def _in_the_oven(name: str, dish: Dish) -> bool:
    """Whether a pan is baked in: a sentence has it and an oven."""
    for step in dish.steps():
        for sentence in step.sentences:
            names = {normal_name(dish.gear[piece.gear].name) for piece in sentence.pieces if isinstance(piece, GearAt)}
            if name in names and "oven" in names:
                return True
    return False


def _extent_beside(gear: GearUse, dish: Dish) -> str:
    """The words of a reading with a shape (`<20 cm round>`) in the sentence of a gear mark."""
    for step in dish.steps():
        for sentence in step.sentences:
            if any(isinstance(piece, GearAt) and piece.gear == gear.number for piece in sentence.pieces):
                for piece in sentence.pieces:
                    if (
                        isinstance(piece, ReadingAt)
                        and isinstance(piece.reading.value, Extent)
                        and piece.reading.value.shape
                    ):
                        return piece.reading.span.text.strip("<>")
    return ""


def _same_depth(gear: GearUse, pan: Pan, factor: Fraction, tongue: Language) -> str:
    say, several = tongue.say, gear.pieces > 1
    gear_words = f"{gear.pieces} {gear.name}" if several else gear.name
    name = say("the %(gear)s, %(size)s", gear=gear_words, size=pan.text(tongue))
    deep = _deep(factor, tongue)
    if several and factor > 1:
        alone = say("In those alone it comes %(deep)s: it bakes longer, and may rise over the rim.", deep=deep)
    elif several:
        alone = say("In those alone it comes %(deep)s: it is done sooner.", deep=deep)
    elif factor > 1:
        alone = say("In that one alone it comes %(deep)s: it bakes longer, and may rise over the rim.", deep=deep)
    else:
        alone = say("In that one alone it comes %(deep)s: it is done sooner.", deep=deep)
    return f"{_advice(pan, factor, name, several, tongue)} {alone}"


def _advice(pan: Pan, factor: Fraction, name: str, several: bool, tongue: Language) -> str:
    say = tongue.say
    found = fits(pan, factor)
    if found:
        ways = say(", or ").join(_way(fit, tongue) for fit in found)
        if several:
            return say("For the same depth as in %(gear)s, take for each %(ways)s.", gear=name, ways=ways)
        return say("For the same depth as in %(gear)s, take %(ways)s.", gear=name, ways=ways)
    number, near = _number(factor, tongue), nearest(pan, factor)
    nothing = say(
        "Nothing that shops sell gives the depth of %(gear)s, for %(number)s as much.", gear=name, number=number
    )
    if near is None:
        return nothing
    deep = _deep(factor / near.area, tongue)
    shown = say("The nearest is one of %(size)s, where it comes %(deep)s.", size=near.pan.text(tongue), deep=deep)
    return f"{nothing} {shown}"


def _deep(factor: Fraction, tongue: Language) -> str:
    if factor == 2:
        return tongue.say("twice as deep")
    number = _number(factor, tongue)
    if factor > 1:
        return tongue.say("%(number)s times as deep", number=number)
    return tongue.say("%(number)s as deep", number=number)


def _way(fit: Fit, tongue: Language) -> str:
    size, area = fit.pan.text(tongue), decimal(Fraction(round(fit.area * 100), 100), tongue.mark)
    if fit.count == 1:
        return tongue.say("one of %(size)s (× %(area)s the area)", size=size, area=area)
    return tongue.say("%(number)s of %(size)s (× %(area)s the area)", number=fit.count, size=size, area=area)


def _in_batches(gear: GearUse, desk: Desk) -> str:
    say = desk.tongue.say
    pan = f"{gear.name}, {gear.size}" if gear.size else gear.name
    total = None if gear.takes is None else gear.takes.total()
    plates = desk.scaled.plates
    many: int | None = None
    if total is not None and total.unit.name == "plate" and plates is not None and total.low:
        many = math.ceil(plates / (total.low * gear.pieces))
    elif total is not None and total.unit.dimension is Dimension.COUNT:
        many = None
    else:
        many = math.ceil(desk.scaled.factor)
    if many == 1:
        return say("It all fits into the %(pan)s at once.", pan=pan)
    if many is None:
        return say("Cook in the %(pan)s in batches: crowded, it stews and does not colour.", pan=pan)
    return say(
        "Cook in the %(pan)s in %(number)s batches, or in %(number)s pans: crowded, it stews and does not colour.",
        pan=pan,
        number=many,
    )


def _number(factor: Fraction, tongue: Language) -> str:
    words = mixed(factor)
    return (
        words
        if "/" not in words and factor.denominator in (1, 2, 3, 4)
        else decimal(Fraction(round(factor * 100), 100), tongue.mark)
    )
