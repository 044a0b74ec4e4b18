"""Words that every form of the costing sheet shares."""

from __future__ import annotations

from fractions import Fraction

from recipec.measure.numerals import decimal
from recipec.plan.costing_types import DishCost


def dish_title(dish: DishCost) -> str:
    """The dish, and what is left out of it."""
    return dish.title + "".join(f", without {food}" for food in dish.without)


def plates_number(plates: Fraction) -> str:
    """`10`, `6.7`: to a tenth."""
    return decimal(Fraction(round(plates * 10), 10))


def plates_words(plates: Fraction | None) -> str:
    """`1 plate`, `6.7 plates`; '' for what is not drawn by plates."""
    return "" if plates is None else f"{plates_number(plates)} plate{'' if plates == 1 else 's'}"
