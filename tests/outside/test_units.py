"""Unit factors against other people's figures: scipy.constants (CODATA and NIST), and Debian's GNU units."""

from __future__ import annotations

import os
import shutil
import subprocess
from fractions import Fraction as F

import pytest
from scipy import constants

from recipec.measure.temperature import Scale, celsius, celsius_to_fahrenheit, fahrenheit_to_celsius, gas_to_celsius
from recipec.measure.units import unit

EXACT = [
    # scipy.constants, in SI units (m³, kg, m, s); ours in ml, g, mm, s.
    ("us_gallon", constants.gallon_US, 1e6),
    ("us_floz", constants.fluid_ounce_US, 1e6),
    ("uk_gallon", constants.gallon_imp, 1e6),
    ("uk_floz", constants.fluid_ounce_imp, 1e6),
    ("l", constants.liter, 1e6),
    ("lb", constants.lb, 1e3),
    ("oz", constants.oz, 1e3),
    ("inch", constants.inch, 1e3),
    ("min", constants.minute, 1),
    ("h", constants.hour, 1),
    ("d", constants.day, 1),
    ("week", constants.week, 1),
]


@pytest.mark.parametrize(("key", "theirs", "scale"), EXACT)
def test_exact_factors(key: str, theirs: float, scale: float) -> None:
    assert float(unit(key).factor) == pytest.approx(theirs * scale, rel=1e-12)


def test_figures_as_published() -> None:
    # NIST Handbook 44 Appendix C; UK Weights and Measures Act 1985, Schedule 1.
    assert unit("us_cup").factor == F("236.5882365")
    assert unit("us_floz").factor == F("29.5735295625")
    assert unit("us_tbsp").factor * 16 == unit("us_tsp").factor * 48 == unit("us_cup").factor
    assert unit("uk_pint").factor == F("568.26125")
    assert unit("uk_floz").factor == F("28.4130625")
    assert unit("lb").factor == F("453.59237")


def test_temperatures_against_scipy() -> None:
    for value in (-40, 0, 63, 74, 100, 180, 250):
        theirs = constants.convert_temperature(value, "Celsius", "Fahrenheit")
        assert float(celsius_to_fahrenheit(F(value))) == pytest.approx(theirs, rel=1e-12)
        assert float(fahrenheit_to_celsius(F(value))) == pytest.approx(
            constants.convert_temperature(value, "Fahrenheit", "Celsius"), rel=1e-12
        )


def gnu(source: str, target: str) -> float:
    """GNU units' own answer, regardless of the locale."""
    program = shutil.which("units")
    if program is None:
        if os.environ.get("CI") == "true":
            pytest.fail("GNU units is not installed, and CI must have it")
        pytest.skip("GNU units is not installed (apt-get install units)")
    answer = subprocess.run(
        [program, "--terse", "--output-format", "%.14g", source, target],
        capture_output=True,
        text=True,
        check=True,
        env={"PATH": os.environ.get("PATH", ""), "LC_ALL": "C"},
    )
    return float(answer.stdout)


@pytest.mark.parametrize(
    ("key", "theirs"),
    [
        ("us_cup", "uscup"),
        ("us_tbsp", "ustablespoon"),
        ("us_tsp", "usteaspoon"),
        ("us_floz", "usfluidounce"),
        ("us_pint", "uspint"),
        ("us_gill", "usgill"),
        ("us_quart", "usquart"),
        ("us_gallon", "usgallon"),
        ("uk_cup", "brcup"),
        ("uk_floz", "brfluidounce"),
        ("uk_pint", "brpint"),
        ("uk_gill", "brgill"),
        ("uk_quart", "brquart"),
        ("uk_gallon", "brgallon"),
        ("metric_cup", "metriccup"),
        ("metric_tbsp", "brtablespoon"),
        ("metric_tsp", "brteaspoon"),
        ("au_tbsp", "australiatablespoon"),
    ],
)
def test_volumes_against_gnu_units(key: str, theirs: str) -> None:
    assert float(unit(key).factor) == pytest.approx(gnu(theirs, "ml"), rel=1e-12)


@pytest.mark.parametrize(
    ("key", "theirs", "base"),
    [
        ("butter_stick", "stickbutter", "g"),
        ("lb", "lb", "g"),
        ("oz", "oz", "g"),
        ("inch", "inch", "mm"),
        ("week", "week", "s"),
    ],
)
def test_others_against_gnu_units(key: str, theirs: str, base: str) -> None:
    assert float(unit(key).factor) == pytest.approx(gnu(theirs, base), rel=1e-12)


@pytest.mark.parametrize("mark", ["1|4", "1|2", "1", "2", "3", "4", "5", "6", "7", "8", "9", "10"])
def test_gas_marks_against_gnu_units(mark: str) -> None:
    theirs = gnu(f"gasmark({mark})", "tempC")
    ours = gas_to_celsius(F(mark.replace("|", "/")))
    assert ours is not None
    assert ours == celsius(F(mark.replace("|", "/")), Scale.GAS, oven=True)
    assert float(ours) == pytest.approx(theirs, abs=1e-6)
