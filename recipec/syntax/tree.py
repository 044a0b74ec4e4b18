"""The syntax tree: what was written, where, before anyone asks what it means.

Every node is a frozen named tuple whose first field is its span (cheapest to make, to keep and to pickle; see
`tests/bench/`). Numbers are exact fractions. Words that name units are the canonical keys of the table of words
(`cup`, `g`, `clove`), never resolved by region here. Nothing in the tree is ever a plain dict.
"""

from __future__ import annotations

from typing import Literal, NamedTuple, TypeAlias

from recipec.base.span import Span
from recipec.syntax.tree_facts import (
    Acceptance,
    Children,
    DayTime,
    Degrees,
    Fact,
    FactValue,
    Feature,
    Guests,
    Hands,
    HandsTurn,
    Items,
    Keeps,
    Need,
    Number,
    Seat,
    Stock,
    Stretch,
    Sum,
    Text,
    Yield,
)
from recipec.syntax.tree_marks import (
    AfterCourse,
    Amount,
    Clock,
    Detail,
    Duration,
    Each,
    Extent,
    Flag,
    Food,
    FoodItem,
    ForSeats,
    Gear,
    Holding,
    Left,
    Name,
    Part,
    Percent,
    Piece,
    Rate,
    Reading,
    Recovers,
    Result,
    Sentence,
    Share,
    Takes,
    Temperature,
    Term,
    Touch,
    Treatment,
    Value,
    Without,
    Words,
)

__all__ = [
    "Acceptance",
    "AfterCourse",
    "Amount",
    "Aside",
    "Block",
    "Children",
    "Clock",
    "DayTime",
    "Degrees",
    "Detail",
    "Duration",
    "Each",
    "Extent",
    "Fact",
    "FactValue",
    "Feature",
    "File",
    "FileKind",
    "Flag",
    "Food",
    "FoodItem",
    "ForSeats",
    "Gear",
    "Guests",
    "Hands",
    "HandsTurn",
    "Heading",
    "Holding",
    "Items",
    "Keeps",
    "LayOut",
    "Left",
    "Lost",
    "Name",
    "Need",
    "Number",
    "Part",
    "Percent",
    "Piece",
    "Rate",
    "Reading",
    "Recovers",
    "Remark",
    "Result",
    "Seat",
    "Sentence",
    "Share",
    "Step",
    "Stock",
    "Stop",
    "Stretch",
    "Sum",
    "Takes",
    "Temperature",
    "Term",
    "Text",
    "Touch",
    "Treatment",
    "Value",
    "Without",
    "Words",
    "Yield",
]

# ---------------------------------------------------------------- blocks and files


class Step(NamedTuple):
    """A paragraph, and what it leaves."""

    span: Span
    sentences: tuple[Sentence, ...]
    results: tuple[Result, ...]


class LayOut(NamedTuple):
    """A paragraph of food marks alone, one a line: no step, no time."""

    span: Span
    foods: tuple[Food, ...]


class Heading(NamedTuple):
    """A strand heading, or a course in an event. `name` has `For the` dropped; `shown` is as written, without the colon."""

    span: Span
    name: Name
    shown: str
    reading: Reading | None


class Aside(NamedTuple):
    """A paragraph wholly in round brackets; the brackets are not in the pieces."""

    span: Span
    pieces: tuple[Piece, ...]


class Stop(NamedTuple):
    """`Stop here: up to 2 d chilled.`"""

    span: Span
    holding: Holding


class Remark(NamedTuple):
    """A line beginning `//`, without the slashes."""

    span: Span
    text: str


class Lost(NamedTuple):
    """A block that could not be read; its findings say why, and everything else stands."""

    span: Span


Block: TypeAlias = Step | LayOut | Heading | Aside | Stop | Remark | Lost
FileKind: TypeAlias = Literal["dish", "event", "kitchen"]


class File(NamedTuple):
    """A whole file. `title` is None when the text is blank. A kitchen has facts only.

    Remarks stand among the blocks, and in `fact_remarks` where they stand among the facts.
    """

    span: Span
    kind: FileKind
    title: Name | None
    facts: tuple[Fact, ...]
    fact_remarks: tuple[Remark, ...]
    blocks: tuple[Block, ...]
