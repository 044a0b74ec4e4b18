"""The sums of the trade that every kitchen does by hand: as purchased and edible portion, what a portion of it costs, how many
times a recipe is made, food cost.

AP × yield = EP, and the cost of EP is the cost of AP ÷ yield, so both come to the same money; USDA Food Buying Guide, Appendix B,
and any textbook of culinary mathematics. All exact. A yield is the part left, from 0 (nothing) to 1 (all of it).
"""

from __future__ import annotations

from collections.abc import Iterable
from fractions import Fraction

from recipec.larder.ingredient import Ingredient


def yield_of(as_purchased: Fraction, edible: Fraction) -> Fraction:
    """The yield that a test found: what was left of what was bought, both in one unit."""
    return edible / _some(as_purchased, "nothing was bought")


def ep_from_ap(as_purchased: Fraction, left: Fraction) -> Fraction:
    """What is left of so much."""
    return as_purchased * left


def ap_from_ep(edible: Fraction, left: Fraction) -> Fraction:
    """How much to buy to be left with so much."""
    return edible / _some(left, "nothing is left of it")


def unit_cost(paid: Fraction, amount: Fraction) -> Fraction:
    """Money for one unit of what so much was paid for."""
    return paid / _some(amount, "nothing was bought")


def ep_cost(ap_cost: Fraction, left: Fraction) -> Fraction:
    """Money for a unit of edible portion, from that for the same unit as purchased."""
    return ap_cost / _some(left, "nothing is left of it")


def conversion_factor(wanted: Fraction, written: Fraction) -> Fraction:
    """How many times a recipe is made: plates by plates, or yield by yield in one unit."""
    return wanted / _some(written, "the recipe makes nothing")


def food_cost_part(food: Fraction, menu_price: Fraction) -> Fraction:
    """The part of the menu price that the food is: 3/10 is a food cost of 30 %."""
    return food / _some(menu_price, "it is given away")


def left_of(item: Ingredient, treatments: Iterable[str]) -> Fraction:
    """The part left when all these treatments were done before weighing: of several at once the table's own figure, else the
    least of those known (see `Ingredient.left_after`); 1 where none is, which is a finding of its own."""
    words = tuple(treatments)
    together = item.left_after(*words)
    if together:
        return together
    return min((left for word in words if (left := item.left_after(word))), default=Fraction(1))


def _some(value: Fraction, why: str) -> Fraction:
    """`value`; ValueError when it is nothing or less: the caller asks for money, yields and amounts that are there."""
    if value <= 0:
        raise ValueError(why)
    return value
