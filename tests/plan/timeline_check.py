"""Re-checks a plan against its problem without the solver, its model or its reckoning: by rows of moments, from the texts of the types.

`check(problem, plan)` says in words what is wrong. Every test that has a plan calls it.
"""

from __future__ import annotations

import math
from collections.abc import Iterable
from fractions import Fraction
from itertools import pairwise

from recipec.plan.timeline_types import (
    Attend,
    Placed,
    Plan,
    Pool,
    PoolKind,
    Problem,
    Setting,
    Status,
    Task,
    Work,
)

COLD = 200


def check(problem: Problem, plan: Plan) -> None:
    """Raises AssertionError, in words, where the plan breaks what the problem demands or says of itself what is not so."""
    if plan.status in (Status.IMPOSSIBLE, Status.UNKNOWN):
        assert plan.placed == (), "there is no plan, yet something is placed"
        assert plan.status is Status.UNKNOWN or plan.collisions, "there is no plan, and nothing says why"
        return
    assert [one.task for one in plan.placed] == list(range(len(problem.tasks))), "tasks are left out or out of order"
    for one in plan.placed:
        _own(problem, one)
    _waits(problem, plan)
    _pairs(problem, plan)
    _gear(problem, plan)
    for index, pool in enumerate(problem.pools):
        if pool.kind is PoolKind.OVEN:
            for oven in range(pool.number):
                _oven(problem, plan, index, oven)
    if plan.goals:
        _goals(problem, plan)


def _task(problem: Problem, index: int) -> str:
    task = problem.tasks[index]
    return f"task {index} ({task.what or task.work})"


def there(problem: Problem, second: int, pair: int = 1) -> bool:
    """Whether this pair of hands is on site in the second that begins then."""
    return any(hours.start <= second < hours.end and hours.number >= pair for hours in problem.hands)


def throughout(problem: Problem, start: int, end: int, pair: int = 1) -> bool:
    """Whether this pair of hands is there from start to end. It can only change where hours begin or end."""
    moments = {start} | {edge for hours in problem.hands for edge in (hours.start, hours.end) if start < edge < end}
    return all(there(problem, moment, pair) for moment in moments) if start < end else True


def needs_a_cook(problem: Problem, task: Task) -> bool:
    if task.attend is not Attend.ALONE:
        return True
    pools = [problem.pools[need.pool] for need in task.gear]
    if task.oven is not None:
        pools.append(problem.pools[task.oven.pool])
    return any(pool.kind is not PoolKind.SPACE and not pool.alone for pool in pools)


def _own(problem: Problem, one: Placed) -> None:
    task, name = problem.tasks[one.task], _task(problem, one.task)
    assert one.end - one.start == task.seconds, f"{name} is not as long as it takes"
    assert one.start >= 0 and one.end <= problem.horizon, f"{name} is outside all time"
    assert task.earliest is None or one.start >= task.earliest, f"{name} is too early"
    assert task.latest is None or one.end <= task.latest, f"{name} is too late"
    if needs_a_cook(problem, task):
        assert throughout(problem, one.start, one.end), f"{name} goes on with no cook there"
    else:
        begun = there(problem, one.start) or any(hours.end == one.start for hours in problem.hands)
        assert begun, f"{name} begins with no cook there"
    if task.unload:
        assert task.touches and task.touches[-1] + task.touch_s == task.seconds, f"{name} is not taken out as it ends"
    for offset in task.touches:
        touched = throughout(problem, one.start + offset, one.start + offset + task.touch_s)
        assert touched, f"{name} wants a hand with no cook there"


def _waits(problem: Problem, plan: Plan) -> None:
    for link in problem.links:
        wait = plan.placed[link.after].start - plan.placed[link.before].end
        names = f"{_task(problem, link.after)} after {_task(problem, link.before)}"
        assert wait >= link.gap_min, f"{names}: too soon"
        assert link.gap_max is None or wait <= link.gap_max, f"{names}: held too long"
    for due in problem.dues:
        stands = due.at - plan.placed[due.task].end
        assert stands >= 0, f"{_task(problem, due.task)} is late for its course"
        assert due.stand_max is None or stands <= due.stand_max, f"{_task(problem, due.task)} stands too long"


def _pairs(problem: Problem, plan: Plan) -> None:
    work: dict[int, list[tuple[int, int, int]]] = {}
    for one in plan.placed:
        task, name = problem.tasks[one.task], _task(problem, one.task)
        if task.attend is Attend.HANDS:
            assert one.hands >= 1, f"{name} is nobody's"
            assert not one.touched, f"{name} is somebody's all through, yet has touches"
            work.setdefault(one.hands, []).append((one.start, one.end, one.task))
            continue
        assert one.hands == 0, f"{name} needs no hands, yet has some"
        assert len(one.touched) == len(task.touches), f"{name}: a touch is nobody's"
        for offset, pair in zip(task.touches, one.touched, strict=True):
            assert pair >= 1, f"{name}: a touch is nobody's"
            start = one.start + offset
            work.setdefault(pair, []).append((start, start + task.touch_s, one.task))
    for pair, rows in work.items():
        for start, end, index in rows:
            assert throughout(problem, start, end, pair), f"{_task(problem, index)}: hands {pair} are not there"
        for before, after in pairwise(sorted(row for row in rows if row[0] < row[1])):
            names = f"{_task(problem, before[2])} and {_task(problem, after[2])}"
            assert before[1] <= after[0], f"hands {pair} do two things at once: {names}"


