"""When each task may begin at all: hours of the kitchen, what is fixed from outside, and the chain of waits. Whole seconds, no solver.

Conventions of this page, which the check of plans (`tests/plan/timeline_check.py`) holds too, by code of its own:

- A task that wants hands lies whole within hours that join each other. One within reach, or in gear that may not run alone, as well.
- A task that needs nobody is begun by somebody: it starts while a cook is there, or in the moment the cook leaves.
- An oven's change of temperature, and heating it from cold (20 °C), counts in whole minutes, rounded up.
"""

from __future__ import annotations

import math
from collections.abc import Iterable, Sequence
from itertools import pairwise
from typing import NamedTuple

from recipec.plan.timeline_types import Attend, Keep, OvenNeed, Pool, PoolKind, Problem, Task

COLD = 200  # tenths of a degree Celsius: a kitchen, and an oven that is off
HOUR = 3600
DAY = 24 * HOUR
_MINUTE = 60
_DIAL = 50  # tenths of a degree: settings within a tolerance are tried in such steps, and at its ends


class Range(NamedTuple):
    """Both ends belong to it."""

    low: int
    high: int


def change_s(pool: Pool, old: int, new: int) -> int:
    """Seconds an oven of the pool takes from one temperature to another (tenths of °C); 0 where its rate is not known."""
    rate = pool.heats if new > old else pool.cools
    return -(-abs(new - old) // rate) * _MINUTE if rate else 0


def settings_of(problem: Problem, task: Task) -> tuple[int, ...]:
    """What its oven may be set to, tenths of °C, lowest first: the ends of its tolerance, whole steps of a dial between, and the ends of
    what else goes in such ovens where those lie between. () when no oven of the kitchen goes so far."""
    return () if task.oven is None else settings_for(problem, task.oven)


def holding_of(problem: Problem, need: OvenNeed) -> tuple[int, ...]:
    """What an oven may be set to for holding: the middle of its range, and what else goes in such ovens where that lies in it."""
    others = [task.oven for task in problem.tasks] + [keep.oven for keep in problem.keeps]
    ends = {end for one in others if one is not None and one.pool == need.pool for end in (one.low, one.high)}
    return tuple(sorted({(need.low + need.high) // 2} | {end for end in ends if need.low <= end <= need.high}))


def settings_for(problem: Problem, need: OvenNeed) -> tuple[int, ...]:
    """The same of a need."""
    limit = problem.pools[need.pool].up_to
    high = need.high if limit is None else min(need.high, limit)
    tried = {need.low, high, *range(-(-need.low // _DIAL) * _DIAL, high + 1, _DIAL)}
    for other in problem.tasks:
        if other.oven is not None and other.oven.pool == need.pool:
            tried |= {other.oven.low, other.oven.high}
    return tuple(sorted(one for one in tried if need.low <= one <= high))


def came_out_of(problem: Problem, keep: Keep) -> int | None:
    """The task that had in its oven, last before, what is now held in such an oven: what made it, or what it only rested after."""
    if keep.oven is None or not keep.from_end:
        return None
    task = keep.first
    for _ in problem.tasks:
        own = problem.tasks[task]
        if own.oven is not None:
            return task if own.oven.pool == keep.oven.pool else None
        before = [link.before for link in problem.links if link.after == task]
        if own.attend is not Attend.ALONE or own.gear or len(before) != 1:
            return None
        task = before[0]
    return None


def kept_from(problem: Problem, starts: Sequence[int], keep: Keep) -> tuple[int, int]:
    """From when and until when something is kept."""
    start = starts[keep.first] + (problem.tasks[keep.first].seconds if keep.from_end else 0)
    if keep.course is not None:
        return start, problem.courses[keep.course].at
    return start, starts[keep.last] + (0 if keep.to_start else problem.tasks[keep.last].seconds)


def stretches(problem: Problem) -> tuple[Range, ...]:
    """Times with a cook on site without a break, [low, high)."""
    found: list[Range] = []
    for hours in problem.hands:
        if hours.number < 1 or hours.end <= hours.start:
            continue
        if found and found[-1].high == hours.start:
            found[-1] = Range(found[-1].low, hours.end)
        else:
            found.append(Range(hours.start, hours.end))
    return tuple(found)


def hands_leave(problem: Problem) -> bool:
    """Whether hands come, and hands leave while others stay: then it must be told who does what to know what fits."""
    numbers = [hours.number for hours in problem.hands]
    return any(new < old for old, new in pairwise(numbers)) and any(new > old for old, new in pairwise(numbers))


def watched(problem: Problem, task: Task) -> bool:
    """Whether a cook has to be on site all through: by its attendance, or since some of its gear may not run alone."""
    if task.attend is not Attend.ALONE:
        return True
    used = [need.pool for need in task.gear] + ([task.oven.pool] if task.oven else [])
    return any(not problem.pools[pool].alone and problem.pools[pool].kind is not PoolKind.SPACE for pool in used)


def starts(problem: Problem, task: Task) -> tuple[Range, ...]:
    """When it may start for the hours of the cook and of its oven's heating, without `earliest` and `latest`."""
    heating = 0
    if task.oven is not None:
        settings = settings_of(problem, task)
        if not settings:
            return ()
        heating = change_s(problem.pools[task.oven.pool], COLD, settings[0])
    long = task.seconds if watched(problem, task) else 0
    ends = [long, *(offset + task.touch_s for offset in task.touches)]
    if long or not task.touches:
        within = [Range(low + heating, high - max(ends)) for low, high in stretches(problem)]
        return clip(within, 0, problem.horizon - task.seconds)
    # Each touch may fall into hours of its own.
    allowed: Sequence[Range] = clip(
        [Range(low + heating, high) for low, high in stretches(problem)], 0, problem.horizon
    )
    for offset in task.touches:
        hours = [Range(low - offset, high - offset - task.touch_s) for low, high in stretches(problem)]
        allowed = [part for one in hours for part in clip(allowed, one.low, one.high)]
    return clip(sorted(allowed), 0, problem.horizon - task.seconds)


def fixed(problem: Problem, task: Task) -> Range:
    """When it may start for what is fixed from outside."""
    return Range(
        0 if task.earliest is None else task.earliest,
        (problem.horizon if task.latest is None else task.latest) - task.seconds,
    )


def clip(ranges: Iterable[Range], low: int, high: int) -> tuple[Range, ...]:
    """The parts within [low, high]."""
    return tuple(
        Range(max(low, one.low), min(high, one.high)) for one in ranges if max(low, one.low) <= min(high, one.high)
    )


def narrowed(problem: Problem, soft: bool = False) -> list[tuple[Range, ...]] | None:
    """When each task may start, by hours, links and dues together; None where some task has no time left. `soft`: no hold counts."""
    allowed = [clip(starts(problem, task), *fixed(problem, task)) for task in problem.tasks]
    for due in problem.dues:
        seconds = problem.tasks[due.task].seconds
        low = 0 if due.stand_max is None or soft else due.at - due.stand_max - seconds
        allowed[due.task] = clip(allowed[due.task], low, due.at - seconds)
    # A chain is no longer than there are tasks; a ring of waits ends here too.
    for _ in range(len(problem.tasks) + 2):
        if not all(allowed):
            return None
        before = list(allowed)
        for link in problem.links:
            _pull(problem, allowed, link.before, link.after, link.gap_min, None if soft else link.gap_max)
            if not allowed[link.before] or not allowed[link.after]:
                return None
        if allowed == before:
            return allowed
    return None


def _pull(
    problem: Problem, allowed: list[tuple[Range, ...]], one: int, other: int, gap_min: int, gap_max: int | None
) -> None:
    seconds = problem.tasks[one].seconds
    first, last = allowed[one], allowed[other]
    latest = problem.horizon if gap_max is None else first[-1].high + seconds + gap_max
    allowed[other] = clip(last, first[0].low + seconds + gap_min, latest)
    if allowed[other]:
        earliest = -problem.horizon if gap_max is None else allowed[other][0].low - seconds - gap_max
        allowed[one] = clip(first, earliest, allowed[other][-1].high - seconds - gap_min)


def unit_s(problem: Problem) -> int:
    """The greatest number of seconds of which every figure is a multiple. All of a plan can be such multiples too: none better is lost."""
    figures = [*problem.day, problem.horizon, HOUR]
    for task in problem.tasks:
        figures += [task.seconds, task.earliest or 0, task.latest or 0]
        if task.touches:
            figures += [*task.touches, task.touch_s]
        if task.oven is not None:
            figures.append(_MINUTE)
    for link in problem.links:
        figures += [link.gap_min, link.gap_max or 0]
    figures += [keep.spare_s for keep in problem.keeps]
    for due in problem.dues:
        figures += [due.at, due.stand_max or 0]
    figures += [figure for hours in problem.hands for figure in (hours.start, hours.end)]
    figures += [figure for course in problem.courses for figure in (course.at, course.ends)]
    return math.gcd(*figures) or 1
