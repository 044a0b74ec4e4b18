"""A dish as the compiler understands it."""

from __future__ import annotations

from enum import StrEnum
from fractions import Fraction
from typing import NamedTuple, TypeAlias

from recipec.base.span import Span
from recipec.measure.quantity import Amount, Quantity
from recipec.model.prices import Money
from recipec.model.reading import Hold, Reading


class ThingKind(StrEnum):
    """Where a thing of the dish's namespace comes from."""

    BOUGHT = "bought"
    MADE = "made"
    OUR = "our"


class Role(StrEnum):
    """What a food mark does to the account of its thing.

    BUY: comes in from the shelf. OUR: comes in from another dish. TAKE: draws on what is there.
    HANDLE: is spoken of, and takes nothing.
    """

    BUY = "buy"
    OUR = "our"
    TAKE = "take"
    HANDLE = "handle"


class Flag(StrEnum):
    """Reserved words of a mark."""

    FIXED = "fixed"
    OPTIONAL = "optional"
    TO_TASTE = "to taste"
    TO_SERVE = "to serve"
    PER_PLATE = "per plate"
    DISCARDED = "discarded"


class Basis(NamedTuple):
    """How an amount was reckoned: `percent` of a thing (11/5 is 2.2 %), or `rate` of it for every `per`."""

    thing: str
    percent: Fraction | None
    rate: Amount | None
    per: Quantity | None


class Use(NamedTuple):
    """One choice of one food mark.

    `thing` is a key of `Dish.things`. `item` is the larder's key of what is bought, None where the larder does not know
    it (then `thing` is all there is to go by, and nothing may be assumed of it). `amount` is as written for the dish as
    written, or reckoned from `basis`; None when none was given. For a TAKE, `fraction` is the exact part of what was made
    that is taken (1 is all), None when unmeasured, and `amount` what that comes to where it can be known.
    `before` treatments were done before weighing, `after` ones are done after. `choices` are the other alternatives.
    """

    number: int
    span: Span
    role: Role
    thing: str
    name: str
    item: str | None
    amount: Amount | None
    fraction: Fraction | None = None
    share: str = ""
    part: str | None = None
    before: tuple[str, ...] = ()
    after: tuple[str, ...] = ()
    flags: frozenset[Flag] = frozenset()
    basis: Basis | None = None
    choices: tuple[Use, ...] = ()


class GearUse(NamedTuple):
    """One gear mark. `amount` is set for things used up (`5 kg ice`); otherwise `pieces` counts.

    `same` is True for `the pan`: the piece already in hand. `takes` in plates, pieces or a measure; `recovers` seconds.
    """

    number: int
    span: Span
    name: str
    key: str
    pieces: int
    same: bool
    amount: Amount | None
    size: str
    takes: Amount | None
    takes_plates: bool
    recovers: Fraction | None


class Made(NamedTuple):
    """What a step leaves. `thing` is its key in `Dish.things`."""

    span: Span
    thing: str
    name: str
    amount: Amount | None
    hold: Hold | None
    discarded: bool


class Words(NamedTuple):
    """Plain prose between marks."""

    text: str


class FoodAt(NamedTuple):
    """Food mark `Dish.uses[use]` (`plus` the second thing of `1 egg plus 1 yolk`)."""

    use: int
    plus: int | None = None


class GearAt(NamedTuple):
    """Gear mark `Dish.gear[gear]`."""

    gear: int


class ReadingAt(NamedTuple):
    """A reading in its place."""

    reading: Reading


Piece: TypeAlias = Words | FoodAt | GearAt | ReadingAt


class Sentence(NamedTuple):
    """Pieces in the order of the text."""

    pieces: tuple[Piece, ...]


class Step(NamedTuple):
    """A paragraph that is done. `number` counts all steps of the dish from 0; `waits` are numbers of steps in other strands."""

    number: int
    span: Span
    sentences: tuple[Sentence, ...]
    makes: tuple[Made, ...]
    waits: tuple[int, ...]


class LayOut(NamedTuple):
    """Food set out, without work: numbers of uses."""

    span: Span
    uses: tuple[int, ...]


class Aside(NamedTuple):
    """A tip."""

    span: Span
    pieces: tuple[Piece, ...]


class Stop(NamedTuple):
    """The work may be cut here for as long as `hold` says."""

    span: Span
    hold: Hold


Block: TypeAlias = Step | LayOut | Aside | Stop


class Strand(NamedTuple):
    """A part of the dish. `heading` is as shown ('' for the text before the first heading); `makes` the thing it leaves
    (None for the last strand, which is the dish). `needs` are indices of the strands whose things it uses."""

    span: Span
    heading: str
    makes: str | None
    blocks: tuple[Block, ...]
    needs: tuple[int, ...]


class Thing(NamedTuple):
    """One line of the dish's one namespace.

    `amount` is all that came in or was made, where it can be known. `origin` is the mark or arrow that brought it in;
    `step` the step that made or introduced it, `strand` its strand.
    """

    key: str
    name: str
    kind: ThingKind
    item: str | None
    amount: Amount | None
    origin: Span
    step: int | None
    strand: int
    discarded: bool = False


class Accepted(NamedTuple):
    """A cook's written reason for standing by a finding of `slug` (on `subject` only, where one is named)."""

    span: Span
    slug: str
    subject: str | None
    reason: str


class Yield(NamedTuple):
    """`makes`: how much there is of it, and how much goes on a plate when it is drawn by plates."""

    amount: Amount
    noun: str | None
    plate: Quantity | None


class Dish(NamedTuple):
    """One dish or component.

    `key` is the file's name without its ending. `links` gives, for each use of role OUR by number, the key of the dish
    meant; it is filled when the book is put together, and empty before.
    """

    key: str
    title: str
    span: Span
    title_span: Span
    serves: tuple[int, int] | None
    makes: Yield | None
    course: str
    keeps: tuple[Hold, ...]
    measures: str
    tags: tuple[str, ...]
    photo: str
    source: str
    accepted: tuple[Accepted, ...]
    tolerance: Fraction
    whole_batches: bool
    price: Money | None
    uses: tuple[Use, ...]
    gear: tuple[GearUse, ...]
    strands: tuple[Strand, ...]
    things: tuple[Thing, ...]
    links: tuple[tuple[int, str], ...] = ()
    photo_span: Span | None = None

    def thing(self, key: str) -> Thing:
        """The thing of that key; KeyError when there is none."""
        for thing in self.things:
            if thing.key == key:
                return thing
        raise KeyError(key)

    def steps(self) -> tuple[Step, ...]:
        """All steps in the order of the text."""
        return tuple(block for strand in self.strands for block in strand.blocks if isinstance(block, Step))

    def link(self, use: int) -> str | None:
        """The dish that a use of role OUR means, None when it could not be found."""
        return dict(self.links).get(use)
