"""Every finding on the safety of guests: of dishes by themselves, and of what events serve to whom. Each check is a line here."""

from __future__ import annotations

from recipec.base.finding import Finding
from recipec.larder.larder import Larder
from recipec.model.book import Book


def safety_of_all(book: Book, larder: Larder) -> tuple[Finding, ...]:
    """All of them, with the cook's reasons where a fact `accept:` of the dish or of the event gives one; some can never be accepted."""
    found: list[Finding] = []
    return tuple(found)
