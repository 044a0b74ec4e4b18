"""The prep list: by day, the same work on the same thing once for all dishes, and what is made before the first course is fired."""

from __future__ import annotations

from collections.abc import Iterator, Mapping

from recipec.base.span import Span
from recipec.model.book import Book
from recipec.model.dish import Dish, FoodAt, Use
from recipec.plan.market_types import Asked, Market
from recipec.plan.run_sheet import day_of, fire_times, task_numbers
from recipec.plan.run_sheet_types import MakeJob, MakePart, PrepDay, PrepJob, PrepPart
from recipec.plan.timeline_types import Planned, Work

_NEAR_S = 3600
"""Work further apart is no one job: a choice of ours."""

_MADE = (Work.COOK, Work.COOL)


def prep_list(planned: Planned, book: Book, market: Market) -> tuple[PrepDay, ...]:
    """The days of a plan with prep to do, in order; of an impossible plan none. `market` is the booking's own list."""
    if not planned.plan.placed:
        return ()
    board = _Board(planned, book)
    jobs = board.jobs(market)
    made = list(_made(planned))
    days = sorted({day for day, _ in (*jobs, *made)})
    return tuple(
        PrepDay(
            day,
            tuple(sorted((job for on, job in jobs if on == day), key=lambda job: job.thing.casefold())),
            tuple(job for on, job in made if on == day),
        )
        for day in days
    )


class _Board:
    """Finds, for every mark of food that is cut, peeled or otherwise got ready, the day and time it is wanted."""

    def __init__(self, planned: Planned, book: Book) -> None:
        self.planned = planned
        self.dishes = {dish.key: dish for dish in book.dishes}
        self.marks = {key: _marks(dish) for key, dish in self.dishes.items()}

    def jobs(self, market: Market) -> list[tuple[int, PrepJob]]:
        found: dict[tuple[int, str], list[PrepPart]] = {}
        for line in (*market.lines, *market.on_hand):
            for asked in (*line.asked_by, *line.unmeasured):
                use, step = self.marks.get(asked.dish, {}).get(asked.span, (None, None))
                at = self._wanted(asked, step)
                if use is None or at is None:
                    continue
                how = ", ".join((*use.before, *use.after))
                if how:
                    thing = line.name if use.part is None else f"{use.part} of {line.name}"
                    title = asked.title + "".join(f", without {food}" for food in asked.apart)
                    part = PrepPart(how, asked.dish, title, asked.text, at)
                    found.setdefault((day_of(self.planned.problem, at), thing), []).append(part)
        return [(day, PrepJob(thing, _sorted(parts))) for (day, thing), parts in found.items()]

    def _wanted(self, asked: Asked, step: int | None) -> int | None:
        """When the step of a mark begins, or else its dish; None when nothing of that dish is on the plan."""
        problem, placed = self.planned.problem, self.planned.plan.placed
        runs = [number for number, run in enumerate(problem.runs) if run.dish == asked.dish]
        exact = [number for number in runs if problem.runs[number].without == asked.apart]
        mine = [place for place in placed if problem.tasks[place.task].run in (exact or runs)]
        here = [place.start for place in mine if step is not None and problem.tasks[place.task].step == step]
        return min(here or [place.start for place in mine], default=None)


def _marks(dish: Dish) -> Mapping[Span, tuple[Use, int | None]]:
    """Every choice of every mark by where it stands, with the step it is in."""
    steps = {
        piece.use: step.number
        for step in dish.steps()
        for sentence in step.sentences
        for piece in sentence.pieces
        if isinstance(piece, FoodAt)
    }
    return {choice.span: (choice, steps.get(use.number)) for use in dish.uses for choice in (*use.choices, use)}


def _sorted(parts: list[PrepPart]) -> tuple[PrepPart, ...]:
    """A dish once for each way a thing is got ready, with all its amounts; ways in the order they are wanted."""
    alike: dict[tuple[str, str], list[PrepPart]] = {}
    for part in parts:
        alike.setdefault((part.how, part.title), []).append(part)
    joined = [
        PrepPart(
            how,
            same[0].dish,
            title,
            " and ".join(part.much for part in same if part.much),
            min(part.at for part in same),
        )
        for (how, title), same in alike.items()
    ]
    wanted: dict[str, int] = {}
    for part in joined:
        wanted[part.how] = min(part.at, wanted.get(part.how, part.at))
    return tuple(sorted(joined, key=lambda part: (wanted[part.how], part.how, part.at, part.title)))


def _made(planned: Planned) -> Iterator[tuple[int, MakeJob]]:
    """What is made ahead, by day, in order of time."""
    problem = planned.problem
    numbers = task_numbers(planned)
    fired = min(fire_times(planned), default=problem.day[1])
    ahead = [
        place.task
        for place in sorted(planned.plan.placed, key=lambda one: numbers.get(one.task, 0))
        if problem.tasks[place.task].work in _MADE and place.start < fired
    ]
    jobs: dict[tuple[int, str], list[int]] = {}
    for task in ahead:
        day = day_of(problem, planned.plan.placed[task].start)
        jobs.setdefault((day, _job(planned, task, ahead)), []).append(task)
    for (day, _), tasks in jobs.items():
        parts = tuple(_part(planned, task, numbers[task]) for task in tasks)
        shared = len({problem.runs[part.run].dish for part in parts}) > 1
        name = problem.tasks[tasks[0]].what if shared else problem.runs[parts[0].run].title
        yield day, MakeJob(name, parts, sum(problem.tasks[task].seconds for task in tasks), shared)


def _job(planned: Planned, number: int, ahead: list[int]) -> str:
    """What a task is listed under: the same work on the same thing where another dish wants it too at about that time, else its dish."""
    problem, placed = planned.problem, planned.plan.placed
    task = problem.tasks[number]
    assert task.run is not None, "what is cooked is of a dish"
    dish = problem.runs[task.run].dish
    for other in ahead:
        one = problem.tasks[other]
        near = abs(placed[other].start - placed[number].start) <= _NEAR_S
        same = (one.verb, one.thing) == (task.verb, task.thing) and bool(task.verb and task.thing)
        if near and same and one.run is not None and problem.runs[one.run].dish != dish:
            return f"work {task.verb} {task.thing}"
    return f"dish {dish}"


def _part(planned: Planned, number: int, line: int) -> MakePart:
    task, place = planned.problem.tasks[number], planned.plan.placed[number]
    assert task.run is not None, "what is cooked is of a dish"
    what = task.what or task.text
    return MakePart(line, task.run, what, task.text, place.start, place.end, task.attend, task.batch, task.assumed)
