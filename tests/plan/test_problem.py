"""From a book and an event to a scheduling problem. All dishes are invented."""

from __future__ import annotations

from dataclasses import replace
from pathlib import Path

import pytest

from recipec.book.compile import Build, compile_book
from recipec.emit.timeline_words import Words
from recipec.measure.show import Style
from recipec.plan.late import lateness
from recipec.plan.problem import problem_of
from recipec.plan.pull_list import uses
from recipec.plan.run_sheet import run_sheet
from recipec.plan.run_sheet_types import LineKind
from recipec.plan.schedule import schedule
from recipec.plan.slack import slack
from recipec.plan.timeline_types import Attend, Link, Plan, Planned, PoolKind, Problem, Status, Unplanned, Why, Work
from recipec.plan.work_figures import seconds
from tests.plan.kitchen_book import EVENT, KITCHEN, build, named, problem
from tests.plan.timeline_check import check

RECIPES = Path(__file__).parents[2] / "recipes"
GOLDEN = Path(__file__).with_name("problem_tasks.txt")


def link(found: Problem, before: str, after: str) -> Link:
    """The one link between two tasks by their chart words."""
    pairs = [
        one
        for one in found.links
        if found.tasks[one.before].what.startswith(before) and found.tasks[one.after].what.startswith(after)
    ]
    assert len(pairs) == 1
    return pairs[0]


# ---------------------------------------------------------------- lengths


def test_the_long_end_of_a_range_counts(tmp_path: Path) -> None:
    found = problem(tmp_path, "Fry [2 onions] in a {saucepan} for <8-12 min>.")
    assert named(found, "fry").seconds == 12 * 60


def test_times_over_and_both_sides(tmp_path: Path) -> None:
    found = problem(
        tmp_path, "Knead [1 kg flour] for <2 x 3 min>. Toast [4 pears] in a {saucepan} for <2 min per side>."
    )
    assert named(found, "knead").seconds == 6 * 60
    assert named(found, "toast").seconds == 4 * 60


def test_so_much_a_plate_and_a_kilogram(tmp_path: Path) -> None:
    event = EVENT.replace("guests: 4", "guests: 6")
    found = problem(
        tmp_path,
        "Set the {oven} to <200 °C>.\n\nRoast [2 kg beef] in {the oven} for <30 min per kg>.\n\nPlate it for <50 s per plate>.",
        event=event,
    )
    assert named(found, "roast").seconds == 3 * 30 * 60
    assert named(found, "plate").seconds == 6 * 50


def test_what_comes_by_the_piece_cooks_side_by_side(tmp_path: Path) -> None:
    found = problem(
        tmp_path,
        "Set the {oven} to <200 °C>.\n\nRoast [2 ducks, 1.5 kg each] in {the oven} for <20 min per kg within reach>.",
    )
    assert named(found, "roast").seconds == 30 * 60


def test_handwork_without_a_time_is_assumed(tmp_path: Path) -> None:
    task = named(problem(tmp_path, "Rub [10 g salt] into [1 kg beef]."), "rub")
    assert (task.seconds, task.assumed, task.attend) == (seconds("handwork"), True, Attend.HANDS)


def test_a_cue_alone_is_assumed_too(tmp_path: Path) -> None:
    task = named(problem(tmp_path, "Fry [2 onions] in a {saucepan} <until golden>."), "fry")
    assert task.assumed and task.seconds > 60


def test_touches_at_their_times(tmp_path: Path) -> None:
    found = problem(
        tmp_path, "Set the {oven} to <200 °C>.\n\nRoast [1 kg beef] in {the oven} for <50 min, baste every 15 min>."
    )
    task = named(found, "roast")
    assert (task.touches, task.touch) == ((900, 1800, 2700, 2940), "baste")


OVEN = "Set the {oven} to <200 °C>.\n\nRoast [1 kg beef] in {the oven} for <50 min within reach>."


def test_what_comes_out_of_an_oven_is_taken_out_in_its_last_minute(tmp_path: Path) -> None:
    task = named(problem(tmp_path, f"{OVEN}\n\nCarve it for <4 min attended>."), "roast")
    assert (task.touches, task.touch_words(0), task.unload) == ((49 * 60,), "take out", True)


