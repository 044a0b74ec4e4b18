"""Card and market list as text, CSV and JSON."""

from __future__ import annotations

import csv
import io
import json
from fractions import Fraction

import pytest

from recipec.emit.card_text import card_text
from recipec.emit.json_papers import card_json, market_json
from recipec.emit.market_csv import HEADER, cell, market_csv
from recipec.emit.market_text import market_text
from recipec.emit.plain import WIDTH, columns, wrap
from recipec.plan.fill import dish_sheet
from recipec.plan.market import market
from recipec.plan.market_types import Market
from recipec.plan.sheet import DishSheet
from tests.changed import replace
from tests.plan.make import stocked
from tests.plan.supper import supper

CARD = """\
Roast roots                                                     version b3886163
════════════════════════════════════════════════════════════════════════════════
main · 8 plates

CONTAINS  eggs
UNKNOWN  allergens of wonder dust: read the packet, ask the supplier

INGREDIENTS
        1.6 kg  carrots, scrubbed
        4 tbsp  oil or 60 g butter
                salt, to taste
                wonder dust, to serve

  To plate
       8 small  eggs
        400 ml  our green sauce

GEAR  roasting tin, 30 cm; 2 sheets baking paper

────────────────────────────────────────────────────────────────────────────────
  1  Toss 1.6 kg carrots, scrubbed with 4 tbsp oil or 60 g butter and salt, to
     taste. Roast in a roasting tin (30 cm) at 200 °C (180 °C fan, 400 °F,
     gas 6) for 30–40 min, until the edges are dark (check from 30 min; alone).
     → roast roots, 1.2 kg, holds 2 d chilled

     (Keep the tops for wonder dust, to serve.)

     ■ Stop here, if you like: up to 2 d chilled.

TO PLATE                                                    after the first part
────────────────────────────────────────────────────────────────────────────────
     Set out: 8 small eggs

  2  Spoon over 400 ml our green sauce.
     ⧖ wait for the roast roots (step 1)

────────────────────────────────────────────────────────────────────────────────
KEEPS  2 d chilled
SOURCE  The far allotment, plot 9
"""

MARKET = """\
Market list: Allotment
════════════════════════════════════════════════════════════════════════════════

PRODUCE
────────────────────────────────────────────────────────────────────────────────
[ ] 1.2 kg carrots                                                         €3.60
      buy 2 × 1 kg, Stall, west gate; 800 g over
      · 1.2 kg: Roast roots, roast-roots.dish:3
[ ] 2 bunches parsley                                              price unknown
      · 1½ bunches: Green sauce, green-sauce.dish:3

DAIRY AND EGGS
────────────────────────────────────────────────────────────────────────────────
[ ] 6 small eggs (48 g each)                                               €2.70
      buy 1 × 6 pieces, Quay Stores
      · 6 small (48 g each): Roast roots, roast-roots.dish:7

DRY GOODS
────────────────────────────────────────────────────────────────────────────────
[ ] 270 ml oil                                                             €6.40
      buy 1 × 500 ml, Quay Stores; 230 ml over
      or butter
      · 225 ml: Green sauce, green-sauce.dish:4
      · 3 tbsp: Roast roots, roast-roots.dish:4

OTHER
────────────────────────────────────────────────────────────────────────────────
[ ] wonder dust                                                    price unknown
      · to serve: Roast roots, roast-roots.dish:8

SUPPLIES
────────────────────────────────────────────────────────────────────────────────
[ ] 2 sheets baking paper                                          price unknown
      · 1½ sheets: Roast roots, supplies.dish:1

ON HAND, not to be bought
────────────────────────────────────────────────────────────────────────────────
    salt
      · to taste: Roast roots, roast-roots.dish:5

════════════════════════════════════════════════════════════════════════════════
At the till, whole packs                                         at least €12.70
Of that on the plates                                             at least €8.32
No price known for  parsley, wonder dust, baking paper
"""


def sheet(plates: int | None = 8) -> DishSheet:
    return dish_sheet(supper(), stocked(), "roast-roots", None if plates is None else Fraction(plates))


