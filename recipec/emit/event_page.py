"""A page for every booking: the menu as the client reads it, and below it what the kitchen has to know."""

from __future__ import annotations

from dataclasses import dataclass
from fractions import Fraction

from recipec.emit.cookbook import page_title
from recipec.emit.desk import Desk
from recipec.emit.money import money_text
from recipec.emit.request import Paper
from recipec.emit.version_cards import version_path
from recipec.emit.when import clock_text, moment_text, window_text
from recipec.measure.show import show_amount, show_duration
from recipec.model.event import Course, Event, NeedKind, Order, OrderAt, ReadingAt, Words
from recipec.model.reading import AfterCourse, Clock, Duration
from recipec.plan.cautions import cautions_of_event
from recipec.plan.styling import style_of


@dataclass(frozen=True, slots=True)
class Bit:
    """A stretch of a menu's prose; `href`, from the output folder, where it is a dish of the book."""

    text: str
    is_dish: bool = False
    href: str = ""


@dataclass(frozen=True, slots=True)
class Paragraph:
    """A paragraph of the menu; a `listing` is nothing but dishes, one under the other."""

    listing: bool
    bits: tuple[Bit, ...]


@dataclass(frozen=True, slots=True)
class CourseText:
    """A course of the menu."""

    name: str
    time: str
    paragraphs: tuple[Paragraph, ...]


@dataclass(frozen=True, slots=True)
class OrderText:
    """What is made for a course: for the kitchen."""

    course: str
    title: str
    card: str
    much: str
    remarks: str


@dataclass(frozen=True, slots=True)
class SeatText:
    """A seat and what it asks for, in words."""

    number: int
    needs: str


def event_pages(desk: Desk) -> tuple[Paper, ...]:
    """All bookings' pages."""
    return tuple(_event_page(desk, event) for event in desk.book.events)


def _event_page(desk: Desk, event: Event) -> Paper:
    return desk.paper(
        desk.paths.event(event.key),
        "event.html",
        ("base.css", "event.css"),
        kind="event",
        page_title=page_title(desk, event.title),
        event=event,
        when=moment_text(event.serve) if event.serve else "",
        guests=_guests(event),
        courses=tuple(course_text(desk, course) for course in event.courses),
        orders=tuple(_order(desk, event, course, order) for course in event.courses for order in course.orders),
        seats=tuple(
            _seat(seat.number, tuple(_need(need.kind, need.what) for need in seat.needs))
            for seat in event.seats
            if seat.needs
        ),
        facts=_facts(desk, event),
        all_cautions=cautions_of_event(desk.book, event, desk.request.findings),
        market=desk.paths.event(event.key, "market.html"),
        timeline=event.key in desk.plans,
    )


def course_text(desk: Desk, course: Course) -> CourseText:
    """A course as the client reads it."""
    paragraphs = tuple(
        _paragraph(tuple(_bit(desk, course, piece) for piece in paragraph)) for paragraph in course.paragraphs
    )
    return CourseText(course.name, _course_time(course), paragraphs)


def _paragraph(bits: tuple[Bit, ...]) -> Paragraph:
    """Plates of one dish that differ in what is left out are one dish on a menu; the kitchen's table tells them apart."""
    if any(not bit.is_dish and bit.text.strip(" .,;\n") for bit in bits):
        return Paragraph(False, bits)
    return Paragraph(True, tuple(dict.fromkeys(bit for bit in bits if bit.is_dish)))


def _course_time(course: Course) -> str:
    if course.start is not None:
        return clock_text(course.start) + (f"–{clock_text(course.end)}" if course.end else "")
    if course.after is not None and course.after_s is not None:
        return f"{show_duration(course.after_s)} after {course.after}"
    return ""


def _bit(desk: Desk, course: Course, piece: Words | OrderAt | ReadingAt) -> Bit:
    match piece:
        case Words(text):
            return Bit(text)
        case OrderAt(number):
            order = course.orders[number]
            return Bit(_title(desk, order), True, desk.pages.get(order.dish or "", ""))
        case ReadingAt(reading):
            return Bit(_reading(reading.value))


