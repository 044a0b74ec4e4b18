"""Books that can't be, in small: what is said, that it is the smallest set, and that each fix was worth proposing. All invented."""

from __future__ import annotations

from collections.abc import Callable

import pytest

from recipec.plan.collide import _Asked, collide, smaller, smallest
from recipec.plan.collide_fixes import _least, changes_for, moved, postponed
from recipec.plan.schedule import schedule
from recipec.plan.timeline_types import Attend, Collision, GearNeed, Hands, OvenNeed, Problem, Status
from tests.plan.kitchen_problems import DAY, FRIDGE, HOB, HOUR, MIN, OVEN, Maker, pools
from tests.plan.timeline_check import check

DAYTIME = (Hands(15 * HOUR, 23 * HOUR, 1),)


def at(hour: int, minute: int = 0) -> int:
    return hour * HOUR + minute * MIN


def soufflés() -> Problem:
    """Eight for one oven that holds six, hot for three minutes."""
    made = Maker()
    course, run = made.course("Sweet", at(21)), made.run("Cheese soufflés")
    fold = made.task(run, 10 * MIN, "fold in the whites")
    for batch in (1, 2):
        need = OvenNeed(OVEN, 1900, 1900, 1)
        bake = made.task(run, 14 * MIN, "bake the soufflés", Attend.REACH, oven=need, batch=(batch, 2), step=3)
        made.then(fold, bake, 0, 20 * MIN)
        made.due(bake, course, 3 * MIN, "soufflés, 3 min hot")
    return made.problem(DAYTIME, pools(shelves=1), horizon=DAY, day=(0, DAY))


def set_cream() -> Problem:
    """Four hours to set, guests in three."""
    made = Maker()
    course, run = made.course("Sweet", at(19)), made.run("Lemon cream")
    heat = made.task(run, 15 * MIN, "heat the cream")
    chill = made.task(run, 4 * HOUR, "set the cream", Attend.ALONE, gear=(GearNeed(FRIDGE, 900),))
    turn = made.task(run, 5 * MIN, "turn out the cream")
    made.then(heat, chill)
    made.then(chill, turn)
    made.due(turn, course, 5 * MIN)
    return made.problem((Hands(16 * HOUR, 23 * HOUR, 1),), horizon=DAY, day=(0, DAY))


def cure() -> Problem:
    """A cure over night, found on the day."""
    made = Maker()
    course, run = made.course("First", at(19, 30)), made.run("Cured trout")
    rub = made.task(run, 10 * MIN, "rub in the salt")
    night = made.task(run, 18 * HOUR, "cure over night", Attend.ALONE, gear=(GearNeed(FRIDGE, 900),))
    cut = made.task(run, 10 * MIN, "slice the trout")
    made.then(rub, night)
    made.then(night, cut)
    made.due(cut, course, 10 * MIN)
    return made.problem((Hands(9 * HOUR, 23 * HOUR, 1),), horizon=DAY, day=(0, DAY))


def roasts() -> Problem:
    """At 240 °C and at 120 °C, in one oven."""
    made = Maker()
    course = made.course("Main", at(20, 10))
    for name, heat in (("Leeks", 2400), ("Custards", 1200)):
        run = made.run(name)
        trim = made.task(run, 6 * MIN, f"ready the {name.lower()}")
        need = OvenNeed(OVEN, heat, heat, 1)
        roast = made.task(run, 35 * MIN, f"bake the {name.lower()}", Attend.REACH, oven=need)
        lift = made.task(run, 3 * MIN, f"lift out the {name.lower()}")
        made.then(trim, roast)
        made.then(roast, lift, 0, 5 * MIN, f"{name.lower()}, 5 min warm")
        made.due(lift, course, 5 * MIN)
    return made.problem(DAYTIME, horizon=DAY, day=(0, DAY))


def five_pans() -> Problem:
    """For four burners."""
    made = Maker()
    course = made.course("Main", at(20))
    for place in range(5):
        run = made.run(f"Sauce {place + 1}")
        simmer = made.task(run, 10 * MIN, f"simmer sauce {place + 1}", Attend.REACH, gear=(GearNeed(HOB, 1),))
        made.due(simmer, course, 2 * MIN)
    return made.problem(DAYTIME, horizon=DAY, day=(0, DAY))


