"""The front of a client's copy: the evening, its menu, a note from the chef, and what the dishes are made with."""

from __future__ import annotations

from recipec.emit.cookbook import link
from recipec.emit.desk import Desk
from recipec.emit.event_page import course_text
from recipec.emit.paths import HOME
from recipec.emit.request import Paper
from recipec.measure.dates import day_words


def client_home(desk: Desk) -> tuple[Paper, ...]:
    """The home page of a copy, which is a book with one event."""
    event = desk.book.events[0]
    served = {order.dish for course in event.courses for order in course.orders}
    return (
        desk.paper(
            HOME,
            "client.html",
            ("base.css", "contents.css", "event.css"),
            kind="home",
            event=event,
            when=day_words(event.serve.date(), desk.tongue.code) if event.serve else "",
            courses=tuple(course_text(desk, course) for course in event.courses),
            components=tuple(link(desk, dish.key) for dish in desk.book.dishes if dish.key not in served),
        ),
    )
