"""How much later things may go, all else as planned: by the same hands, on the same pieces of gear, in the same oven. No search."""

from __future__ import annotations

from collections.abc import Iterable
from typing import NamedTuple

from recipec.plan.late import celsius_of
from recipec.plan.schedule_bounds import came_out_of, change_s, starts
from recipec.plan.timeline_types import Attend, Plan, PoolKind, Problem, Slack, Work


class _Use(NamedTuple):
    """A stretch of time on something, by `task`; a keep's two ends belong to two tasks, `first` and `task`. `baked` is the task that had
    in this very oven what is held in it now."""

    start: int
    end: int
    first: int
    task: int
    pieces: int
    celsius: int = 0
    baked: int | None = None


def slack(problem: Problem, plan: Plan) -> Slack:
    """Of each course and of each task. All are 0 or more."""
    if not plan.placed:
        return Slack((), ())
    rows = _rows(problem, plan)
    return Slack(
        tuple(_course(problem, plan, rows, course) for course in range(len(problem.courses))),
        tuple(_room(problem, plan, rows, {task}, None) for task in range(len(problem.tasks))),
    )


def _course(problem: Problem, plan: Plan, rows: _Rows, course: int) -> int:
    learnt = _learnt(problem, plan, course)
    work = {
        one.task
        for one in plan.placed
        if (run := problem.tasks[one.task].run) is not None
        and problem.runs[run].course == course
        and one.start >= learnt
    }
    return _room(problem, plan, rows, work, course)


def _learnt(problem: Problem, plan: Plan, course: int) -> int:
    """When the course before went out; for the first, when its plating begins, else an instant before it is due."""
    before = [one.at for one in problem.courses if one.at < problem.courses[course].at]
    if before:
        return max(before)
    plating = [
        one.start
        for one in plan.placed
        if problem.tasks[one.task].work is Work.PLATE
        and (run := problem.tasks[one.task].run) is not None
        and problem.runs[run].course == course
    ]
    return min(plating, default=problem.courses[course].at)


class _Rows(NamedTuple):
    """Uses by what they are of: one pair of hands or one piece each; ovens; rooms with how much they hold, less than nothing for any."""

    single: tuple[tuple[_Use, ...], ...]
    ovens: tuple[tuple[int, tuple[_Use, ...]], ...]
    rooms: tuple[tuple[int, tuple[_Use, ...]], ...]


def _rows(problem: Problem, plan: Plan) -> _Rows:
    single: dict[tuple[str, int, int], list[_Use]] = {}
    ovens: dict[tuple[int, int], list[_Use]] = {}
    rooms: dict[int, list[_Use]] = {}

    def take(pool: int, units: Iterable[int], use: _Use) -> None:
        if problem.pools[pool].kind is PoolKind.SPACE:
            rooms.setdefault(pool, []).append(use)
        for unit in units:
            single.setdefault(("gear", pool, unit), []).append(use)

    for one in plan.placed:
        task = problem.tasks[one.task]
        whole = _Use(one.start, one.end, one.task, one.task, 1)
        if task.attend is Attend.HANDS:
            single.setdefault(("hands", one.hands, 0), []).append(whole)
        for offset, pair in zip(task.touches, one.touched, strict=False):
            start = one.start + offset
            touch = whole._replace(start=start, end=start + task.touch_s)
            single.setdefault(("hands", pair, 0), []).append(touch)
        for need, units in zip(task.gear, one.units, strict=True):
            take(need.pool, units, whole._replace(pieces=need.pieces))
        celsius = celsius_of(plan, one.task)
        if task.oven is not None and one.oven is not None and celsius is not None:
            use = whole._replace(pieces=task.oven.shelves, celsius=celsius)
            ovens.setdefault((task.oven.pool, one.oven), []).append(use)
    for keep, units in zip(problem.keeps, plan.keeps, strict=True):
        first, last = plan.placed[keep.first], plan.placed[keep.last]
        start, end = first.end if keep.from_end else first.start, last.start if keep.to_start else last.end
        end = end if keep.course is None else problem.courses[keep.course].at
        use = _Use(start, end, keep.first, keep.last, keep.need.pieces)
        if keep.oven is None:
            take(keep.need.pool, units, use)
            continue
        for oven in units:
            celsius, baked = _held_at(plan, keep.oven.pool, oven, start, end), came_out_of(problem, keep)
            baked = baked if baked is not None and plan.placed[baked].oven == oven else None
            ovens.setdefault((keep.oven.pool, oven), []).append(use._replace(celsius=celsius, baked=baked))
    return _Rows(
        tuple(tuple(row) for row in single.values()),
        tuple((pool, tuple(row)) for (pool, _), row in ovens.items()),
        tuple((problem.pools[pool].number, tuple(row)) for pool, row in rooms.items()),
    )


