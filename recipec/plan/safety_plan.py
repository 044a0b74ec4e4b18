"""How long food lies neither cold nor hot by the clock of an event's own plan, and how long it is held hot.

What a dish says of its times is added up in `safety_zone`; here it is what the plan makes of them: the minutes between one task and
the next, in which food stands wherever the last task left it, count as well.
"""

from __future__ import annotations

import re
from collections.abc import Iterable, Iterator
from dataclasses import dataclass, field

from recipec.base.finding import Finding, Label
from recipec.base.span import Span
from recipec.measure.show_reading import show_temperature
from recipec.model.book import Book
from recipec.model.dish import Dish
from recipec.model.event import Event
from recipec.model.reading import Hold, State
from recipec.plan.action_types import Action
from recipec.plan.action_types import Work as DishWork
from recipec.plan.actions import work_of
from recipec.plan.collide_words import clock, lasting
from recipec.plan.kitchen_stock import Stock
from recipec.plan.rules import LOCAL, Rules, edition, limit
from recipec.plan.safety_foods import spoils
from recipec.plan.safety_keeping import dry_bake
from recipec.plan.safety_trace import Food, Key, Left, Moment, Trace, Tracer, words_of
from recipec.plan.timeline_types import Placed, Planned, Problem, Task, Work

_ICE = re.compile(r"\bice\b")
_MOST_LABELS = 6


@dataclass(frozen=True, slots=True)
class Spell:
    """Seconds of the plan, [start, end), in which a food stands where `text` says; `cooling` when a limit of its own holds for that."""

    start: int
    end: int
    span: Span
    text: str
    cooling: bool = False

    @property
    def seconds(self) -> int:
        """How long it is."""
        return self.end - self.start


@dataclass(frozen=True, slots=True)
class Held:
    """What is held hot, or only warm, from one task to the next."""

    start: int
    end: int
    left: Left

    @property
    def seconds(self) -> int:
        """How long it is."""
        return self.end - self.start


@dataclass(frozen=True, slots=True)
class Stood:
    """One food through one event, for one dish that is served: where it stands neither cold nor hot, in order of time, and where it is
    held hot or warm."""

    food: Food
    title: str
    spells: tuple[Spell, ...]
    held: tuple[Held, ...]


@dataclass(frozen=True, slots=True)
class _Visit:
    """A task in which a food is in hand."""

    start: int
    end: int
    moment: Moment
    trace: Trace
    last: bool


def plan_findings(book: Book, tracer: Tracer, event: Event, planned: Planned) -> tuple[Finding, ...]:
    """`danger-zone` and `held-too-long` by the clock of a plan; none where there is no plan. Not accepted yet."""
    rules = book.settings.safety
    found: dict[tuple[str, int, str], Finding] = {}
    stood = stood_of(book, tracer, planned)
    for title in dict.fromkeys(one.title for one in stood):
        foods = [one for one in stood if one.title == title]
        for finding in (*_zone(foods, planned.problem, event, rules), *_held(foods, planned.problem, event, rules)):
            found.setdefault((finding.slug, finding.span.start, finding.message), finding)
    return tuple(found.values())


def stood_of(book: Book, tracer: Tracer, planned: Planned) -> tuple[Stood, ...]:
    """Every food that spoils, of every dish that is served, through the plan."""
    if not planned.plan.placed:
        return ()
    clockwork = _Clockwork(book, tracer, planned)
    return tuple(stood for run in range(len(planned.problem.runs)) for stood in clockwork.run(run))


