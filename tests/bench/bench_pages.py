"""A cold build of 1,000 dish pages beside other makers of pages on equal Markdown: `python -m tests.bench.bench_pages`.

Compared are pelican and mkdocs (`pip install pelican markdown mkdocs`) and Debian's `hugo`, each with no theme or its plainest, no feeds
and no search. Ours reads, checks and puts on paper the same words as dishes, with `--no-pdf`, and what it makes beside the pages (cards,
indexes, data) is counted in. Targets on two cores: at most half the time of pelican and of mkdocs, at most twice that of hugo. A maker
that is not installed is left out and said so. Nothing here is asserted: machines differ.
"""

from __future__ import annotations

import importlib.util
import os
import shutil
import subprocess
import sys
import tempfile
import time
from collections.abc import Callable
from pathlib import Path

from tests.bench.bench_check import DISH, ROOT

PAGES = 1_000
ROUNDS = 3

_PELICAN = """\
SITENAME = "Book"
PATH = "content"
TIMEZONE = "UTC"
DEFAULT_LANG = "en"
FEED_ALL_ATOM = CATEGORY_FEED_ATOM = TRANSLATION_FEED_ATOM = AUTHOR_FEED_ATOM = AUTHOR_FEED_RSS = None
"""
_HUGO = """\
<!doctype html><html><head><title>{{ .Title }}</title></head><body><h1>{{ .Title }}</h1>{{ .Content }}
{{ range .Pages }}<a href="{{ .RelPermalink }}">{{ .Title }}</a>{{ end }}</body></html>
"""


def _texts() -> list[tuple[str, str]]:
    """Title and body of every page; titles differ, as they must in a book."""
    texts = []
    for number in range(PAGES):
        title, _, body = DISH.format(n=400 + number).partition("\n")
        texts.append((title, body))
    return texts


def _ours(folder: Path) -> list[str]:
    (folder / "cookbook.toml").write_text('title = "Book"\nmeasures = "metric"\n', encoding="utf-8")
    for number, (title, body) in enumerate(_texts()):
        (folder / f"dish-{number}.dish").write_text(f"{title}\n{body}", encoding="utf-8")
    return [sys.executable, "-m", "recipec", "build", str(folder), "-o", str(folder / "out"), "--quiet", "--no-pdf"]


def _pelican(folder: Path) -> list[str]:
    (folder / "content").mkdir()
    (folder / "pelicanconf.py").write_text(_PELICAN, encoding="utf-8")
    for number, (title, body) in enumerate(_texts()):
        head = f"Title: {title}\nDate: 2026-01-01\nSlug: dish-{number}\n"
        (folder / "content" / f"dish-{number}.md").write_text(f"{head}\n{body}", encoding="utf-8")
    return [sys.executable, "-m", "pelican", "content", "-o", "out", "-s", "pelicanconf.py", "--quiet"]


def _mkdocs(folder: Path) -> list[str]:
    (folder / "docs").mkdir()
    (folder / "mkdocs.yml").write_text("site_name: Book\ntheme: mkdocs\nplugins: []\n", encoding="utf-8")
    for number, (title, body) in enumerate(_texts()):
        (folder / "docs" / f"dish-{number}.md").write_text(f"# {title}\n\n{body}", encoding="utf-8")
    return [sys.executable, "-m", "mkdocs", "build", "--quiet", "--site-dir", "out"]


def _hugo(folder: Path) -> list[str]:
    layouts = folder / "layouts" / "_default"
    layouts.mkdir(parents=True)
    (folder / "content").mkdir()
    (folder / "config.toml").write_text(
        'title = "Book"\ndisableKinds = ["RSS", "sitemap", "taxonomy", "term"]\n', encoding="utf-8"
    )
    for name in ("single", "list"):
        (layouts / f"{name}.html").write_text(_HUGO, encoding="utf-8")
    for number, (title, body) in enumerate(_texts()):
        (folder / "content" / f"dish-{number}.md").write_text(f"---\ntitle: {title}\n---\n\n{body}", encoding="utf-8")
    return ["hugo", "--quiet", "--destination", "out"]


MAKERS: dict[str, tuple[Callable[[Path], list[str]], Callable[[], bool], float]] = {
    "pelican": (_pelican, lambda: importlib.util.find_spec("pelican") is not None, 0.5),
    "mkdocs": (_mkdocs, lambda: importlib.util.find_spec("mkdocs") is not None, 0.5),
    "hugo": (_hugo, lambda: shutil.which("hugo") is not None, 2),
}


def cold(make: Callable[[Path], list[str]]) -> float:
    """The least wall time of a few builds, each in a folder of its own with nothing kept."""
    kept = {key: value for key, value in os.environ.items() if key != "PYTHONDONTWRITEBYTECODE"}
    env = {**kept, "PYTHONPATH": str(ROOT), "RECIPEC_CACHE": "off"}
    times = []
    for _ in range(ROUNDS):
        with tempfile.TemporaryDirectory() as name:
            folder = Path(name)
            command = make(folder)
            start = time.perf_counter()
            subprocess.run(
                command, cwd=folder, env=env, stdout=subprocess.DEVNULL, stderr=subprocess.DEVNULL, check=True
            )
            times.append(time.perf_counter() - start)
            assert len(list((folder / "out").rglob("*.html"))) >= PAGES
    return min(times)


def main() -> None:
    ours = cold(_ours)
    print(f"{PAGES} pages cold: ours {ours:.2f} s")
    for name, (make, there, target) in MAKERS.items():
        if not there():
            print(f"{name:8} is not installed")
            continue
        theirs = cold(make)
        print(f"{name:8} {theirs:6.2f} s    ours is {ours / theirs:.2f} of it    (target at most {target:g})")


if __name__ == "__main__":
    main()
