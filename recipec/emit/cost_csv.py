"""The costing sheet as a table for a spreadsheet: a row for every line of every dish, and for every dish."""

from __future__ import annotations

import csv
import io
from collections.abc import Iterator

from recipec.emit.cost_words import dish_title
from recipec.emit.market_csv import cell
from recipec.measure.language import Language, language_of
from recipec.measure.numerals import decimal
from recipec.model.prices import Money
from recipec.plan.costing_types import Costing, CostLine, DishCost

HEADER = (
    "row",
    "dish",
    "plates",
    "item",
    "need",
    "yield %",
    "to buy",
    "price as bought",
    "price of edible portion",
    "cost",
    "currency",
    "remark",
    "file",
    "line",
)


def cost_csv(costing: Costing, language: str = "en") -> bytes:
    """Heads and kinds of rows are English in every language, for scripts.

    `line` rows are marks, `dish` and `component` rows their sums (what a component costs is in the dishes made with it, so it
    is not added again), `total` rows the whole. UTF-8 with a byte order mark, without which common spreadsheets misread `½`."""
    table = io.StringIO(newline="")
    writer = csv.writer(table, lineterminator="\r\n")
    writer.writerow(HEADER)
    for row in _rows(costing, language_of(language)):
        writer.writerow(cell(text) for text in row)
    return table.getvalue().encode("utf-8-sig", "backslashreplace")


def _rows(costing: Costing, tongue: Language) -> Iterator[tuple[str, ...]]:
    at_least = tongue.say("at least", context="remark")
    for kind, dishes in (("dish", costing.dishes), ("component", costing.components)):
        for dish in dishes:
            title = dish_title(dish, tongue)
            for line in dish.lines:
                yield _line(costing, dish, line, tongue)
            yield _sum(costing, (kind, title, _plates(dish), ""), dish.used, at_least if dish.at_least else "")
    least = at_least if costing.at_least else ""
    yield _sum(costing, ("total", "", "", tongue.say("on the plates")), costing.used, least)
    if costing.seasoning_part:
        yield _sum(costing, ("total", "", "", tongue.say("seasoning allowance")), costing.seasoning, "")
    yield _sum(costing, ("total", "", "", tongue.say("till, whole packs")), costing.till, least)
    if costing.budget is not None:
        yield _sum(costing, ("total", "", "", tongue.say("budget")), costing.budget, "")


def _line(costing: Costing, dish: DishCost, line: CostLine, tongue: Language) -> tuple[str, ...]:
    return (
        "line",
        dish_title(dish, tongue),
        _plates(dish),
        line.name,
        line.need,
        decimal(line.left * 100),
        line.buy,
        line.ap_rate,
        line.ep_rate,
        "" if line.cost is None else str(line.cost.value),
        "" if line.cost is None else costing.currency,
        "" if line.why is None else tongue.say(line.why.value, context="uncosted"),
        line.span.source.name,
        str(line.span.position.line),
    )


def _sum(costing: Costing, head: tuple[str, str, str, str], money: Money, remark: str) -> tuple[str, ...]:
    return (*head, "", "", "", "", "", str(money.value), costing.currency, remark, "", "")


def _plates(dish: DishCost) -> str:
    return "" if dish.plates is None else decimal(dish.plates)
