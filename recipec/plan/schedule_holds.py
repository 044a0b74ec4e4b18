"""What is held hot in an oven between tasks: a shelf of one oven, kept at a holding temperature for as long as the wait takes.

It is optional: a wait of a few minutes needs no oven. Where what is held was baked in that oven, and nothing came between that was in there
longer, it stays in, or goes back in when it has rested, while the oven falls: then there is no change-over to wait for, and the oven's
next use still waits for its own from both. The rest is as it is between tasks.
"""

from __future__ import annotations

from collections.abc import Sequence
from itertools import combinations
from typing import TYPE_CHECKING, NamedTuple

from recipec.plan.schedule_bounds import COLD, came_out_of, change_s, holding_of, stretches
from recipec.plan.schedule_model import Model, Part, PartKind, Use
from recipec.plan.timeline_types import Keep, Pool

if TYPE_CHECKING:
    from ortools.sat.python import cp_model


class Held(NamedTuple):
    """A hold of `Problem.keeps`: whether an oven is taken for it, which one, and its setting (tenths of °C)."""

    used: cp_model.IntVar
    ovens: Sequence[cp_model.IntVar]
    setting: cp_model.IntVar | int


class Spot(NamedTuple):
    """A time in an oven. `here` are literals without which it does not count; `came` one under which the oven need not change for it
    where all else was out by `left`."""

    start: cp_model.LinearExpr
    end: cp_model.LinearExpr
    ovens: Sequence[cp_model.IntVar]
    setting: cp_model.IntVar | int
    here: Sequence[cp_model.IntVar]
    came: cp_model.IntVar | None
    left: cp_model.LinearExpr


def spots_in(model: Model, pool: int, rows: Sequence[list[Use]]) -> list[Spot]:
    """What is held in the ovens of a pool: added to the program, to what each oven of it has room for, and to `Model.held`."""
    return [
        _held(model, index, keep, rows)
        for index, keep in enumerate(model.problem.keeps)
        if keep.oven is not None and keep.oven.pool == pool and keep.need.pieces
    ]


def keep_apart(model: Model, pool: int, spots: Sequence[Spot]) -> None:
    """Time for the change-over between what is held and all else that goes into those ovens."""
    baked = [task for task in model.oven if (need := model.problem.tasks[task].oven) is not None and need.pool == pool]
    for spot in spots:
        for task in baked:
            start, end = model.start[task], model.end(task)
            guards = model.when(Part(PartKind.OVEN, task))
            other = Spot(start, end, model.oven[task], model.setting[task], guards, None, start)
            _apart(model, model.problem.pools[pool], other, spot)
    for one, other in combinations(spots, 2):
        _apart(model, model.problem.pools[pool], one, other)


def _held(model: Model, index: int, keep: Keep, rows: Sequence[list[Use]]) -> Spot:
    program, need = model.model, keep.oven
    assert need is not None
    pool = model.problem.pools[need.pool]
    start, until = model.ends(keep)
    end = model.one * until if isinstance(until, int) else until
    used = program.new_bool_var("")
    guards = model.when(Part(PartKind.KEEP, index))
    program.add(end - start <= model.units(keep.spare_s)).only_enforce_if([used.negated(), *guards])
    ovens = [used] if len(rows) == 1 else [program.new_bool_var("") for _ in rows]
    if len(rows) != 1:
        program.add(sum(ovens) == used)
    known = holding_of(model.problem, need)
    setting: cp_model.IntVar | int = known[0]
    if len(known) > 1:
        setting = program.new_int_var_from_domain(model.cp.Domain.from_values(list(known)), "")
    baked = came_out_of(model.problem, keep)
    left = start if baked is None else model.end(baked)
    came = None if baked is None else _came(model, baked, ovens, setting)
    spot = Spot(start, end, ovens, setting, [used], came, left)
    _in_hours(model, pool, spot, max(known))
    for row, on in zip(rows, ovens, strict=True):
        size = program.new_int_var(0, model.units(model.problem.horizon), "")
        row.append(Use(program.new_optional_interval_var(start, size, end, on, ""), need.shelves))
    model.held[index] = Held(used, ovens, setting)
    return spot


def _came(
    model: Model, baked: int, ovens: Sequence[cp_model.IntVar], setting: cp_model.IntVar | int
) -> cp_model.IntVar:
    """A literal that is true only where it is held in the oven it was baked in, and that oven need not get hotter."""
    came = model.model.new_bool_var("")
    model.model.add(setting <= model.setting[baked]).only_enforce_if(came)
    model.model.add(sum(ovens) == 1).only_enforce_if(came)
    if len(ovens) > 1:
        for mine, first in zip(ovens, model.oven[baked], strict=True):
            model.model.add(mine == first).only_enforce_if(came)
    return came


def _in_hours(model: Model, pool: Pool, spot: Spot, hottest: int) -> None:
    """A cook is there all through, and the oven has time to get hot after the cook came."""
    program, here = model.model, spot.here
    inside = []
    heating = model.units(change_s(pool, COLD, hottest))
    for hours in stretches(model.problem):
        lit = program.new_bool_var("")
        inside.append(lit)
        low, high = model.units(hours.low), model.units(hours.high)
        program.add(spot.start >= low).only_enforce_if([lit, *here])
        program.add(spot.end <= high).only_enforce_if([lit, *here])
        if spot.came is None:
            program.add(spot.start >= low + heating).only_enforce_if([lit, *here])
        else:
            program.add(spot.start >= low + heating).only_enforce_if([lit, spot.came.negated(), *here])
            program.add(spot.left > low).only_enforce_if([lit, spot.came, *here])
    program.add_bool_or([*inside, *(one.negated() for one in here)])


def _apart(model: Model, pool: Pool, one: Spot, other: Spot) -> None:
    """As between tasks: one setting at one time, else time to change it between."""
    program = model.model
    if isinstance(one.setting, int) and isinstance(other.setting, int) and one.setting == other.setting:
        return
    here: list[cp_model.LiteralT] = [*one.here, *other.here]
    if pool.number > 1:
        here.append(model.together(one.ovens, other.ovens))
    change: tuple[cp_model.LinearExpr | int, cp_model.LinearExpr | int]
    if isinstance(one.setting, int) and isinstance(other.setting, int):
        change = (
            model.units(change_s(pool, one.setting, other.setting)),
            model.units(change_s(pool, other.setting, one.setting)),
        )
    else:
        equal = program.new_bool_var("")
        program.add(one.setting == other.setting).only_enforce_if(equal)
        here.append(equal.negated())
        change = (
            model.change(pool.heats, pool.cools, other.setting, one.setting),
            model.change(pool.heats, pool.cools, one.setting, other.setting),
        )
    forward = program.new_bool_var("")
    for before, after, wait, lit in ((one, other, change[0], forward), (other, one, change[1], forward.negated())):
        if after.came is None:
            program.add(after.start >= before.end + wait).only_enforce_if([lit, *here])
            continue
        program.add(after.left >= before.end).only_enforce_if([lit, after.came, *here])
        program.add(after.start >= before.end + wait).only_enforce_if([lit, after.came.negated(), *here])
