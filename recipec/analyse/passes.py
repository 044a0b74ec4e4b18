"""The analysis of a book on one screen: which pass follows which.

A dish:     outline → flow (what each mark means) → balance (do the accounts add up) → waits → lower
An event:   facts → courses → lower
A kitchen:  facts → lower
The book:   link (dishes, circles, orders, kitchens) → accept (the cook's written reasons)

Each file is analysed by itself, so its result can be kept until it or the settings or the larder change.
"""

from __future__ import annotations

from typing import TYPE_CHECKING

from recipec.analyse.accept import accept
from recipec.analyse.context import Analysed, Context
from recipec.analyse.link import Linked, link_book
from recipec.analyse.lower import lower_dish
from recipec.syntax.tree import File

if TYPE_CHECKING:
    from recipec.model.dish import Dish
    from recipec.model.event import Event
    from recipec.model.kitchen import Kitchen

__all__ = ["Analysed", "Context", "Linked", "accept", "analyse_dish", "analyse_event", "analyse_kitchen", "link_book"]


def analyse_dish(file: File, context: Context) -> Analysed[Dish]:
    """One dish by itself."""
    return lower_dish(file, context)


def analyse_event(file: File, context: Context) -> Analysed[Event]:
    """One event by itself."""
    # Here, since a check of one dish should not pay for loading what it does not need.
    from recipec.analyse.lower_event import lower_event

    return lower_event(file, context)


def analyse_kitchen(file: File, context: Context) -> Analysed[Kitchen]:
    """One kitchen by itself."""
    from recipec.analyse.lower_kitchen import lower_kitchen

    return lower_kitchen(file, context)
