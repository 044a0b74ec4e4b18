"""A `Problem` as a program for CP-SAT: what must hold. OR-tools is loaded when one is built, and not before.

Time is counted in units (`unit_s`), of which every figure is a multiple. What each part demands may be guarded by a literal,
so that `collide` can ask which parts can't all be.
"""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from enum import StrEnum
from itertools import combinations
from typing import TYPE_CHECKING, NamedTuple

from recipec.plan.schedule_bounds import (
    COLD,
    Range,
    change_s,
    fixed,
    narrowed,
    settings_of,
    starts,
    stretches,
    unit_s,
)
from recipec.plan.timeline_types import Attend, Keep, PoolKind, Problem

if TYPE_CHECKING:
    from ortools.sat.python import cp_model

    from recipec.plan.schedule_holds import Held

_MINUTE = 60


class PartKind(StrEnum):
    """A demand that can be let go on its own when asking what collides. HOURS: a task lies in the cook's hours. FIXED: its `earliest` and
    `latest`. HANDS, GEAR, OVEN: what it takes. WAIT and HOLD: a link's two sides. DUE and STAND: a due's. KEEP: gear that stays taken."""

    HOURS = "hours"
    FIXED = "fixed"
    HANDS = "hands"
    GEAR = "gear"
    OVEN = "oven"
    WAIT = "wait"
    HOLD = "hold"
    DUE = "due"
    STAND = "stand"
    KEEP = "keep"


class Part(NamedTuple):
    """A demand: its kind, and the place of its task, link, due or keep; for GEAR the place of the need too."""

    kind: PartKind
    place: int
    need: int = 0


class Use(NamedTuple):
    """A stretch of time on something, with the literals that must all hold for it to count."""

    interval: cp_model.IntervalVar
    demand: int


