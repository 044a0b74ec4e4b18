"""A booking's work as a scheduling problem, and its answer. Types only.

`recipec.plan.problem` makes a `Problem` of a book and an event, `recipec.plan.schedule` solves it, `recipec.plan.run_sheet` words the
`Plan`.
All times are whole seconds from `Problem.origin`, a local midnight without a zone; all intervals are half open: [start, end).
"""

from __future__ import annotations

from dataclasses import dataclass
from datetime import datetime
from enum import StrEnum
from typing import NamedTuple

from recipec.base.span import Span
from recipec.plan.attend import Attend as Attend


class Work(StrEnum):
    """What kind of task it is. COOK is an action of a dish (cooking, handwork, resting, chilling); the others are added by the compiler:
    COOL and BACK from a hold's `cooled in` and `back in`, PLATE is plating for a course, WASH frees scarce gear for another use,
    RESERVE is time kept free before the first course, CLEAR is clearing down after the last."""

    COOK = "cook"
    COOL = "cool"
    BACK = "back"
    PLATE = "plate"
    WASH = "wash"
    RESERVE = "reserve"
    CLEAR = "clear"


class GearNeed(NamedTuple):
    """`pieces` of the pool `Problem.pools[pool]`; millilitres for a SPACE pool."""

    pool: int
    pieces: int


class OvenNeed(NamedTuple):
    """`shelves` of one oven of the pool, set within [low, high], in tenths of a degree Celsius as a conventional oven would show."""

    pool: int
    low: int
    high: int
    shelves: int


class PoolKind(StrEnum):
    """How a pool is shared out. GEAR: pieces. BURNERS: the hob. OVEN: each piece is an oven of its own, with shelves and one temperature.
    SPACE: millilitres of all its pieces together (fridge, freezer)."""

    GEAR = "gear"
    BURNERS = "burners"
    OVEN = "oven"
    SPACE = "space"


@dataclass(frozen=True, slots=True)
class Pool:
    """All pieces of one kind of gear: the kitchen's, and those brought from the pull list.

    `number` of them; `brought` of those are not the kitchen's. For an OVEN `shelves` of each, `heats` and `cools` in tenths of a kelvin a
    minute, `up_to` in tenths of a degree (None: any). For SPACE `number` is the millilitres of all, 0
    when the kitchen does not say, and then it is not limited. `alone` when it may run with no cook on site.
    """

    key: str
    name: str
    kind: PoolKind
    number: int
    brought: int = 0
    shelves: int = 1
    heats: int = 0
    cools: int = 0
    up_to: int | None = None
    fan: bool = False
    alone: bool = False


@dataclass(frozen=True, slots=True)
class RunOf:
    """One making of one dish: what its tasks belong to. `plates` in words; `course` is an index of `Problem.courses`, the first course it
    is for; None for a component that only other dishes use."""

    dish: str
    title: str
    without: tuple[str, ...]
    plates: str
    course: int | None


@dataclass(frozen=True, slots=True)
class Task:
    """One thing to do. Its id is its place in `Problem.tasks`.

    `run` is an index of `Problem.runs`, None for RESERVE and CLEAR. `text` is what to do, in the cook's own words, scaled; `what` a
    few words for a chart. `step` is the dish's step number. `thing` and `verb` are what is handled and how, for grouping the same work
    on the
    same thing across dishes; '' when unknown. `seconds` is its length. `gear` is taken for just that long; see `Keep` for gear that
    stays taken.
    `batch` is (1, 3) for the first of three. `touches` are offsets from its start at which a pair of hands is wanted for `touch_s`
    seconds.
    `earliest` and `latest` bound [start, end) where something outside fixes them. `assumed` when the text gives no time. `unload` when the
    last of its touches takes it out of the oven, at its end.
    """

    run: int | None
    work: Work
    attend: Attend
    seconds: int
    text: str
    what: str
    span: Span
    step: int | None = None
    strand: str = ""
    verb: str = ""
    thing: str = ""
    gear: tuple[GearNeed, ...] = ()
    oven: OvenNeed | None = None
    batch: tuple[int, int] | None = None
    touches: tuple[int, ...] = ()
    touch_s: int = 60
    touch: str = ""
    earliest: int | None = None
    latest: int | None = None
    assumed: bool = False
    unload: bool = False

    def touch_words(self, place: int) -> str:
        """What is done at a touch, by its place in `touches`."""
        if self.unload and place == len(self.touches) - 1:
            return "take out"
        return self.touch or "see to it"


