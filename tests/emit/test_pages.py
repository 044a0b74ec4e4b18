"""Every page: well formed, safe, complete, the same bytes twice."""

from __future__ import annotations

import json
import posixpath
import re
from itertools import pairwise

import pytest
import sheets
from pages import Page, read

from recipec.emit.card_page import loud
from recipec.emit.desk import Desk
from recipec.emit.paper import PAPERS
from recipec.emit.render import clean
from recipec.emit.request import Paper
from recipec.model.dish import Role
from recipec.model.settings import Settings
from recipec.plan.sheet import AmountText, FoodPiece, StrandSheet, WordsPiece
from tests.changed import replace

POLICY = "default-src 'none'; style-src 'self'; img-src 'self'; base-uri 'none'; form-action 'none'"
LIVE_POLICY = POLICY.replace("img-src 'self';", "img-src 'self'; script-src 'self';")
HEADING = re.compile(r"h([1-6])")
OUTWARD = re.compile(r"^([a-z][a-z0-9+.-]*:|//|/)", re.IGNORECASE)


def shown(text: str, tail: str = "") -> AmountText:
    return AmountText(text, (), False, tail)


FOODS = (
    sheets.food("butter", sheets.amount("120 g", 120, "g"), after=("cubed", "cold")),
    replace(
        sheets.food("plum tomatoes", shown("2\u00a0tins", " (400\u00a0g each)")),
        text="2\u00a0tins drained plum tomatoes (400\u00a0g each)",
        before=("drained",),
    ),
    sheets.food("lemons", shown("2"), lead="zest of"),
    replace(
        sheets.food("crumb", role=Role.TAKE, lead="half the"),
        text="half the crumb (about 60\u00a0g), to serve",
        comes_to=shown("about 60\u00a0g"),
        flags=("to serve",),
    ),
    sheets.food("dressing", shown("2\u00a0tbsp"), Role.TAKE, part="of the"),
    replace(
        sheets.food("sherry", shown("30\u00a0ml")),
        text="30\u00a0ml sherry or 30\u00a0ml cider",
        alternatives=("30\u00a0ml cider",),
    ),
)


def papers_of(desk: Desk) -> dict[str, Paper]:
    return {paper.path: paper for emitter in PAPERS.values() for paper in emitter(desk)}


def whole_book() -> Desk:
    return sheets.desk_of(sheets.leeks(), sheets.stock(), sheets.hostile())


def html_of(desk: Desk) -> dict[str, Page]:
    return {path: read(paper.data) for path, paper in papers_of(desk).items() if path.endswith(".html")}


PAGES = html_of(whole_book())


@pytest.mark.parametrize("path", sorted(PAGES))
def test_a_page_is_whole_and_closed(path: str) -> None:
    page = PAGES[path]
    assert page.open_at_end == []
    assert page.all("html")[0]["lang"] == "en"
    assert [tag for tag, _ in page.elements].count("main") == 1
    assert [tag for tag, _ in page.elements].count("h1") == 1
    levels = [int(match[1]) for tag, _ in page.elements if (match := HEADING.fullmatch(tag))]
    assert all(after <= before + 1 for before, after in pairwise(levels))
    ids = page.attributes("id")
    assert len(ids) == len(set(ids))


@pytest.mark.parametrize("path", sorted(PAGES))
def test_nothing_runs_and_nothing_comes_from_elsewhere(path: str) -> None:
    page = PAGES[path]
    policies = [meta["content"] for meta in page.all("meta") if meta.get("http-equiv") == "Content-Security-Policy"]
    ours = [script["src"] for script in page.all("script") if "src" in script]
    assert policies == [LIVE_POLICY if ours else POLICY]
    assert all(re.fullmatch(r"(\.\./)*assets/[a-z]+\.js", src) for src in ours)
    for _, attributes in page.elements:
        assert not any(name.startswith("on") or name == "style" for name in attributes)
        for name in ("href", "src"):
            assert not OUTWARD.match(attributes.get(name, "")), attributes
    # Whatever is no script of ours is data, which no browser runs.
    data = [script.get("type") for script in page.all("script") if "src" not in script]
    assert set(data) <= {"application/ld+json", "application/json"}
    assert "alert" not in "".join(tag for tag, _ in page.elements)


@pytest.mark.parametrize("path", sorted(PAGES))
def test_links_lead_somewhere(path: str) -> None:
    papers = papers_of(whole_book())
    for href in PAGES[path].attributes("href"):
        target, _, fragment = href.partition("#")
        there = posixpath.normpath(posixpath.join(posixpath.dirname(path), target)) if target else path
        assert there in papers, f"{path} → {href}"
        if fragment:
            assert fragment in PAGES[there].attributes("id")


