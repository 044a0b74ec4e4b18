"""Kitchen sums with published answers: conversion of units inside a sum, yields, costs, and baker's percentages.

Each figure stands beside its source. What is checked is that our exact amounts give the printed answer when rounded as printed.
"""

from __future__ import annotations

from decimal import Decimal
from fractions import Fraction as F

import pytest

from recipec.analyse.context import Context
from recipec.analyse.passes import analyse_dish
from recipec.base.source import Source
from recipec.larder.ingredient import Ingredient
from recipec.larder.larder import builtin
from recipec.measure.quantity import Amount, Quantity, Tally, one, quantity
from recipec.measure.show import Style, shopping, show_amount
from recipec.measure.units import unit
from recipec.model.settings import Settings
from recipec.plan.demand import Run
from recipec.plan.gather import wants_of
from recipec.plan.market import to_money
from recipec.plan.scale import factor_for, scale
from recipec.plan.yields import (
    ap_from_ep,
    conversion_factor,
    ep_cost,
    ep_from_ap,
    food_cost_part,
    unit_cost,
    yield_of,
)
from recipec.syntax.parse import parse
from tests.plan.make import amount, buy, dish, food, knowing

LB, OZ, G, KG = unit("lb"), unit("oz"), unit("g"), unit("kg")
CUP, TBSP, TSP, QUART, PINT, GALLON = (unit(f"us_{key}") for key in ("cup", "tbsp", "tsp", "quart", "pint", "gallon"))


WATERMELON, ZUCCHINI, STRAWBERRIES, PEARS, ASPARAGUS = (
    food(name, name, "produce", yields=(("trimmed", left),))
    for name, left in (
        # USDA Food Buying Guide, Appendix B, Using Column 6: 1 lb as purchased gives 0.61 lb of diced watermelon.
        ("watermelon", "0.61"),
        # Bakery and Business Math (Open Washington Pressbooks), ch. 25 Yield Percents, of the next three.
        ("zucchini", "0.95"),
        ("strawberry", "0.87"),
        ("pear", "0.78"),
        # MTH 81 lecture notes ch. 8, Applying Yield Percent (holt.blue).
        ("asparagus", "0.56"),
    )
)


def bought(item: Ingredient, much: Amount, factor: F = F(1)) -> Quantity:
    """What the market is asked for, of so much trimmed before weighing, in a dish made `factor` times."""
    known = knowing(item)
    written = buy(f"trimmed {item.name}", item.name, much, before=("trimmed",), item=item.key)
    made = dish("trial", written, serves=1, larder=known)
    run = Run(made, (), factor, factor, F(0), made.uses)
    (((_, (want,)),)) = wants_of([run], known, Style())
    assert want.amount is not None and want.left == item.yields[0].left
    return want.amount.terms[0]


@pytest.mark.parametrize(
    ("item", "edible", "factor", "answer", "places"),
    [
        # USDA Food Buying Guide, Appendix B: 2 lb of diced watermelon are 3.28 lb as purchased.
        (WATERMELON, amount(2, "lb"), F(1), "3.28", 2),
        # Bakery and Business Math, ch. 25: 32 oz of pears are 41.03 oz as purchased.
        (PEARS, amount(32, "oz"), F(1), "41.03", 2),
        # MTH 81, ch. 8: 200 guests at 4 oz of asparagus are 89.29 lb. The page's 1428.27 oz on the way there is a misprint
        # of 1428.57, which the next row holds.
        (ASPARAGUS, amount("1/4", "lb"), F(200), "89.29", 2),
        (ASPARAGUS, amount(4, "oz"), F(200), "1428.57", 2),
    ],
)
def test_as_purchased_by_the_comma_rule(item: Ingredient, edible: Amount, factor: F, answer: str, places: int) -> None:
    assert round(bought(item, edible, factor).high, places) == F(answer)
    assert round(ap_from_ep(edible.terms[0].high, item.yields[0].left) * factor, places) == F(answer)


def test_shopping_rounds_what_is_bought_up() -> None:
    # USDA Food Buying Guide, Appendix B: the 3.28 lb of watermelon are bought as 3.5 lb.
    assert shopping(bought(WATERMELON, amount(2, "lb"))).text == "3½\u00a0lb"


