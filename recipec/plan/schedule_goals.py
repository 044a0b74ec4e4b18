"""What makes one plan better than another, and the search for the best: goal after goal, each kept while the next is sought.

*calm*: seconds of hands' work (touches too) from an hour before the first course to the last. *fresh*: seconds that
things wait, over all holds with a limit and from the end of what is due to its course. *short*: from the first start to
the last end among the work begun on the day of the event, not counting time kept free before the first course nor
clearing down. Then what `schedule_tidy` has.

The search ends by the solver's own measure of work, never by a clock, with one seed and fixed workers: the same
problem, the same plan.
"""

from __future__ import annotations

import math
from collections.abc import Callable, Mapping, Sequence
from dataclasses import dataclass, replace
from types import MappingProxyType
from typing import TYPE_CHECKING

from recipec.plan.schedule_bounds import HOUR, hands_leave, kept_from
from recipec.plan.schedule_model import Model, PartKind
from recipec.plan.schedule_tidy import Tidy, changes, switches
from recipec.plan.solving import solved
from recipec.plan.timeline_types import Goal, PoolKind, Problem, Work

if TYPE_CHECKING:
    from ortools.sat.python import cp_model

ORDER: Mapping[str, tuple[str, ...]] = MappingProxyType(
    {
        "calm": ("calm", "fresh", "short"),
        "fresh": ("fresh", "calm", "short"),
        "short": ("short", "calm", "fresh"),
    }
)
_SEED = 1
TIDY = ("changes", "switches")
_TIDY_PARTS = 5
_LEAST = 4  # parts that are left for any goal, so that it is sought at all
_WORKERS = 2
_SUBSOLVERS = ("max_lp", "objective_lb_search_max_lp")
"""One goes up to the best plan with all that a linear program tells, one pushes the bound: both on the orders, holds and windows of an
evening, which are mostly linear. Goals over 80 steps are proved in a second or two so, with OR-tools' own choice of the two in ten."""
_PARTS = 10  # of the solver's unit of work, the least that is shared out
_SECONDS = 3  # that such a unit takes on two cores of a small machine, about


@dataclass(frozen=True, slots=True)
class Found:
    """What the search came to, in seconds: starts of all tasks, ovens and settings where they have one, pairs of hands where asked for.
    `holds`: for each keep its oven and setting, None where it has none."""

    starts: tuple[int, ...]
    ovens: tuple[int | None, ...]
    settings: tuple[int | None, ...]
    pairs: tuple[tuple[int, ...], ...]
    goals: tuple[Goal, ...] = ()
    holds: tuple[tuple[int, int] | None, ...] = ()


@dataclass(frozen=True, slots=True)
class Nothing:
    """No plan. `proved` when there is none."""

    proved: bool


Objective = Callable[[Model], "cp_model.LinearExprT"]


