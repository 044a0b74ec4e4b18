"""The run sheet as a calendar (RFC 5545, by icalendar): an entry for each step that wants hands or a touch, and for each course.

Times float: they are the kitchen's, wherever the telephone is. Nothing is of the clock, so the same plan is the same bytes.
"""

from __future__ import annotations

import hashlib
from collections.abc import Iterable
from datetime import UTC, timedelta
from typing import TYPE_CHECKING

from recipec.emit.render import clean
from recipec.emit.timeline_words import LineText, Words, touch_words
from recipec.measure.show import Style
from recipec.plan.run_sheet import run_sheet
from recipec.plan.run_sheet_types import CourseLine, LineKind
from recipec.plan.timeline_types import Attend, Planned, Work

if TYPE_CHECKING:
    from icalendar import Event

_ALARM_S = 5 * 60
_COURSE_ALARM_S = 10 * 60


def timeline_ics(planned: Planned, style: Style | None = None) -> bytes:
    """A calendar; of an impossible plan one without entries."""
    from icalendar import Calendar

    words = Words(planned, run_sheet(planned), style or Style())
    calendar = Calendar()
    calendar.add("version", "2.0")
    calendar.add("prodid", "-//recipec//timeline//EN")
    calendar.add("calscale", "GREGORIAN")
    title = _line(planned.problem.title)
    calendar.add("name", title)  # RFC 7986
    calendar.add("x-wr-calname", title)
    for day in words.days():
        for line in day.lines:
            if line.line.kind is LineKind.TASK and _wanted(planned, line):
                calendar.add_component(_step(planned, words, line))
    for course in words.sheet.courses:
        calendar.add_component(_course(planned, words, course))
    data: bytes = calendar.to_ical()
    return data


def _wanted(planned: Planned, line: LineText) -> bool:
    assert line.line.task is not None
    task = planned.problem.tasks[line.line.task]
    return task.work is not Work.RESERVE and (task.attend is Attend.HANDS or bool(task.touches))


def _step(planned: Planned, words: Words, line: LineText) -> Event:
    assert line.line.task is not None
    task, placed = planned.problem.tasks[line.line.task], planned.plan.placed[line.line.task]
    say = words.tongue.say
    about = [
        line.text,
        *(words_ for words_ in (line.batch, line.heat, line.needs) if words_),
        line.asks,
        say("Can wait till %(wait)s, done by %(done)s", wait=line.wait, done=line.done) if line.wait else "",
        say("The time is assumed") if line.assumed else "",
    ]
    of = f" ({line.dish_title})" if line.dish_title else ""
    name = f"{line.number}. {task.what or task.text}{of}"
    event = _event(planned, words, line.line.id, name, about, placed.start, placed.end, task.attend is Attend.HANDS)
    _alarm(event, name, -_ALARM_S)
    for place, offset in enumerate(task.touches):
        _alarm(event, f"{touch_words(task.touch_words(place), words.tongue)}: {task.what}{of}", offset)
    if line.dish_title:
        event.add("categories", [_line(line.dish_title)])
    return event


def _course(planned: Planned, words: Words, course: CourseLine) -> Event:
    say, clock = words.tongue.say, words.clock
    about = [say("Fire %(time)s", time=clock.other_day(course.fire, course.at))] if course.fire < course.at else []
    if course.plate is not None:
        about.append(say("Plate %(time)s", time=clock.time(course.plate)))
    name = say("%(course)s on the pass", course=course.name)
    event = _event(planned, words, f"course.{course.course + 1}", name, about, course.at, course.ends, False)
    _alarm(event, name, -_COURSE_ALARM_S)
    return event


def _event(
    planned: Planned, words: Words, key: str, name: str, about: Iterable[str], start: int, end: int, busy: bool
) -> Event:
    from icalendar import Event

    event = Event()
    event.add("uid", _uid(planned.problem.event, key))
    event.add("dtstamp", planned.problem.origin.replace(tzinfo=UTC))
    event.add("sequence", 0)
    event.add("dtstart", words.clock.moment(start))
    if end > start:
        event.add("dtend", words.clock.moment(end))
    event.add("summary", _line(name))
    event.add("description", "\n".join(_line(part) for part in about if part))
    event.add("transp", "OPAQUE" if busy else "TRANSPARENT")
    return event


def _uid(event: str, key: str) -> str:
    """A name for an entry: the same event and step always have the same, so that a new plan moves the old entries. Of the form that
    RFC 9562 leaves to makers (version 8), filled from a hash."""
    digest = bytearray(
        hashlib.sha256(f"recipec timeline\n{event}\n{key}".encode("utf-8", "surrogatepass")).digest()[:16]
    )
    digest[6] = digest[6] & 0x0F | 0x80
    digest[8] = digest[8] & 0x3F | 0x80
    text = digest.hex()
    return "-".join((text[:8], text[8:12], text[12:16], text[16:20], text[20:]))


def _alarm(event: Event, name: str, offset: int) -> None:
    from icalendar import Alarm

    alarm = Alarm()
    alarm.add("action", "DISPLAY")
    alarm.add("description", _line(name))
    alarm.add("trigger", timedelta(seconds=offset))
    event.add_component(alarm)


def _line(text: str) -> str:
    """One line of text, with nothing that no calendar may hold."""
    return " ".join(clean(text).split())