def _held_at(plan: Plan, pool: int, oven: int, start: int, end: int) -> int:
    """What an oven is set to for something held in it, tenths of °C."""
    rows = (one for one in plan.settings if (one.pool, one.oven) == (pool, oven))
    return next((one.celsius for one in rows if one.start <= start and end <= one.end), 0)


def _room(problem: Problem, plan: Plan, rows: _Rows, moved: set[int], course: int | None) -> int:
    """How much later these tasks may all go; with a `course`, that goes with them."""
    if not moved:
        return 0
    limits = [_own(problem, plan, task, course) for task in sorted(moved)]
    for link in problem.links:
        wait = plan.placed[link.after].start - plan.placed[link.before].end
        if link.before in moved and link.after not in moved:
            limits.append(wait - link.gap_min)
        elif link.after in moved and link.before not in moved and link.gap_max is not None:
            limits.append(link.gap_max - wait)
    for due in problem.dues:
        stands = due.at - plan.placed[due.task].end
        if due.task in moved and due.course != course:
            limits.append(stands)
        elif due.task not in moved and due.course == course and due.stand_max is not None:
            limits.append(due.stand_max - stands)
    for row in rows.single:
        limits += _before_next(row, moved)
    for pool, row in rows.ovens:
        limits += _before_change(problem, pool, row, moved)
        limits += _while_it_holds(problem.pools[pool].shelves, row, moved)
    for number, row in rows.rooms:
        if number:
            limits += _while_it_holds(number, row, moved)
    return max(0, min(limits))


def _own(problem: Problem, plan: Plan, index: int, course: int | None) -> int:
    """What hours and bounds from outside leave; plating goes with its course."""
    task, place = problem.tasks[index], plan.placed[index]
    room = next((one.high - place.start for one in starts(problem, task) if one.low <= place.start <= one.high), 0)
    if task.latest is not None and not (course is not None and task.work is Work.PLATE):
        room = min(room, task.latest - place.end)
    return room


def _before_next(row: Iterable[_Use], moved: set[int]) -> Iterable[int]:
    """On one piece: until what stays begins. A keep that begins with what is moved and ends with what stays, shrinks."""
    uses = tuple(row)
    for use in uses:
        if use.task in moved:
            yield from (other.start - use.end for other in uses if other.first not in moved and other.start >= use.end)
        elif use.first in moved:
            yield use.end - use.start


def _before_change(problem: Problem, pool: int, row: Iterable[_Use], moved: set[int]) -> Iterable[int]:
    """In one oven: until it must change for what stays."""
    uses = tuple(row)
    for use in uses:
        if use.task in moved:
            yield from (
                other.start - change_s(problem.pools[pool], use.celsius, other.celsius) - use.end
                for other in uses
                # What was baked in it is held in it while it falls.
                if other.task not in moved
                and other.start >= use.end
                and other.celsius != use.celsius
                and other.baked != use.task
            )


def _while_it_holds(number: int, row: Iterable[_Use], moved: set[int]) -> Iterable[int]:
    """In one room: until what stays fills it so that what is moved finds none."""
    uses = tuple(row)
    going = sum(use.pieces for use in uses if use.task in moved)
    for use in uses:
        if use.task not in moved:
            continue
        for other in uses:
            if other.task in moved or other.start < use.end:
                continue
            there = sum(one.pieces for one in uses if one.task not in moved and one.start <= other.start < one.end)
            if there + going > number:
                yield other.start - use.end
