"""A dish's page at the stove, in a real Chromium, from a file and without a network. The clock is the test's own."""

from __future__ import annotations

import re
from pathlib import Path

import pytest
from on_disk import Watched
from playwright.sync_api import Browser, Page, expect

pytestmark = pytest.mark.browser

# Counts the sounds that a page makes, and what it asks of the screen.
HEARD = """
window.sounds = 0;
class Quiet {
  constructor() { this.currentTime = 0; this.state = "running"; this.destination = {}; }
  createOscillator() {
    window.sounds += 1;
    return { frequency: {}, connect: (next) => next, start() {}, stop() {} };
  }
  createGain() {
    return { gain: { setValueAtTime() {}, exponentialRampToValueAtTime() {} }, connect: (next) => next };
  }
  resume() {}
}
window.AudioContext = Quiet;
"""
LIT = """
window.locks = [];
Object.defineProperty(navigator, "wakeLock", { value: { request: async (kind) => {
  const lock = new EventTarget();
  lock.kind = kind;
  lock.release = async () => { lock.gone = true; lock.dispatchEvent(new Event("release")); };
  window.locks.push(lock);
  return lock;
} } });
"""
NO_STORE = """
Object.defineProperty(window, "localStorage", { get() { throw new DOMException("denied", "SecurityError"); } });
"""


def dish(watched: Watched, book: Path, name: str = "lamb-shoulder-with-apricots") -> Page:
    return watched.open(book / "dishes" / f"{name}.html")


def words(page: Page, selector: str) -> str:
    return " ".join(page.locator(selector).first.inner_text().split())


def remaining(page: Page) -> list[str]:
    return page.locator(".clocks b").all_inner_texts()


# ---------------------------------------------------------------- plates and measures


def test_plates_by_button_by_typing_and_back(watched: Watched, book: Path) -> None:
    page = dish(watched, book)
    line = ".foods li >> nth=8"
    assert words(page, ".under") == "8 plates"
    assert "26 g fine salt" in words(page, line)
    page.get_by_role("button", name="One more").click()
    assert page.locator("#plates").input_value() == "9"
    assert words(page, ".under") == "9 plates"
    assert "30 g fine salt" in words(page, line)
    page.locator("#plates").fill("4 1/2")
    page.locator("#plates").press("Enter")
    assert words(page, ".under") == "4½ plates"
    page.get_by_role("button", name="One fewer").click()
    assert page.locator("#plates").input_value() == "4"
    page.locator("#plates").fill("8")
    page.locator("#plates").press("Enter")
    assert words(page, ".under") == "8 plates"
    assert page.locator("#dosed").inner_text() == ""
    assert "26 g fine salt" in words(page, line)


@pytest.mark.parametrize("typed", ["", "0", "-3", "lots", "1/0", "1e9", "<b>"])
def test_what_is_no_number_changes_nothing(watched: Watched, book: Path, typed: str) -> None:
    page = dish(watched, book)
    before = page.locator(".spread").inner_text()
    page.locator("#plates").fill(typed)
    page.locator("#plates").press("Enter")
    expect(page.locator("#plates")).to_have_attribute("aria-invalid", "true")
    assert "number" in page.locator("#dosed").inner_text()
    assert page.locator(".spread").inner_text() == before


def test_three_times_as_many_brings_the_cook_s_cautions(watched: Watched, book: Path) -> None:
    page = dish(watched, book)
    page.locator("#plates").fill("24")
    page.locator("#plates").press("Enter")
    said = page.locator("#dosed").inner_text()
    assert "3 times the dish as written" in said
    assert "taste" in said or "judge" in said


def test_metric_us_and_as_written_with_temperatures(watched: Watched, book: Path) -> None:
    page = dish(watched, book)
    assert page.locator(".dial.temperature").first.inner_text() == "150\u00a0°C"
    page.get_by_role("radio", name="US").check(force=True)
    assert page.locator(".dial.temperature").first.inner_text() == "300\u00a0°F"
    assert "lb" in words(page, ".board")
    page.get_by_role("radio", name="metric").check(force=True)
    assert page.locator(".dial.temperature").first.inner_text() == "150\u00a0°C"
    assert "lb" not in words(page, ".board")


def test_plates_and_measures_outlast_a_reload_and_begin_again_forgets(watched: Watched, book: Path) -> None:
    page = dish(watched, book)
    page.get_by_role("button", name="One more").click()
    page.get_by_role("radio", name="US").check(force=True)
    changed = page.locator(".spread").inner_text()
    page.reload()
    assert page.locator(".spread").inner_text() == changed
    assert page.locator("#plates").input_value() == "9"
    page.get_by_role("button", name="Begin again").click()
    page.reload()
    assert words(page, ".under") == "8 plates"
    assert page.locator(".dial.temperature").first.inner_text() == "150\u00a0°C"


