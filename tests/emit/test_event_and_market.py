"""The page of a booking and its market list."""

from __future__ import annotations

import re
from decimal import Decimal

import bookings
import pytest
import sheets
from pages import Page, read

from recipec.emit.desk import Desk
from recipec.emit.event_page import event_pages
from recipec.emit.market_page import list_paper
from recipec.emit.money import money_text
from recipec.emit.render import clean, source_hash, style
from recipec.model.prices import Money


def desk() -> Desk:
    return sheets.desk_of(
        sheets.leeks(),
        sheets.stock(),
        events=(bookings.event(), bookings.event("../x", sheets.HOSTILE, sheets.HOSTILE)),
    )


def event_page(number: int) -> Page:
    return read(event_pages(desk())[number].data)


def words(page: Page) -> str:
    return " ".join(page.text.split())


def test_the_menu_reads_as_the_client_reads_it() -> None:
    text = words(event_page(0))
    assert "Saturday 17 October 2026, 19:30" in text
    assert "Charred leeks with oats with warm bread, A supper by the water." in text
    assert "40 min after Starter" in text


def test_plates_that_differ_are_one_dish_on_the_menu_and_two_for_the_kitchen() -> None:
    text = words(event_page(0))
    menu, kitchen = text.split("For the kitchen")
    assert menu.count("Vegetable stock") == 1
    assert kitchen.count("Vegetable stock") == 2
    assert "without leek tops" in kitchen
    assert "for seats 3 and 6" in kitchen
    assert "without leek tops" not in menu
    assert "7 plates" in kitchen
    assert "Seat 3 allergic to nuts; vegetarian" in kitchen
    assert "Seat 1 " not in kitchen


def test_the_kitchen_hears_who_must_have_nothing_raw() -> None:
    text = words(event_page(0))
    assert "8 guests, 2 of them children, 1 spare plate" in text
    assert "Nothing raw or under its core for 1 expecting" in text
    assert "Budget £160.00" in text


def test_the_kitchen_reads_the_cautions_of_its_dishes() -> None:
    menu, kitchen = words(event_page(0)).split("For the kitchen")
    assert "The duck is under its core." in kitchen
    assert "served pink, the guests asked for it" in kitchen
    assert "under its core" not in menu


def test_a_hostile_booking_is_inert() -> None:
    paper = event_pages(desk())[1]
    assert paper.path == "events/x/index.html"
    page = read(paper.data)
    assert page.open_at_end == []
    assert page.text.count(clean(sheets.HOSTILE)) >= 3
    assert page.all("script") == []


def test_a_market_list_says_who_asked_and_what_is_not_known() -> None:
    text = words(
        read(list_paper(desk(), bookings.list_of(), "events/supper/market.html", back="Supper", alone=False).data)
    )
    for said in (
        "Dairy and eggs", "1 × 250 g", "£2.40", "130 g", "Charred leeks with oats, line 3: 120 g, without butter",
        "butter, line 3: to taste", "as needed", "no price", "at least £2.40", "Without a price oats", "200 ml over",
    ):  # fmt: skip
        assert said in text, said
    assert text.index("Dairy and eggs") < text.index("Dry goods") < text.index("On hand")


@pytest.mark.parametrize("alone", [True, False])
def test_a_hostile_market_list_is_inert(alone: bool) -> None:
    paper = list_paper(desk(), bookings.list_of(sheets.HOSTILE), "market.html", back=sheets.HOSTILE, alone=alone)
    page = read(paper.data)
    assert page.open_at_end == []
    assert page.all("script") == []
    ids = page.attributes("id")
    assert len(ids) == len(set(ids))


def test_every_box_has_its_words() -> None:
    raw = list_paper(desk(), bookings.list_of(), "market.html", back="", alone=True).data.decode()
    boxes = re.findall(r'<label><span class="hidden">Got ([^<]+)</span><input type="checkbox"', raw)
    assert boxes == ["butter", "oats"]


def test_a_list_that_travels_alone_leads_nowhere_and_carries_its_style() -> None:
    page = read(list_paper(desk(), bookings.list_of(), "market.html", back="", alone=True).data)
    assert [href for href in page.attributes("href") if not href.startswith("#")] == []
    policy = next(meta["content"] for meta in page.all("meta") if meta.get("http-equiv"))
    hashes = (f"'{source_hash(style(name))}'" for name in ("base.css", "market.css", "paper-a4.css"))
    assert f"style-src {' '.join(hashes)};" in policy


@pytest.mark.parametrize(
    ("value", "currency", "text"),
    [("12.4", "GBP", "£12.40"), ("3", "EUR", "€3.00"), ("0.125", "USD", "$0.125"), ("7.5", "CHF", "CHF\u00a07.50")],
)
def test_money(value: str, currency: str, text: str) -> None:
    assert money_text(Money(Decimal(value), currency)) == text
