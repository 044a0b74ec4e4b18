"""What a cook must be told when a dish is made much larger or smaller than it was written. Common practice throughout."""

from __future__ import annotations

import re
from collections.abc import Iterator
from fractions import Fraction

from recipec.measure.numerals import decimal, mixed
from recipec.model.dish import Dish, ReadingAt, Role, Step
from recipec.model.reading import Left
from recipec.plan.scale import grows
from recipec.plan.wording import Desk, bare_name

_FROM = Fraction(2)
# Whole words of a name. What tastes stronger or weaker than the sum says, and what lifts.
_TASTE = re.compile(
    r"\b(?:salt|soy sauce|fish sauce|chill?i(?:es)?|chile|cayenne|garlic|cloves|star anise|nutmeg|saffron|cardamom|"
    r"wine|brandy|rum|whisky|whiskey|sherry|vermouth|port|liqueur|wasabi|horseradish)\b",
    re.IGNORECASE,
)
_LIFT = re.compile(r"\b(?:yeast|baking powder|baking soda|bicarbonate of soda|bicarbonate)\b", re.IGNORECASE)


def scaling_notes(desk: Desk) -> Iterator[str]:
    """Sentences for a card; none within a factor of two either way."""
    factor = desk.scaled.factor
    if 1 / _FROM <= factor <= _FROM:
        return
    yield f"This is {_times(factor)} the dish as written."
    taste = _names(desk.dish, _TASTE)
    if taste:
        yield f"Start {taste} at three quarters, cook, and taste before adding the rest. Never taste raw meat or fish."
    lift = _names(desk.dish, _LIFT)
    if lift:
        yield f"Re-test {lift}: leavening does not always follow the sum."
    if any(_reduces(step) for step in desk.dish.steps()) and factor > 1:
        yield "Reducing takes longer than the time given, at least in a pan of the same width."


def _times(factor: Fraction) -> str:
    words = mixed(factor)
    if "/" in words or factor.denominator > 8:
        words = decimal(Fraction(round(factor * 100), 100))
    return f"{words} times" if factor > 1 else f"{words} of"


def _names(dish: Dish, pattern: re.Pattern[str]) -> str:
    """Names of what is bought and grows with the dish; a percentage or a rate is exact already."""
    found = [
        bare_name(use) for use in dish.uses if use.role is Role.BUY and use.basis is None and grows(use) and use.amount
    ]
    names = list(dict.fromkeys(name for name in found if pattern.search(name)))
    return " and ".join([", ".join(names[:-1]), names[-1]] if len(names) > 1 else names)


def _reduces(step: Step) -> bool:
    return any(
        isinstance(piece, ReadingAt) and isinstance(piece.reading.value, Left)
        for sentence in step.sentences
        for piece in sentence.pieces
    )
