"""What is to be said of an event's plan, at the marks of the dishes that cause it."""

from __future__ import annotations

from collections.abc import Iterable, Iterator

from recipec.base.finding import Finding, Label
from recipec.base.span import Span
from recipec.model.event import Event
from recipec.plan.timeline_types import Collision, Problem, Trouble

_MOST_LABELS = 6


def timeline_findings(event: Event, problem: Problem, collisions: Iterable[Collision]) -> tuple[Finding, ...]:
    """What the kitchen lacks, what can't be kept clean in it, and what can't be done in it in time; in the order of their places."""
    found = [
        *(_trouble(event, trouble) for trouble in (*problem.troubles, *problem.kit)),
        *(_collision(event, problem, one) for one in collisions),
    ]
    return tuple(sorted(dict.fromkeys(found), key=lambda finding: finding.order))


def _trouble(event: Event, trouble: Trouble) -> Finding:
    return Finding(
        trouble.slug,
        trouble.span,
        trouble.text,
        (Label(event.kitchen_span or event.title_span, f"planned for {event.title}"),),
        trouble.hints,
    )


def _collision(event: Event, problem: Problem, collision: Collision) -> Finding:
    first, *others = collision.spans or (event.title_span,)
    labels = [*_labels(first, others), Label(_asked_at(event), "asked for here")]
    fixes = [f"Tried, and it can be done: {fix.text}." for fix in collision.fixes]
    if not fixes:
        fixes = ["No single change that was tried makes it possible. Serve something else, or serve it later."]
    return Finding(collision.slug, first, collision.text, tuple(labels), tuple(fixes))


def _labels(first: Span, others: Iterable[Span]) -> Iterator[Label]:
    seen = {_place(first)}
    for span in others:
        if _place(span) not in seen and len(seen) <= _MOST_LABELS:
            seen.add(_place(span))
            yield Label(span, "and this")


def _place(span: Span) -> tuple[str, int, int]:
    return (span.source.name, span.start, span.end)


def _asked_at(event: Event) -> Span:
    return event.title_span
