"""Papers by a real Chromium: a card is one side of the sheet for a dish of usual length, two at most; a list three at most."""

from __future__ import annotations

import os
import re
import shutil
import subprocess
from pathlib import Path

import pytest

pytestmark = pytest.mark.browser

PAGE = re.compile(rb"/Type\s*/Page\b(?!s)")
A4 = re.compile(rb"/MediaBox\s*\[\s*0 0 59[45][0-9.]* 84[12][0-9.]*\s*\]")


def _chromium() -> str:
    found = shutil.which("chromium") or shutil.which("chromium-browser") or shutil.which("google-chrome")
    if found is None:
        if os.environ.get("CI") == "true":
            pytest.fail("CI must have a Chromium")
        pytest.skip("no Chromium on this machine")
    return found


def _printed(page: Path, tmp_path: Path) -> bytes:
    out = tmp_path / "page.pdf"
    command = [
        _chromium(), "--headless=new", "--no-sandbox", "--disable-gpu", "--no-pdf-header-footer",
        f"--user-data-dir={tmp_path / 'profile'}", f"--print-to-pdf={out}", page.as_uri(),
    ]  # fmt: skip
    subprocess.run(command, check=True, capture_output=True, timeout=120)
    return out.read_bytes()


def test_cards_print_on_one_side_of_a4_or_two(demo: Path, tmp_path: Path) -> None:
    sides = []
    for place, card in enumerate(sorted((demo / "cards").glob("*.html"))[:6]):
        folder = tmp_path / str(place)
        folder.mkdir()
        printed = _printed(card, folder)
        assert A4.search(printed)
        sides.append(len(PAGE.findall(printed)))
    assert all(1 <= number <= 2 for number in sides), sides
    assert sides.count(1) >= len(sides) / 2, sides


def test_a_market_list_is_three_sides_of_a4_at_most(demo: Path, tmp_path: Path) -> None:
    lists = sorted((demo / "events").glob("*/market.html"))
    assert lists
    for place, page in enumerate(lists):
        folder = tmp_path / str(place)
        folder.mkdir()
        printed = _printed(page, folder)
        assert A4.search(printed)
        assert 1 <= len(PAGE.findall(printed)) <= 3, page.parent.name
