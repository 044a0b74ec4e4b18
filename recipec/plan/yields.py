"""The sums of the trade that every kitchen does by hand: as purchased and edible portion, what a portion of it costs, how many
times a recipe is made, food cost.

AP × yield = EP, and the cost of EP is the cost of AP ÷ yield, so both come to the same money; USDA Food Buying Guide, Appendix B,
and any textbook of culinary mathematics. All exact. A yield is the part left, from 0 (nothing) to 1 (all of it).
"""

from __future__ import annotations

from collections.abc import Iterable
from fractions import Fraction
from itertools import permutations

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
    """The part left when all these treatments were done before weighing; 1 where no yield of them is known.

    The table's own figure for several at once (`peeled and seeded`) comes first, in whatever order they stand. Failing that
    the least of the single ones: published refuse counts all that is thrown away (a squash's with its seeds), so that to
    multiply them would take it off twice.
    """
    words = tuple(treatments)
    for number in range(len(words), 1, -1):
        for several in permutations(words, number):
            known = item.left_after(" and ".join(several))
            if known:
                return known
    single = (item.left_after(word) or item.left_after(word.rpartition(" ")[2]) for word in words)
    return min((left for left in single if left), default=Fraction(1))


def _some(value: Fraction, why: str) -> Fraction:
    """`value`; ValueError when it is nothing or less: the caller asks for money, yields and amounts that are there."""
    if value <= 0:
        raise ValueError(why)
    return value
