"""The market list as a page: by department, with a box to tick, and who asked for what."""

from __future__ import annotations

from dataclasses import dataclass
from itertools import groupby

from recipec.emit.desk import Desk, desk_for_one, market_list, page_name
from recipec.emit.market_csv import market_csv
from recipec.emit.money import money_text
from recipec.emit.plain import capital
from recipec.emit.request import Paper, Request
from recipec.measure.language import Language
from recipec.measure.quantity import one, quantity
from recipec.measure.units import unit
from recipec.plan.market_types import Asked, Buy, Market, MarketLine

_ONE_PIECE = one(quantity(1, unit("piece")))


@dataclass(frozen=True, slots=True)
class LineText:
    """A line of the list, worded. `asked` are the dishes that asked for it."""

    id: str
    name: str
    need: str
    buy: tuple[BuyText, ...]
    surplus: str
    price: str
    asked: tuple[AskedText, ...]
    instead: str


@dataclass(frozen=True, slots=True)
class BuyText:
    """So many packs, in words, and where they are to be had, '' where no shop is named."""

    packs: str
    shop: str


@dataclass(frozen=True, slots=True)
class AskedText:
    """One dish that asks, and its marks in words; `href` from the output folder, '' when there is no page to lead to."""

    title: str
    href: str
    marks: tuple[str, ...]


@dataclass(frozen=True, slots=True)
class Department:
    """A department and its lines."""

    id: str
    name: str
    lines: tuple[LineText, ...]


def markets(desk: Desk) -> tuple[Paper, ...]:
    """A market list, as a page and as a table for a spreadsheet, for every booking."""
    papers: list[Paper] = []
    for event in desk.book.events:
        found = desk.reckoned[event.key].market
        path = desk.paths.event(event.key, "market.html")
        papers.append(list_paper(desk, found, path, back=event.title, alone=False))
        papers.append(Paper(desk.paths.event(event.key, "market.csv"), market_csv(found, desk.book.settings.language)))
    return tuple(papers)


def market_page(request: Request, event_keys: tuple[str, ...]) -> Paper:
    """One list for several bookings, that travels alone."""
    return list_paper(desk_for_one(request), market_list(request, event_keys), "market.html", back="", alone=True)


def list_paper(desk: Desk, found: Market, path: str, *, back: str, alone: bool) -> Paper:
    """A list at `path`. `back` names the booking whose page it leads back to, '' for none."""
    language, tongue = desk.book.settings.language, desk.tongue
    title = tongue.say(" and ").join(found.titles)
    return desk.paper(
        path,
        "market.html",
        ("base.css", "market.css"),
        alone=alone,
        kind="market",
        page_title=page_name(tongue.say("Market list"), title),
        title=title,
        back=back,
        market=found,
        departments=_departments(desk, found.lines, alone),
        on_hand=tuple(_line(desk, line, f"hand-{place}", alone) for place, line in enumerate(found.on_hand, 1)),
        till=money_text(found.till, language) if found.till else "",
        used=money_text(found.used, language) if found.used else "",
    )


def _departments(desk: Desk, lines: tuple[MarketLine, ...], alone: bool) -> tuple[Department, ...]:
    numbered = enumerate(lines, 1)
    return tuple(
        Department(
            f"part-{place}",
            capital(desk.tongue.say(name, context="department")),
            tuple(_line(desk, line, f"line-{number}", alone) for number, line in group),
        )
        for place, (name, group) in enumerate(groupby(numbered, key=lambda pair: pair[1].department), 1)
    )


def _line(desk: Desk, line: MarketLine, place: str, alone: bool) -> LineText:
    return LineText(
        id=place,
        name=line.name,
        need=line.need_text,
        buy=tuple(_buy(buy) for buy in line.buy),
        surplus=line.surplus_text,
        price=money_text(line.price, desk.book.settings.language) if line.price else "",
        asked=_askers(desk, (*line.asked_by, *line.unmeasured), alone),
        instead=desk.tongue.either(line.instead),
    )


def _buy(buy: Buy) -> BuyText:
    # A pack of one piece is that piece: nobody buys "6 × 1 piece".
    return BuyText(str(buy.count) if buy.pack == _ONE_PIECE else f"{buy.count} × {buy.pack_text}", buy.shop)


def _askers(desk: Desk, asked: tuple[Asked, ...], alone: bool) -> tuple[AskedText, ...]:
    by_dish: dict[str, list[Asked]] = {}
    for one_mark in asked:
        by_dish.setdefault(one_mark.dish, []).append(one_mark)
    return tuple(
        AskedText(
            marks[0].title,
            "" if alone else desk.pages.get(dish, ""),
            tuple(dict.fromkeys(_mark(mark, desk.tongue) for mark in marks)),
        )
        for dish, marks in by_dish.items()
    )


def _mark(asked: Asked, tongue: Language) -> str:
    text = ", ".join((asked.text, *(tongue.say("without %(food)s", food=food) for food in asked.apart)))
    return tongue.say("line\u00a0%(number)s: %(text)s", number=asked.span.position.line, text=text)