@dataclass(slots=True)
class _Clockwork:
    book: Book
    tracer: Tracer
    planned: Planned
    works: dict[str, DishWork] = field(default_factory=dict)

    @property
    def problem(self) -> Problem:
        return self.planned.problem

    def run(self, number: int) -> Iterator[Stood]:
        """The foods of one making of a dish that goes to a course."""
        run = self.problem.runs[number]
        dish = self.book.dish(run.dish)
        if run.course is None or dish is None:
            return
        trace = self.tracer.trace(dish)
        parts = [(one, self._run_of(one.key, run.without)) for one in self._reached(dish)]
        at = self.problem.courses[run.course].at
        for key in sorted(trace.foods):
            food = trace.foods[key]
            if not spoils(food.use, food.item) and not (food.plant and key in trace.hot_since):
                continue
            visits = sorted(
                (visit for part, own in parts for visit in self._visits(part, own, key)),
                key=lambda visit: (visit.start, visit.end),
            )
            if visits:
                spells: list[Spell] = []
                held: list[Held] = []
                for place, visit in enumerate(visits):
                    if not visit.trace.spoils(key, visit.moment.action.number):
                        continue
                    spells += _during(visit, key)
                    until = visits[place + 1].start if place + 1 < len(visits) else at
                    self._after(visit, key, until, place + 1 == len(visits), spells, held)
                yield Stood(food, run.title, tuple(spells), tuple(held))

    def _reached(self, dish: Dish) -> tuple[Dish, ...]:
        found = {dish.key: dish}
        todo = [dish]
        while todo:
            part = todo.pop()
            for use in part.uses:
                below = self.tracer.links.meant(part, use)
                if below is not None and below.key not in found:
                    found[below.key] = below
                    todo.append(below)
        return tuple(found.values())

    def _run_of(self, dish: str, without: tuple[str, ...]) -> int | None:
        """The run that makes it for these plates: without the same foods, else the one without nothing, else any."""
        own = [number for number, run in enumerate(self.problem.runs) if run.dish == dish]
        return min(
            own,
            key=lambda number: (
                self.problem.runs[number].without != without,
                len(self.problem.runs[number].without),
                number,
            ),
            default=None,
        )

    def _visits(self, dish: Dish, run: int | None, key: Key) -> Iterator[_Visit]:
        trace = self.tracer.trace(dish)
        if run is None or key not in trace.foods:
            return
        for moment in trace.moments:
            action = moment.action
            if key not in moment.present or (action.heats_gear and key not in moment.acted):
                continue
            placed = self._placed(dish, run, action)
            if placed:
                # Of several batches the first: what was in it waits for the others.
                first = min(placed, key=lambda one: (one.start, one.task))
                last = action.number == trace.moments[-1].action.number
                yield _Visit(first.start, first.end, moment, trace, last)

    def _placed(self, dish: Dish, run: int, action: Action) -> list[Placed]:
        """Where the plan puts an action: in this run, or in one of the same dish that is made with it."""
        own: list[Placed] = []
        others: list[Placed] = []
        for place in self.planned.plan.placed:
            task = self.problem.tasks[place.task]
            if task.run is None or self.problem.runs[task.run].dish != dish.key or not _is(task, action):
                continue
            (own if task.run == run else others).append(place)
        return own or others

    # ------------------------------------------------------------ between two tasks

    def _after(self, visit: _Visit, key: Key, until: int, served: bool, spells: list[Spell], held: list[Held]) -> None:
        """Where a food stands from the end of a task to the start of the next, or to its course."""
        if until <= visit.end:
            return
        action = visit.moment.action
        left = _left(visit, key)
        hold = self._stop(visit) if left is None or left.made.hold is None else left.made.hold
        span = action.span if left is None else left.made.span
        if hold is None:
            if not _cold(visit) and not (left is not None and dry_bake(visit.trace, left)):
                text = "stands until it is served" if served else "stands until it is used"
                spells.append(Spell(visit.end, until, span, text))
            return
        if hold.state in (State.CHILLED, State.FROZEN):
            self._cooled(visit, hold, span, until, spells)
            return
        if left is not None and hold.state in (State.HOT, State.WARM):
            held.append(Held(visit.end, until, left))
        if hold.state is not State.HOT and not (left is not None and dry_bake(visit.trace, left)):
            text = "held warm" if hold.state is State.WARM else "held at room temperature"
            spells.append(Spell(visit.end, until, span, text))

    def _cooled(self, visit: _Visit, hold: Hold, span: Span, until: int, spells: list[Spell]) -> None:
        cool = self._task(Work.COOL, span, visit.end, until)
        back = self._task(Work.BACK, span, visit.end, until)
        if cool is not None:
            spells.append(Spell(visit.end, cool.start, span, "stands until it is cooled"))
            spells.append(Spell(cool.start, cool.end, span, "cooling", True))
        elif hold.cooled_in is not None and not _cold(visit) and back is None:
            # It goes on hot, without the detour through the fridge.
            spells.append(Spell(visit.end, until, span, "stands until it is used"))
            return
        if back is not None:
            spells.append(Spell(back.start, back.end, span, "getting hot again"))
            spells.append(Spell(back.end, until, span, "stands until it is used"))

    def _task(self, work: Work, span: Span, since: int, until: int) -> Placed | None:
        for place in self.planned.plan.placed:
            task = self.problem.tasks[place.task]
            if task.work is work and _same(task.span, span) and since <= place.start and place.end <= until:
                return place
        return None

    def _stop(self, visit: _Visit) -> Hold | None:
        """`Stop here: up to 2 d chilled.` after its step."""
        action = visit.moment.action
        if not action.last:
            return None
        dish = visit.trace.dish
        work = self.works.get(dish.key)
        if work is None:
            work = self.works[dish.key] = work_of(dish, Stock(None))
        return next((stop.hold for stop in work.stops if stop.before == action.step), None)


def _is(task: Task, action: Action) -> bool:
    return (
        task.work in (Work.COOK, Work.PLATE)
        and task.step == action.step
        and task.verb == action.verb
        and _same(task.span, action.span)
    )


def _same(one: Span, other: Span) -> bool:
    return (one.source.name, one.start, one.end) == (other.source.name, other.start, other.end)


