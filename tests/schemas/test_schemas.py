"""What the commands write as JSON, held to the schemas that are shipped."""

from __future__ import annotations

import json
from fractions import Fraction
from typing import Any

import pytest
from jsonschema import Draft202012Validator, ValidationError  # type: ignore[import-untyped]

from recipec.base.finding import Finding, Fix, Label
from recipec.base.source import Source
from recipec.base.span import Span
from recipec.emit.json_papers import SCHEMAS, card_json, market_json, schema
from recipec.plan.fill import dish_sheet
from recipec.plan.market import market
from recipec.report.json import render
from tests.changed import replace
from tests.plan.make import amount, book, buy, dish, stocked
from tests.plan.supper import supper


def check(name: str, text: str) -> None:
    Draft202012Validator(json.loads(schema(name))).validate(json.loads(text))


@pytest.mark.parametrize("name", SCHEMAS)
def test_schemas_are_schemas(name: str) -> None:
    Draft202012Validator.check_schema(json.loads(schema(name)))


@pytest.mark.parametrize("plates", [None, Fraction(8), Fraction(7, 2)])
def test_cards(plates: Fraction | None) -> None:
    for one in supper().dishes:
        check("card", card_json(dish_sheet(supper(), stocked(), one.key, plates)))


def test_a_card_with_ranges_and_sums() -> None:
    compound = replace(amount(1, "us_cup"), terms=(*amount(1, "us_cup").terms, *amount(2, "us_tbsp").terms))
    one = dish("plate", buy("2-3 carrots", "carrots", amount(2, high=3)), buy("x milk", "milk", compound))
    text = card_json(dish_sheet(book([one]), stocked(), "plate"))
    check("card", text)
    first, second = (line["amount"] for line in json.loads(text)["ingredients"])
    assert (first["value"], first["high"]) == ("2", "3")
    assert second["plus"] == [{"value": "2", "unit": "us_tbsp"}]


def test_market_lists() -> None:
    check("market", market_json(market(supper(), stocked(), ["allotment"])))
    check("market", market_json(market(replace(supper(), prices=()), stocked(), ["allotment"])))


def test_findings() -> None:
    span = Span(Source("a.dish", "Soup\n\n[200 g"), 6, 12)
    finding = Finding(
        "unclosed-mark", span, "Not closed.", (Label(span, "here"),), ("Close it.",), (Fix(span, "]", "close"),)
    )
    check("check", render([finding]))
    check("check", render([]))


def test_sums_at_the_bench() -> None:
    side = {"value": "3/2", "unit": "us_cup", "text": "1½ cups"}
    check(
        "convert",
        json.dumps({"from": side, "to": {"value": "375/2", "unit": "g", "text": "188 g"}, "via": "its density"}),
    )


@pytest.mark.parametrize("wrong", [{}, {"events": []}, {"surprise": 1}])
def test_other_shapes_are_refused(wrong: dict[str, Any]) -> None:
    with pytest.raises(ValidationError):
        check("market", json.dumps(wrong))
