"""What a plan becomes for the cook: run sheet, prep list and pull list, on a lunch planned by hand."""

from __future__ import annotations

from recipec.plan.market import market
from recipec.plan.prep_list import prep_list
from recipec.plan.pull_list import pull_list
from recipec.plan.run_sheet import fire_times, run_sheet, task_ids
from recipec.plan.run_sheet_types import LineKind, RunLine
from recipec.plan.timeline_types import Attend, Work
from tests.changed import replace
from tests.plan.make import Ordered, amount, book, buy, dish, stocked
from tests.plan.make import event as booking
from tests.plan.plans import FLASK, at, impossible, lunch


def lines(kind: LineKind) -> list[RunLine]:
    return [line for line in run_sheet(lunch()).lines if line.kind is kind]


def test_every_task_is_there_once_and_in_order() -> None:
    planned = lunch()
    tasks = lines(LineKind.TASK)
    assert sorted(line.task for line in tasks if line.task is not None) == list(range(len(planned.problem.tasks)))
    assert [line.at for line in run_sheet(planned).lines] == sorted(line.at for line in run_sheet(planned).lines)
    numbers = [line.number for line in tasks if line.work is not Work.RESERVE]
    assert sorted(numbers) == list(range(1, len(numbers) + 1))


def test_every_touch_is_a_line_of_its_own() -> None:
    planned = lunch()
    wanted = sorted(
        (place.start + offset, planned.problem.tasks[place.task].touch)
        for place in planned.plan.placed
        for offset in planned.problem.tasks[place.task].touches
    )
    assert [(line.at, line.text) for line in lines(LineKind.TOUCH)] == wanted
    assert (at("16:40", 0), "turn") in wanted


def test_what_runs_by_itself_is_told_when_it_is_done_unless_the_next_line_tells() -> None:
    ready = {(line.what, line.at) for line in lines(LineKind.READY)}
    assert ("cook parsnips", at("16:20", 0)) in ready
    assert ("roast carrots", at("13:20")) in ready
    # Chilling begins as braising ends, and resting as baking ends.
    assert not any(what in ("braise cheeks", "bake custards") for what, _ in ready)
    assert all(
        line.task is not None and lunch().problem.tasks[line.task].attend is not Attend.HANDS
        for line in lines(LineKind.READY)
    )


def test_an_oven_is_lit_turned_over_and_put_out() -> None:
    told = [
        (line.kind, line.at, line.heat.celsius)
        for line in run_sheet(lunch()).lines
        if line.kind in (LineKind.LIT, LineKind.CHANGED, LineKind.OFF) and line.heat is not None
    ]
    assert told == [
        (LineKind.LIT, at("15:25", 0), 1400),
        (LineKind.OFF, at("17:40", 0), 1400),
        (LineKind.LIT, at("11:15"), 1500),
        (LineKind.CHANGED, at("12:40"), 2200),
        (LineKind.OFF, at("13:25"), 2200),
    ]


def test_hands_come_change_and_go() -> None:
    told = [
        (line.kind, line.at, line.hands)
        for line in run_sheet(lunch()).lines
        if line.kind.value in ("arrive", "hands", "leave")
    ]
    assert told == [
        (LineKind.ARRIVE, at("14:30", 0), 1),
        (LineKind.LEAVE, at("19:30", 0), 0),
        (LineKind.ARRIVE, at("10:30"), 1),
        (LineKind.HANDS, at("12:00"), 2),
    ]


def test_a_course_is_fired_with_the_work_that_leads_straight_to_it() -> None:
    # The rest begins the starter; what was baked before it has no hold. The braise of the day before is no part of firing the main.
    assert fire_times(lunch()) == (at("12:10"), at("12:55"))


def test_what_stands_alone_for_long_is_made_ahead_and_not_fired() -> None:
    planned = lunch()
    tasks = tuple(
        replace(task, seconds=3600) if task.what == "rest custards" else task for task in planned.problem.tasks
    )
    assert fire_times(replace(planned, problem=replace(planned.problem, tasks=tasks)))[0] == at("12:20")


def test_how_long_a_task_can_wait_is_its_float() -> None:
    sear = lines(LineKind.TASK)[0]
    assert (sear.wait_until, sear.done_by) == (at("15:30", 0), at("15:50", 0))
    assert run_sheet(replace(lunch(), slack=None)).lines[1].wait_until is None