def _left(visit: _Visit, key: Key) -> Left | None:
    """What the step leaves with the food in it; the dish as it keeps by its own fact where no arrow says."""
    trace, action = visit.trace, visit.moment.action
    own = [one for one in trace.left if one.action.number == action.number and not one.made.discarded]
    found = next((one for one in own if key in one.foods), None)
    if found is not None and found.made.hold is not None:
        return found
    keeps = next((one for one in trace.keeps if one.action.number == action.number and key in one.foods), None)
    return keeps or found


def _cold(visit: _Visit) -> bool:
    action = visit.moment.action
    return action.place is not None or action.verb in ("chill", "freeze") or _on_ice(visit)


def _on_ice(visit: _Visit) -> bool:
    return _ICE.search(words_of(visit.moment.action, visit.trace.dish)) is not None


def _during(visit: _Visit, key: Key) -> Iterator[Spell]:
    action = visit.moment.action
    if (visit.moment.cooks and key in visit.moment.acted) or _cold(visit) or visit.end <= visit.start:
        return
    if action.verb == "cool":
        yield Spell(visit.start, visit.end, action.span, "cooling", True)
    else:
        yield Spell(visit.start, visit.end, action.span, "left in the open" if action.standing else "worked on")


# ------------------------------------------------------------ what is said


def _zone(foods: Iterable[Stood], problem: Problem, event: Event, rules: Rules) -> Iterator[Finding]:
    alone, whole = limit(rules, "time alone"), limit(rules, "cool whole")
    hot, cold = limit(rules, "hold hot"), limit(rules, "hold cold")
    if alone is None or whole is None or hot is None or cold is None or not alone.seconds:
        return
    most = max(alone.seconds, whole.seconds or 0)
    over: list[tuple[int, Stood]] = []
    for stood in foods:
        total = sum(spell.seconds for spell in stood.spells)
        rest = sum(spell.seconds for spell in stood.spells if not spell.cooling)
        if rest > alone.seconds or total > most:
            over.append((total, stood))
    if not over:
        return
    total, worst = max(over, key=lambda pair: pair[0])
    spells = sorted((one for one in worst.spells if one.seconds), key=lambda one: -one.seconds)
    main = spells[0]
    others = [
        Label(one.span, f"{lasting(one.seconds)} {one.text}, {_times(problem, one.start, one.end)}")
        for one in spells[1:_MOST_LABELS]
    ]
    assert hot.celsius is not None and cold.celsius is not None
    yield Finding(
        "danger-zone",
        main.span,
        f"By the plan of {event.title} the {worst.food.use.name} in {worst.title} is {lasting(total)} between "
        f"{show_temperature(cold.celsius)} and {show_temperature(hot.celsius)}, all tasks and the waits between them together; the longest "
        f"is {lasting(main.seconds)}, {_times(problem, main.start, main.end)} ({main.text}). "
        f"{edition(rules).name[:1].upper()}{edition(rules).name[1:]} allows {lasting(alone.seconds)}.",
        (*others, Label(event.title_span, "planned for this")),
        (
            "Say that it stands cold or hot meanwhile, which the plan then keeps to: `-> braise, holds 6 h chilled`, or "
            "`holds 40 min hot in {bain-marie}`; or give it a shorter hold, `holds 30 min`.",
            f"{alone.source}; {hot.source}; {cold.source}. {LOCAL}",
        ),
    )


def _held(foods: Iterable[Stood], problem: Problem, event: Event, rules: Rules) -> Iterator[Finding]:
    alone, warm, hot = limit(rules, "time alone"), limit(rules, "time warm"), limit(rules, "hold hot")
    if alone is None or warm is None or hot is None or hot.celsius is None:
        return
    for held in dict.fromkeys(one for stood in foods for one in stood.held):
        hold = held.left.made.hold
        assert hold is not None
        # Hot is a state that a rule limits by degrees alone: four hours is what kitchens go by.
        row = warm if hold.state is State.WARM else alone
        if not row.seconds or held.seconds <= row.seconds:
            continue
        name = held.left.made.name
        under = f"under {show_temperature(hot.celsius)}, which is what warm may be" if row is warm else "hot"
        yield Finding(
            "held-too-long",
            held.left.made.span,
            f"By the plan of {event.title} the {name} is held {lasting(held.seconds)} {under}, "
            f"{_times(problem, held.start, held.end)}: longer than {lasting(row.seconds)}.",
            (Label(event.title_span, "planned for this"),),
            (
                f"Give it a shorter hold, or hold it at {show_temperature(hot.celsius)} or more and measure it every hour, or chill it and "
                f"heat it again: `-> {name}, holds 1 d chilled, cooled in 60 min, back in 20 min in {{saucepan}}`.",
                f"{row.source if row is warm else 'four hours: common practice'}; {hot.source}. {LOCAL}",
            ),
        )


def _times(problem: Problem, start: int, end: int) -> str:
    first, second = clock(problem, start), clock(problem, end)
    return f"{first} to {second}" if " " in first or " " in second else f"{first}–{second}"
