"""Problems made by hand for tests of the timeline: an evening of several courses, a job-shop, and single knots. All invented."""

from __future__ import annotations

from dataclasses import dataclass, field, replace
from datetime import datetime
from random import Random

from recipec.base.source import Source
from recipec.base.span import Span
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
    Task,
    Why,
    Work,
)

MIN = 60
HOUR = 3600
DAY = 24 * HOUR
SOURCE = Source("invented.dish", "invented")
SPAN = Span(SOURCE, 0, 8)

OVEN, HOB, PAN, FRIDGE = 0, 1, 2, 3


def oven(number: int = 1, shelves: int = 2, up_to: int | None = 2500) -> Pool:
    """Heats 12 K a minute, cools 2.5 K a minute."""
    return Pool("oven", "oven", PoolKind.OVEN, number, shelves=shelves, heats=120, cools=25, up_to=up_to)


def pools(ovens: int = 1, shelves: int = 2, burners: int = 4, pans: int = 3, fridge: int = 0) -> tuple[Pool, ...]:
    """An oven, a hob, pans and a fridge, at the places OVEN, HOB, PAN, FRIDGE."""
    return (
        oven(ovens, shelves),
        Pool("hob", "burner", PoolKind.BURNERS, burners),
        Pool("pan", "pan", PoolKind.GEAR, pans),
        Pool("fridge", "fridge", PoolKind.SPACE, fridge, alone=True),
    )


@dataclass
class Maker:
    """Gathers runs, tasks, links and dues; `problem` makes the whole of them."""

    tasks: list[Task] = field(default_factory=list)
    links: list[Link] = field(default_factory=list)
    keeps: list[Keep] = field(default_factory=list)
    dues: list[Due] = field(default_factory=list)
    runs: list[RunOf] = field(default_factory=list)
    courses: list[CourseAt] = field(default_factory=list)

    def course(self, name: str, at: int) -> int:
        self.courses.append(CourseAt(name, at, at))
        return len(self.courses) - 1

    def run(self, title: str, course: int | None = 0) -> int:
        self.runs.append(RunOf(title.replace(" ", "-"), title, (), "4 plates", course))
        return len(self.runs) - 1

    def task(self, run: int | None, seconds: int, text: str, attend: Attend = Attend.HANDS, **more: object) -> int:
        one = Task(run, Work.COOK, attend, seconds, text, text[:28], SPAN)
        self.tasks.append(replace(one, **more))  # type: ignore[arg-type]
        return len(self.tasks) - 1

    def then(self, before: int, after: int, least: int = 0, most: int | None = None, hold: str = "") -> int:
        why = Why.ORDER if most is None else Why.HOLD
        self.links.append(Link(before, after, least, most, why, hold, SPAN))
        return len(self.links) - 1

    def due(self, task: int, course: int, stand: int | None = 0, hold: str = "") -> None:
        self.dues.append(Due(task, course, self.courses[course].at, stand, hold, SPAN))

    def problem(
        self,
        hands: tuple[Hands, ...],
        kitchen: tuple[Pool, ...] | None = None,
        aim: str = "calm",
        horizon: int | None = None,
        day: tuple[int, int] | None = None,
    ) -> Problem:
        end = horizon or max(hours.end for hours in hands)
        day = day or (end - end % DAY if end % DAY else end - DAY, end)
        arrive = min((hours.start for hours in hands if hours.start >= day[0]), default=day[0])
        return Problem(
            event="an-evening",
            title="An evening",
            origin=datetime(2026, 5, 1),
            horizon=end,
            day=day,
            arrive=arrive,
            aim=aim,
            runs=tuple(self.runs),
            pools=pools() if kitchen is None else kitchen,
            tasks=tuple(self.tasks),
            links=tuple(self.links),
            keeps=tuple(self.keeps),
            dues=tuple(self.dues),
            courses=tuple(self.courses),
            hands=hands,
        )