def _gear(problem: Problem, plan: Plan) -> None:
    taken: dict[int, list[tuple[int, int, int, tuple[int, ...], str]]] = {}
    for one in plan.placed:
        needs = problem.tasks[one.task].gear
        assert len(one.units) == len(needs), f"{_task(problem, one.task)}: gear left out"
        for need, units in zip(needs, one.units, strict=True):
            taken.setdefault(need.pool, []).append((one.start, one.end, need.pieces, units, _task(problem, one.task)))
    assert len(plan.keeps) == len(problem.keeps), "keeps left out"
    for keep, units in zip(problem.keeps, plan.keeps, strict=True):
        first, last = plan.placed[keep.first], plan.placed[keep.last]
        start, end = (first.end if keep.from_end else first.start), (last.start if keep.to_start else last.end)
        if keep.course is not None:
            end = problem.courses[keep.course].at
        if keep.oven is not None and not units:
            assert end - start <= keep.spare_s, f"{keep.what} is held in no oven"
        if keep.oven is not None and units:
            assert throughout(problem, start, end), f"{keep.what} is held in an oven with no cook there"
        assert start <= end, f"what is kept from {_task(problem, keep.first)} is gone before it is there"
        taken.setdefault(keep.need.pool, []).append((start, end, keep.need.pieces, units, keep.what))
    for index, rows in taken.items():
        pool = problem.pools[index]
        if pool.kind is PoolKind.SPACE:
            _room(pool, rows)
        elif pool.kind is not PoolKind.OVEN:
            _pieces(pool, rows)


def _room(pool: Pool, rows: list[tuple[int, int, int, tuple[int, ...], str]]) -> None:
    for moment in {row[0] for row in rows}:
        inside = sum(row[2] for row in rows if row[0] <= moment < row[1])
        assert not pool.number or inside <= pool.number, f"{pool.name} is too full at {moment}"


def _pieces(pool: Pool, rows: list[tuple[int, int, int, tuple[int, ...], str]]) -> None:
    for start, end, wanted, units, name in rows:
        assert len(set(units)) == len(units) == wanted, f"{name}: {wanted} of {pool.name} wanted, {len(units)} named"
        assert all(0 <= unit < pool.number for unit in units), f"{name}: no such piece of {pool.name}"
        for other_start, other_end, _, other_units, other in rows:
            if (start, end, units, name) != (other_start, other_end, other_units, other):
                shared = set(units) & set(other_units) and max(start, other_start) < min(end, other_end)
                assert not shared, f"one piece of {pool.name} for two: {name} and {other}"


def _minutes(pool: Pool, old: int, new: int) -> int:
    """Whole minutes from one temperature to another, rounded up."""
    rate = pool.heats if new > old else pool.cools
    return math.ceil(Fraction(abs(new - old), rate)) if rate else 0


def _site(problem: Problem, moment: int) -> int:
    """When the cook came who is there at that moment."""
    came = moment
    for hours in sorted(problem.hands, reverse=True):
        if hours.number and hours.start < came <= hours.end:
            came = hours.start
    return came


def _oven(problem: Problem, plan: Plan, index: int, number: int) -> None:
    pool = problem.pools[index]
    name = f"{pool.name} {number + 1}"
    rows: list[Setting] = [one for one in plan.settings if (one.pool, one.oven) == (index, number)]
    assert rows == sorted(rows, key=lambda one: one.start), f"{name}: settings out of order"
    uses = []
    for one in plan.placed:
        need = problem.tasks[one.task].oven
        if need is None or need.pool != index:
            assert need is not None or one.oven is None, f"{_task(problem, one.task)} wants no oven"
            continue
        assert one.oven is not None and 0 <= one.oven < pool.number, f"{_task(problem, one.task)}: no such oven"
        if one.oven != number:
            continue
        uses.append((one.start, one.end, need.shelves))
        at = [row for row in rows if row.start <= one.start and one.end <= row.end]
        assert len(at) == 1, f"{_task(problem, one.task)}: {name} is not set for it all through"
        assert need.low <= at[0].celsius <= need.high, f"{_task(problem, one.task)}: {name} is at another temperature"
        assert pool.up_to is None or at[0].celsius <= pool.up_to, f"{name} does not go so far"
    stays: dict[int, int] = {}
    others = [start for start, _, _ in uses]
    for keep, units in zip(problem.keeps, plan.keeps, strict=True):
        if keep.oven is None or keep.oven.pool != index or units != (number,):
            continue
        start = plan.placed[keep.first].end if keep.from_end else plan.placed[keep.first].start
        end = plan.placed[keep.last].start if keep.to_start else plan.placed[keep.last].end
        end = end if keep.course is None else problem.courses[keep.course].at
        uses.append((start, end, keep.oven.shelves))
        at = [row for row in rows if row.start <= start and end <= row.end]
        assert len(at) == 1, f"{keep.what}: {name} is not set for holding it all through"
        assert keep.oven.low <= at[0].celsius <= keep.oven.high, f"{keep.what}: {name} is at another temperature"
        came = _came_out(problem, plan, keep.first, index, number) if keep.from_end else None
        if came is None:
            others.append(start)
        else:
            stays[start] = min(came, stays.get(start, came))
    for moment in {start for start, _, _ in uses}:
        inside = sum(shelves for start, end, shelves in uses if start <= moment < end)
        assert inside <= pool.shelves, f"{name} is too full at {moment}"
    _changes(problem, pool, name, rows, stays, others)