class Model:
    """The program and its variables. `possible` is False when it is plain without a search that nothing fits.

    `guarded`: each part has a literal in `guards` and counts only where it is true. `soft`: holds may be overstepped, by `over` units.
    `pairs`: who does what is decided too, which is needed only where pairs of hands come and go. `pins`: the
    oven and the setting of tasks that have begun.
    """

    def __init__(
        self,
        problem: Problem,
        guarded: bool = False,
        soft: bool = False,
        pairs: bool = False,
        pins: Mapping[int, tuple[int, int]] | None = None,
    ) -> None:
        from ortools.sat.python import cp_model

        self.problem = problem
        self.unit = unit_s(problem)
        self.cp = cp_model
        self.model = cp_model.CpModel()
        self.guarded = guarded
        self.soft = soft
        self.pins = pins or {}
        self.guards: dict[Part, cp_model.IntVar] = {}
        self.over: dict[Part, cp_model.IntVar] = {}
        self.start: list[cp_model.IntVar] = []
        self.pair: dict[int, list[cp_model.IntVar]] = {}
        self.oven: dict[int, list[cp_model.IntVar]] = {}
        self.setting: dict[int, cp_model.IntVar | int] = {}
        self.held: dict[int, Held] = {}
        self.one = self.model.new_constant(1)
        allowed = self._allowed()
        self.possible = allowed is not None
        if allowed is None:
            return
        self.allowed = allowed
        self._times()
        self._hands(pairs)
        self._pools()
        for index, pool in enumerate(problem.pools):
            if pool.kind is PoolKind.OVEN:
                self._ovens(index)

    def end(self, task: int) -> cp_model.LinearExpr:
        """When a task ends, in units."""
        return self.start[task] + self.units(self.problem.tasks[task].seconds)

    def ends(self, keep: Keep) -> tuple[cp_model.LinearExpr, cp_model.LinearExpr | int]:
        """From when and until when something is kept, in units."""
        start = self.end(keep.first) if keep.from_end else self.start[keep.first]
        if keep.course is not None:
            return start, self.units(self.problem.courses[keep.course].at)
        return start, self.start[keep.last] if keep.to_start else self.end(keep.last)

    def units(self, seconds: int) -> int:
        """Seconds as units; they are always a whole number."""
        return seconds // self.unit

    def low(self, task: int) -> int:
        """The first unit it may start in."""
        return self.allowed[task][0].low // self.unit

    def high(self, task: int) -> int:
        """The last unit it may start in."""
        return self.allowed[task][-1].high // self.unit

    def when(self, *parts: Part) -> list[cp_model.IntVar]:
        """The literals under which these parts count: none when they always do."""
        if not self.guarded:
            return []
        for part in parts:
            if part not in self.guards:
                self.guards[part] = self.model.new_bool_var("")
        return [self.guards[part] for part in parts]

    def _allowed(self) -> list[tuple[Range, ...]] | None:
        if not self.guarded:
            return narrowed(self.problem, self.soft)
        return [(Range(0, max(0, self.problem.horizon - task.seconds)),) for task in self.problem.tasks]

    def _domain(self, ranges: Sequence[Range]) -> cp_model.Domain:
        return self.cp.Domain.from_intervals([[-(-one.low // self.unit), one.high // self.unit] for one in ranges])

    def _times(self) -> None:
        problem, model = self.problem, self.model
        for index, task in enumerate(problem.tasks):
            self.start.append(model.new_int_var_from_domain(self._domain(self.allowed[index]), ""))
            if self.guarded:
                for kind, ranges in (
                    (PartKind.HOURS, starts(problem, task)),
                    (PartKind.FIXED, (fixed(problem, task),)),
                ):
                    lits = self.when(Part(kind, index))
                    if ranges:
                        domain = self._domain(ranges)
                        model.add_linear_expression_in_domain(self.start[index], domain).only_enforce_if(lits)
                    else:
                        model.add_bool_or([lit.negated() for lit in lits])
        for index, link in enumerate(problem.links):
            wait = self.start[link.after] - self.end(link.before)
            model.add(wait >= self.units(link.gap_min)).only_enforce_if(self.when(Part(PartKind.WAIT, index)))
            if link.gap_max is not None:
                self._most(wait, link.gap_max, Part(PartKind.HOLD, index))
        for index, due in enumerate(problem.dues):
            stands = self.units(due.at) - self.end(due.task)
            model.add(stands >= 0).only_enforce_if(self.when(Part(PartKind.DUE, index)))
            if due.stand_max is not None:
                self._most(stands, due.stand_max, Part(PartKind.STAND, index))

    def _most(self, wait: cp_model.LinearExpr, most: int, part: Part) -> None:
        if self.soft:
            self.over[part] = self.model.new_int_var(0, self.units(self.problem.horizon), "")
            self.model.add(wait <= self.units(most) + self.over[part])
        else:
            self.model.add(wait <= self.units(most)).only_enforce_if(self.when(part))

    def interval(self, start: cp_model.LinearExprT, size: int, lits: Sequence[cp_model.IntVar]) -> cp_model.IntervalVar:
        """Of a fixed size in units, there only when all literals hold."""
        if not lits:
            return self.model.new_fixed_size_interval_var(start, size, "")
        return self.model.new_optional_fixed_size_interval_var(start, size, self.all_of(lits), "")

    def all_of(self, lits: Sequence[cp_model.IntVar]) -> cp_model.IntVar:
        if len(lits) == 1:
            return lits[0]
        both = self.model.new_bool_var("")
        self.model.add_bool_and(lits).only_enforce_if(both)
        self.model.add_bool_or([both, *(lit.negated() for lit in lits)])
        return both

    def works(self, task: int) -> list[tuple[int, int]]:
        """When a task wants a pair of hands, as (offset, length) in units."""
        one = self.problem.tasks[task]
        if one.attend is Attend.HANDS:
            return [(0, self.units(one.seconds))]
        return [(self.units(offset), self.units(one.touch_s)) for offset in one.touches]

    def _hands(self, pairs: bool) -> None:
        problem = self.problem
        most = max((hours.number for hours in problem.hands), default=0)
        wanted = [
            (task, offset, size)
            for task in range(len(problem.tasks))
            for offset, size in self.works(task)
            if size and most
        ]
        uses = [
            Use(self.interval(self.start[task] + offset, size, self.when(Part(PartKind.HANDS, task))), 1)
            for task, offset, size in wanted
        ]
        # Where fewer are there, the others of the largest number are taken; where nobody is, nothing starts anyway.
        for hours in problem.hands:
            if 0 < hours.number < most:
                block = self._block(hours.start, hours.end)
                uses.append(Use(block, most - hours.number))
        self.cumulative(uses, most)
        if pairs:
            self._pairs(wanted, most)

    def _block(self, start: int, end: int) -> cp_model.IntervalVar:
        return self.model.new_fixed_size_interval_var(self.units(start), self.units(end - start), "")

    def _pairs(self, wanted: Sequence[tuple[int, int, int]], most: int) -> None:
        """Each piece of work by one pair of hands that is there all through."""
        rows: list[list[cp_model.IntervalVar]] = [
            [self._block(hours.start, hours.end) for hours in self.problem.hands if hours.number < number]
            for number in range(1, most + 1)
        ]
        for task, offset, size in wanted:
            own = [self.model.new_bool_var("") for _ in rows]
            self.model.add_exactly_one(own)
            self.pair.setdefault(task, []).extend(own)
            lits = self.when(Part(PartKind.HANDS, task))
            for row, lit in zip(rows, own, strict=True):
                row.append(self.interval(self.start[task] + offset, size, [lit, *lits]))
        for row in rows:
            self.model.add_no_overlap(row)

    def cumulative(self, uses: Sequence[Use], capacity: int) -> None:
        """No more than there is at any time."""
        uses = [use for use in uses if use.demand]
        if sum(use.demand for use in uses) <= capacity:
            return
        small = sorted(use.demand for use in uses)
        if len(small) > 1 and small[0] <= capacity < small[0] + small[1] and small[-1] <= capacity:
            self.model.add_no_overlap([use.interval for use in uses])
        else:
            self.model.add_cumulative([use.interval for use in uses], [use.demand for use in uses], capacity)

    def _pools(self) -> None:
        uses: dict[int, list[Use]] = {}
        for index, task in enumerate(self.problem.tasks):
            for place, need in enumerate(task.gear):
                lits = self.when(Part(PartKind.GEAR, index, place))
                interval = self.interval(self.start[index], self.units(task.seconds), lits)
                uses.setdefault(need.pool, []).append(Use(interval, need.pieces))
        for index, keep in enumerate(self.problem.keeps):
            if keep.oven is not None:
                continue
            start, end = self.ends(keep)
            size = self.model.new_int_var(0, self.units(self.problem.horizon), "")
            if self.guarded:
                lit = self.when(Part(PartKind.KEEP, index))[0]
                interval = self.model.new_optional_interval_var(start, size, end, lit, "")
            else:
                interval = self.model.new_interval_var(start, size, end, "")
            uses.setdefault(keep.need.pool, []).append(Use(interval, keep.need.pieces))
        for index, pool in enumerate(self.problem.pools):
            # A kitchen that does not say how large its fridge is has room enough.
            unlimited = pool.kind is PoolKind.SPACE and not pool.number
            if index in uses and pool.kind is not PoolKind.OVEN and not unlimited:
                self.cumulative(uses[index], pool.number)

    def _ovens(self, index: int) -> None:
        from recipec.plan import schedule_holds

        pool = self.problem.pools[index]
        tasks = [place for place, task in enumerate(self.problem.tasks) if task.oven and task.oven.pool == index]
        rows: list[list[Use]] = [[] for _ in range(pool.number)]
        for order, task in enumerate(tasks):
            need = self.problem.tasks[task].oven
            assert need is not None
            lits = self.when(Part(PartKind.OVEN, task))
            settings = settings_of(self.problem, self.problem.tasks[task])
            if not settings or not rows:
                self.model.add_bool_or([lit.negated() for lit in lits])
                self.setting[task] = need.low
                self.oven[task] = [self.one] * len(rows)
                continue
            self._setting(task, settings)
            self._choose(tasks[:order], task, len(rows))
            for row, on in zip(rows, self.oven[task], strict=True):
                here = lits if len(rows) == 1 else [on, *lits]
                size = self.units(self.problem.tasks[task].seconds)
                row.append(Use(self.interval(self.start[task], size, here), need.shelves))
        # Late guests: what is held too long is told, and where is not asked.
        spots = [] if self.soft else schedule_holds.spots_in(self, index, rows)
        for row in rows:
            self.cumulative(row, pool.shelves)
        for one, other in combinations(tasks, 2):
            self._apart(index, one, other)
        schedule_holds.keep_apart(self, index, spots)

    def _setting(self, task: int, settings: Sequence[int]) -> None:
        if task in self.pins:
            settings = [self.pins[task][1]]
        if len(settings) == 1:
            self.setting[task] = settings[0]
            return
        setting = self.model.new_int_var_from_domain(self.cp.Domain.from_values(list(settings)), "")
        self.setting[task] = setting
        need = self.problem.tasks[task].oven
        assert need is not None
        pool = self.problem.pools[need.pool]
        # Hotter than the coolest it may be takes longer to heat from cold, in whichever hours it stands.
        hours = [one for one in stretches(self.problem) if self._may_be_in(task, one)]
        inside = [self.model.new_bool_var("") for _ in hours]
        lits = self.when(Part(PartKind.OVEN, task))
        self.model.add_bool_or([*inside, *(lit.negated() for lit in lits)])
        heating = self.change(pool.heats, pool.cools, setting, COLD)
        for lit, one in zip(inside, hours, strict=True):
            self.model.add(self.start[task] >= self.units(one.low) + heating).only_enforce_if([lit, *lits])
            self.model.add(self.start[task] <= self.units(one.high)).only_enforce_if([lit, *lits])

    def _may_be_in(self, task: int, hours: Range) -> bool:
        return any(one.low <= hours.high and hours.low <= one.high for one in self.allowed[task])

    def _choose(self, before: Sequence[int], task: int, number: int) -> None:
        """Which oven. Like ovens are not told apart: a further one is used only once those before it have been."""
        if number == 1:
            self.oven[task] = [self.one]
            return
        row = [self.model.new_bool_var("") for _ in range(number)]
        self.model.add_exactly_one(row)
        self.oven[task] = row
        if self.pins:
            if task in self.pins:
                self.model.add(row[self.pins[task][0]] == 1)
            return
        for place in range(1, number):
            self.model.add_bool_or([row[place].negated(), *(self.oven[one][place - 1] for one in before)])

    def change(
        self, heats: int, cools: int, new: cp_model.IntVar | int, old: cp_model.IntVar | int
    ) -> cp_model.LinearExpr:
        """Units that going from `old` to `new` takes, in whole minutes."""
        minutes = self.model.new_int_var(0, self.units(self.problem.horizon) * self.unit // _MINUTE + 1, "")
        if heats:
            self.model.add(minutes * heats >= new - old)
        if cools:
            self.model.add(minutes * cools >= old - new)
        return minutes * (_MINUTE // self.unit)

    def _apart(self, index: int, one: int, other: int) -> None:
        """Two tasks in one oven at one time have one setting; else there is time to change it between."""
        pool = self.problem.pools[index]
        first, second = self.setting[one], self.setting[other]
        same: list[cp_model.LiteralT] = [] if pool.number == 1 else [self.together(self.oven[one], self.oven[other])]
        same += self.when(Part(PartKind.OVEN, one), Part(PartKind.OVEN, other))
        change: tuple[cp_model.LinearExpr | int, cp_model.LinearExpr | int]
        if isinstance(first, int) and isinstance(second, int):
            if first == second:
                return
            there, back = (change_s(pool, first, second), change_s(pool, second, first))
            change = (self.units(there), self.units(back))
        else:
            equal = self.model.new_bool_var("")
            self.model.add(first == second).only_enforce_if(equal)
            same.append(equal.negated())
            change = (
                self.change(pool.heats, pool.cools, second, first),
                self.change(pool.heats, pool.cools, first, second),
            )
        forward = self.model.new_bool_var("")
        self.model.add(self.start[other] >= self.end(one) + change[0]).only_enforce_if([forward, *same])
        self.model.add(self.start[one] >= self.end(other) + change[1]).only_enforce_if([forward.negated(), *same])

    def together(self, one: Sequence[cp_model.IntVar], other: Sequence[cp_model.IntVar]) -> cp_model.IntVar:
        """Whether both are in one oven, by the literals of each for each oven."""
        together: cp_model.IntVar = self.model.new_bool_var("")
        for mine, theirs in zip(one, other, strict=True):
            self.model.add_bool_or([mine.negated(), theirs.negated()]).only_enforce_if(~together)
        return together
