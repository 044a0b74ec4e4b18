"""How long food stands by the clock of a plan, against sums made here from the plan's own tasks. All dishes are invented."""

from __future__ import annotations

from pathlib import Path

import pytest

from recipec.book.compile import Build, against
from recipec.book.timeline import plan_safety
from recipec.measure.show import Style
from recipec.plan.links import Links
from recipec.plan.problem import problem_of
from recipec.plan.safety_plan import Stood, stood_of
from recipec.plan.safety_trace import Tracer
from recipec.plan.schedule import schedule
from recipec.plan.timeline_types import Planned, Problem
from tests.plan.kitchen_book import EVENT, build

# The long work only fits into an hour at noon; the cook is back half an hour before supper.
SPLIT = EVENT.replace("arrive: 2026-05-02 12:00", "prepare: 2026-05-02 12:00-13:00\narrive: 2026-05-02 18:30")
NOON, HALF_SIX = (13 * 3600, 18 * 3600 + 1800)


def planned(folder: Path, text: str, facts: str = "serves: 4", event: str = SPLIT) -> tuple[Build, Planned]:
    built = build(folder, {"test-dish.dish": f"Test dish\n{facts}\n\n{text}\n"}, event=event)
    assert not against(built.findings), [one.message for one in built.findings]
    problem = problem_of(built.book, built.larder, "supper", Style())
    assert isinstance(problem, Problem)
    plan = schedule(problem)
    assert plan.placed, plan.status
    return built, Planned(problem, plan)


def said(built: Build, plan: Planned) -> list[tuple[str, str | None]]:
    event = built.book.event("supper")
    assert event is not None
    return [(one.slug, one.accepted) for one in plan_safety(built.book, built.larder, event, plan)]


def stood(built: Build, plan: Planned, food: str) -> Stood:
    all_of_it = stood_of(built.book, Tracer(Links(built.book), built.larder), plan)
    (found,) = [one for one in all_of_it if one.food.use.name == food]
    return found


def times(plan: Planned, what: str) -> tuple[int, int]:
    (found,) = [one for one in plan.plan.placed if plan.problem.tasks[one.task].what.startswith(what)]
    return found.start, found.end


MIX = (
    "Chop [600 g raw prawns] with [30 g ginger] for <45 min attended>. -> prawn mix{}\n\n"
    "Fry [the prawn mix] in a {{frying pan}} for <10 min attended>, to <75 °C core>."
)


def test_the_wait_between_two_tasks_counts_by_the_clock(tmp_path: Path) -> None:
    built, plan = planned(tmp_path, MIX.format(""))
    chopped, fried = times(plan, "chop"), times(plan, "fry")
    assert chopped[1] <= NOON < HALF_SIX <= fried[0]
    spells = [(one.start, one.end) for one in stood(built, plan, "raw prawns").spells]
    # The chopping, the afternoon, and from the pan to the table.
    wanted = [chopped, (chopped[1], fried[0]), (fried[1], 19 * 3600)]
    assert spells == [one for one in wanted if one[1] > one[0]]
    event = built.book.event("supper")
    assert event is not None
    (finding,) = plan_safety(built.book, built.larder, event, plan)
    assert finding.slug == "danger-zone"
    for end in (chopped[1], fried[0]):
        assert f"{end // 3600:02}:{end % 3600 // 60:02}" in finding.message
    assert against((finding,))


@pytest.mark.parametrize("hold", [", holds 1 d chilled", ", holds 2 d frozen"])
def test_what_is_held_cold_meanwhile_raises_nothing(tmp_path: Path, hold: str) -> None:
    built, plan = planned(tmp_path, MIX.format(hold))
    assert said(built, plan) == []
    chopped, fried = times(plan, "chop"), times(plan, "fry")
    total = sum(one.seconds for one in stood(built, plan, "raw prawns").spells)
    assert total == chopped[1] - chopped[0] + 19 * 3600 - fried[1]


def test_a_reason_in_the_dish_or_in_the_event_covers_it(tmp_path: Path) -> None:
    dish = "serves: 4\naccept: danger-zone, the mix lies in ice"
    built, plan = planned(tmp_path, MIX.format(""), facts=dish)
    assert said(built, plan) == [("danger-zone", "the mix lies in ice")]
    event = SPLIT.replace("aim: calm", "aim: calm\naccept: danger-zone, the larder is at 4 °C")
    built, plan = planned(tmp_path, MIX.format(""), event=event)
    assert said(built, plan) == [("danger-zone", "the larder is at 4 °C")]


def test_hot_for_more_than_four_hours_is_held_too_long(tmp_path: Path) -> None:
    text = (
        "Simmer [1 kg chicken thighs] in [1 l water] in a {{saucepan}} for <45 min attended>, to <76 °C core>. "
        "-> braise, holds {} hot in {{bain-marie}}\n\nPlate [the braise] for <5 min attended>."
    )
    built, plan = planned(tmp_path, text.format("7 h"))
    (held,) = stood(built, plan, "chicken thighs").held
    assert (held.start, held.end) == (times(plan, "simmer")[1], times(plan, "plate")[0])
    assert held.seconds > 4 * 3600
    assert said(built, plan) == [("held-too-long", None)]
    short = SPLIT.replace("18:30", "15:30").replace("19:00", "16:00")
    built, plan = planned(tmp_path, text.format("7 h"), event=short)
    assert said(built, plan) == []
