"""Every kind of page for whoever reads it: axe-core finds nothing, in light and dark, on a telephone and a desk; nothing jumps; what one
taps is as large as a finger.

axe-core comes from npm and is no part of the project: CI installs it and names the folder in RECIPEC_NODE_MODULES.
"""

from __future__ import annotations

import os
from pathlib import Path

import pytest
from on_disk import Watched
from playwright.sync_api import Browser, Page

pytestmark = pytest.mark.browser

SIZES = {"telephone": (360, 740), "desk": (1440, 900)}
SCHEMES = ("light", "dark")
SHIFTS = """
window.shifts = [];
new PerformanceObserver((list) => {
  for (const entry of list.getEntries()) {
    for (const source of entry.sources) window.shifts.push(source.node && (source.node.className || source.node.nodeName));
  }
}).observe({ type: "layout-shift", buffered: true });
"""
# Every rule that is on from the start, and the stricter contrast of 7:1 beside them.
AXE = """
async () => {
  const found = await axe.run(document, { rules: { "color-contrast-enhanced": { enabled: true }, "target-size": { enabled: true } } });
  return found.violations.map((one) => one.id + ": " + one.nodes.slice(0, 3).map((node) => node.html.slice(0, 160)).join(" | "));
}
"""
SMALL = """
() => Array.from(document.querySelectorAll("button, input, summary, .doors a, nav a, .contents a")).filter((one) => {
  // What is tapped is the label, where one holds the box.
  const box = (one.closest("label") || one).getBoundingClientRect();
  return box.width && (box.width < 44 || box.height < 44);
}).map((one) => one.outerHTML.slice(0, 120))
"""


def axe_source() -> str:
    named = os.environ.get("RECIPEC_NODE_MODULES", "")
    file = Path(named) / "axe-core" / "axe.min.js"
    if named and file.is_file():
        return file.read_text(encoding="utf-8")
    if os.environ.get("CI"):
        pytest.fail("CI must have npm's axe-core and name its folder in RECIPEC_NODE_MODULES")
    pytest.skip("npm's axe-core is not installed; name its node_modules folder in RECIPEC_NODE_MODULES")


def kinds(book: Path) -> dict[str, Path]:
    """A page of every kind, by its template: the largest, in which most can go wrong. Of dishes and cards, all would take too long."""
    found: dict[str, Path] = {}
    for file in sorted(book.rglob("*.html")):
        folder = file.relative_to(book).parts
        kind = folder[0] if folder[0] in ("dishes", "cards") else folder[-1]
        if kind not in found or file.stat().st_size > found[kind].stat().st_size:
            found[kind] = file
    return found


@pytest.mark.slow
@pytest.mark.parametrize("scheme", SCHEMES)
@pytest.mark.parametrize("size", SIZES)
def test_axe_finds_nothing_on_any_kind_of_page(browser: Browser, planned_book: Path, scheme: str, size: str) -> None:
    source = axe_source()
    width, height = SIZES[size]
    pages = kinds(planned_book)
    assert len(pages) >= 14
    context = browser.new_context(
        offline=True,
        color_scheme="dark" if scheme == "dark" else "light",
        viewport={"width": width, "height": height},
    )
    found: dict[str, list[str]] = {}
    for kind, file in pages.items():
        page = context.new_page()
        page.goto(file.as_uri())
        in_use(page, kind)
        page.evaluate(source)
        found[kind] = page.evaluate(AXE)
        page.close()
    context.close()
    assert {kind: said for kind, said in found.items() if said} == {}


def in_use(page: Page, kind: str) -> None:
    """The page as it is when somebody works with it: with countdowns, ticks, other plates; with something found."""
    if kind == "dishes":
        page.get_by_role("button", name="One more").click()
        page.locator("button.dial").first.click()
        page.locator(".foods .tick").first.check()
        page.locator(".steps .tick").first.check()
    if kind == "index.html" and page.locator("#find").count():
        page.locator(".finder summary").click()
        page.locator("#find").fill("a")


@pytest.mark.parametrize("size", SIZES)
@pytest.mark.parametrize(
    "path", ["index.html", "dishes/salt-baked-beetroot.html", "dishes/lamb-shoulder-with-apricots.html"]
)
def test_nothing_jumps(watched: Watched, book: Path, size: str, path: str) -> None:
    watched.context.add_init_script(SHIFTS)
    page = watched.context.new_page()
    watched.watch(page)
    page.set_viewport_size(dict(zip(("width", "height"), SIZES[size], strict=True)))
    page.goto((book / path).as_uri())
    page.evaluate("() => new Promise((done) => requestAnimationFrame(() => requestAnimationFrame(done)))")
    page.mouse.wheel(0, 3000)
    page.evaluate("() => new Promise((done) => requestAnimationFrame(() => requestAnimationFrame(done)))")
    assert page.evaluate("shifts") == []


@pytest.mark.parametrize("size", SIZES)
@pytest.mark.parametrize("path", ["index.html", "courses.html", "dishes/lamb-shoulder-with-apricots.html"])
def test_what_is_tapped_is_as_large_as_a_finger(watched: Watched, book: Path, size: str, path: str) -> None:
    page = watched.open(book / path)
    page.set_viewport_size(dict(zip(("width", "height"), SIZES[size], strict=True)))
    in_use(page, "dishes" if path.startswith("dishes") else path)
    assert page.evaluate(SMALL) == []


@pytest.mark.parametrize("size", SIZES)
def test_no_page_is_wider_than_the_screen(watched: Watched, book: Path, size: str) -> None:
    width, height = SIZES[size]
    for file in kinds(book).values():
        page = watched.open(file)
        page.set_viewport_size({"width": width, "height": height})
        # The plate on the front hangs over the edge, which is cut off there and does not scroll.
        if page.evaluate("getComputedStyle(document.body).overflowX") != "clip":
            assert page.evaluate("document.documentElement.scrollWidth") <= width, file.name
        page.close()


def test_countdowns_leave_a_telephone_s_page_in_order(watched: Watched, book: Path) -> None:
    page = watched.open(book / "dishes" / "lamb-shoulder-with-apricots.html")
    page.set_viewport_size({"width": 360, "height": 740})
    in_use(page, "dishes")
    board, method = (page.locator(part).bounding_box() for part in (".beside ul.tools", ".method"))
    assert board
    assert method
    assert board["y"] + board["height"] <= method["y"]


def test_the_board_stays_beside_the_steps_on_a_wide_screen_and_folds_on_any(watched: Watched, book: Path) -> None:
    page = watched.open(book / "dishes" / "lamb-shoulder-with-apricots.html")
    page.set_viewport_size({"width": 1440, "height": 640})
    page.locator("#step-2").evaluate("(step) => step.scrollIntoView()")
    assert page.evaluate("document.querySelector('.beside').getBoundingClientRect().top") == 0
    assert page.locator(".foods").first.is_visible()
    page.set_viewport_size({"width": 360, "height": 740})
    assert page.locator(".foods").first.is_visible()
    page.locator(".beside summary").first.click()
    assert page.locator(".foods").first.is_hidden()
