"""Reads a page as a browser's parser would, as far as the tests need it."""

from __future__ import annotations

from dataclasses import dataclass, field
from html.parser import HTMLParser

_VOID = frozenset({"meta", "link", "input", "br", "img", "hr"})


@dataclass
class Page:
    """What a page holds."""

    elements: list[tuple[str, dict[str, str]]] = field(default_factory=list)
    text: str = ""
    scripts: list[str] = field(default_factory=list)
    open_at_end: list[str] = field(default_factory=list)

    def attributes(self, name: str) -> list[str]:
        """Every value of an attribute."""
        return [attributes[name] for _, attributes in self.elements if name in attributes]

    def all(self, tag: str) -> list[dict[str, str]]:
        """The attributes of every element of a kind."""
        return [attributes for found, attributes in self.elements if found == tag]


class _Reader(HTMLParser):
    def __init__(self) -> None:
        super().__init__(convert_charrefs=True)
        self.page = Page()
        self.stack: list[str] = []

    def handle_starttag(self, tag: str, attrs: list[tuple[str, str | None]]) -> None:
        self.page.elements.append((tag, {name: value or "" for name, value in attrs}))
        if tag not in _VOID:
            self.stack.append(tag)

    def handle_endtag(self, tag: str) -> None:
        assert self.stack, tag
        assert self.stack[-1] == tag, f"</{tag}> closes <{self.stack[-1]}>"
        self.stack.pop()

    def handle_data(self, data: str) -> None:
        if self.stack and self.stack[-1] == "script":
            self.page.scripts.append(data)
        elif not (self.stack and self.stack[-1] == "style"):
            self.page.text += data


def read(data: bytes) -> Page:
    """A page read; fails on elements closed out of order."""
    reader = _Reader()
    reader.feed(data.decode("utf-8"))
    reader.close()
    reader.page.open_at_end = reader.stack
    return reader.page