def baked_before(problem: Problem, task: int) -> int | None:
    """What had what this task leaves in an oven last: itself, or what it rested after with nobody and nothing at it. None if nothing."""
    while problem.tasks[task].oven is None:
        idle = problem.tasks[task].attend is Attend.ALONE and not problem.tasks[task].gear
        before = {link.before for link in problem.links if link.after == task}
        if not idle or len(before) != 1:
            return None
        (task,) = before
    return task


def _came_out(problem: Problem, plan: Plan, task: int, index: int, number: int) -> int | None:
    """When what this task leaves came out of this oven; None if it was not in there last."""
    baked = baked_before(problem, task)
    if baked is None:
        return None
    need = problem.tasks[baked].oven
    mine = need is not None and need.pool == index and plan.placed[baked].oven == number
    return plan.placed[baked].end if mine else None


def _changes(
    problem: Problem, pool: Pool, name: str, rows: list[Setting], stays: dict[int, int], others: list[int]
) -> None:
    """`stays`: when something baked in it begins to be held in it, which may be while it falls, and when it had come out; `others`: when
    all else goes in."""
    for place, row in enumerate(rows):
        came = _site(problem, row.start)
        assert row.lit <= row.start < row.end, f"{name} is not lit when it is wanted"
        assert row.lit >= came or row.lit == row.start, f"{name} is lit before a cook is there"
        before = rows[place - 1] if place else None
        if before is not None and before.end > came:
            assert row.lit >= before.end, f"{name} is changed while something is in it"
            wanted = _minutes(pool, before.celsius, row.celsius)
            assert row.celsius != before.celsius, f"{name}: one temperature, told as two"
            if row.start in stays and before.end <= stays[row.start] and row.celsius < before.celsius:
                goes_in = [start for start in others if row.start <= start < row.end]
                assert all(start - row.lit >= wanted * 60 for start in goes_in), f"{name} is still falling"
                continue
        else:
            wanted = _minutes(pool, COLD, row.celsius)
        assert row.start - row.lit >= wanted * 60, f"{name} has no time to come to {row.celsius / 10:g} °C"


def _goals(problem: Problem, plan: Plan) -> None:
    values = {goal.name: goal.value for goal in plan.goals}
    found = {"calm": calm(problem, plan), "fresh": fresh(problem, plan), "short": short(problem, plan)}
    for name, value in found.items():
        assert values[name] == value, f"{name}: said {values[name]}, is {value}"
    assert plan.span_s == found["short"], f"span: said {plan.span_s}, is {found['short']}"
    assert plan.goals[0].name == problem.aim and plan.bound_s == plan.goals[0].bound, "the bound is not of the aim"
    assert all(goal.bound <= goal.value for goal in plan.goals), "a bound above what was reached"
    if plan.status is Status.BEST:
        assert all(values[name] == goal.bound for goal in plan.goals for name in (goal.name,) if name in found)


def _overlap(start: int, end: int, low: int, high: int) -> int:
    return max(0, min(end, high) - max(start, low))


def calm(problem: Problem, plan: Plan) -> int:
    """Seconds of hands' work from an hour before the first course to the last."""
    if not problem.courses:
        return 0
    low = min(course.at for course in problem.courses) - 3600
    high = max(course.at for course in problem.courses)
    total = 0
    for one in plan.placed:
        task = problem.tasks[one.task]
        if task.attend is Attend.HANDS:
            total += _overlap(one.start, one.end, low, high)
        else:
            begins = [one.start + offset for offset in task.touches]
            total += sum(_overlap(begin, begin + task.touch_s, low, high) for begin in begins)
    return total


def fresh(problem: Problem, plan: Plan) -> int:
    """Seconds that things wait under a hold or for their course."""
    waits = [
        plan.placed[link.after].start - plan.placed[link.before].end
        for link in problem.links
        if link.gap_max is not None
    ]
    return sum(waits) + sum(due.at - plan.placed[due.task].end for due in problem.dues)


def short(problem: Problem, plan: Plan) -> int:
    """Seconds from first start to last end of the work begun on the day of the event."""
    begun: Iterable[Placed] = [
        one
        for one in plan.placed
        if problem.day[0] <= one.start < problem.day[1]
        and problem.tasks[one.task].work not in (Work.RESERVE, Work.CLEAR)
    ]
    return max((one.end for one in begun), default=0) - min((one.start for one in begun), default=0)