def test_pieces_are_numbered_only_where_there_are_several() -> None:
    names = {(gear.name, gear.units) for line in lines(LineKind.TASK) for gear in line.gear}
    assert ("burner", (1,)) in names and ("saucepan", (3,)) in names
    assert ("blender", ()) in names and ("roasting tin", ()) in names


def test_work_past_midnight_is_still_that_days() -> None:
    planned = lunch()
    late = replace(planned.problem, day=(at("0:00"), at("25:00")), horizon=at("25:00"))
    placed = (*planned.plan.placed[:-1], replace(planned.plan.placed[-1], start=at("24:10"), end=at("24:50")))
    sheet = run_sheet(replace(planned, problem=late, plan=replace(planned.plan, placed=placed)))
    assert [day.start for day in sheet.days] == [at("0:00", 0), at("0:00")]


def test_names_of_steps_stay_when_another_dish_comes() -> None:
    planned = lunch()
    names = task_ids(planned.problem)
    assert len(set(names)) == len(names)
    fewer = replace(planned.problem, tasks=tuple(task for task in planned.problem.tasks if task.run != 2))
    assert set(task_ids(fewer)) == {name for name in names if not name.startswith("roast-carrots")}


def test_an_impossible_plan_has_no_line() -> None:
    assert run_sheet(impossible()).lines == () and pull_list(impossible()) == ()
    assert prep_list(impossible(), book([]), market(book([]), stocked(), [])) == ()


def test_the_pull_list_counts_pieces_in_use_at_once() -> None:
    planned = lunch()
    found = {line.key: line for line in pull_list(planned)}
    assert pull_list(planned)[0].key == "vacuum flask"
    assert (found["vacuum flask"].peak, found["vacuum flask"].have, found["vacuum flask"].bring) == (2, 0, 2)
    assert found["saucepan"].peak == 1 and found["saucepan"].bring == 0
    assert found["hob"].peak == 1 and found["hob"].at == at("15:00", 0)
    assert found["fridge"].room and found["fridge"].peak == 9000
    assert found["oven"].peak == 1


def test_a_piece_is_brought_only_where_the_peak_needs_it() -> None:
    planned = lunch()
    pools = list(planned.problem.pools)
    pools[FLASK] = replace(pools[FLASK], number=4, brought=3)
    found = pull_list(replace(planned, problem=replace(planned.problem, pools=tuple(pools))))
    assert next(line for line in found if line.key == "vacuum flask").bring == 1


def test_the_same_work_on_the_same_thing_is_one_job() -> None:
    days = prep_list(lunch(), book([]), market(book([]), stocked(), []))
    shared = [job for day in days for job in day.make if job.shared]
    assert [(job.name, job.seconds, len(job.parts)) for job in shared] == [("slice shallots", 600, 2)]
    assert [day.start for day in days] == [at("0:00", 0), at("0:00")]
    dishes = {job.name for job in days[0].make if not job.shared}
    assert dishes == {"Ox cheeks in ale", "Parsnip custards with toasted seeds"}


def test_a_thing_is_got_ready_once_for_all_dishes_with_amounts_of_each() -> None:
    shallots = {"after": ("peeled", "sliced")}
    custards = dish("parsnip-custards", buy("120 g shallots", "shallots", amount(120, "g"), **shallots))
    carrots = dish(
        "roast-carrots",
        buy("60 g shallots", "shallots", amount(60, "g"), **shallots),
        buy("1 kg carrots", "carrots", amount(1000, "g")),
    )
    made = book([custards, carrots], [booking("lunch", Ordered("parsnip-custards"), Ordered("roast-carrots"))])
    days = prep_list(lunch(), made, market(made, stocked(), ["lunch"]))
    jobs = [job for day in days for job in day.board]
    assert len(jobs) == 1 and jobs[0].thing.startswith("shallot")
    assert {part.dish for part in jobs[0].parts} == {"parsnip-custards", "roast-carrots"}
    assert {part.how for part in jobs[0].parts} == {"peeled, sliced"}


def test_nobody_is_told_at_night() -> None:
    planned = lunch()
    chill = next(place for place in planned.plan.placed if planned.problem.tasks[place.task].what == "chill braise")
    placed = tuple(replace(one, end=at("3:00")) if one is chill else one for one in planned.plan.placed)
    sheet = run_sheet(replace(planned, plan=replace(planned.plan, placed=placed)))
    assert not any(line.kind is LineKind.READY and line.what == "chill braise" for line in sheet.lines)
