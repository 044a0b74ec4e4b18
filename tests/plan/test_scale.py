"""Scaling: what grows, what does not, and by how much."""

from __future__ import annotations

from fractions import Fraction

import pytest

from recipec.measure.quantity import Amount, quantity
from recipec.measure.units import unit
from recipec.model.dish import Basis, Dish, Flag
from recipec.plan.scale import Reason, Unscalable, factor_for, scale
from tests.plan.make import amount, buy, dish


def scaled(of: Dish, factor: int, number: int = 0, plates: Fraction | None = None) -> Amount | None:
    return scale(of, Fraction(factor), plates).amount(of.uses[number])


def test_plain_amounts_grow() -> None:
    assert scaled(dish("a", buy("1/3 cup milk", "milk", amount("1/3", "us_cup"))), 3) == amount(1, "us_cup")


@pytest.mark.parametrize(
    "mark",
    [
        buy("1 bay leaf, fixed", "bay leaf", amount(1), flags=(Flag.FIXED,)),
        buy("5 g salt, to taste", "salt", amount(5, "g"), flags=(Flag.TO_TASTE,)),
        buy("a pinch of salt", "salt", amount(1, "pinch")),
        buy("30 ml oil, for frying", "oil", amount(30, "ml"), after=("for frying",)),
    ],
)
def test_what_does_not_grow(mark: object) -> None:
    one = dish("a", mark)  # type: ignore[arg-type]
    assert scaled(one, 5) == one.uses[0].amount


def test_a_handful_grows() -> None:
    assert scaled(dish("a", buy("a handful of parsley", "parsley", amount(1, "handful"))), 5) == amount(5, "handful")


def test_per_plate_goes_by_plates_and_not_by_the_factor() -> None:
    crumb = dish("a", buy("30 g crumb per plate", "crumb", amount(30, "g"), flags=(Flag.PER_PLATE,)), serves=4)
    assert scaled(crumb, 1) == amount(120, "g")
    assert scaled(crumb, 2) == amount(240, "g")
    assert scaled(crumb, 2, plates=Fraction(7)) == amount(210, "g")


def test_per_plate_without_plates_is_unknown_not_nothing() -> None:
    crumb = dish("a", buy("30 g crumb per plate", "crumb", amount(30, "g"), flags=(Flag.PER_PLATE,)), serves=None)
    assert scaled(crumb, 2) is None


def test_a_percentage_follows_its_thing_even_when_that_is_fixed() -> None:
    basis = Basis("duck leg", Fraction(2), None, None)
    cured = dish(
        "a",
        buy("1 kg duck legs, fixed", "duck leg", amount(1, "kg"), thing="duck leg", flags=(Flag.FIXED,)),
        buy("salt, 2% of the duck legs", "salt", amount(20, "g"), basis=basis),
    )
    assert scaled(cured, 3, 1) == amount(20, "g")


def test_factor_by_plates() -> None:
    assert factor_for(dish("a", serves=4), Fraction(6), None) == Fraction(3, 2)


def test_factor_by_amount_in_another_unit_of_the_kind() -> None:
    stock = dish("stock", serves=None, makes=amount("1.4", "l"))
    assert factor_for(stock, None, amount(350, "ml")) == Fraction(1, 4)


def test_factor_by_plates_of_what_is_made_by_volume() -> None:
    soup = dish("soup", serves=None, makes=amount("1.2", "l"), plate=quantity(200, unit("ml")))
    assert factor_for(soup, Fraction(9), None) == Fraction(3, 2)
    assert factor_for(soup, None, amount(3, "plate")) == Fraction(1, 2)


def test_one_full_yield_when_nothing_is_said() -> None:
    assert factor_for(dish("a", serves=None), None, None) == 1


def test_what_cannot_be_scaled_says_why() -> None:
    assert factor_for(dish("a", serves=None), Fraction(2), None) == Unscalable("a", Reason.NO_PLATES)
    assert factor_for(dish("a"), None, amount(1, "kg")) == Unscalable("a", Reason.NO_YIELD)
    assert factor_for(dish("a", makes=amount(1, "l")), None, amount(1, "kg")) == Unscalable("a", Reason.OTHER_UNIT)


def test_no_dish_is_made_no_times() -> None:
    with pytest.raises(ValueError, match="0 times"):
        scale(dish("a"), Fraction(0))
