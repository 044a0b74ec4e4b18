"""Every page and every text paper of a book, in a language, with what it asked its catalogue for in vain."""

from __future__ import annotations

from collections.abc import Iterator
from contextlib import contextmanager
from fractions import Fraction
from pathlib import Path
from unittest.mock import patch

from recipec.book.compile import Build, Overrides, compile_book
from recipec.emit import tub_text
from recipec.emit.card_text import card_text
from recipec.emit.cost_text import cost_text
from recipec.emit.desk import sheet
from recipec.emit.guests_text import guests_text
from recipec.emit.guests_words import findings_for
from recipec.emit.market_text import market_text
from recipec.emit.paper import emit_book
from recipec.emit.request import Request
from recipec.emit.timeline_text import timeline_text
from recipec.emit.timeline_words import style_for
from recipec.emit.tub_words import TubPaper, tub_head
from recipec.measure.language import Language
from recipec.model.event import Event
from recipec.plan.costing import cost_event
from recipec.plan.guests import guests_of
from recipec.plan.labels import labels_of
from recipec.plan.leftovers import leftovers_of
from recipec.plan.market import market
from recipec.plan.prep_list import prep_list
from recipec.plan.safety_log import safety_log
from recipec.plan.styling import style_of
from recipec.plan.swaps import swaps
from recipec.plan.timeline_types import Planned, Unplanned

MANY = Fraction(40)


def build_in(folder: Path, language: str) -> Build:
    """A book of ours in a language."""
    return compile_book(folder, overrides=Overrides(language=language))


def papers(build: Build, plans: dict[str, Planned | Unplanned]) -> Iterator[tuple[str, str]]:
    """Name and text of every page and every text paper; run sheets of what is planned."""
    request = Request(build.book, build.larder, build.findings, plans=plans)
    language = build.book.settings.language
    for paper in emit_book(request):
        if paper.path.endswith((".html", ".csv", ".ics")):
            yield paper.path, paper.data.decode("utf-8-sig")
    for dish in build.book.dishes:
        for wanted in (None, MANY):
            yield f"{dish.key}-{wanted or 'written'}.txt", card_text(sheet(request, dish.key, wanted), language)
    for event in build.book.events:
        for name, text in _of_event(build, event, plans.get(event.key)):
            yield f"{event.key}/{name}.txt", text


def _of_event(build: Build, event: Event, plan: Planned | Unplanned | None) -> Iterator[tuple[str, str]]:
    book, larder, language = build.book, build.larder, build.book.settings.language
    look = style_of(book)
    listed = market(book, larder, (event.key,), look)
    yield "market", market_text(listed, language)
    yield (
        "cost",
        cost_text(cost_event(book, larder, event.key, look), language, swaps(book, larder, (event.key,), look)),
    )
    guests = guests_of(book, larder, event)
    yield "guests", guests_text(guests, findings_for(book, guests, build.findings), language)
    planned = plan if isinstance(plan, Planned) else None
    heads = {paper: tub_head(book, event, paper, build.findings) for paper in TubPaper}
    yield "labels", tub_text.labels_text(heads[TubPaper.LABELS], labels_of(book, larder, event, planned))
    yield "leftovers", tub_text.leftovers_text(heads[TubPaper.LEFTOVERS], leftovers_of(book, larder, event, planned))
    yield "log", tub_text.log_text(heads[TubPaper.LOG], safety_log(book, larder, event, listed, planned))
    if planned is not None:
        yield "timeline", timeline_text(planned, prep_list(planned, book, listed), style_for(book, event))


@contextmanager
def wanting() -> Iterator[set[tuple[str, str]]]:
    """What is asked of a catalogue that does not hold it, while this lasts. The cook's own word for a touch is asked for as well."""
    found: set[tuple[str, str]] = set()
    say, form = Language.say, Language.form

    def note(self: Language, context: str, message: str) -> None:
        if self.words != "en" and (context, message) not in self._messages and context != "touch":
            found.add((context, message))

    def noted(self: Language, message: str, /, *, context: str = "", **values: object) -> str:
        note(self, context, message)
        return say(self, message, context=context, **values)

    def formed(self: Language, one: str, many: str, several: bool, /, *, context: str = "", **values: object) -> str:
        note(self, context, one)
        return form(self, one, many, several, context=context, **values)

    with patch.object(Language, "say", noted), patch.object(Language, "form", formed):
        yield found
