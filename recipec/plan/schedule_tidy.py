"""Of plans that are equal in every aim, the tidier: an oven that changes less, a cook who stays with one dish.

*changes* counts, oven by oven, uses that follow one at another temperature. *switches* counts work that one pair of hands does
right after work for another dish; it is sought only where one pair of hands is there, and only for a stated effort:
which order of fifty pieces of work is best is as hard as a round trip. Else it is counted as it came out. Its bound is
often loose, and no plan is called less than best for it.
"""

from __future__ import annotations

from collections.abc import Callable, Sequence
from itertools import pairwise, permutations
from typing import TYPE_CHECKING, NamedTuple

from recipec.plan.schedule_model import Model
from recipec.plan.timeline_types import Attend, Placed, PoolKind, Problem

if TYPE_CHECKING:
    from ortools.sat.python import cp_model

_MOST_NODES = 70  # work in one row: an arc for each pair of them


class Row(NamedTuple):
    """Things done one after the other: their tasks. `on` are literals of being in this row at all."""

    tasks: tuple[int, ...]
    on: tuple[cp_model.IntVar | int, ...]


class Tidy(NamedTuple):
    """What to make small, and the values of its variables in the plan so far."""

    objective: cp_model.LinearExprT
    hints: list[tuple[cp_model.IntVar, int]]


def changes(model: Model, starts: Sequence[int], ovens: Sequence[int | None]) -> Tidy | None:
    """Changes of temperature, or None where there can't be any. `starts` in seconds and `ovens` are of the plan so far."""
    terms: list[cp_model.LinearExprT] = []
    hints: list[tuple[cp_model.IntVar, int]] = []
    for index, pool in enumerate(model.problem.pools):
        tasks = tuple(task for task in sorted(model.oven) if _pool_of(model.problem, task) == index)
        known = {model.setting[task] for task in tasks}
        if pool.kind is not PoolKind.OVEN or (len(known) <= 1 and all(isinstance(one, int) for one in known)):
            continue
        if len(tasks) > _MOST_NODES:
            return None
        differs = _differs(model, tasks)
        for oven in range(pool.number):
            row = Row(tasks, tuple(model.oven[task][oven] if pool.number > 1 else 1 for task in tasks))
            order = sorted((task for task in tasks if ovens[task] == oven), key=lambda task: (starts[task], task))
            _in_turn(model, row, order, differs, terms, hints, overlap=True)
    return Tidy(sum(terms), hints) if terms else None


def _pool_of(problem: Problem, task: int) -> int | None:
    need = problem.tasks[task].oven
    return need.pool if need is not None else None


def _differs(model: Model, tasks: Sequence[int]) -> Callable[[int, int], cp_model.IntVar | bool]:
    made: dict[tuple[int, int], cp_model.IntVar | bool] = {}
    for one, other in permutations(tasks, 2):
        first, second = model.setting[one], model.setting[other]
        if isinstance(first, int) and isinstance(second, int):
            made[one, other] = first != second
        elif (other, one) in made:
            made[one, other] = made[other, one]
        else:
            made[one, other] = differ = model.model.new_bool_var("")
            model.model.add(first == second).only_enforce_if(differ.negated())
    return lambda one, other: made[one, other]


def switches(model: Model, starts: Sequence[int]) -> Tidy | None:
    """Switches of dish of one pair of hands, or None where there are more, or too much work."""
    problem = model.problem
    tasks = _attended(problem)
    if max((hours.number for hours in problem.hands), default=0) != 1 or not 1 < len(tasks) <= _MOST_NODES:
        return None
    terms: list[cp_model.LinearExprT] = []
    hints: list[tuple[cp_model.IntVar, int]] = []
    order = sorted(tasks, key=lambda task: (starts[task], task))
    row = Row(tasks, tuple(1 for _ in tasks))
    _in_turn(model, row, order, lambda one, other: problem.tasks[one].run != problem.tasks[other].run, terms, hints)
    return Tidy(sum(terms), hints)


def _attended(problem: Problem) -> tuple[int, ...]:
    return tuple(index for index, task in enumerate(problem.tasks) if task.attend is Attend.HANDS and task.seconds)


def switches_of(problem: Problem, placed: Sequence[Placed]) -> int:
    """How often a pair of hands goes on to work of another dish."""
    rows: dict[int, list[tuple[int, int, int | None]]] = {}
    for task in _attended(problem):
        rows.setdefault(placed[task].hands, []).append((placed[task].start, task, problem.tasks[task].run))
    return sum(one[2] != other[2] for row in rows.values() for one, other in pairwise(sorted(row, key=lambda x: x[:2])))


def fewest_switches(problem: Problem) -> int:
    """No plan has fewer: each dish that wants hands is come to once, and each pair of hands may begin with one."""
    runs = {problem.tasks[task].run for task in _attended(problem)}
    return max(0, len(runs) - max((hours.number for hours in problem.hands), default=0))


def _in_turn(
    model: Model,
    row: Row,
    order: Sequence[int],
    costs: Callable[[int, int], cp_model.IntVar | bool],
    terms: list[cp_model.LinearExprT],
    hints: list[tuple[cp_model.IntVar, int]],
    overlap: bool = False,
) -> None:
    """A round through all that is in the row by time of starting (without `overlap`: each after the end of the one before), and the cost of
    each step of it."""
    program = model.model
    arcs: list[tuple[int, int, cp_model.LiteralT]] = []
    follows = {(one, other) for one, other in pairwise([-1, *order, -1])} if order else {(-1, -1)}

    def arc(one: int, other: int, node: int, next_node: int) -> cp_model.IntVar:
        literal = program.new_bool_var("")
        arcs.append((node, next_node, literal))
        hints.append((literal, int((one, other) in follows)))
        return literal

    places = {task: place + 1 for place, task in enumerate(row.tasks)}
    arc(-1, -1, 0, 0)
    for task, on in zip(row.tasks, row.on, strict=True):
        arc(-1, task, 0, places[task])
        arc(task, -1, places[task], 0)
        if not isinstance(on, int):
            arcs.append((places[task], places[task], on.negated()))
    for one, other in permutations(row.tasks, 2):
        size = 0 if overlap else model.units(model.problem.tasks[one].seconds)
        if model.low(one) + size > model.high(other):
            continue
        literal = arc(one, other, places[one], places[other])
        program.add(model.start[other] >= model.start[one] + size).only_enforce_if(literal)
        cost = costs(one, other)
        if isinstance(cost, bool):
            if cost:
                terms.append(literal)
        else:
            paid = program.new_bool_var("")
            program.add_bool_or([paid, literal.negated(), cost.negated()])
            terms.append(paid)
    program.add_circuit(arcs)