@pytest.mark.parametrize(
    ("item", "purchased", "answer", "places"),
    [
        # Bakery and Business Math, ch. 25: 3 lb of zucchini give 2.85 lb; 5000 g of strawberries give 4350 g.
        (ZUCCHINI, 3, "2.85", 2),
        (STRAWBERRIES, 5000, "4350", 0),
    ],
)
def test_edible_portion(item: Ingredient, purchased: int, answer: str, places: int) -> None:
    assert round(ep_from_ap(F(purchased), item.yields[0].left), places) == F(answer)


@pytest.mark.parametrize(
    ("purchased", "edible", "percent"),
    [
        # Maths mid-term review worksheet (slidegur.com 33764): 19 lb leave 14 lb; 40 lb of bone-in pork shoulder leave 25 lb.
        (19, 14, "73.7"),
        (40, 25, "62.5"),
    ],
)
def test_yield_test(purchased: int, edible: int, percent: str) -> None:
    assert round(yield_of(F(purchased), F(edible)) * 100, 1) == F(percent)
    assert ep_from_ap(F(purchased), yield_of(F(purchased), F(edible))) == edible


def test_cost_of_the_edible_portion() -> None:
    # Chapters 9-10, Finding Cost (slideplayer.com 7840814): potatoes at $1.86/lb, yield 75 %, are $2.48/lb peeled; 50 lb as purchased
    # and the 37.5 lb left of them are $93.00 both ways.
    paid, left = F("1.86"), F("0.75")
    assert ep_cost(paid, left) == F("2.48")
    assert ep_from_ap(F(50), left) == F("37.5")
    assert 50 * paid == F("37.5") * ep_cost(paid, left) == 93


def test_cost_of_apples_by_a_rounded_factor() -> None:
    # Culinary Math - Recipe Costing (VCC Library Learning Centre): 10 lb of apples for $5.60, yield 75 %, factor rounded to 1.333,
    # are $7.465 for 10 lb peeled. The page's 100/80 is a misprint of 100/75. Ours is exact, and comes to $7.47 at the till either way.
    exact = 10 * ep_cost(unit_cost(F("5.60"), F(10)), F("0.75"))
    rounded_factor = round(ap_from_ep(F(1), F("0.75")), 3)
    assert round(F("5.60") * rounded_factor, 3) == F("7.465")
    assert exact == F("22.4") / 3
    assert to_money(exact, "USD").value == to_money(F("7.465"), "USD").value == Decimal("7.47")


def test_unit_cost() -> None:
    # The same: 20 lb of flour for $10.50 are $0.525 a pound.
    assert unit_cost(F("10.50"), F(20)) == F("0.525")


def test_factor_and_food_cost_are_plain_divisions() -> None:
    # No published figures: the definitions, and what they must refuse.
    assert conversion_factor(F(90), F(12)) == F(15, 2)
    assert food_cost_part(F("4.20"), F(14)) == F(3, 10)
    for impossible in (
        lambda: food_cost_part(F(1), F(0)),
        lambda: ap_from_ep(F(1), F(0)),
        lambda: yield_of(F(0), F(1)),
    ):
        with pytest.raises(ValueError, match=r"."):
            impossible()


BAGUETTES = """Baguettes
makes: 1.7 kg

Mix [1000 g strong white flour] with [water, 67% of the flour], [fine salt, 2% of the flour] and [dried yeast, 1% of the flour] in a
{mixing bowl} for <8 min attended>. -> dough, 1.7 kg
"""


def test_a_strand_of_percentages_solves_from_the_dough_wanted() -> None:
    # Baker's percentage worksheet (scribd.com 79999339): 73 baguettes of 390 g; flour 100, water 67, salt 2, yeast 1.
    wanted = amount(390, "g").scaled(F(73))
    parsed = parse(Source("baguettes.dish", BAGUETTES), "dish")
    analysed = analyse_dish(parsed.tree, Context(Settings(), builtin()))
    assert [finding.slug for finding in (*parsed.findings, *analysed.findings)] == []
    factor = factor_for(analysed.value, None, wanted)
    assert isinstance(factor, F)
    scaled = scale(analysed.value, factor)
    found = [scaled.amount(use) for use in analysed.value.uses]
    grams = [much.terms[0].base_high for much in found if much is not None]
    assert [round(part, 2) for part in grams[1:]] == [F("11220.53"), F("334.94"), F("167.47")]
    assert round(grams[0]) == 16747
    assert sum(grams) == 28470


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
