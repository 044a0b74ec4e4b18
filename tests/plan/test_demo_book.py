"""Every card and list of the demo book: nothing a cook should not read, and the shapes that were promised."""

from __future__ import annotations

import json
import re
from fractions import Fraction
from pathlib import Path

import pytest
from jsonschema import Draft202012Validator  # type: ignore[import-untyped]

from recipec.book.compile import Build, compile_book
from recipec.emit.card_text import card_text
from recipec.emit.json_papers import card_json, market_json, schema
from recipec.emit.market_csv import market_csv
from recipec.emit.market_text import market_text
from recipec.emit.plain import WIDTH, columns
from recipec.measure.show import Style
from recipec.plan.fill import dish_sheet
from recipec.plan.market import market

RECIPES = Path(__file__).parents[2] / "recipes"
# More than three decimals, a fraction written out, or a part of an egg: none of them can be weighed out.
_FORBIDDEN = re.compile(r"\d\.\d{4,}|\d+/\d{2,}|\d+\.\d+\s+(?:small |medium |large )?eggs?\b|\bNone\b|Fraction|  ,")


@pytest.fixture(scope="module")
def demo() -> Build:
    return compile_book(RECIPES)


@pytest.mark.parametrize("plates", [None, Fraction(1), Fraction(7), Fraction(53), Fraction(11, 2)])
@pytest.mark.parametrize("show", ["as written", "metric", "us"])
def test_cards(demo: Build, plates: Fraction | None, show: str) -> None:
    validator = Draft202012Validator(json.loads(schema("card")))
    assert demo.book.dishes
    for dish in demo.book.dishes:
        sheet = dish_sheet(demo.book, demo.larder, dish.key, plates, Style(show), demo.findings)  # type: ignore[arg-type]
        text = card_text(sheet)
        assert max(columns(line) for line in text.splitlines()) <= WIDTH
        assert not _FORBIDDEN.search(text), (dish.key, _FORBIDDEN.search(text))
        validator.validate(json.loads(card_json(sheet)))


def test_market_lists(demo: Build) -> None:
    validator = Draft202012Validator(json.loads(schema("market")))
    keys = [event.key for event in demo.book.events]
    for chosen in ([key] for key in keys):
        found = market(demo.book, demo.larder, chosen)
        assert found.lines
        assert found.problems == ()
        validator.validate(json.loads(market_json(found)))
        assert not _FORBIDDEN.search(market_text(found))
        assert market_csv(found) == market_csv(market(demo.book, demo.larder, chosen))
    together = market(demo.book, demo.larder, keys)
    assert together == market(demo.book, demo.larder, reversed(keys))
    every_item = {
        line.item
        for key in keys
        for one in [market(demo.book, demo.larder, [key])]
        for line in (*one.lines, *one.on_hand)
    }
    assert {line.item for line in (*together.lines, *together.on_hand)} == every_item
