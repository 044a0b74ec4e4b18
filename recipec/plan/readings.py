"""Readings in words."""

from __future__ import annotations

from fractions import Fraction

from recipec.measure.language import ENGLISH, Language
from recipec.measure.numerals import NO_BREAK
from recipec.measure.quantity import one
from recipec.measure.show import Style, show_amount, show_duration, show_equivalents, show_length, show_temperature
from recipec.model.reading import (
    AfterCourse,
    Attention,
    Clock,
    Duration,
    Extent,
    Left,
    Reading,
    Temperature,
    TemperatureOf,
    Touch,
)
from recipec.plan.sheet import ReadingKind, ReadingPiece
from recipec.plan.wording import Desk, plates_text


def reading_piece(reading: Reading, desk: Desk) -> ReadingPiece:
    """A reading as a card shows it. Plain durations and temperatures never scale; what is left after reducing does."""
    cue = reading.cue or ""
    match reading.value:
        case Duration() as value:
            return _duration(value, reading, cue, desk)
        case Temperature() as value:
            return _temperature(value, reading, cue, desk)
        case Extent() as value:
            length = show_length(value.quantity, desk.style.measures, desk.tongue)
            # A shape that begins with a number says both sides, `20 x 30 cm`.
            sides = value.shape is not None and value.shape[:1].isdigit()
            text = value.shape if sides and value.shape else " ".join(filter(None, (length, value.shape)))
            return ReadingPiece(text, ReadingKind.SIZE, cue=cue)
        case Left() as value:
            return ReadingPiece(_left(value, reading, desk), ReadingKind.LEFT, cue=cue)
        case Clock() as value:
            text = _clock(value.start) + ("" if value.end is None else f"–{_clock(value.end)}")
            return ReadingPiece(text, ReadingKind.CLOCK, cue=cue)
        case AfterCourse() as value:
            after = show_duration(value.seconds, None, desk.tongue)
            text = desk.tongue.say("%(time)s after %(course)s", time=after, course=value.course)
            return ReadingPiece(text, ReadingKind.CLOCK, cue=cue)


def _duration(value: Duration, reading: Reading, cue: str, desk: Desk) -> ReadingPiece:
    tongue = desk.tongue
    touches = tuple(touch_text(touch, tongue) for touch in reading.touches)
    remarks = list(touches)
    if reading.attention is not Attention.UNSAID:
        remarks.insert(0, tongue.say(reading.attention.value, context="attention"))
    if value.assumed:
        return ReadingPiece(cue or tongue.say("until done"), ReadingKind.TIME, remarks=tuple(remarks), touches=touches)
    low, high = value.low, value.high
    text = show_duration(low, high, tongue)
    if value.per_side:
        text += tongue.say(" per side")
    elif value.times > 1:
        text = f"{value.times} × {text}"
    if value.pace is not None:
        text += f" {_pace(value, tongue)}"
        low, high, all_of_it = _paced(value, desk)
        if all_of_it:
            remarks.append(all_of_it)
    if value.about:
        text = tongue.say("about ") + text
    ranged = value.low != value.high
    timed = not value.shown_only and (value.pace is None or value.pace.per == "plate")
    return ReadingPiece(
        text,
        ReadingKind.TIME,
        cue=cue,
        check_at=tongue.say("check from %(time)s", time=show_duration(low, None, tongue)) if ranged and timed else "",
        remarks=tuple(remarks),
        low_s=_seconds(low) if timed else None,
        high_s=_seconds(high) if timed else None,
        times=value.times,
        touches=touches,
    )


def _pace(value: Duration, tongue: Language) -> str:
    pace = value.pace
    assert pace is not None
    if pace.quantity is None:
        return tongue.say("a batch") if pace.per == "batch" else tongue.say(f"per {pace.per}", context="pace")
    words = show_amount(one(pace.quantity), Style(language=tongue.code), written=True).text.removeprefix(f"1{NO_BREAK}")
    return tongue.say("per piece", context="pace") if words == "1" else tongue.say("per %(unit)s", unit=words)


def _paced(value: Duration, desk: Desk) -> tuple[Fraction, Fraction, str]:
    """The time for all plates, and the words for it; what goes by weight or batch depends on more than the card knows."""
    plates = desk.scaled.plates
    if value.pace is None or value.pace.per != "plate" or plates is None:
        return value.low, value.high, ""
    low, high = value.low * plates, value.high * plates
    time = show_duration(low, high, desk.tongue)
    many = plates_text(plates, plates, desk.style)
    return low, high, desk.tongue.say("%(time)s for %(plates)s", time=time, plates=many)


def _seconds(value: Fraction) -> int:
    return -int(-value // 1)


def touch_text(touch: Touch, tongue: Language = ENGLISH) -> str:
    """`turn at 20 min`, `baste every 30 min`."""
    time = show_duration(touch.seconds, None, tongue)
    if touch.every:
        return tongue.say("%(verb)s every %(time)s", verb=touch.verb, time=time)
    return tongue.say("%(verb)s at %(time)s", verb=touch.verb, time=time)


def _temperature(value: Temperature, reading: Reading, cue: str, desk: Desk) -> ReadingPiece:
    oven = value.of is TemperatureOf.OVEN
    measures = desk.style.measures
    tongue = desk.tongue
    text = show_temperature(
        value.low, value.high, value.scale, oven=oven, fan=value.fan, measures=measures, tongue=tongue
    )
    remarks: list[str] = []
    if value.rises_to is not None:
        end = show_temperature(value.rises_to, None, value.scale, measures=measures, tongue=tongue)
        remarks.append(tongue.say("rises to %(degrees)s", degrees=end))
    also = _other_dials(value, text, oven, measures, tongue)
    if value.of is TemperatureOf.FOOD and "core" in reading.span.text.casefold():
        text = tongue.say("%(degrees)s core", degrees=text)
    if value.about:
        text = tongue.say("about ") + text
    return ReadingPiece(text, ReadingKind.TEMPERATURE, also=also, cue=cue, remarks=tuple(remarks))


def _other_dials(value: Temperature, text: str, oven: bool, measures: str, tongue: Language) -> str:
    if oven and value.low == value.high:
        dials = show_equivalents(value.low, value.scale, value.fan, tongue)
        return ", ".join(dial for dial in dials.split(", ") if dial and dial != text)
    if value.scale == "gas":
        return ""
    shown_in_f = measures == "us" or (measures == "as written" and value.scale == "F")
    other = "metric" if shown_in_f else "us"
    return show_temperature(value.low, value.high, value.scale, oven=oven, fan=value.fan, measures=other, tongue=tongue)


def _left(value: Left, reading: Reading, desk: Desk) -> str:
    if value.amount is not None:
        return desk.say(value.amount.scaled(desk.scaled.factor), written=desk.scaled.factor == 1).whole
    written = " ".join(reading.span.text.strip("<>").split())
    return written.partition(",")[0]


def _clock(minutes: int) -> str:
    return f"{minutes // 60:02}:{minutes % 60:02}"
