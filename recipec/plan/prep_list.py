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
            tuple(sorted((job for on, job in jobs if on == day), key=lambda job: (job.thing.casefold(), job.how))),
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
        found: dict[tuple[int, str, str], list[PrepPart]] = {}
        for line in (*market.lines, *market.on_hand):
            for asked in (*line.asked_by, *line.unmeasured):
                mark = self.marks.get(asked.dish, {}).get(asked.span)
                at = self._wanted(asked, None if mark is None else mark[1])
                if mark is None or at is None:
                    continue
                use = mark[0]
                how = ", ".join((*use.before, *use.after))
                if how:
                    key = (
                        day_of(self.planned.problem, at),
                        use.name if use.part is None else f"{use.part} of {line.name}",
                        how,
                    )
                    title = asked.title + "".join(f", without {food}" for food in asked.apart)
                    found.setdefault(key, []).append(PrepPart(asked.dish, title, asked.text, at))
        return [
            (day, PrepJob(thing, how, tuple(sorted(_joined(parts), key=lambda part: (part.at, part.title)))))
            for (day, thing, how), parts in found.items()
        ]

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


def _joined(parts: list[PrepPart]) -> Iterator[PrepPart]:
    """A dish once, with all its amounts."""
    by_title: dict[str, list[PrepPart]] = {}
    for part in parts:
        by_title.setdefault(part.title, []).append(part)
    for title, same in by_title.items():
        much = " and ".join(part.much for part in same if part.much)
        yield PrepPart(same[0].dish, title, much, min(part.at for part in same))


def _made(planned: Planned) -> Iterator[tuple[int, MakeJob]]:
    """What is made ahead, by day, in order of time; the same work on the same thing is one job."""
    problem = planned.problem
    numbers = task_numbers(planned)
    fired = min(fire_times(planned), default=problem.day[1])
    jobs: dict[tuple[int, object, str], list[int]] = {}
    for place in sorted(planned.plan.placed, key=lambda one: numbers.get(one.task, 0)):
        task = problem.tasks[place.task]
        if task.work in _MADE and place.start < fired:
            same = (task.verb, task.thing) if task.verb and task.thing else place.task
            jobs.setdefault((day_of(problem, place.start), same, task.what), []).append(place.task)
    for (day, _, name), tasks in jobs.items():
        parts = tuple(_part(planned, task, numbers[task]) for task in tasks)
        yield day, MakeJob(name, parts, sum(problem.tasks[task].seconds for task in tasks))


def _part(planned: Planned, number: int, line: int) -> MakePart:
    task, place = planned.problem.tasks[number], planned.plan.placed[number]
    assert task.run is not None, "what is cooked is of a dish"
    return MakePart(line, task.run, task.text, place.start, place.end, task.attend, task.batch, task.assumed)
