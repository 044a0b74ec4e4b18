"""What an instrument would show, with its meaning settled: whose temperature it is, whether hands are needed."""

from __future__ import annotations

from enum import StrEnum
from fractions import Fraction
from typing import NamedTuple, TypeAlias

from recipec.base.span import Span
from recipec.measure.quantity import Amount, Quantity


class Attention(StrEnum):
    """Whether a duration needs hands; UNSAID is settled by the timeline from gear and verb."""

    UNSAID = ""
    ALONE = "alone"
    ATTENDED = "attended"
    WITHIN_REACH = "within reach"


class TemperatureOf(StrEnum):
    """Whose temperature a reading is."""

    OVEN = "oven"
    GEAR = "gear"
    FOOD = "food"


class State(StrEnum):
    """How something is held."""

    ROOM = ""
    CHILLED = "chilled"
    FROZEN = "frozen"
    WARM = "warm"
    HOT = "hot"


class Pace(NamedTuple):
    """`per plate`, `20 min per kg`, `7 min a batch`: the duration is for every `quantity` (None: for every batch)."""

    per: str
    quantity: Quantity | None


class Duration(NamedTuple):
    """Seconds, exact, of one time; `times` times over. `shown_only` readings (`every 5 min`) are no action."""

    low: Fraction
    high: Fraction
    times: int
    per_side: bool
    pace: Pace | None
    about: bool
    assumed: bool
    shown_only: bool


class Temperature(NamedTuple):
    """As written: `scale` C, F or gas; `fan` for a fan oven's setting. `rises_to` is in the same scale."""

    low: Fraction
    high: Fraction
    scale: str
    fan: bool
    of: TemperatureOf
    rises_to: Fraction | None
    about: bool


class Extent(NamedTuple):
    """A thickness or size."""

    low: Fraction
    high: Fraction
    quantity: Quantity
    shape: str | None


class Left(NamedTuple):
    """What is left after reducing: an amount, or the fraction that stays."""

    amount: Amount | None
    fraction: Fraction | None


class Clock(NamedTuple):
    """Minutes from midnight; `end` for a span."""

    start: int
    end: int | None


class AfterCourse(NamedTuple):
    """So many seconds after another course of the event."""

    seconds: Fraction
    course: str


class Touch(NamedTuple):
    """A minute of hands at a time (`every` False) or again and again (`every` True)."""

    verb: str
    seconds: Fraction
    every: bool


Value: TypeAlias = Duration | Temperature | Extent | Left | Clock | AfterCourse


class Reading(NamedTuple):
    """One reading in a step."""

    span: Span
    value: Value
    attention: Attention
    touches: tuple[Touch, ...]
    cue: str | None


class Hold(NamedTuple):
    """How long (seconds) and how something may be held; see the language's `holds`."""

    low: Fraction
    high: Fraction
    state: State
    vessel: str | None
    cooled_in: Fraction | None
    back_in: Fraction | None
    back_gear: str | None
