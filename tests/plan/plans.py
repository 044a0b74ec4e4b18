"""A booking's problem and its plan, made by hand, so that papers are held to what they are given, whatever the solver makes of it.

A winter lunch at a mill: a custard, then ox cheeks braised the day before with carrots roasted at another heat. All of it is invented.
"""

from __future__ import annotations

from datetime import datetime, timedelta
from typing import Any

from recipec.base.source import Source
from recipec.base.span import Span
from recipec.plan.timeline_types import (
    Attend,
    Broken,
    Collision,
    CourseAt,
    Due,
    Fix,
    GearNeed,
    Goal,
    Hands,
    Keep,
    Late,
    Link,
    OvenNeed,
    Placed,
    Plan,
    Planned,
    Pool,
    PoolKind,
    Problem,
    RunOf,
    Setting,
    Slack,
    Status,
    Task,
    Why,
    Work,
)

ORIGIN = datetime(2026, 1, 16)
"""The midnight all seconds are counted from: the lunch is on the 17th."""

CUSTARDS = Source("dishes/parsnip-custards.dish", "Parsnip custards\n\n" + "\n".join(f"step {n}" for n in range(9)))

OVEN, HOB, PAN, BLENDER, FRIDGE, TIN, FLASK = range(7)

ROOM_ML = 9000
"""What the braise takes of the fridge."""

POOLS = (
    Pool("oven", "oven", PoolKind.OVEN, 1, shelves=2, heats=120, cools=20, up_to=2500, fan=True),
    Pool("hob", "burner", PoolKind.BURNERS, 4),
    Pool("saucepan", "saucepan", PoolKind.GEAR, 3),
    Pool("blender", "blender", PoolKind.GEAR, 1),
    Pool("fridge", "fridge", PoolKind.SPACE, 200_000, alone=True),
    Pool("roasting tin", "roasting tin", PoolKind.GEAR, 1),
    Pool("vacuum flask", "vacuum flask", PoolKind.GEAR, 2, brought=2),
)


def at(clock: str, day: int = 1) -> int:
    """Seconds from the origin of a time of day; day 0 is the day before the lunch."""
    hours, minutes = clock.split(":")
    return (day * 24 + int(hours)) * 3600 + int(minutes) * 60


class _Making:
    """Tasks and their places, one after the other."""

    def __init__(self) -> None:
        self.tasks: list[Task] = []
        self.placed: list[Placed] = []
        self.floats: list[int] = []

    def add(
        self, run: int | None, what: str, text: str, start: int, minutes: int, attend: Attend = Attend.HANDS, *,
        hands: int = 1, work: Work = Work.COOK, oven: int | None = None, shelves: int = 1,
        gear: tuple[tuple[int, tuple[int, ...]], ...] = (), floats: int = 0, **more: Any,
    ) -> int:  # fmt: skip
        """A task in its place; `gear` pairs a pool with its pieces. Its number."""
        place = len(self.tasks)
        needs = tuple(GearNeed(pool, ROOM_ML if pool == FRIDGE else len(units)) for pool, units in gear)
        heat = None if oven is None else OvenNeed(OVEN, oven, oven, shelves)
        span = Span(CUSTARDS, 18, 24)
        self.tasks.append(
            Task(run, work, attend, minutes * 60, text, what, span, gear=needs, oven=heat, **{"step": place, **more})
        )
        self.placed.append(
            Placed(
                place,
                start,
                start + minutes * 60,
                hands if attend is Attend.HANDS else 0,
                tuple(units for _, units in gear),
                None if oven is None else 0,
            )
        )
        self.floats.append(floats)
        return place


RUNS = (
    RunOf("parsnip-custards", "Parsnip custards with toasted seeds", (), "6 plates", 0),
    RunOf("ox-cheeks-in-ale", "Ox cheeks in ale", (), "6 plates", 1),
    RunOf("roast-carrots", "Roast carrots with mustard", (), "6 plates", 1),
)


