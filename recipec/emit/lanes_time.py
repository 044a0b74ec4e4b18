"""The time axis of the lanes: strips of a few hours each, hours in which nothing begins or is watched cut out."""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass

from recipec.plan.timeline_types import Attend, Planned, PoolKind

_QUARTER = 15 * 60
_HOUR = 3600
_FOLD_S = 75 * 60
"""A longer time with nothing to see is cut out."""
_LONG_S = 2 * _HOUR
"""Work alone that is longer shows its ends only: a night in the fridge is no picture."""
_END_S = 10 * 60
LONGEST_S = 5 * _HOUR
"""The most of one strip."""


@dataclass(frozen=True, slots=True)
class Part:
    """A stretch of time without a cut; `at` is how many seconds of the strip lie before it."""

    start: int
    end: int
    at: int


@dataclass(frozen=True, slots=True)
class Strip:
    """Stretches of time side by side, a cut between any two."""

    parts: tuple[Part, ...]

    @property
    def seconds(self) -> int:
        """All of it, cuts left out."""
        return self.parts[-1].at + self.parts[-1].end - self.parts[-1].start


def strips(planned: Planned) -> tuple[Strip, ...]:
    """The strips of a plan, in order."""
    stretches = [piece for stretch in _stretches(_seen(planned)) for piece in _pieces(*stretch)]
    found: list[list[Part]] = []
    used = 0
    for start, end in stretches:
        if not found or used + end - start > LONGEST_S or found[-1][-1].end == start:
            found.append([])
            used = 0
        found[-1].append(Part(start, end, used))
        used += end - start
    return tuple(Strip(tuple(parts)) for parts in found)


def _seen(planned: Planned) -> Iterable[tuple[int, int]]:
    """All times at which there is something to see."""
    problem, plan = planned.problem, planned.plan
    for placed in plan.placed:
        task = problem.tasks[placed.task]
        burns = any(problem.pools[need.pool].kind is PoolKind.BURNERS for need in task.gear)
        if task.attend is not Attend.ALONE or task.oven is not None or burns or task.seconds <= _LONG_S:
            yield placed.start, placed.end
        else:
            yield placed.start, placed.start + _END_S
            yield placed.end - _END_S, placed.end
        yield from ((placed.start + touch, placed.start + touch + task.touch_s) for touch in task.touches)
    yield from ((setting.lit, setting.end) for setting in plan.settings)
    yield from ((course.at, max(course.ends, course.at + 60)) for course in problem.courses)


def _stretches(seen: Iterable[tuple[int, int]]) -> list[tuple[int, int]]:
    found: list[list[int]] = []
    for start, end in sorted(seen):
        start, end = start - start % _QUARTER, end + -end % _QUARTER
        if found and start - found[-1][1] <= _FOLD_S:
            found[-1][1] = max(found[-1][1], end)
        else:
            found.append([start, end])
    return [(start, end) for start, end in found]


def _pieces(start: int, end: int) -> list[tuple[int, int]]:
    """A stretch too long for one strip in equal pieces, to the half-hour."""
    number = -(-(end - start) // LONGEST_S)
    step = -(-(end - start) // number)
    step += -step % (2 * _QUARTER)
    return [(at, min(at + step, end)) for at in range(start, end, step)]
