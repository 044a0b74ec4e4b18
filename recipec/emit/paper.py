"""The registry of papers: every file of the cookbook comes from one line of it."""

from __future__ import annotations

from collections.abc import Callable, Mapping
from types import MappingProxyType
from typing import TYPE_CHECKING, TypeAlias

from recipec.emit.assets import assets, photos
from recipec.emit.book_json import book_json
from recipec.emit.card_page import cards
from recipec.emit.client_page import client_home
from recipec.emit.cookbook import courses, home, ingredients
from recipec.emit.cost_page import costs
from recipec.emit.desk import Desk, desk
from recipec.emit.dish_page import dish_pages
from recipec.emit.event_page import event_pages
from recipec.emit.guests_page import guest_matrices
from recipec.emit.market_page import markets
from recipec.emit.menu_page import menu_cards
from recipec.emit.request import Paper, Request
from recipec.emit.search_data import find_data
from recipec.emit.timeline_page import timelines
from recipec.emit.tub_pages import label_sheets, leftover_sheets, safety_logs

if TYPE_CHECKING:
    from recipec.emit.pdf.press import SetType

__all__ = ["CLIENTS", "PAPERS", "Emitter", "Paper", "Request", "emit_book"]

Emitter: TypeAlias = Callable[[Desk], tuple[Paper, ...]]

PAPERS: Mapping[str, Emitter] = MappingProxyType(
    {
        "assets": assets,
        "photos": photos,
        "home": home,
        "search": find_data,
        "courses": courses,
        "ingredients": ingredients,
        "dishes": dish_pages,
        "cards": cards,
        "events": event_pages,
        "markets": markets,
        "costs": costs,
        "timelines": timelines,
        "guests": guest_matrices,
        "menus": menu_cards,
        "labels": label_sheets,
        "leftovers": leftover_sheets,
        "logs": safety_logs,
        "data": book_json,
    }
)
"""Name → what makes it. Nothing here reads or writes a user's file."""


CLIENTS: Mapping[str, Emitter] = MappingProxyType(
    {
        "assets": assets,
        "photos": photos,
        "home": client_home,
        "courses": courses,
        "ingredients": ingredients,
        "dishes": dish_pages,
    }
)
"""The same for a client's copy."""


def emit_book(request: Request, pdf: SetType | None = None) -> tuple[Paper, ...]:
    """Every paper of a book, or of a client's copy, by path; with `pdf`, which sets type, the PDFs too. The same book gives the same
    bytes."""
    on_desk = desk(request)
    papers = [paper for emitter in (CLIENTS if request.client else PAPERS).values() for paper in emitter(on_desk)]
    if pdf is not None:
        from recipec.emit.pdf.printing import prints

        papers += prints(on_desk, papers, pdf)
    return tuple(sorted(papers, key=lambda paper: paper.path))
