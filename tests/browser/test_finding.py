"""Finding a dish on the home page as one types."""

from __future__ import annotations

from pathlib import Path

import pytest
from on_disk import Watched
from playwright.sync_api import Page

from recipec.emit.desk import sheet
from recipec.emit.paper import Request
from recipec.larder.ingredient import ALLERGENS

pytestmark = pytest.mark.browser


def home(watched: Watched, book: Path) -> Page:
    return watched.open(book / "index.html")


def found(page: Page) -> list[str]:
    return page.locator("#found .what").all_inner_texts()


@pytest.mark.parametrize("typed", ["lamb", "LAMB SHO", "shoulder lamb", "apricot"])
def test_by_title_whole_or_begun_in_any_order(watched: Watched, book: Path, typed: str) -> None:
    page = home(watched, book)
    page.locator("#find").fill(typed)
    assert found(page)[0] == "Lamb shoulder with apricots"


def test_by_ingredient_says_which(watched: Watched, book: Path) -> None:
    page = home(watched, book)
    page.locator("#find").fill("cumin")
    assert "Lamb shoulder with apricots" in found(page)
    assert "cumin" in page.locator("#found").inner_text()


def test_by_course(watched: Watched, book: Path) -> None:
    page = home(watched, book)
    page.locator("#find").fill("dessert")
    assert len(found(page)) > 2


def test_accents_are_folded(watched: Watched, book: Path) -> None:
    page = home(watched, book)
    page.locator("#find").fill("sauté")
    plain = (page.locator("#find").fill("saute"), found(page))[1]
    page.locator("#find").fill("sauté")
    assert found(page) == plain
    page.locator("#find").fill("jalapeno")
    with_accent = (page.locator("#find").fill("jalapeño"), found(page))[1]
    page.locator("#find").fill("jalapeno")
    assert found(page) == with_accent


def test_how_many_is_announced(watched: Watched, book: Path) -> None:
    page = home(watched, book)
    status = page.get_by_role("status")
    assert status.inner_text() == ""
    page.locator("#find").fill("hispi")
    assert status.inner_text() == "1 dish"
    page.locator("#find").fill("zzz")
    assert status.inner_text() == "No dish of this book."
    assert found(page) == []


def test_keys(watched: Watched, book: Path) -> None:
    page = home(watched, book)
    page.locator("#find").fill("cumin")
    titles = found(page)
    page.keyboard.press("ArrowDown")
    assert titles[0] in page.evaluate("document.activeElement.textContent")
    page.keyboard.press("ArrowDown")
    assert titles[1] in page.evaluate("document.activeElement.textContent")
    page.keyboard.press("ArrowUp")
    page.keyboard.press("ArrowUp")
    assert page.evaluate("document.activeElement.id") == "find"
    page.keyboard.press("Escape")
    assert page.locator("#find").input_value() == ""
    assert found(page) == []
    page.locator("#find").fill("lamb")
    page.keyboard.press("Enter")
    page.wait_for_url("**/dishes/lamb-shoulder-with-apricots.html")


@pytest.mark.parametrize("group", ALLERGENS)
def test_free_from_is_only_what_the_compiler_answers_so(
    watched: Watched, book: Path, request_: Request, group: str
) -> None:
    page = home(watched, book)
    page.locator(".finder summary").click()
    page.get_by_role("checkbox", name=group, exact=True).check()
    free = set()
    for dish in request_.book.dishes:
        answer = sheet(request_, dish.key).allergens
        if not answer.unknown and group not in answer.contains + answer.may_contain:
            free.add(dish.title)
    assert set(found(page)) == free
    assert f"no {group} in the recipe" in page.get_by_role("status").inner_text()
    assert "left out" in page.locator(".finder").inner_text()
