"""The script says what the compiler says: every demo dish, 1 to 40 plates (or times as written), as written, metric and US.

The whole page is compared, not place by place: what the compiler prints for so many plates, and what the page reads after a cook has asked
it for as many.
"""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import replace
from fractions import Fraction
from pathlib import Path

import pytest
from on_disk import Watched, put_on_disk
from playwright.sync_api import Page

from recipec.emit.desk import desk_for_one, sheet
from recipec.emit.dish_page import dish_page
from recipec.emit.live_slots import MEASURES
from recipec.emit.paper import Request
from recipec.measure.quantity import Amount, one, quantity
from recipec.measure.units import unit
from recipec.plan.scale import written_plates

pytestmark = [pytest.mark.browser, pytest.mark.slow]

MOST = 40

# All words of a page that go by the plates or the measures, block by block. The text of a page of the compiler's is read by the same
# function, so that both come through one parser.
READ = """
(root) => Array.from(root.querySelectorAll(".under, .board li, .steps > li > p"), (one) =>
  one.textContent.replace(/[ \\n]+/g, " ").trim())
"""
ALL = f"""
([plates, measures]) => {{
  const read = {READ};
  const field = document.getElementById("plates");
  const found = {{}};
  for (const measure of measures) {{
    const radio = document.querySelector(`[name=measures][value="${{measure}}"]`);
    radio.checked = true;
    radio.dispatchEvent(new Event("change"));
    for (const number of plates) {{
      if (field) {{
        field.value = number;
        field.dispatchEvent(new Event("change"));
      }}
      found[`${{measure}} ${{number}}`] = read(document);
    }}
  }}
  return found;
}}
"""
PARSED = f"""
(texts) => texts.map((text) => {{
  const read = {READ};
  return read(new DOMParser().parseFromString(text, "text/html"));
}})
"""


def wanted(request: Request, key: str, most: int) -> Iterator[tuple[int, Fraction | Amount | None]]:
    dish = request.book.dish(key)
    assert dish is not None
    written = written_plates(dish)
    for number in range(1, most + 1):
        if written is not None:
            yield number, None if number == written else Fraction(number)
        elif dish.makes is not None:
            yield number, None if number == 1 else one(quantity(number, unit("batch")))
        elif number == 1:
            yield number, None


KEYS = sorted(file.stem for file in (Path(__file__).parents[2] / "recipes" / "dishes").glob("*.dish"))


def compare(page: Page, request: Request, key: str, most: int, shows: tuple[str, ...]) -> None:
    numbers = [number for number, _ in wanted(request, key, most)]
    said = page.evaluate(ALL, [numbers, list(shows)])
    for show in shows:
        settings = request.book.settings._replace(show=show)
        so = replace(request, book=request.book._replace(settings=settings))
        pages = [
            dish_page(desk_for_one(so), sheet(so, key, much)).data.decode("utf-8") for _, much in wanted(so, key, most)
        ]
        printed = page.evaluate(PARSED, pages)
        for number, lines in zip(numbers, printed, strict=True):
            assert len(lines) > 5
            assert said[f"{show} {number}"] == lines, (show, number)


@pytest.mark.parametrize("key", KEYS)
def test_the_page_says_what_the_compiler_says(request_: Request, book: Path, watched: Watched, key: str) -> None:
    compare(watched.open(book / "dishes" / f"{key}.html"), request_, key, MOST, MEASURES)


@pytest.mark.parametrize("language", ["de", "fr"])
def test_in_other_languages_too(request_: Request, watched: Watched, tmp_path: Path, language: str) -> None:
    settings = request_.book.settings._replace(language=language)
    so = replace(request_, book=request_.book._replace(settings=settings))
    out = put_on_disk(so, tmp_path)
    for key in KEYS:
        compare(watched.open(out / "dishes" / f"{key}.html"), so, key, 5, ("metric",))
