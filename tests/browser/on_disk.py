"""A book put on a disk, and pages opened from there with an eye on what goes wrong."""

from __future__ import annotations

from dataclasses import dataclass, field
from pathlib import Path
from typing import TYPE_CHECKING

from recipec.emit.paper import Request, emit_book

if TYPE_CHECKING:
    from playwright.sync_api import BrowserContext, Page


def put_on_disk(request: Request, folder: Path) -> Path:
    """Writes every paper of a book."""
    for paper in emit_book(request):
        file = folder / paper.path
        file.parent.mkdir(parents=True, exist_ok=True)
        file.write_bytes(paper.data)
    return folder


@dataclass
class Watched:
    """A context of a browser, and what went wrong in it: errors on the console, requests for anything that is no file."""

    context: BrowserContext
    errors: list[str] = field(default_factory=list)
    requests: list[str] = field(default_factory=list)

    def open(self, path: Path) -> Page:
        """A new page of a file, watched from its start."""
        page = self.context.new_page()
        self.watch(page)
        page.goto(path.as_uri())
        return page

    def watch(self, page: Page) -> None:
        """Writes down what goes wrong on a page."""
        page.on("console", lambda message: message.type in ("error", "warning") and self.errors.append(message.text))
        page.on("pageerror", lambda error: self.errors.append(str(error)))
        page.on("request", lambda request: self.requests.append(request.url))