def lunch() -> Planned:
    """The lunch, planned: two courses, an oven at three heats, a day of work before."""
    make = _Making()
    hands, reach, alone = Attend.HANDS, Attend.REACH, Attend.ALONE
    sear = make.add(
        1, "sear cheeks", "Brown 6 ox cheeks on all sides in a saucepan.", at("15:00", 0), 20, hands,
        gear=((HOB, (0,)), (PAN, (0,))), thing="ox cheeks", verb="brown", floats=1800,
    )  # fmt: skip
    onions = make.add(
        1, "soften onions", "Soften 400 g onions, sliced, in the fat.", at("15:20", 0), 15, hands,
        gear=((HOB, (0,)), (PAN, (0,))), thing="onions", verb="soften", floats=1800,
    )  # fmt: skip
    braise = make.add(
        1, "braise cheeks", "Braise in the oven until a spoon goes through.", at("15:40", 0), 120, reach, oven=1400,
        touches=(3600,), touch="turn",
    )  # fmt: skip
    chill = make.add(
        1, "chill braise", "Chill the braise.", at("17:40", 0), 90, alone, work=Work.COOL,
        gear=((FRIDGE, ()),), thing="braise", verb="chill",
    )  # fmt: skip
    parsnips = make.add(
        0, "cook parsnips", "Simmer 500 g parsnips, sliced, in milk.", at("16:00", 0), 20, reach, gear=((HOB, (1,)), (PAN, (1,))),
        floats=5400,
    )  # fmt: skip
    shallots = make.add(
        0, "slice shallots", "Slice 120 g shallots.", at("16:25", 0), 6, hands, thing="shallots", verb="slice", assumed=True,
        floats=3600,
    )  # fmt: skip
    rings = make.add(
        2, "slice shallots", "Slice 60 g shallots.", at("16:31", 0), 4, hands, thing="shallots", verb="slice", floats=3600,
    )  # fmt: skip
    blend = make.add(
        0, "blend", "Blend parsnips, eggs and cream until smooth; strain.", at("10:45"), 8, hands, gear=((BLENDER, (0,)),),
        floats=900,
    )  # fmt: skip
    wash = make.add(
        0, "wash blender", "Wash the blender.", at("10:53"), 4, hands, work=Work.WASH, gear=((BLENDER, (0,)),)
    )
    bake = make.add(
        0, "bake custards", "Bake the custards in a bath until just set.", at("11:35"), 35, reach, oven=1500,
        touches=(1200,), touch="check",
    )  # fmt: skip
    rest = make.add(0, "rest custards", "Let them stand.", at("12:10"), 20, alone)
    seeds = make.add(
        0, "toast seeds", "Toast 40 g seeds in a dry pan.", at("12:20"), 5, hands, gear=((HOB, (2,)), (PAN, (2,))), floats=300,
    )  # fmt: skip
    make.add(None, "reserve", "Kept free.", at("12:30"), 15, alone, work=Work.RESERVE, step=None)
    plate = make.add(0, "plate custards", "Plate 6 custards, seeds on top.", at("12:52"), 8, hands, work=Work.PLATE)
    mustard = make.add(
        2, "mustard dressing", "Blend mustard, honey and shallots.", at("11:05"), 5, hands, gear=((BLENDER, (0,)),),
        thing="dressing", verb="blend", floats=2700,
    )  # fmt: skip
    carrots = make.add(
        2, "roast carrots", "Roast 1.2 kg carrots in a roasting tin.", at("12:55"), 25, reach, oven=2200,
        gear=((TIN, (0,)),), batch=(1, 2), touches=(720,), touch="shake",
    )  # fmt: skip
    carrots_two = make.add(
        2, "roast carrots", "Roast 1.2 kg carrots in a roasting tin.", at("13:00"), 25, reach, oven=2200, batch=(2, 2),
    )  # fmt: skip
    back = make.add(
        1, "heat braise", "Bring the braise back, covered.", at("13:05"), 20, reach, work=Work.BACK, gear=((HOB, (0,)), (PAN, (0,))),
        floats=240,
    )  # fmt: skip
    sauce = make.add(
        1, "finish sauce", "Whisk 60 g cold butter into the liquor.", at("13:26"), 4, hands, gear=((HOB, (1,)), (PAN, (1,))),
    )  # fmt: skip
    dress = make.add(2, "dress carrots", "Turn the carrots in the dressing.", at("13:27"), 3, hands, hands=2)
    plate_two = make.add(
        1, "plate cheeks", "Plate 6 cheeks with carrots and sauce.", at("13:32"), 8, hands, work=Work.PLATE
    )
    make.add(None, "clear down", "Clear down.", at("13:45"), 40, hands, work=Work.CLEAR, step=None)
    links = (
        Link(sear, onions), Link(onions, braise), Link(braise, chill, 0, 1800, Why.HOLD, "braise"), Link(parsnips, blend),
        Link(blend, wash), Link(wash, mustard), Link(blend, bake, why=Why.MADE), Link(bake, rest), Link(rest, plate, 0, 2400, Why.HOLD),
        Link(shallots, blend), Link(rings, mustard), Link(seeds, plate, 0, 2400, Why.HOLD, "seeds"), Link(carrots, dress, 0, 600),
        Link(carrots_two, dress, 0, 600), Link(chill, back, 0, 3 * 86400, Why.HOLD, "braise, 3 d chilled"),
        Link(back, sauce, 0, 600), Link(sauce, plate_two, 0, 600), Link(dress, plate_two, 0, 600),
    )  # fmt: skip
    problem = Problem(
        event="lunch-at-the-mill", title="Lunch at the mill", origin=ORIGIN, horizon=at("15:00"), day=(at("0:00"), at("15:00")),
        arrive=at("10:30"), aim="calm", runs=RUNS, pools=POOLS, tasks=tuple(make.tasks), links=links,
        keeps=(Keep(GearNeed(FLASK, 2), sauce, plate_two, what="sauce"),),
        dues=(Due(plate, 0, at("13:00"), 0), Due(plate_two, 1, at("13:40"), 0)),
        courses=(CourseAt("Starter", at("13:00"), at("13:00")), CourseAt("Main", at("13:40"), at("13:40"))),
        hands=(Hands(at("14:30", 0), at("19:30", 0), 1), Hands(at("10:30"), at("12:00"), 1), Hands(at("12:00"), at("15:00"), 2)),
        assumed=("The kitchen does not say how fast its oven cools: 2 °C a minute is assumed.",),
    )  # fmt: skip
    plan = Plan(
        Status.BEST, at("14:25") - at("10:45"), 3000, (Goal("hands' work around the courses", 3000, 3000),),
        tuple(make.placed), ((0, 1),),
        (
            Setting(OVEN, 0, 1400, at("15:25", 0), at("15:40", 0), at("17:40", 0)),
            Setting(OVEN, 0, 1500, at("11:15"), at("11:35"), at("12:10")),
            Setting(OVEN, 0, 2200, at("12:40"), at("12:55"), at("13:25")),
        ),
        (),
    )  # fmt: skip
    starts = tuple(place.start for place in plan.placed)
    late = (
        Late(15, (), (plate_two,), starts),
        Late(30, (Broken(seeds, 480, "toasted seeds, 40 min", None, None, plate),), (plate_two,), starts),
        Late(
            45, (Broken(sauce, 900, "sauce, 10 min", None, 1), Broken(seeds, 1380, "toasted seeds, 40 min", None, None, plate)),
            (plate_two,), starts, 600,
        ),
    )  # fmt: skip
    return Planned(problem, plan, Slack((600, 240), tuple(make.floats)), late)


