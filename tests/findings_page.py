"""The pages under `tests/findings/`: prose, sources in fences, and the report they give. Each page is a test and a manual entry."""

from __future__ import annotations

import re
from pathlib import Path
from typing import NamedTuple

from recipec.book.compile import Build, compile_book
from recipec.report.text import render

PAGES = Path(__file__).with_name("findings")
_FENCE = re.compile(r"^```(\w+)(?: ([^\n]+))?\n(.*?)^```$", re.MULTILINE | re.DOTALL)


class Page(NamedTuple):
    """A page's sources by kind and file name, and the report it shows."""

    text: str
    sources: tuple[tuple[str, str, str], ...]
    report: str


def read_page(path: Path) -> Page:
    """The parts of a page."""
    text = path.read_text(encoding="utf-8")
    fences = [(kind, name, body) for kind, name, body in _FENCE.findall(text)]
    sources = tuple(fence for fence in fences if fence[0] != "report")
    return Page(text, sources, next(body for kind, _, body in fences if kind == "report"))


def write_sources(page: Page, folder: Path) -> None:
    """The page's files on disk: `bytes` fences hold Python escapes of single bytes, `link` fences the target of a link."""
    for kind, name, body in page.sources:
        path = folder / name
        if kind == "bytes":
            path.write_bytes(body.encode("latin-1").decode("unicode_escape").encode("latin-1"))
        elif kind == "link":
            path.symlink_to(body.strip())
        else:
            path.write_text(body, encoding="utf-8")


def compiled(page: Page, folder: Path) -> Build:
    """The page's files as a book."""
    write_sources(page, folder)
    return compile_book(folder, {})


def report_of(build: Build) -> str:
    """All findings, hints included, as the page shows them."""
    return render(build.findings).strip("\n") + "\n"


def with_report(page: Page, report: str) -> str:
    """The page's text with another report in its fence."""
    return re.sub(
        r"^```report\n.*?^```$", lambda _: f"```report\n{report}```", page.text, flags=re.MULTILINE | re.DOTALL
    )
