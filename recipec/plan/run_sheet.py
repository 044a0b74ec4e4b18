"""A plan read back as a run sheet: by the clock, what begins, what wants a hand, what is done, and when each course goes."""

from __future__ import annotations

from collections import Counter
from collections.abc import Iterator, Mapping
from types import MappingProxyType

from recipec.plan.run_sheet_types import CourseLine, Heat, LineKind, OnGear, RunDay, RunLine, RunSheet
from recipec.plan.schedule_bounds import change_s, kept_from
from recipec.plan.timeline_types import Attend, Placed, Planned, Pool, PoolKind, Problem, Setting, Task, Work

_DAY = 86_400
_TIGHT_S = 30 * 60
"""A wait longer than this before the pass is no part of firing a course: common practice."""
_COLD_S = 60 * 60
"""An oven not wanted for so long is put out and lit again rather than turned over: a choice of ours."""

_ORDER = tuple(LineKind)
_FIRST = (LineKind.ARRIVE, LineKind.HANDS, LineKind.PASS, LineKind.READY, LineKind.OFF, LineKind.CHANGED, LineKind.LIT)
"""At one minute: who comes, then what is finished, before what begins."""


def run_sheet(planned: Planned) -> RunSheet:
    """The run sheet of a plan; of an impossible one, a sheet with no line."""
    return _Sheet(planned).sheet()


def task_ids(problem: Problem) -> tuple[str, ...]:
    """A name for each task that stays as long as its dish and step do: `dish-key.3.1`, the step counted from 1, and its place in it."""
    seen: Counter[str] = Counter()
    found: list[str] = []
    for task in problem.tasks:
        parts = [task.work.value] if task.run is None else [problem.runs[task.run].dish]
        if task.run is not None:
            run = problem.runs[task.run]
            parts += [f"without {food}" for food in run.without]
            if task.work is not Work.COOK:
                parts.append(task.work.value)
        parts += [] if task.step is None else [str(task.step + 1)]
        name = ".".join(parts)
        seen[name] += 1
        found.append(f"{name}.{seen[name]}")
    return tuple(found)


def day_of(problem: Problem, second: int) -> int:
    """The midnight of the day a second belongs to; what goes on past the midnight of the event's day is still that day's."""
    start, end = problem.day
    if start <= second < max(end, start + _DAY):
        return start - start % _DAY
    return second - second % _DAY


def task_numbers(planned: Planned) -> Mapping[int, int]:
    """The number of each task on the run sheet, from 1 in the order they are done. Time kept free has none."""
    order = sorted(planned.plan.placed, key=lambda placed: (placed.start, placed.hands or 99, placed.end, placed.task))
    kept = [placed.task for placed in order if planned.problem.tasks[placed.task].work is not Work.RESERVE]
    return MappingProxyType({task: number for number, task in enumerate(kept, 1)})


def gear_of(problem: Problem, task: Task, placed: Placed) -> tuple[OnGear, ...]:
    """What a task takes, with the numbers of the pieces where there is more than one."""
    found = []
    for need, units in zip(task.gear, placed.units, strict=True):
        pool = problem.pools[need.pool]
        counted = pool.kind in (PoolKind.GEAR, PoolKind.BURNERS) and pool.number > 1
        found.append(OnGear(pool.key, piece_name(pool), tuple(sorted(unit + 1 for unit in units)) if counted else ()))
    return tuple(found)


def piece_name(pool: Pool) -> str:
    """What one piece of a pool is called: of a hob, a burner."""
    return "burner" if pool.kind is PoolKind.BURNERS else pool.name


def heat_of(problem: Problem, setting: Setting) -> Heat:
    """An oven's setting."""
    pool = problem.pools[setting.pool]
    return Heat(pool.name, setting.oven + 1 if pool.number > 1 else None, setting.celsius, pool.fan)


def fire_times(planned: Planned) -> tuple[int, ...]:
    """When each course is fired: the earliest start of the work that leads up to its plates with no long wait in between.

    What takes long begins the firing and nothing before it is looked at; what stands by itself for long is made ahead, as a cream
    that sets for four hours is, and so is what only other dishes use.
    """
    problem, plan = planned.problem, planned.plan
    before: dict[int, list[int]] = {}
    for link in problem.links:
        gap = plan.placed[link.after].start - plan.placed[link.before].end
        if link.gap_max is not None and max(gap, 0) <= _TIGHT_S:
            before.setdefault(link.after, []).append(link.before)
    found = []
    for number, course in enumerate(problem.courses):
        todo = [
            due.task
            for due in problem.dues
            if due.course == number and due.stand_max is not None and due.stand_max <= _TIGHT_S
        ]
        seen: set[int] = set()
        while todo:
            number_of = todo.pop()
            task = problem.tasks[number_of]
            long = task.seconds > _TIGHT_S
            ahead = task.run is not None and problem.runs[task.run].course is None
            if number_of not in seen and not ahead and not (long and task.attend is Attend.ALONE):
                seen.add(number_of)
                todo += () if long else before.get(number_of, ())
        found.append(min((plan.placed[task].start for task in seen), default=course.at))
    return tuple(found)


