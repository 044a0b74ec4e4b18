"""The guest matrix in words, once for every form it is written in."""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass
from fractions import Fraction
from itertools import groupby

from recipec.base.finding import KINDS, Finding, Severity
from recipec.larder.ingredient import Presence
from recipec.measure.numerals import NO_BREAK
from recipec.model.book import Book
from recipec.model.event import Need, NeedKind
from recipec.plan.diets import Fits
from recipec.plan.guests import Cell, Guests, Row, Served, Verdict
from recipec.plan.rules import edition

NEVER_FREE = "Unknown is never free: until it is known, call it free of nothing."
_SIGN = {
    Presence.CONTAINS: "contains",
    Presence.MAY_CONTAIN: "may",
    Presence.UNKNOWN: "unknown",
    Presence.NOT_IN_RECIPE: "free",
}


@dataclass(frozen=True, slots=True)
class CellText:
    """A cell: its answer in words, a name for styles, and the foods it is said for."""

    answer: str
    sign: str
    foods: str


@dataclass(frozen=True, slots=True)
class Brought:
    """A group, its answer, and the foods that bring it."""

    group: str
    answer: str
    sign: str
    foods: str


@dataclass(frozen=True, slots=True)
class RowText:
    """A line of the matrix. `part` is True for a dish that the one above it is made of."""

    title: str
    without: str
    course: str
    plates: str
    seats: str
    part: bool
    cells: tuple[CellText, ...]
    diets: tuple[CellText, ...]
    brought: tuple[Brought, ...]
    unknown: str


@dataclass(frozen=True, slots=True)
class SeatDish:
    """What a seat may be served and something goes against: the answers, and the foods they are given for."""

    course: str
    title: str
    answer: str
    sign: str


@dataclass(frozen=True, slots=True)
class SeatText:
    """A seat, what it asks for, the dishes against which there is something, and the others by name with what may be said of them."""

    number: int
    needs: str
    dishes: tuple[SeatDish, ...]
    others: tuple[str, ...]
    answer: str


def rules_line(guests: Guests) -> str:
    """Which rule set's groups these are."""
    return f"Rule set: {edition(guests.groups.rules).name}. Allergens: {guests.groups.list_name}."


def findings_for(book: Book, guests: Guests, findings: Iterable[Finding]) -> tuple[Finding, ...]:
    """The findings on safety that touch an event: its own, and the dangers of all it serves."""
    dishes = {row.key for served in guests.served for row in (served.row, *served.parts)}
    files = {dish.span.source.name for dish in book.dishes if dish.key in dishes}
    own = guests.event.span.source.name
    return tuple(
        finding
        for finding in sorted(findings, key=lambda one: one.order)
        if KINDS[finding.slug].family == "safety"
        and (
            finding.span.source.name == own
            or (finding.span.source.name in files and finding.severity is Severity.DANGER)
        )
    )


def rows(guests: Guests) -> tuple[RowText, ...]:
    """Every order, and below it the dishes it is made of; those once, below the first that needs them so."""
    found: list[RowText] = []
    seen: set[tuple[str, tuple[str, ...]]] = set()
    for served in guests.served:
        found.append(_row(guests, served.row, served, part=False))
        for part in served.parts:
            if (part.key, part.without) not in seen:
                seen.add((part.key, part.without))
                found.append(_row(guests, part, served, part=True))
    return tuple(found)


def seats(guests: Guests) -> tuple[SeatText, ...]:
    """Every seat that asks for something."""
    return tuple(
        _seat(guests, seat.number, seat.needs, [one for one in guests.verdicts if one.seat == seat.number])
        for seat in guests.event.seats
        if seat.needs
    )


