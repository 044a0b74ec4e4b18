"""The guest matrix in words, once for every form it is written in."""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass
from fractions import Fraction
from itertools import groupby

from recipec.base.finding import KINDS, Finding, Severity
from recipec.larder.ingredient import Presence
from recipec.measure.language import ENGLISH, Language
from recipec.measure.numerals import NO_BREAK
from recipec.measure.wording import word
from recipec.model.book import Book
from recipec.model.event import Need, NeedKind
from recipec.plan.allergen_groups import Group, Groups
from recipec.plan.diets import Fits
from recipec.plan.guests import Cell, Guests, Row, Served, Verdict
from recipec.plan.rules import LOCAL, edition

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


def rules_line(guests: Guests, tongue: Language = ENGLISH) -> str:
    """Which rule set's groups these are."""
    return tongue.say(
        "Rule set: %(rules)s. Allergens: %(groups)s.",
        rules=edition(guests.groups.rules).name,
        groups=list_name(guests.groups, tongue),
    )


def list_name(groups: Groups, tongue: Language = ENGLISH) -> str:
    """Which list the groups are of."""
    return tongue.say(groups.list_name, context="allergen list")


def never_free(tongue: Language = ENGLISH) -> str:
    """The sentence on what is unknown."""
    return tongue.say("Unknown is never free: until it is known, call it free of nothing.")


def local_code(tongue: Language = ENGLISH) -> str:
    """`rules.LOCAL` in the language of the paper."""
    return tongue.say(LOCAL, context="safety")


def group_words(group: Group, tongue: Language = ENGLISH) -> str:
    """A group of allergens by its rule set's words; in German and French by those of the regulation in that language."""
    return tongue.say(group.words, context="allergen")


def presence_words(presence: Presence, tongue: Language = ENGLISH) -> str:
    """`contains`, `may contain`."""
    return tongue.say(presence.value, context="presence")


def diet_words(diet: str, tongue: Language = ENGLISH) -> str:
    """`vegetarian`, `no pork`; a diet that we have no word for stays as the cook wrote it."""
    return tongue.say(diet, context="diet")


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


def rows(guests: Guests, tongue: Language = ENGLISH) -> tuple[RowText, ...]:
    """Every order, and below it the dishes it is made of; those once, below the first that needs them so."""
    found: list[RowText] = []
    seen: set[tuple[str, tuple[str, ...]]] = set()
    for served in guests.served:
        found.append(_row(guests, served.row, served, tongue, part=False))
        for part in served.parts:
            if (part.key, part.without) not in seen:
                seen.add((part.key, part.without))
                found.append(_row(guests, part, served, tongue, part=True))
    return tuple(found)


def seats(guests: Guests, tongue: Language = ENGLISH) -> tuple[SeatText, ...]:
    """Every seat that asks for something."""
    return tuple(
        _seat(guests, seat.number, seat.needs, [one for one in guests.verdicts if one.seat == seat.number], tongue)
        for seat in guests.event.seats
        if seat.needs
    )


def _seat(guests: Guests, number: int, needs: tuple[Need, ...], verdicts: list[Verdict], tongue: Language) -> SeatText:
    by_order: dict[int, list[Verdict]] = {}
    for verdict in verdicts:
        by_order.setdefault(verdict.served, []).append(verdict)
    against: list[SeatDish] = []
    others: list[str] = []
    for place, of_order in sorted(by_order.items()):
        served = guests.served[place]
        title = ", ".join(part for part in (served.row.title, without_text(served.order.without, tongue)) if part)
        bad = [verdict for verdict in of_order if verdict.harms]
        if bad:
            sign = "hurts" if any(verdict.hurts for verdict in bad) else "against"
            said = "; ".join(_against(verdict, tongue) for verdict in bad)
            against.append(SeatDish(served.course, title, said, sign))
        else:
            others.append(title)
    asked = any(verdict.hurts for verdict in verdicts)
    return SeatText(
        number,
        "; ".join(need_text(need.kind, need.what, tongue) for need in needs),
        tuple(against),
        tuple(others),
        presence_words(Presence.NOT_IN_RECIPE, tongue) if asked else tongue.say("nothing against it in the recipe"),
    )


