"""A plan in words, once for every form it is written in."""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass
from fractions import Fraction

from recipec.emit.timeline_clock import Clock
from recipec.measure.language import ENGLISH, Language, language_of
from recipec.measure.numerals import NO_BREAK, decimal
from recipec.measure.show import Style, show_duration
from recipec.measure.temperature import FAN_BELOW, nearest, oven_fahrenheit
from recipec.measure.wording import word
from recipec.model.book import Book
from recipec.model.event import Event
from recipec.plan.run_sheet_types import CourseLine, Heat, LineKind, OnGear, PullLine, RunLine, RunSheet
from recipec.plan.timeline_types import Attend, Broken, Goal, Late, Planned, Status

_LONGEST_LIST = 5

_GOALS = frozenset({"calm", "fresh", "short"})
"""The aims of which it is said how far they got; all in seconds."""


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
    plain = f"{celsius}{NO_BREAK}°C"
    if not heat.fan:
        return plain
    fan = f"{celsius - FAN_BELOW}{NO_BREAK}°C"
    return language_of(style.language).say("%(degrees)s (fan %(fan)s)", degrees=plain, fan=fan)


def oven_name(heat: Heat) -> str:
    """`oven`, `oven 2`."""
    return heat.name if heat.unit is None else f"{heat.name}{NO_BREAK}{heat.unit}"


def _the_oven(heat: Heat, tongue: Language) -> str:
    return tongue.say("the %(thing)s", thing=heat.name) if heat.unit is None else oven_name(heat)


def gear_name(gear: OnGear, tongue: Language = ENGLISH) -> str:
    """`burner 1`, `flask 1 and 2`."""
    name = piece_words(gear.name, tongue)
    return f"{name}{NO_BREAK}{_and(gear.units, tongue)}" if gear.units else name


def piece_words(name: str, tongue: Language = ENGLISH) -> str:
    """Gear as the cook calls it; `burner` is a word of ours."""
    return tongue.say("burner", context="gear") if name == "burner" else name


def asks(line: RunLine, tongue: Language = ENGLISH) -> str:
    """Whether a task wants hands: `hands`, `hands 2`, `within reach`, `alone`."""
    if line.attend is None:
        return ""
    if line.attend is Attend.HANDS:
        hands = tongue.say("hands", context="asks")
        return hands if line.hands <= 1 else f"{hands}{NO_BREAK}{line.hands}"
    return attend_words(line.attend, tongue)


def attend_words(attend: Attend, tongue: Language = ENGLISH) -> str:
    """`hands`, `within reach`, `alone`."""
    return tongue.say(attend.value, context="asks")


def touch_words(touch: str, tongue: Language = ENGLISH) -> str:
    """The cook's word for a touch; `take out` and `see to it` are ours."""
    return tongue.say(touch, context="touch")


def run_title(title: str, without: Iterable[str], tongue: Language = ENGLISH) -> str:
    """A dish, and what is left out of it."""
    return _comma((title, *(tongue.say("without %(food)s", food=food) for food in without)))


