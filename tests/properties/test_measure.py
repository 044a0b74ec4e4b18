"""Laws of amounts: scaling, sums, and what people are shown."""

from __future__ import annotations

import re
from fractions import Fraction as F

from hypothesis import given, settings
from hypothesis import strategies as st

from recipec.measure.convert import Unconvertible, convert
from recipec.measure.quantity import Amount, Dimension, Quantity, Tally, one, quantity
from recipec.measure.rounding import EXEMPT_BELOW, bound, within
from recipec.measure.show import Style, shopping, show_amount, show_duration
from recipec.measure.temperature import celsius_to_fahrenheit, fahrenheit_to_celsius
from recipec.measure.units import NOMINAL, keys, unit

FACTORS = st.fractions(min_value=F(1, 50), max_value=50, max_denominator=1000)
NUMBERS = st.fractions(min_value=F(1, 100), max_value=5000, max_denominator=500)
WEIGHED = (Dimension.MASS, Dimension.VOLUME, Dimension.COUNT)
UNITS = st.sampled_from([unit(key) for key in keys() if unit(key).dimension in WEIGHED])
STYLES = st.sampled_from([Style(), Style("metric"), Style("us")])
AMOUNTS = st.builds(lambda number, of: one(quantity(number, of)), NUMBERS, UNITS)

# A decimal before a counted thing or a spoon, or millilitres that no jug is marked with.
FORBIDDEN = re.compile(r"\d\.\d+\u00a0(?!g\b|kg\b|ml\b|l\b|dl\b|cl\b)|\d{2}[1-46-9]\u00a0ml\b|^\d+\.\d+$")


@given(AMOUNTS)
def test_by_one_nothing_changes(amount: Amount) -> None:
    assert amount.scaled(F(1)) == amount


@given(AMOUNTS, FACTORS, FACTORS)
def test_by_a_then_b_is_by_ab(amount: Amount, a: F, b: F) -> None:
    assert amount.scaled(a).scaled(b) == amount.scaled(a * b)


@given(st.lists(AMOUNTS, max_size=6), st.randoms(use_true_random=False))
def test_sums_ignore_order(amounts: list[Amount], random: object) -> None:
    def total(order: list[Amount]) -> tuple[tuple[str, F, F], ...]:
        tally = Tally()
        for amount in order:
            tally = tally.add(amount)
        return tuple((part.unit.kind, part.base_low, part.base_high) for part in tally.quantities())

    shuffled = list(amounts)
    random.shuffle(shuffled)  # type: ignore[attr-defined]
    assert total(amounts) == total(shuffled)


@given(AMOUNTS, FACTORS)
def test_a_scaled_sum_is_the_sum_of_the_scaled(amount: Amount, factor: F) -> None:
    twice = Tally().add(amount).add(amount).quantities()
    scaled = Tally().add(amount.scaled(factor)).add(amount.scaled(factor)).quantities()
    assert tuple(part.scaled(factor) for part in twice) == scaled


@settings(max_examples=400, deadline=None)
@given(NUMBERS, UNITS, STYLES, st.booleans(), st.booleans())
def test_shown_amounts_keep_their_bound(number: F, of: object, style: Style, strict: bool, whole: bool) -> None:
    assert not isinstance(of, str)
    exact = quantity(number, of)  # type: ignore[arg-type]
    each, density = F(53), F(6, 5)
    shown = show_amount(
        one(exact), style, strict=strict, density=density, each=each, rest="beaten egg" if whole else ""
    )
    assert shown.high is not None
    assert not FORBIDDEN.search(shown.text), shown.text
    assert shown.rounded == (shown.high != exact.base_high)
    dimension = exact.unit.dimension
    grams = exact.base_high * {Dimension.MASS: F(1), Dimension.VOLUME: density}.get(dimension, each)
    if (
        exact.unit.name not in NOMINAL
        and min(grams, exact.base_high * (1 if dimension is not Dimension.COUNT else 1000)) >= EXEMPT_BELOW
    ):
        assert within(shown.high, exact.base_high, bound(strict)), shown.text


@given(NUMBERS, NUMBERS, UNITS, STYLES)
def test_ranges_never_run_down(low: F, more: F, of: object, style: Style) -> None:
    shown = show_amount(one(quantity(low, of, low + more)), style, each=F(50))  # type: ignore[arg-type]
    assert shown.low is not None and shown.high is not None
    assert shown.low <= shown.high


@given(AMOUNTS, STYLES)
def test_nothing_is_shown_as_nothing(amount: Amount, style: Style) -> None:
    shown = show_amount(amount, style, each=F(50), density=F(1))
    assert not re.match(r"(about )?0(\u00a0|$)", shown.text), shown.text


@given(AMOUNTS, STYLES)
def test_shopping_buys_enough_and_not_much_more(amount: Amount, style: Style) -> None:
    need = amount.terms[0]
    bought = shopping(need, style)
    assert bought.high is not None
    assert bought.high >= need.base_high
    assert bought.high <= need.base_high * 2 + 30


@given(NUMBERS, UNITS, UNITS, st.fractions(min_value=F(1, 10), max_value=3), FACTORS)
def test_there_and_back_is_the_same(number: F, of: object, to: object, density: F, each: F) -> None:
    start = quantity(number, of)  # type: ignore[arg-type]
    there = convert(start, to, density, each)  # type: ignore[arg-type]
    if isinstance(there, Quantity):
        assert convert(there, start.unit, density, each) == start
    else:
        assert isinstance(there, Unconvertible)


@given(st.fractions(min_value=-273, max_value=1000))
def test_fahrenheit_and_back(value: F) -> None:
    assert fahrenheit_to_celsius(celsius_to_fahrenheit(value)) == value


@given(st.integers(min_value=1, max_value=40 * 86400), st.integers(min_value=0, max_value=86400))
def test_durations_say_all_of_it(low: int, more: int) -> None:
    sizes = {
        "s": 1,
        "min": 60,
        "h": 3600,
        "d": 86400,
        "week": 604800,
        "weeks": 604800,
        "month": 2592000,
        "months": 2592000,
    }
    text = show_duration(low)
    said = sum(int(number) * sizes[name] for number, name in re.findall(r"(\d+)\u00a0(\w+)", text))
    assert low <= said < low + 60
    assert show_duration(low, low + more)
