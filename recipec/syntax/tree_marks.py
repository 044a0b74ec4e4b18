"""The nodes of the syntax tree inside a paragraph: names, amounts, marks, results. `tree.py` has the whole, and its rules."""

from __future__ import annotations

from fractions import Fraction
from typing import Literal, NamedTuple, TypeAlias

from recipec.base.span import Span

# ---------------------------------------------------------------- names and amounts


class Name(NamedTuple):
    """Words as written, escapes resolved, white space (line ends too) folded to one space."""

    span: Span
    text: str


class Term(NamedTuple):
    """One number with its unit. `low` equals `high` unless it is a range. `unit` None counts whole pieces.

    `size` is `small`, `medium`, `large`, `heaped`, `scant` or `level`. A pinch, a handful and `some` have unit
    `pinch` or `handful`.
    """

    span: Span
    low: Fraction
    high: Fraction
    unit: str | None
    size: str | None = None


class Amount(NamedTuple):
    """`1 cup plus 2 tbsp` has two terms. `each` is what one holds: `1 tin (400 g)`, `2 x 400 g tins`, `a 200 g steak`."""

    span: Span
    terms: tuple[Term, ...]
    about: bool = False
    each: Term | None = None


class Share(NamedTuple):
    """A taking of what is there: `half the X`, `the rest of the X`, `2 tbsp of the X`, `most of the X`."""

    span: Span
    kind: Literal["fraction", "rest", "amount", "unmeasured"]
    fraction: Fraction | None
    amount: Amount | None
    words: str


class Part(NamedTuple):
    """`zest of 1 lemon`, `whites of 3 eggs`: the canonical key of the part (`zest`, `white`)."""

    span: Span
    key: str


# ---------------------------------------------------------------- treatments


class Treatment(NamedTuple):
    """Words after a comma, or in round brackets after the name: how it is treated after weighing."""

    span: Span
    text: str


class Flag(NamedTuple):
    """A reserved word: `fixed`, `optional`, `to taste`, `to serve`, `discarded`."""

    span: Span
    key: Literal["fixed", "optional", "to taste", "to serve", "discarded"]


class Each(NamedTuple):
    """`[4 duck legs, 250 g each]`."""

    span: Span
    amount: Amount


class Percent(NamedTuple):
    """`[salt, 2.2% of the duck legs]`; `value` 2.2 is 11/5."""

    span: Span
    value: Fraction
    of: Name


class Rate(NamedTuple):
    """`[salt, 10 g per litre of the water]`: `amount` for every `per` of `of`."""

    span: Span
    amount: Amount
    per: Term
    of: Name


class Without(NamedTuple):
    """In an event: `without hazelnuts`."""

    span: Span
    name: Name


class ForSeats(NamedTuple):
    """In an event: `for seats 3 and 6`."""

    span: Span
    seats: tuple[int, ...]


Detail: TypeAlias = Treatment | Flag | Each | Percent | Rate | Without | ForSeats

# ---------------------------------------------------------------- marks


class FoodItem(NamedTuple):
    """One thing in a food mark. `plus` is a second thing of the same choice (`1 egg plus 1 yolk`)."""

    span: Span
    article: Literal["", "the", "our"]
    amount: Amount | None
    share: Share | None
    part: Part | None
    name: Name
    details: tuple[Detail, ...]
    per_plate: bool = False
    plus: FoodItem | None = None


class Food(NamedTuple):
    """`[ ]`. More than one choice where `or` parts alternatives, the preferred one first.

    What follows the last comma of the last choice (`optional`, `cubed`) stands with that choice; the analyser shares it out.
    """

    span: Span
    choices: tuple[FoodItem, ...]


class Takes(NamedTuple):
    """`takes 2 plates`, `takes 700 ml`, `takes 6 pieces` (unit `plate`, `ml` or None)."""

    span: Span
    amount: Amount


class Recovers(NamedTuple):
    """`recovers 18 h`, in seconds."""

    span: Span
    seconds: Fraction