def _reading(value: object) -> str:
    # What a menu's prose can hold: a time of day or a length of time. Cooking belongs to dishes.
    match value:
        case Clock(start, end):
            return _minutes(start) + ("" if end is None else f"–{_minutes(end)}")
        case Duration():
            return show_duration(value.low, value.high)
        case AfterCourse():
            return f"{show_duration(value.seconds)} after {value.course}"
        case _:
            return ""


def _minutes(minutes: int) -> str:
    return f"{minutes // 60:02}:{minutes % 60:02}"


def _title(desk: Desk, order: Order) -> str:
    sheet = desk.sheets.get(order.dish) if order.dish is not None else None
    return order.written if sheet is None else sheet.title


def _order(desk: Desk, event: Event, course: Course, order: Order) -> OrderText:
    remarks = [f"without {food}" for food in order.without]
    if order.seats:
        remarks.append(
            f"for seat{'s' if len(order.seats) > 1 else ''} {_and(tuple(str(seat) for seat in order.seats))}"
        )
    remarks += order.note
    card = desk.paths.card(order.dish) if order.dish in desk.sheets and order.dish is not None else ""
    if order.without:
        # Never the card of the dish with it in; none where it can't be left out.
        card = version_path(desk, order)
    return OrderText(course.name, _title(desk, order), card, _much(desk, event, order), ", ".join(remarks))


def _much(desk: Desk, event: Event, order: Order) -> str:
    if order.plates is not None:
        return _plates(order.plates)
    if order.amount is not None:
        return show_amount(order.amount, style_of(desk.book)).text
    if order.seats:
        return _plates(Fraction(len(order.seats)))
    return _plates(event.plates())


def _plates(plates: Fraction) -> str:
    whole, part = divmod(plates, 1)
    half = "½" if part == Fraction(1, 2) else ""
    number = f"{whole or ''}{half}" if half else f"{plates}"
    return f"{number}\u00a0plate{'' if plates <= 1 else 's'}"


def _guests(event: Event) -> str:
    parts = [f"{event.guests}\u00a0guest{'' if event.guests == 1 else 's'}"]
    if event.children:
        parts.append(f"{event.children} of them child{'' if event.children == 1 else 'ren'}")
    if event.crew:
        parts.append(f"{event.crew} crew")
    if event.spare:
        parts.append(f"{event.spare} spare plate{'' if event.spare == 1 else 's'}")
    return ", ".join(parts)


def _need(kind: NeedKind, what: str) -> str:
    match kind:
        case NeedKind.ALLERGIC:
            return f"allergic to {what}"
        case NeedKind.DIET:
            return what
        case NeedKind.RATHER_NOT:
            return f"rather not {what}"
        case NeedKind.WITHOUT:
            return f"without {what}"


def _seat(number: int, needs: tuple[str, ...]) -> SeatText:
    return SeatText(number, "; ".join(needs))


def _facts(desk: Desk, event: Event) -> tuple[tuple[str, str], ...]:
    kitchen = desk.book.kitchen(event.kitchen)
    fragile = [
        text
        for number, text in (
            (event.expecting, f"{event.expecting} expecting"),
            (event.under_five, f"{event.under_five} under five"),
        )
        if number
    ]
    found = (
        ("Kitchen", kitchen.title if kitchen else event.kitchen or ""),
        ("Arrive", moment_text(event.arrive) if event.arrive else ""),
        ("Prepare", "; ".join(window_text(window.start, window.end) for window in event.prepare)),
        ("Leave by", moment_text(event.leave_by) if event.leave_by else ""),
        ("Budget", money_text(event.budget) if event.budget else ""),
        ("On hand", ", ".join(event.on_hand)),
        ("Nothing raw or under its core for", _and(tuple(fragile))),
    )
    return tuple((name, text) for name, text in found if text)


def _and(parts: tuple[str, ...]) -> str:
    if len(parts) < 2:
        return "".join(parts)
    return f"{', '.join(parts[:-1])} and {parts[-1]}"