def test_a_touch_in_that_minute_goes_with_it(tmp_path: Path) -> None:
    text = OVEN.replace("within reach>", "within reach, turn at 20 min, turn at 49 min>")
    task = named(problem(tmp_path, text), "roast")
    assert [(at, task.touch_words(place)) for place, at in enumerate(task.touches)] == [
        (20 * 60, "turn"),
        (49 * 60, "take out"),
    ]


@pytest.mark.parametrize("words", ["Take it out and carve it for <4 min>.", "Lift it out, and rest it for <9 min>."])
def test_unless_the_next_action_takes_it_out_which_then_begins_at_once(tmp_path: Path, words: str) -> None:
    found = problem(tmp_path, f"{OVEN}\n\n{words}")
    assert not named(found, "roast").touches
    assert [one.gap_max for one in found.links if found.tasks[one.before].verb == "roast"] == [0]


@pytest.mark.parametrize(
    "words",
    [
        "Take [100 g butter] out of the fridge and melt it for <4 min>.",
        "Take it out and stew it for <9 min within reach>.",
    ],
)
def test_but_not_one_that_takes_out_something_else_or_takes_no_hands(tmp_path: Path, words: str) -> None:
    assert named(problem(tmp_path, f"{OVEN}\n\n{words}"), "roast").unload


def test_nor_is_it_taken_out_while_it_bakes_on_at_another_heat(tmp_path: Path) -> None:
    text = f"{OVEN}\n\nTurn {{the oven}} down to <160 °C> and bake for <30 min within reach>."
    first, second = (task for task in problem(tmp_path, text).tasks if task.oven)
    assert (first.unload, second.unload) == (False, True)


def test_something_else_in_the_oven_is_no_baking_on(tmp_path: Path) -> None:
    text = f"{OVEN}\n\nBake [4 pears] in {{the oven}} for <30 min within reach>."
    assert all(task.unload for task in problem(tmp_path, text).tasks if task.oven)


def test_what_is_heated_again_in_an_oven_is_taken_out_too(tmp_path: Path) -> None:
    text = (
        "For the braise:\n\nSimmer [1 kg beef] in a {saucepan} for <60 min within reach>. "
        "-> braise, 1 kg, holds 2 d chilled, cooled in 60 min, back in 20 min in {the oven}\n\n"
        "To finish:\n\nPlate [the braise] for <40 s per plate>."
    )
    assert named(problem(tmp_path, text), "reheat").touches == (19 * 60,)


def test_somebody_puts_it_there_when_it_runs_alone(tmp_path: Path) -> None:
    assert named(problem(tmp_path, "Chill [1 l water] in a {fridge} for <3 h>."), "chill").touches == (0,)


def test_a_cure_is_not_turned_at_midnight(tmp_path: Path) -> None:
    task = named(problem(tmp_path, "Cure [1 kg beef] in a {fridge} for <24 h alone, turn at 12 h>."), "cure")
    assert task.touches == (0,)
    assert "turn at 12 h" in task.text.replace("\N{NO-BREAK SPACE}", " ")


# ---------------------------------------------------------------- batches


def test_gear_that_takes_so_much_splits_the_work(tmp_path: Path) -> None:
    event = EVENT.replace("guests: 4", "guests: 9")
    found = problem(tmp_path, "Fry [4 ducks] in a {frying pan, takes 4 plates} for <6 min a batch>.", event=event)
    batches = [task for task in found.tasks if task.verb == "fry"]
    assert [task.batch for task in batches] == [(1, 3), (2, 3), (3, 3)]
    assert {task.seconds for task in batches} == {360}


