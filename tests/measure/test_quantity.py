"""Exact amounts and their sums."""

from __future__ import annotations

from fractions import Fraction as F
from itertools import permutations

import pytest

from recipec.measure.quantity import Amount, Dimension, Tally, Unit, one, quantity
from recipec.measure.units import unit

G, KG, LB = unit("g"), unit("kg"), unit("lb")
CUP, TBSP = unit("us_cup"), unit("us_tbsp")
CLOVE, PIECE, TIN = unit("clove"), unit("piece"), unit("tin")


def test_a_third_of_a_cup_three_times_is_one_cup() -> None:
    third = one(quantity(F(1, 3), CUP))
    (total,) = Tally().add(third).add(third).add(third).quantities()
    assert total == quantity(1, CUP)


def test_compound_amounts_add_in_their_finer_unit() -> None:
    amount = Amount((quantity(1, CUP), quantity(2, TBSP)))
    assert amount.total() == quantity(18, TBSP)
    assert amount.scaled(F(1, 2)).total() == quantity(9, TBSP)


def test_terms_of_two_kinds_have_no_total() -> None:
    assert Amount((quantity(1, CUP), quantity(2, G))).total() is None
    assert Amount(()).total() is None


def test_another_kind_is_refused() -> None:
    with pytest.raises(ValueError, match="clove"):
        quantity(3, CLOVE).to(PIECE)
    assert quantity(1, KG).to(G) == quantity(1000, G)


def test_counted_units_are_kinds_of_their_own() -> None:
    tally = Tally().add(one(quantity(3, CLOVE))).add(one(quantity(1, PIECE))).add(one(quantity(2, CLOVE)))
    assert tally.quantities() == (quantity(5, CLOVE), quantity(1, PIECE))


def test_containers_keep_apart_by_content_and_sum_by_it() -> None:
    small = Amount((quantity(2, TIN),), each=quantity(400, G))
    large = Amount((quantity(1, TIN),), each=quantity(F(4, 5), KG))
    tally = Tally().add(small).add(large)
    assert len(tally.amounts()) == 2
    assert tally.quantities() == (quantity(1600, G),)
    assert small.contents() == quantity(800, G)
    assert one(quantity(1, TIN)).contents() is None


def test_sizes_keep_apart() -> None:
    large = Amount((quantity(2, PIECE),), size="large")
    assert len(Tally().add(large).add(one(quantity(1, PIECE))).amounts()) == 2


def test_ranges_keep_both_ends() -> None:
    (total,) = Tally().add(one(quantity(2, G, 3))).add(one(quantity(1, KG))).quantities()
    assert total == quantity(1002, G, 1003)
    assert total.is_range


def test_the_order_of_adding_never_shows() -> None:
    amounts = [one(quantity(1, LB)), one(quantity(200, G)), one(quantity(1, CUP)), one(quantity(3, CLOVE))]
    tallies = set()
    for order in permutations(amounts):
        tally = Tally()
        for amount in order:
            tally = tally.add(amount)
        tallies.add(tally)
    assert len(tallies) == 1


def test_two_sums_together() -> None:
    left, right = Tally().add(one(quantity(1, KG))), Tally().add(one(quantity(5, G)))
    assert left.plus(right).quantities() == (quantity(1005, G),)


def test_a_unit_knows_its_kind() -> None:
    assert Unit("x", Dimension.MASS, F(2)).kind == "mass"
    assert CLOVE.kind == "clove"
