"""Which events may share a piece: Monday's zest and Saturday's juice are two lemons."""

from __future__ import annotations

from collections.abc import Iterable
from datetime import datetime, timedelta

from recipec.larder.ingredient import Ingredient
from recipec.model.event import Event


def clusters(events: tuple[Event, ...], parts: Iterable[str], item: Ingredient | None) -> tuple[tuple[Event, ...], ...]:
    """Events in groups, each within the keeping time of the part that keeps least. Where no time is known, or an event has
    no day, nothing is shared."""
    if len(events) < 2:
        return (events,)
    hours = [
        None if figure is None else figure.keeps for figure in (item.part(part) if item else None for part in parts)
    ]
    known = [hour for hour in hours if hour is not None]
    keeps = timedelta(hours=min(known)) if known and len(known) == len(hours) else timedelta(0)
    groups: list[list[Event]] = []
    start: datetime | None = None
    for event in sorted(events, key=lambda event: (event.serve is None, event.serve or datetime.min, event.key)):
        if start is None or event.serve is None or event.serve - start > keeps:
            groups.append([])
            start = event.serve
        groups[-1].append(event)
    return tuple(tuple(group) for group in groups)