def two_sauces() -> Problem:
    """At the last minute, by one pair of hands."""
    made = Maker()
    course = made.course("Main", at(20))
    for name in ("Butter sauce", "Foam"):
        whisk = made.task(made.run(name), 6 * MIN, f"whisk the {name.lower()}")
        made.due(whisk, course, 0)
    return made.problem(DAYTIME, horizon=DAY, day=(0, DAY))


def stock() -> Problem:
    """A soup due before its stock can be ready."""
    made = Maker()
    course = made.course("Soup", at(18))
    bones, soup = made.run("Stock", None), made.run("Clear soup")
    brown = made.task(bones, 10 * MIN, "brown the bones")
    simmer = made.task(bones, 5 * HOUR, "simmer the stock", Attend.REACH, gear=(GearNeed(HOB, 1),))
    season = made.task(soup, 20 * MIN, "season the soup")
    made.then(brown, simmer)
    made.then(simmer, season)
    made.due(season, course, 30 * MIN)
    return made.problem((Hands(14 * HOUR, 23 * HOUR, 1),), horizon=DAY, day=(0, DAY))


ALL = (soufflés, set_cream, cure, roasts, five_pans, two_sauces, stock)


def only(problem: Problem) -> Collision:
    plan = schedule(problem)
    check(problem, plan)
    assert plan.status is Status.IMPOSSIBLE
    assert len(plan.collisions) == 1
    return plan.collisions[0]


def fixes(collision: Collision) -> list[str]:
    return [fix.text for fix in collision.fixes]


def test_soufflés() -> None:
    found = only(soufflés())
    assert (found.slug, found.tasks) == ("held-too-long", (1, 2))
    assert found.text == (
        "Two shelves at 190 °C would be wanted at once, for “bake the soufflés, batch 1 of 2” (Cheese soufflés) and “bake the "
        "soufflés, batch 2 of 2” (Cheese soufflés); the oven has one shelf, between 20:43 and 21:00; due at 21:00; “soufflés, "
        "3 min hot” can't wait longer than 3 min."
    )
    assert fixes(found) == [
        "use two shelves of the oven at once instead of one",
        "let “soufflés, 3 min hot” stand up to 18 min instead of 3 min, if it bears that",
        "have two ovens instead of one",
    ]


def test_four_hours_to_set_and_guests_in_three() -> None:
    found = only(set_cream())
    assert (found.slug, found.tasks) == ("cannot-be-ready", (0, 1, 2))
    assert found.text == (
        "From “heat the cream” (Lemon cream) to “turn out the cream” (Lemon cream) takes 4 h 20 min, and that can't begin before "
        "16:00, so it is not ready for Sweet at 19:00."
    )
    assert fixes(found)[:2] == ["arrive at 14:30 instead of 16:00", "serve Sweet at 20:30 instead of 19:00"]


def test_an_overnight_cure_found_on_the_day() -> None:
    found = only(cure())
    assert (found.slug, found.tasks) == ("cannot-be-ready", (1,))
    assert "18 h" in found.text and "09:00" in found.text
    assert fixes(found) == ["prepare the day before as well, from 15:00 to 18:00"]


def test_two_temperatures() -> None:
    found = only(roasts())
    assert (found.slug, found.tasks) == ("oven-clash", (1, 4))
    assert found.text.startswith(
        "The oven is wanted at 240 °C for “bake the leeks” (Leeks) and at 120 °C for “bake the custards” (Custards), between "
        "19:22 and 20:07; due at 20:10"
    )
    assert "have two ovens instead of one" in fixes(found)
    assert sum("if it bears that" in fix for fix in fixes(found)) == 1


def test_five_pans() -> None:
    found = only(five_pans())
    assert (found.slug, found.tasks) == ("not-enough-burners", (0, 1, 2, 3, 4))
    assert found.text.startswith("Five burners would be wanted at once") and "; there are four, between" in found.text
    assert "have five burners instead of four" in fixes(found)


def test_two_last_minute_sauces() -> None:
    found = only(two_sauces())
    assert (found.slug, found.tasks) == ("cannot-be-ready", (0, 1))
    assert found.text.startswith("One pair of hands is wanted for “whisk the butter sauce” (Butter sauce), 6 min and")
    assert "have one more pair of hands from 19:00 to 20:00" in fixes(found)


