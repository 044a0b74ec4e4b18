"""Every finding on the safety of guests: of dishes by themselves, and of what events serve to whom. Each check is a line here."""

from __future__ import annotations

from recipec.analyse.accept import accept
from recipec.base.finding import Finding
from recipec.larder.larder import Larder
from recipec.model.book import Book


def safety_of_all(book: Book, larder: Larder) -> tuple[Finding, ...]:
    """All of them, with the cook's reasons where a fact `accept:` of the dish or of the event gives one; some can never be accepted."""
    found: list[Finding] = []
    found += guests_of_all(book, larder)
    return tuple(found)


def guests_of_all(book: Book, larder: Larder) -> tuple[Finding, ...]:
    """What guests are served that they must not have, and alternatives that trade one allergen for another."""
    found: list[Finding] = []
    # Loaded only where there is anything to judge: the check of one plain dish must feel instant.
    if any(use.choices for dish in book.dishes for use in dish.uses):
        from recipec.plan.guests_swaps import swap_findings

        found += swap_findings(book, larder)
    if any(event.seats for event in book.events):
        from recipec.plan.guests_findings import NEVER_ACCEPTED, guests_findings

        said = [finding for event in book.events for finding in guests_findings(book, larder, event)]
        found += (finding for finding in said if finding.slug not in NEVER_ACCEPTED)
        return (
            *accept(found, book.dishes, book.events),
            *(finding for finding in said if finding.slug in NEVER_ACCEPTED),
        )
    return accept(found, book.dishes, book.events)
