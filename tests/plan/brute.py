"""All plans of a very small problem, one by one, minute by minute: what the solver says is compared with them. No code of the solver."""

from __future__ import annotations

from collections.abc import Iterator
from itertools import product

from recipec.plan.timeline_types import Attend, Keep, OvenNeed, PoolKind, Problem, Work
from tests.plan.timeline_check import COLD, _minutes, baked_before, needs_a_cook, there, throughout

MIN = 60


def shortest(problem: Problem) -> int | None:
    """The least seconds from first start to last end on the day, of all plans on whole minutes; None when there is no plan."""
    return min((_span(problem, starts) for starts in plans(problem)), default=None)


def plans(problem: Problem) -> Iterator[tuple[int, ...]]:
    """The starts of each plan. Ovens: one to a pool, one temperature for each task."""
    yield from _more(problem, (), [_alone(problem, index) for index in range(len(problem.tasks))])


def _more(problem: Problem, starts: tuple[int, ...], allowed: list[list[int]]) -> Iterator[tuple[int, ...]]:
    if len(starts) == len(problem.tasks):
        if _shared(problem, starts):
            yield starts
        return
    for start in allowed[len(starts)]:
        more = (*starts, start)
        if _waits(problem, more):
            yield from _more(problem, more, allowed)


def _alone(problem: Problem, index: int) -> list[int]:
    task = problem.tasks[index]
    found = []
    for start in range(0, problem.horizon - task.seconds + 1, MIN):
        end = start + task.seconds
        if (task.earliest or 0) > start or (task.latest is not None and end > task.latest):
            continue
        if needs_a_cook(problem, task) and not throughout(problem, start, end):
            continue
        if not there(problem, start) and not any(hours.end == start for hours in problem.hands):
            continue
        touched = [start + offset for offset in task.touches]
        if all(throughout(problem, one, one + task.touch_s) for one in touched) and _due(problem, index, end):
            found.append(start)
    return found


def _due(problem: Problem, index: int, end: int) -> bool:
    return all(
        end <= due.at and (due.stand_max is None or due.at - end <= due.stand_max)
        for due in problem.dues
        if due.task == index
    )


def _waits(problem: Problem, starts: tuple[int, ...]) -> bool:
    """Links among the tasks placed so far."""
    for link in problem.links:
        if max(link.before, link.after) < len(starts):
            wait = starts[link.after] - starts[link.before] - problem.tasks[link.before].seconds
            if wait < link.gap_min or (link.gap_max is not None and wait > link.gap_max):
                return False
    return True


def _shared(problem: Problem, starts: tuple[int, ...]) -> bool:
    """Hands, gear and ovens, minute by minute."""
    ends = [start + task.seconds for start, task in zip(starts, problem.tasks, strict=True)]
    for minute in range(0, problem.horizon, MIN):
        running = [index for index, start in enumerate(starts) if start <= minute < ends[index]]
        busy = sum(problem.tasks[index].attend is Attend.HANDS for index in running)
        for start, task in zip(starts, problem.tasks, strict=True):
            busy += sum(start + offset <= minute < start + offset + task.touch_s for offset in task.touches)
        if busy > sum(hours.number for hours in problem.hands if hours.start <= minute < hours.end):
            return False
        taken = [0] * len(problem.pools)
        for index in running:
            for need in problem.tasks[index].gear:
                taken[need.pool] += need.pieces
            oven = problem.tasks[index].oven
            if oven is not None:
                taken[oven.pool] += oven.shelves
        for keep in problem.keeps:
            begin, finish = _kept(problem, keep, starts, ends)
            if finish < begin:
                return False
            spared = keep.oven is not None and finish - begin <= keep.spare_s
            if begin <= minute < finish and not spared:
                taken[keep.need.pool] += keep.need.pieces
        for pool, pieces in zip(problem.pools, taken, strict=True):
            if pieces > (pool.shelves if pool.kind is PoolKind.OVEN else pool.number):
                return pool.kind is PoolKind.SPACE and not pool.number
    return _ovens(problem, starts, ends) and all(
        _held(problem, keep, keep.oven, starts, ends) for keep in problem.keeps if keep.oven is not None
    )


def _kept(problem: Problem, keep: Keep, starts: tuple[int, ...], ends: list[int]) -> tuple[int, int]:
    begin = ends[keep.first] if keep.from_end else starts[keep.first]
    if keep.course is not None:
        return begin, problem.courses[keep.course].at
    return begin, starts[keep.last] if keep.to_start else ends[keep.last]


def _held(problem: Problem, keep: Keep, need: OvenNeed, starts: tuple[int, ...], ends: list[int]) -> bool:
    """Held in the oven, at its one temperature: between other heats, or while that oven falls from what it was baked at."""
    begin, finish = _kept(problem, keep, starts, ends)
    if finish - begin <= keep.spare_s:
        return True
    if not throughout(problem, begin, finish):
        return False
    pool, before = problem.pools[need.pool], []
    for index, task in enumerate(problem.tasks):
        if task.oven is None or task.oven.low == need.low:
            continue
        if ends[index] <= begin:
            before.append((index, _minutes(pool, task.oven.low, need.low) * MIN))
        elif starts[index] < finish + _minutes(pool, need.low, task.oven.low) * MIN:
            return False
    cold = _minutes(pool, COLD, need.low) * MIN
    hot = begin >= cold and throughout(problem, begin - cold, begin)
    if hot and all(begin >= ends[index] + wanted for index, wanted in before):
        return True
    baked = baked_before(problem, keep.first)
    if baked is None or not throughout(problem, ends[baked], begin):
        return False
    at = problem.tasks[baked].oven
    return at is not None and at.low >= need.low and all(ends[index] <= ends[baked] for index, _ in before)


def _ovens(problem: Problem, starts: tuple[int, ...], ends: list[int]) -> bool:
    baked = [(index, task.oven) for index, task in enumerate(problem.tasks) if task.oven is not None]
    for (one, need), (other, want) in product(baked, baked):
        if one == other or need.pool != want.pool or need.low == want.low:
            continue
        if starts[one] < ends[other] and starts[other] < ends[one]:
            return False
        wanted = _minutes(problem.pools[need.pool], need.low, want.low) * MIN
        if ends[one] <= starts[other] < ends[one] + wanted:
            return False
    for index, need in baked:
        wanted = _minutes(problem.pools[need.pool], COLD, need.low) * MIN
        if not throughout(problem, max(0, starts[index] - wanted), starts[index]) or starts[index] < wanted:
            return False
    return True


def _span(problem: Problem, starts: tuple[int, ...]) -> int:
    counted = [
        (start, start + task.seconds)
        for start, task in zip(starts, problem.tasks, strict=True)
        if task.work not in (Work.RESERVE, Work.CLEAR) and problem.day[0] <= start < problem.day[1]
    ]
    return max(end for _, end in counted) - min(start for start, _ in counted) if counted else 0
