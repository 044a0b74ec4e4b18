"""Plans of evenings of five courses for twelve, of 40 and of 80 steps, and a job-shop beside them: `python -m tests.bench.bench_timeline`.

One pair of hands, one oven of two shelves at three temperatures, four burners, some hours the day before. Printed: what was reached and its
proved bound, the time, and the ratio to the time of ft06, a job-shop of 36 steps, in the same run. Targets on two cores with nothing else
running: 40 steps proved best in 3 s, 80 steps proved best or within 2 % in 10 s. Nothing here is asserted: machines differ.
"""

from __future__ import annotations

import importlib
import time

from recipec.plan.late import lateness
from recipec.plan.schedule import schedule
from recipec.plan.slack import slack
from recipec.plan.timeline_types import Plan, Problem
from tests.outside.test_jobshop import FT06
from tests.plan.kitchen_problems import evening, jobshop
from tests.plan.timeline_check import check

SEEDS = (1, 2, 3)
EFFORT = {40: 20, 80: 10}
"""Seconds, about, that are asked for: the figures to show."""


def timed(problem: Problem, effort: int = 20) -> tuple[Plan, float]:
    start = time.perf_counter()
    plan = schedule(problem, effort)
    seconds = time.perf_counter() - start
    check(problem, plan)
    return plan, seconds


def gap(plan: Plan) -> str:
    """How far the first three goals are from their bounds, at most, in percent."""
    worst = max((goal.value - goal.bound) / max(goal.value, 1) for goal in plan.goals if goal.name != "switches")
    return f"{100 * worst:.1f} %"


def main() -> None:
    importlib.import_module("ortools.sat.python.cp_model")
    plan, reference = timed(jobshop(FT06))
    print(f"ft06: {plan.span_s // 60} min, {plan.status}, {reference:.1f} s")
    for steps in (40, 80):
        for aim in ("calm", "fresh", "short"):
            for seed in SEEDS:
                problem = evening(steps, seed, aim)
                plan, seconds = timed(problem, EFFORT[steps])
                goals = ", ".join(f"{goal.name} {goal.value}≥{goal.bound}" for goal in plan.goals)
                print(
                    f"{steps} steps, {aim}, {seed}: {plan.status}, gap {gap(plan)}, {seconds:.1f} s, "
                    f"{seconds / reference:.1f} × ft06; {goals}"
                )
    problem = evening(80)
    plan, _ = timed(problem)
    start = time.perf_counter()
    slack(problem, plan)
    middle = time.perf_counter()
    lateness(problem, plan)
    print(f"80 steps: slack {middle - start:.2f} s, late guests {time.perf_counter() - middle:.2f} s")


if __name__ == "__main__":
    main()
