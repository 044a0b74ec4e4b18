"""How a book shows amounts."""

from __future__ import annotations

from recipec.measure.show import Style
from recipec.model.book import Book


def style_of(book: Book) -> Style:
    """By its settings; as written when they name no way we know."""
    settings = book.settings
    match settings.show:
        case "metric":
            return Style("metric", settings.language)
        case "us":
            return Style("us", settings.language)
        case _:
            return Style("as written", settings.language)
