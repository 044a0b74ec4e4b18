"""`prices.csv` read row by row: a bad row is a finding with its row and column, and the others stand."""

from __future__ import annotations

import csv
import io
import re
from collections.abc import Iterator
from datetime import date
from decimal import Decimal
from typing import NamedTuple

from recipec.analyse.context import Analysed, Context, Notes
from recipec.analyse.dimensions import Measurer, region_of
from recipec.analyse.names import identify
from recipec.base.source import Source
from recipec.base.span import Span
from recipec.base.suggest import nearest
from recipec.measure.quantity import Amount
from recipec.measure.units import Region
from recipec.model.prices import Money, Price
from recipec.syntax.parse import parse_amount

COLUMNS = ("item", "pack", "price", "shop", "seen")
_NEEDED = ("item", "pack", "price")
_SUM = re.compile(r"(?:(?P<before>[A-Z]{3})\s*)?(?P<number>\d+(?:[.,]\d{1,4})?)(?:\s*(?P<after>[A-Z]{3}))?")
_CELL = re.compile(r'\s*"(?:[^"]|"")*"\s*|[^,;\t\r\n]*')


class Row(NamedTuple):
    """One row: its cells, and where each stands in the file."""

    cells: tuple[str, ...]
    spans: tuple[Span, ...]


def rows_of(source: Source) -> Iterator[Row]:
    """Rows that hold anything. Cells are parted by commas, or by semicolons or tabs where the first line has those instead."""
    head = source.line_text(1)
    mark = next((sign for sign in (",", ";", "\t") if sign in head), ",")
    reader = csv.reader(io.StringIO(source.text, newline=""), delimiter=mark)
    done = 0
    while True:
        try:
            cells = next(reader)
        except StopIteration:
            return
        except csv.Error:
            # A NUL or an endless quote: the rest can't be told into rows. What stood above stands.
            yield Row(("",), (Span(source, source.offset(done + 1, 1), len(source.text)),))
            return
        start, done = source.offset(done + 1, 1), reader.line_num
        if any(cell.strip() for cell in cells):
            yield Row(tuple(cell.strip() for cell in cells), tuple(_spans(source, start, len(cells))))


def _spans(source: Source, start: int, count: int) -> Iterator[Span]:
    for _ in range(count):
        match = _CELL.match(source.text, start)
        assert match is not None, "the pattern matches the empty text"
        text = match.group()
        lead = len(text) - len(text.lstrip())
        yield Span(source, start + lead, start + len(text.rstrip()) if text.strip() else start + lead)
        start = match.end() + 1


def read_prices(source: Source, context: Context) -> Analysed[tuple[Price, ...]]:
    """The price book, in the order of its rows."""
    notes = Notes()
    rows = list(rows_of(source))
    if not rows:
        return Analysed((), ())
    places = _columns(rows[0], notes)
    if places is None:
        return Analysed((), notes.done())
    prices = [price for row in rows[1:] if (price := _price(row, places, context, notes)) is not None]
    return Analysed(tuple(prices), notes.done())


def _columns(head: Row, notes: Notes) -> dict[str, int] | None:
    """Column name → its place; None when one that is needed is missing."""
    places: dict[str, int] = {}
    for place, (name, span) in enumerate(zip(head.cells, head.spans, strict=True)):
        key = name.lower()
        if key in COLUMNS:
            places.setdefault(key, place)
        elif key:
            near = nearest(key, COLUMNS)
            hint = f"Did you mean `{near[0]}`?" if near else f"The columns are: {', '.join(COLUMNS)}."
            notes.add("bad-row", span, f"A price list has no column `{name}`.", hint)
    missing = [name for name in _NEEDED if name not in places]
    if missing:
        span = head.spans[0].to(head.spans[-1])
        notes.add(
            "bad-row",
            span,
            f"The first row has no column `{missing[0]}`.",
            f"Write the first row as: {','.join(COLUMNS)}",
        )
        return None
    return places


def _price(row: Row, places: dict[str, int], context: Context, notes: Notes) -> Price | None:
    line = row.spans[0].position.line

    def cell(name: str) -> tuple[str, Span]:
        place = places.get(name, len(row.cells))
        if place >= len(row.cells):
            end = row.spans[-1].end
            return "", Span(row.spans[-1].source, end, end)
        return row.cells[place], row.spans[place]

    def bad(name: str, message: str, hint: str) -> None:
        notes.add("bad-row", cell(name)[1], f"Row {line}, {name}: {message}", hint)

    item, item_span = cell("item")
    if not item:
        bad("item", "there is no name here.", "Write what it is, as a dish would: plain flour")
        return None
    money = _money(cell("price")[0], context.settings.currency)
    # What is paid in dollars stands on a shelf in America, whatever the book cooks by: its quart is 946 ml.
    region = Region.US if money is not None and money.currency == "USD" else region_of(context.settings.measures)
    pack = _pack(cell("pack")[1], item, Measurer(region, notes))
    if pack is None:
        bad("pack", "this is no pack that can be bought.", "Write it as 1 kg, 6, 1 bunch, 2 x 400 g or 250 ml.")
        return None
    if money is None:
        bad("price", "this is no price.", "Write a number, with its currency if it is not the book's: 2.40 or 2.40 GBP")
        return None
    seen_text = cell("seen")[0]
    seen = _day(seen_text)
    if seen_text and seen is None:
        bad("seen", "this is no day.", "Write it as 2026-10-17.")
    known = identify(item, None, context.larder)
    return Price(known.key, item, pack, money, cell("shop")[0], seen, item_span)


def _pack(span: Span, item: str, measurer: Measurer) -> Amount | None:
    # A quoted cell's amount stands between its quotes.
    text = span.text
    inner = span if not text.startswith('"') else Span(span.source, span.start + 1, span.end - 1)
    parsed = parse_amount(inner)
    if parsed is None or any(term.low <= 0 for term in parsed.terms):
        return None
    return measurer.food_amount(parsed, item)


def _money(text: str, currency: str) -> Money | None:
    match = _SUM.fullmatch(text.strip())
    if match is None or (match["before"] and match["after"]):
        return None
    return Money(Decimal(match["number"].replace(",", ".")), match["before"] or match["after"] or currency)


def _day(text: str) -> date | None:
    try:
        return date.fromisoformat(text)
    except ValueError:
        return None