def test_a_course_before_its_stock() -> None:
    found = only(stock())
    assert (found.slug, found.tasks) == ("cannot-be-ready", (0, 1, 2))
    assert "5 h 30 min" in found.text
    assert fixes(found)[0] == "arrive at 12:30 instead of 14:00"


@pytest.mark.parametrize("make", ALL)
def test_nothing_of_a_set_can_be_let_go(make: Callable[[], Problem]) -> None:
    problem = make()
    found = smallest(problem)
    assert found
    asked = _Asked(problem)
    assert asked.impossible(found)
    for part in found:
        assert not asked.impossible([other for other in found if other != part]), part


@pytest.mark.parametrize("make", ALL)
def test_every_fix_has_a_plan_that_holds(make: Callable[[], Problem]) -> None:
    problem = make()
    ways = [least for way in changes_for(problem, smallest(problem)) if (least := _least(way)) is not None]
    assert ways
    for change in ways:
        plan = schedule(change.problem)
        assert plan.status is Status.BEST, change.text
        check(change.problem, plan)
    told = {fix.text for fix in collide(problem)[0].fixes}
    assert told == {change.text for change in ways[:4]}


def test_two_collisions_are_told_apart_and_fixed_apart() -> None:
    made = Maker()
    first, second = made.course("Soup", at(19)), made.course("Main", at(21))
    for name in ("Butter sauce", "Foam"):
        made.due(made.task(made.run(name), 6 * MIN, f"whisk the {name.lower()}"), first, 0)
    for place in range(5):
        run = made.run(f"Glaze {place + 1}", second)
        glaze = made.task(run, 10 * MIN, f"reduce glaze {place + 1}", Attend.REACH, gear=(GearNeed(HOB, 1),))
        made.due(glaze, second, 2 * MIN)
    problem = made.problem(DAYTIME, horizon=DAY, day=(0, DAY))
    plan = schedule(problem)
    check(problem, plan)
    assert {one.slug for one in plan.collisions} == {"cannot-be-ready", "not-enough-burners"}
    assert all(one.fixes for one in plan.collisions)


@pytest.mark.parametrize(
    ("sets", "told"),
    [
        ([(1, 2, 3), (1, 2)], [1]),
        ([(1, 2), (1, 2, 3), (0, 1, 2, 3)], [0]),
        ([(1, 2), (1, 2)], [0]),
        ([(1, 2), (2, 3)], [0, 1]),
        ([(4,), (1, 2), (2, 1, 5)], [0, 1]),
        ([], []),
    ],
)
def test_only_sets_that_hold_no_other_whole_are_told(sets: list[tuple[int, ...]], told: list[int]) -> None:
    assert smaller(sets) == told


def test_a_collision_within_another_is_told_alone() -> None:
    made = Maker()
    course = made.course("Main", at(20))
    for place in range(5):
        # Five pans for four burners, two of them at two temperatures in one oven as well.
        run = made.run(f"Bake {place + 1}")
        heat = (2400, 1200)[place] if place < 2 else None
        bake = made.task(
            run,
            10 * MIN,
            f"finish {place + 1}",
            Attend.REACH,
            gear=(GearNeed(HOB, 1),),
            oven=None if heat is None else OvenNeed(OVEN, heat, heat, 1),
        )
        made.due(bake, course, 0)
    problem = made.problem(DAYTIME, horizon=DAY, day=(0, DAY))
    found = collide(problem)
    assert [(one.slug, one.tasks) for one in found] == [("oven-clash", (0, 1))]
    assert "have two ovens instead of one" in fixes(found[0])


def test_a_later_course_takes_its_work_along() -> None:
    problem = soufflés()
    later = postponed(problem, (0,), 10 * MIN)
    assert later is not None
    assert later.courses[0].at == at(21, 10) and {due.at for due in later.dues} == {at(21, 10)}
    assert postponed(problem, (0,), 4 * HOUR) is None


def test_a_day_before_moves_all_times() -> None:
    problem = soufflés()
    wider = moved(problem, DAY)
    assert wider.origin.day == 30 and wider.day == (DAY, 2 * DAY)
    assert wider.dues[0].at == problem.dues[0].at + DAY and wider.hands[0].start == problem.hands[0].start + DAY
