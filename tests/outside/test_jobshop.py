"""Classical job-shops as kitchens, against their published optimum.

ft06: H. Fisher and G. L. Thompson, "Probabilistic learning combinations of local job-shop scheduling rules", in J. F. Muth
and G. L. Thompson (eds.), Industrial Scheduling, Prentice Hall, 1963; optimum 55. la01, la02: S. Lawrence, "Resource
constrained project scheduling: an experimental investigation of heuristic scheduling techniques", Carnegie Mellon
University, 1984; optima 666 and 655. The rows of la01 and la02 are from memory: that the published optimum comes out,
proved, is the check of them.
"""

from __future__ import annotations

import pytest

from recipec.plan.schedule import schedule
from recipec.plan.schedule_goals import Found, search
from recipec.plan.schedule_model import Model
from recipec.plan.timeline_types import Problem, Status
from tests.plan.kitchen_problems import jobshop
from tests.plan.timeline_check import check

FT06 = """
6 6
2 1 0 3 1 6 3 7 5 3 4 6
1 8 2 5 4 10 5 10 0 10 3 4
2 5 3 4 5 8 0 9 1 1 4 7
1 5 0 5 2 5 3 3 4 8 5 9
2 9 1 3 4 5 5 4 0 3 3 1
1 3 3 3 5 9 0 10 4 4 2 1
"""

LA01 = """
10 5
1 21 0 53 4 95 3 55 2 34
0 21 3 52 4 16 2 26 1 71
3 39 4 98 1 42 2 31 0 12
1 77 0 55 4 79 2 66 3 77
0 83 3 34 2 64 1 19 4 37
1 54 2 43 4 79 0 92 3 62
3 69 4 77 1 87 2 87 0 93
2 38 0 60 1 41 3 24 4 83
3 17 1 49 4 25 0 44 2 98
4 77 3 79 2 43 1 75 0 96
"""

LA02 = """
10 5
0 20 3 87 1 31 4 76 2 17
4 25 2 32 0 24 1 18 3 81
1 72 2 23 4 28 0 58 3 99
2 86 1 76 4 97 0 45 3 90
4 27 0 42 3 48 2 17 1 46
1 67 0 98 4 48 3 27 2 62
4 28 1 12 3 19 0 80 2 50
1 63 0 94 2 98 3 50 4 80
4 14 0 75 2 50 1 41 3 55
4 72 2 18 1 37 3 79 0 61
"""


def test_ft06_takes_55_and_nothing_is_better() -> None:
    problem = jobshop(FT06)
    plan = schedule(problem)
    check(problem, plan)
    assert plan.status is Status.BEST
    assert plan.span_s == plan.bound_s == 55 * 60


@pytest.mark.slow
@pytest.mark.parametrize(("text", "optimum"), [(LA01, 666), (LA02, 655)], ids=["la01", "la02"])
def test_ten_dishes_on_five_pieces_of_gear(text: str, optimum: int) -> None:
    """The shortest time is proved; whether things wait as little as they can within it, need not be."""
    problem = jobshop(text)
    plan = schedule(problem)
    check(problem, plan)
    assert plan.span_s == plan.bound_s == optimum * 60


@pytest.mark.parametrize(("text", "optimum"), [(FT06, 55), (LA01, 666), (LA02, 655)], ids=["ft06", "la01", "la02"])
def test_there_is_no_plan_a_minute_shorter(text: str, optimum: int) -> None:
    """With a day one minute shorter than the optimum there is none; with the optimum there is one."""
    fits = jobshop(text, horizon=optimum)
    plan = schedule(fits, best=False)
    check(fits, plan)
    assert plan.status is Status.FEASIBLE and plan.span_s == optimum * 60
    assert not may_be_planned(jobshop(text, horizon=optimum - 1))


def may_be_planned(problem: Problem) -> bool:
    found = search(Model(problem), (), 20, ())
    assert isinstance(found, Found) or found.proved, "neither a plan nor a proof"
    return isinstance(found, Found)
