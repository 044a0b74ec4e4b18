"""Single changes that might free a collision, cheapest to the cook first, each tried on the problem before it is told."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass, replace
from datetime import timedelta
from itertools import pairwise

from recipec.plan.collide_words import clock, counted, dish, lasting, number, pool_of
from recipec.plan.schedule_bounds import DAY, HOUR
from recipec.plan.schedule_goals import may_be
from recipec.plan.schedule_model import Part, PartKind
from recipec.plan.timeline_types import Due, Fix, Hands, Pool, PoolKind, Problem, Task, Work

_MOST = 4
_EFFORT = 1
_MINUTE = 60
_QUARTER = 15 * _MINUTE
_EARLIEST = 6 * HOUR  # of the day of the event: no cook is asked to come before
_DAY_BEFORE = (15 * HOUR, 18 * HOUR)
_LATER = (5, 10, 15, 20, 30, 45, 60, 90, 120, 180, 240)  # minutes that a course might go later
_LONGER = (2, 5, 10, 15, 20, 30, 45, 60, 90, 120, 180, 240, 360, 480, 720, 1440)  # minutes that a hold might be longer
_MORE = (1, 2, 3)


@dataclass(frozen=True, slots=True)
class Change:
    """A change in words, and the problem as it would be."""

    text: str
    problem: Problem


Changes = tuple[Change, ...]
"""Changes of one thing, the least first."""


@dataclass(frozen=True, slots=True)
class Way:
    """Changes of one kind: of several things, of which one is enough. `grows`: what a change frees, the greater ones of its
    thing free too."""

    things: tuple[Changes, ...]
    grows: bool = True


def fixes(ways: Sequence[Way]) -> tuple[Fix, ...]:
    """The least change of each kind that makes a plan possible, four at most."""
    found: list[Fix] = []
    for way in ways:
        least = _least(way)
        if least is not None:
            found.append(Fix(least.text))
        if len(found) == _MOST:
            break
    return tuple(found)


def _least(way: Way) -> Change | None:
    """Of all things the one that needs the least. What it comes to has been tried itself."""
    best: Change | None = None
    most = max((len(changes) for changes in way.things), default=0)
    for changes in way.things:
        # Only what is less than what was found before.
        place = _halved(changes[:most]) if way.grows else _stepped(changes[:most])
        if place is not None:
            best, most = changes[place], place
    return best


def _halved(changes: Changes) -> int | None:
    if not changes or not may_be(changes[-1].problem, _EFFORT):
        return None
    low, high = 0, len(changes) - 1
    while low < high:
        middle = (low + high) // 2
        if may_be(changes[middle].problem, _EFFORT):
            high = middle
        else:
            low = middle + 1
    return high


def _stepped(changes: Changes) -> int | None:
    return next((place for place, one in enumerate(changes) if may_be(one.problem, _EFFORT)), None)


def changes_for(problem: Problem, found: Sequence[Part]) -> list[Way]:
    """What might free this set of demands, cheapest to the cook first."""
    pools = sorted({pool for part in found if (pool := pool_of(problem, part)) is not None})
    gear, ovens, hobs = (
        [pool for pool in pools if problem.pools[pool].kind in kinds]
        for kinds in ((PoolKind.GEAR,), (PoolKind.OVEN,), (PoolKind.BURNERS, PoolKind.SPACE))
    )
    holds = [tuple(_hold(problem, part.place)) for part in found if part.kind is PartKind.HOLD]
    holds += [tuple(_stand(problem, part.place)) for part in found if part.kind is PartKind.STAND]
    courses = sorted({problem.dues[part.place].course for part in found if part.kind in (PartKind.DUE, PartKind.STAND)})
    ways = [Way((tuple(_arrive(problem)),))]
    ways += [Way((tuple(_pieces(problem, pool)),)) for pool in gear]
    ways += [Way((tuple(_shelves(problem, pool)),)) for pool in ovens]
    ways.append(Way(tuple(holds)))
    ways.append(Way(tuple(tuple(_later(problem, course)) for course in courses), grows=False))
    ways.append(Way((tuple(_day_before(problem)),)))
    ways += [Way((tuple(_pieces(problem, pool)),)) for pool in hobs]
    if any(part.kind in (PartKind.HANDS, PartKind.HOURS) for part in found):
        ways.append(Way((tuple(_hands(problem)),)))
    ways += [Way((tuple(_pieces(problem, pool)),)) for pool in ovens]
    return ways


def _arrive(problem: Problem) -> Iterator[Change]:
    """Earlier by quarters of an hour, on the day."""
    for place, hours in enumerate(problem.hands):
        if problem.day[0] <= hours.start < problem.day[1]:
            last = problem.hands[place - 1].end if place else 0
            earliest = max(problem.day[0] + _EARLIEST, last)
            # A job-shop has no morning: where the hours begin with the day, there is no earlier.
            for start in range(hours.start - _QUARTER, earliest - 1, -_QUARTER):
                hands = _swapped(problem.hands, place, hours._replace(start=start))
                text = f"arrive at {clock(problem, start)} instead of {clock(problem, hours.start)}"
                yield Change(text, replace(problem, hands=hands, arrive=start))
            return


def _swapped(hands: Sequence[Hands], place: int, new: Hands) -> tuple[Hands, ...]:
    return (*hands[:place], new, *hands[place + 1 :])


def _with_pool(problem: Problem, index: int, pool: Pool) -> Problem:
    return replace(problem, pools=(*problem.pools[:index], pool, *problem.pools[index + 1 :]))


def _pieces(problem: Problem, index: int) -> Iterator[Change]:
    pool = problem.pools[index]
    if pool.kind is PoolKind.SPACE:
        for share in _MORE:
            wider = replace(pool, number=pool.number + pool.number * share // 2)
            text = f"have {wider.number // 1000} l of {pool.name} instead of {pool.number // 1000} l"
            yield Change(text, _with_pool(problem, index, wider))
        return
    for more in _MORE:
        text = f"have {counted(pool.number + more, pool.name)} instead of {number(pool.number)}"
        bought = replace(pool, number=pool.number + more, brought=pool.brought + more)
        yield Change(text, _with_pool(problem, index, bought))


def _shelves(problem: Problem, index: int) -> Iterator[Change]:
    pool = problem.pools[index]
    for more in _MORE:
        text = f"use {number(pool.shelves + more)} shelves of the {pool.name} at once instead of {number(pool.shelves)}"
        yield Change(text, _with_pool(problem, index, replace(pool, shelves=pool.shelves + more)))


def _hold(problem: Problem, place: int) -> Iterator[Change]:
    link = problem.links[place]
    now = link.gap_max or 0
    what = f"“{link.hold}”" if link.hold else dish(problem, link.before)
    for minutes in _LONGER:
        longer = now + minutes * _MINUTE
        links = (*problem.links[:place], replace(link, gap_max=longer), *problem.links[place + 1 :])
        text = f"let {what} wait up to {lasting(longer)} instead of {lasting(now)}, if it bears that"
        yield Change(text, replace(problem, links=links))


def _stand(problem: Problem, place: int) -> Iterator[Change]:
    due = problem.dues[place]
    now = due.stand_max or 0
    what = f"“{due.hold}”" if due.hold else dish(problem, due.task)
    for minutes in _LONGER:
        longer = now + minutes * _MINUTE
        dues = (*problem.dues[:place], replace(due, stand_max=longer), *problem.dues[place + 1 :])
        text = f"let {what} stand up to {lasting(longer)} instead of {lasting(now)}, if it bears that"
        yield Change(text, replace(problem, dues=dues))


def _later(problem: Problem, course: int) -> Iterator[Change]:
    one = problem.courses[course]
    for minutes in _LATER:
        later = postponed(problem, (course,), minutes * _MINUTE)
        if later is not None:
            text = f"serve {one.name} at {clock(problem, later.courses[course].at)} instead of {clock(problem, one.at)}"
            yield Change(text, later)


def postponed(problem: Problem, courses: Sequence[int], seconds: int) -> Problem | None:
    """The problem with some courses later, with what hangs on their time; None where that is after the last hours."""
    moved = [
        replace(one, at=one.at + seconds, ends=one.ends + seconds) if place in courses else one
        for place, one in enumerate(problem.courses)
    ]
    if max(one.at for one in moved) > problem.horizon:
        return None
    first, last = min(one.at for one in problem.courses), max(one.ends for one in problem.courses)
    begins, ends = min(one.at for one in moved) - first, max(one.ends for one in moved) - last

    def task(one: Task) -> Task:
        course = problem.runs[one.run].course if one.run is not None else None
        by = seconds if one.work is Work.PLATE and course in courses else 0
        by = {Work.RESERVE: begins, Work.CLEAR: ends}.get(one.work, by)
        return replace(
            one,
            earliest=None if one.earliest is None else one.earliest + by,
            latest=None if one.latest is None else one.latest + by,
        )

    def due(one: Due) -> Due:
        return replace(one, at=one.at + seconds) if one.course in courses else one

    return replace(
        problem,
        courses=tuple(moved),
        tasks=tuple(task(one) for one in problem.tasks),
        dues=tuple(due(one) for one in problem.dues),
    )


def _day_before(problem: Problem) -> Iterator[Change]:
    """Some hours on the day before, where there are none."""
    start, end = (problem.day[0] - DAY + second for second in _DAY_BEFORE)
    if any(hours.start < problem.day[0] and start - HOUR < hours.end for hours in problem.hands) or not problem.hands:
        return
    wider = moved(problem, DAY) if start < 0 else problem
    shift = DAY if start < 0 else 0
    new = Hands(start + shift, end + shift, problem.hands[0].number)
    hands = tuple(sorted((new, *wider.hands)))
    text = f"prepare the day before as well, from {_DAY_BEFORE[0] // HOUR}:00 to {_DAY_BEFORE[1] // HOUR}:00"
    yield Change(text, replace(wider, hands=hands))


def moved(problem: Problem, by: int) -> Problem:
    """The same with the beginning of time so many seconds earlier."""
    return replace(
        problem,
        origin=problem.origin - timedelta(seconds=by),
        horizon=problem.horizon + by,
        day=(problem.day[0] + by, problem.day[1] + by),
        arrive=problem.arrive + by,
        tasks=tuple(
            replace(
                one,
                earliest=None if one.earliest is None else one.earliest + by,
                latest=None if one.latest is None else one.latest + by,
            )
            for one in problem.tasks
        ),
        dues=tuple(replace(one, at=one.at + by) for one in problem.dues),
        courses=tuple(replace(one, at=one.at + by, ends=one.ends + by) for one in problem.courses),
        hands=tuple(Hands(one.start + by, one.end + by, one.number) for one in problem.hands),
    )


def _hands(problem: Problem) -> Iterator[Change]:
    """One more pair around the service, else all of the day."""
    if not problem.courses:
        return
    rush = (min(one.at for one in problem.courses) - HOUR, max(one.at for one in problem.courses))
    for start, end in (rush, problem.day):
        hands = tuple(part for hours in problem.hands for part in _with_one_more(hours, start, end))
        there = [hours for hours in hands if start <= hours.start and hours.end <= end]
        if there:
            begins, leaves = clock(problem, there[0].start), clock(problem, there[-1].end)
            yield Change(f"have one more pair of hands from {begins} to {leaves}", replace(problem, hands=hands))


def _with_one_more(hours: Hands, start: int, end: int) -> Iterator[Hands]:
    cuts = sorted({hours.start, hours.end} | {edge for edge in (start, end) if hours.start < edge < hours.end})
    for low, high in pairwise(cuts):
        inside = start <= low and high <= end
        yield Hands(low, high, hours.number + (1 if inside else 0))
