"""What papers must print of findings: dangers, open or accepted, of a dish with all it is made with, and of all that an event serves."""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Mapping
from types import MappingProxyType

from recipec.base.finding import Finding, Severity
from recipec.model.book import Book
from recipec.model.dish import Dish
from recipec.model.event import Event
from recipec.plan.links import Links
from recipec.plan.sheet import Caution


def by_file(findings: Iterable[Finding]) -> Mapping[str, tuple[Finding, ...]]:
    """Findings by the name of the file they stand in, each file's in order."""
    found: dict[str, list[Finding]] = {}
    for finding in findings:
        found.setdefault(finding.span.source.name, []).append(finding)
    return MappingProxyType({name: tuple(sorted(own, key=_order)) for name, own in found.items()})


def _order(finding: Finding) -> tuple[str, int, int, str, str]:
    return finding.order


def cautions_of(dish: Dish, links: Links, said: Mapping[str, tuple[Finding, ...]]) -> Iterator[Caution]:
    """For a dish's own papers, in the order of the files: dangers and errors of it and of what it is made with, and whatever else was
    accepted in its own text. `said` is as `by_file` has it."""
    own = dish.span.source.name
    for name in sorted(files_of(dish, links)):
        for finding in said.get(name, ()):
            # An error is on the card too: it is made all the same, and whoever cooks from it must know.
            open_to_harm = finding.severity in (Severity.DANGER, Severity.ERROR)
            if open_to_harm or (finding.accepted is not None and name == own):
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
    ordered = sorted(findings, key=_order)
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
