"""The run sheet, the prep list and the pull list as plain text, 80 columns."""

from __future__ import annotations

from collections.abc import Iterable, Iterator
from itertools import groupby

from recipec.emit.card_text import caution_lines
from recipec.emit.plain import columns, page, rule, safe, title_line, wrap
from recipec.emit.timeline_words import LineText, Words, piece_words
from recipec.measure.show import Style, show_duration
from recipec.plan.pull_list import pull_list
from recipec.plan.run_sheet import run_sheet
from recipec.plan.run_sheet_types import LineKind, MakePart, PrepDay
from recipec.plan.sheet import Caution
from recipec.plan.timeline_types import Planned

_CLOCK = 5
_MINUS = 8
_HEAD = _CLOCK + 2 + _MINUS + 2
"""Columns before the text of a line: the clock, the time to the first course."""


def timeline_text(
    planned: Planned, prep: tuple[PrepDay, ...] = (), style: Style | None = None, cautions: Iterable[Caution] = ()
) -> str:
    """All of it; of an impossible plan the cautions and what collides, and nothing else."""
    return page(list(_Sheet(planned, prep, style or Style(), tuple(cautions)).lines()))


class _Sheet:
    def __init__(
        self, planned: Planned, prep: tuple[PrepDay, ...], style: Style, cautions: tuple[Caution, ...]
    ) -> None:
        self.planned, self.prep, self.cautions = planned, prep, cautions
        self.words = Words(planned, run_sheet(planned), style)

    def lines(self) -> Iterator[str]:
        problem = self.planned.problem
        say = self.words.tongue.say
        yield from title_line(
            say("Run sheet: %(event)s", event=problem.title), say("aim: %(aim)s", aim=self.words.aim())
        )
        yield from wrap(self.words.when())
        yield rule("═")
        yield from wrap(self.words.status())
        for assumed in problem.assumed:
            yield from wrap(assumed, say("Assumed:") + " ")
        yield from caution_lines(self.cautions, self.words.tongue)
        if not self.planned.plan.placed:
            yield from self._collisions()
            return
        yield from self._courses()
        for day in self.words.days():
            yield from ("", day.name.upper(), rule())
            for line in day.lines:
                yield from self._line(line)
        yield from self._late()
        yield from self._prep()
        yield from self._pull()

    def _collisions(self) -> Iterator[str]:
        for text, fixes in self.words.collisions():
            yield from ("", *wrap(text, "✗ ", "  "))
            if fixes:
                yield from wrap(self.words.tongue.say("Each of these alone was tried, and frees it:"), "  ")
            for fix in fixes:
                yield from wrap(fix, "  · ", "    ")

    def _courses(self) -> Iterator[str]:
        say = self.words.tongue.say
        heads = (
            f"{say('Course').upper():<30}{say('fire', context='column'):>12}{say('plate', context='column'):>8}"
            f"{say('pass', context='column'):>13}  {say('room', context='column')}"
        )
        yield from ("", heads, rule())
        for course in self.words.courses():
            first, *rest = _beside(wrap(course.name, "", "  ", 28), 30)
            yield f"{first}{course.fire:>12}{course.plate:>8}{course.on_pass:>13}  {course.slack}"
            yield from rest

    def _line(self, line: LineText) -> Iterator[str]:
        head = f"{line.clock:<{_CLOCK}}  {line.minus:>{_MINUS}}  "
        if line.strong:
            mark = {LineKind.PASS: "▶ ", LineKind.FIRE: "▷ ", LineKind.TOUCH: "· ", LineKind.READY: "· "}
            yield from wrap(line.strong, head + mark.get(line.line.kind, "— "), " " * (_HEAD + 2))
            return
        say = self.words.tongue.say
        number = f"{line.number}. " if line.number else ""
        yield from wrap(line.text, head + number, " " * (_HEAD + len(number)))
        dish = line.dish_title + (f" ({line.course})" if line.course else "")
        assumed = say("%(time)s (time assumed)", time=line.until) if line.assumed else line.until
        asks = say("%(hands)s until %(time)s", hands=line.asks, time=assumed) if line.until else line.asks
        parts = [dish, line.batch, line.heat, line.needs, asks]
        if line.wait:
            parts.append(say("can wait till %(wait)s, done by %(done)s", wait=line.wait, done=line.done))
        yield from wrap(" · ".join(part for part in parts if part), " " * (_HEAD + len(number)))

    def _late(self) -> Iterator[str]:
        late, say = self.words.late(), self.words.tongue.say
        if late:
            yield from ("", say("If they sit down late").upper(), rule())
        for one in late:
            breaks = "; ".join(one.breaks) or say("nothing breaks")
            yield from wrap(breaks, say("%(late)s:", late=one.name) + " ", "  ")
            if one.waits:
                yield from wrap(say("moves: %(what)s", what=one.waits), "  ")
            if one.stays:
                yield from wrap(one.stays, "  ")

    def _prep(self) -> Iterator[str]:
        clock, tongue = self.words.clock, self.words.tongue
        say = tongue.say
        for day in self.prep:
            yield from ("", say("Prep, %(day)s", day=clock.day(day.start)).upper(), rule())
            for job in day.board:
                yield from title_line(job.thing, say("by %(time)s", time=clock.time(job.at)), "[ ] ")
                for how, parts in groupby(job.parts, key=lambda part: part.how):
                    wants = "; ".join(
                        say("%(much)s for %(dish)s", much=part.much or say("as needed"), dish=part.title)
                        for part in parts
                    )
                    yield from wrap(f"{how}: {wants}", "      ", "        ")
            for made in day.make:
                takes, at = show_duration(made.seconds, None, tongue), clock.time(made.parts[0].at)
                yield from title_line(made.name, say("%(takes)s from %(time)s", takes=takes, time=at), "[ ] ")
                yield from wrap("; ".join(self._made(step, made.shared) for step in made.parts), "      ")

    def _made(self, step: MakePart, shared: bool) -> str:
        of = f" ({self.planned.problem.runs[step.run].title})" if shared else ""
        return f"{step.number}. {step.what}{of}"

    def _pull(self) -> Iterator[str]:
        lines = pull_list(self.planned)
        if lines:
            say = self.words.tongue.say
            heads = (
                f"{say('Pull list').upper():<34}{say('at once', context='column'):>9}{say('kitchen', context='column'):>10}"
                f"{say('bring', context='column'):>7}  {say('most at', context='column')}"
            )
            yield from ("", heads, rule())
        for line in lines:
            peak, have, bring, at = self.words.pull(line)
            first, *rest = _beside(wrap(piece_words(line.name, self.words.tongue), "[ ] ", "    ", 33), 34)
            yield f"{first}{peak:>9}{have:>10}{bring:>7}  {at}"
            yield from rest


def _beside(words: list[str], width: int) -> list[str]:
    """Lines of a name, the first filled up to `width` so that figures stand beside it. One word that is too wide is cut."""
    head, *rest = words
    cut = safe(head)
    while columns(cut) > width - 1:
        cut = cut[:-1]
    return [_left(f"{cut[:-1]}…" if cut != safe(head) else cut, width), *rest]


def _left(text: str, width: int) -> str:
    return text + " " * max(width - columns(safe(text)), 0)
