"""The card for the stove: one dish, read at arm's length and more, printed black on white."""

from __future__ import annotations

import re
from fractions import Fraction

from markupsafe import Markup, escape

from recipec.emit.cookbook import much
from recipec.emit.desk import Desk, desk_for_one, page_name, paper_size, sheet
from recipec.emit.dish_page import board, holds, shown_strands
from recipec.emit.fractions import set_fractions
from recipec.emit.render import clean
from recipec.emit.request import Paper, Request
from recipec.emit.version_cards import Version, ordered_versions
from recipec.measure.quantity import Amount
from recipec.plan.sheet import DishSheet

# A figure with the units that no-break spaces tie to it: what must be read from across the stove.
FIGURE = re.compile("[0-9¼½¾⅐-⅞↉][0-9.,:/–¼½¾⅐-⅞↉]*%?(?:\u00a0[^\\s,;:()]+)*")


def cards(desk: Desk) -> tuple[Paper, ...]:
    """A card for every dish, as it is written, and one for every version of it that an event orders."""
    return (
        *(_card(desk, sheet, alone=False) for sheet in desk.sheets.values()),
        *(_version_card(desk, one) for one in ordered_versions(desk)),
    )


def card_page(
    request: Request, key: str, wanted: Fraction | Amount | None = None, without: tuple[str, ...] = ()
) -> Paper:
    """One card that travels alone: its styles are inside. `key` is a dish of the book; `wanted`, plates or an amount, scales it;
    `without` are foods left out."""
    return _card(desk_for_one(request), sheet(request, key, wanted, without), alone=True)


def loud(text: str) -> Markup:
    """Text with its figures marked to be set large."""
    text = clean(text)
    parts: list[Markup] = []
    end = 0
    for match in FIGURE.finditer(text):
        parts += [
            escape(text[end : match.start()]),
            Markup('<b class="big">{}</b>').format(set_fractions(match.group())),
        ]
        end = match.end()
    return Markup("").join([*parts, escape(text[end:])])


def _version_card(desk: Desk, version: Version) -> Paper:
    found = sheet(desk.request, version.dish, version.plates, version.without)
    return _card(desk, found, alone=False, path=desk.paths.version(version.dish, version.without))


def _card(desk: Desk, sheet: DishSheet, *, alone: bool, path: str = "") -> Paper:
    size = paper_size(desk.book)
    return desk.paper(
        path or desk.paths.card(sheet.key),
        "card.html",
        ("card.css",),
        alone=alone,
        page_title=page_name(sheet.title, *_left_out(desk, sheet), desk.tongue.say("card", context="page")),
        sheet=sheet,
        much=much(sheet),
        groups=board(sheet),
        strands=shown_strands(sheet),
        holds=holds(sheet),
        size=size.lower(),
        loud=loud,
        back=desk.paths.dish(sheet.key),
    )


def _left_out(desk: Desk, sheet: DishSheet) -> tuple[str, ...]:
    return tuple(desk.tongue.say("without %(food)s", food=food) for food in sheet.without)
