"""A page for every booking: the menu as the client reads it, and below it what the kitchen has to know."""

from __future__ import annotations

from dataclasses import dataclass
from fractions import Fraction

from recipec.emit.cookbook import page_title
from recipec.emit.desk import Desk
from recipec.emit.guests_words import need_text, plates_text
from recipec.emit.money import money_text
from recipec.emit.request import Paper
from recipec.emit.version_cards import version_path
from recipec.emit.when import clock_text, moment_text, window_text
from recipec.measure.language import Language
from recipec.measure.show import show_amount, show_duration
from recipec.model.event import Course, Event, Order, OrderAt, ReadingAt, Words
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
        when=moment_text(event.serve, desk.tongue.code) if event.serve else "",
        guests=_guests(event, desk.tongue),
        courses=tuple(course_text(desk, course) for course in event.courses),
        orders=tuple(_order(desk, event, course, order) for course in event.courses for order in course.orders),
        seats=tuple(
            SeatText(seat.number, "; ".join(need_text(need.kind, need.what, desk.tongue) for need in seat.needs))
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
    return CourseText(course.name, _course_time(course, desk.tongue), paragraphs)


def _paragraph(bits: tuple[Bit, ...]) -> Paragraph:
    """Plates of one dish that differ in what is left out are one dish on a menu; the kitchen's table tells them apart."""
    if any(not bit.is_dish and bit.text.strip(" .,;\n") for bit in bits):
        return Paragraph(False, bits)
    return Paragraph(True, tuple(dict.fromkeys(bit for bit in bits if bit.is_dish)))


def _course_time(course: Course, tongue: Language) -> str:
    if course.start is not None:
        end = f"–{clock_text(course.end, tongue.code)}" if course.end else ""
        return clock_text(course.start, tongue.code) + end
    if course.after is not None and course.after_s is not None:
        time = show_duration(course.after_s, None, tongue)
        return tongue.say("%(time)s after %(course)s", time=time, course=course.after)
    return ""


def _bit(desk: Desk, course: Course, piece: Words | OrderAt | ReadingAt) -> Bit:
    match piece:
        case Words(text):
            return Bit(text)
        case OrderAt(number):
            order = course.orders[number]
            return Bit(_title(desk, order), True, desk.pages.get(order.dish or "", ""))
        case ReadingAt(reading):
            return Bit(_reading(reading.value, desk.tongue))


def _reading(value: object, tongue: Language) -> str:
    # What a menu's prose can hold: a time of day or a length of time. Cooking belongs to dishes.
    match value:
        case Clock(start, end):
            return _minutes(start) + ("" if end is None else f"–{_minutes(end)}")
        case Duration():
            return show_duration(value.low, value.high, tongue)
        case AfterCourse():
            time = show_duration(value.seconds, None, tongue)
            return tongue.say("%(time)s after %(course)s", time=time, course=value.course)
        case _:
            return ""


def _minutes(minutes: int) -> str:
    return f"{minutes // 60:02}:{minutes % 60:02}"


def _title(desk: Desk, order: Order) -> str:
    sheet = desk.sheets.get(order.dish) if order.dish is not None else None
    return order.written if sheet is None else sheet.title


def _order(desk: Desk, event: Event, course: Course, order: Order) -> OrderText:
    tongue = desk.tongue
    remarks = [tongue.say("without %(food)s", food=food) for food in order.without]
    if order.seats:
        numbers = tongue.listed(str(seat) for seat in order.seats)
        remarks.append(
            tongue.form("for seat %(numbers)s", "for seats %(numbers)s", len(order.seats) > 1, numbers=numbers)
        )
    remarks += order.note
    card = desk.paths.card(order.dish) if order.dish in desk.sheets and order.dish is not None else ""
    if order.without:
        # Never the card of the dish with it in; none where it can't be left out.
        card = version_path(desk, order)
    return OrderText(course.name, _title(desk, order), card, _much(desk, event, order), ", ".join(remarks))


def _much(desk: Desk, event: Event, order: Order) -> str:
    if order.plates is not None:
        return plates_text(order.plates, desk.tongue)
    if order.amount is not None:
        return show_amount(order.amount, style_of(desk.book)).text
    if order.seats:
        return plates_text(Fraction(len(order.seats)), desk.tongue)
    return plates_text(event.plates(), desk.tongue)


def _guests(event: Event, tongue: Language) -> str:
    form, counts = tongue.form, tongue.counts
    parts = [form("%(number)s\u00a0guest", "%(number)s\u00a0guests", counts(event.guests), number=event.guests)]
    if event.children:
        several = counts(event.children)
        parts.append(form("%(number)s of them child", "%(number)s of them children", several, number=event.children))
    if event.crew:
        parts.append(tongue.say("%(number)s crew", number=event.crew))
    if event.spare:
        parts.append(form("%(number)s spare plate", "%(number)s spare plates", counts(event.spare), number=event.spare))
    return ", ".join(parts)


def _facts(desk: Desk, event: Event) -> tuple[tuple[str, str], ...]:
    kitchen = desk.book.kitchen(event.kitchen)
    say, code = desk.tongue.say, desk.tongue.code
    fragile = [
        text
        for number, text in (
            (event.expecting, say("%(number)s expecting", number=event.expecting)),
            (event.under_five, say("%(number)s under five", number=event.under_five)),
        )
        if number
    ]
    found = (
        (say("Kitchen"), kitchen.title if kitchen else event.kitchen or ""),
        (say("Arrive"), moment_text(event.arrive, code) if event.arrive else ""),
        (say("Prepare"), "; ".join(window_text(window.start, window.end, code) for window in event.prepare)),
        (say("Leave by"), moment_text(event.leave_by, code) if event.leave_by else ""),
        (say("Budget"), money_text(event.budget, code) if event.budget else ""),
        (say("On hand"), ", ".join(event.on_hand)),
        (say("Nothing raw or under its core for"), desk.tongue.listed(fragile)),
    )
    return tuple((name, text) for name, text in found if text)