def test_one_pan_does_one_after_another_and_two_side_by_side(tmp_path: Path) -> None:
    text = "Fry [4 ducks] in a {frying pan, takes 2 plates} for <6 min a batch>."
    (tmp_path / "two").mkdir()
    (tmp_path / "one").mkdir()
    assert not [one for one in problem(tmp_path / "two", text).links if one.why is Why.BATCH]
    kitchen = KITCHEN.replace("frying pan: 2, takes 4 plates", "frying pan: 1")
    assert [one.why for one in problem(tmp_path / "one", text, kitchen).links] == [Why.BATCH]


def test_the_kitchen_s_gear_splits_what_is_counted(tmp_path: Path) -> None:
    found = problem(tmp_path, "Sear [4 pears, quartered] on a {griddle} for <6 min a batch>.")
    assert [task.batch for task in found.tasks if task.verb == "sear"] == [(1, 3), (2, 3), (3, 3)]


def test_a_spoon_of_seeds_is_toasted_in_one_go(tmp_path: Path) -> None:
    event = EVENT.replace("guests: 4", "guests: 20")
    assert (
        named(problem(tmp_path, "Toast [20 g cumin] in a {frying pan} for <3 min>.", event=event), "toast").batch
        is None
    )


def test_batches_that_fill_an_oven_wait_for_it_and_for_nothing_else(tmp_path: Path) -> None:
    text = "Set the {oven} to <190 °C>.\n\nBake [4 pears] in {the oven, takes 3 plates} for <14 min>."
    found = problem(tmp_path, text)
    assert [(task.batch, task.oven.shelves) for task in found.tasks if task.oven] == [((1, 2), 2), ((2, 2), 2)]
    assert not found.links


def test_a_machine_that_must_recover(tmp_path: Path) -> None:
    text = "Churn [2 l water] in an {ice-cream machine, takes 1 l, recovers 18 h} for <30 min alone>."
    found = problem(
        tmp_path,
        text.replace("[2 l water]", "[the custard]").replace(
            "Churn", "Stir [2 l milk] for <2 min>. -> custard, 2 l\n\nChurn"
        ),
    )
    assert [one.gap_min for one in found.links if one.why is Why.BATCH] == [18 * 3600]


# ---------------------------------------------------------------- gear


def test_what_the_kitchen_lacks_is_brought(tmp_path: Path) -> None:
    found = problem(tmp_path, "Steam [4 pears] in a {bamboo steamer} for <9 min within reach>.")
    pool = next(pool for pool in found.pools if pool.key == "bamboo steamer")
    assert (pool.number, pool.brought) == (1, 1)


def test_sizes_are_words_before_the_kitchen_s_name(tmp_path: Path) -> None:
    found = problem(tmp_path, "Fry [4 pears] in a {large frying pan} for <9 min>.")
    assert [pool.key for pool in found.pools if pool.kind is PoolKind.GEAR] == ["frying pan"]


def test_an_oven_that_is_not_there_is_a_trouble(tmp_path: Path) -> None:
    kitchen = KITCHEN.replace("oven: 1, 2 shelves, up to 250 °C, heats 12 °C/min\n", "")
    found = problem(tmp_path, "Set the {oven} to <200 °C>.\n\nRoast [1 kg beef] in {the oven} for <9 min>.", kitchen)
    assert [trouble.slug for trouble in found.troubles] == ["not-in-kitchen"]
    assert any(pool.kind is PoolKind.OVEN and pool.number == 1 for pool in found.pools)


def test_too_hot_for_the_oven(tmp_path: Path) -> None:
    found = problem(tmp_path, "Set the {oven} to <280 °C>.\n\nRoast [1 kg beef] in {the oven} for <9 min>.")
    (trouble,) = found.troubles
    assert (trouble.slug, trouble.span.text) == ("too-hot-for-oven", "<280 °C>")
    assert named(found, "roast").oven is not None


def test_a_fan_oven_reaches_further(tmp_path: Path) -> None:
    kitchen = KITCHEN.replace("heats 12 °C/min", "heats 12 °C/min, fan")
    found = problem(tmp_path, "Set the {oven} to <265 °C>.\n\nRoast [1 kg beef] in {the oven} for <9 min>.", kitchen)
    assert not found.troubles