def need_text(kind: NeedKind, what: str, tongue: Language = ENGLISH) -> str:
    """`allergic to nuts`, `vegetarian`, `rather not sprouts`."""
    match kind:
        case NeedKind.ALLERGIC:
            return tongue.say("allergic to %(food)s", food=what)
        case NeedKind.DIET:
            return diet_words(what, tongue)
        case NeedKind.RATHER_NOT:
            return tongue.say("rather not %(food)s", food=what)
        case NeedKind.WITHOUT:
            return tongue.say("without %(food)s", food=what)


def without_text(foods: Iterable[str], tongue: Language = ENGLISH) -> str:
    """`without hazelnuts`; '' for nothing left out."""
    words = tongue.listed(foods)
    return tongue.say("without %(food)s", food=words) if words else ""


def plates_text(plates: Fraction | None, tongue: Language = ENGLISH) -> str:
    """`6½ plates`; '' where plates are not counted."""
    if plates is None:
        return ""
    whole, part = divmod(plates, 1)
    number = f"{whole or ''}½" if part == Fraction(1, 2) else str(plates)
    return f"{number}{NO_BREAK}{word('plate', tongue.many(plates), tongue)}"


def seats_text(served: Served, guests: Guests, tongue: Language = ENGLISH) -> str:
    """`seats 1, 2 and 4–8`, `everyone`, `nobody`."""
    if not served.seats:
        return tongue.say("no seat")
    if len(served.seats) == guests.event.guests > 1:
        return tongue.say("every seat")
    spans = []
    for _, run in groupby(enumerate(served.seats), key=lambda pair: pair[1] - pair[0]):
        numbers = [number for _, number in run]
        spans += [str(number) for number in numbers] if len(numbers) < 3 else [f"{numbers[0]}–{numbers[-1]}"]
    return tongue.form(
        "seat %(numbers)s", "seats %(numbers)s", len(served.seats) > 1, numbers=tongue.listed(spans), context="seats"
    )


def _row(guests: Guests, row: Row, served: Served, tongue: Language, *, part: bool) -> RowText:
    groups = guests.groups.groups
    return RowText(
        title=row.title,
        without=without_text(row.without if part else served.order.without, tongue),
        course=served.course,
        plates="" if part else plates_text(served.plates, tongue),
        seats="" if part else seats_text(served, guests, tongue),
        part=part,
        cells=tuple(_cell(row.cells[group.key], tongue) for group in groups),
        diets=tuple(_diet(answer, tongue) for answer in row.diets.values()),
        brought=tuple(
            Brought(
                group_words(group, tongue),
                presence_words(cell.presence, tongue),
                _SIGN[cell.presence],
                ", ".join(cell.foods),
            )
            for presence in (Presence.CONTAINS, Presence.MAY_CONTAIN, Presence.UNKNOWN)
            for group in groups
            for cell in (row.cells[group.key],)
            if cell.presence is presence
        ),
        unknown=", ".join(row.unknown),
    )


def _cell(cell: Cell, tongue: Language) -> CellText:
    return CellText(presence_words(cell.presence, tongue), _SIGN[cell.presence], ", ".join(cell.foods))


def _diet(answer: Fits, tongue: Language) -> CellText:
    sign = {Fits.YES: "free", Fits.NO: "contains", Fits.UNKNOWN: "unknown"}[answer]
    return CellText(tongue.say(answer.value, context="presence"), sign, "")


def _against(verdict: Verdict, tongue: Language) -> str:
    said = []
    for presence in (Presence.CONTAINS, Presence.MAY_CONTAIN, Presence.UNKNOWN):
        names = tuple(dict.fromkeys(harm.food.name for harm in verdict.harms if harm.presence is presence))
        if names:
            said.append(f"{presence_words(presence, tongue)}: {', '.join(names)}")
    return f"{need_text(verdict.need.kind, verdict.need.what, tongue)}: {'; '.join(said)}"