# ---------------------------------------------------------------- countdowns


@pytest.fixture
def timed(watched: Watched) -> Watched:
    watched.context.add_init_script(HEARD)
    watched.context.clock.install(time=1_790_000_000)
    # From here on it stands still but for what a test lets pass.
    watched.context.clock.pause_at(1_790_000_060)
    return watched


def start(page: Page, text: str) -> None:
    page.locator("button.dial", has_text=text).first.click()


def test_a_time_counts_down_is_heard_and_is_told_once(timed: Watched, book: Path) -> None:
    page = dish(timed, book)
    start(page, "1\u00a0min")
    assert remaining(page) == ["1:00"]
    expect(page.locator(".clocks .name")).to_contain_text("Step 1")
    timed.context.clock.run_for(20_000)
    assert remaining(page) == ["0:40"]
    assert page.evaluate("window.sounds") == 0
    assert page.locator("[aria-live=polite]").inner_text() == ""
    timed.context.clock.run_for(41_000)
    assert remaining(page) == ["time is up"]
    assert page.evaluate("window.sounds") == 3
    told = page.locator("[aria-live=polite]").text_content() or ""
    assert told.startswith("Time is up: Step 1")
    timed.context.clock.run_for(10_000)
    assert page.evaluate("window.sounds") > 3
    page.get_by_role("button", name=re.compile("^Stop")).click()
    expect(page.locator(".clocks")).to_be_hidden()
    heard = page.evaluate("window.sounds")
    timed.context.clock.run_for(60_000)
    assert page.evaluate("window.sounds") == heard


def test_several_at_once_pause_and_go_on(timed: Watched, book: Path) -> None:
    page = dish(timed, book)
    start(page, "1\u00a0min")
    timed.context.clock.run_for(10_000)
    start(page, "12\u00a0min")
    assert remaining(page) == ["0:50", "12:00"]
    page.get_by_role("button", name=re.compile("^Pause: Step 1")).click()
    timed.context.clock.run_for(30_000)
    assert remaining(page) == ["0:50", "11:30"]
    page.get_by_role("button", name=re.compile("^Go on: Step 1")).click()
    timed.context.clock.run_for(10_000)
    assert remaining(page) == ["0:40", "11:20"]


def test_a_countdown_outlasts_a_reload_and_shows_on_other_dishes(timed: Watched, book: Path) -> None:
    page = dish(timed, book)
    start(page, "12\u00a0min")
    timed.context.clock.run_for(60_000)
    page.reload()
    assert remaining(page) == ["11:00"]
    other = dish(timed, book, "salt-baked-beetroot")
    assert remaining(other) == ["11:00"]
    assert "Lamb shoulder" in other.locator(".clocks .name").inner_text()
    timed.context.clock.run_for(12 * 60_000)
    assert remaining(other) == ["time is up"]


def test_a_range_says_when_to_look_and_when_it_is_over(timed: Watched, book: Path) -> None:
    page = ranged(timed, book)
    button = page.locator("button.dial[data-s*='-']").first
    low, high = (int(end) for end in (button.get_attribute("data-s") or "").split("-"))
    button.click()
    timed.context.clock.run_for(low * 1000 + 500)
    assert remaining(page)[0].startswith("look now ")
    assert (page.locator("[aria-live=polite]").text_content() or "").startswith("Look now")
    timed.context.clock.run_for((high - low) * 1000 + 500)
    assert remaining(page) == ["time is up"]


def ranged(watched: Watched, book: Path) -> Page:
    found = next(
        file for file in sorted((book / "dishes").glob("*.html")) if re.search(r'data-s="\d+-\d+"', file.read_text())
    )
    return watched.open(found)


def test_a_time_by_the_plate_counts_all_of_them(timed: Watched, book: Path) -> None:
    page = dish(timed, book)
    paced = page.locator("button.dial[data-t]").first
    paced.click()
    assert remaining(page) == ["5:20"]
    page.locator("#plates").fill("3")
    page.locator("#plates").press("Enter")
    paced.click()
    assert remaining(page)[-1] == "2:00"


def test_without_storage_it_all_works_until_the_page_is_left(timed: Watched, book: Path) -> None:
    timed.context.add_init_script(NO_STORE)
    page = dish(timed, book)
    start(page, "1\u00a0min")
    page.locator(".tick").first.check()
    page.get_by_role("button", name="One more").click()
    timed.context.clock.run_for(61_000)
    assert remaining(page) == ["time is up"]
    assert words(page, ".under") == "9 plates"