def test_pans_for_two_dishes_are_washed_between_where_they_are_scarce(tmp_path: Path) -> None:
    text = "Fry [4 pears] in a {saucepan} for <9 min>. Leave them for <5 min>."
    other = f"Other dish\nserves: 4\n\n{text.replace('pears', 'apples')}\n"
    event = EVENT.replace("[our test dish]", "[our test dish] and [our other dish]")
    (tmp_path / "scarce").mkdir()
    (tmp_path / "ample").mkdir()
    scarce = problem(tmp_path / "scarce", text, KITCHEN.replace("saucepan: 2", "saucepan: 1"), event, other_dish=other)
    ample = problem(tmp_path / "ample", text, KITCHEN, event, other_dish=other)
    assert len([task for task in scarce.tasks if task.work is Work.WASH]) == 2
    assert not [task for task in ample.tasks if task.work is Work.WASH]


# ---------------------------------------------------------------- holds


def test_a_hold_is_the_longest_wait(tmp_path: Path) -> None:
    text = (
        "For the crumb:\n\nFry [100 g oats] in a {saucepan} for <5 min>. -> crumb, holds 20 min\n\n"
        "To finish:\n\nScatter [the crumb] on [4 pears] for <1 min>."
    )
    wait = link(problem(tmp_path, text), "fry", "scatter")
    assert (wait.gap_max, wait.why) == (20 * 60, Why.HOLD)
    assert wait.hold == "crumb, 20\N{NO-BREAK SPACE}min"


def test_cooled_and_brought_back(tmp_path: Path) -> None:
    text = (
        "For the braise:\n\nSimmer [1 kg beef] in a {saucepan} for <60 min within reach>. "
        "-> braise, 1 kg, holds 2 d chilled, cooled in 60 min, back in 20 min in {saucepan}\n\n"
        "To finish:\n\nPlate [the braise] for <40 s per plate>."
    )
    found = problem(tmp_path, text)
    cool, back = named(found, "cool"), named(found, "reheat")
    assert (cool.work, cool.seconds, back.work, back.seconds) == (Work.COOL, 3600, Work.BACK, 1200)
    assert link(found, "cool", "reheat").gap_max == 2 * 86400
    assert any(found.pools[need.pool].kind is PoolKind.BURNERS for need in back.gear)
    room = [keep for keep in found.keeps if found.pools[keep.need.pool].key == "fridge"]
    assert [keep.need.pieces for keep in room] == [1500]


def test_where_there_is_no_time_for_that_it_goes_on_hot(tmp_path: Path) -> None:
    text = (
        "For the braise:\n\nSimmer [1 kg beef] in a {saucepan} for <60 min within reach>. "
        "-> braise, holds 2 d chilled, cooled in 60 min, back in 20 min in {saucepan}\n\n"
        "To finish:\n\nPlate [the braise] for <40 s per plate>."
    )
    found = problem(tmp_path, text, event=EVENT.replace("12:00", "17:00"))
    assert not [task for task in found.tasks if task.work in (Work.COOL, Work.BACK)]
    assert link(found, "simmer", "plate").gap_max == seconds("straight")


def test_the_work_may_stop_where_it_says_so(tmp_path: Path) -> None:
    text = "Knead [1 kg flour] for <8 min>.\n\nStop here: up to 2 d chilled.\n\nRoll it out for <5 min>."
    assert link(problem(tmp_path, text), "knead", "roll").gap_max == 2 * 86400


def test_hot_food_goes_on_soon(tmp_path: Path) -> None:
    text = "Fry [4 pears] in a {saucepan} for <9 min>.\n\nTurn them over for <2 min>."
    assert link(problem(tmp_path, text), "fry", "turn").gap_max == seconds("stand hot")


def test_held_in_gear_that_is_taken_meanwhile(tmp_path: Path) -> None:
    text = (
        "For the sauce:\n\nSimmer [1 l water] in a {saucepan} for <9 min within reach>. -> sauce, holds 40 min hot in {bain-marie}\n\n"
        "To plate:\n\nSpoon [the sauce] over for <30 s per plate>."
    )
    found = problem(tmp_path, text)
    keep = next(keep for keep in found.keeps if found.pools[keep.need.pool].key == "bain-marie")
    assert (keep.from_end, keep.to_start) == (True, True)