def evening(steps: int, seed: int = 1, aim: str = "calm") -> Problem:
    """Five courses for twelve in `steps` steps: one pair of hands, one oven of two shelves at three temperatures, four burners, a few hours
    of work the day before. Each dish: cut and weigh, cook on the hob, wait, roast or set, rest, finish, plate."""
    random = Random(seed)
    made = Maker()
    clock = [19 * 60 + 30, 20 * 60, 20 * 60 + 35, 21 * 60 + 15, 21 * 60 + 45]
    for name, at in zip(("First", "Soup", "Fish", "Main", "Sweet"), clock, strict=True):
        made.course(name, DAY + at * MIN)
    heats = (1600, 1900, 2200)
    plating = [made.run(f"plates of {course.name.lower()}", place) for place, course in enumerate(made.courses)]
    last = []
    for place, run in enumerate(plating):
        plate = made.task(run, 9 * MIN, f"plate {made.courses[place].name}", work=Work.PLATE)
        made.due(plate, place)
        last.append(plate)
    part = 0
    while len(made.tasks) < steps:
        place = part % 5
        run = made.run(f"part {part} of {made.courses[place].name.lower()}", place)
        room = steps - len(made.tasks)
        chain = _part(made, run, random, heats[(part * 2 + part // 5) % 3], part, min(room, 8 if part < 10 else 6))
        hold = (20, 30, 45)[part % 3] * MIN
        made.then(chain, last[place], 0, hold, "a short while warm")
        part += 1
    hands = (Hands(15 * HOUR, 19 * HOUR, 1), Hands(DAY + 12 * HOUR, DAY + 23 * HOUR + 30 * MIN, 1))
    return made.problem(hands, aim=aim, horizon=2 * DAY, day=(DAY, 2 * DAY))


def _part(made: Maker, run: int, random: Random, heat: int, part: int, room: int) -> int:
    """One strand of a course, of `room` steps; its last."""
    roast = part % 2 == 0
    kinds = ["cut", "cut", "hob", "hob", "oven" if roast else "chill", "rest", "cut", "finish"]
    kinds = kinds[-room:] if room < 4 else [*kinds[: room - 1], "finish"] if room < 8 else kinds
    before = None
    for place, kind in enumerate(kinds):
        attend = Attend.HANDS
        more: dict[str, object] = {}
        minutes = random.choice((4, 5, 6, 8))
        if kind == "hob":
            attend = random.choice((Attend.HANDS, Attend.REACH, Attend.REACH))
            minutes = random.choice((5, 8, 12)) if attend is Attend.HANDS else random.choice((15, 25, 40))
            more["gear"] = (GearNeed(HOB, 1),)
            if attend is Attend.REACH and minutes == 40:
                more["touches"] = (15 * MIN, 30 * MIN)
        elif kind == "oven":
            attend, minutes = Attend.REACH, random.choice((20, 30, 40))
            more["oven"] = OvenNeed(OVEN, heat, heat, 1)
        elif kind == "chill":
            attend, minutes = Attend.ALONE, random.choice((60, 120, 240))
        elif kind == "rest":
            attend, minutes = Attend.ALONE, random.choice((10, 15, 20))
        elif kind == "finish":
            minutes = random.choice((3, 4, 5))
            more["gear"] = (GearNeed(HOB, 1),)
        now = made.task(run, minutes * MIN, f"{kind} {place} of part {part}", attend, **more)
        if before is not None:
            most = 90 * MIN if kind == "oven" else 60 * MIN if kind == "finish" and roast else None
            made.then(before, now, 0, most, "kept warm" if most else "")
        before = now
    assert before is not None
    return before


def jobshop(text: str, minute: int = MIN, horizon: int | None = None) -> Problem:
    """A job-shop in its usual form (jobs and machines; then for each job machine and minutes in turn) as a kitchen: jobs are dishes,
    machines are pieces of gear, there are hands enough, and everything is due in the end."""
    rows = [[int(word) for word in line.split()] for line in text.strip().splitlines()]
    jobs, machines = rows[0]
    made = Maker()
    end = minute * (horizon or sum(sum(row[1::2]) for row in rows[1:]))
    made.course("All", end)
    for job, row in enumerate(rows[1:]):
        run = made.run(f"dish {job + 1}")
        before = None
        for machine, minutes in zip(row[::2], row[1::2], strict=True):
            now = made.task(run, minutes * minute, f"gear {machine}", gear=(GearNeed(machine, 1),))
            if before is not None:
                made.then(before, now)
            before = now
        assert before is not None
        made.due(before, 0, None)
    kitchen = tuple(Pool(f"gear-{one}", f"gear {one}", PoolKind.GEAR, 1) for one in range(machines))
    return made.problem((Hands(0, end, jobs),), kitchen, aim="short", horizon=end, day=(0, end))
