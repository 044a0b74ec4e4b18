"""What is measured and written down at an event: fridges, what is delivered, cores, cooling, heating again, holding, and allergic seats.

A log is blanks with limits beside them. The limits are the rule set's; when each is due is the plan's, where there is one.
"""

from __future__ import annotations

from collections.abc import Iterable, Iterator
from dataclasses import dataclass
from datetime import datetime, timedelta
from enum import StrEnum
from fractions import Fraction

from recipec.larder.larder import Larder
from recipec.measure.language import language_of
from recipec.measure.show import show_duration, show_temperature
from recipec.model.book import Book
from recipec.model.dish import ReadingAt
from recipec.model.event import Event
from recipec.model.reading import State
from recipec.plan.demand import Run, demand, orders_of
from recipec.plan.guests import guests_of
from recipec.plan.links import Links
from recipec.plan.market_types import Market
from recipec.plan.needs import is_allergy
from recipec.plan.paper_limits import paper_limit
from recipec.plan.rules import Limit, limit
from recipec.plan.safety_cores import Done, judge, kind_words, wanted_of, wanted_words
from recipec.plan.safety_foods import NEEDS_CORE
from recipec.plan.safety_trace import Read, Tracer
from recipec.plan.timeline_types import Planned, Work

_DELIVERED_COLD = ("butcher", "fish", "dairy and eggs")


class CheckKind(StrEnum):
    """What is looked at, in the order of the paper."""

    PROBE = "the probe"
    COLD = "fridge and freezer"
    DELIVERED = "delivered and unpacked"
    CORE = "cooked through"
    COOL = "cooled"
    BACK = "heated again"
    HOT = "held hot or warm"
    SEAT = "allergic seats"


@dataclass(frozen=True, slots=True)
class Check:
    """One line. `what` is measured, `of` the dish or place; `limits` are plain words, one for each blank to be written in, with `source`.
    `at` is when the plan has it, None where nobody knows."""

    kind: CheckKind
    what: str
    of: str
    limits: tuple[str, ...]
    source: str
    at: datetime | None = None


def safety_log(book: Book, larder: Larder, event: Event, market: Market, planned: Planned | None) -> tuple[Check, ...]:
    """The log of an event: by kind, within one in the order of time."""
    log = _Log(book, larder, event, market, planned if planned is not None and planned.plan.placed else None)
    order = tuple(CheckKind)
    return tuple(
        sorted(log.checks(), key=lambda check: (order.index(check.kind), check.at is None, check.at or datetime.min))
    )