class Why(StrEnum):
    """Why one task waits for another."""

    ORDER = "the order of the steps"
    MADE = "what it makes is used"
    SET = "it must set, rest or cool first"
    HOLD = "it may be held only so long"
    BATCH = "one batch after another"


@dataclass(frozen=True, slots=True)
class Link:
    """`after` starts no sooner than `gap_min` seconds after the end of `before`, and, where `gap_max` says so, no later than that.
    `hold` words
    the hold (`braise, 3 d chilled`) where there is one, and `span` is where it is written."""

    before: int
    after: int
    gap_min: int = 0
    gap_max: int | None = None
    why: Why = Why.ORDER
    hold: str = ""
    span: Span | None = None


@dataclass(frozen=True, slots=True)
class Keep:
    """Gear or room that stays taken between tasks: from the start (`from_end`: the end) of `first` to the end (`to_start`: the start) of
    `last`; where `course` is set, until that course is on the pass, whatever `last` does. `what` says what is in it.
    With `oven` it is held in one of those ovens, set so; a wait of no more than `spare_s` seconds it may stand without."""

    need: GearNeed
    first: int
    last: int
    from_end: bool = False
    to_start: bool = False
    what: str = ""
    course: int | None = None
    oven: OvenNeed | None = None
    spare_s: int = 0


@dataclass(frozen=True, slots=True)
class Due:
    """What `task` leaves must be served at the course: it ends no later than `at`, and no sooner than `at` less `stand_max` seconds
    (None: as
    soon as one likes, it keeps). `hold` words that."""

    task: int
    course: int
    at: int
    stand_max: int | None
    hold: str = ""
    span: Span | None = None


@dataclass(frozen=True, slots=True)
class CourseAt:
    """A course: when it is on the pass, `ends` for one that runs over a span."""

    name: str
    at: int
    ends: int


class Hands(NamedTuple):
    """So many pairs of hands on site in [start, end). Outside all of them nobody is there."""

    start: int
    end: int
    number: int


@dataclass(frozen=True, slots=True)
class Trouble:
    """What the kitchen lacks for a mark of a dish, whatever the clock says: `slug` is `not-in-kitchen` or `too-hot-for-oven`; `text` a
    plain sentence, `hints` what to write or bring instead."""

    slug: str
    span: Span
    text: str
    hints: tuple[str, ...] = ()


@dataclass(frozen=True, slots=True)
class Problem:
    """All of one booking. `hands` are in order and do not overlap. `assumed` are sentences on what had to be assumed. `kit` is gear, oil
    or water that can't be kept clean for someone (`shared-kit`, `same-kit`).

    `day` is the [start, end) of the day of the event, for `span_s`; `arrive` when the cook comes that day. Nothing starts before 0 or
    ends after
    `horizon`.
    """

    event: str
    title: str
    origin: datetime
    horizon: int
    day: tuple[int, int]
    arrive: int
    aim: str
    runs: tuple[RunOf, ...]
    pools: tuple[Pool, ...]
    tasks: tuple[Task, ...]
    links: tuple[Link, ...]
    keeps: tuple[Keep, ...]
    dues: tuple[Due, ...]
    courses: tuple[CourseAt, ...]
    hands: tuple[Hands, ...]
    assumed: tuple[str, ...] = ()
    troubles: tuple[Trouble, ...] = ()
    kit: tuple[Trouble, ...] = ()


@dataclass(frozen=True, slots=True)
class Unplanned:
    """No timeline at all for the event of key `event`: `reasons` are plain sentences why."""

    event: str
    reasons: tuple[str, ...]


