"""What an emitter is given, and what it gives back."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass, field
from types import MappingProxyType

from recipec.base.finding import Finding
from recipec.larder.larder import Larder
from recipec.model.book import Book
from recipec.model.settings import Settings
from recipec.plan.client_copy import Portion
from recipec.plan.timeline_types import Planned, Unplanned


@dataclass(frozen=True, slots=True)
class Form:
    """What a page is filled with, so that it can be set for printing from the same: its template's name, what that is given, and the
    book's settings."""

    template: str
    context: Mapping[str, object]
    settings: Settings


@dataclass(frozen=True, slots=True)
class Paper:
    """One file of the output: `path` relative, with forward slashes, inside the output folder; `data` its bytes. `form` is what a page
    was filled with, None for anything else; it is no part of what the paper is."""

    path: str
    data: bytes
    form: Form | None = field(default=None, compare=False, repr=False)


@dataclass(frozen=True, slots=True)
class Photo:
    """A picture's bytes; `ending` by what they are: png, jpg or webp; width and height in pixels, as it is shown."""

    ending: str
    width: int
    height: int
    data: bytes


@dataclass(frozen=True, slots=True)
class Request:
    """A checked book to be put on paper.

    `findings` are all of them; papers print those dangers a cook has accepted. `photos` are the dishes' pictures by the
    dish's key; a dish that has none is shown without. `plans` are the bookings' plans by the event's key; one that has none has no
    run sheet, prep list, pull list or calendar. `portions` says how much each dish is shown for; one it does not name is shown as it is
    written. `client`: a client's copy, which has the cookbook alone.
    """

    book: Book
    larder: Larder
    findings: tuple[Finding, ...] = ()
    photos: Mapping[str, Photo] = field(default_factory=lambda: MappingProxyType({}))
    plans: Mapping[str, Planned | Unplanned] = field(default_factory=lambda: MappingProxyType({}))
    portions: Mapping[str, Portion] = field(default_factory=lambda: MappingProxyType({}))
    client: bool = False
