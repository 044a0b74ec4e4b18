"""Programs given to OR-tools. It is loaded when this is called, and not before."""

from __future__ import annotations

from collections.abc import Sequence
from typing import TYPE_CHECKING

from recipec.plan.solving import solved

if TYPE_CHECKING:
    from recipec.plan.packs_search import Program

_EFFORT = 2  # the solver's own measure of work, which is no clock: the same answer on any machine


def best_of(programs: Sequence[Program]) -> list[tuple[int, ...]] | None:
    """The best numbers of each program, proved; None when that would take too much work."""
    from ortools.sat.python import cp_model

    model = cp_model.CpModel()
    numbers = []
    terms: list[cp_model.IntVar] = []
    weights: list[int] = []
    for one in programs:
        row = [model.new_int_var(0, most, "") for most in one.most]
        for coefficients, least in one.covers:
            model.add(cp_model.LinearExpr.weighted_sum(row, coefficients) >= least)
        numbers.append(row)
        terms += row
        weights += one.weights
    model.minimize(cp_model.LinearExpr.weighted_sum(terms, weights))
    solver = cp_model.CpSolver()
    solver.parameters.num_workers = 1
    solver.parameters.random_seed = 1
    solver.parameters.max_deterministic_time = _EFFORT
    if solved(solver, model) != cp_model.OPTIMAL:
        return None
    return [tuple(solver.value(number) for number in row) for row in numbers]
