"""The guest matrix and the menu card on paper. All books here are invented."""

from __future__ import annotations

import csv
import io
import json
from pathlib import Path

import pytest
from jsonschema import Draft202012Validator  # type: ignore[import-untyped]
from pages import Page, read

from recipec.book.compile import Build
from recipec.emit.guests_csv import guests_csv
from recipec.emit.guests_json import guests_json
from recipec.emit.guests_page import guests_page
from recipec.emit.guests_text import guests_text
from recipec.emit.guests_words import findings_for
from recipec.emit.json_papers import schema
from recipec.emit.paper import Request, emit_book
from tests.plan.guest_books import build, guests

COURSES = (
    "Starter, <13:00>:\n\n[our charred leeks]\n[our charred leeks, without hazelnuts, for seat 2]\n\n"
    "Main, <13:30>:\n\n[our smoky beans]\n[our cube soup]\n"
)
SEATS = ("seat 2: allergic to tree nuts", "seat 4: vegetarian; rather not celery")


@pytest.fixture
def built(tmp_path: Path) -> Build:
    return build(tmp_path, COURSES, SEATS)


def request(built: Build) -> Request:
    return Request(built.book, built.larder, built.findings)


def words(page: Page) -> str:
    return " ".join(page.text.split())


def paper(built: Build, name: str) -> bytes:
    return next(paper.data for paper in emit_book(request(built)) if paper.path == f"events/lunch/{name}")


def test_the_text_is_eighty_columns_and_tells_the_worst_first(built: Build) -> None:
    found = guests(built)
    text = guests_text(found, findings_for(built.book, found, built.findings))
    assert all(len(line) <= 80 for line in text.splitlines())
    flat = " ".join(text.split())
    assert flat.index("DANGER: Seat 2 is allergic to tree nuts") < flat.index("AT THE TABLE") < flat.index("STARTER")
    assert "!! Main: Smoky beans: allergic to tree nuts: unknown: Aunt Bea's smoke paste" in flat
    assert "not in recipe: Charred leeks, without hazelnuts" in flat
    assert "nuts (hazelnuts)" in flat and "made of: Hazel pesto" in flat
    assert "Aunt Bea's smoke paste: read the packet" in flat
    assert "1169/2011" in flat and "your own licence and training" in flat and "Unknown is never free" in flat


def test_json_has_the_shape_that_is_shipped(built: Build) -> None:
    found = guests(built)
    data = json.loads(guests_json(found, findings_for(built.book, found, built.findings)))
    Draft202012Validator(json.loads(schema("guests"))).validate(data)
    leeks, version, beans, soup = data["rows"]
    assert (leeks["cells"]["nuts"], version["cells"]["nuts"]) == ("contains", "not in recipe")
    assert version["without"] == ["hazelnuts"] and version["seats"] == [2] and leeks["plates"] == "5"
    assert set(beans["cells"].values()) == {"unknown"} and soup["cells"]["milk"] == "may contain"
    assert {finding["slug"] for finding in data["findings"]} >= {"allergen-unknown", "allergen-served", "wish-not-kept"}


def test_the_table_has_a_row_for_every_version_and_runs_nothing(tmp_path: Path) -> None:
    trap = "=cmd()\nserves: 6\n\nSimmer [6 carrots] in [1 l water] for <9 min within reach>.\n"
    built = build(tmp_path, "Main, <13:00>:\n\n[our trap]\n[our charred leeks]\n", trap=trap)
    rows = list(csv.reader(io.StringIO(guests_csv(guests(built)).decode("utf-8-sig"))))
    assert len({len(row) for row in rows[:-1]}) == 1
    assert rows[1][1] == "'=cmd()" and [row[1:3] for row in rows[2:4]] == [
        ["Charred leeks", ""],
        ["Charred leeks", "Hazel pesto"],
    ]
    assert "1169/2011" in rows[-1][0]


def test_the_page_shows_what_is_unknown_in_words(built: Build) -> None:
    page = read(guests_page(request(built), built.book.events[0]).data)
    text = words(page)
    assert text.count("not in recipe") > 20 and "may contain" in text and "unknown" in text
    assert "Danger: Seat 2 is allergic to tree nuts" in text
    assert "To be settled from the packet: Aunt Bea's smoke paste" in text
    assert "Halal and kosher are for the supplier and the cook to declare" in text


def test_the_menu_card_has_the_regulations_numbers_and_no_seats(built: Build) -> None:
    text = words(read(paper(built, "menu.html")))
    assert text.count("Charred leeks") == 1
    assert "Charred leeks contains 7, 8" in text
    assert "Smoky beans not all is known: ask" in text
    assert "Cube soup contains 9 (may contain 7, 8)" in text
    assert "8 nuts" in text.replace("\u00a0", " ") and "1169/2011" in text
    for secret in ("eat 2", "eat 4", "allergic", "vegetarian", "without", "GBP", "EUR"):
        assert secret not in text


def test_the_american_menu_card_has_words(tmp_path: Path) -> None:
    text = words(read(paper(build(tmp_path, COURSES, safety="us-food-code"), "menu.html")))
    assert "Charred leeks contains milk, tree nuts" in text and "FALCPA" in text


def test_no_seat_is_told_of_outside_the_kitchens_papers(built: Build) -> None:
    for one in emit_book(request(built)):
        if one.path.startswith(("dishes/", "cards/")) or one.path.endswith(("menu.html", "book.json")):
            assert b"allergic to" not in one.data, one.path


PINK = (
    "Pink duck\nserves: 6\naccept: core-too-low for duck breast, the menu says pink\n\n"
    "Roast [6 duck breasts] on a {tray} until <54 °C core>. Serve with [50 g our hazel pesto].\n"
)


def test_an_accepted_danger_is_on_every_paper_of_the_event(tmp_path: Path) -> None:
    built = build(tmp_path, "Main, <13:00>:\n\n[our pink duck]\n", pink=PINK)
    found = {one.path: one.data.decode("utf-8") for one in emit_book(request(built))}
    for name in ("index", "menu", "guests", "labels", "leftovers", "log"):
        text = " ".join(read(found[f"events/lunch/{name}.html"].encode()).text.split())
        assert "too low for the duck breasts" in text and "the menu says pink" in text, name
    assert "core-too-low" not in found["events/lunch/menu.html"]


def test_a_menu_card_tells_no_danger_that_nobody_has_accepted(tmp_path: Path) -> None:
    built = build(tmp_path, COURSES, SEATS)
    assert any(one.severity == "danger" for one in built.findings)
    assert "The kitchen serves it so" not in words(read(paper(built, "menu.html")))
