"""Random problems: every plan passes the check that shares nothing with the solver; small ones are compared with all plans there are."""

from __future__ import annotations

from dataclasses import replace
from datetime import datetime

import pytest
from hypothesis import HealthCheck, given, settings
from hypothesis import strategies as st

from recipec.plan.late import lateness
from recipec.plan.schedule import schedule
from recipec.plan.slack import slack
from recipec.plan.timeline_types import (
    Attend,
    CourseAt,
    Due,
    GearNeed,
    Hands,
    Keep,
    Link,
    OvenNeed,
    Pool,
    PoolKind,
    Problem,
    RunOf,
    Status,
    Task,
    Work,
)
from tests.plan.brute import shortest
from tests.plan.kitchen_problems import SPAN
from tests.plan.timeline_check import check

MIN = 60
SLOW = settings(max_examples=40, deadline=None, suppress_health_check=[HealthCheck.too_slow])
# Heats from cold to 140 °C in two minutes, cools by 60 K in two.
POOLS = (
    Pool("oven", "oven", PoolKind.OVEN, 1, shelves=2, heats=600, cools=300, up_to=2500),
    Pool("hob", "burner", PoolKind.BURNERS, 2),
    Pool("pan", "pan", PoolKind.GEAR, 1, alone=True),
    Pool("fridge", "fridge", PoolKind.SPACE, 3, alone=True),
)


@st.composite
def tasks_of(draw: st.DrawFn, longest: int) -> Task:
    attend = draw(st.sampled_from(list(Attend)))
    minutes = draw(st.integers(1, longest))
    gear = draw(st.lists(st.sampled_from([GearNeed(1, 1), GearNeed(2, 1), GearNeed(3, 2)]), max_size=1))
    oven = None
    if attend is not Attend.HANDS and draw(st.booleans()):
        celsius = draw(st.sampled_from([800, 1400]))
        oven, gear = OvenNeed(0, celsius, celsius, draw(st.integers(1, 2))), []
    touches = (MIN,) if attend is not Attend.HANDS and minutes > 2 and draw(st.booleans()) else ()
    return Task(
        0,
        draw(st.sampled_from([Work.COOK, Work.COOK, Work.PLATE])),
        attend,
        minutes * MIN,
        "do it",
        "do it",
        SPAN,
        gear=tuple(gear),
        oven=oven,
        touches=touches,
    )


@st.composite
def problems(draw: st.DrawFn, most: int = 4, minutes: int = 11, longest: int = 4) -> Problem:
    """Tasks with links only forward, so that there is no ring; due at the end or before; hours with a break, or hands that come or go."""
    tasks = tuple(draw(st.lists(tasks_of(longest), min_size=2, max_size=most)))
    end = minutes * MIN
    pairs = [(one, other) for one in range(len(tasks)) for other in range(one + 1, len(tasks))]
    links = [
        Link(one, other, draw(st.integers(0, 1)) * MIN, draw(st.sampled_from([None, None, MIN, 3 * MIN])))
        for one, other in draw(st.lists(st.sampled_from(pairs), max_size=2, unique=True))
    ]
    keeps = []
    for link in links[:1]:
        if draw(st.booleans()):
            pool = draw(st.sampled_from([0, 0, 2, 3]))
            keep = Keep(GearNeed(pool, 1), link.before, link.after, True, True)
            keeps.append(replace(keep, oven=OvenNeed(0, 800, 800, 1), spare_s=MIN) if pool == 0 else keep)
    dues = [
        Due(index, 0, draw(st.integers(minutes - 3, minutes)) * MIN, draw(st.sampled_from([None, 0, 2 * MIN])))
        for index in draw(st.sets(st.integers(0, len(tasks) - 1), max_size=2))
    ]
    cut = draw(st.integers(3, minutes - 3)) * MIN
    hands = draw(
        st.sampled_from(
            [
                (Hands(0, end, 1),),
                (Hands(0, cut, 1), Hands(cut + 2 * MIN, end, 1)),
                (Hands(0, cut, 1), Hands(cut, end, 2)),
                (Hands(0, cut, 2), Hands(cut, end, 1)),
            ]
        )
    )
    run = RunOf("dish", "Dish", (), "", 0)
    return Problem(
        "event",
        "Event",
        datetime(2026, 5, 1),
        end,
        (0, end),
        0,
        draw(st.sampled_from(["calm", "fresh", "short"])),
        (run,),
        POOLS,
        tasks,
        tuple(links),
        tuple(keeps),
        tuple(dues),
        (CourseAt("Course", end, end),),
        hands,
    )


@SLOW
@given(problems())
def test_the_solver_finds_a_plan_where_there_is_one_and_the_shortest(problem: Problem) -> None:
    plan = schedule(problem)
    check(problem, plan)
    least = shortest(problem)
    assert (plan.status is Status.IMPOSSIBLE) == (least is None)
    if least is not None:
        assert plan.status is Status.BEST
        assert plan.span_s >= least
        if problem.aim == "short":
            assert plan.span_s == least


@SLOW
@given(problems(most=10, minutes=40, longest=8))
def test_every_plan_and_all_that_is_asked_of_it_holds(problem: Problem) -> None:
    plan = schedule(problem)
    check(problem, plan)
    if plan.placed:
        found = slack(problem, plan)
        assert len(found.tasks) == len(problem.tasks) and min(found.tasks) >= 0 and min(found.courses) >= 0
        for late in lateness(problem, plan, (1, 3)):
            assert late.breaks == tuple(sorted(late.breaks, key=lambda one: (-one.by, one.task)))
    else:
        assert all(one.tasks and one.text and one.slug for one in plan.collisions)


@settings(max_examples=8, deadline=None)
@given(problems(most=8, minutes=30, longest=6))
def test_the_same_problem_has_the_same_plan(problem: Problem) -> None:
    assert schedule(problem) == schedule(problem)


@pytest.mark.parametrize("number", [1, 2])
def test_brute_force_counts_hands(number: int) -> None:
    """Two tasks of two minutes in three: by two pairs of hands only."""
    one = Task(0, Work.COOK, Attend.HANDS, 2 * MIN, "", "", SPAN)
    run = RunOf("dish", "Dish", (), "", 0)
    end = 3 * MIN
    hands = (Hands(0, end, number),)
    problem = Problem(
        "e", "E", datetime(2026, 5, 1), end, (0, end), 0, "short", (run,), POOLS, (one, one), (), (), (), (), hands
    )
    assert shortest(problem) == (2 * MIN if number == 2 else None)
