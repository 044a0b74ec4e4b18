"""What every paper of one book is made from: the request, its paths, every dish's sheet and every booking's market list, reckoned once."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass
from fractions import Fraction
from types import MappingProxyType

from markupsafe import Markup, escape

from recipec.emit.paths import Paths, paths, up
from recipec.emit.render import clean, page, source_hash, style
from recipec.emit.request import Form, Paper, Request
from recipec.measure.language import Language, language_of
from recipec.measure.quantity import Amount
from recipec.model.book import Book
from recipec.plan.fill import Sheets, dish_sheet
from recipec.plan.market import Reckoned, market, reckon_events
from recipec.plan.market_types import Market
from recipec.plan.sheet import (
    AsideBlock,
    DishSheet,
    FoodPiece,
    GearPiece,
    LayOutBlock,
    SheetBlock,
    SheetPiece,
    StepBlock,
    WordsPiece,
)
from recipec.plan.styling import style_of
from recipec.plan.timeline_types import Planned, Unplanned

PAPER_SIZES = ("A4", "A5", "Letter")
_LONGEST_NAME = 70


@dataclass(frozen=True, slots=True)
class At:
    """Where a page stands: how it leads back to the output folder, and where dishes lie from there."""

    root: str
    dishes: Mapping[str, str]

    def sort(self, part: SheetPiece | SheetBlock) -> str:
        """What a piece or a block is, for templates, which know no types."""
        match part:
            case WordsPiece():
                return "words"
            case FoodPiece():
                return "food"
            case GearPiece():
                return "gear"
            case StepBlock():
                return "step"
            case LayOutBlock():
                return "lay out"
            case AsideBlock():
                return "aside"
            case _:
                return "other"


@dataclass(frozen=True, slots=True)
class Desk:
    """One book, ready to be put on paper."""

    request: Request
    paths: Paths
    pages: Mapping[str, str]
    sheets: Mapping[str, DishSheet]
    reckoned: Mapping[str, Reckoned]

    @property
    def book(self) -> Book:
        """The book."""
        return self.request.book

    @property
    def client(self) -> bool:
        """Whether this is a client's copy."""
        return self.request.client

    @property
    def tongue(self) -> Language:
        """The language of all papers."""
        return language_of(self.book.settings.language)

    @property
    def plans(self) -> Mapping[str, Planned | Unplanned]:
        """The bookings' plans, by the event's key."""
        return self.request.plans

    def at(self, path: str, *, alone: bool = False) -> At:
        """Where the page at `path` stands. A page that travels alone has no other page to lead to."""
        return At(up(path), MappingProxyType({}) if alone else self.pages)

    def paper(
        self, path: str, template: str, sheets: tuple[str, ...], *, alone: bool = False, **context: object
    ) -> Paper:
        """A page at `path`, for the book's paper. One that travels alone carries its styles inside and no link out of itself."""
        sheets = (*sheets, f"paper-{paper_size(self.book).lower()}.css")
        texts = tuple(style(name) for name in sheets) if alone else ()
        allowed = " ".join(f"'{source_hash(text)}'" for text in texts) if alone else "'self'"
        data = page(
            template,
            settings=self.book.settings,
            tongue=self.tongue,
            root=up(path),
            at=self.at(path, alone=alone),
            sheets=sheets,
            # Ours, not a cook's: style sheets and their hashes go in as they are.
            inlined=tuple(Markup(text) for text in texts),
            style_from=Markup(allowed),
            alone=alone,
            client=self.client,
            **context,
        )
        return Paper(path, data, Form(template, MappingProxyType(context), self.book.settings))


def desk_for_one(request: Request) -> Desk:
    """A desk with no sheet on it yet, for a single paper."""
    where = paths(request.book)
    pages = MappingProxyType({dish.key: where.dish(dish.key) for dish in request.book.dishes})
    return Desk(request, where, pages, MappingProxyType({}), MappingProxyType({}))


def desk(request: Request) -> Desk:
    """A desk with the sheet of every dish, and the market list of every booking where there are papers of bookings."""
    bare = desk_for_one(request)
    maker = Sheets(request.book, request.larder, style_of(request.book), request.findings)
    sheets = {dish.key: maker.of(dish.key, request.portions.get(dish.key)) for dish in request.book.dishes}
    if request.client:
        return Desk(request, bare.paths, bare.pages, MappingProxyType(sheets), MappingProxyType({}))
    look = style_of(request.book)
    lists = {
        event.key: reckon_events(request.book, request.larder, (event.key,), look) for event in request.book.events
    }
    return Desk(request, bare.paths, bare.pages, MappingProxyType(sheets), MappingProxyType(lists))


def sheet(
    request: Request, key: str, wanted: Fraction | Amount | None = None, without: tuple[str, ...] = ()
) -> DishSheet:
    """The sheet of one dish, for so many plates, for an amount of it, or as written; with some foods left out."""
    return dish_sheet(request.book, request.larder, key, wanted, style_of(request.book), request.findings, without)


def market_list(request: Request, event_keys: tuple[str, ...]) -> Market:
    """What is to be got for these bookings together."""
    return market(request.book, request.larder, event_keys, style_of(request.book))


def paper_size(book: Book) -> str:
    """The book's paper; A4 when it names one we have no print style for."""
    return size_named(book.settings.paper)


def size_named(name: str) -> str:
    """The paper of that name, A4 for one we do not know."""
    return next((size for size in PAPER_SIZES if size.casefold() == name.casefold()), PAPER_SIZES[0])


def page_name(*parts: str) -> str:
    """The name of a page, for tabs and bookmarks: short enough to be read there, as it stands in the file."""
    text = clean(" · ".join(part for part in parts if part))
    if len(escape(text)) <= _LONGEST_NAME:
        return text
    while len(escape(text)) >= _LONGEST_NAME:
        text = text[:-1]
    return text.rstrip() + "…"
