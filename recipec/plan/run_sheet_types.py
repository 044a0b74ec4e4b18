"""What a run sheet, a prep list and a pull list say. Types only; all times are seconds from `Problem.origin`.

`recipec.plan.run_sheet`, `prep_list` and `pull_list` fill them; `recipec.emit.timeline_words` puts them into words.
"""

from __future__ import annotations

from dataclasses import dataclass
from enum import StrEnum
from typing import NamedTuple

from recipec.plan.timeline_types import Attend, Work


class LineKind(StrEnum):
    """What a line of the run sheet tells. ARRIVE, HANDS, LEAVE: who is on site. LIT, CHANGED, OFF: an oven. TASK: work begins. TOUCH: a
    minute of hands in it. READY: it is done, and nothing that follows at once says so. FIRE, PASS: a course is begun, and leaves."""

    ARRIVE = "arrive"
    HANDS = "hands"
    LEAVE = "leave"
    LIT = "lit"
    CHANGED = "changed"
    OFF = "off"
    TASK = "task"
    TOUCH = "touch"
    READY = "ready"
    FIRE = "fire"
    PASS = "pass"


class OnGear(NamedTuple):
    """Gear taken: `units` are the numbers, from 1, of its pieces; () where there is one only, or room that is not counted."""

    key: str
    name: str
    units: tuple[int, ...]


class Heat(NamedTuple):
    """An oven at a temperature: tenths of °C as a conventional oven shows them. `unit` from 1, None where there is one oven only."""

    name: str
    unit: int | None
    celsius: int
    fan: bool


@dataclass(frozen=True, slots=True)
class RunLine:
    """One line. `number` counts the tasks in the order they are done, from 1, 0 for other lines. `id` is stable as long as the dish is.

    `run` and `course` are indices of the problem's, None where there is none. `until` is when it ends, or when a lit oven is hot;
    `hands` the pair of hands, 0 for none, or how many there are for who is on site. `wait_until` is the latest start with all else as
    it is, `done_by` the latest end then. `was` is the heat an oven had before. `what` is a few words.
    """

    at: int
    kind: LineKind
    number: int = 0
    id: str = ""
    task: int | None = None
    work: Work | None = None
    attend: Attend | None = None
    text: str = ""
    what: str = ""
    run: int | None = None
    course: int | None = None
    until: int | None = None
    hands: int = 0
    gear: tuple[OnGear, ...] = ()
    heat: Heat | None = None
    was: Heat | None = None
    batch: tuple[int, int] | None = None
    assumed: bool = False
    wait_until: int | None = None
    done_by: int | None = None


@dataclass(frozen=True, slots=True)
class RunDay:
    """A day's lines, in order. `start` is its midnight; work after the midnight of the event's day is still that day's."""

    start: int
    lines: tuple[RunLine, ...]


@dataclass(frozen=True, slots=True)
class CourseLine:
    """A course: fired, plated and on the pass. `slack` seconds it may go later, None when not reckoned."""

    course: int
    name: str
    fire: int
    plate: int | None
    at: int
    ends: int
    slack: int | None


@dataclass(frozen=True, slots=True)
class RunSheet:
    """The whole. `first` is when the first course is on the pass: T."""

    first: int
    days: tuple[RunDay, ...]
    courses: tuple[CourseLine, ...]

    @property
    def lines(self) -> tuple[RunLine, ...]:
        """The lines of all days."""
        return tuple(line for day in self.days for line in day.lines)


@dataclass(frozen=True, slots=True)
class PrepPart:
    """What one dish wants of a thing: how it is got ready, `much` in words (`120 g`, '' when nobody said), and when it is first wanted."""

    how: str
    dish: str
    title: str
    much: str
    at: int


@dataclass(frozen=True, slots=True)
class PrepJob:
    """All work on the same thing, once for all dishes: the parts for which the same is done stand together, the first wanted first."""

    thing: str
    parts: tuple[PrepPart, ...]

    @property
    def at(self) -> int:
        """When the first of it is wanted."""
        return min(part.at for part in self.parts)


@dataclass(frozen=True, slots=True)
class MakePart:
    """A task of a job on the run sheet: its number there, dish, words and times. `what` is a few words."""

    number: int
    run: int
    what: str
    text: str
    at: int
    until: int
    attend: Attend
    batch: tuple[int, int] | None
    assumed: bool


@dataclass(frozen=True, slots=True)
class MakeJob:
    """Work on a day before the first course is fired: what is made of one dish, or the same work on the same thing for several.
    `shared` says which; `seconds` in all."""

    name: str
    parts: tuple[MakePart, ...]
    seconds: int
    shared: bool


@dataclass(frozen=True, slots=True)
class PrepDay:
    """A day's prep: what is cut, peeled and weighed, and what is made ahead."""

    start: int
    board: tuple[PrepJob, ...]
    make: tuple[MakeJob, ...]


class PullPlace(StrEnum):
    """Where gear comes from. BRING: some of it must be brought. HAVE: the kitchen has it."""

    BRING = "bring"
    HAVE = "have"


@dataclass(frozen=True, slots=True)
class PullLine:
    """Gear at its peak: `peak` pieces at once (millilitres of room, where `room`), first at `at`, for the dishes `runs`; the kitchen has
    `have` (None: it does not say). `bring` is how many are to be brought."""

    key: str
    name: str
    peak: int
    have: int | None
    bring: int
    at: int
    runs: tuple[int, ...]
    room: bool = False
    what: tuple[str, ...] = ()

    @property
    def place(self) -> PullPlace:
        """Where it comes from."""
        return PullPlace.BRING if self.bring else PullPlace.HAVE
