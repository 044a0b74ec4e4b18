"""The pull list: how much of each kind of gear is in use at once, and what of it the kitchen does not have."""

from __future__ import annotations

from typing import NamedTuple

from recipec.plan.run_sheet import piece_name
from recipec.plan.run_sheet_types import PullLine
from recipec.plan.timeline_types import Planned, Pool, PoolKind


class Taken(NamedTuple):
    """`pieces` of pool `pool` taken in [start, end), by these runs of dishes. `units` are their numbers, from 0, () for room; `task` is
    what is done in it, or None for what only stands there, as `what` says."""

    pool: int
    start: int
    end: int
    pieces: int
    units: tuple[int, ...]
    run: int | None
    task: int | None
    what: str


def pull_list(planned: Planned) -> tuple[PullLine, ...]:
    """What must be brought, then what the kitchen has, each in the order of the pools. Nothing of an impossible plan."""
    taken = uses(planned)
    lines = []
    for number, pool in enumerate(planned.problem.pools):
        mine = [use for use in taken if use.pool == number and use.start < use.end]
        if mine:
            lines.append(_line(pool, mine))
    return tuple(sorted(lines, key=lambda line: not line.bring))


def uses(planned: Planned) -> tuple[Taken, ...]:
    """Everything that is taken, when: by tasks, and between them."""
    problem, plan = planned.problem, planned.plan
    found: list[Taken] = []
    for placed in plan.placed:
        task = problem.tasks[placed.task]
        for need, units in zip(task.gear, placed.units, strict=True):
            found.append(
                Taken(need.pool, placed.start, placed.end, need.pieces, units, task.run, placed.task, task.what)
            )
        if task.oven is not None and placed.oven is not None:
            found.append(
                Taken(task.oven.pool, placed.start, placed.end, 1, (placed.oven,), task.run, placed.task, task.what)
            )
    for keep, units in zip(problem.keeps, plan.keeps, strict=False):
        first, last = plan.placed[keep.first], plan.placed[keep.last]
        start = first.end if keep.from_end else first.start
        end = last.start if keep.to_start else last.end
        end = end if keep.course is None else problem.courses[keep.course].at
        run = problem.tasks[keep.first].run
        what = keep.what or problem.tasks[keep.first].what
        if keep.oven is not None and not units:
            continue
        found.append(Taken(keep.need.pool, start, end, keep.need.pieces, units, run, None, what))
    return tuple(sorted(found, key=lambda use: (use.start, use.end, use.pool, use.units, use.what)))


def _line(pool: Pool, taken: list[Taken]) -> PullLine:
    room = pool.kind is PoolKind.SPACE
    peak, at = 0, taken[0].start
    for moment in sorted({use.start for use in taken}):
        now = [use for use in taken if use.start <= moment < use.end]
        # A piece may be named twice at one moment, by a task and by what stays in it; it is one piece.
        used = sum(use.pieces for use in now) if room else len({unit for use in now for unit in use.units})
        if used > peak:
            peak, at = used, moment
    own = None if room and pool.number == 0 else pool.number - pool.brought
    bring = 0 if own is None or room else max(peak - own, 0)
    runs = tuple(dict.fromkeys(use.run for use in taken if use.run is not None))
    what = tuple(dict.fromkeys(use.what for use in taken if use.what))
    return PullLine(pool.key, piece_name(pool), peak, own, bring, at, runs, room, what)