class _Sheet:
    def __init__(self, planned: Planned) -> None:
        self.problem, self.plan = planned.problem, planned.plan
        self.slack = planned.slack
        self.ids = task_ids(self.problem)
        self.numbers = task_numbers(planned)

    def sheet(self) -> RunSheet:
        first = min((course.at for course in self.problem.courses), default=self.problem.day[0])
        if not self.plan.placed:
            return RunSheet(first, (), ())
        lines = [*self._tasks(), *self._holds(), *self._ovens(), *self._courses_lines()]
        lines += self._people({self._day(line.at) for line in lines if line.kind is LineKind.TASK})
        lines.sort(key=_place)
        days = sorted({self._day(line.at) for line in lines})
        return RunSheet(
            first,
            tuple(RunDay(day, tuple(line for line in lines if self._day(line.at) == day)) for day in days),
            self._courses(),
        )

    def _day(self, second: int) -> int:
        return day_of(self.problem, second)

    # ------------------------------------------------------------ work

    def _tasks(self) -> Iterator[RunLine]:
        for placed in self.plan.placed:
            yield from self._task(self.problem.tasks[placed.task], placed)

    def _task(self, task: Task, placed: Placed) -> Iterator[RunLine]:
        wait = self._wait(placed)
        heat = self._heat(task, placed)
        run = None if task.run is None else self.problem.runs[task.run]
        course = None if run is None else run.course
        line = RunLine(
            placed.start,
            LineKind.TASK,
            self.numbers.get(placed.task, 0),
            self.ids[placed.task],
            placed.task,
            task.work,
            task.attend,
            task.text,
            task.what,
            task.run,
            course,
            placed.end,
            placed.hands,
            gear_of(self.problem, task, placed),
            heat,
            None,
            task.batch,
            task.assumed,
            wait,
            None if wait is None else wait + task.seconds,
        )
        yield line
        for place, offset in enumerate(task.touches, 1):
            if offset == 0:
                # Putting it there: the line that starts it says so.
                continue
            words = task.touch_words(place - 1)
            yield _brief(line, placed.start + offset, LineKind.TOUCH, f"touch.{place}", words)
        # What is taken out of the oven has a line that says so.
        told = task.attend is not Attend.HANDS and task.work is not Work.RESERVE and not task.unload
        told = told and self._somebody(placed.end)
        if told and not self._goes_on(placed):
            yield _brief(line, placed.end, LineKind.READY, "ready", "")

    def _holds(self) -> Iterator[RunLine]:
        """What goes into an oven to be held hot."""
        for place, (keep, units) in enumerate(zip(self.problem.keeps, self.plan.keeps, strict=False), 1):
            if keep.oven is None or not units:
                continue
            start, end = kept_from(self.problem, [placed.start for placed in self.plan.placed], keep)
            heat = next(
                heat_of(self.problem, row)
                for row in self.plan.settings
                if (row.pool, row.oven) == (keep.oven.pool, units[0]) and row.start <= start and end <= row.end
            )
            maker = self.problem.tasks[keep.first]
            course = None if maker.run is None else self.problem.runs[maker.run].course
            yield RunLine(
                start, LineKind.TOUCH, self.numbers.get(keep.first, 0), f"{self.ids[keep.first]}.touch.hold{place}", keep.first,
                text="hold", what=keep.what, run=maker.run, course=course, heat=heat, until=end
            )  # fmt: skip

    def _wait(self, placed: Placed) -> int | None:
        if self.slack is None or placed.task >= len(self.slack.tasks):
            return None
        return placed.start + self.slack.tasks[placed.task]

    def _somebody(self, second: int) -> bool:
        """Whether there is a cook to be told."""
        return any(turn.start <= second <= turn.end for turn in self.problem.hands)

    def _goes_on(self, placed: Placed) -> bool:
        """Whether the next task begins as this one ends, so that its line says that this one is done."""
        return any(
            link.before == placed.task and 0 <= self.plan.placed[link.after].start - placed.end < 60
            for link in self.problem.links
        )

    def _heat(self, task: Task, placed: Placed) -> Heat | None:
        if task.oven is None or placed.oven is None:
            return None
        for setting in self.plan.settings:
            same = setting.pool == task.oven.pool and setting.oven == placed.oven
            if same and setting.start <= placed.start and placed.end <= setting.end:
                return heat_of(self.problem, setting)
        pool = self.problem.pools[task.oven.pool]
        return Heat(pool.name, placed.oven + 1 if pool.number > 1 else None, task.oven.low, pool.fan)

    # ------------------------------------------------------------ ovens, people, courses

    def _ovens(self) -> Iterator[RunLine]:
        settings = sorted(self.plan.settings, key=lambda one: (one.pool, one.oven, one.start))
        for place, setting in enumerate(settings):
            heat = heat_of(self.problem, setting)
            last = settings[place - 1] if place and _same_oven(settings[place - 1], setting) else None
            following = settings[place + 1] if place + 1 < len(settings) else None
            goes_on = last is not None and setting.lit - last.end < _COLD_S
            if goes_on and last is not None and last.celsius == setting.celsius:
                pass
            elif goes_on and last is not None:
                falls = change_s(self.problem.pools[setting.pool], last.celsius, setting.celsius)
                # With what is held in it, it is still falling then.
                until = setting.start if setting.start - setting.lit >= falls else None
                yield RunLine(setting.lit, LineKind.CHANGED, heat=heat, was=heat_of(self.problem, last), until=until)
            else:
                yield RunLine(setting.lit, LineKind.LIT, heat=heat, until=setting.start)
            if following is None or not _same_oven(setting, following) or following.lit - setting.end >= _COLD_S:
                yield RunLine(setting.end, LineKind.OFF, heat=heat)

    def _people(self, days: set[int]) -> Iterator[RunLine]:
        """Who comes and goes, on days with work."""
        here, since = 0, -1
        for turn in self.problem.hands:
            if here and turn.start > since:
                yield from self._leave(since, days)
                here = 0
            if turn.number != here and self._day(turn.start) in days:
                kind = LineKind.HANDS if here else LineKind.ARRIVE
                yield RunLine(max(turn.start, 0), kind, hands=turn.number)
            here, since = turn.number, turn.end
        if here and since < self.problem.horizon:
            yield from self._leave(since, days)

    def _leave(self, second: int, days: set[int]) -> Iterator[RunLine]:
        if self._day(second - 1) in days:
            # A day's end at midnight is still that day's.
            yield RunLine(second if self._day(second) in days else second - 1, LineKind.LEAVE)

    def _courses(self) -> tuple[CourseLine, ...]:
        fires = fire_times(Planned(self.problem, self.plan))
        found = []
        for number, course in enumerate(self.problem.courses):
            plating = [
                placed.start
                for placed in self.plan.placed
                if (task := self.problem.tasks[placed.task]).work is Work.PLATE
                and task.run is not None
                and self.problem.runs[task.run].course == number
            ]
            slack = None if self.slack is None or number >= len(self.slack.courses) else self.slack.courses[number]
            found.append(
                CourseLine(
                    number, course.name, fires[number], min(plating, default=None), course.at, course.ends, slack
                )
            )
        return tuple(found)

    def _courses_lines(self) -> Iterator[RunLine]:
        for course in self._courses():
            if course.fire < course.at:
                yield RunLine(course.fire, LineKind.FIRE, course=course.course, text=course.name, until=course.at)
            until = course.ends if course.ends > course.at else None
            yield RunLine(course.at, LineKind.PASS, course=course.course, text=course.name, until=until)


def _brief(line: RunLine, at: int, kind: LineKind, part: str, text: str) -> RunLine:
    """A line on a task that is under way."""
    return RunLine(
        at, kind, line.number, f"{line.id}.{part}", line.task, text=text, what=line.what, run=line.run, course=line.course, heat=line.heat
    )  # fmt: skip


def _same_oven(one: Setting, other: Setting) -> bool:
    return (one.pool, one.oven) == (other.pool, other.oven)


def _place(line: RunLine) -> tuple[int, int, int, int]:
    first = _FIRST.index(line.kind) if line.kind in _FIRST else len(_FIRST) + (line.kind is not LineKind.FIRE)
    return (line.at, 99 if line.kind is LineKind.LEAVE else first, line.number, _ORDER.index(line.kind))
