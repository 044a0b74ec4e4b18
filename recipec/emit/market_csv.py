"""The market list as a table for a spreadsheet: RFC 4180, and no cell that a spreadsheet would run."""

from __future__ import annotations

import csv
import io
from collections.abc import Iterable

from recipec.emit.market_text import asked_text, buy_text
from recipec.measure.language import Language, language_of
from recipec.measure.numerals import NO_BREAK
from recipec.plan.market_types import Market, MarketLine

HEADER = ("department", "item", "need", "buy", "surplus", "price", "currency", "on hand", "asked by", "instead")
_RUNS = ("=", "+", "-", "@", "\t", "\r", "\n")


def market_csv(market: Market, language: str = "en") -> bytes:
    """One row a thing, those on hand last. UTF-8 with a byte order mark, without which common spreadsheets misread `½`.

    The heads are English in every language, for scripts; what stands in the cells is for people.
    """
    tongue = language_of(language)
    table = io.StringIO(newline="")
    writer = csv.writer(table, lineterminator="\r\n")
    writer.writerow(HEADER)
    for line in (*market.lines, *market.on_hand):
        writer.writerow(cell(text) for text in _row(line, market.currency, tongue))
    return table.getvalue().encode("utf-8-sig", "backslashreplace")


def cell(text: str) -> str:
    """A cell that is text whatever it starts with: what would be a formula gets an apostrophe in front."""
    plain = text.replace(NO_BREAK, " ").replace("\x00", "\ufffd")
    # Some spreadsheets skip blanks before they look for a formula.
    return f"'{plain}" if plain.startswith(_RUNS) or plain.lstrip().startswith(_RUNS) else plain


def _row(line: MarketLine, currency: str, tongue: Language) -> Iterable[str]:
    priced = line.price is not None
    return (
        tongue.say(line.department, context="department"),
        line.name,
        line.need_text,
        buy_text(line),
        line.surplus_text,
        str(line.price.value) if line.price is not None else "",
        currency if priced else "",
        tongue.say("yes") if line.on_hand else "",
        "; ".join(asked_text(asked, tongue) for asked in (*line.asked_by, *line.unmeasured)),
        tongue.either(line.instead),
    )
