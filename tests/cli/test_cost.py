"""`recipec cost` as a cook calls it."""

from __future__ import annotations

import csv
import io
import json
from decimal import Decimal
from pathlib import Path
from typing import Any

import jsonschema  # type: ignore[import-untyped]
import pytest

from recipec.emit.json_papers import schema
from tests.cli.conftest import Run

RECIPES = Path(__file__).parents[2] / "recipes"
EVENTS = ("easter-table", "late-winter-supper", "juniper-neck-supper")


def data(run: Run, *words: str) -> Any:
    found = json.loads(run("cost", *words, "--format", "json", "--book", str(RECIPES)).out)
    jsonschema.validate(found, json.loads(schema("cost")))
    return found


@pytest.mark.parametrize("event", EVENTS)
def test_the_demo_book_adds_up_and_keeps_its_budgets(run: Run, event: str) -> None:
    found = data(run, event)

    def total(rows: list[Any], key: str) -> Decimal:
        return sum((Decimal(row[key]["value"]) for row in rows if row[key] is not None), Decimal(0))

    assert total(found["dishes"], "used") == Decimal(found["used"]["value"])
    assert total(found["dishes"], "total") == Decimal(found["total"]["value"])
    assert total(found["items"], "till") == Decimal(found["till"]["value"])
    assert total(found["items"], "used") == Decimal(found["used"]["value"])
    for dish in (*found["dishes"], *found["components"]):
        assert total(dish["lines"], "cost") == Decimal(dish["used"]["value"])
    assert found["unpriced"] == found["problems"] == []
    assert Decimal(found["left"]["value"]) >= 0
    assert Decimal(found["left"]["value"]) + Decimal(found["till"]["value"]) == Decimal(found["budget"]["value"])


@pytest.mark.parametrize("event", EVENTS)
def test_text_keeps_to_eighty_columns(run: Run, event: str) -> None:
    said = run("cost", event, "--book", str(RECIPES)).out
    assert all(len(line) <= 80 for line in said.splitlines()), [line for line in said.splitlines() if len(line) > 80]
    assert "At the till, whole packs" in said and "Left of the budget" in said


def test_a_dish_by_itself(run: Run, book: Path) -> None:
    said = run("cost", "white-bean-soup", "--for", "8").out
    assert said.splitlines()[0].endswith("8 plates")
    assert "Budget" not in said
    assert "No price known for  olive oil" in said


def test_a_table_for_a_spreadsheet(run: Run) -> None:
    raw = run("cost", EVENTS[0], "--format", "csv", "--book", str(RECIPES)).out
    rows = list(csv.DictReader(io.StringIO(raw.removeprefix("\ufeff"))))
    sums: dict[str, Decimal] = {}
    for row in rows:
        if row["row"] == "line" and row["cost"]:
            sums[row["dish"]] = sums.get(row["dish"], Decimal(0)) + Decimal(row["cost"])
    said = {row["dish"]: Decimal(row["cost"]) for row in rows if row["row"] == "dish"}
    assert len(said) == 9
    for dish, cost in said.items():
        if not any(row["row"] == "component" and row["dish"] == dish for row in rows):
            assert sums[dish] == cost
    (whole,) = (row for row in rows if row["item"] == "on the plates")
    assert sum(said.values()) == Decimal(whole["cost"])


def test_a_page_that_travels_alone(run: Run, book: Path, tmp_path: Path) -> None:
    page = tmp_path / "sheet.html"
    run("cost", "friday-supper", "--format", "html", "-o", str(page))
    text = page.read_text("utf-8")
    assert "<svg" in text and "What each thing takes of the till" in text
    assert "href=" not in text.replace('href="#', "")


def test_what_is_not_there_is_told_with_the_nearest(run: Run, book: Path) -> None:
    assert "friday-supper" in run("cost", "friday-super", code=2).err
    assert "--for is for dishes" in run("cost", "friday-supper", "--for", "3", code=2).err


def test_over_the_budget_is_told_and_is_no_error(run: Run, book: Path) -> None:
    event = book / "friday-supper.event"
    event.write_text(event.read_text().replace("budget: 60 EUR", "budget: 5 EUR\nprice: 2 EUR"))
    said = run("cost", "friday-supper")
    assert "OVER THE BUDGET BY" in said.out
    assert "Food cost" in said.out
    assert "over-budget" in run("check").out


def test_what_is_unknown_is_said_without_a_budget_too(run: Run, book: Path) -> None:
    event = book / "friday-supper.event"
    event.write_text(event.read_text("utf-8").replace("budget: 60 EUR\n", ""), "utf-8")
    prices = book / "prices.csv"
    prices.write_text(prices.read_text("utf-8").replace("sage,", "sorrel,"), "utf-8")
    assert run("check").out == ""
    said = run("cost", "friday-supper")
    assert "no-price" in said.err and "sage" in said.err and "no-price" not in said.out