class _Log:
    def __init__(self, book: Book, larder: Larder, event: Event, market: Market, planned: Planned | None) -> None:
        self.book, self.larder, self.event, self.market, self.planned = book, larder, event, market, planned
        self.rules = book.settings.safety
        self.tongue = language_of(book.settings.language)
        self.runs = demand(book, larder, orders_of(event)).runs
        self.fragile = bool(event.expecting or event.under_five)

    def checks(self) -> Iterator[Check]:
        yield from self._probe()
        yield from self._cold()
        yield from self._delivered()
        yield from self._cores()
        yield from self._cooled()
        yield from self._hot()
        yield from self._seats()

    def _probe(self) -> Iterator[Check]:
        say = self.tongue.say
        for name, what in (("probe in ice", say("in melting ice")), ("probe in steam", say("in boiling water"))):
            known = paper_limit(self.rules, name)
            if known is not None and known.celsius is not None:
                degrees = show_temperature(known.celsius, tongue=self.tongue)
                yield Check(CheckKind.PROBE, what, say("probe thermometer"), (degrees,), known.source)

    def _cold(self) -> Iterator[Check]:
        say = self.tongue.say
        cold, frozen, again = (
            limit(self.rules, "hold cold"),
            paper_limit(self.rules, "freezer"),
            paper_limit(self.rules, "look again"),
        )
        moments = self._moments(None if again is None else again.seconds)
        for at in moments or (None,):
            if cold is not None:
                yield Check(CheckKind.COLD, say("fridge"), self._place(), (self._at_most(cold),), cold.source, at)
            if frozen is not None and frozen.celsius is not None and self._freezes():
                words = self._colder(frozen.celsius)
                yield Check(CheckKind.COLD, say("freezer"), self._place(), (words,), frozen.source, at)

    def _moments(self, every: int | None) -> tuple[datetime, ...]:
        """From when somebody is there, every so often, until they leave."""
        windows = [(window.start, window.end) for window in self.event.prepare]
        if self.event.arrive is not None:
            last = self.event.leave_by or self.event.serve or self.event.arrive
            windows.append((self.event.arrive, last))
        found: set[datetime] = set()
        for start, end in windows:
            at = start
            while at < end:
                found.add(at)
                if not every:
                    break
                at += timedelta(seconds=every)
        return tuple(sorted(found))

    def _place(self) -> str:
        kitchen = self.book.kitchen(self.event.kitchen)
        return "" if kitchen is None else kitchen.title

    def _freezes(self) -> bool:
        bought = any(line.department == "frozen" for line in self.market.lines)
        holds = (made.hold for run in self.runs for step in run.dish.steps() for made in step.makes)
        return bought or any(hold is not None and hold.state is State.FROZEN for hold in holds)

    def _delivered(self) -> Iterator[Check]:
        say = self.tongue.say
        packs = say("dates and packs")
        cold, frozen = limit(self.rules, "hold cold"), paper_limit(self.rules, "freezer")
        for department in dict.fromkeys(line.department for line in self.market.lines):
            things = ", ".join(line.name for line in self.market.lines if line.department == department)
            name = say(department, context="department")
            if department in _DELIVERED_COLD and cold is not None:
                yield Check(CheckKind.DELIVERED, name, things, (self._at_most(cold), packs), cold.source)
            if department == "frozen" and frozen is not None:
                yield Check(CheckKind.DELIVERED, name, things, (say("hard frozen"), packs), frozen.source)

    # ------------------------------------------------------------ cores

    def _cores(self) -> Iterator[Check]:
        tracer = Tracer(Links(self.book), self.larder)
        for run in self.runs:
            bought = {use.number for use in run.bought}
            seen: set[tuple[str, str]] = set()
            for food in tracer.trace(run.dish).own():
                if food.kind not in NEEDS_CORE or not food.heated or food.key.use not in bought:
                    continue
                rows = wanted_of(food.kind, self.rules, fragile=self.fragile)
                key = (food.use.name, food.kind)
                if not rows or key in seen:
                    continue
                seen.add(key)
                judged = judge(food, self.rules, fragile=self.fragile)
                read = judged.read
                if judged.done is Done.ENOUGH and read is None:
                    # Baked through, or hours in liquid: there is nothing to put a probe into.
                    continue
                limits = [f"{kind_words(food.kind, self.tongue)}: {wanted_words(rows, self.tongue)}"]
                if read is not None:
                    said = show_temperature(read.core.degrees, scale=read.core.scale, tongue=self.tongue)
                    limits.append(self.tongue.say("the dish says %(degrees)s", degrees=said))
                sources = dict.fromkeys(row.source for row in rows)
                yield Check(
                    CheckKind.CORE,
                    self.tongue.say("middle of the %(food)s", food=food.use.name),
                    self._title(run),
                    tuple(limits),
                    "; ".join(sources),
                    self._read_at(run, read),
                )

    def _read_at(self, run: Run, read: Read | None) -> datetime | None:
        if read is None or self.planned is None:
            return None
        step = next(
            (
                step.number
                for step in run.dish.steps()
                for sentence in step.sentences
                for piece in sentence.pieces
                if isinstance(piece, ReadingAt) and piece.reading.span == read.span
            ),
            None,
        )
        problem = self.planned.problem
        ends = [
            place.end
            for place in self.planned.plan.placed
            for task in (problem.tasks[place.task],)
            if task.run is not None and problem.runs[task.run].dish == run.dish.key and task.step == step
        ]
        return self._moment(max(ends)) if ends and step is not None else None

    # ------------------------------------------------------------ cooling, heating again, holding

    def _cooled(self) -> Iterator[Check]:
        """From the plan where there is one; else every hold that is cooled into, or brought back."""
        if self.planned is None:
            for run in self.runs:
                for made in (made for step in run.dish.steps() for made in step.makes):
                    if made.hold is not None and made.hold.cooled_in is not None:
                        yield from self._cool(made.name, self._title(run), None, None)
                    if made.hold is not None and made.hold.back_in is not None:
                        yield from self._back(made.name, self._title(run), None)
            return
        problem = self.planned.problem
        for place in self.planned.plan.placed:
            task = problem.tasks[place.task]
            if task.run is None:
                continue
            one = problem.runs[task.run]
            title = self._titled(one.title, one.without)
            if task.work is Work.COOL:
                yield from self._cool(task.thing, title, self._moment(place.start), place.end - place.start)
            elif task.work is Work.BACK:
                yield from self._back(task.thing, title, self._moment(place.end))

    def _cool(self, thing: str, title: str, at: datetime | None, seconds: int | None) -> Iterator[Check]:
        stages = [one for one in (limit(self.rules, "cool first"), limit(self.rules, "cool whole")) if one is not None]
        tongue = self.tongue
        limits = [
            tongue.say(
                "%(degrees)s within %(time)s",
                degrees=self._at_most(one),
                time=show_duration(one.seconds or 0, None, tongue),
            )
            for one in stages
        ]
        if seconds is not None:
            time = show_duration(seconds, None, tongue)
            limits.append(tongue.say("the dish says cold within %(time)s", time=time))
        source = "; ".join(dict.fromkeys(one.source for one in stages))
        yield Check(CheckKind.COOL, thing, title, tuple(limits), source, at)

    def _back(self, thing: str, title: str, at: datetime | None) -> Iterator[Check]:
        reheat = limit(self.rules, "reheat")
        if reheat is not None and reheat.celsius is not None:
            tongue = self.tongue
            degrees = show_temperature(reheat.celsius, tongue=tongue)
            if reheat.seconds:
                time = show_duration(reheat.seconds, None, tongue)
                degrees = tongue.say("%(degrees)s for %(time)s", degrees=degrees, time=time)
            words = tongue.say("%(degrees)s in the middle, once only", degrees=degrees)
            yield Check(CheckKind.BACK, thing, title, (words,), reheat.source, at)

    def _hot(self) -> Iterator[Check]:
        hot = limit(self.rules, "hold hot")
        if hot is None or hot.celsius is None:
            return
        for run in self.runs:
            for made in (made for step in run.dish.steps() for made in step.makes if not made.discarded):
                if made.hold is None or made.hold.state not in (State.HOT, State.WARM):
                    continue
                tongue = self.tongue
                words = [tongue.say("%(degrees)s or hotter", degrees=show_temperature(hot.celsius, tongue=tongue))]
                if made.hold.state is State.WARM:
                    time = show_duration(made.hold.low, None, tongue)
                    words = [tongue.say("warm for %(time)s at most: out at, gone by", time=time)]
                yield Check(CheckKind.HOT, made.name, self._title(run), tuple(words), hot.source)

    # ------------------------------------------------------------ seats

    def _seats(self) -> Iterator[Check]:
        """Every plate for a seat that an allergy is written for."""
        allergic = {
            seat.number: tuple(need.what for need in seat.needs if is_allergy(need)) for seat in self.event.seats
        }
        say = self.tongue.say
        blanks = (
            say("labels read"),
            say("board, knife, pan and hands clean"),
            say("plated first, covered, told at the table"),
        )
        for served in guests_of(self.book, self.larder, self.event).served:
            for seat in served.seats:
                whats = allergic.get(seat, ())
                if whats:
                    title = self._titled(served.row.title, served.row.without)
                    foods = say(" and ").join(whats)
                    name = say("seat %(number)s, allergic to %(foods)s", number=seat, foods=foods)
                    yield Check(CheckKind.SEAT, name, title, blanks, say("common practice"))

    def _moment(self, second: int) -> datetime:
        assert self.planned is not None, "only a plan has times"
        return self.planned.problem.origin + timedelta(seconds=second - second % 60)

    def _title(self, run: Run) -> str:
        return self._titled(run.dish.title, run.without)

    def _titled(self, title: str, without: Iterable[str]) -> str:
        return ", ".join((title, *(self.tongue.say("without %(food)s", food=food) for food in without)))

    def _at_most(self, known: Limit) -> str:
        return "" if known.celsius is None else self._colder(known.celsius)

    def _colder(self, celsius: Fraction) -> str:
        return self.tongue.say("%(degrees)s or colder", degrees=show_temperature(celsius, tongue=self.tongue))
