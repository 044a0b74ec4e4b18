"""The demo book on a disk, and a real Chromium with the network off that writes down whatever goes wrong in it.

Without Playwright or a Chromium these tests are skipped, except in CI, where that is a failure.
"""

from __future__ import annotations

import os
import shutil
from collections.abc import Iterator
from pathlib import Path
from typing import TYPE_CHECKING

import pytest
from on_disk import Watched, put_on_disk

from recipec.book.compile import compile_book
from recipec.book.photos import read_photos
from recipec.book.timeline import planned_events
from recipec.emit.paper import Request

if TYPE_CHECKING:
    from playwright.sync_api import Browser

RECIPES = Path(__file__).parents[2] / "recipes"


def _missing(what: str) -> None:
    if os.environ.get("CI"):
        pytest.fail(f"CI must have {what}")
    pytest.skip(f"no {what} on this machine")


@pytest.fixture(scope="session")
def request_() -> Request:
    """The demo book, checked; without plans of its bookings, which take a minute to make."""
    build = compile_book(RECIPES, cached=False, events=False)
    return Request(build.book, build.larder, build.findings, read_photos(build))


@pytest.fixture(scope="session")
def book(request_: Request, tmp_path_factory: pytest.TempPathFactory) -> Path:
    """The folder that holds every paper of the demo book."""
    return put_on_disk(request_, tmp_path_factory.mktemp("book"))


@pytest.fixture(scope="session")
def planned_book(tmp_path_factory: pytest.TempPathFactory) -> Path:
    """The same with its plans: every kind of page there is."""
    build = compile_book(RECIPES)
    plans = planned_events(build)
    request = Request(build.book, build.larder, build.findings, read_photos(build), plans)
    return put_on_disk(request, tmp_path_factory.mktemp("planned"))


@pytest.fixture(scope="session")
def browser() -> Iterator[Browser]:
    """A Chromium."""
    try:
        from playwright.sync_api import sync_playwright
    except ModuleNotFoundError:
        _missing("Playwright (pip install playwright)")
    found = shutil.which("chromium") or shutil.which("chromium-browser") or shutil.which("google-chrome")
    if found is None:
        _missing("Chromium")
    with sync_playwright() as driver:
        browser = driver.chromium.launch(executable_path=found, args=["--no-sandbox"])
        yield browser
        browser.close()


@pytest.fixture
def watched(browser: Browser) -> Iterator[Watched]:
    """A context without a network, of a desktop's size; the test fails on any console error and any request but for files."""
    context = browser.new_context(offline=True, viewport={"width": 1280, "height": 900})
    found = Watched(context)
    yield found
    context.close()
    assert found.errors == []
    assert [url for url in found.requests if not url.startswith("file:")] == []