ROAST = "Set the {oven} to <200 °C>.\n\nRoast [1 kg beef] in {the oven} for <30 min>. -> roast, holds 40 min hot in {the oven}"


def test_an_oven_is_kept_for_what_is_held_hot_in_it(tmp_path: Path) -> None:
    found = problem(tmp_path, ROAST)
    (keep,) = (keep for keep in found.keeps if keep.oven is not None)
    assert keep.oven is not None
    assert (keep.what, keep.course, keep.spare_s) == ("roast", 0, seconds("stand hot"))
    assert (keep.oven.low, keep.oven.high, keep.oven.shelves) == (700, 900, 1)


def test_a_fan_oven_shows_that_heat_on_its_own_dial(tmp_path: Path) -> None:
    found = problem(tmp_path, ROAST, KITCHEN.replace("12 °C/min", "12 °C/min, fan"))
    (need,) = (keep.oven for keep in found.keeps if keep.oven is not None)
    # As an oven without a fan would show it; the dial says 20 °C less.
    assert (need.low, need.high) == (900, 1100)


def test_or_until_what_uses_it(tmp_path: Path) -> None:
    text = f"For the roast:\n\n{ROAST}\n\nTo plate:\n\nSlice [the roast] and plate it for <40 s per plate>."
    found = problem(tmp_path, text)
    (keep,) = (keep for keep in found.keeps if keep.oven is not None)
    assert (found.tasks[keep.last].work, keep.to_start, keep.course) == (Work.PLATE, True, None)


DRIED = (
    "Other dish\nserves: 4\n\nSet the {oven} to <75 °C>.\n\nDry [4 pears] in {the oven} for <90 min within reach>.\n"
)
TWO = EVENT.replace("[our test dish]", "[our test dish] and [our other dish]")


def held(found: Problem, plan: Plan) -> tuple[int, int, int]:
    """When the roast is held in an oven, and how hot."""
    check(found, plan)
    place = next(place for place, keep in enumerate(found.keeps) if keep.oven is not None)
    keep = found.keeps[place]
    assert plan.keeps[place] == (0,)
    start = plan.placed[keep.first].end
    end = found.courses[0].at if keep.course is not None else plan.placed[keep.last].start
    row = next(row for row in plan.settings if row.start <= start and end <= row.end)
    return start, end, row.celsius


def test_what_was_baked_stays_in_while_the_oven_falls(tmp_path: Path) -> None:
    found = problem(tmp_path, ROAST.replace("40 min", "3 h"), event=TWO, other_dish=DRIED)
    plan = schedule(found)
    start, end, celsius = held(found, plan)
    # At 200 °C it can only be first; then both are at one heat, that of the pears.
    assert (celsius, [row.celsius for row in plan.settings]) == (750, [2000, 750])
    assert plan.settings[1].start == start and end == found.courses[0].at
    told = [line for line in run_sheet(Planned(found, plan)).lines if line.text == "hold"]
    assert [(line.at, line.until, line.what) for line in told] == [(start, end, "roast")]
    assert slack(found, plan).tasks and lateness(found, plan)


def test_what_rested_goes_back_in_while_the_oven_falls(tmp_path: Path) -> None:
    rested = ROAST.replace(". -> roast, holds 40 min", ". Let it rest for <10 min alone>. -> roast, holds 3 h")
    found = problem(tmp_path, rested, event=TWO, other_dish=DRIED)
    plan = schedule(found)
    start, end, celsius = held(found, plan)
    assert ("roast", start, end, (0,)) in [
        (use.what, use.start, use.end, use.units) for use in uses(Planned(found, plan))
    ]
    baked = next(one for one in plan.placed if found.tasks[one.task].what.startswith("roast"))
    falls = (2000 - celsius) // found.pools[0].cools * 60
    assert 10 * 60 <= start - baked.end < falls
    told = [line for line in run_sheet(Planned(found, plan)).lines if line.kind is LineKind.CHANGED]
    # When it will have fallen so far is not promised.
    assert [(line.at, line.until) for line in told] == [(baked.end, None)]
    planned = Planned(found, plan)
    words = [line.strong for day in Words(planned, run_sheet(planned), Style()).days() for line in day.lines]
    assert any(one.startswith("Hold in the oven at ") and one.endswith(": roast.") for one in words)


