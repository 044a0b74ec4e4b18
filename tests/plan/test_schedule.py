"""Each thing that a plan must hold to, in a problem of a few tasks; what makes one better; and that the check itself sees what is wrong."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import replace

import pytest

from recipec.plan.late import lateness
from recipec.plan.schedule import schedule
from recipec.plan.slack import slack
from recipec.plan.timeline_types import Attend, GearNeed, Hands, Keep, OvenNeed, Placed, Plan, Problem, Status, Work
from tests.plan.kitchen_problems import DAY, FRIDGE, HOB, HOUR, MIN, OVEN, PAN, Maker, evening, oven, pools
from tests.plan.timeline_check import check

DAYTIME = (Hands(15 * HOUR, 23 * HOUR, 1),)


def planned(problem: Problem) -> Plan:
    plan = schedule(problem)
    check(problem, plan)
    assert plan.status is Status.BEST
    return plan


def starts(plan: Plan) -> list[int]:
    return [one.start for one in plan.placed]


def one_course(at: int = 20 * HOUR) -> tuple[Maker, int]:
    made = Maker()
    made.course("Main", at)
    return made, made.run("Leeks")


def whole_day(made: Maker, hands: tuple[Hands, ...] = DAYTIME, aim: str = "calm", kitchen: object = None) -> Problem:
    problem = made.problem(hands, aim=aim, horizon=DAY, day=(0, DAY))
    return problem if kitchen is None else replace(problem, pools=kitchen)  # type: ignore[arg-type]


# ------------------------------------------------------------ ovens


def bakes(*heats: int, shelves: int = 1, minutes: int = 30) -> tuple[Maker, list[int]]:
    made, run = one_course()
    tasks = []
    for heat in heats:
        need = OvenNeed(OVEN, heat, heat, shelves)
        tasks.append(made.task(run, minutes * MIN, f"bake at {heat // 10}", Attend.REACH, oven=need))
        made.due(tasks[-1], 0, 4 * HOUR)
    return made, tasks


def test_an_oven_is_lit_in_time_to_be_hot() -> None:
    made, _ = bakes(2000)
    plan = planned(whole_day(made))
    (setting,) = plan.settings
    # (200 - 20) K at 12 K a minute.
    assert setting.start - setting.lit == 15 * MIN
    assert (setting.celsius, setting.end - setting.start) == (2000, 30 * MIN)


def test_nothing_bakes_before_the_cook_can_have_heated_the_oven() -> None:
    made, (bake,) = bakes(2000)
    made.dues = [replace(made.dues[0], at=15 * HOUR + 45 * MIN)]
    plan = planned(whole_day(made))
    assert plan.placed[bake].start == 15 * HOUR + 15 * MIN
    assert plan.settings[0].lit == 15 * HOUR
    made.dues = [replace(made.dues[0], at=15 * HOUR + 44 * MIN)]
    assert schedule(whole_day(made)).status is Status.IMPOSSIBLE


def test_two_temperatures_have_time_to_change_between() -> None:
    made, _ = bakes(2000, 1600)
    plan = planned(whole_day(made, aim="short"))
    first, second = plan.settings
    # From 160 up to 200 at 12 K a minute is quicker than down at 2.5.
    assert (first.celsius, second.celsius) == (1600, 2000)
    assert second.start - first.end == 4 * MIN


def test_one_temperature_shares_the_shelves() -> None:
    made, _ = bakes(1800, 1800, 1800)
    plan = planned(whole_day(made, aim="short"))
    assert plan.span_s == 60 * MIN
    assert len(plan.settings) == 1


def test_a_tolerance_lets_two_share_one_temperature() -> None:
    made, run = one_course()
    for low, high in ((1700, 1900), (1800, 2000)):
        task = made.task(run, 30 * MIN, "bake", Attend.REACH, oven=OvenNeed(OVEN, low, high, 1))
        made.due(task, 0, 0)
    plan = planned(whole_day(made))
    (setting,) = plan.settings
    assert 1800 <= setting.celsius <= 1900


def test_hotter_than_the_oven_goes_can_not_be() -> None:
    made, _ = bakes(2600)
    assert schedule(whole_day(made)).status is Status.IMPOSSIBLE
    made, _ = bakes(2500)
    planned(whole_day(made))


def test_a_tolerance_is_cut_by_what_the_oven_goes_to() -> None:
    made, run = one_course()
    made.due(made.task(run, 30 * MIN, "bake", Attend.REACH, oven=OvenNeed(OVEN, 2400, 2600, 1)), 0, 0)
    plan = planned(whole_day(made))
    assert 2400 <= plan.settings[0].celsius <= 2500


def test_two_ovens_bake_at_two_temperatures_at_once() -> None:
    made, run = one_course()
    for heat in (1200, 2400):
        made.due(made.task(run, 30 * MIN, "bake", Attend.REACH, oven=OvenNeed(OVEN, heat, heat, 1)), 0, 0)
    plan = planned(whole_day(made, kitchen=pools(ovens=2)))
    assert {one.oven for one in plan.placed} == {0, 1}


def test_fewest_changes_of_temperature() -> None:
    """Four bakes at two temperatures, on one shelf, nothing else to choose them by: one change, not three."""
    made, _ = bakes(1600, 2000, 1600, 2000, minutes=20)
    made.dues = [replace(due, stand_max=None) for due in made.dues]
    problem = whole_day(made, kitchen=(oven(shelves=1), *pools()[1:]))
    plan = planned(problem)
    assert len(plan.settings) == 2
    assert {goal.name: goal.value for goal in plan.goals}["changes"] == 1


# ------------------------------------------------------------ hands, hours


def test_one_pair_of_hands_does_one_thing_at_a_time() -> None:
    made, run = one_course()
    for _ in range(3):
        made.due(made.task(run, 10 * MIN, "cut"), 0, None)
    plan = planned(whole_day(made, aim="short"))
    assert plan.span_s == 30 * MIN


def test_a_touch_wants_a_hand() -> None:
    made, run = one_course()
    turned = made.task(run, 10 * MIN, "turn", Attend.REACH, touches=(5 * MIN,))
    cut = made.task(run, 10 * MIN, "cut")
    for task in (turned, cut):
        made.due(task, 0, 0)
    assert schedule(whole_day(made)).status is Status.IMPOSSIBLE
    made.dues = [replace(due, stand_max=5 * MIN) for due in made.dues]
    plan = planned(whole_day(made))
    assert plan.placed[turned].touched == (1,)


def test_work_lies_whole_within_the_hours() -> None:
    made, run = one_course()
    long = made.task(run, 50 * MIN, "cut")
    made.due(long, 0, None)
    hands = (Hands(10 * HOUR, 10 * HOUR + 45 * MIN, 1), Hands(18 * HOUR, 22 * HOUR, 1))
    assert planned(whole_day(made, hands)).placed[long].start >= 18 * HOUR


def test_alone_goes_on_through_the_night_and_within_reach_does_not() -> None:
    hands = (Hands(15 * HOUR, 18 * HOUR, 1), Hands(DAY + 14 * HOUR, DAY + 22 * HOUR, 1))

    def whole(attend: Attend, need: int) -> Problem:
        made = Maker()
        made.course("Main", DAY + 19 * HOUR)
        cure = made.task(made.run("Trout"), 14 * HOUR, "cure", attend, gear=(GearNeed(need, 1),))
        made.due(cure, 0, None)
        return made.problem(hands, horizon=2 * DAY, day=(DAY, 2 * DAY))

    night = planned(whole(Attend.ALONE, FRIDGE))
    assert 15 * HOUR <= night.placed[0].start <= 18 * HOUR
    assert schedule(whole(Attend.REACH, FRIDGE)).status is Status.IMPOSSIBLE
    # A flame is never alone, whatever the text says.
    assert schedule(whole(Attend.ALONE, HOB)).status is Status.IMPOSSIBLE


def test_somebody_begins_what_then_goes_on_alone() -> None:
    made, run = one_course()
    set_it = made.task(run, 3 * HOUR, "set", Attend.ALONE)
    made.due(set_it, 0, 0)
    hands = (Hands(10 * HOUR, 16 * HOUR, 1), Hands(18 * HOUR, 22 * HOUR, 1))
    assert schedule(whole_day(made, hands)).status is Status.IMPOSSIBLE
    made.dues = [replace(made.dues[0], stand_max=HOUR)]
    assert planned(whole_day(made, hands)).placed[set_it].start == 16 * HOUR


def test_a_second_pair_of_hands_comes_and_goes() -> None:
    made, run = one_course()
    for _ in range(4):
        made.due(made.task(run, 30 * MIN, "cut"), 0, HOUR)
    assert schedule(whole_day(made)).status is Status.IMPOSSIBLE
    hands = (
        Hands(15 * HOUR, 18 * HOUR + 30 * MIN, 1),
        Hands(18 * HOUR + 30 * MIN, 20 * HOUR, 2),
        Hands(20 * HOUR, 22 * HOUR, 1),
    )
    plan = planned(whole_day(made, hands))
    assert {one.hands for one in plan.placed} == {1, 2}


def test_who_leaves_has_no_work_half_done() -> None:
    """One, then two, then one: two long pieces of work overlap where there are two, but only one pair of hands stays on."""
    made, run = one_course(23 * HOUR)
    early = made.task(run, 60 * MIN, "early", earliest=15 * HOUR, latest=16 * HOUR)
    late = made.task(run, 60 * MIN, "late", earliest=15 * HOUR + 50 * MIN, latest=16 * HOUR + 50 * MIN)
    hands = (
        Hands(15 * HOUR, 15 * HOUR + 30 * MIN, 1),
        Hands(15 * HOUR + 30 * MIN, 16 * HOUR + 20 * MIN, 2),
        Hands(16 * HOUR + 20 * MIN, 23 * HOUR, 1),
    )
    assert schedule(whole_day(made, hands)).status is Status.IMPOSSIBLE
    made.tasks[early] = replace(made.tasks[early], latest=None, earliest=16 * HOUR + 50 * MIN)
    plan = planned(whole_day(made, hands))
    assert plan.placed[late].hands == 1


# ------------------------------------------------------------ gear


def test_one_pan_for_two() -> None:
    made, run = one_course()
    for _ in range(2):
        made.due(made.task(run, 10 * MIN, "fry", Attend.REACH, gear=(GearNeed(PAN, 1),)), 0, None)
    assert planned(whole_day(made, aim="short", kitchen=pools(pans=1))).span_s == 20 * MIN
    both = planned(whole_day(made, aim="short", kitchen=pools(pans=2)))
    assert both.span_s == 10 * MIN and sorted(one.units for one in both.placed) == [((0,),), ((1,),)]


def test_gear_stays_taken_between_tasks() -> None:
    made, run = one_course()
    first = made.task(run, 5 * MIN, "fill the pan")
    last = made.task(run, 5 * MIN, "empty the pan")
    other = made.task(run, 5 * MIN, "use the pan", Attend.REACH, gear=(GearNeed(PAN, 1),))
    made.then(first, last, HOUR)
    made.keeps.append(Keep(GearNeed(PAN, 1), first, last))
    for task in (last, other):
        made.due(task, 0, None)
    plan = planned(whole_day(made, aim="short", kitchen=pools(pans=1)))
    assert plan.keeps == ((0,),)
    assert plan.span_s == 75 * MIN


def test_a_full_fridge() -> None:
    made, run = one_course()
    for _ in range(2):
        chill = made.task(run, 60 * MIN, "chill", Attend.ALONE, gear=(GearNeed(FRIDGE, 600),))
        made.due(chill, 0, 30 * MIN)
    assert schedule(whole_day(made, kitchen=pools(fridge=1000))).status is Status.IMPOSSIBLE
    planned(whole_day(made, kitchen=pools(fridge=1200)))
    # A kitchen that does not say how large its fridge is has room enough.
    planned(whole_day(made, kitchen=pools(fridge=0)))


# ------------------------------------------------------------ what is better


def two_ways() -> Maker:
    """Cutting that keeps an hour and a half, and a roast that is wanted fresh."""
    made, run = one_course()
    cut = made.task(run, 40 * MIN, "cut")
    roast = made.task(run, 20 * MIN, "roast", Attend.REACH)
    plate = made.task(run, 5 * MIN, "plate", work=Work.PLATE)
    made.then(cut, roast, 0, 90 * MIN, "cut, 90 min")
    made.then(roast, plate, 0, 10 * MIN)
    made.due(plate, 0, 0)
    return made


@pytest.mark.parametrize(
    ("aim", "first", "values"),
    [
        ("calm", "calm", {"calm": 5 * MIN}),
        ("fresh", "fresh", {"fresh": 0, "calm": 40 * MIN}),
        ("short", "short", {"short": 65 * MIN, "calm": 40 * MIN, "fresh": 0}),
    ],
)
def test_the_aim_comes_first(aim: str, first: str, values: dict[str, int]) -> None:
    plan = planned(whole_day(two_ways(), aim=aim))
    found = {goal.name: goal.value for goal in plan.goals}
    assert plan.goals[0].name == first
    assert {name: found[name] for name in values} == values


def test_the_reserve_and_clearing_down_are_not_counted_as_short() -> None:
    made = two_ways()
    made.task(None, 20 * MIN, "kept free", work=Work.RESERVE, earliest=15 * HOUR, latest=16 * HOUR)
    made.task(None, 30 * MIN, "clear down", work=Work.CLEAR, earliest=20 * HOUR)
    assert planned(whole_day(made, aim="short")).span_s == 65 * MIN


def test_the_cook_stays_with_one_dish() -> None:
    made, _ = one_course()
    for name in ("A", "B"):
        run = made.run(name)
        for _ in range(3):
            made.due(made.task(run, 5 * MIN, f"cut for {name}"), 0, None)
    plan = planned(whole_day(made))
    assert {goal.name: goal.value for goal in plan.goals}["switches"] == 1


# ------------------------------------------------------------ evenings


@pytest.mark.parametrize("aim", ["calm", "fresh", "short"])
def test_an_evening_of_forty_steps_is_proved_best(aim: str) -> None:
    plan = planned(evening(40, aim=aim))
    assert plan.goals[0].name == aim
    assert all(goal.value == goal.bound for goal in plan.goals if goal.name != "switches")


def test_the_same_evening_has_the_same_plan() -> None:
    assert schedule(evening(40, 2)) == schedule(evening(40, 2))


# ------------------------------------------------------------ late guests, slack


def test_late_guests_break_what_is_begun() -> None:
    made = Maker()
    made.course("First", 19 * HOUR)
    made.course("Main", 19 * HOUR + 30 * MIN)
    first, main = made.run("Soup", 0), made.run("Roast", 1)
    plate = made.task(first, 5 * MIN, "ladle the soup", work=Work.PLATE)
    made.due(plate, 0, 0)
    roast = made.task(main, 60 * MIN, "roast", Attend.REACH)
    carve = made.task(main, 5 * MIN, "carve", work=Work.PLATE)
    made.then(roast, carve, 0, 10 * MIN, "roast, 10 min warm")
    made.due(carve, 1, 2 * MIN)
    problem = whole_day(made, aim="fresh")
    plan = planned(problem)
    few, many = lateness(problem, plan, (5, 30))
    assert few.breaks == ()
    assert set(few.waits) == {plate, carve}
    (broken,) = many.breaks
    assert (broken.task, broken.used_by, broken.hold) == (roast, carve, "roast, 10 min warm")
    # The roast went in at 18:25 and is out at 19:25; carving begins at 19:53 at the soonest.
    assert broken.by == (19 * 60 + 53 - (19 * 60 + 25) - 10) * MIN
    assert many.starts[roast] == plan.placed[roast].start


def test_slack_is_how_much_later_things_may_go() -> None:
    made = two_ways()
    problem = whole_day(made, aim="fresh")
    plan = planned(problem)
    assert slack(problem, plan).tasks == (0, 0, 0)
    plan = planned(whole_day(made, aim="calm"))
    found = slack(problem, plan)
    assert found.tasks[0] == plan.placed[1].start - plan.placed[0].end
    # Plating alone goes with its course, as long as the roast bears it.
    assert found.courses == (10 * MIN - (plan.placed[2].start - plan.placed[1].end),)


@pytest.mark.parametrize("steps", [40])
def test_what_may_go_later_may_really(steps: int) -> None:
    """Each task put off by its slack: only goals may be off then."""
    problem = evening(steps)
    plan = planned(problem)
    for index, room in enumerate(slack(problem, plan).tasks):
        if room:
            one = plan.placed[index]
            put_off = replace(one, start=one.start + room, end=one.end + room)
            placed = (*plan.placed[:index], put_off, *plan.placed[index + 1 :])
            if problem.tasks[index].oven is None:
                check(problem, replace(plan, placed=placed, goals=()))


# ------------------------------------------------------------ the check


def _earlier(plan: Plan, index: int, seconds: int) -> Plan:
    one = plan.placed[index]
    changed = replace(one, start=one.start - seconds, end=one.end - seconds)
    return replace(plan, placed=(*plan.placed[:index], changed, *plan.placed[index + 1 :]), goals=())


def _with(plan: Plan, index: int, **changes: object) -> Plan:
    one: Placed = replace(plan.placed[index], **changes)  # type: ignore[arg-type]
    return replace(plan, placed=(*plan.placed[:index], one, *plan.placed[index + 1 :]), goals=())


@pytest.mark.parametrize(
    ("spoil", "words"),
    [
        (lambda problem, plan: _earlier(plan, 0, 4 * HOUR), "task 0 .* too soon"),
        (lambda problem, plan: _earlier(plan, 0, -MIN), "held too long"),
        (lambda problem, plan: _with(plan, 0, hands=0), "nobody's"),
        (lambda problem, plan: _with(plan, 0, hands=2), "are not there"),
        (lambda problem, plan: replace(plan, settings=(), goals=()), "not set for it"),
        (lambda problem, plan: replace(plan, placed=plan.placed[1:]), "left out"),
        (lambda problem, plan: replace(plan, span_s=plan.span_s + 1), "span"),
        (lambda problem, plan: replace(plan, status=Status.IMPOSSIBLE), "yet something is placed"),
        (
            lambda problem, plan: replace(
                plan, goals=(), settings=tuple(replace(one, lit=one.start) for one in plan.settings)
            ),
            "no time to come to",
        ),
    ],
)
def test_the_check_sees_what_is_wrong(spoil: Callable[[Problem, Plan], Plan], words: str) -> None:
    problem = evening(40)
    plan = planned(problem)
    with pytest.raises(AssertionError, match=words):
        check(problem, spoil(problem, plan))
