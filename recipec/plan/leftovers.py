"""What may be left after an event: by when it is eaten, how it is kept and heated again, what is in it, and what isn't kept at all."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass
from datetime import datetime, timedelta
from fractions import Fraction

from recipec.larder.larder import Larder
from recipec.measure.language import ENGLISH, Language, language_of
from recipec.model.book import Book
from recipec.model.event import Course, Event
from recipec.model.reading import State
from recipec.plan.demand import Run, demand, orders_of
from recipec.plan.label_foods import InTubs
from recipec.plan.labels import Held, UseBy, has_rice, held_in, open_in
from recipec.plan.links import Links
from recipec.plan.paper_limits import paper_limit
from recipec.plan.rules import limit
from recipec.plan.safety_cores import Done, judge
from recipec.plan.safety_trace import Tracer
from recipec.plan.timeline_types import Planned, Work
from recipec.plan.wording import hold_text

_NOT_KEPT = frozenset({Done.RAW, Done.FROZEN, Done.UNDER, Done.NOT_COOKED})
"""What is left of food in that state is not kept: a choice of ours, the safe way round."""


@dataclass(frozen=True, slots=True)
class Leftover:
    """A dish as it is served, `without` some foods. `plates` are what is made for the guests, None where they
    can't be counted; `surplus` what is made over it because batches are whole, as a part of the dish as written.
    `use_by` is None where the event has no day. `heated` when it was heated again before it was served, and is not
    heated once more. `throw` says why nothing of it is kept, '' where it may be."""

    dish: str
    title: str
    without: tuple[str, ...]
    course: str
    plates: Fraction | None
    surplus: Fraction
    use_by: UseBy | None
    frozen: bool
    heated: bool
    throw: str
    rice: bool
    held: tuple[Held, ...]
    open: tuple[str, ...]


def leftovers_of(book: Book, larder: Larder, event: Event, planned: Planned | None) -> tuple[Leftover, ...]:
    """Every dish that an event serves, each version once, in the order of the courses."""
    runs = demand(book, larder, orders_of(event)).runs
    tubs = InTubs(larder, runs)
    tracer = Tracer(Links(book), larder)
    courses = _courses(event)
    placed = {dish: number for number, dish in enumerate(courses)}
    served = sorted(
        (run for run in runs if run.served), key=lambda run: (placed.get(run.dish.key, len(placed)), run.without)
    )
    return tuple(_leftover(book, event, run, courses.get(run.dish.key), tubs, planned, tracer) for run in served)


def _courses(event: Event) -> Mapping[str, Course]:
    found: dict[str, Course] = {}
    for course in event.courses:
        for order in course.orders:
            if order.dish is not None:
                found.setdefault(order.dish, course)
    return found


def _leftover(
    book: Book,
    event: Event,
    run: Run,
    course: Course | None,
    tubs: InTubs,
    planned: Planned | None,
    tracer: Tracer,
) -> Leftover:
    foods = tubs.of_run(run)
    rice = has_rice(foods)
    parts = _parts(tubs, run)
    frozen = any(hold.state is State.FROZEN for hold in run.dish.keeps)
    return Leftover(
        dish=run.dish.key,
        title=run.dish.title,
        without=run.without,
        course="" if course is None else course.name,
        plates=run.served_plates,
        surplus=run.surplus,
        use_by=None
        if event.serve is None
        else use_by(book.settings.safety, event.serve, run, rice, language_of(book.settings.language)),
        frozen=frozen,
        heated=_heated(parts, planned),
        throw=_throw(book, run, tracer),
        rice=rice,
        held=held_in(foods, book.settings.safety),
        open=open_in(foods),
    )


def use_by(rules: str, served: datetime, run: Run, rice: bool, tongue: Language = ENGLISH) -> UseBy | None:
    """The earliest of what the authorities tell households, what the dish says, and what rice allows; counted from when it was served."""
    found: list[UseBy] = []
    keep = paper_limit(rules, "leftovers keep")
    if keep is not None and keep.seconds is not None:
        found.append(UseBy(served + timedelta(seconds=keep.seconds), False, keep.source))
    for hold in run.dish.keeps:
        if hold.state is not State.FROZEN:
            end = served + timedelta(seconds=int(hold.low))
            found.append(UseBy(end, False, tongue.say("the dish says %(hold)s", hold=hold_text(hold, tongue))))
    cooked = limit(rules, "shelf", "rice") if rice else None
    if cooked is not None and cooked.seconds is not None:
        why = tongue.say("rice, %(source)s", source=cooked.source)
        found.append(UseBy(served + timedelta(seconds=cooked.seconds), False, why))
    return min(found, key=lambda one: one.at, default=None)


def _parts(tubs: InTubs, run: Run) -> tuple[Run, ...]:
    """A run and all it is made of, each once."""
    found, todo = [run], [run]
    while todo:
        for below in tubs.drawn(todo.pop()):
            if below not in found:
                found.append(below)
                todo.append(below)
    return tuple(found)


def _heated(parts: tuple[Run, ...], planned: Planned | None) -> bool:
    if planned is None:
        return any(
            made.hold is not None and made.hold.back_in is not None
            for run in parts
            for step in run.dish.steps()
            for made in step.makes
        )
    keys = {run.dish.key for run in parts}
    problem = planned.problem
    return any(
        task.work is Work.BACK and task.run is not None and problem.runs[task.run].dish in keys
        for task in problem.tasks
    )


def _throw(book: Book, run: Run, tracer: Tracer) -> str:
    trace = tracer.trace(run.dish)
    judged = (judge(trace.foods[key], book.settings.safety, fragile=True) for key in sorted(trace.served))
    names = dict.fromkeys(one.food.use.name for one in judged if one.done in _NOT_KEPT)
    tongue = language_of(book.settings.language)
    return tongue.say("served raw, or not cooked through: %(foods)s", foods=", ".join(names)) if names else ""
