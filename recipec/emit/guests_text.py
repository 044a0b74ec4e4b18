"""The guest matrix as plain text, 80 columns."""

from __future__ import annotations

from collections.abc import Iterable, Iterator
from itertools import groupby

from recipec.base.finding import Finding, Severity
from recipec.emit.guests_words import (
    RowText,
    SeatText,
    diet_words,
    group_words,
    local_code,
    never_free,
    presence_words,
    rows,
    rules_line,
    seats,
)
from recipec.emit.plain import capital, page, rule, title_line, wrap
from recipec.larder.ingredient import Presence
from recipec.measure.language import Language, language_of
from recipec.plan.diets import DIETS
from recipec.plan.guests import Guests

_ANSWERS = (("contains", Presence.CONTAINS), ("may", Presence.MAY_CONTAIN), ("unknown", Presence.UNKNOWN))
_MARGIN = 15


def guests_text(guests: Guests, findings: Iterable[Finding] = (), language: str = "en") -> str:
    """What is wrong, then every seat that asks for something, then every dish and what it is made of."""
    return page(list(_lines(guests, tuple(findings), language_of(language))))


def _lines(guests: Guests, findings: tuple[Finding, ...], tongue: Language) -> Iterator[str]:
    say = tongue.say
    yield from title_line(say("Guests: %(event)s", event=guests.event.title))
    yield rule("═")
    yield from wrap(f"{rules_line(guests, tongue)} {local_code(tongue)}")
    yield from wrap(never_free(tongue))
    shown = [finding for finding in findings if finding.severity is not Severity.HINT]
    if shown:
        yield from ("", say("TO BE SETTLED"), rule())
        for finding in shown:
            yield from wrap(f"{say(finding.severity.value, context='severity').upper()}: {finding.message}", "", "    ")
            if finding.accepted is not None:
                yield from wrap(say("Accepted by the cook: %(reason)s", reason=finding.accepted), "    ")
    table = seats(guests, tongue)
    if table:
        yield from ("", say("At the table").upper(), rule())
        for seat in table:
            yield from _seat(seat, tongue)
    for course, group in groupby(rows(guests, tongue), key=lambda row: row.course):
        yield from ("", *title_line(course.upper()), rule())
        for row in group:
            yield from _row(guests, row, tongue)


def _seat(seat: SeatText, tongue: Language) -> Iterator[str]:
    yield from wrap(seat.needs, tongue.say("Seat %(number)s:", number=seat.number) + " ")
    for dish in seat.dishes:
        mark = "!! " if dish.sign == "hurts" else " ! "
        yield from wrap(f"{dish.course}: {dish.title}: {dish.answer}", f"  {mark}", "       ")
    if seat.others:
        yield from wrap(f"{seat.answer}: {'; '.join(seat.others)}", "     ", "       ")


def _row(guests: Guests, row: RowText, tongue: Language) -> Iterator[str]:
    say = tongue.say
    name = ", ".join(part for part in (row.title, row.without) if part)
    if row.part:
        yield from wrap(name, f"  {say('made of:')} ")
    else:
        yield from title_line(name, ", ".join(part for part in (row.plates, row.seats) if part))
    indent = "    " if row.part else "  "
    for sign, presence in _ANSWERS:
        groups = [f"{one.group} ({one.foods})" if one.foods else one.group for one in row.brought if one.sign == sign]
        if groups:
            yield from wrap("; ".join(groups), _head(indent, capital(presence_words(presence, tongue))))
    free = [
        group_words(group, tongue)
        for group, cell in zip(guests.groups.groups, row.cells, strict=True)
        if cell.sign == "free"
    ]
    yield from wrap(", ".join(free) or say("nothing that is known"), _head(indent, say("Not in recipe")))
    if row.unknown:
        yield from wrap(say("%(foods)s: read the packet", foods=row.unknown), _head(indent, say("To be settled")))
    fits = (("free", say("Fits")), ("contains", say("Does not fit")), ("unknown", say("May not fit")))
    for sign, heading in fits:
        diets = [diet_words(diet, tongue) for diet, cell in zip(DIETS, row.diets, strict=True) if cell.sign == sign]
        if diets:
            yield from wrap(tongue.listed(diets), _head(indent, heading))


def _head(indent: str, words: str) -> str:
    """Filled up to the margin; a longer one has a blank after it."""
    return f"{indent}{words + ' ':<{_MARGIN}}"
