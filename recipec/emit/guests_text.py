"""The guest matrix as plain text, 80 columns."""

from __future__ import annotations

from collections.abc import Iterable, Iterator
from itertools import groupby

from recipec.base.finding import Finding, Severity
from recipec.emit.guests_words import NEVER_FREE, RowText, SeatText, and_words, rows, rules_line, seats
from recipec.emit.plain import page, rule, title_line, wrap
from recipec.plan.diets import DIETS
from recipec.plan.guests import Guests
from recipec.plan.rules import LOCAL

_ANSWERS = (("contains", "Contains"), ("may", "May contain"), ("unknown", "Unknown"))
_MARGIN = 15


def guests_text(guests: Guests, findings: Iterable[Finding] = ()) -> str:
    """What is wrong, then every seat that asks for something, then every dish and what it is made of."""
    return page(list(_lines(guests, tuple(findings))))


def _lines(guests: Guests, findings: tuple[Finding, ...]) -> Iterator[str]:
    yield from title_line(f"Guests: {guests.event.title}")
    yield rule("═")
    yield from wrap(f"{rules_line(guests)} {LOCAL}")
    yield from wrap(NEVER_FREE)
    shown = [finding for finding in findings if finding.severity is not Severity.HINT]
    if shown:
        yield from ("", "TO BE SETTLED", rule())
        for finding in shown:
            yield from wrap(f"{finding.severity.value.upper()}: {finding.message}", "", "    ")
            if finding.accepted is not None:
                yield from wrap(f"Accepted by the cook: {finding.accepted}", "    ")
    table = seats(guests)
    if table:
        yield from ("", "AT THE TABLE", rule())
        for seat in table:
            yield from _seat(seat)
    for course, group in groupby(rows(guests), key=lambda row: row.course):
        yield from ("", *title_line(course.upper()), rule())
        for row in group:
            yield from _row(guests, row)


def _seat(seat: SeatText) -> Iterator[str]:
    yield from wrap(seat.needs, f"Seat {seat.number}: ")
    for dish in seat.dishes:
        mark = "!! " if dish.sign == "hurts" else " ! "
        yield from wrap(f"{dish.course}: {dish.title}: {dish.answer}", f"  {mark}", "       ")
    if seat.others:
        yield from wrap(f"{seat.answer}: {'; '.join(seat.others)}", "     ", "       ")


def _row(guests: Guests, row: RowText) -> Iterator[str]:
    name = ", ".join(part for part in (row.title, row.without) if part)
    if row.part:
        yield from wrap(name, "  made of: ")
    else:
        yield from title_line(name, ", ".join(part for part in (row.plates, row.seats) if part))
    indent = "    " if row.part else "  "
    for sign, heading in _ANSWERS:
        groups = [f"{one.group} ({one.foods})" if one.foods else one.group for one in row.brought if one.sign == sign]
        if groups:
            yield from wrap("; ".join(groups), f"{indent}{heading:<{_MARGIN}}")
    free = [group.words for group, cell in zip(guests.groups.groups, row.cells, strict=True) if cell.sign == "free"]
    yield from wrap(", ".join(free) or "nothing that is known", f"{indent}{'Not in recipe':<{_MARGIN}}")
    if row.unknown:
        yield from wrap(f"{row.unknown}: read the packet", f"{indent}{'To be settled':<{_MARGIN}}")
    for sign, heading in (("free", "Fits"), ("contains", "Does not fit"), ("unknown", "May not fit")):
        diets = [diet for diet, cell in zip(DIETS, row.diets, strict=True) if cell.sign == sign]
        if diets:
            yield from wrap(and_words(diets), f"{indent}{heading:<{_MARGIN}}")
