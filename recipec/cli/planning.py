"""The plan of an event, as several commands ask for it."""

from __future__ import annotations

import sys

import click

from recipec.base.finding import Finding
from recipec.book.compile import Build
from recipec.model.event import Event
from recipec.plan.timeline_types import Planned, Unplanned

_PLANNING = "Looking for the best plan …"


def plan_of(build: Build, event: Event) -> Planned | Unplanned:
    """The plan; on a terminal a line says what one waits for."""
    from recipec.book.timeline import planned_events

    shown = sys.stderr.isatty()
    if shown:
        click.echo(f"\r{_PLANNING}", nl=False, err=True)
    try:
        return planned_events(build, (event.key,))[event.key]
    finally:
        if shown:
            click.echo(f"\r{'':<{len(_PLANNING)}}\r", nl=False, err=True)


def found_by_plan(build: Build, event: Event, planned: Planned | Unplanned) -> tuple[Finding, ...]:
    """What the plan brings to light of food that stands too long."""
    if isinstance(planned, Unplanned) or not planned.plan.placed:
        return ()
    from recipec.book.timeline import plan_safety

    return plan_safety(build.book, build.larder, event, planned)
