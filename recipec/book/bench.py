"""A sum at the bench: an amount in another unit, a temperature on another dial."""

from __future__ import annotations

import re
from fractions import Fraction

from recipec.analyse.context import Context
from recipec.book.bench_amount import amount_sum
from recipec.book.bench_types import Answer, NoAnswer, Side
from recipec.measure.numerals import NO_BREAK, decimal
from recipec.measure.show_reading import show_temperature
from recipec.measure.temperature import (
    ABSOLUTE_ZERO,
    OvenSetting,
    Scale,
    celsius_to_fahrenheit,
    fahrenheit_to_celsius,
    oven_fahrenheit,
)

_NUMBER = r"(?P<number>[-−]?\d+(?:[.]\d+|\s*/\s*\d+|\s+\d+\s*/\s*\d+)?)"
_DEGREES = re.compile(rf"{_NUMBER}\s*°?\s*(?P<scale>[CF])(?P<fan>\s+fan)?", re.IGNORECASE)
_GAS = re.compile(rf"gas\s*(?:mark\s*)?{_NUMBER}", re.IGNORECASE)
_DIAL = re.compile(
    r"(?:°?\s*(?P<scale>[CF])(?P<fan>\s+fan)?|(?P<gas>gas)(?:\s+mark)?|(?P<bare_fan>fan))", re.IGNORECASE
)


def bench_sum(amount: str, to: str, of: str | None, context: Context) -> Answer | NoAnswer:
    """`1 1/2 cups` to `g` of `flour`; `180 C` to `gas`. `context` gives the region of bare cups and what is known of foods."""
    dial = _DIAL.fullmatch(to.strip())
    setting = _setting(amount.strip())
    if setting is not None or dial is not None:
        if setting is None or dial is None:
            odd = to if dial is None else amount
            return NoAnswer(
                f"{odd!r} is no temperature, and the other side is one.", "Write both so: 180 C, 350 F, gas 4."
            )
        if dial["bare_fan"]:
            # `200 C` on a fan oven: in the same degrees.
            return _temperature(setting, Scale.F if setting.scale is Scale.F else Scale.C, fan=True)
        return _temperature(setting, _scale(dial), fan=bool(dial["fan"]))
    return amount_sum(amount, to, of, context)


# ---------------------------------------------------------------- temperatures


def _setting(text: str) -> OvenSetting | None:
    gas = _GAS.fullmatch(text)
    if gas is not None:
        value = _number(gas["number"])
        return None if value is None else OvenSetting(value, Scale.GAS)
    degrees = _DEGREES.fullmatch(text)
    if degrees is None:
        return None
    value = _number(degrees["number"])
    return None if value is None else OvenSetting(value, Scale(degrees["scale"].upper()), bool(degrees["fan"]))


def _scale(dial: re.Match[str]) -> Scale:
    return Scale.GAS if dial["gas"] else Scale(dial["scale"].upper())


def _number(text: str) -> Fraction | None:
    parts = re.sub(r"\s*/\s*", "/", text.replace("−", "-")).split()
    try:
        return sum((Fraction(part) for part in parts), Fraction())
    except ZeroDivisionError:
        return None


def _temperature(setting: OvenSetting, to: Scale, *, fan: bool) -> Answer | NoAnswer:
    given = Side(
        setting.value, _degree(setting.scale), show_temperature(setting.value, None, setting.scale, fan=setting.fan)
    )
    exact = _celsius(setting)
    if exact is not None and exact < ABSOLUTE_ZERO:
        return NoAnswer(f"Nothing is as cold as {given.text}.", "Check the figure.")
    dials = setting.equivalents()
    # Fan and gas belong to ovens, so such a sum goes by the dials; any other is the plain sum.
    if setting.fan or fan or Scale.GAS in (setting.scale, to):
        if dials is None:
            return NoAnswer(f"No cooker has {given.text}.", "Marks go from ¼ to 10.")
        on_dial = dials.gas if to is Scale.GAS else dials.celsius if to is Scale.C else dials.fahrenheit
        if on_dial is None:
            return NoAnswer(f"No gas mark comes near {given.text}.", "Marks go from ¼ to 10, 110 to 260 °C.")
        if fan:
            on_dial = dials.fan if to is Scale.C else oven_fahrenheit(dials.fan)
        text = show_temperature(on_dial, None, to, oven=True, fan=fan)
        return Answer(given, Side(on_dial, _degree(to), text), "an oven's dial")
    assert exact is not None, "only a gas mark has no degrees"
    value = exact if to is Scale.C else celsius_to_fahrenheit(exact)
    whole = Fraction(round(value))
    text = f"{'about ' if whole != value else ''}{decimal(whole)}{NO_BREAK}{_degree(to)}"
    via = "the plain sum"
    if dials is not None and exact >= 100 and to is not setting.scale:
        on_dial = dials.celsius if to is Scale.C else dials.fahrenheit
        via += f"; an oven's dial for it is {decimal(on_dial)}{NO_BREAK}{_degree(to)}"
    return Answer(given, Side(value, _degree(to), text), via)


def _celsius(setting: OvenSetting) -> Fraction | None:
    if setting.scale is Scale.GAS:
        return None
    return setting.value if setting.scale is Scale.C else fahrenheit_to_celsius(setting.value)


def _degree(scale: Scale) -> str:
    return "gas" if scale is Scale.GAS else f"°{scale.value}"
