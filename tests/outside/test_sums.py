"""Kitchen sums with published answers: conversion of units inside a sum, yields, and baker's percentages.

Each figure stands beside its source. What is checked is that our exact amounts give the printed answer when rounded as printed.
"""

from __future__ import annotations

from fractions import Fraction as F

import pytest

from recipec.measure.quantity import Tally, one, quantity
from recipec.measure.show import Style, show_amount
from recipec.measure.units import unit

LB, OZ, G, KG = unit("lb"), unit("oz"), unit("g"), unit("kg")
CUP, TBSP, TSP, QUART, PINT, GALLON = (unit(f"us_{key}") for key in ("cup", "tbsp", "tsp", "quart", "pint", "gallon"))


@pytest.mark.parametrize(
    ("given", "factor", "answer", "places"),
    [
        # USDA Food Buying Guide, Appendix B, Using Column 6: 2 lb diced watermelon, 0.61 lb from a pound: 3.28 lb.
        (quantity(2, LB), 1 / F("0.61"), quantity(F("3.28"), LB), 2),
        # Bakery and Business Math (Open Washington Pressbooks), ch. 25: 3 lb zucchini at 95 %: 2.85 lb.
        (quantity(3, LB), F("0.95"), quantity(F("2.85"), LB), 2),
        # The same: 5000 g strawberries at 87 %: 4350 g.
        (quantity(5000, G), F("0.87"), quantity(4350, G), 0),
        # The same: 32 oz pears edible at 78 %: 41.03 oz.
        (quantity(32, OZ), 1 / F("0.78"), quantity(F("41.03"), OZ), 2),
        # MTH 81 lecture notes ch. 8 (holt.blue): 200 guests at 4 oz asparagus, 56 %: 89.29 lb.
        (quantity(4, OZ), 200 / F("0.56"), quantity(F("89.29"), LB), 2),
        # Maths mid-term review worksheet (slidegur.com 33764): 40 lb pork shoulder at 62.5 %: 25 lb.
        (quantity(40, LB), F("0.625"), quantity(25, LB), 1),
    ],
)
def test_scaled_amounts(given: object, factor: F, answer: object, places: int) -> None:
    scaled = given.scaled(factor).to(answer.unit)  # type: ignore[attr-defined]
    assert round(scaled.low, places) == answer.low  # type: ignore[attr-defined]


def test_bakers_percentages() -> None:
    # Baker's percentage worksheet (scribd.com 79999339): 73 baguettes of 390 g; flour 100, water 67, salt 2, yeast 1.
    dough = quantity(390, G).scaled(F(73))
    flour = dough.scaled(F(100, 170))
    assert dough.low == 28470
    assert round(flour.low) == 16747
    shares = [flour.scaled(F(percent, 100)) for percent in (100, 67, 2, 1)]
    assert [round(share.low, 2) for share in shares[1:]] == [F("11220.53"), F("334.94"), F("167.47")]
    assert sum(share.low for share in shares) == dough.low


def test_doubling_carries_into_the_larger_unit() -> None:
    # US customary measures, NIST Handbook 44 Appendix C: 3 tsp are a tbsp, 16 tbsp a cup, 16 oz a pound.
    for given, factor, text in (
        (quantity(F(3, 2), TSP), 2, "1 tbsp"),
        (quantity(8, TBSP), 2, "1 cup"),
        (quantity(F(2, 3), CUP), 3, "2 cups"),
        (quantity(8, OZ), 2, "1 lb"),
        (quantity(12, OZ), 2, "1½ lb"),
        (quantity(500, G), 3, "1.5 kg"),
        (quantity(F(3, 4), CUP), 2, "1½ cups"),
    ):
        shown = show_amount(one(given.scaled(F(factor))))
        assert (shown.text.replace("\u00a0", " "), shown.rounded) == (text, False)


def test_a_gallon_adds_up() -> None:
    tally = Tally()
    for part in (quantity(1, QUART), quantity(2, PINT), quantity(4, CUP), quantity(64, TBSP)):
        tally = tally.add(one(part))
    (total,) = tally.quantities()
    assert total.to(GALLON) == quantity(1, GALLON)
    assert show_amount(one(total), Style("metric")).text == "3.79\u00a0l"
