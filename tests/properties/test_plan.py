"""Laws of the plan: by 1 nothing changes, by a then b is by ab, and no total depends on an order."""

from __future__ import annotations

from fractions import Fraction

from hypothesis import given, settings
from hypothesis import strategies as st

from recipec.model.dish import Dish, Flag
from recipec.model.event import Course
from recipec.plan.demand import Ask, demand
from recipec.plan.market import market
from recipec.plan.scale import scale
from tests.changed import replace
from tests.plan.make import Mark, Ordered, amount, book, buy, dish, event, our, price, stocked

_FACTORS = st.fractions(min_value=Fraction(1, 50), max_value=50, max_denominator=60)
_NUMBERS = st.fractions(min_value=Fraction(1, 48), max_value=2000, max_denominator=48)
_FOODS = st.sampled_from(["egg", "carrot", "lemon", "flour", "salt", "oil", "milk", "squash", "wonder dust"])
_UNITS = st.sampled_from(["g", "kg", "ml", "us_cup", "metric_tbsp", "piece", "bunch", "pinch"])
_FLAGS = st.sampled_from([(), (), (), (Flag.FIXED,), (Flag.TO_TASTE,), (Flag.OPTIONAL,), (Flag.PER_PLATE,)])
_LARDER = stocked()


@st.composite
def marks(draw: st.DrawFn) -> Mark:
    name = draw(_FOODS)
    low = draw(_NUMBERS)
    high = low + draw(st.sampled_from([Fraction(0), Fraction(0), Fraction(1, 2)]))
    part = draw(st.sampled_from([None, None, "zest", "juice"])) if name == "lemon" else None
    before = ("peeled",) if name == "squash" and draw(st.booleans()) else ()
    return buy(name, name, amount(low, draw(_UNITS), high), flags=draw(_FLAGS), part=part, before=before)


@st.composite
def dishes(draw: st.DrawFn) -> tuple[Dish, ...]:
    """A few dishes, each of which may take the ones after it."""
    number = draw(st.integers(1, 4))
    found = []
    for place in range(number):
        own = draw(st.lists(marks(), min_size=1, max_size=4))
        if place + 1 < number:
            later = draw(st.integers(place + 1, number - 1))
            own.append(
                our(
                    f"our d{later}",
                    f"d{later}",
                    f"d{later}",
                    draw(st.none() | st.builds(amount, _NUMBERS, st.just("ml"))),
                )
            )
        serves, whole = draw(st.integers(1, 12)), draw(st.booleans())
        found.append(dish(f"d{place}", *own, serves=serves, makes=amount(1, "l"), whole_batches=whole, larder=_LARDER))
    return tuple(found)


@settings(deadline=None)
@given(dishes())
def test_by_one_nothing_changes(made: tuple[Dish, ...]) -> None:
    for one in made:
        same = scale(one, Fraction(1))
        for use in one.uses:
            if Flag.PER_PLATE not in use.flags:
                assert same.amount(use) == use.amount


@settings(deadline=None)
@given(dishes(), _FACTORS, _FACTORS)
def test_by_a_then_b_is_by_ab(made: tuple[Dish, ...], a: Fraction, b: Fraction) -> None:
    for one in made:
        twice, once = scale(one, a).by(b), scale(one, a * b)
        assert twice.makes() == once.makes()
        assert [twice.amount(use) for use in one.uses] == [once.amount(use) for use in one.uses]


@settings(deadline=None)
@given(dishes(), st.data())
def test_totals_ignore_the_order_of_dishes_and_events(made: tuple[Dish, ...], data: st.DataObject) -> None:
    events = tuple(
        event(f"e{place}", *(Ordered(one.key) for one in data.draw(st.permutations(made))), guests=3 + place)
        for place in range(3)
    )
    prices = (price("egg", amount(6), "2.70"), price("salt", amount(1, "kg"), "1.05"))
    straight = book(made, events, prices)
    shuffled = replace(
        straight,
        dishes=tuple(data.draw(st.permutations(straight.dishes))),
        events=tuple(replace(one, courses=tuple(_turned(one.courses))) for one in reversed(straight.events)),
    )
    keys = [one.key for one in events]
    assert market(straight, _LARDER, keys) == market(shuffled, _LARDER, data.draw(st.permutations(keys)))


def _turned(courses: tuple[Course, ...]) -> list[Course]:
    return [replace(course, orders=course.orders[::-1]) for course in courses]


@settings(deadline=None)
@given(dishes(), _FACTORS, _FACTORS)
def test_demand_is_a_sum(made: tuple[Dish, ...], a: Fraction, b: Fraction) -> None:
    """Asked for twice or once for both: the same runs, as long as batches are not rounded."""
    loose = book([replace(one, whole_batches=False) for one in made])
    apart = demand(loose, _LARDER, [Ask("d0", a), Ask("d0", b)])
    assert apart == demand(loose, _LARDER, [Ask("d0", a + b)])


@settings(deadline=None)
@given(dishes())
def test_the_market_never_buys_less_than_is_asked_for(made: tuple[Dish, ...]) -> None:
    """Lines whose askers all use one unit must come to their sum, or more where trimming takes some away."""
    supper = event("supper", *(Ordered(one.key) for one in made), guests=7)
    for line in market(book(made, [supper]), _LARDER, ["supper"]).lines:
        asked = [ask.amount for ask in line.asked_by if ask.amount is not None]
        units = {term.unit for much in asked for term in much.terms}
        if len(units) == 1 and line.item != "lemon":
            total = sum((term.high for much in asked for term in much.terms), Fraction(0))
            assert sum((term.high for much in line.need for term in much.terms), Fraction(0)) >= total
