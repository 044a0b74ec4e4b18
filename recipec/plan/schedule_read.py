"""From starts to a plan: which pair of hands does what, which piece of gear is which, and when an oven is set to what."""

from __future__ import annotations

from collections.abc import Sequence
from typing import NamedTuple

from recipec.plan.schedule_bounds import COLD, change_s, kept_from, stretches
from recipec.plan.schedule_goals import Found
from recipec.plan.timeline_types import Attend, Placed, PoolKind, Problem, Setting


class Stay(NamedTuple):
    """Something taken in [start, end): by `task`, for its need (or touch) `place`; a keep has `task` -1 and its own place."""

    start: int
    end: int
    task: int
    place: int
    pieces: int
    run: int | None


def placed(problem: Problem, found: Found) -> tuple[Placed, ...] | None:
    """All tasks in their places; None when hands that come and go can't be shared out so."""
    who = _who(problem, found)
    if who is None:
        return None
    units = pieces(problem, found.starts)
    return tuple(
        Placed(
            index,
            found.starts[index],
            found.starts[index] + task.seconds,
            who.get((index, -1), 0),
            tuple(units[index, place] for place in range(len(task.gear))),
            found.ovens[index],
            tuple(who.get((index, place), 0) for place in range(len(task.touches)))
            if task.attend is not Attend.HANDS
            else (),
        )
        for index, task in enumerate(problem.tasks)
    )


def kept(problem: Problem, found: Found) -> tuple[tuple[int, ...], ...]:
    """The pieces of each keep."""
    units = pieces(problem, found.starts)
    return tuple(
        units[-1, index] if keep.oven is None else tuple(hold[0] for hold in found.holds[index : index + 1] if hold)
        for index, keep in enumerate(problem.keeps)
    )


def _works(problem: Problem, starts: Sequence[int]) -> list[Stay]:
    """Everything that wants a pair of hands, in order of time; the place of a task's own work is -1."""
    found = []
    for index, (start, task) in enumerate(zip(starts, problem.tasks, strict=True)):
        if task.attend is Attend.HANDS:
            found.append(Stay(start, start + task.seconds, index, -1, 1, task.run))
        else:
            found += [
                Stay(start + offset, start + offset + task.touch_s, index, place, 1, task.run)
                for place, offset in enumerate(task.touches)
            ]
    return sorted(found, key=lambda stay: (stay.start, stay.end, stay.task, stay.place))


def _who(problem: Problem, found: Found) -> dict[tuple[int, int], int] | None:
    """Pair of hands for each (task, touch): the one that was at the same dish last, else the one that has been free the shortest of
    those who stay, so that the first pair is the one that is always there."""
    works = _works(problem, found.starts)
    if any(found.pairs):
        return {(stay.task, stay.place): found.pairs[stay.task][max(stay.place, 0)] for stay in works}
    most = max((hours.number for hours in problem.hands), default=0)
    free = [0] * (most + 1)
    last: list[int | None] = [-1] * (most + 1)
    who = {}
    for stay in works:
        able = [
            pair
            for pair in range(1, most + 1)
            if (free[pair] <= stay.start or stay.start == stay.end) and _there(problem, pair, stay.start, stay.end)
        ]
        if not able:
            return None
        pair = min(able, key=lambda one: (last[one] != stay.run, one))
        who[stay.task, stay.place] = pair
        free[pair] = max(free[pair], stay.end)
        last[pair] = stay.run
    return who


def _there(problem: Problem, pair: int, start: int, end: int) -> bool:
    here = start
    for hours in problem.hands:
        if hours.start <= here < hours.end and hours.number >= pair:
            here = hours.end
    return here >= end and (here > start or start == end)


def pieces(problem: Problem, starts: Sequence[int]) -> dict[tuple[int, int], tuple[int, ...]]:
    """Pieces of gear for each (task, need) and for each (-1, keep): the lowest numbers that are free, so the kitchen's own before those
    brought. Room is not numbered: ()."""
    found: dict[tuple[int, int], tuple[int, ...]] = {}
    by_pool: dict[int, list[Stay]] = {}
    for index, (start, task) in enumerate(zip(starts, problem.tasks, strict=True)):
        for place, need in enumerate(task.gear):
            stay = Stay(start, start + task.seconds, index, place, need.pieces, task.run)
            by_pool.setdefault(need.pool, []).append(stay)
    for index, keep in enumerate(problem.keeps):
        start, end = kept_from(problem, starts, keep)
        stay = Stay(start, end, -1, index, keep.need.pieces, None)
        by_pool.setdefault(keep.need.pool, []).append(stay)
    for pool, stays in by_pool.items():
        if problem.pools[pool].kind in (PoolKind.SPACE, PoolKind.OVEN):
            found.update({(stay.task, stay.place): () for stay in stays})
            continue
        free = [0] * problem.pools[pool].number
        for stay in sorted(stays):
            able = [number for number, at in enumerate(free) if at <= stay.start][: stay.pieces]
            found[stay.task, stay.place] = tuple(able)
            for number in able:
                free[number] = max(free[number], stay.end)
    return found


def settings(problem: Problem, found: Found) -> tuple[Setting, ...]:
    """When each oven is at what, in order of oven and time. It is lit in time to be hot at the first use, but not before the cook is there
    nor before what was in it at another temperature is out; while nothing else wants it, it stays as it is."""
    uses: dict[tuple[int, int], list[tuple[int, int, int]]] = {}
    for index, task in enumerate(problem.tasks):
        oven, celsius = found.ovens[index], found.settings[index]
        if task.oven is not None and oven is not None and celsius is not None:
            start = found.starts[index]
            uses.setdefault((task.oven.pool, oven), []).append((start, start + task.seconds, celsius))
    for keep, hold in zip(problem.keeps, found.holds, strict=False):
        if keep.oven is not None and hold is not None and (time := kept_from(problem, found.starts, keep))[0] < time[1]:
            uses.setdefault((keep.oven.pool, hold[0]), []).append((*time, hold[1]))
    made: list[Setting] = []
    for (pool, oven), row in sorted(uses.items()):
        last: Setting | None = None
        for start, end, celsius in sorted(row):
            fresh = last is None or _stretch(problem, last.end) != _stretch(problem, start)
            if last is not None and not fresh and last.celsius == celsius:
                last = made[-1] = _longer(last, end)
                continue
            heating = change_s(problem.pools[pool], COLD, celsius)
            if last is None or fresh:
                lit = start - heating
            else:
                lit = max(last.end, start - max(heating, change_s(problem.pools[pool], last.celsius, celsius)))
            last = Setting(pool, oven, celsius, lit, start, end)
            made.append(last)
    return tuple(made)


def _longer(setting: Setting, end: int) -> Setting:
    return Setting(setting.pool, setting.oven, setting.celsius, setting.lit, setting.start, max(setting.end, end))


def _stretch(problem: Problem, second: int) -> int:
    """Which of the cook's hours a moment lies in or follows."""
    return sum(low <= second for low, _ in stretches(problem))
