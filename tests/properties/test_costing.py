"""Money adds up: every total of a costing sheet is the sum of its lines, to the coin, whatever is cooked and bought."""

from __future__ import annotations

from decimal import Decimal
from fractions import Fraction

from hypothesis import given, settings
from hypothesis import strategies as st

from recipec.model.dish import Dish
from recipec.model.prices import Price
from recipec.model.settings import Settings
from recipec.plan.costing import cost_event
from tests.plan.make import Ordered, amount, book, event, price, stocked
from tests.properties.test_plan import dishes

_LARDER = stocked()
_ITEMS = st.sampled_from(["egg", "carrot", "lemon", "flour", "salt", "oil", "milk", "squash"])
_PACKS = st.builds(
    amount,
    st.fractions(min_value=Fraction(1, 4), max_value=900, max_denominator=8),
    st.sampled_from(["g", "kg", "ml", "piece", "bunch"]),
)
_MONEY = st.integers(0, 50_000).map(lambda tenths: f"{Decimal(tenths) / 1000}")
_PRICES = st.lists(st.builds(price, _ITEMS, _PACKS, _MONEY, st.sampled_from(["Quay Stores", "Hill Farm"])), max_size=12)
_QUOTAS = st.fractions(min_value=0, max_value=Fraction(1, 4), max_denominator=200)


@settings(deadline=None, max_examples=60)
@given(dishes(), _PRICES, _QUOTAS, st.integers(1, 30))
def test_totals_are_the_sums_of_their_lines(
    made: tuple[Dish, ...], prices: list[Price], quota: Fraction, guests: int
) -> None:
    orders = tuple(Ordered(one.key) for one in made)
    supper = event("supper", *orders, guests=guests)
    found = cost_event(book(made, [supper], prices, Settings(seasoning=quota)), _LARDER, "supper")
    assert sum(one.used.value for one in found.dishes) == found.used.value
    assert sum(one.seasoning.value for one in found.dishes) == found.seasoning.value
    assert found.total.value == found.used.value + found.seasoning.value
    assert sum(item.till.value for item in found.items if item.till) == found.till.value
    assert sum(item.used.value for item in found.items if item.used) == found.used.value
    for one in (*found.dishes, *found.components):
        assert sum(line.cost.value for line in one.lines if line.cost) == one.used.value
        assert one.total.value == one.used.value + one.seasoning.value
    # What is eaten was paid for.
    assert found.used.value <= found.till.value + Decimal("0.01")
