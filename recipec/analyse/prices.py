"""`prices.csv` read row by row: a bad row is a finding with its row and column, and the others stand."""

from __future__ import annotations

from datetime import date
from typing import NamedTuple

from recipec.analyse.context import Analysed, Context, Notes
from recipec.analyse.dimensions import region_of
from recipec.analyse.names import identify
from recipec.analyse.price_cells import Wrong, day_of, money_of, pack_of, region_paid_in
from recipec.analyse.table_rows import Row, rows_of
from recipec.base.finding import Fix, Label
from recipec.base.source import Source
from recipec.base.span import Span
from recipec.base.suggest import nearest
from recipec.measure.quantity import Amount
from recipec.model.prices import Price

COLUMNS = ("item", "pack", "price", "shop", "seen")
_NEEDED = ("item", "pack", "price")


class _Table(NamedTuple):
    """What the first row says: column name → its place, how many there are, what parts them."""

    places: dict[str, int]
    width: int
    separator: str


def read_prices(source: Source, context: Context) -> Analysed[tuple[Price, ...]]:
    """The price book, in the order of its rows. Of one pack at one shop that stands there twice, the one seen later."""
    notes = Notes()
    separator, rows = rows_of(source, COLUMNS)
    head = next(rows, None)
    if head is None:
        return Analysed((), ())
    places = _columns(head, notes)
    if places is None:
        return Analysed((), notes.done())
    table = _Table(places, len(head.cells), separator)
    found = [price for row in rows if (price := _price(row, table, context, notes)) is not None]
    return Analysed(_latest(found, notes), notes.done())


def _columns(head: Row, notes: Notes) -> dict[str, int] | None:
    """Column name → its place; None when one that is needed is missing."""
    places: dict[str, int] = {}
    names = [name.lower() for name in head.cells]
    missing = [name for name in _NEEDED if name not in names]
    if missing:
        notes.add(
            "bad-row",
            head.span,
            f"The first row has no column `{missing[0]}`.",
            f"Write the first row as: {','.join(COLUMNS)}",
        )
    for place, (name, span) in enumerate(zip(names, head.spans, strict=True)):
        if name in places:
            notes.add("bad-row", span, f"The column `{name}` is here twice.", "Keep one; the first counts.")
        elif name in COLUMNS:
            places[name] = place
        elif name and len(missing) < len(_NEEDED):
            near = nearest(name, COLUMNS)
            hint = f"Did you mean `{near[0]}`?" if near else f"The columns are: {', '.join(COLUMNS)}."
            notes.add("bad-row", span, f"A price list has no column `{head.cells[place]}`.", hint)
    return None if missing else places


def _price(row: Row, table: _Table, context: Context, notes: Notes) -> Price | None:
    line = row.spans[0].position.line
    if row.open_quote is not None:
        notes.add(
            "bad-row",
            row.open_quote,
            f"Row {line}: a quote is opened here and not closed.",
            "Close it in the same row, or take it away.",
        )
        return None
    if any(row.cells[table.width :]):
        hint = "Each row has as many cells as the first one."
        if table.separator == ",":
            hint += ' A cell with a comma in it stands in quotes: "2,40".'
        notes.add("bad-row", row.span, f"Row {line}: there are more cells here than columns.", hint)
        return None
    settings = context.settings
    cells = _Cells(row, table, line, notes)
    item = cells.text("item")
    if not item:
        cells.bad("item", Wrong("there is no name here.", "Write what it is, as a dish would: plain flour"))
        return None
    money = money_of(cells.text("price"), settings.currency, settings.numbers or settings.language)
    currency = settings.currency if isinstance(money, Wrong) else money.currency
    region = region_paid_in(currency, region_of(settings.measures))
    pack = pack_of(cells.text("pack"), item, region, settings.numbers or settings.language)
    seen: date | Wrong | None = day_of(cells.text("seen")) if cells.text("seen") else None
    # Each bad cell has its own finding, so that one correction is enough.
    for name, value in (("pack", pack), ("price", money), ("seen", seen)):
        if isinstance(value, Wrong):
            cells.bad(name, value)
    if isinstance(pack, Wrong) or isinstance(money, Wrong):
        return None
    day = None if isinstance(seen, Wrong) else seen
    key = identify(item, None, context.larder).key
    seen_span = cells.span("seen") if day is not None else None
    return Price(key, item, pack, money, cells.text("shop"), day, cells.span("item"), seen_span)


class _Cells(NamedTuple):
    """One row by column names."""

    row: Row
    table: _Table
    line: int
    notes: Notes

    def text(self, name: str) -> str:
        """The cell's text; '' when the row or the table has none."""
        place = self.table.places.get(name, len(self.row.cells))
        return self.row.cells[place] if place < len(self.row.cells) else ""

    def span(self, name: str) -> Span:
        """Where the cell stands; the row's end when it has none."""
        place = self.table.places.get(name, len(self.row.cells))
        if place < len(self.row.cells):
            return self.row.spans[place]
        end = self.row.spans[-1].end
        return Span(self.row.spans[-1].source, end, end)

    def bad(self, name: str, wrong: Wrong) -> None:
        """Says what is wrong with a cell, and offers what to put there when that is sure."""
        span = self.span(name)
        fixes: tuple[Fix, ...] = ()
        if wrong.instead:
            quoted = self.table.separator in wrong.instead or span.text.startswith('"')
            text = f'"{wrong.instead}"' if quoted else wrong.instead
            fixes = (Fix(span, text, f"Write {wrong.instead}"),)
        self.notes.add("bad-row", span, f"Row {self.line}, {name}: {wrong.message}", wrong.hint, fixes=fixes)


def _latest(prices: list[Price], notes: Notes) -> tuple[Price, ...]:
    """Without what is out of date; two prices of one day for one pack can't both be right."""
    kept: dict[tuple[str, Amount, str, str], Price] = {}
    for price in prices:
        key = (price.item, price.pack, price.shop.casefold(), price.price.currency)
        other = kept.get(key)
        if other is None or (price.seen or date.min) > (other.seen or date.min):
            kept[key] = price
        elif price.seen == other.seen and price.price != other.price:
            notes.add(
                "bad-row",
                price.span,
                f"Row {price.span.position.line}: the same pack at the same shop has another price above.",
                "Keep the right one, or give each the day it was seen: the later one counts.",
                labels=(Label(other.span, "the price that counts until then"),),
            )
    return tuple(sorted(kept.values(), key=lambda price: price.span.start))
