"""Durations, lengths and temperatures in words."""

from __future__ import annotations

from fractions import Fraction

from recipec.measure.language import ENGLISH, Language
from recipec.measure.numerals import NO_BREAK, decimal, mixed, span
from recipec.measure.quantity import Quantity
from recipec.measure.rounding import EIGHTHS, by_parts
from recipec.measure.temperature import (
    FAN_BELOW,
    OvenSetting,
    Scale,
    food_degrees,
    nearest,
    oven_fahrenheit,
)
from recipec.measure.units import unit
from recipec.measure.wording import word

_MINUTE, _HOUR, _DAY, _WEEK, _MONTH = (int(unit(key).factor) for key in ("min", "h", "d", "week", "month"))


def show_duration(low: Fraction | int, high: Fraction | int | None = None, tongue: Language = ENGLISH) -> str:
    """Seconds as a cook says them: `90 s`, `7–10 min`, `1 h 30 min`, `2 d`. Parts of a second, and of a minute past ten
    minutes, are rounded up; whole minutes are kept to the letter."""
    first, last = _parts(_whole(Fraction(low))), _parts(_whole(Fraction(low if high is None else high)))
    if first == last:
        return _text(last, tongue)
    if len(first) == len(last) == 1 and first[0][1] == last[0][1]:
        return f"{first[0][0]}–{_text(last, tongue)}"
    return span(_text(first, tongue), _text(last, tongue))


def _whole(seconds: Fraction) -> int:
    up = -int(-seconds // 1)
    return up if up < 10 * _MINUTE or up % _MINUTE == 0 else -(-up // _MINUTE) * _MINUTE


def _parts(seconds: int) -> list[tuple[int, str]]:
    for size, key, least in ((_MONTH, "month", 1), (_WEEK, "week", 2), (_DAY, "d", 1)):
        if seconds >= least * size and seconds % size == 0:
            return [(seconds // size, key)]
    # 90 s and 36 h are said so; past that the larger unit leads.
    if seconds < 2 * _MINUTE and seconds % _MINUTE:
        return [(seconds, "s")]
    if seconds < 2 * _DAY and seconds % _HOUR == 0 and seconds:
        return [(seconds // _HOUR, "h")]
    found: list[tuple[int, str]] = []
    for size, key in ((_DAY, "d"), (_HOUR, "h"), (_MINUTE, "min"), (1, "s")):
        number, seconds = divmod(seconds, size)
        if number:
            found.append((number, key))
    return found or [(0, "s")]


def _text(parts: list[tuple[int, str]], tongue: Language) -> str:
    return " ".join(f"{number}{NO_BREAK}{word(key, tongue.many(number), tongue)}" for number, key in parts)


def show_length(length: Quantity, measures: str = "as written", tongue: Language = ENGLISH) -> str:
    """`5 mm`, `20 cm`, `¾ in`. Inches in eighths; metric to a tenth of a millimetre, or of a centimetre from 10 cm on."""
    inches = measures == "us" or (measures == "as written" and length.unit.name == "inch")
    ends = (length.base_low, length.base_high)
    if inches:
        inch = unit("inch").factor
        numbers = [mixed(by_parts(end / inch, EIGHTHS)) for end in ends]
        key = "inch"
    else:
        key = length.unit.name if length.unit.name != "inch" else ("cm" if ends[1] >= 10 else "mm")
        size = unit(key).factor
        step = Fraction(1, 100) if key == "m" else Fraction(1, 10)
        numbers = [decimal(nearest(end / size, step), tongue.mark) for end in ends]
    return f"{span(*numbers)}{NO_BREAK}{word(key, False, tongue)}"


def show_temperature(
    low: Fraction,
    high: Fraction | None = None,
    scale: Scale | str = Scale.C,
    *,
    oven: bool = False,
    fan: bool = False,
    measures: str = "as written",
    tongue: Language = ENGLISH,
) -> str:
    """`180 °C`, `160 °C fan`, `gas 4`, `63–65 °C`.

    In metric or us measures an oven goes by its dial (350 °F is 180 °C; gas and fan become what the dial shows), everything
    else as food codes pair it (68 °C and 155 °F) or to the nearest whole degree.
    """
    scale = Scale(scale)
    wanted = {"metric": Scale.C, "us": Scale.F}.get(measures, scale)
    ends = [_degrees(value, scale, wanted, oven, fan) for value in (low, low if high is None else high)]
    if wanted is Scale.GAS or any(end is None for end in ends):
        return f"{tongue.say('gas')}{NO_BREAK}{span(mixed(low), mixed(low if high is None else high))}"
    numbers = [_signed(end, tongue) for end in ends if end is not None]
    degrees = f"{span(*numbers)}{NO_BREAK}°{wanted.value}"
    return tongue.say("%(degrees)s fan", degrees=degrees) if fan else degrees


def _signed(value: Fraction, tongue: Language) -> str:
    text = decimal(abs(value), tongue.mark)
    return f"−{text}" if value < 0 else text


def _degrees(value: Fraction, scale: Scale, wanted: Scale, oven: bool, fan: bool) -> Fraction | None:
    """The number to print; None for a gas mark that no cooker has."""
    if scale is wanted:
        return value
    if oven or scale is Scale.GAS:
        dial = OvenSetting(value, scale, fan).dial()
        if dial is None or wanted is Scale.GAS:
            return None
        own = dial - FAN_BELOW if fan else dial
        return oven_fahrenheit(own) if wanted is Scale.F else own
    return food_degrees(value, scale)


def show_equivalents(value: Fraction, scale: Scale | str, fan: bool = False, tongue: Language = ENGLISH) -> str:
    """An oven setting on every dial: `180 °C, 160 °C fan, 350 °F, gas 4`; '' for a gas mark that no cooker has."""
    dials = OvenSetting(value, Scale(scale), fan).equivalents()
    if dials is None:
        return ""
    words = [
        f"{decimal(dials.celsius)}{NO_BREAK}°C",
        tongue.say("%(degrees)s fan", degrees=f"{decimal(dials.fan)}{NO_BREAK}°C"),
        f"{decimal(dials.fahrenheit)}{NO_BREAK}°F",
    ]
    if dials.gas is not None:
        words.append(f"{tongue.say('gas')}{NO_BREAK}{mixed(dials.gas)}")
    return ", ".join(words)
