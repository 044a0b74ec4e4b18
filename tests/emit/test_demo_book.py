"""The demo book on paper, whole, and its single papers."""

from __future__ import annotations

import json
import posixpath
from fractions import Fraction
from pathlib import Path

import pytest
from pages import read

from recipec.book.compile import compile_book
from recipec.book.photos import read_photos
from recipec.emit.card_page import card_page
from recipec.emit.market_page import market_page
from recipec.emit.paper import Paper, Request, emit_book
from recipec.emit.render import source_hash, style

RECIPES = Path(__file__).parents[2] / "recipes"


@pytest.fixture(scope="module")
def request_() -> Request:
    build = compile_book(RECIPES, cached=False)
    return Request(build.book, build.larder, build.findings, read_photos(build))


@pytest.fixture(scope="module")
def papers(request_: Request) -> tuple[Paper, ...]:
    return emit_book(request_)


def test_every_dish_and_booking_has_its_papers(request_: Request, papers: tuple[Paper, ...]) -> None:
    found = {paper.path for paper in papers}
    assert len(found) == len(papers)
    for dish in request_.book.dishes:
        assert {f"dishes/{dish.key}.html", f"cards/{dish.key}.html"} <= found
    for event in request_.book.events:
        assert {f"events/{event.key}/{name}" for name in ("index.html", "market.html", "market.csv")} <= found
    assert {"index.html", "courses.html", "ingredients.html", "book.json", "assets/base.css"} <= found


def test_a_version_that_is_ordered_has_its_own_card(papers: tuple[Paper, ...]) -> None:
    found = {paper.path: paper.data for paper in papers}
    card = read(found["cards/salt-baked-beetroot/without-hazelnuts.html"]).text
    assert "without hazelnuts" in card
    assert "(NOT the hazelnut dukkah)" in card
    event = read(found["events/late-winter-supper/index.html"])
    assert "../../cards/salt-baked-beetroot/without-hazelnuts.html" in event.attributes("href")


def test_twice_the_same_bytes(request_: Request, papers: tuple[Paper, ...]) -> None:
    assert emit_book(request_) == papers


def test_no_link_is_broken(papers: tuple[Paper, ...]) -> None:
    found = {paper.path for paper in papers}
    for paper in papers:
        if paper.path.endswith(".html"):
            page = read(paper.data)
            for href in (*page.attributes("href"), *page.attributes("src")):
                target = href.partition("#")[0]
                folder = posixpath.dirname(paper.path)
                assert not target or posixpath.normpath(posixpath.join(folder, target)) in found, (paper.path, href)


def test_a_picture_has_its_place_kept_free(papers: tuple[Paper, ...]) -> None:
    found = {paper.path: paper.data for paper in papers}
    pictures = [path for path in found if path.startswith("assets/photos/")]
    assert pictures
    for path in pictures:
        (image,) = read(found[f"dishes/{posixpath.basename(path).rpartition('.')[0]}.html"]).all("img")
        assert image["src"] == f"../{path}"
        assert int(image["width"]) > 0
        assert int(image["height"]) > 0
        assert image["alt"]


def test_every_page_is_for_the_book_s_paper(papers: tuple[Paper, ...]) -> None:
    for paper in papers:
        if paper.path.endswith(".html"):
            links = [href for href in read(paper.data).attributes("href") if "/paper-" in href]
            assert [posixpath.basename(link) for link in links] == ["paper-a4.css"], paper.path


def test_the_book_as_data_names_pages_that_are_there(papers: tuple[Paper, ...]) -> None:
    found = {paper.path: paper.data for paper in papers}
    data = json.loads(found["book.json"])
    assert data["dishes"]
    assert all(entry["page"] in found for entry in (*data["dishes"].values(), *data["events"].values()))


def test_a_card_for_more_plates_travels_alone(request_: Request) -> None:
    dish = next(dish for dish in request_.book.dishes if dish.serves == (4, 4))
    page = read(card_page(request_, dish.key, Fraction(8)).data)
    assert "8\u00a0plates" in page.text
    assert page.attributes("href") == []
    policy = next(meta["content"] for meta in page.all("meta") if meta.get("http-equiv"))
    assert f"'{source_hash(style('card.css'))}'" in policy
    assert "'self'" not in policy.split("style-src")[1].split(";")[0]
    assert len(page.all("style")) == 2
    assert "size: A4" in style("paper-a4.css")


def test_one_list_for_all_bookings(request_: Request) -> None:
    page = read(market_page(request_, tuple(event.key for event in request_.book.events)).data)
    assert page.open_at_end == []
    assert [href for href in page.attributes("href") if not href.startswith("#")] == []
