"""What papers must print of findings: dangers, open or accepted, of a dish with all it is made with, and of all that an event serves."""

from __future__ import annotations

from collections.abc import Iterable, Iterator

from recipec.base.finding import Finding, Severity
from recipec.model.book import Book
from recipec.model.dish import Dish
from recipec.model.event import Event
from recipec.plan.links import Links
from recipec.plan.sheet import Caution


def cautions_of(dish: Dish, links: Links, findings: Iterable[Finding]) -> Iterator[Caution]:
    """For a dish's own papers, in the order of the files: dangers and errors of it and of what it is made with, and whatever else was
    accepted in its own text."""
    own = dish.span.source.name
    sources = files_of(dish, links)
    for finding in sorted(findings, key=lambda finding: finding.order):
        name = finding.span.source.name
        # An error is on the card too: it is made all the same, and whoever cooks from it must know.
        open_to_harm = finding.severity in (Severity.DANGER, Severity.ERROR)
        if name in sources and (open_to_harm or (finding.accepted is not None and name == own)):
            yield Caution(finding.slug, finding.severity, finding.message, finding.accepted or "")


def files_of(dish: Dish, links: Links) -> frozenset[str]:
    """The files of a dish and of all dishes it is made with, second choices among them."""
    sources = {dish.span.source.name}
    todo = [dish]
    while todo:
        part = todo.pop()
        for use in part.uses:
            below = links.meant(part, use)
            if below is not None and below.span.source.name not in sources:
                sources.add(below.span.source.name)
                todo.append(below)
    return frozenset(sources)


def cautions_of_event(book: Book, event: Event, findings: Iterable[Finding]) -> tuple[Caution, ...]:
    """For every paper of an event: what was accepted, or is a danger, in its own text; then, dish by dish as they are served, the dangers
    of all that is cooked for it, the dish's title before each. Each once."""
    ordered = sorted(findings, key=lambda finding: finding.order)
    links = Links(book)
    titles = {dish.span.source.name: dish.title for dish in book.dishes}
    own = event.span.source.name
    found = [
        finding
        for finding in ordered
        if finding.span.source.name == own and (finding.accepted is not None or finding.severity is Severity.DANGER)
    ]
    dangers = [finding for finding in ordered if finding.severity is Severity.DANGER]
    for key in dict.fromkeys(order.dish for course in event.courses for order in course.orders):
        dish = None if key is None else links.dish(key)
        if dish is not None and dangers:
            files = files_of(dish, links)
            found += (finding for finding in dangers if finding.span.source.name in files)
    return tuple(dict.fromkeys(_titled(finding, titles.get(finding.span.source.name, "")) for finding in found))


def _titled(finding: Finding, title: str) -> Caution:
    text = f"{title}: {finding.message}" if title else finding.message
    return Caution(finding.slug, finding.severity, text, finding.accepted or "")