class Gear(NamedTuple):
    """`{ }`. `amount` is a count, or a measured amount of something used up (`5 kg ice`, `2 sheets baking paper`)."""

    span: Span
    article: Literal["", "the", "our"]
    amount: Amount | None
    name: Name
    details: tuple[Treatment | Takes | Recovers, ...]


class Duration(NamedTuple):
    """Seconds, exact. `times` is 2 in `2 x 5 min` and `5 min per side`. `low` and `high` are of one time.

    `pace`: grows with the work: per `plate`, `batch`, or a unit with an amount (`20 min per kg`: unit `kg`, amount 1).
    `relation`: `every`, `within`, `after`, `before` when the reading itself begins so; None otherwise.
    `assumed`: no number was given (`<until golden>`).
    """

    span: Span
    low: Fraction
    high: Fraction
    times: int = 1
    pace: Term | None = None
    per_side: bool = False
    about: bool = False
    assumed: bool = False


class Temperature(NamedTuple):
    """`scale` is `C`, `F` or `gas`; `kind` is the word that stands with it: `core`, `fan`, or '' when none.

    `rises_to` is the carry-over reading in the same scale.
    """

    span: Span
    low: Fraction
    high: Fraction
    scale: Literal["C", "F", "gas"]
    kind: Literal["", "core", "fan"]
    rises_to: Fraction | None = None
    about: bool = False


class Extent(NamedTuple):
    """A thickness or size: `<5 mm>`, `<20 cm round>`; the shape is in `shape`."""

    span: Span
    term: Term
    shape: str | None


class Left(NamedTuple):
    """What is left after reducing: an amount (`<300 ml>`, `<250 g>`) or a fraction of what there was (`<by half>`: 1/2 left)."""

    span: Span
    amount: Amount | None
    fraction: Fraction | None


class Clock(NamedTuple):
    """`<19:30>`, `<18:30-19:15>`: minutes from midnight; `end` for a span."""

    span: Span
    start: int
    end: int | None


class AfterCourse(NamedTuple):
    """`<25 min after Main>` (events)."""

    span: Span
    seconds: Fraction
    course: Name


class Touch(NamedTuple):
    """`turn at 20 min` (`every` False) or `baste every 30 min` (`every` True)."""

    span: Span
    verb: str
    seconds: Fraction
    every: bool


Value: TypeAlias = Duration | Temperature | Extent | Left | Clock | AfterCourse


class Reading(NamedTuple):
    """`< >`. `attention` is the word in the mark, if any; `cue` is what follows the first comma and is no touch."""

    span: Span
    value: Value
    attention: Literal["", "alone", "attended", "within reach"]
    touches: tuple[Touch, ...]
    cue: str | None


class Words(NamedTuple):
    """Plain prose, escapes resolved, white space folded to one space (kept at its ends)."""

    span: Span
    text: str


Piece: TypeAlias = Words | Food | Gear | Reading


class Sentence(NamedTuple):
    """Ends at `.`, `!` or `?` by the rule of `language-rules`; the last one of a block may end without."""

    span: Span
    pieces: tuple[Piece, ...]


# ---------------------------------------------------------------- results and holds


class Holding(NamedTuple):
    """How long and how something may be held. `state` '' is at room temperature.

    Seconds throughout. `vessel` is gear taken meanwhile; `cooled_in` and `back_in` are the ways down and up again,
    `back_gear` what it is brought back in.
    """

    span: Span
    low: Fraction
    high: Fraction
    state: Literal["", "chilled", "frozen", "warm", "hot"]
    vessel: Gear | None = None
    cooled_in: Fraction | None = None
    back_in: Fraction | None = None
    back_gear: Gear | None = None


class Result(NamedTuple):
    """One thing that a step leaves: `-> dressing, 180 ml, holds 3 d chilled`."""

    span: Span
    name: Name
    amount: Amount | None
    holding: Holding | None
    discarded: bool