def listed() -> Market:
    return market(supper(), stocked(), ["allotment"])


def test_the_card() -> None:
    assert card_text(sheet()) == CARD


def test_the_market_list() -> None:
    assert market_text(listed()) == MARKET


def test_no_line_is_wider_than_the_page() -> None:
    for text in (card_text(sheet()), market_text(listed())):
        assert max(columns(line) for line in text.splitlines()) <= WIDTH


def test_a_line_never_parts_a_number_from_its_unit() -> None:
    text = "x " * 38 + "200\u00a0g butter"
    assert wrap(text)[1] == "200 g butter"


def test_wide_letters_are_counted_by_the_columns_they_take() -> None:
    assert all(columns(line) <= WIDTH for line in wrap("味噌汁 " * 40))


def test_nothing_a_cook_pasted_steers_the_terminal() -> None:
    bad = "\x1b[31mred\x07\u202egnp.exe\r\nnext\x00"
    for text in (
        card_text(replace(sheet(), title=bad, course=bad, notes=(bad,))),
        market_text(replace(listed(), titles=(bad,), problems=(bad,))),
    ):
        assert not set(text) & set("\x1b\x07\u202e\r\x00")


def test_unknown_allergens_are_in_view_and_nothing_is_called_free() -> None:
    text = card_text(sheet())
    assert "UNKNOWN" in text
    assert "free" not in text.lower()


# ---------------------------------------------------------------- csv


def test_csv_has_a_row_a_thing_and_what_is_on_hand_last() -> None:
    rows = list(csv.reader(io.StringIO(market_csv(listed()).decode("utf-8-sig"), newline="")))
    assert rows[0] == list(HEADER)
    assert [row[1] for row in rows[1:]] == [
        "carrots", "parsley", "eggs (48 g each)", "oil", "wonder dust", "baking paper", "salt",
    ]  # fmt: skip
    assert {len(row) for row in rows} == {len(HEADER)}
    assert market_csv(listed()).count(b"\r\n") == len(rows)


@pytest.mark.parametrize("start", ["=", "+", "-", "@", "\t", "\r", "\n", " =", "\u00a0="])
def test_no_cell_is_a_formula(start: str) -> None:
    shown = cell(f"{start}1+1")
    assert shown[0] == "'"


def test_what_a_cook_wrote_stays_in_its_cell() -> None:
    found = listed()
    name = '=HYPERLINK("x"),\r\n;"'
    hostile = replace(found, lines=(replace(found.lines[0], name=name),))
    rows = list(csv.reader(io.StringIO(market_csv(hostile).decode("utf-8-sig"), newline="")))
    assert rows[1][1] == f"'{name}"


# ---------------------------------------------------------------- json


def test_card_json_is_exact_and_worded() -> None:
    data = json.loads(card_json(sheet()))
    assert (data["title"], data["plates"], data["factor"]) == ("Roast roots", "8", "2")
    assert data["ingredients"][0]["amount"] == {
        "value": "1600", "unit": "g", "text": "1.6\u00a0kg", "rounded": False,
    }  # fmt: skip
    step = data["strands"][0]["steps"][0]
    reading = [part for part in step["parts"] if part["kind"] == "reading"][1]
    assert (reading["low_s"], reading["high_s"]) == (1800, 2400)
    assert step["text"].startswith("Toss 1.6\u00a0kg carrots, scrubbed with")


def test_market_json_says_who_asked() -> None:
    data = json.loads(market_json(listed()))
    carrots = data["lines"][0]
    assert carrots["need"][0]["value"] == "1200"
    assert carrots["asked_by"][0]["file"] == "roast-roots.dish"
    assert carrots["asked_by"][0]["line"] == 3
    assert data["till"] == {"value": "12.70", "currency": "EUR"}
    assert [line["item"] for line in data["lines"] if line["on_hand"]] == ["salt"]


def test_json_holds_half_characters_by_number() -> None:
    text = card_json(replace(sheet(), title="\ud800"))
    text.encode("utf-8")
    assert json.loads(text)["title"] == "\ud800"
