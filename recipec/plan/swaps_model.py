"""Groups of marks too large to try every combination of: choices and packs as one integer program.

Only where needs are plain sums: every mark of the group is of bought food with an amount, every thing it touches has
packs, and its need is one sum in one measure whichever choices are taken. OR-tools is loaded when a program is solved,
and not before.
"""

from __future__ import annotations

import math
from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from fractions import Fraction

from recipec.measure.quantity import Amount, Dimension
from recipec.plan.bills import Bill, BillLine
from recipec.plan.packs import number_of
from recipec.plan.solving import solved

_FITS = 1 << 60
_EFFORT = 10  # the solver's own measure of work, no clock


@dataclass(frozen=True, slots=True)
class _Need:
    """What is needed of one thing: with first choices, and how that changes with each choice. `packs` by cost and size."""

    base: Fraction
    change: Mapping[tuple[int, int], Fraction]
    packs: tuple[tuple[Fraction, Fraction], ...]

    def most(self) -> Fraction:
        """The most that any combination can need."""
        return self.base + sum((max(part, Fraction(0)) for part in self.change.values()), Fraction(0))


def linear_best(
    places: Sequence[Sequence[int]], base: Bill, single: Mapping[tuple[int, int], Bill]
) -> tuple[tuple[int, ...], Fraction] | None:
    """The cheapest place of each mark, of equal ones with fewest swaps, and what that saves; None where needs are no plain
    sums, or it takes too much work.

    `places` are what each mark may take, 0 among them; `single` the bills with one mark at another place, the others at 0.
    """
    needs = []
    bills = [base, *single.values()]
    changed = {
        key
        for bill in bills
        for key in bill.lines.keys() | base.lines.keys()
        if bill.lines.get(key) != base.lines.get(key)
    }
    for key in sorted(changed):
        need = _need([bill.lines.get(key) for bill in bills], tuple(single))
        if need is None:
            return None
        needs.append(need)
    found = _solve(places, needs)
    if found is None:
        return None
    spent = sum(
        (Fraction(line.cost) for key in changed if (line := base.lines.get(key)) and line.cost is not None), Fraction(0)
    )
    return found[0], spent - found[1]


def _need(lines: Sequence[BillLine | None], picks: Sequence[tuple[int, int]]) -> _Need | None:
    present = [line for line in lines if line is not None]
    first = present[0]
    measures = {_measure(line) for line in present}
    if len(measures) != 1 or None in measures or any(line.unmeasured or not line.sums for line in present):
        return None
    measure = first.need[0]
    one = measure.scaled(1 / measure.terms[0].high)
    shares = [(number_of(one, price.pack, first.grams), Fraction(price.price.value)) for price in first.prices]
    packs = tuple((cost, 1 / share) for share, cost in shares if share)
    if not packs:
        return None
    unit = one.terms[0].unit.factor
    amounts = [Fraction(0) if line is None else line.need[0].terms[0].base_high / unit for line in lines]
    change = {pick: amount - amounts[0] for pick, amount in zip(picks, amounts[1:], strict=True)}
    return _Need(amounts[0], change, packs)


def _measure(line: BillLine) -> tuple[str, object, str | None] | None:
    """In what a line's one need is said; None when it is not one plain sum. All masses are one measure."""
    if len(line.need) != 1 or len(line.need[0].terms) != 1 or not line.need[0].terms[0].high:
        return None
    need: Amount = line.need[0]
    return (need.terms[0].unit.kind, need.each, None if need.terms[0].unit.dimension is Dimension.MASS else need.size)


def _solve(places: Sequence[Sequence[int]], needs: Sequence[_Need]) -> tuple[tuple[int, ...], Fraction] | None:
    from ortools.sat.python import cp_model

    model = cp_model.CpModel()
    taken = [{place: model.new_bool_var("") for place in row} for row in places]
    for mark in taken:
        model.add_exactly_one(mark.values())
    cents = math.lcm(*(cost.denominator for need in needs for cost, _ in need.packs))
    swaps = len(places) + 1
    variables = [variable for mark in taken for place, variable in mark.items() if place]
    weights = [1] * len(variables)
    size = swaps
    for need in needs:
        scale = math.lcm(
            need.base.denominator,
            *(part.denominator for part in need.change.values()),
            *(given.denominator for _, given in need.packs),
        )
        row, parts, most = [], [], 0
        for cost, given in need.packs:
            number = math.ceil(need.most() / given)
            row.append(model.new_int_var(0, number, ""))
            parts.append(int(given * scale))
            variables.append(row[-1])
            weights.append(int(cost * cents) * swaps)
            size += weights[-1] * number
            most += parts[-1] * number
        for (mark_place, place), part in need.change.items():
            if part:
                row.append(taken[mark_place][place])
                parts.append(-int(part * scale))
                most += abs(parts[-1])
        if most >= _FITS or size >= _FITS:
            return None
        model.add(cp_model.LinearExpr.weighted_sum(row, parts) >= int(need.base * scale))
    model.minimize(cp_model.LinearExpr.weighted_sum(variables, weights))
    solver = cp_model.CpSolver()
    solver.parameters.num_workers = 1
    solver.parameters.random_seed = 1
    solver.parameters.max_deterministic_time = _EFFORT
    if solved(solver, model) != cp_model.OPTIMAL:
        return None
    picks = tuple(next(place for place, variable in mark.items() if solver.value(variable)) for mark in taken)
    money = sum(weight * solver.value(variable) for weight, variable in zip(weights, variables, strict=True)) // swaps
    return picks, Fraction(money, cents)