def _seat(guests: Guests, number: int, needs: tuple[Need, ...], verdicts: list[Verdict]) -> SeatText:
    by_order: dict[int, list[Verdict]] = {}
    for verdict in verdicts:
        by_order.setdefault(verdict.served, []).append(verdict)
    against: list[SeatDish] = []
    others: list[str] = []
    for place, of_order in sorted(by_order.items()):
        served = guests.served[place]
        title = ", ".join(part for part in (served.row.title, without_text(served.order.without)) if part)
        bad = [verdict for verdict in of_order if verdict.harms]
        if bad:
            sign = "hurts" if any(verdict.hurts for verdict in bad) else "against"
            against.append(SeatDish(served.course, title, "; ".join(_against(verdict) for verdict in bad), sign))
        else:
            others.append(title)
    asked = any(verdict.hurts for verdict in verdicts)
    return SeatText(
        number,
        "; ".join(need_text(need.kind, need.what) for need in needs),
        tuple(against),
        tuple(others),
        Presence.NOT_IN_RECIPE.value if asked else "nothing against it in the recipe",
    )


def need_text(kind: NeedKind, what: str) -> str:
    """`allergic to nuts`, `vegetarian`, `rather not sprouts`."""
    match kind:
        case NeedKind.ALLERGIC:
            return f"allergic to {what}"
        case NeedKind.DIET:
            return what
        case NeedKind.RATHER_NOT:
            return f"rather not {what}"
        case NeedKind.WITHOUT:
            return f"without {what}"


def without_text(foods: Iterable[str]) -> str:
    """`without hazelnuts`; '' for nothing left out."""
    words = and_words(foods)
    return f"without {words}" if words else ""


def plates_text(plates: Fraction | None) -> str:
    """`6½ plates`; '' where plates are not counted."""
    if plates is None:
        return ""
    whole, part = divmod(plates, 1)
    number = f"{whole or ''}½" if part == Fraction(1, 2) else str(plates)
    return f"{number}{NO_BREAK}plate{'' if plates <= 1 else 's'}"


def seats_text(served: Served, guests: Guests) -> str:
    """`seats 1, 2 and 4–8`, `everyone`, `nobody`."""
    if not served.seats:
        return "no seat"
    if len(served.seats) == guests.event.guests > 1:
        return "every seat"
    spans = []
    for _, run in groupby(enumerate(served.seats), key=lambda pair: pair[1] - pair[0]):
        numbers = [number for _, number in run]
        spans += [str(number) for number in numbers] if len(numbers) < 3 else [f"{numbers[0]}–{numbers[-1]}"]
    return f"seat{'' if len(served.seats) == 1 else 's'} {and_words(spans)}"


def and_words(names: Iterable[str]) -> str:
    """`a, b and c`."""
    words = tuple(names)
    return " and ".join(words) if len(words) < 3 else f"{', '.join(words[:-1])} and {words[-1]}"


def _row(guests: Guests, row: Row, served: Served, *, part: bool) -> RowText:
    groups = guests.groups.groups
    return RowText(
        title=row.title,
        without=without_text(row.without if part else served.order.without),
        course=served.course,
        plates="" if part else plates_text(served.plates),
        seats="" if part else seats_text(served, guests),
        part=part,
        cells=tuple(_cell(row.cells[group.key]) for group in groups),
        diets=tuple(_diet(answer) for answer in row.diets.values()),
        brought=tuple(
            Brought(group.words, cell.presence.value, _SIGN[cell.presence], ", ".join(cell.foods))
            for presence in (Presence.CONTAINS, Presence.MAY_CONTAIN, Presence.UNKNOWN)
            for group in groups
            for cell in (row.cells[group.key],)
            if cell.presence is presence
        ),
        unknown=", ".join(row.unknown),
    )


def _cell(cell: Cell) -> CellText:
    return CellText(cell.presence.value, _SIGN[cell.presence], ", ".join(cell.foods))


def _diet(answer: Fits) -> CellText:
    return CellText(answer.value, {Fits.YES: "free", Fits.NO: "contains", Fits.UNKNOWN: "unknown"}[answer], "")


def _against(verdict: Verdict) -> str:
    said = []
    for presence in (Presence.CONTAINS, Presence.MAY_CONTAIN, Presence.UNKNOWN):
        names = tuple(dict.fromkeys(harm.food.name for harm in verdict.harms if harm.presence is presence))
        if names:
            said.append(f"{presence.value}: {', '.join(names)}")
    return f"{need_text(verdict.need.kind, verdict.need.what)}: {'; '.join(said)}"
