"""The costing sheet as a table for a spreadsheet: a row for every line of every dish, and for every dish."""

from __future__ import annotations

import csv
import io
from collections.abc import Iterator

from recipec.emit.cost_words import dish_title
from recipec.emit.market_csv import cell
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


def cost_csv(costing: Costing) -> bytes:
    """`line` rows are marks, `dish` and `component` rows their sums (what a component costs is in the dishes made with it, so it
    is not added again), `total` rows the whole. UTF-8 with a byte order mark, without which common spreadsheets misread `½`."""
    table = io.StringIO(newline="")
    writer = csv.writer(table, lineterminator="\r\n")
    writer.writerow(HEADER)
    for row in _rows(costing):
        writer.writerow(cell(text) for text in row)
    return table.getvalue().encode("utf-8-sig", "backslashreplace")


def _rows(costing: Costing) -> Iterator[tuple[str, ...]]:
    for kind, dishes in (("dish", costing.dishes), ("component", costing.components)):
        for dish in dishes:
            for line in dish.lines:
                yield _line(costing, dish, line)
            yield _sum(costing, kind, dish, dish.used, "at least" if dish.at_least else "")
    least = "at least" if costing.at_least else ""
    yield _sum(costing, "total", None, costing.used, least, "on the plates")
    if costing.seasoning_part:
        yield _sum(costing, "total", None, costing.seasoning, "", "seasoning allowance")
    yield _sum(costing, "total", None, costing.till, least, "till, whole packs")
    if costing.budget is not None:
        yield _sum(costing, "total", None, costing.budget, "", "budget")


def _line(costing: Costing, dish: DishCost, line: CostLine) -> tuple[str, ...]:
    return (
        "line",
        dish_title(dish),
        _plates(dish),
        line.name,
        line.need,
        decimal(line.left * 100),
        line.buy,
        line.ap_rate,
        line.ep_rate,
        "" if line.cost is None else str(line.cost.value),
        "" if line.cost is None else costing.currency,
        "" if line.why is None else line.why.value,
        line.span.source.name,
        str(line.span.position.line),
    )


def _sum(
    costing: Costing, kind: str, dish: DishCost | None, money: Money, remark: str, item: str = ""
) -> tuple[str, ...]:
    head = (kind, "" if dish is None else dish_title(dish), "" if dish is None else _plates(dish), item)
    return (*head, "", "", "", "", "", str(money.value), costing.currency, remark, "", "")


def _plates(dish: DishCost) -> str:
    return "" if dish.plates is None else decimal(dish.plates)