class Words:
    """Words for one plan and its run sheet."""

    def __init__(self, planned: Planned, sheet: RunSheet, style: Style) -> None:
        self.planned, self.sheet, self.style = planned, sheet, style
        self.problem, self.plan = planned.problem, planned.plan
        self.clock = Clock(planned.problem, style.language)
        self.tongue = language_of(style.language)

    # ------------------------------------------------------------ head

    def when(self) -> str:
        """The day, and when the first course is due."""
        first = self.sheet.first
        return self.tongue.say("%(day)s, first course %(time)s", day=self.clock.day(first), time=self.clock.time(first))

    def aim(self) -> str:
        """What the plan was made for."""
        return self.tongue.say(self.problem.aim, context="aim")

    def status(self) -> str:
        """How good the plan is, and whether that is proved."""
        plan, say = self.plan, self.tongue.say
        if plan.status is Status.IMPOSSIBLE:
            if plan.collisions:
                return say(
                    "There is no plan that lands every course on time. What collides is below; no run sheet is made of it."
                )
            return say(
                "There is no plan that lands every course on time. "
                "Which steps collide is not known; no run sheet is made of it."
            )
        if plan.status is Status.UNKNOWN:
            return say("No plan was found in the time there was, nor a proof that there is none. No run sheet is made.")
        span = say(
            "From the first start to the last end on the day, clearing down aside: %(time)s.",
            time=show_duration(plan.span_s, None, self.tongue),
        )
        if plan.status is Status.BEST:
            return f"{say('Best possible, and proved so, by the aim “%(aim)s”.', aim=self.aim())} {span}"
        loose = [_goal(goal, self.tongue) for goal in plan.goals if goal.name in _GOALS and goal.value != goal.bound]
        short = any(goal.name == "short" and goal.value != goal.bound for goal in plan.goals)
        said = [say("Every course lands on time, but it is not proved that no plan is better.")]
        # A unit such as `Min.` ends the sentence already.
        said += [f"{'; '.join(loose).removesuffix('.')}."] if loose else []
        said += [] if short else [span]
        return " ".join(said)

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
            "" if course.slack is None else _slack(course.slack, self.tongue),
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
        title = "" if run is None else run_title(run.title, run.without, self.tongue)
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
            needs=_comma(gear_name(gear, self.tongue) for gear in line.gear),
            heat="" if line.heat is None or not own else f"{oven_name(line.heat)} {degrees(line.heat, self.style)}",
            asks=asks(line, self.tongue) if own else "",
            until="" if line.until is None or not own else self.clock.other_day(line.until, line.at),
            wait=self.clock.other_day(line.wait_until, line.at) if wait and line.wait_until is not None else "",
            done=self.clock.other_day(line.done_by, line.at) if wait and line.done_by is not None else "",
            batch=""
            if line.batch is None
            else self.tongue.say("batch %(number)s of %(all)s", number=line.batch[0], all=line.batch[1]),
            assumed=line.assumed,
        )

    def _strong(self, line: RunLine) -> str:
        heat, say = line.heat, self.tongue.say
        match line.kind:
            case LineKind.ARRIVE:
                several = self.tongue.counts(line.hands)
                return self.tongue.form(
                    "On site: %(number)s pair of hands.",
                    "On site: %(number)s pairs of hands.",
                    several,
                    number=line.hands,
                )
            case LineKind.HANDS:
                several = self.tongue.counts(line.hands)
                return self.tongue.form(
                    "Now %(number)s pair of hands.", "Now %(number)s pairs of hands.", several, number=line.hands
                )
            case LineKind.LEAVE:
                return say("Out of the kitchen.")
            case LineKind.LIT if heat is not None:
                return self._hot(line, say("Light %(oven)s: %(degrees)s", **self._oven(heat)))
            case LineKind.CHANGED if heat is not None and line.was is not None:
                was = degrees(line.was, self.style)
                return self._hot(line, say("Turn %(oven)s from %(was)s to %(degrees)s", was=was, **self._oven(heat)))
            case LineKind.CHANGED if heat is not None:
                return self._hot(line, say("Turn %(oven)s to %(degrees)s", **self._oven(heat)))
            case LineKind.OFF if heat is not None:
                return say("Turn %(oven)s off.", oven=_the_oven(heat, self.tongue))
            case LineKind.TOUCH if heat is not None and line.until is not None:
                until = self.clock.time(line.until)
                return say(
                    "Hold in %(oven)s at %(degrees)s until %(time)s: %(what)s.",
                    what=line.what,
                    time=until,
                    **self._oven(heat),
                )
            case LineKind.TOUCH:
                touch = touch_words(line.text, self.tongue)
                touch = touch[:1].upper() + touch[1:]
                return say("%(touch)s: %(what)s.", touch=touch, what=line.what)
            case LineKind.READY if heat is not None:
                return say("Out of %(oven)s: %(what)s.", oven=_the_oven(heat, self.tongue), what=line.what)
            case LineKind.READY:
                return say("Done: %(what)s.", what=line.what)
            case LineKind.FIRE:
                return say("Fire %(course)s.", course=line.text)
            case LineKind.PASS if line.until is not None:
                return say(
                    "%(course)s on the pass, until %(time)s.", course=line.text, time=self.clock.time(line.until)
                )
            case LineKind.PASS:
                return say("%(course)s on the pass.", course=line.text)
            case _:
                return ""

    def _oven(self, heat: Heat) -> dict[str, str]:
        return {"oven": _the_oven(heat, self.tongue), "degrees": degrees(heat, self.style)}

    def _hot(self, line: RunLine, words: str) -> str:
        if line.until is None or line.until <= line.at:
            return f"{words}."
        return self.tongue.say("%(oven)s, hot by %(time)s.", oven=words, time=self.clock.time(line.until))

    # ------------------------------------------------------------ late, pull

    def late(self) -> tuple[LateText, ...]:
        """What breaks when guests sit down late."""
        return tuple(self._late(late) for late in self.planned.late)

    def _late(self, late: Late) -> LateText:
        say, tongue = self.tongue.say, self.tongue
        name = say("%(time)s late", time=show_duration(late.minutes * 60, None, tongue))
        if not late.starts:
            return LateText(name, (say("There is no way: not every course can be served then."),), "", "")
        moved = [
            say("%(what)s to %(time)s", what=self.problem.tasks[task].what, time=self.clock.time(late.starts[task]))
            for task in late.waits
            if task < len(late.starts)
        ]
        more, waits = len(moved) - _LONGEST_LIST, _comma(moved[:_LONGEST_LIST])
        waits = say("%(names)s and %(number)s more", names=waits, number=more) if more > 0 else waits
        longer = show_duration(late.stays_s, None, tongue) if late.stays_s > 0 else ""
        stays = say("You stay %(time)s longer.", time=longer) if longer else ""
        worst: dict[tuple[str, str], int] = {}
        for broken in late.breaks:
            held = self._held(broken)
            worst[held] = max(broken.by, worst.get(held, 0))
        # Batches of one thing are one line: the worst of them is told, to the minute.
        breaks = tuple(
            say("%(held)s: %(time)s too long", held=held, time=show_duration(-(-by // 60) * 60, None, tongue))
            + (f" {until}" if until else "")
            for (held, until), by in worst.items()
        )
        return LateText(name, breaks, waits, stays)

    def _held(self, broken: Broken) -> tuple[str, str]:
        held = broken.hold or self.problem.tasks[broken.task].what
        if broken.course is not None:
            until = self.tongue.say("until %(course)s", course=self.problem.courses[broken.course].name)
        elif broken.used_by is not None:
            until = self.tongue.say("until “%(what)s”", what=self.problem.tasks[broken.used_by].what)
        else:
            until = ""
        return held, until

    def pull(self, line: PullLine) -> tuple[str, str, str, str]:
        """Of a line of the pull list: at the peak, what the kitchen has, what to bring, when the peak is first."""
        unsaid = self.tongue.say("not said") if line.have is None else ""
        peak, have, bring = str(line.peak), unsaid or str(line.have), str(line.bring or "")
        if line.room:
            peak, have = _litres(line.peak, self.tongue), unsaid or _litres(line.have or 0, self.tongue)
        return peak, have, bring, f"{self.clock.short_day(line.at)} {self.clock.time(line.at)}"

    def runs(self, numbers: tuple[int, ...]) -> str:
        """Titles of dishes, each once."""
        return _comma(dict.fromkeys(self.problem.runs[number].title for number in numbers))

    def collisions(self) -> tuple[tuple[str, tuple[str, ...]], ...]:
        """What collides, and what was tried and frees it."""
        return tuple((one.text, tuple(fix.text for fix in one.fixes)) for one in self.plan.collisions)


def _goal(goal: Goal, tongue: Language) -> str:
    """What an aim makes least, and how far that is proved."""
    match goal.name:
        case "calm":
            name = tongue.say("Hands’ work from an hour before the first course to the last")
        case "fresh":
            name = tongue.say("Holding of what is made, in all")
        case _:
            name = tongue.say("From the first start to the last end on the day, clearing down aside")
    return tongue.say(
        "%(aim)s: %(time)s, and no plan can have less than %(least)s",
        aim=name,
        time=show_duration(goal.value, None, tongue),
        least=show_duration(max(goal.bound, 0), None, tongue),
    )


def _slack(seconds: int, tongue: Language) -> str:
    if seconds < 60:
        return tongue.say("nothing to spare")
    return tongue.say("%(time)s to spare", time=show_duration(seconds // 60 * 60, None, tongue))


def _litres(millilitres: int, tongue: Language) -> str:
    return f"{decimal(Fraction(-(-millilitres // 100), 10), tongue.mark)}{NO_BREAK}{word('l', False, tongue)}"


def _comma(words: Iterable[str]) -> str:
    return ", ".join(words)


def _and(numbers: tuple[int, ...], tongue: Language) -> str:
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
    return tongue.listed(words)
