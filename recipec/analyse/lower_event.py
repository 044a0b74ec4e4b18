"""From tree to model: an event. Which dishes its marks mean is settled when the book is linked."""

from __future__ import annotations

from dataclasses import dataclass, field
from datetime import date, datetime, timedelta
from fractions import Fraction

from recipec.analyse.context import Analysed, Context, Notes
from recipec.analyse.dimensions import Measurer, region_of, settle_reading
from recipec.analyse.facts import Facts, accepted, hands, moment, money, one_of
from recipec.analyse.lower import key_of
from recipec.base.span import Span
from recipec.larder.names import folded
from recipec.measure.units import Region
from recipec.model import event as model
from recipec.model.reading import AfterCourse, Clock, TemperatureOf
from recipec.syntax import tree


def lower_event(file: tree.File, context: Context) -> Analysed[model.Event]:
    """An event with what is to be said of it by itself."""
    notes = Notes()
    facts = Facts(file)
    region = one_of(facts, "measures", tuple(item.value for item in Region), notes) or context.settings.measures
    measurer = Measurer(region_of(region), notes)
    title = file.title
    head = title.span if title is not None else file.span
    guests = facts.one("guests", tree.Guests)
    if guests is None and facts.fact("guests") is None:
        notes.add(
            "missing-fact",
            head,
            "This event does not say for how many it is.",
            "Add a line under the title: `guests: 8`.",
        )
    serve_fact = facts.one("serve", tree.DayTime)
    serve = None if serve_fact is None else moment(serve_fact, serve_fact.start, None, notes)
    if serve_fact is not None and serve_fact.date is None:
        notes.add(
            "bad-fact",
            serve_fact.span,
            "On which day is this served?",
            "Write the day before the time: serve: 2026-10-17 19:30",
        )
    if facts.fact("serve") is None:
        notes.add(
            "missing-fact",
            head,
            "This event does not say when it is served.",
            "Add a line under the title: `serve: 2026-10-17 19:30`.",
        )
    day = None if serve is None else serve.date()
    children = facts.one("children", tree.Children)
    kitchen = facts.fact("kitchen")
    budget, price = facts.one("budget", tree.Sum), facts.one("price", tree.Sum)
    reserve = facts.one("reserve", tree.Stretch)
    courses = _Courses(measurer, notes, day)
    prose = courses.read(file.blocks)
    event = model.Event(
        key=key_of(file.span.source.name),
        title=title.text if title is not None else key_of(file.span.source.name),
        span=file.span,
        title_span=head,
        guests=0 if guests is None else guests.number,
        expecting=0 if guests is None else guests.expecting,
        under_five=0 if guests is None else guests.under_five,
        children=0 if children is None else children.number,
        children_plate=Fraction(1) if children is None else children.plate,
        crew=facts.number("crew"),
        spare=facts.number("spare"),
        serve=serve,
        arrive=_at(facts, "arrive", day, notes),
        leave_by=_at(facts, "leave by", day, notes),
        prepare=_windows(facts, day, notes),
        kitchen=facts.text("kitchen") or None,
        hands=hands(facts.one("hands", tree.Hands)),
        budget=money(budget),
        price=money(price),
        on_hand=facts.items("on hand"),
        seats=_seats(facts, 0 if guests is None else guests.number, notes),
        aim=one_of(facts, "aim", ("calm", "fresh", "short"), notes) or "calm",
        reserve_s=Fraction(0) if reserve is None else reserve.seconds,
        measures=region,
        accepted=accepted(facts, notes),
        prose=prose,
        courses=tuple(courses.built),
        kitchen_span=None if kitchen is None else kitchen.span,
        budget_span=None if budget is None else budget.span,
        price_span=None if price is None else price.span,
    )
    _check_courses(event, notes)
    measurer.unsaid()
    return Analysed(event, notes.done())


def _at(facts: Facts, key: str, day: date | None, notes: Notes) -> datetime | None:
    value = facts.one(key, tree.DayTime)
    return None if value is None else moment(value, value.start, day, notes)


def _windows(facts: Facts, day: date | None, notes: Notes) -> tuple[model.Window, ...]:
    windows = []
    for _, value in facts.each("prepare", tree.DayTime):
        start = moment(value, value.start, day, notes)
        end = None if value.end is None else moment(value, value.end, day, notes)
        if start is None:
            continue
        if end is None:
            notes.add(
                "bad-fact",
                value.span,
                "Until when may work be done then?",
                "Write both ends: prepare: 2026-10-16 15:00-18:00.",
            )
            continue
        windows.append(model.Window(start, end if end > start else end + timedelta(days=1)))
    return tuple(windows)


def _seats(facts: Facts, guests: int, notes: Notes) -> tuple[model.Seat, ...]:
    needs: dict[int, list[model.Need]] = {}
    for fact, value in facts.each("seat", tree.Seat):
        if guests and not 1 <= value.seat <= guests:
            notes.add(
                "bad-fact",
                fact.name.span,
                f"There is no seat {value.seat}: the event is for {guests}.",
                f"Seats are counted from 1 to {guests}.",
            )
        for need in value.needs:
            found = model.Need(need.span, model.NeedKind(need.kind), need.what.text)
            needs.setdefault(value.seat, []).append(found)
    return tuple(model.Seat(number, tuple(needs[number])) for number in sorted(needs))


