"""The run sheet with its lanes, the prep list and the pull list as pages, and the calendar beside them."""

from __future__ import annotations

from dataclasses import dataclass
from itertools import groupby

from recipec.emit.desk import Desk, desk_for_one, page_name
from recipec.emit.request import Paper, Request
from recipec.emit.timeline_ics import timeline_ics
from recipec.emit.timeline_svg import lanes
from recipec.emit.timeline_words import Words, piece_words, style_for
from recipec.measure.show import show_duration
from recipec.model.event import Event
from recipec.plan.cautions import cautions_of_event
from recipec.plan.prep_list import prep_list
from recipec.plan.pull_list import pull_list
from recipec.plan.run_sheet import run_sheet
from recipec.plan.run_sheet_types import MakeJob, MakePart, PrepDay, PrepJob, PullLine
from recipec.plan.timeline_types import Planned, Unplanned

_STYLES = ("base.css", "lanes.css", "timeline.css")


@dataclass(frozen=True, slots=True)
class PartText:
    """What one dish wants of a job, worded. `dish` is its key."""

    dish: str
    title: str
    number: int = 0
    what: str = ""
    much: str = ""


@dataclass(frozen=True, slots=True)
class JobText:
    """A job of the prep list, worded: what is done to it, and for which dishes. `shared` by several of them."""

    name: str
    time: str
    ways: tuple[tuple[str, tuple[PartText, ...]], ...]
    takes: str = ""
    shared: bool = False


@dataclass(frozen=True, slots=True)
class PrepDayText:
    """A day's prep, worded."""

    name: str
    board: tuple[JobText, ...]
    make: tuple[JobText, ...]


@dataclass(frozen=True, slots=True)
class PullText:
    """A line of the pull list, worded."""

    name: str
    peak: str
    have: str
    bring: str
    most: str
    dishes: str


def timelines(desk: Desk) -> tuple[Paper, ...]:
    """Run sheet, prep list, pull list and calendar of every booking that is planned, and why there is none of the others."""
    papers: list[Paper] = []
    for event in desk.book.events:
        found = desk.plans.get(event.key)
        if found is None:
            continue
        planned, why_not = (None, found.reasons) if isinstance(found, Unplanned) else (found, ())
        sheet = sheet_paper(desk, event, planned, why_not, desk.paths.event(event.key, "timeline.html"), alone=False)
        papers += [sheet, _prep_paper(desk, event, planned), _pull_paper(desk, event, planned)]
        if has_calendar(planned):
            assert planned is not None
            calendar = timeline_ics(planned, style_for(desk.book, event))
            papers.append(Paper(desk.paths.event(event.key, "timeline.ics"), calendar))
    return tuple(papers)


def has_calendar(planned: Planned | None) -> bool:
    """Whether there is anything for a calendar."""
    return planned is not None and bool(planned.plan.placed)


def timeline_page(request: Request, event: Event, planned: Planned) -> Paper:
    """A run sheet that travels alone."""
    return sheet_paper(desk_for_one(request), event, planned, (), "timeline.html", alone=True)


def sheet_paper(
    desk: Desk, event: Event, planned: Planned | None, why_not: tuple[str, ...], path: str, *, alone: bool
) -> Paper:
    """A run sheet at `path`; with `why_not` instead of a plan, the page that says so."""
    words = None if planned is None else _words(desk, event, planned)
    return desk.paper(
        path,
        "timeline.html",
        _STYLES,
        alone=alone,
        kind="timeline",
        page_title=page_name(desk.tongue.say("Run sheet"), event.title),
        title=event.title,
        back=not alone,
        calendar=has_calendar(planned),
        when=words.when() if words else "",
        why_not=why_not,
        status=words.status() if words else "",
        collisions=words.collisions() if words else (),
        assumed=planned.problem.assumed if planned else (),
        all_cautions=cautions_of_event(desk.book, event, desk.request.findings),
        courses=words.courses() if words else (),
        strips=lanes(words) if words else (),
        days=words.days() if words else (),
        late=words.late() if words else (),
    )


def _words(desk: Desk, event: Event, planned: Planned) -> Words:
    return Words(planned, run_sheet(planned), style_for(desk.book, event))


def _prep_paper(desk: Desk, event: Event, planned: Planned | None) -> Paper:
    words = None if planned is None else _words(desk, event, planned)
    days = () if planned is None else prep_list(planned, desk.book, desk.reckoned[event.key].market)
    return desk.paper(
        desk.paths.event(event.key, "prep.html"),
        "prep.html",
        ("base.css", "timeline.css"),
        kind="prep",
        page_title=page_name(desk.tongue.say("Prep list"), event.title),
        title=event.title,
        when=words.when() if words else "",
        all_cautions=cautions_of_event(desk.book, event, desk.request.findings),
        days=tuple(_day(words, day) for day in days) if words else (),
        nothing=desk.tongue.say("Nothing is got ready before the first course is fired.")
        if words and words.plan.placed
        else _no_plan(desk),
    )


def _day(words: Words, day: PrepDay) -> PrepDayText:
    return PrepDayText(
        words.clock.day(day.start),
        tuple(_board(words, job) for job in day.board),
        tuple(_make(words, job) for job in day.make),
    )


def _board(words: Words, job: PrepJob) -> JobText:
    needed = words.tongue.say("as needed")
    ways = tuple(
        (how, tuple(PartText(part.dish, part.title, much=part.much or needed) for part in parts))
        for how, parts in groupby(job.parts, key=lambda part: part.how)
    )
    return JobText(job.thing, words.clock.time(job.at), ways)


def _make(words: Words, job: MakeJob) -> JobText:
    parts = tuple(_made(words, part) for part in job.parts)
    start = words.clock.time(min(part.at for part in job.parts))
    return JobText(job.name, start, (("", parts),), show_duration(job.seconds, None, words.tongue), job.shared)


def _made(words: Words, part: MakePart) -> PartText:
    run = words.problem.runs[part.run]
    return PartText(run.dish, run.title, part.number, part.what)


def _pull_paper(desk: Desk, event: Event, planned: Planned | None) -> Paper:
    words = None if planned is None else _words(desk, event, planned)
    lines = () if planned is None else pull_list(planned)
    return desk.paper(
        desk.paths.event(event.key, "pull.html"),
        "pull.html",
        ("base.css", "timeline.css"),
        kind="pull",
        page_title=page_name(desk.tongue.say("Pull list"), event.title),
        title=event.title,
        when=words.when() if words else "",
        bring=tuple(_pull(words, line) for line in lines if line.bring) if words else (),
        have=tuple(_pull(words, line) for line in lines if not line.bring) if words else (),
        nothing=desk.tongue.say("The plan takes no gear.") if words and words.plan.placed else _no_plan(desk),
    )


def _no_plan(desk: Desk) -> str:
    return desk.tongue.say("There is no run sheet, so nothing can be said here: see there for why.")


def _pull(words: Words, line: PullLine) -> PullText:
    peak, have, bring, most = words.pull(line)
    return PullText(piece_words(line.name, words.tongue), peak, have, bring, most, words.runs(line.runs))