def search(model: Model, names: Sequence[str], effort: int, tidy: Sequence[str] = TIDY) -> Found | Nothing:
    """The best plan by the goals named, in their order, and then the tidiest. `effort`: about how many seconds
    in all, reckoned in the solver's own units of work."""
    if not model.possible:
        return Nothing(True)
    goals: list[Goal] = []
    left = effort * _PARTS // _SECONDS
    solver = _solver(left)
    # Objectives are stated before the first search, so that each answer is a whole hint for the next.
    objectives = {name: OBJECTIVES[name](model) for name in names}
    if not names:
        status = solved(solver, model.model)
        if status not in (model.cp.OPTIMAL, model.cp.FEASIBLE):
            return Nothing(status == model.cp.INFEASIBLE)
    for place, name in enumerate(names):
        if place:
            left = max(left, _LEAST)
            _hint(model, solver)
        model.model.minimize(objectives[name])
        # One that is hard takes no more than half of what is left, so that those after it get their turn.
        solver = _solver(left // 2)
        status = solved(solver, model.model)
        left -= round(solver.deterministic_time * _PARTS)
        if status not in (model.cp.OPTIMAL, model.cp.FEASIBLE):
            assert not goals, "a plan that was found is found again"
            return Nothing(status == model.cp.INFEASIBLE)
        goals.append(_goal(model, name, solver, model.unit))
        model.model.add(objectives[name] <= goals[-1].value // model.unit)
    found = _read(model, solver)
    for name in tidy:
        wanted = changes(model, found.starts, found.ovens) if name == "changes" else switches(model, found.starts)
        if wanted is None:
            continue
        _hint(model, solver, wanted)
        model.model.minimize(wanted.objective)
        tidier = _solver(max(left, _LEAST) // 2 if name == "changes" else _TIDY_PARTS)
        if solved(tidier, model.model) not in (model.cp.OPTIMAL, model.cp.FEASIBLE):
            continue
        solver = tidier
        found = _read(model, solver)
        goals.append(_goal(model, name, solver, 1))
        model.model.add(wanted.objective <= goals[-1].value)
    return replace(found, goals=tuple(goals))


def may_be(problem: Problem, effort: int) -> bool:
    """Whether a plan was found at all, good or bad, within so much effort."""
    model = Model(problem, pairs=hands_leave(problem))
    if not model.possible:
        return False
    return solved(_solver(effort * _PARTS), model.model) in (model.cp.OPTIMAL, model.cp.FEASIBLE)


def impossible(model: Model, effort: int) -> bool:
    """Whether it was proved that there is no plan."""
    return not model.possible or solved(_solver(effort * _PARTS), model.model) == model.cp.INFEASIBLE


def _goal(model: Model, name: str, solver: cp_model.CpSolver, scale: int) -> Goal:
    value = round(solver.objective_value)
    bound = min(value, max(0, math.ceil(solver.best_objective_bound)))
    return Goal(name, value * scale, bound * scale)


def _solver(parts: int) -> cp_model.CpSolver:
    from ortools.sat.python import cp_model

    solver = cp_model.CpSolver()
    solver.parameters.num_workers = _WORKERS
    solver.parameters.interleave_search = True
    solver.parameters.subsolvers.extend(_SUBSOLVERS)
    solver.parameters.random_seed = _SEED
    solver.parameters.max_deterministic_time = parts / _PARTS
    return solver


def _hint(model: Model, solver: cp_model.CpSolver, tidy: Tidy | None = None) -> None:
    """All of an answer, as the start of the next search."""
    model.model.clear_hints()  # type: ignore[no-untyped-call]
    for index, value in enumerate(solver.response_proto.solution):
        model.model.add_hint(model.model.get_int_var_from_proto_index(index), value)
    for variable, value in tidy.hints if tidy is not None else ():
        model.model.add_hint(variable, value)


def _read(model: Model, solver: cp_model.CpSolver) -> Found:
    tasks = range(len(model.problem.tasks))
    starts = tuple(solver.value(start) * model.unit for start in model.start)
    return Found(
        starts,
        tuple(_first(solver, model.oven[task]) if task in model.oven else None for task in tasks),
        tuple(_setting(solver, model.setting[task]) if task in model.setting else None for task in tasks),
        tuple(_pairs(solver, model, task) for task in tasks),
        holds=tuple(_held(solver, model, starts, keep) for keep in range(len(model.problem.keeps))),
    )


def _held(solver: cp_model.CpSolver, model: Model, starts: Sequence[int], index: int) -> tuple[int, int] | None:
    keep, held = model.problem.keeps[index], model.held.get(index)
    start, end = kept_from(model.problem, starts, keep)
    if held is None or end - start <= keep.spare_s:
        return None
    return _first(solver, held.ovens), _setting(solver, held.setting)


def _first(solver: cp_model.CpSolver, literals: Sequence[cp_model.IntVar]) -> int:
    return next(place for place, one in enumerate(literals) if solver.value(one))


def _setting(solver: cp_model.CpSolver, setting: cp_model.IntVar | int) -> int:
    return setting if isinstance(setting, int) else solver.value(setting)


def _pairs(solver: cp_model.CpSolver, model: Model, task: int) -> tuple[int, ...]:
    """The pair of hands, from 1, for each piece of the task's work; () where that was not asked."""
    literals = model.pair.get(task, [])
    pieces = len(model.works(task))
    width = len(literals) // pieces if pieces else 0
    return tuple(_first(solver, literals[place : place + width]) + 1 for place in range(0, len(literals), width or 1))


def calm(model: Model) -> cp_model.LinearExprT:
    """Units of hands' work from an hour before the first course to the last."""
    if not model.problem.courses:
        return 0
    low, high = (model.units(second) for second in rush(model.problem))
    terms: list[cp_model.LinearExprT] = []
    for task in range(len(model.problem.tasks)):
        for offset, size in model.works(task):
            terms.append(_overlap(model, task, offset, size, low, high))
    return sum(terms)


def rush(problem: Problem) -> tuple[int, int]:
    """From an hour before the first course to the last."""
    return min(course.at for course in problem.courses) - HOUR, max(course.at for course in problem.courses)


def _overlap(model: Model, task: int, offset: int, size: int, low: int, high: int) -> cp_model.LinearExprT:
    """How much of a piece of work lies within [low, high]. As its start moves on that rises, stays and falls: one literal for each leg
    that is possible."""
    most = min(size, high - low)
    first, last = model.low(task) + offset, model.high(task) + offset
    if first >= high or last + size <= low:
        return 0
    rise, fall = sorted((low, high - size))
    if rise <= first and last <= fall:
        return most
    start = model.start[task] + offset
    found = model.model.new_int_var(0, most, "")
    legs: list[cp_model.IntVar] = []
    for begins, ends, least in ((first, rise, start + size - low), (rise, fall, most), (fall, last, high - start)):
        if max(begins, first) > min(ends, last):
            continue
        leg = model.model.new_bool_var("")
        legs.append(leg)
        domain = model.cp.Domain(max(begins, first) - offset, min(ends, last) - offset)
        model.model.add_linear_expression_in_domain(model.start[task], domain).only_enforce_if(leg)
        model.model.add(found >= least).only_enforce_if(leg)
    model.model.add_bool_or(legs)
    return found


def fresh(model: Model) -> cp_model.LinearExprT:
    """Units that things wait."""
    waits = [
        model.start[link.after] - model.end(link.before) for link in model.problem.links if link.gap_max is not None
    ]
    return sum(waits) + sum(model.units(due.at) - model.end(due.task) for due in model.problem.dues)


def short(model: Model) -> cp_model.LinearExprT:
    """Units from first start to last end of the work begun on the day of the event."""
    day, night = (model.units(second) for second in model.problem.day)
    span = model.model.new_int_var(0, model.units(model.problem.horizon), "")
    first = model.model.new_int_var(day, night, "")
    last = model.model.new_int_var(day, model.units(model.problem.horizon), "")
    model.model.add(last - first <= span)
    whole: list[int] = []
    for task, one in enumerate(model.problem.tasks):
        if one.work in (Work.RESERVE, Work.CLEAR) or model.high(task) < day or model.low(task) >= night:
            continue
        lits = []
        if model.low(task) < day or model.high(task) >= night:
            lits.append(model.model.new_bool_var(""))
            outside = model.cp.Domain.from_intervals([[model.low(task), day - 1], [night, model.high(task)]])
            model.model.add_linear_expression_in_domain(model.start[task], outside).only_enforce_if(lits[0].negated())
        else:
            whole.append(task)
        model.model.add(first <= model.start[task]).only_enforce_if(lits)
        model.model.add(last >= model.end(task)).only_enforce_if(lits)
    if model.problem.aim == "short":
        # Where other goals come first it would only slow those down.
        _from_the_first(model, whole, first, span)
    return span


def _from_the_first(model: Model, tasks: Sequence[int], first: cp_model.IntVar, span: cp_model.IntVar) -> None:
    """What gear and order demand, said once more in time from the first start: there the span itself is the horizon, so that a bound on
    it can be proved, while by the clock the whole may lie anywhere in the day."""
    problem = model.problem
    since: dict[int, cp_model.IntVar] = {}
    taken: dict[int, list[tuple[cp_model.IntervalVar, int]]] = {}
    for task in tasks:
        long = model.end(task) - model.start[task]
        since[task] = model.model.new_int_var(0, model.units(problem.horizon), "")
        model.model.add(since[task] == model.start[task] - first)
        model.model.add(since[task] + long <= span)
        for need in problem.tasks[task].gear:
            if problem.pools[need.pool].kind is PoolKind.GEAR:
                interval = model.model.new_interval_var(since[task], long, since[task] + long, "")
                taken.setdefault(need.pool, []).append((interval, need.pieces))
    for pool, uses in taken.items():
        if problem.pools[pool].number == 1:
            model.model.add_no_overlap([interval for interval, _ in uses])
        else:
            pieces = [number for _, number in uses]
            model.model.add_cumulative([interval for interval, _ in uses], pieces, problem.pools[pool].number)
    for link in problem.links:
        if link.before in since and link.after in since:
            long = model.end(link.before) - model.start[link.before]
            model.model.add(since[link.before] + long + model.units(link.gap_min) <= since[link.after])


def span_s(problem: Problem, begins: Sequence[int]) -> int:
    """The same of a plan, in seconds."""
    counted = [
        (start, start + task.seconds)
        for start, task in zip(begins, problem.tasks, strict=True)
        if task.work not in (Work.RESERVE, Work.CLEAR) and problem.day[0] <= start < problem.day[1]
    ]
    return max(end for _, end in counted) - min(start for start, _ in counted) if counted else 0


def over(model: Model) -> cp_model.LinearExprT:
    """Units by which holds are overstepped, where they may be."""
    return sum(model.over.values())


def stands(model: Model) -> cp_model.LinearExprT:
    """Units by which things stand too long before their course, where they may."""
    return sum(variable for part, variable in model.over.items() if part.kind is PartKind.STAND)


OBJECTIVES: Mapping[str, Objective] = MappingProxyType(
    {"calm": calm, "fresh": fresh, "short": short, "over": over, "stands": stands}
)
