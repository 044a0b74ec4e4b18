"""A plan in words, once for every form it is written in."""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass
from datetime import datetime, timedelta
from fractions import Fraction
from types import MappingProxyType

from recipec.measure.dates import clock_words, day_short, day_words
from recipec.measure.numerals import NO_BREAK, decimal
from recipec.measure.show import Style, show_duration
from recipec.measure.temperature import FAN_BELOW, nearest, oven_fahrenheit
from recipec.model.book import Book
from recipec.model.event import Event
from recipec.plan.run_sheet_types import CourseLine, Heat, LineKind, OnGear, PullLine, RunLine, RunSheet
from recipec.plan.timeline_types import Attend, Broken, Goal, Late, Planned, Problem, Status

_LONGEST_LIST = 5

_GOALS = MappingProxyType(
    {
        "calm": "Hands’ work from an hour before the first course to the last",
        "fresh": "Holding of what is made, in all",
        "short": "From the first start to the last end on the day, clearing down aside",
    }
)
"""What each aim makes least, in words; all in seconds."""


@dataclass(frozen=True, slots=True)
class LineText:
    """A line of the run sheet, worded. `strong` words stand alone (an oven, a course, who is there); `text` is the cook's own. `minus` is
    the time to the first course. What is '' is not said. `needs` is what is taken, `asks` whether hands are wanted, `until`, `wait` and
    `done` clock times."""

    line: RunLine
    clock: str
    minus: str
    number: str
    strong: str
    text: str
    dish: str
    dish_title: str
    course: str
    needs: str
    heat: str
    asks: str
    until: str
    wait: str
    done: str
    batch: str
    assumed: bool


@dataclass(frozen=True, slots=True)
class DayText:
    """A day of the run sheet."""

    name: str
    lines: tuple[LineText, ...]


@dataclass(frozen=True, slots=True)
class CourseText:
    """A course's times, and how much later it could go."""

    name: str
    fire: str
    plate: str
    on_pass: str
    slack: str


@dataclass(frozen=True, slots=True)
class LateText:
    """What happens when guests are so late."""

    name: str
    breaks: tuple[str, ...]
    waits: str
    stays: str


class Clock:
    """Seconds of a problem as local times, and in a language."""

    def __init__(self, problem: Problem, language: str) -> None:
        self.origin = problem.origin
        self.language = language

    def moment(self, second: int) -> datetime:
        """Local time, without a zone."""
        return self.origin + timedelta(seconds=second)

    def time(self, second: int) -> str:
        """`19:30`."""
        return clock_words(self.moment(second), self.language)

    def day(self, second: int) -> str:
        """`Saturday 17 October 2026`."""
        return day_words(self.moment(second).date(), self.language)

    def short_day(self, second: int) -> str:
        """`Sat 17 Oct`."""
        return day_short(self.moment(second).date(), self.language)

    def other_day(self, second: int, seen_from: int) -> str:
        """`19:30`, and the day with it where that is another one."""
        same = self.moment(second).date() == self.moment(seen_from).date()
        return self.time(second) if same else f"{self.short_day(second)} {self.time(second)}"


def style_for(book: Book, event: Event) -> Style:
    """How a booking's times and ovens are shown: dials in °F where its cups are American."""
    measures = event.measures or book.settings.measures
    return Style("us" if "us" in (book.settings.show, measures) else "as written", book.settings.language)


