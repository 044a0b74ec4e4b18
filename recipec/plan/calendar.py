"""When somebody is there, and when the courses are: local times as seconds from a midnight."""

from __future__ import annotations

from dataclasses import dataclass
from datetime import datetime, timedelta
from itertools import pairwise

from recipec.measure.language import ENGLISH, Language
from recipec.model.event import Course, Event
from recipec.model.kitchen import HandsTurn, Kitchen
from recipec.plan.timeline_types import CourseAt, Hands
from recipec.plan.work_figures import seconds

_DAY = 86400


@dataclass(frozen=True, slots=True)
class Calendar:
    """`origin` is the midnight of the first day; all else is seconds from it. `course_of` says for each course of the event which of
    `courses` it is; None when it has no time. `assumed` are sentences."""

    origin: datetime
    horizon: int
    day: tuple[int, int]
    arrive: int
    courses: tuple[CourseAt, ...]
    course_of: tuple[int | None, ...]
    hands: tuple[Hands, ...]
    assumed: tuple[str, ...]
    said_leave: bool


def calendar_of(event: Event, kitchen: Kitchen | None, tongue: Language = ENGLISH) -> Calendar | None:
    """None when no course has a time and the event has none either."""
    times = _course_times(event)
    known = [start for start, _ in times if start is not None]
    if not known:
        return None
    # Loaded where a clock is read: the check of one dish must feel instant.
    from recipec.measure.dates import clock_words

    assumed: list[str] = []
    first, last = min(known), max(end or start for start, end in times if start is not None)
    day = _midnight(event.serve or first)
    arrive = event.arrive
    if arrive is None:
        arrive = min(day + timedelta(seconds=seconds("arrive")), first - timedelta(hours=2))
        time = clock_words(arrive, tongue.code)
        assumed.append(tongue.say("No time of arrival is given: %(time)s is taken.", time=time))
    leave = event.leave_by
    if leave is None:
        clear = seconds("clear") + event.guests * seconds("clear a guest")
        leave = last + timedelta(seconds=max(seconds("leave after"), clear))
        time = clock_words(leave, tongue.code)
        assumed.append(tongue.say("No time to leave by is given: %(time)s is taken.", time=time))
    leave = max(leave, last)
    origin = _midnight(min([arrive, *(window.start for window in event.prepare)]))
    courses, course_of = _courses(event, times, origin)

    def at(moment: datetime) -> int:
        return int((moment - origin).total_seconds())

    turns = event.hands or (() if kitchen is None else kitchen.hands) or (HandsTurn(1, None, None),)
    stays = [(at(window.start), at(window.end), False) for window in event.prepare]
    stays.append((at(arrive), at(leave), True))
    return Calendar(
        origin=origin,
        horizon=at(leave),
        day=(at(day), max(at(day) + _DAY, at(leave))),
        arrive=at(arrive),
        courses=courses,
        course_of=course_of,
        hands=_hands(stays, turns),
        assumed=tuple(assumed),
        said_leave=event.leave_by is not None,
    )


def _midnight(moment: datetime) -> datetime:
    return moment.replace(hour=0, minute=0, second=0, microsecond=0)


def _course_times(event: Event) -> tuple[tuple[datetime | None, datetime | None], ...]:
    """Start and end of every course, those after another worked out; the first course without a time is at `serve`."""
    found: dict[int, tuple[datetime, datetime | None]] = {}
    for place, course in enumerate(event.courses):
        if course.start is not None:
            found[place] = (course.start, course.end)
    for place, course in enumerate(event.courses):
        if place not in found and course.after is None and event.serve is not None:
            found[place] = (event.serve, None)
    for _ in event.courses:
        for place, course in enumerate(event.courses):
            if place not in found and course.after is not None:
                before = _named(event, course)
                if before is not None and before in found:
                    found[place] = (found[before][0] + timedelta(seconds=int(course.after_s or 0)), None)
    return tuple(found.get(place, (event.serve, None)) for place in range(len(event.courses)))


def _named(event: Event, course: Course) -> int | None:
    wanted = (course.after or "").casefold().strip()
    return next((place for place, other in enumerate(event.courses) if other.name.casefold().strip() == wanted), None)


def _courses(
    event: Event, times: tuple[tuple[datetime | None, datetime | None], ...], origin: datetime
) -> tuple[tuple[CourseAt, ...], tuple[int | None, ...]]:
    """Courses in the order of the clock."""
    timed = sorted((start, place) for place, (start, _) in enumerate(times) if start is not None)
    courses, course_of = [], [None] * len(times)
    places: list[int | None] = list(course_of)
    for number, (start, place) in enumerate(timed):
        end = times[place][1] or start
        at = int((start - origin).total_seconds())
        courses.append(CourseAt(event.courses[place].name, at, max(at, int((end - origin).total_seconds()))))
        places[place] = number
    return tuple(courses), tuple(places)


def _hands(stays: list[tuple[int, int, bool]], turns: tuple[HandsTurn, ...]) -> tuple[Hands, ...]:
    """Pairs of hands over all stays, in order and apart. Turns by the clock are those of the day of the event; on days before it is
    the number that stands without a time."""
    base = next((turn.number for turn in turns if turn.start is None), 1)
    edges = {edge for start, end, _ in stays for edge in (start, end)}
    for start, end, on_the_day in stays:
        if on_the_day:
            for midnight in range(start // _DAY * _DAY, end + _DAY, _DAY):
                for turn in turns:
                    if turn.start is not None and turn.end is not None:
                        edges |= {
                            edge
                            for edge in (midnight + turn.start * 60, midnight + turn.end * 60)
                            if start < edge < end
                        }
    found: list[Hands] = []
    ordered = sorted(edges)
    for first, second in pairwise(ordered):
        present = [on_the_day for start, end, on_the_day in stays if start <= first and second <= end]
        if not present:
            continue
        number = _number(first, turns, base) if any(present) else base
        if found and found[-1].end == first and found[-1].number == number:
            found[-1] = Hands(found[-1].start, second, number)
        else:
            found.append(Hands(first, second, number))
    return tuple(hands for hands in found if hands.number > 0)


def _number(at: int, turns: tuple[HandsTurn, ...], base: int) -> int:
    """Of several turns the last counts."""
    minute = at % _DAY // 60
    number = base
    for turn in turns:
        if turn.start is not None and turn.end is not None:
            within = turn.start <= minute < turn.end
            # A turn past midnight: `18:00 to 02:00`.
            over = turn.end < turn.start and (minute >= turn.start or minute < turn.end)
            if within or over:
                number = turn.number
    return number