def test_nonsense_in_the_storage_is_no_trouble(timed: Watched, book: Path) -> None:
    page = dish(timed, book)
    start(page, "1\u00a0min")
    page.evaluate(
        'for (const key of Object.keys(localStorage)) localStorage.setItem(key, \'[{"low": "<b>"}, null, 7]\')'
    )
    page.reload()
    expect(page.locator(".clocks")).to_be_hidden()
    start(page, "1\u00a0min")
    assert remaining(page) == ["1:00"]


# ---------------------------------------------------------------- ticks, the screen, keys


def test_ticks_are_remembered_by_dish_and_version(watched: Watched, book: Path) -> None:
    page = dish(watched, book)
    page.locator(".foods .tick").nth(2).check()
    page.get_by_role("checkbox", name="Step 3: done").check()
    page.reload()
    assert page.locator(".foods .tick").nth(2).is_checked()
    assert page.get_by_role("checkbox", name="Step 3: done").is_checked()
    assert page.locator(".tick:checked").count() == 2
    assert dish(watched, book, "salt-baked-beetroot").locator(".tick:checked").count() == 0
    page.evaluate("document.querySelector('article').dataset.version")
    page.get_by_role("button", name="Begin again").click()
    assert page.locator(".tick:checked").count() == 0
    page.reload()
    assert page.locator(".tick:checked").count() == 0


def test_a_new_version_of_a_dish_is_not_ticked(watched: Watched, book: Path, tmp_path: Path) -> None:
    page = dish(watched, book)
    page.locator(".foods .tick").first.check()
    text = (book / "dishes" / "lamb-shoulder-with-apricots.html").read_text(encoding="utf-8")
    changed = re.sub(r'data-version="[0-9a-f]{8}"', 'data-version="00000000"', text)
    (tmp_path / "dishes").mkdir()
    (tmp_path / "assets").symlink_to(book / "assets")
    (tmp_path / "dishes" / "lamb.html").write_text(changed, encoding="utf-8")
    assert watched.open(tmp_path / "dishes" / "lamb.html").locator(".tick:checked").count() == 0


def test_the_screen_is_kept_lit_and_taken_up_again(watched: Watched, book: Path) -> None:
    watched.context.add_init_script(LIT)
    page = dish(watched, book)
    assert page.evaluate("locks.length") == 0
    page.get_by_role("checkbox", name="Keep the screen lit").check()
    page.wait_for_function("locks.length === 1")
    # A browser takes the lock away when the page is out of sight.
    page.evaluate("locks[0].release()")
    page.evaluate("document.dispatchEvent(new Event('visibilitychange'))")
    page.wait_for_function("locks.length === 2")
    page.get_by_role("checkbox", name="Keep the screen lit").uncheck()
    page.wait_for_function("locks[1].gone === true")
    page.evaluate("document.dispatchEvent(new Event('visibilitychange'))")
    assert page.evaluate("locks.length") == 2


def test_by_keyboard_alone(timed: Watched, book: Path) -> None:
    page = dish(timed, book)
    page.keyboard.press("Tab")
    assert page.evaluate("document.activeElement.className") == "skip"

    def tab_to(selector: str) -> None:
        for _ in range(120):
            if page.evaluate("(selector) => document.activeElement.matches(selector)", selector):
                return
            page.keyboard.press("Tab")
        raise AssertionError(f"no way to {selector}")

    tab_to(".dose button[data-by='1']")
    page.keyboard.press("Enter")
    assert words(page, ".under") == "9 plates"
    tab_to("[name=measures]:checked")
    page.keyboard.press("ArrowRight")
    assert page.locator(".dial.temperature").first.inner_text() == "300\u00a0°F"
    tab_to(".foods .tick")
    page.keyboard.press("Space")
    assert page.locator(".foods .tick").first.is_checked()
    tab_to("button.dial")
    page.keyboard.press("Enter")
    assert remaining(page) == ["1:00"]
    tab_to(".clocks button")
    page.keyboard.press("Enter")
    assert page.evaluate("document.activeElement.textContent") == "Go on"
    page.keyboard.press("Tab")
    page.keyboard.press("Enter")
    expect(page.locator(".clocks")).to_be_hidden()
    assert page.evaluate("document.activeElement !== document.body")


def test_without_a_script_the_page_is_whole_and_has_no_controls(browser: Browser, book: Path) -> None:
    context = browser.new_context(java_script_enabled=False, offline=True)
    page = context.new_page()
    page.goto((book / "dishes" / "lamb-shoulder-with-apricots.html").as_uri())
    assert page.locator("button:visible, input:visible").count() == 0
    assert "2.2\u00a0kg lamb shoulder" in page.locator(".foods").nth(1).inner_text()
    assert page.locator(".abreast table").is_visible()
    page.goto((book / "index.html").as_uri())
    assert page.locator("input:visible").count() == 0
    context.close()
