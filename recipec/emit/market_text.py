"""The market list as plain text, 80 columns, with boxes to tick."""

from __future__ import annotations

from itertools import groupby

from recipec.emit.money import money_text
from recipec.emit.plain import page, rule, title_line, wrap
from recipec.measure.units import NOMINAL
from recipec.plan.market_types import Asked, Market, MarketLine


def market_text(market: Market) -> str:
    """By department; under each thing, which mark of which dish asked for how much."""
    lines = [*title_line(f"Market list: {' and '.join(market.titles)}"), rule("═")]
    for department, group in groupby(market.lines, key=lambda line: line.department):
        lines += ["", department.upper(), rule()]
        for line in group:
            lines += _line(line, "[ ] ")
    if not market.lines:
        lines += ["", "Nothing to get."]
    if market.on_hand:
        lines += ["", "ON HAND, not to be bought", rule()]
        for line in market.on_hand:
            lines += _line(line, "    ")
    lines += ["", rule("═"), *_totals(market)]
    for left in market.surplus:
        lines += wrap(f"{left.title}: {left.text} over, from whole batches.", "Left over  ")
    for problem in market.problems:
        lines += wrap(problem, "Not reckoned  ")
    return page(lines)


def asked_text(asked: Asked) -> str:
    """`2 cloves: Braised shoulder, braised-shoulder.dish:14`."""
    without = "".join(f", without {food}" for food in asked.apart)
    place = f"{asked.span.source.name}:{asked.span.position.line}"
    return f"{asked.text}{without}: {asked.title}, {place}"


def buy_text(line: MarketLine) -> str:
    """`2 × 500 g, Harbour Stores`; '' when nothing is bought by the pack."""
    return " + ".join(f"{buy.count} × {buy.pack_text}" + (f", {buy.shop}" if buy.shop else "") for buy in line.buy)


def _line(line: MarketLine, box: str) -> list[str]:
    of = "of " if line.need and all(term.unit.name in NOMINAL for term in line.need[-1].terms) else ""
    name = f"{line.need_text} {of}{line.name}" if line.need_text else line.name
    price = money_text(line.price) if line.price is not None else ("" if line.on_hand else "price unknown")
    lines = title_line(name, price, box)
    if line.buy:
        over = f"; {line.surplus_text} over" if line.surplus_text else ""
        lines += wrap(f"buy {buy_text(line)}{over}", "      ")
    if line.instead:
        lines += wrap(f"or {', or '.join(line.instead)}", "      ")
    for asked in (*line.asked_by, *line.unmeasured):
        lines += wrap(asked_text(asked), "      · ")
    return lines


def _totals(market: Market) -> list[str]:
    least = "at least " if market.at_least else ""
    lines = []
    if market.till is not None and market.used is not None:
        lines += title_line("At the till, whole packs", f"{least}{money_text(market.till)}")
        lines += title_line("Of that on the plates", f"{least}{money_text(market.used)}")
    if market.unpriced:
        lines += wrap(", ".join(market.unpriced), "No price known for  ", "    ")
    return lines
