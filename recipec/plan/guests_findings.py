"""What is to be said of an event's guests: what they are served that they must not have, or may not have because nobody knows.

A danger here is never to be accepted: whoever is allergic has not agreed to it. A diet not kept is a warning, a wish a hint.
"""

from __future__ import annotations

from collections.abc import Iterable, Iterator

from recipec.base.finding import Finding, Label
from recipec.base.span import Span
from recipec.larder.ingredient import Presence
from recipec.larder.larder import Larder
from recipec.model.book import Book
from recipec.model.event import Event, NeedKind
from recipec.plan.guests import Guests, Served, Verdict, asks, guests_of
from recipec.plan.guests_prose import prose_findings
from recipec.plan.needs import Harm

NEVER_ACCEPTED = frozenset(("allergen-served", "allergen-unknown"))
"""A reason written for one of these changes nothing."""

_MOST_NAMES = 5


def guests_findings(book: Book, larder: Larder, event: Event) -> tuple[Finding, ...]:
    """All of one event, by order and seat; none of them accepted yet."""
    guests = guests_of(book, larder, event)
    return (*findings_of(guests), *prose_findings(guests, larder))


def findings_of(guests: Guests) -> Iterator[Finding]:
    """What the orders bring to the seats, where the matrix is there already."""
    for verdict in guests.verdicts:
        served = guests.served[verdict.served]
        certain = tuple(harm for harm in verdict.harms if harm.presence is Presence.CONTAINS)
        maybe = tuple(harm for harm in verdict.harms if harm.presence is Presence.MAY_CONTAIN)
        unknown = tuple(harm for harm in verdict.harms if harm.presence is Presence.UNKNOWN)
        if verdict.need.kind is NeedKind.RATHER_NOT and not verdict.hurts:
            if certain:
                yield _wish(served, verdict, certain)
        elif verdict.hurts:
            if certain or maybe:
                yield _allergen(guests.event, served, verdict, certain, maybe)
            if unknown and not certain:
                yield _unknown(guests.event, served, verdict, unknown)
        elif verdict.harms:
            yield _diet(served, verdict, certain, (*maybe, *unknown))


def dish_words(served: Served) -> str:
    """`Salt-baked beetroot without hazelnuts`."""
    return served.row.title + (f" without {_and(served.order.without)}" if served.order.without else "")


def _allergen(
    event: Event, served: Served, verdict: Verdict, certain: tuple[Harm, ...], maybe: tuple[Harm, ...]
) -> Finding:
    dish = dish_words(served)
    said = f"and {dish} contains {_names(certain)}" if certain else f"and {dish} may hold some, from {_names(maybe)}"
    return Finding(
        "allergen-served",
        served.order.span,
        f"Seat {verdict.seat} {asks(verdict.need)}, {said}.",
        _labels(served, verdict, certain or maybe, "this"),
        (*_way_out(served, verdict, certain or maybe), *_no_reason(event, "allergen-served")),
    )


def _unknown(event: Event, served: Served, verdict: Verdict, unknown: tuple[Harm, ...]) -> Finding:
    return Finding(
        "allergen-unknown",
        served.order.span,
        f"Seat {verdict.seat} {asks(verdict.need)}, and what is in {_names(unknown)} is not known, or not all of it: "
        f"{dish_words(served)} can't be called free of it.",
        _labels(served, verdict, unknown, "what is in this is not known, or not all of it"),
        (
            f"Read the packet or ask the maker, and write all that is in {_first(unknown)} into `larder.csv`, under `allergens`: "
            "`celery; may contain milk`. Write `none` there only if the packet says so.",
            *_way_out(served, verdict, unknown),
            *_no_reason(event, "allergen-unknown"),
        ),
    )


def _diet(served: Served, verdict: Verdict, certain: tuple[Harm, ...], unsure: tuple[Harm, ...]) -> Finding:
    dish = dish_words(served)
    said = (
        f"and {dish} has {_names(certain)}"
        if certain
        else f"and whether {dish} suits is not known, for {_names(unsure)}"
    )
    return Finding(
        "diet-not-kept",
        served.order.span,
        f"Seat {verdict.seat} {asks(verdict.need)}, {said}.",
        _labels(served, verdict, certain or unsure, "this"),
        _way_out(served, verdict, certain or unsure),
    )


def _wish(served: Served, verdict: Verdict, certain: tuple[Harm, ...]) -> Finding:
    return Finding(
        "wish-not-kept",
        served.order.span,
        f"Seat {verdict.seat} {asks(verdict.need)}, and {dish_words(served)} has {_names(certain)}.",
        _labels(served, verdict, certain, "this"),
        _way_out(served, verdict, certain),
    )


def _way_out(served: Served, verdict: Verdict, harms: tuple[Harm, ...]) -> tuple[str, ...]:
    seat, written = verdict.seat, served.order.written
    name = harms[0].food.name
    if served.order.seats:
        return (f"Leave it out (`without {name}`), or give seat {seat} another dish.",)
    return (
        f"Give seat {seat} a plate of its own, `[1 plate of our {written}, without {name}, for seat {seat}]`, or another dish; "
        f"if it is served something else already, say so there with `for seat {seat}`, and count the plates of the others.",
    )


def _no_reason(event: Event, slug: str) -> tuple[str, ...]:
    if any(reason.slug == slug for reason in event.accepted):
        return ("This can't be accepted with a reason: whoever is allergic has not agreed to it.",)
    return ()


def _labels(served: Served, verdict: Verdict, harms: tuple[Harm, ...], text: str) -> tuple[Label, ...]:
    keys = {harm.food.key for harm in harms}
    marks: dict[Span, None] = {}
    for one in served.eaten:
        if one.food.key in keys and one.span != served.order.span:
            marks.setdefault(one.span)
    return (
        Label(verdict.need.span, "what this seat asked for"),
        *(Label(span, text) for span in list(marks)[:_MOST_NAMES]),
    )


def _first(harms: tuple[Harm, ...]) -> str:
    return f"`{harms[0].food.name}`"


def _names(harms: tuple[Harm, ...]) -> str:
    names = tuple(dict.fromkeys(harm.food.name for harm in harms))
    if len(names) > _MOST_NAMES:
        return f"{', '.join(names[:_MOST_NAMES])} and {len(names) - _MOST_NAMES} more"
    return _and(names)


def _and(names: Iterable[str]) -> str:
    words = tuple(names)
    return " and ".join(words) if len(words) < 3 else f"{', '.join(words[:-1])} and {words[-1]}"