def test_hostile_text_is_shown_as_it_is_and_no_more() -> None:
    path = next(path for path in PAGES if path.startswith("dishes/script"))
    page = PAGES[path]
    shown = clean(sheets.HOSTILE)
    assert page.text.count(shown) > 10
    assert len(page.scripts) == 2
    assert json.loads(page.scripts[0])["name"] == shown
    assert isinstance(json.loads(page.scripts[1]), dict)
    raw = papers_of(whole_book())[path].data.decode()
    assert raw.lower().count("<script") == len(page.all("script")) == 5
    assert "\u202e" not in raw


def test_the_same_book_gives_the_same_bytes() -> None:
    assert papers_of(whole_book()) == papers_of(whole_book())


def test_paths_stay_inside_and_differ_on_any_disk() -> None:
    found = [paper.path for emitter in PAPERS.values() for paper in emitter(whole_book())]
    assert len({path.casefold() for path in found}) == len(found)
    for path in found:
        assert not path.startswith("/")
        assert ".." not in path.split("/")


def test_a_dish_page_carries_the_dish() -> None:
    text = PAGES["dishes/charred-leeks.html"].text.replace("\u00a0", " ")
    for said in (
        "Charred leeks with oats", "4 plates", "120 g butter", "frying pan", "7–10 min", "until nutty", "check from 7 min",
        "half the crumb", "crumb, 60 g, holds 20 min", "Stop here up to 2 d chilled", "Rye flakes do as well",
        "Contains gluten, milk", "May contain nuts", "Unknown for pickled walnuts", "served pink, the guests asked for it",
        "keeps 1 d chilled", "Version 0a1b2c3d",
    ):  # fmt: skip
        assert said in text, said


def test_a_card_carries_the_dish() -> None:
    text = PAGES["cards/charred-leeks.html"].text.replace("\u00a0", " ")
    for said in (
        "Charred leeks with oats", "4 plates", "120 g butter", "250 ml our vegetable stock", "frying pan, 28 cm; oven",
        "7–10 min", "220 °C", "425 °F", "check from 7 min", "until nutty", "Contains gluten, milk", "Unknown for pickled walnuts",
        "served pink, the guests asked for it", "Keeps 1 d chilled", "crumb holds 20 min", "version 0a1b2c3d",
    ):  # fmt: skip
        assert said in text, said


def test_the_board_says_which_strand_wants_what() -> None:
    for path in ("cards/charred-leeks.html", "dishes/charred-leeks.html"):
        board = PAGES[path].text.split("On the board")[1].split("In the hand")[0]
        assert board.index("For the crumb") < board.index("oats") < board.index("For the leeks") < board.index("butter")
    assert not PAGES["cards/vegetable-stock.html"].all("h3")


def test_unknown_is_never_free() -> None:
    assert "None of the fourteen" not in PAGES["dishes/charred-leeks.html"].text
    assert "None of the fourteen" in PAGES["dishes/vegetable-stock.html"].text


def test_both_indexes_and_the_way_from_a_component_to_its_users() -> None:
    assert "Oats" in PAGES["ingredients.html"].text
    assert "../dishes/charred-leeks.html" in PAGES["dishes/vegetable-stock.html"].attributes("href")
    order = PAGES["courses.html"].text
    assert order.index("Starter") < order.index("Component")


@pytest.mark.parametrize(
    ("asked", "sheet"),
    [("A4", "paper-a4.css"), ("a5", "paper-a5.css"), ("Letter", "paper-letter.css"), ("?", "paper-a4.css")],
)
def test_every_page_is_printed_on_the_book_s_paper(asked: str, sheet: str) -> None:
    pages = html_of(sheets.desk_of(sheets.stock(), settings=Settings(paper=asked)))
    assert "cards/vegetable-stock.html" in pages
    for path, page in pages.items():
        papers = [href for href in page.attributes("href") if "/paper-" in href]
        assert papers == ["../" * path.count("/") + f"assets/{sheet}"], path


def test_figures_are_loud_and_words_are_not() -> None:
    assert loud("holds 3\u00a0d chilled") == 'holds <b class="big">3\u00a0d</b> chilled'
    assert loud("<b>½\u00a0tsp</b>") == '&lt;b&gt;<b class="big">½\u00a0tsp&lt;/b&gt;</b>'
    assert loud("chilled") == "chilled"


@pytest.mark.parametrize("dish", FOODS, ids=lambda piece: piece.text)
def test_a_mark_reads_on_page_and_card_as_the_sheet_words_it(dish: FoodPiece) -> None:
    strand = StrandSheet("", None, (), (sheets.step(1, WordsPiece("Take "), dish, WordsPiece(".")),))
    papers = html_of(sheets.desk_of(replace(sheets.stock(), strands=(strand,))))
    for path in ("dishes/vegetable-stock.html", "cards/vegetable-stock.html"):
        assert f"Take {dish.text}." in papers[path].text


def test_an_empty_book_is_a_book() -> None:
    for page in html_of(sheets.desk_of()).values():
        assert page.open_at_end == []
