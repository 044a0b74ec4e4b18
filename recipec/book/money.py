"""The findings of events' money, with the cook's reasons where a fact `accept:` of the event gives one."""

from __future__ import annotations

from recipec.analyse.accept import accepted_by
from recipec.base.finding import Finding
from recipec.larder.larder import Larder
from recipec.model.book import Book
from recipec.model.event import Event
from recipec.plan.market import market
from recipec.plan.market_types import Market
from recipec.plan.money_findings import money_findings


def money_of(book: Book, larder: Larder, event: Event, listed: Market | None = None) -> tuple[Finding, ...]:
    """What is to be said of one event's money; `listed` is its own market list where the caller has it already."""
    if listed is None:
        listed = market(book, larder, [event.key])
    return accepted_by(money_findings(book, event, listed), event.accepted)


def money_of_all(book: Book, larder: Larder) -> tuple[Finding, ...]:
    """The same for every event that states a budget or a price: of the others nobody has asked for a sum."""
    asked = [event for event in book.events if event.budget is not None or event.price is not None]
    return tuple(finding for event in asked for finding in money_of(book, larder, event))