def impossible() -> Planned:
    """The same lunch when there is one oven for two heats at once."""
    planned = lunch()
    text = (
        "The oven is wanted at 220 °C for the carrots and at 150 °C for the custards between 12:30 and 12:55; "
        "both are due at 13:00."
    )
    fixes = (Fix("Let the custards hold 30 min warm."), Fix("A second oven."))
    plan = Plan(
        Status.IMPOSSIBLE,
        0,
        0,
        (),
        (),
        (),
        (),
        (Collision("oven-clash", text, (9, 15), (Span(CUSTARDS, 18, 24),), fixes),),
    )
    return Planned(planned.problem, plan)


def nasty(words: str) -> Planned:
    """The lunch with `words` in every place a cook may write something."""
    planned = lunch()
    return _with(planned, tuple(_said(task, words) for task in planned.problem.tasks), words)


def _said(task: Task, words: str) -> Task:
    return Task(
        task.run, task.work, task.attend, task.seconds, words, words, task.span, task.step, words, task.verb, task.thing, task.gear,
        task.oven, task.batch, task.touches, task.touch_s, words, task.earliest, task.latest, task.assumed,
    )  # fmt: skip


def _with(planned: Planned, tasks: tuple[Task, ...], words: str) -> Planned:
    from tests.changed import replace

    problem = replace(
        planned.problem,
        title=words,
        tasks=tasks,
        runs=tuple(replace(run, title=words) for run in planned.problem.runs),
        courses=tuple(replace(course, name=words) for course in planned.problem.courses),
        pools=tuple(replace(pool, name=words) for pool in planned.problem.pools),
    )
    return replace(planned, problem=problem)


def clock(planned: Planned, second: int) -> datetime:
    """A second of the problem as local time."""
    return planned.problem.origin + timedelta(seconds=second)