def test_the_check_sees_what_is_held_wrongly(tmp_path: Path) -> None:
    found = problem(tmp_path, ROAST.replace("40 min", "3 h"), event=TWO, other_dish=DRIED)
    plan = schedule(found)
    held(found, plan)
    place = next(place for place, keep in enumerate(found.keeps) if keep.oven is not None)
    nowhere = replace(plan, keeps=(*plan.keeps[:place], (), *plan.keeps[place + 1 :]))
    hotter = replace(plan, settings=(plan.settings[0], replace(plan.settings[1], celsius=1500)))
    shorter = replace(plan, settings=(plan.settings[0], replace(plan.settings[1], end=plan.settings[1].end - 600)))
    for wrong, words in ((nowhere, "held in no oven"), (hotter, "another temperature"), (shorter, "not set for")):
        with pytest.raises(AssertionError, match=words):
            check(found, wrong)


def test_an_oven_that_is_too_hot_for_holding_has_no_room_for_it(tmp_path: Path) -> None:
    other = DRIED.replace("75 °C", "160 °C")
    found = problem(tmp_path, ROAST.replace("40 min", "3 h"), event=TWO, other_dish=other)
    plan = schedule(found)
    check(found, plan)
    assert plan.status is Status.IMPOSSIBLE
    assert any("holding the roast" in one.text for one in plan.collisions)
    two = problem(
        tmp_path, ROAST.replace("40 min", "3 h"), KITCHEN.replace("oven: 1", "oven: 2"), TWO, other_dish=other
    )
    check(two, schedule(two))
    assert schedule(two).placed


# ---------------------------------------------------------------- room in the fridge


def rooms(found: Problem) -> list[tuple[str, int, str | int | None]]:
    """Room kept between tasks: of what, how much, and until which task begins or course is served."""
    return [
        (keep.what, keep.need.pieces, found.tasks[keep.last].what if keep.course is None else keep.course)
        for keep in found.keeps
        if found.pools[keep.need.pool].kind is PoolKind.SPACE and keep.from_end and keep.to_start
    ]


def test_a_finished_dish_held_chilled_keeps_its_room_until_its_course(tmp_path: Path) -> None:
    text = "Stir [1 l milk] for <2 min>. -> custard, 1 l, holds 2 d chilled"
    assert rooms(problem(tmp_path, text)) == [("custard", 1500, 0)]


def test_so_does_a_dish_that_keeps_chilled(tmp_path: Path) -> None:
    text = "Stir [1 l milk]. Chill it in a {fridge} for <2 h>."
    found = problem(tmp_path, text, facts="serves: 4\nkeeps: 2 d chilled")
    assert rooms(found) == [("Test dish", 1500, 0)]


def test_or_until_its_plating_begins(tmp_path: Path) -> None:
    text = "Chill [1 l milk] in a {fridge} for <2 h>.\n\nPlate it for <30 s per plate>."
    assert rooms(problem(tmp_path, text)) == [("Test dish", 1500, "plate the test dish")]


def test_what_goes_two_ways_takes_a_share_of_it_for_each(tmp_path: Path) -> None:
    text = (
        "For the custard:\n\nStir [1 l milk] for <2 min>. -> custard, 1 l, holds 2 d chilled\n\n"
        "For the sauce:\n\nStew [half the custard] in a {saucepan} for <9 min>. -> sauce\n\n"
        "To plate:\n\nSpoon [the rest of the custard] over [the sauce] for <30 s per plate>."
    )
    assert rooms(problem(tmp_path, text)) == [
        ("custard", 750, "stew the custard"),
        ("custard", 750, "plate the test dish"),
    ]


