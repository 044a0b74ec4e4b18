"""A book written with ill will: nothing of it runs, nothing leaves its folder, and every page has its policy."""

from __future__ import annotations

import re
from pathlib import Path

import pytest
from on_disk import Watched, put_on_disk

from recipec.book.compile import compile_book
from recipec.emit.paper import Request, emit_book

pytestmark = pytest.mark.browser

RUN = "<script>window.ran=1</script><img src=x onerror=window.ran=1>"
QUOTES = "\"'><svg onload=window.ran=1> javascript:window.ran=1 ${window.ran=1}"
TURNED = "\u202egnp.exe\u200f\u2066"
AWAY = "../../../../etc/passwd"

BOOK = f"""
title = '''{RUN} {QUOTES} {TURNED} {AWAY}'''
author = '''{QUOTES}'''
note = '''</script><script>window.ran=1</script> {AWAY}'''
language = "en"
show = "metric"
"""
# What a mark takes without ending: its own brackets and commas are left out.
IN_MARK = QUOTES.replace("<", "").replace(">", "").replace("{", "").replace("}", "").replace(",", "")
DISH = f"""{RUN} {QUOTES} {TURNED} {AWAY}
serves: 4
course: {RUN}{QUOTES}
source: javascript:window.ran=1 {QUOTES}
tags: {IN_MARK}

For {RUN}:

Fry [200 g butter, {IN_MARK}] and [3 onerror=window.ran=1 eggs] in a {{pan "'onload=window.ran=1}}
for <7-10 min, until {IN_MARK}>. {RUN}
-> {IN_MARK} mix, 300 g

For {QUOTES}:

Stir [the {IN_MARK} mix] with [2 tbsp /script script window.ran=1] for <4 min>. javascript:window.ran=1 {AWAY} {TURNED}
"""


@pytest.fixture(scope="module")
def hostile(tmp_path_factory: pytest.TempPathFactory) -> Request:
    """The book, read from a disk as any other."""
    root = tmp_path_factory.mktemp("hostile")
    (root / "cookbook.toml").write_text(BOOK, encoding="utf-8")
    (root / "dishes").mkdir()
    for name in ("\"'><img src=x onerror=window.ran=1>", "%2e%2e%2f%2e%2e%2fetc", "javascript:window.ran=1", "plain"):
        (root / "dishes" / f"{name}.dish").write_text(DISH, encoding="utf-8")
    build = compile_book(root, cached=False)
    assert len(build.book.dishes) == 4
    return Request(build.book, build.larder, build.findings)


def test_nothing_leaves_the_folder(hostile: Request) -> None:
    paths = [paper.path for paper in emit_book(hostile)]
    assert len(set(paths)) == len(paths)
    for path in paths:
        assert re.fullmatch(r"([a-z0-9-]+/)*[a-z0-9.-]+", path), path
        assert ".." not in path


def test_every_page_has_its_policy_first(hostile: Request) -> None:
    for paper in emit_book(hostile):
        if paper.path.endswith(".html"):
            text = paper.data.decode("utf-8")
            head = text[: text.index("<title>")]
            policies = re.findall(r'<meta http-equiv="Content-Security-Policy" content="([^"]+)">', head)
            assert len(policies) == 1, paper.path
            assert policies[0].startswith("default-src 'none';")
            assert "unsafe" not in policies[0]
            assert head.index("http-equiv") < (head.index("<script") if "<script" in head else len(head))


def test_nothing_runs(hostile: Request, watched: Watched, tmp_path: Path) -> None:
    out = put_on_disk(hostile, tmp_path)
    pages = sorted(out.rglob("*.html"))
    assert len(pages) > 8
    for file in pages:
        page = watched.open(file)
        assert page.evaluate("window.ran === undefined"), file.name
        assert page.locator("img[src=x], svg[onload], [onerror], [href^='javascript:' i]").count() == 0, file.name
        scripts = page.locator("script:not([type])").evaluate_all("(all) => all.map((one) => one.getAttribute('src'))")
        assert all(re.fullmatch(r"(\.\./)*assets/[a-z]+\.js", src or "") for src in scripts), file.name
        assert not set("\u202e\u2066") & set(page.content())
        page.close()


def test_nothing_runs_when_a_cook_works_with_it(hostile: Request, watched: Watched, tmp_path: Path) -> None:
    out = put_on_disk(hostile, tmp_path)
    page = watched.open(out / "dishes" / "plain.html")
    page.get_by_role("button", name="One more").click()
    page.get_by_role("radio", name="US").check(force=True)
    for dial in page.locator("button.dial").all():
        dial.click()
    for box in page.locator(".tick").all():
        box.check()
    page.reload()
    assert page.locator(".clocks li").count() >= 2
    assert "<img" in page.locator("body").inner_text()
    assert page.evaluate("window.ran === undefined")
    home = watched.open(out / "index.html")
    home.locator("#find").fill("window ran")
    assert home.locator("#found li").count() == 4
    assert home.evaluate("window.ran === undefined")
    assert home.locator("#found img, #found script, #found svg").count() == 0