@dataclass(slots=True)
class _Courses:
    """Reads headings and the paragraphs below them."""

    measurer: Measurer
    notes: Notes
    day: date | None
    built: list[model.Course] = field(default_factory=list)

    def read(self, blocks: tuple[tree.Block, ...]) -> tuple[str, ...]:
        """Fills `built`; gives the client's prose from above the first course."""
        prose: list[str] = []
        heading: tree.Heading | None = None
        below: list[tree.Block] = []
        for block in blocks:
            if isinstance(block, tree.Heading):
                self._close(heading, below)
                heading, below = block, []
            elif heading is None:
                text = _plain(block)
                if text:
                    prose.append(text)
            else:
                below.append(block)
        self._close(heading, below)
        return tuple(prose)

    def _close(self, heading: tree.Heading | None, below: list[tree.Block]) -> None:
        if heading is None:
            return
        orders: list[model.Order] = []
        paragraphs = []
        for block in below:
            pieces = self._paragraph(block, orders)
            if pieces:
                paragraphs.append(pieces)
        start = end = after = after_s = None
        if heading.reading is not None:
            value = settle_reading(heading.reading, TemperatureOf.FOOD, False, self.measurer).value
            if isinstance(value, Clock):
                start = self._moment(value.start)
                end = None if value.end is None else self._moment(value.end)
            elif isinstance(value, AfterCourse):
                after, after_s = value.course, value.seconds
            else:
                self.notes.add(
                    "bad-reading",
                    heading.reading.span,
                    "A course is at a time of day, over a span, or after another course.",
                    "Write <20:10>, <18:30-19:15> or <25 min after Main>.",
                )
        shown = heading.name.text
        self.built.append(
            model.Course(heading.span, shown, start, end, after, after_s, tuple(paragraphs), tuple(orders))
        )

    def _moment(self, minute: int) -> datetime | None:
        return (
            None
            if self.day is None
            else datetime(self.day.year, self.day.month, self.day.day) + timedelta(minutes=minute)
        )

    def _paragraph(self, block: tree.Block, orders: list[model.Order]) -> tuple[model.Piece, ...]:
        pieces: list[tree.Piece] = []
        match block:
            case tree.Step():
                pieces = [piece for sentence in block.sentences for piece in sentence.pieces]
            case tree.LayOut():
                pieces = list(block.foods)
            case tree.Aside():
                pieces = list(block.pieces)
            case _:
                return ()
        built: list[model.Piece] = []
        for piece in pieces:
            match piece:
                case tree.Words():
                    built.append(model.Words(piece.text))
                case tree.Food():
                    built.append(model.OrderAt(len(orders)))
                    orders.append(self._order(piece))
                case tree.Reading():
                    built.append(model.ReadingAt(settle_reading(piece, TemperatureOf.FOOD, False, self.measurer)))
                case tree.Gear():
                    built.append(model.Words(piece.name.text))
        return tuple(built)

    def _order(self, food: tree.Food) -> model.Order:
        item = food.choices[0]
        plates: Fraction | None = None
        amount = None
        written = item.amount if item.amount is not None else (item.share.amount if item.share is not None else None)
        if written is not None:
            term = written.terms[0]
            if term.unit == "plate" or term.unit is None:
                plates = term.high
            else:
                amount = self.measurer.food_amount(written, item.name.text)
        without = tuple(_bare(detail.name.text) for detail in item.details if isinstance(detail, tree.Without))
        seats = tuple(seat for detail in item.details if isinstance(detail, tree.ForSeats) for seat in detail.seats)
        note = tuple(detail.text for detail in item.details if isinstance(detail, tree.Treatment))
        return model.Order(food.span, item.name.text, None, plates, amount, without, seats, note)


def _bare(words: str) -> str:
    """`without the crumb` is `without crumb`."""
    head, _, rest = words.partition(" ")
    return rest.strip() or words if head.casefold() == "the" else words


def _plain(block: tree.Block) -> str:
    match block:
        case tree.Step():
            pieces = [piece for sentence in block.sentences for piece in sentence.pieces]
        case tree.Aside():
            pieces = list(block.pieces)
        case _:
            return ""
    return " ".join(
        "".join(piece.text if isinstance(piece, tree.Words) else piece.span.text for piece in pieces).split()
    )


def _check_courses(event: model.Event, notes: Notes) -> None:
    names = {folded(course.name) for course in event.courses}
    for course in event.courses:
        if course.after is not None and folded(course.after) not in names:
            notes.add(
                "bad-reading",
                course.span,
                f"There is no course called `{course.after}` to come after.",
                f"The courses are: {', '.join(other.name for other in event.courses)}.",
            )
        for order in course.orders:
            for seat in order.seats:
                if event.guests and not 1 <= seat <= event.guests:
                    notes.add("bad-fact", order.span, f"There is no seat {seat}: the event is for {event.guests}.")
        _check_plates(event, course, notes)


def _check_plates(event: model.Event, course: model.Course, notes: Notes) -> None:
    """Plates that are counted must come to the guests, with or without the spare ones, children's as a plate or as their part."""
    counted = [(order, _plates(order)) for order in course.orders if _plates(order) is not None]
    if not counted or not event.guests or len(counted) != len(course.orders):
        return
    total = sum((plates for _, plates in counted if plates is not None), Fraction(0))
    allowed = set()
    for base in (Fraction(event.guests), event.plates() - event.crew - event.spare):
        for crew in (0, event.crew):
            allowed |= {base + crew, base + crew + event.spare}
    if total in allowed:
        return
    span: Span = counted[-1][0].span
    from_guests = event.guests + event.spare
    more = "too many" if total > max(allowed) else "too few"
    notes.add(
        "plates-dont-add-up",
        span,
        f"{course.name} comes to {total} {'plate' if total == 1 else 'plates'}, and there are {event.guests} guests"
        + (f" and {event.spare} spare" if event.spare else "")
        + f": {more}.",
        f"Make the plates of this course come to {from_guests}.",
    )


def _plates(order: model.Order) -> Fraction | None:
    if order.plates is not None:
        return order.plates
    return Fraction(len(order.seats)) if order.seats else None