class Status(StrEnum):
    """BEST: proved that no plan is better in any aim in its order. FEASIBLE: a plan, and a bound on how much better one could be.
    IMPOSSIBLE: proved that there is none. UNKNOWN: neither a plan nor a proof within the limit; nothing is placed then either."""

    BEST = "best"
    FEASIBLE = "feasible"
    IMPOSSIBLE = "impossible"
    UNKNOWN = "unknown"


@dataclass(frozen=True, slots=True)
class Placed:
    """A task in its place. `hands` is the number of the pair of hands, from 1, 0 for none. `units` names for each need of `Task.gear`,
    in order,
    the numbers, from 0, of the pieces of its pool; `oven` the number of the oven. `touched` is the pair of hands of each of the task's
    touches."""

    task: int
    start: int
    end: int
    hands: int
    units: tuple[tuple[int, ...], ...]
    oven: int | None
    touched: tuple[int, ...] = ()


@dataclass(frozen=True, slots=True)
class Setting:
    """One oven at one temperature (tenths of °C): wanted in [start, end), switched on or over to it at `lit`."""

    pool: int
    oven: int
    celsius: int
    lit: int
    start: int
    end: int


@dataclass(frozen=True, slots=True)
class Goal:
    """One thing that was made as small as can be, in its turn: its name, what was reached, and the proven bound."""

    name: str
    value: int
    bound: int


@dataclass(frozen=True, slots=True)
class Fix:
    """A single change that was tried and makes a plan possible: in words."""

    text: str


@dataclass(frozen=True, slots=True)
class Collision:
    """A smallest set of tasks that can't all be, in words, and single changes, each tried, that would free them. `spans` are the marks
    in the
    dishes; `slug` the finding it is told as."""

    slug: str
    text: str
    tasks: tuple[int, ...]
    spans: tuple[Span, ...]
    fixes: tuple[Fix, ...]


@dataclass(frozen=True, slots=True)
class Plan:
    """The answer. `placed` in the order of the tasks, () when impossible; `keeps` the pieces of each `Problem.keeps`, in order:
    of one with an `oven` that oven's number, () where it does without.

    `span_s` is from the first start to the last end on the day of the event, in the client's kitchen; `bound_s` the proven bound of the
    goal of the `aim`
    (its value when best).
    """

    status: Status
    span_s: int
    bound_s: int
    goals: tuple[Goal, ...]
    placed: tuple[Placed, ...]
    keeps: tuple[tuple[int, ...], ...]
    settings: tuple[Setting, ...]
    collisions: tuple[Collision, ...]


@dataclass(frozen=True, slots=True)
class Broken:
    """A hold that is overstepped `by` so many seconds. `task` is what made the thing; `course` is set where it stands for its course, else
    `used_by` is the task that waits to use it. `hold` and `span` are of the `Link` or `Due`."""

    task: int
    by: int
    hold: str
    span: Span | None
    course: int | None = None
    used_by: int | None = None


@dataclass(frozen=True, slots=True)
class Late:
    """What happens when all courses go `minutes` later, learnt when the first was due: what had begun stays as planned. `breaks` are the
    holds that can't be kept then, worst first, () when nothing breaks. `waits` are the tasks that begin later than planned, in order of
    time. `starts` is when each task begins then, in the order of the tasks, () where there is no way at all. `stays_s` is how long the
    cook stays beyond the end of the last hours."""

    minutes: int
    breaks: tuple[Broken, ...]
    waits: tuple[int, ...]
    starts: tuple[int, ...]
    stays_s: int = 0


@dataclass(frozen=True, slots=True)
class Slack:
    """Seconds. `courses`: how much later each course may go with its work not yet begun, all else as planned; what is learnt is learnt
    when the course before went out, for the first when its plating begins. `tasks`: how much later each task alone may begin, all else
    as planned."""

    courses: tuple[int, ...]
    tasks: tuple[int, ...]


@dataclass(frozen=True, slots=True)
class Planned:
    """A problem, its plan, and what is asked of it after; `slack` None and `late` () where there is no plan."""

    problem: Problem
    plan: Plan
    slack: Slack | None = None
    late: tuple[Late, ...] = ()
