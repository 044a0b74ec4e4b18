"""The actions of a dish as written: what its text asks to be done, before plates and batches. Types only."""

from __future__ import annotations

from dataclasses import dataclass
from typing import NamedTuple

from recipec.base.span import Span
from recipec.model.dish import Made, Piece
from recipec.model.reading import Hold, Reading
from recipec.plan.attend import Attend


class Heat(NamedTuple):
    """An oven: its gear mark (None: named in prose only), the range its dial may stand at in tenths of a degree as a conventional oven
    shows it, and shelves. `written` is the reading that says so, None when it is assumed. `at` is the mark or sentence where it is
    used."""

    mark: int | None
    low: int
    high: int
    shelves: int
    written: Span | None
    at: Span


@dataclass(frozen=True, slots=True)
class Action:
    """One thing to do. `number` is its place in the dish.

    `pieces` is its text, `verb` what is done and `subject` the use it is done to (None: what is in hand). `reading` is its duration,
    None for handwork that is given the default. `beside` when it runs beside the action before it. `marks` are gear marks named in it,
    each the first mark of its piece (`{the pan}` is the mark that brought it); `pan` the piece its food lies in, where that stands on
    the hob; `over_water` when its bowl stands over a pan of water, which takes a burner too. `place` is the mark of the fridge or freezer
    it is in. `heats_gear` when only gear or oil gets hot, `hot` when the food comes off the heat, `standing` when it only rests, `plating`
    when it goes by the plate. `after` are actions of the dish that come before it, in its own strand; `waits` those of others, which it
    mentions. `last` when it is the last of its step; `made` what the step leaves then.
    """

    number: int
    strand: int
    step: int
    span: Span
    pieces: tuple[Piece, ...]
    reading: Reading | None
    beside: bool
    verb: str
    subject: int | None
    attend: Attend
    marks: tuple[int, ...]
    pan: int | None
    over_water: bool
    heat: Heat | None
    place: int | None
    heats_gear: bool
    hot: bool
    standing: bool
    plating: bool
    after: tuple[int, ...]
    waits: tuple[int, ...]
    last: bool
    made: tuple[Made, ...]


@dataclass(frozen=True, slots=True)
class Held:
    """A piece of gear of the dish that stays taken, from the start of action `first` to the end (`to_start`: the start) of `last`.
    `mark` brought it. `turned_out` when an arrow frees it: it is free at once then, and nobody washes it between."""

    mark: int
    first: int
    last: int
    to_start: bool
    turned_out: bool = False


class StopAt(NamedTuple):
    """The work may be cut between the steps `before` and `after`."""

    before: int
    after: int
    hold: Hold
    span: Span


@dataclass(frozen=True, slots=True)
class Work:
    """All of a dish. `held` says which gear stays taken. `stops` are where the text lets one stop."""

    actions: tuple[Action, ...]
    held: tuple[Held, ...]
    stops: tuple[StopAt, ...]