def test_what_is_held_warm_takes_no_room_in_the_fridge(tmp_path: Path) -> None:
    assert not rooms(problem(tmp_path, "Stir [1 l milk] for <2 min>. -> custard, 1 l, holds 30 min warm"))


def test_two_dishes_do_not_wait_in_a_fridge_that_has_room_for_one(tmp_path: Path) -> None:
    text = "Stir [1 l milk] for <2 min>. -> custard, 1 l, holds 2 d chilled"
    other = "Other dish\nserves: 4\n\nStir [1 l milk] for <2 min>. -> cream, 1 l, holds 2 d chilled\n"
    event = EVENT.replace("[our test dish]", "[our test dish]\n\nSweet, <20:00>:\n\n[our other dish]")
    kitchen = KITCHEN.replace("fridge: 1, 200 l", "fridge: 1, 4 l")
    found = problem(tmp_path, text, kitchen, event, other_dish=other)
    plan = schedule(found)
    check(found, plan)
    custard, cream = (place for place, task in enumerate(found.tasks) if task.verb == "stir")
    waits = [(plan.placed[task].end, found.courses[course].at) for course, task in enumerate((custard, cream))]
    assert max(start for start, _ in waits) >= min(end for _, end in waits)


# ---------------------------------------------------------------- dishes and courses


def test_plating_ends_at_the_course(tmp_path: Path) -> None:
    found = problem(tmp_path, "Plate [4 pears] for <30 s per plate>.")
    (due,) = found.dues
    assert (found.tasks[due.task].work, due.at, due.stand_max) == (Work.PLATE, 19 * 3600, seconds("stand plated"))


def test_what_keeps_may_stand(tmp_path: Path) -> None:
    found = problem(tmp_path, "Chill [4 pears] in a {fridge} for <2 h>.", facts="serves: 4\nkeeps: 2 d chilled")
    assert [due.stand_max for due in found.dues] == [2 * 86400]


def test_a_dish_waits_for_what_it_draws_on(tmp_path: Path) -> None:
    stock = "Test stock\nmakes: 1 l\n\nSimmer [1 l water] in a {saucepan} for <60 min within reach>. -> stock, 1 l, holds 1 d\n"
    found = problem(
        tmp_path,
        "Chop [4 pears] for <2 min>. Poach [1 kg beef] in [500 ml our test stock] for <9 min>.",
        test_stock=stock,
    )
    assert link(found, "simmer", "poach").gap_max == 86400
    assert [run.course for run in found.runs] == [None, 0]


def test_plates_without_something_are_made_apart_from_there_on(tmp_path: Path) -> None:
    text = (
        "For the crumb:\n\nToast [100 g hazelnuts] in a {saucepan} for <5 min>. -> crumb\n\n"
        "To plate:\n\nSlice [4 pears] for <3 min>. Scatter them with [the crumb] for <30 s per plate>."
    )
    event = EVENT.replace(
        "[our test dish]", "[3 plates of our test dish]\n[1 plate of our test dish, without hazelnuts, for seat 2]"
    )
    found = problem(tmp_path, text, event=event)
    assert len([task for task in found.tasks if task.verb == "toast"]) == 1
    assert len([task for task in found.tasks if task.verb == "slice"]) == 1
    plates = [task for task in found.tasks if task.work is Work.PLATE]
    assert sorted(task.seconds for task in plates) == [30, 90]
    free = next(task for task in plates if task.seconds == 30)
    assert "NOT the crumb" in free.text
    assert free.text.startswith("Without hazelnuts, on clean kit")


# ---------------------------------------------------------------- the calendar


def test_hands_by_the_clock_on_the_day_and_before_it(tmp_path: Path) -> None:
    event = EVENT.replace("hands: 1", "").replace(
        "aim: calm", "aim: calm\nhands: 1; 2 from 16:00 to 20:00\nprepare: 2026-05-01 15:00-18:00"
    )
    found = problem(tmp_path, "Plate [4 pears] for <30 s per plate>.", event=event)
    hours = [(hands.start / 3600, hands.end / 3600, hands.number) for hands in found.hands]
    assert hours == [(15, 18, 1), (36, 40, 1), (40, 44, 2), (44, 47, 1)]
    assert (found.arrive, found.horizon, found.courses[0].at) == (36 * 3600, 47 * 3600, 43 * 3600)


