"""The plans of a book's events, kept from run to run, and what is to be said of them."""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Mapping
from dataclasses import replace
from types import MappingProxyType
from typing import TYPE_CHECKING, TypeAlias

from recipec.analyse.accept import accept, accepted_by
from recipec.base.finding import Finding
from recipec.book.plans import QUICK, WHOLE, plan_store
from recipec.larder.larder import Larder
from recipec.model.book import Book
from recipec.model.event import Event
from recipec.plan.problem import problem_of
from recipec.plan.styling import style_of
from recipec.plan.timeline_findings import timeline_findings
from recipec.plan.timeline_types import Plan, Planned, Problem, Status, Unplanned

if TYPE_CHECKING:
    from recipec.book.compile import Build

Plans: TypeAlias = Mapping[str, Planned | Unplanned]
"""By the key of their event."""

_QUICK_EFFORT = 5
"""Of the solver's own units of work, each about a second: a first plan is found in a fraction of one."""


def planned_events(build: Build, keys: Iterable[str] | None = None) -> Plans:
    """The plan of every event, or of those of these keys, by key. What has not changed is not planned again."""
    wanted = None if keys is None else frozenset(keys)
    store = plan_store()
    found: dict[str, Planned | Unplanned] = {}
    for key, problem in _problems(build.book, build.larder):
        if wanted is None or key in wanted:
            found[key] = problem if isinstance(problem, Unplanned) else store.planned(problem, plan_whole)
    return MappingProxyType(found)


def timeline_of_all(book: Book, larder: Larder) -> tuple[Finding, ...]:
    """What stands in the way of events' plans, with the cook's reasons where a fact `accept:` of the event gives one. Whether there is a
    plan is looked for, not the best one; where that one is kept already nothing is looked for."""
    store = plan_store()
    said: list[Finding] = []
    problems = dict(_problems(book, larder))
    for event in book.events:
        problem = problems[event.key]
        if isinstance(problem, Problem):
            plan = store.kept(problem, WHOLE) or store.planned(problem, plan_quickly, QUICK)
            found = timeline_findings(event, problem, plan.plan.collisions)
            said += accepted_by(found, event.accepted)
            if plan.plan.placed:
                said += plan_safety(book, larder, event, plan)
    return tuple(said)


def with_plans(build: Build) -> tuple[Build, Plans]:
    """The plans of all events, and the build with what they bring to light of how long food stands. No plan of a book that is wrong."""
    from recipec.book.compile import against

    if against(build.findings):
        return build, MappingProxyType({})
    plans = planned_events(build)
    found = dict.fromkeys(build.findings)
    for event in build.book.events:
        plan = plans.get(event.key)
        if isinstance(plan, Planned):
            found.update(dict.fromkeys(plan_safety(build.book, build.larder, event, plan)))
    return replace(build, findings=tuple(sorted(found, key=lambda finding: finding.order))), plans


def plan_safety(book: Book, larder: Larder, event: Event, planned: Planned) -> tuple[Finding, ...]:
    """How long food stands neither cold nor hot by the clock of a plan, with the reasons that the dish or the event gives."""
    from recipec.plan.links import Links
    from recipec.plan.safety_plan import plan_findings
    from recipec.plan.safety_trace import Tracer

    found = plan_findings(book, Tracer(Links(book), larder), event, planned)
    return accepted_by(accept(found, book.dishes, book.events), event.accepted)


def plan_whole(problem: Problem) -> Planned:
    """The best plan, with all that is asked of it after."""
    from recipec.plan.late import lateness
    from recipec.plan.schedule import schedule
    from recipec.plan.slack import slack

    plan = schedule(problem)
    if plan.status in (Status.IMPOSSIBLE, Status.UNKNOWN):
        return Planned(problem, plan)
    return Planned(problem, plan, slack(problem, plan), lateness(problem, plan))


def plan_quickly(problem: Problem) -> Planned:
    """Whether there is a plan at all: nothing is placed, but what collides is told where there is none."""
    from recipec.plan.collide import collide
    from recipec.plan.schedule_goals import may_be

    collisions = () if may_be(problem, _QUICK_EFFORT) else collide(problem)
    status = Status.IMPOSSIBLE if collisions else Status.UNKNOWN
    return Planned(problem, Plan(status, 0, 0, (), (), (), (), collisions))


def _problems(book: Book, larder: Larder) -> Iterator[tuple[str, Problem | Unplanned]]:
    style = style_of(book)
    for event in book.events:
        yield event.key, problem_of(book, larder, event.key, style)
