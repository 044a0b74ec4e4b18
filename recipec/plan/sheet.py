"""What a card or a dish's page says, worded for people. Types only; `recipec.plan.fill.dish_sheet` fills them.

Every `text` is ready to be shown: amounts rounded, units and plurals set, no-break spaces in place, nothing escaped.
Exact values stand beside the words for JSON and for timers.
"""

from __future__ import annotations

from dataclasses import dataclass
from enum import StrEnum
from fractions import Fraction
from typing import TypeAlias

from recipec.base.finding import Severity
from recipec.measure.quantity import Quantity
from recipec.model.dish import Role
from recipec.model.prices import Money
from recipec.plan.allergens import AllergenAnswer


@dataclass(frozen=True, slots=True)
class AmountText:
    """An amount as shown, and exactly. `rounded` when the words say less than `exact`.

    `text` stands before the name (`200 g`, `2–3 cloves`, `1¼ tsp (7 g)`), `tail` right after it: `4` duck legs ` (250 g each)`.
    """

    text: str
    exact: tuple[Quantity, ...]
    rounded: bool
    tail: str = ""

    @property
    def whole(self) -> str:
        """The amount where no name follows it."""
        return self.text + self.tail


@dataclass(frozen=True, slots=True)
class IngredientLine:
    """One food of the list.

    It reads `amount part before name, after, flags`. `part` is `of` after a pinch or a handful, else ''; a part of a thing
    stands in `after` (`1 lemon, zest`), since that is how one looks for it. `before` treatments were done before weighing,
    `after` ones are done after, and so stand shares of other things and amounts a plate. `dish` is the key of the dish of
    the book that `our` means, None when it is bought or the dish is not found; `our` tells the two apart. `text` is all but
    the alternatives, as a line. `alternatives` are lines of the same mark, second choice first. `allergens` are those of
    this line alone.
    """

    text: str
    amount: AmountText | None
    part: str
    before: tuple[str, ...]
    name: str
    after: tuple[str, ...]
    flags: tuple[str, ...]
    our: bool
    dish: str | None
    item: str | None
    allergens: AllergenAnswer
    alternatives: tuple[IngredientLine, ...] = ()


@dataclass(frozen=True, slots=True)
class IngredientGroup:
    """What one strand brings in, a line for each mark. `heading` is '' for the text before the first heading."""

    heading: str
    lines: tuple[IngredientLine, ...]


@dataclass(frozen=True, slots=True)
class WordsPiece:
    """Prose."""

    text: str


@dataclass(frozen=True, slots=True)
class FoodPiece:
    """A food mark in its place.

    It reads `lead amount part before name`, then `after`, then `or` and the alternatives; `text` is the whole of it.
    `lead` is an article, a share or a part: `the`, `half the`, `zest of`, ''; `part` stands between amount and name: `our`,
    `of the`. `comes_to` is what a share, or an amount per plate, comes to, where that is known
    and the words do not say it already (`about 60 g`). `written` is the mark as the cook wrote it, without brackets.
    """

    text: str
    lead: str
    amount: AmountText | None
    part: str
    before: tuple[str, ...]
    name: str
    after: tuple[str, ...]
    flags: tuple[str, ...]
    alternatives: tuple[str, ...]
    comes_to: AmountText | None
    role: Role
    dish: str | None
    written: str


@dataclass(frozen=True, slots=True)
class GearPiece:
    """A gear mark in its place: `frying pan`, `2 baking sheets`, `the oven`. `remark` is the size or '' (`28 cm`)."""

    text: str
    remark: str


class ReadingKind(StrEnum):
    """What an instrument would show."""

    TIME = "time"
    TEMPERATURE = "temperature"
    SIZE = "size"
    LEFT = "left"
    CLOCK = "clock"


@dataclass(frozen=True, slots=True)
class ReadingPiece:
    """A reading in its place.

    `text` is the dial's words (`7–10 min`, `180 °C fan`, `5 mm`), `also` the same on another dial ('' or `350 °F`), `cue` what
    the cook waits for ('' or `until golden`), `check_at` when to start checking ('' or `check from 7 min`), `remarks` the
    rest (`alone`, `turn at 20 min`, `rises to 54 °C`), `touches` those of them that ask for a hand. `low_s` and `high_s` are
    whole seconds of one time for a timer, None when this is no action; `times` how many times over.
    """

    text: str
    kind: ReadingKind
    also: str = ""
    cue: str = ""
    check_at: str = ""
    remarks: tuple[str, ...] = ()
    low_s: int | None = None
    high_s: int | None = None
    times: int = 1
    touches: tuple[str, ...] = ()


SheetPiece: TypeAlias = WordsPiece | FoodPiece | GearPiece | ReadingPiece


@dataclass(frozen=True, slots=True)
class ResultLine:
    """What a step leaves. `hold` is how it may be held, in words, or ''. `text` is name, amount and hold as a line."""

    text: str
    name: str
    amount: AmountText | None
    hold: str
    discarded: bool


@dataclass(frozen=True, slots=True)
class StepBlock:
    """A step. `number` counts the steps of the dish from 1. `waits` says in words what it waits for from other strands."""

    number: int
    pieces: tuple[SheetPiece, ...]
    results: tuple[ResultLine, ...]
    waits: tuple[str, ...]


@dataclass(frozen=True, slots=True)
class LayOutBlock:
    """Food set out, without work."""

    lines: tuple[IngredientLine, ...]


@dataclass(frozen=True, slots=True)
class AsideBlock:
    """A tip."""

    pieces: tuple[SheetPiece, ...]


@dataclass(frozen=True, slots=True)
class StopBlock:
    """The work may be cut here: `up to 2 d chilled`."""

    text: str


SheetBlock: TypeAlias = StepBlock | LayOutBlock | AsideBlock | StopBlock


@dataclass(frozen=True, slots=True)
class StrandSheet:
    """A part of the dish. `heading` is '' for the text before the first. `needs` says what it waits for (`the crumb`)."""

    heading: str
    makes: str | None
    needs: tuple[str, ...]
    blocks: tuple[SheetBlock, ...]


@dataclass(frozen=True, slots=True)
class Caution:
    """A finding that must be printed: an accepted one with the cook's `reason`, or a danger not accepted ('' then)."""

    slug: str
    severity: Severity
    text: str
    reason: str


@dataclass(frozen=True, slots=True)
class DishSheet:
    """A dish, scaled and worded.

    `plates` is for how many, None when the dish does not say; `plates_text` reads `4 plates` or `4–6 plates`, '' when unsaid.
    `makes` reads `1.4 l` or `24 pieces`, '' when unsaid. `factor` is against the dish as written. `version` is eight hex
    digits that change when the dish's own text changes, and with nothing else. `ingredients` is the merged list, by first
    use, of what is bought and of the book's own dishes (`our`); `groups` the same by strand, a line a mark. `keeps` are
    holds in words. `notes` are what scaling wants said. `rounded` when any amount shown was rounded. `without` are foods
    that this version leaves out.
    """

    key: str
    title: str
    course: str
    tags: tuple[str, ...]
    photo: str
    source: str
    price: Money | None
    plates: Fraction | None
    plates_text: str
    makes: str
    factor: Fraction
    version: str
    ingredients: tuple[IngredientLine, ...]
    groups: tuple[IngredientGroup, ...]
    gear: tuple[str, ...]
    strands: tuple[StrandSheet, ...]
    keeps: tuple[str, ...]
    allergens: AllergenAnswer
    cautions: tuple[Caution, ...]
    notes: tuple[str, ...]
    rounded: bool
    without: tuple[str, ...] = ()
