"""The whole book as data, beside its pages: every dish as its card, every booking with its market list."""

from __future__ import annotations

import json
from collections.abc import Mapping

from recipec.emit.cost_json import cost_data
from recipec.emit.desk import Desk
from recipec.emit.json_papers import Json, card_data, market_data
from recipec.emit.render import clean
from recipec.emit.request import Paper
from recipec.plan.costing import event_costing
from recipec.plan.styling import style_of


def book_json(desk: Desk) -> tuple[Paper, ...]:
    """`book.json`: dishes and bookings by key, each with the path of its page."""
    settings = desk.book.settings
    dishes: dict[str, Json] = {
        key: {"page": desk.paths.dish(key), "card": dict(card_data(sheet))} for key, sheet in desk.sheets.items()
    }
    events: dict[str, Json] = {
        event.key: {
            "page": desk.paths.event(event.key),
            "title": event.title,
            "cost": dict(
                cost_data(
                    event_costing(desk.book, desk.request.larder, event, desk.reckoned[event.key], style_of(desk.book))
                )
            ),
            "market": dict(market_data(desk.reckoned[event.key].market)),
        }
        for event in desk.book.events
    }
    text = (
        f'{{"title": {_line(settings.title)}, "language": {_line(settings.language)},\n'
        f'"dishes": {{{_lines(dishes)}}},\n"events": {{{_lines(events)}}}}}\n'
    )
    return (Paper("book.json", clean(text).encode("utf-8")),)


def _lines(entries: Mapping[str, Json]) -> str:
    """A line for each dish or booking: a change of one is a change of its line, and json's fast encoder knows no indents."""
    return ",".join(f"\n{_line(key)}: {_line(value)}" for key, value in entries.items())


def _line(value: Json) -> str:
    return json.dumps(value, ensure_ascii=False)