def test_what_is_not_said_is_assumed_and_said(tmp_path: Path) -> None:
    event = EVENT.replace("arrive: 2026-05-02 12:00\n", "").replace("leave by: 2026-05-02 23:00\n", "")
    found = problem(tmp_path, "Plate [4 pears] for <30 s per plate>.", event=event.replace("kitchen: test\n", ""))
    assert found.arrive == 8 * 3600
    assert found.horizon == 20 * 3600
    assert len(found.assumed) == 3


def test_time_kept_free_and_clearing_down(tmp_path: Path) -> None:
    found = problem(tmp_path, "Plate [4 pears] for <30 s per plate>.", event=EVENT.replace("reserve: 0", "reserve: 20"))
    reserve = next(task for task in found.tasks if task.work is Work.RESERVE)
    clear = next(task for task in found.tasks if task.work is Work.CLEAR)
    assert (reserve.seconds, reserve.earliest, reserve.latest) == (1200, 19 * 3600 - 4800, 19 * 3600)
    assert (clear.seconds, clear.earliest) == (1440, 19 * 3600)


def test_no_time_at_all(tmp_path: Path) -> None:
    event = EVENT.replace("serve: 2026-05-02 19:00\n", "").replace("Main, <19:00>:", "Main:")
    built = build(tmp_path, {"test-dish.dish": "Test dish\nserves: 4\n\nPlate [4 pears].\n"}, event=event)
    found = problem_of(built.book, built.larder, "supper", Style())
    assert isinstance(found, Unplanned) and len(found.reasons) == 1


# ---------------------------------------------------------------- the demo book


@pytest.fixture(scope="module")
def demo() -> Build:
    return compile_book(RECIPES)


def test_the_demo_book_s_events(demo: Build) -> None:
    for event in demo.book.events:
        found = problem_of(demo.book, demo.larder, event.key, Style(demo.book.settings.show))  # type: ignore[arg-type]
        assert isinstance(found, Problem)
        assert not found.troubles
        for task in found.tasks:
            assert task.seconds > 0
            assert len(task.what) <= 28
            assert task.text.endswith((".", "!", "?")) and task.text[0].isupper()
            assert "[" not in task.text and "{" not in task.text and "None" not in task.text
        assert found == problem_of(demo.book, demo.larder, event.key, Style(demo.book.settings.show))  # type: ignore[arg-type]


def test_two_dishes_as_they_are_read(demo: Build, request: pytest.FixtureRequest) -> None:
    """`--update` rewrites the file; read the diff."""
    found = problem_of(demo.book, demo.larder, "easter-table", Style())
    assert isinstance(found, Problem)
    text = "".join(_told(found, dish) for dish in ("lamb-shoulder-with-apricots", "broad-bean-fritters"))
    if request.config.getoption("--update"):
        GOLDEN.write_text(text, encoding="utf-8")
    assert text == GOLDEN.read_text(encoding="utf-8")


def _told(found: Problem, dish: str) -> str:
    lines = [f"{dish}\n"]
    for place, task in enumerate(found.tasks):
        if task.run is None or found.runs[task.run].dish != dish:
            continue
        gear = [f"{need.pieces} {found.pools[need.pool].name}" for need in task.gear]
        held = [f"{keep.need.pieces} {found.pools[keep.need.pool].name}" for keep in found.keeps if keep.first == place]
        oven = [f"{task.oven.low / 10:g}-{task.oven.high / 10:g} °C"] if task.oven else []
        words = [task.work, task.attend, f"{task.seconds / 60:g} min", *oven, *gear, *(f"keeps {one}" for one in held)]
        lines.append(f"  {task.what}: {', '.join(words)}{' (assumed)' if task.assumed else ''}\n    {task.text}\n")
    return "".join(lines).replace("\N{NO-BREAK SPACE}", " ")