def minus(second: int, first: int) -> str:
    """`T−4:20`, `T+0:45`, from the first course: whole minutes."""
    if second // 60 == first // 60:
        return "T"
    sign = "−" if second < first else "+"
    # As the clock shows both: minutes begun are dropped before, not after, taking one from the other.
    minutes = abs(first // 60 - second // 60)
    return f"T{sign}{minutes // 60}:{minutes % 60:02}"


def degrees(heat: Heat, style: Style) -> str:
    """`180 °C (fan 160 °C)`, or `350 °F`, by how the book shows amounts."""
    celsius = nearest(Fraction(heat.celsius, 10), 1)
    if style.measures == "us":
        return f"{oven_fahrenheit(celsius)}{NO_BREAK}°F"
    fan = f" (fan {celsius - FAN_BELOW}{NO_BREAK}°C)" if heat.fan else ""
    return f"{celsius}{NO_BREAK}°C{fan}"


def oven_name(heat: Heat) -> str:
    """`oven`, `oven 2`."""
    return heat.name if heat.unit is None else f"{heat.name}{NO_BREAK}{heat.unit}"


def _the_oven(heat: Heat) -> str:
    return f"the {heat.name}" if heat.unit is None else oven_name(heat)


def gear_name(gear: OnGear) -> str:
    """`burner 1`, `flask 1 and 2`."""
    return f"{gear.name}{NO_BREAK}{_and(gear.units)}" if gear.units else gear.name


def asks(line: RunLine) -> str:
    """Whether a task wants hands: `hands`, `hands 2`, `within reach`, `alone`."""
    if line.attend is None:
        return ""
    if line.attend is Attend.HANDS:
        return "hands" if line.hands <= 1 else f"hands{NO_BREAK}{line.hands}"
    return line.attend.value


class Words:
    """Words for one plan and its run sheet."""

    def __init__(self, planned: Planned, sheet: RunSheet, style: Style) -> None:
        self.planned, self.sheet, self.style = planned, sheet, style
        self.problem, self.plan = planned.problem, planned.plan
        self.clock = Clock(planned.problem, style.language)

    # ------------------------------------------------------------ head

    def when(self) -> str:
        """The day, and when the first course is due."""
        return f"{self.clock.day(self.sheet.first)}, first course {self.clock.time(self.sheet.first)}"

    def status(self) -> str:
        """How good the plan is, and whether that is proved."""
        plan = self.plan
        if plan.status is Status.IMPOSSIBLE:
            below = "What collides is below" if plan.collisions else "Which steps collide is not known"
            return f"There is no plan that lands every course on time. {below}; no run sheet is made of it."
        if plan.status is Status.UNKNOWN:
            return "No plan was found in the time there was, nor a proof that there is none. No run sheet is made."
        span = f"From the first start to the last end on the day, clearing down aside: {show_duration(plan.span_s)}."
        if plan.status is Status.BEST:
            return f"Best possible, and proved so, by the aim “{self.problem.aim}”. {span}"
        loose = [_goal(goal) for goal in plan.goals if goal.name in _GOALS and goal.value != goal.bound]
        gap = f" {'; '.join(loose)}." if loose else ""
        short = any(goal.name == "short" and goal.value != goal.bound for goal in plan.goals)
        return f"Every course lands on time, but it is not proved that no plan is better.{gap}{'' if short else f' {span}'}"

    def courses(self) -> tuple[CourseText, ...]:
        """Every course."""
        return tuple(self._course(course) for course in self.sheet.courses)

    def _course(self, course: CourseLine) -> CourseText:
        on_pass = self.clock.time(course.at)
        if course.ends > course.at:
            on_pass += f"–{self.clock.time(course.ends)}"
        return CourseText(
            course.name,
            self.clock.other_day(course.fire, course.at) if course.fire < course.at else "",
            "" if course.plate is None else self.clock.time(course.plate),
            on_pass,
            "" if course.slack is None else _slack(course.slack),
        )

    # ------------------------------------------------------------ the run sheet

    def days(self) -> tuple[DayText, ...]:
        """The run sheet by day."""
        return tuple(
            DayText(self.clock.day(day.start), tuple(self.line(line) for line in day.lines)) for day in self.sheet.days
        )

    def line(self, line: RunLine) -> LineText:
        """One line."""
        run = None if line.run is None else self.problem.runs[line.run]
        title = "" if run is None else run.title + "".join(f", without {food}" for food in run.without)
        course = "" if line.course is None or run is None else self.problem.courses[line.course].name
        task = line.kind is LineKind.TASK
        own = task and line.task is not None
        wait = line.wait_until is not None and line.wait_until - line.at >= 60
        return LineText(
            line=line,
            clock=self.clock.time(line.at),
            minus=minus(line.at, self.sheet.first),
            number=str(line.number) if task and line.number else "",
            strong=self._strong(line),
            text=line.text if own else "",
            dish="" if run is None else run.dish,
            dish_title=title,
            course=course,
            needs=_comma(gear_name(gear) for gear in line.gear),
            heat="" if line.heat is None or not own else f"{oven_name(line.heat)} {degrees(line.heat, self.style)}",
            asks=asks(line) if own else "",
            until="" if line.until is None or not own else self.clock.other_day(line.until, line.at),
            wait=self.clock.other_day(line.wait_until, line.at) if wait and line.wait_until is not None else "",
            done=self.clock.other_day(line.done_by, line.at) if wait and line.done_by is not None else "",
            batch="" if line.batch is None else f"batch {line.batch[0]} of {line.batch[1]}",
            assumed=line.assumed,
        )

    def _strong(self, line: RunLine) -> str:
        heat = line.heat
        match line.kind:
            case LineKind.ARRIVE:
                return f"On site: {_pairs(line.hands)} of hands."
            case LineKind.HANDS:
                return f"Now {_pairs(line.hands)} of hands."
            case LineKind.LEAVE:
                return "Out of the kitchen."
            case LineKind.LIT if heat is not None:
                return f"Light {_the_oven(heat)}: {degrees(heat, self.style)}{self._hot(line)}."
            case LineKind.CHANGED if heat is not None:
                was = "" if line.was is None else f" from {degrees(line.was, self.style)}"
                return f"Turn {_the_oven(heat)}{was} to {degrees(heat, self.style)}{self._hot(line)}."
            case LineKind.OFF if heat is not None:
                return f"Turn {_the_oven(heat)} off."
            case LineKind.TOUCH:
                return f"{line.text[:1].upper()}{line.text[1:]}: {line.what}."
            case LineKind.READY:
                return f"{'Done' if heat is None else f'Out of {_the_oven(heat)}'}: {line.what}."
            case LineKind.FIRE:
                return f"Fire {line.text}."
            case LineKind.PASS:
                until = "" if line.until is None else f", until {self.clock.time(line.until)}"
                return f"{line.text} on the pass{until}."
            case _:
                return ""

    def _hot(self, line: RunLine) -> str:
        return "" if line.until is None or line.until <= line.at else f", hot by {self.clock.time(line.until)}"

    # ------------------------------------------------------------ late, pull

    def late(self) -> tuple[LateText, ...]:
        """What breaks when guests sit down late."""
        return tuple(self._late(late) for late in self.planned.late)

    def _late(self, late: Late) -> LateText:
        name = f"{late.minutes}{NO_BREAK}min late"
        if not late.starts:
            return LateText(name, ("There is no way: not every course can be served then.",), "", "")
        moved = [
            f"{self.problem.tasks[task].what} to {self.clock.time(late.starts[task])}"
            for task in late.waits
            if task < len(late.starts)
        ]
        more = len(moved) - _LONGEST_LIST
        waits = _comma(moved[:_LONGEST_LIST]) + (f" and {more} more" if more > 0 else "")
        stays = f"You stay {show_duration(late.stays_s)} longer." if late.stays_s > 0 else ""
        worst: dict[tuple[str, str], int] = {}
        for broken in late.breaks:
            held = self._held(broken)
            worst[held] = max(broken.by, worst.get(held, 0))
        # Batches of one thing are one line: the worst of them is told, to the minute.
        breaks = tuple(
            f"{held}: {show_duration(-(-by // 60) * 60)} too long {until}".rstrip()
            for (held, until), by in worst.items()
        )
        return LateText(name, breaks, waits, stays)

    def _held(self, broken: Broken) -> tuple[str, str]:
        held = broken.hold or self.problem.tasks[broken.task].what
        if broken.course is not None:
            until = f"until {self.problem.courses[broken.course].name}"
        elif broken.used_by is not None:
            until = f"until “{self.problem.tasks[broken.used_by].what}”"
        else:
            until = ""
        return held, until

    def pull(self, line: PullLine) -> tuple[str, str, str, str]:
        """Of a line of the pull list: at the peak, what the kitchen has, what to bring, when the peak is first."""
        peak, have, bring = str(line.peak), "not said" if line.have is None else str(line.have), str(line.bring or "")
        if line.room:
            peak, have = _litres(line.peak), "not said" if line.have is None else _litres(line.have)
        return peak, have, bring, f"{self.clock.short_day(line.at)} {self.clock.time(line.at)}"

    def runs(self, numbers: tuple[int, ...]) -> str:
        """Titles of dishes, each once."""
        return _comma(dict.fromkeys(self.problem.runs[number].title for number in numbers))

    def collisions(self) -> tuple[tuple[str, tuple[str, ...]], ...]:
        """What collides, and what was tried and frees it."""
        return tuple((one.text, tuple(fix.text for fix in one.fixes)) for one in self.plan.collisions)


def _goal(goal: Goal) -> str:
    value, bound = show_duration(goal.value), show_duration(max(goal.bound, 0))
    return f"{_GOALS[goal.name]}: {value}, and no plan can have less than {bound}"


def _slack(seconds: int) -> str:
    return "nothing to spare" if seconds < 60 else f"{show_duration(seconds // 60 * 60)} to spare"


def _litres(millilitres: int) -> str:
    return f"{decimal(Fraction(-(-millilitres // 100), 10))}{NO_BREAK}l"


def _pairs(number: int) -> str:
    return "1 pair" if number == 1 else f"{number} pairs"


def _comma(words: Iterable[str]) -> str:
    return ", ".join(words)


def _and(numbers: tuple[int, ...]) -> str:
    """`1`, `1 and 3`, `1–6`, `1–3 and 5`: numbers in order, three or more in a row as a span."""
    runs: list[list[int]] = []
    for number in numbers:
        if runs and number == runs[-1][-1] + 1:
            runs[-1].append(number)
        else:
            runs.append([number])
    words = [
        word for run in runs for word in ([f"{run[0]}–{run[-1]}"] if len(run) > 2 else [str(number) for number in run])
    ]
    return "".join(words) if len(words) < 2 else f"{', '.join(words[:-1])} and {words[-1]}"
