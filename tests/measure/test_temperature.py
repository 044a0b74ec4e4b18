"""Oven dials, fan, gas and cores."""

from __future__ import annotations

from fractions import Fraction as F

import pytest

from recipec.measure.show import show_equivalents, show_temperature
from recipec.measure.temperature import OvenSetting, Scale, celsius, dial_rows, gas_mark, gas_to_celsius, nearest


def test_dials_go_there_and_back() -> None:
    for row in dial_rows():
        there = OvenSetting(row.celsius, Scale.C).equivalents()
        back = OvenSetting(row.fahrenheit, Scale.F).equivalents()
        assert there is not None and there.fahrenheit == row.fahrenheit
        assert back is not None and back.celsius == row.celsius
        if row.gas is not None:
            gas = OvenSetting(row.gas, Scale.GAS).equivalents()
            assert gas is not None and (gas.celsius, gas.fahrenheit) == (row.celsius, row.fahrenheit)
        # A dial value is never far from the exact one.
        assert abs(celsius(row.fahrenheit, Scale.F, oven=True) - row.celsius) <= F(7)  # type: ignore[operator]


def test_fan_is_twenty_below() -> None:
    assert celsius(F(160), Scale.C, oven=True, fan=True) == 180
    assert OvenSetting(F(180), Scale.C).equivalents().fan == 160  # type: ignore[union-attr]


def test_fan_and_gas_are_an_ovens_only() -> None:
    assert celsius(F(4), Scale.GAS, oven=False) is None
    assert celsius(F(160), Scale.C, oven=False, fan=True) is None
    assert celsius(F(-300), Scale.C, oven=False) is None


def test_gas_marks_that_no_cooker_has() -> None:
    assert gas_to_celsius(F(11)) is None
    assert gas_to_celsius(F(1, 8)) is None
    assert gas_mark(F(60)) is None
    assert show_equivalents(F(11), "gas") == ""
    assert show_temperature(F(11), scale="gas", oven=True, measures="metric") == "gas\u00a011"


@pytest.mark.parametrize(
    ("value", "scale", "oven", "fan", "measures", "text"),
    [
        (180, "C", True, False, "us", "350 °F"),
        (350, "F", True, False, "metric", "180 °C"),
        (160, "C", True, True, "as written", "160 °C fan"),
        (160, "C", True, True, "us", "325 °F fan"),
        (4, "gas", True, False, "metric", "180 °C"),
        (4, "gas", True, False, "as written", "gas 4"),
        (F(1, 2), "gas", True, False, "as written", "gas ½"),
        # Pairs as the FDA Food Code prints them (3-401.11, 3-501.16).
        (63, "C", False, False, "us", "145 °F"),
        (68, "C", False, False, "us", "155 °F"),
        (74, "C", False, False, "us", "165 °F"),
        (135, "F", False, False, "metric", "57 °C"),
        (41, "F", False, False, "metric", "5 °C"),
        # Sugar is no oven: to the degree.
        (121, "C", False, False, "us", "250 °F"),
        (-18, "C", False, False, "as written", "−18 °C"),
    ],
)
def test_shown(value: F, scale: str, oven: bool, fan: bool, measures: str, text: str) -> None:
    shown = show_temperature(F(value), scale=scale, oven=oven, fan=fan, measures=measures)
    assert shown == text.replace(" °", "\u00a0°").replace("gas ", "gas\u00a0")


def test_ranges_and_equivalents() -> None:
    assert show_temperature(F(63), F(65)) == "63–65\u00a0°C"
    assert show_equivalents(F(180), "C").replace("\u00a0", " ") == "180 °C, 160 °C fan, 350 °F, gas 4"
    assert show_equivalents(F(70), "C").replace("\u00a0", " ") == "70 °C, 50 °C fan, 160 °F"


def test_halves_round_away_from_zero() -> None:
    assert [nearest(F(5, 2), 1), nearest(F(-5, 2), 1), nearest(F(7, 3), 1)] == [3, -3, 2]
