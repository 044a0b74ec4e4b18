"""A page of the cookbook for every dish."""

from __future__ import annotations

import hashlib

from markupsafe import Markup

from recipec.emit.abreast import abreast
from recipec.emit.cookbook import DishLink, link, much, page_title
from recipec.emit.desk import Desk
from recipec.emit.jsonld import embedded, recipe
from recipec.emit.live import joins_parts, live
from recipec.emit.paths import up
from recipec.emit.request import Paper
from recipec.plan.sheet import DishSheet, IngredientGroup, IngredientLine, ResultLine, StepBlock, StrandSheet


def dish_pages(desk: Desk) -> tuple[Paper, ...]:
    """All dishes' pages."""
    users = _users(desk)
    return tuple(dish_page(desk, sheet, users.get(sheet.key, ())) for sheet in desk.sheets.values())


def board(sheet: DishSheet) -> tuple[IngredientGroup, ...]:
    """What lies on the board, by strand; without a heading when one strand brings in everything."""
    groups = tuple(group for group in sheet.groups if group.lines)
    if len(groups) > 1:
        return groups
    return (IngredientGroup("", sheet.ingredients),) if sheet.ingredients else ()


def holds(sheet: DishSheet) -> tuple[ResultLine, ...]:
    """What the dish's steps leave that may be held."""
    return tuple(line for step in steps(sheet) for line in step.results if line.hold)


def steps(sheet: DishSheet) -> tuple[StepBlock, ...]:
    """All steps, in the order of the text."""
    return tuple(block for strand in sheet.strands for block in strand.blocks if isinstance(block, StepBlock))


def shown_strands(sheet: DishSheet) -> tuple[StrandSheet, ...]:
    """The strands that have anything to show."""
    return tuple(strand for strand in sheet.strands if strand.blocks)


def dish_page(desk: Desk, sheet: DishSheet, used_in: tuple[DishLink, ...] = ()) -> Paper:
    """The page of one dish, as its sheet says it; `used_in` are the dishes that it is part of."""
    settings = desk.book.settings
    photo = desk.request.photos.get(sheet.key)
    picture = "" if photo is None else desk.paths.photo(sheet.key, photo.ending)
    groups = _groups(desk, sheet)
    slots = live(desk.book, desk.request.larder, sheet, groups)
    data = recipe(sheet, settings.author, desk.tongue.tag, up(desk.paths.dish(sheet.key)) + picture if picture else "")
    return desk.paper(
        desk.paths.dish(sheet.key),
        "dish.html",
        ("base.css", "dish.css"),
        kind="dish",
        page_title=page_title(desk, sheet.title),
        # Escaped for its place by `embedded`: autoescape would turn quotes into entities, which a script element keeps.
        data=Markup(embedded(data)),
        sheet=sheet,
        photo=photo,
        picture=picture,
        much=much(sheet),
        card=desk.paths.card(sheet.key),
        groups=groups,
        live=slots,
        abreast=abreast(desk.book.dish(sheet.key), sheet),
        island=Markup(embedded(slots.data)),
        scripts=("figures.js", "sums.js", "dish.js"),
        book_mark=_mark(settings.title),
        strands=shown_strands(sheet),
        holds=holds(sheet),
        used_in=used_in,
    )


def _groups(desk: Desk, sheet: DishSheet) -> tuple[IngredientGroup, ...]:
    groups = board(sheet)
    if len(groups) == 1 and joins_parts(desk.book, desk.request.larder, sheet.key):
        return (IngredientGroup("", tuple(line for group in sheet.groups for line in group.lines)),)
    return groups


def _mark(title: str) -> str:
    """What a browser keeps a book's countdowns under."""
    return hashlib.sha256(title.encode("utf-8", "surrogatepass")).hexdigest()[:8]


def _users(desk: Desk) -> dict[str, tuple[DishLink, ...]]:
    users: dict[str, list[str]] = {}
    for sheet in desk.sheets.values():
        for key in dict.fromkeys(key for line in sheet.ingredients for key in _dishes(line)):
            users.setdefault(key, []).append(sheet.key)
    return {key: tuple(link(desk, user) for user in found) for key, found in users.items()}


def _dishes(line: IngredientLine) -> tuple[str, ...]:
    own = () if line.dish is None else (line.dish,)
    return own + tuple(key for other in line.alternatives for key in _dishes(other))
