"""From files to a build: read, parse, analyse, link, accept. Nothing is written."""

from __future__ import annotations

import os
from collections.abc import Callable, Collection, Iterable, Mapping, Sequence
from dataclasses import dataclass
from pathlib import Path
from types import MappingProxyType
from typing import TYPE_CHECKING, NamedTuple, TypeAlias, TypeVar

from recipec.analyse.passes import Analysed, Context, accept, analyse_dish, analyse_event, analyse_kitchen, link_book
from recipec.base.finding import Finding, Severity
from recipec.base.source import Source
from recipec.book.files import (
    LARDER,
    PRICES,
    SETTINGS,
    Listing,
    Overlay,
    TextKind,
    absolute,
    kind_of,
    list_book,
    read_file,
)
from recipec.larder.larder import Larder, builtin
from recipec.model.book import Book
from recipec.model.dish import Dish, Role
from recipec.model.event import Event
from recipec.model.kitchen import Kitchen
from recipec.model.prices import Price
from recipec.model.settings import Settings
from recipec.syntax.parse import parse

if TYPE_CHECKING:
    from recipec.book.cache import Cache

# Readers of a book's own files are loaded where there is a book: a check of one loose dish must feel instant.

Model: TypeAlias = Dish | Event | Kitchen
Progress: TypeAlias = Callable[[int, int], None]
"""Told how many files of how many are done."""

T = TypeVar("T")


class Dependencies(NamedTuple):
    """What a compilation read: files and the folders it looked into, relative to the root, sorted."""

    files: tuple[str, ...]
    folders: tuple[str, ...]


class Overrides(NamedTuple):
    """What the caller wants instead of the book's own settings; None leaves them. See `model.settings.Settings`."""

    measures: str | None = None
    show: str | None = None
    language: str | None = None

    def over(self, settings: Settings) -> Settings:
        """The settings with these instead. The book's own numbers stay in the language that they are written in."""
        found = settings._replace(**{name: value for name, value in self._asdict().items() if value is not None})
        return found if self.language is None else found._replace(numbers=settings.numbers or settings.language)


AS_SET = Overrides()


@dataclass(frozen=True, slots=True)
class Build:
    """A compiled book. Everything that could be understood stands in `book`; what could not is in `findings`.

    `sources` are the texts by name. `root` is the book's folder, or the folder that loose files are named from. `photos`
    names the picture of a dish, by its key, as a file of the book.
    """

    root: Path
    book: Book
    larder: Larder
    findings: tuple[Finding, ...]
    sources: Mapping[str, Source]
    dependencies: Dependencies
    photos: Mapping[str, str]

    def about(self, names: Iterable[str]) -> tuple[Finding, ...]:
        """The findings that stand in these files, and those in `cookbook.toml`, which bears on every file."""
        return _about(self.findings, names)


class Checked(NamedTuple):
    """All findings of a book, and the names of its files."""

    findings: tuple[Finding, ...]
    names: tuple[str, ...]

    def about(self, names: Iterable[str]) -> tuple[Finding, ...]:
        """As `Build.about`."""
        return _about(self.findings, names)


def _about(findings: Iterable[Finding], names: Iterable[str]) -> tuple[Finding, ...]:
    wanted = {*names, SETTINGS}
    return tuple(finding for finding in findings if finding.span.source.name in wanted)


def against(findings: Iterable[Finding]) -> tuple[Finding, ...]:
    """Errors, and dangers nobody has accepted: with one of these no paper is right."""
    return tuple(
        finding
        for finding in findings
        if finding.severity is Severity.ERROR or (finding.severity is Severity.DANGER and finding.accepted is None)
    )


class _Pile:
    """What one compilation has gathered so far; lives no longer than it."""

    def __init__(self, root: Path, overlay: Overlay) -> None:
        self.root = root
        self.overlay = overlay
        self.sources: dict[str, Source] = {}
        self.findings: list[Finding] = []
        self.models: dict[str, Model] = {}
        self.photos: Mapping[str, str] = MappingProxyType({})

    def read(self, name: str) -> Source | None:
        """A file's text, read once."""
        if name not in self.sources:
            read = read_file(self.root, name, self.overlay)
            self.findings += read.findings
            if read.source is None:
                return None
            self.sources[name] = read.source
        return self.sources[name]

    def add(
        self, names: Sequence[str], context: Context, cache: Cache | None, progress: Progress | None = None
    ) -> None:
        """Analyse these texts; each tree is gone before the next is made."""
        for number, name in enumerate(names, 1):
            if progress is not None:
                progress(number, len(names))
            kind = kind_of(name)
            source = None if kind is None else self.sources.get(name)
            if kind is not None and source is not None:
                model, findings = _text(source, kind, context, cache)
                self.models[name] = model
                self.findings += findings

    def of(self, kind: type[Dish] | type[Event] | type[Kitchen]) -> list[Model]:
        return [model for _, model in sorted(self.models.items()) if isinstance(model, kind)]


def compile_book(
    root: Path,
    overlay: Overlay | None = None,
    *,
    overrides: Overrides = AS_SET,
    cached: bool = True,
    events: bool = True,
    progress: Progress | None = None,
) -> Build:
    """The whole book at `root`, which holds `cookbook.toml`. `overlay` is unsaved text by name.

    `events` False leaves out the findings of events' sums and timelines, which take a market list and a plan to know.
    """
    whole = _open(root, overlay or {}, overrides)
    if not cached:
        return _compiled(whole, None, progress, events)
    with _cache_of(whole) as cache:
        return _compiled(whole, cache, progress, events)


def check_book(
    root: Path,
    overlay: Overlay | None = None,
    *,
    overrides: Overrides = AS_SET,
    progress: Progress | None = None,
) -> Checked:
    """The findings of the whole book alone: when no file has changed since they were last asked for, nothing is parsed."""
    whole = _open(root, overlay or {}, overrides)
    with _cache_of(whole) as cache:
        # A file that can't be read is not among the sources, so such a book is looked at anew each time.
        known = not whole.pile.findings
        read = _all_read(whole)
        kept = cache.get_whole(read) if known else None
        if isinstance(kept, tuple):
            return Checked(kept, whole.listing.names)
        build = _compiled(whole, cache, progress)
        if known:
            cache.put_whole(read, build.findings)
        return Checked(build.findings, whole.listing.names)


class _Whole(NamedTuple):
    """A book's files, all read, and what its texts are analysed with."""

    pile: _Pile
    listing: Listing
    context: Context


def _open(root: Path, overlay: Overlay, overrides: Overrides) -> _Whole:
    pile = _Pile(absolute(root), overlay)
    listing = list_book(pile.root, overlay)
    pile.findings += listing.findings
    for name in listing.names:
        pile.read(name)
    return _Whole(pile, listing, _context(pile, frozenset(listing.names), overrides))


def _all_read(whole: _Whole) -> Mapping[str, Source]:
    """All that the findings of a book come from: its texts, and for its pictures what shows that one has changed."""
    pictures = whole.listing.pictures
    if not pictures:
        return whole.pile.sources
    return {**whole.pile.sources, "": Source("", "\n".join(f"{one.size} {one.changed} {one.name}" for one in pictures))}


def _cache_of(whole: _Whole) -> Cache:
    from recipec.book.cache import open_cache

    return open_cache(whole.pile.root, _context_mark(whole.context.settings, whole.pile.sources.get(LARDER)))


def _compiled(whole: _Whole, cache: Cache | None, progress: Progress | None, events: bool = True) -> Build:
    pile, listing, context = whole
    pile.add(listing.names, context, cache, progress)
    prices: tuple[Price, ...] = ()
    source = pile.sources.get(PRICES)
    if source is not None:
        from recipec.analyse.prices import read_prices

        prices = _take(pile, read_prices(source, context))
    dishes = [model for model in pile.of(Dish) if isinstance(model, Dish) and model.photo]
    if dishes:
        from recipec.book.photos import find_photos

        pile.photos, findings = find_photos(pile.root, dishes, listing.pictures)
        pile.findings += findings
    return _linked(pile, context, prices, Dependencies(listing.names, listing.folders), events, source is not None)


def compile_files(paths: Sequence[Path], overlay: Overlay | None = None, *, overrides: Overrides = AS_SET) -> Build:
    """Loose dishes, events and kitchens that belong to no book, by the built-in larder and the usual settings.

    Dishes and kitchens beside them are read too when one of the files asks for `our` or is an event.
    """
    paths = [absolute(path) for path in paths]
    root = _common(paths)
    pile = _Pile(root, overlay or {})
    names = sorted({path.relative_to(root).as_posix() for path in paths})
    context = Context(overrides.over(Settings()), builtin())
    for name in names:
        pile.read(name)
    pile.add(names, context, None)
    folders: tuple[str, ...] = ()
    if any(_asks_for_others(model) for model in pile.models.values()):
        folders = tuple(sorted({name.rpartition("/")[0] for name in names}))
        beside = sorted({name for folder in folders for name in _beside(root, folder)} - set(names))
        for name in beside:
            pile.read(name)
        pile.add(beside, context, None)
    return _linked(pile, context, (), Dependencies(tuple(sorted(pile.sources)), folders))


def context_of(root: Path | None, overrides: Overrides = AS_SET) -> Context:
    """The settings and the larder of the book at `root` alone; the usual ones without a book, and where a file is bad."""
    pile = _Pile(Path() if root is None else absolute(root), {})
    present = [] if root is None else [name for name in (SETTINGS, LARDER) if (pile.root / name).is_file()]
    return _context(pile, present, overrides)


def _context(pile: _Pile, present: Collection[str], overrides: Overrides) -> Context:
    settings = Settings()
    if SETTINGS in present and (source := pile.read(SETTINGS)) is not None:
        from recipec.analyse.settings import read_settings

        settings = _take(pile, read_settings(source))
    larder = builtin()
    if LARDER in present and (source := pile.read(LARDER)) is not None:
        from recipec.larder.book_rows import read_larder_csv

        rows, findings = read_larder_csv(source)
        pile.findings += findings
        larder = larder.with_rows(rows)
    return Context(overrides.over(settings), larder)


def _linked(
    pile: _Pile,
    context: Context,
    prices: tuple[Price, ...],
    dependencies: Dependencies,
    planned: bool = False,
    priced: bool = False,
) -> Build:
    dishes = [model for model in pile.of(Dish) if isinstance(model, Dish)]
    events = [model for model in pile.of(Event) if isinstance(model, Event)]
    kitchens = [model for model in pile.of(Kitchen) if isinstance(model, Kitchen)]
    book, findings = link_book(context.settings, dishes, events, kitchens, prices)
    settled = accept((*pile.findings, *findings), dishes, events)
    broken = bool(against(settled))
    if dishes:
        from recipec.book.safety import safety_of_all

        wrong = frozenset(one.span.source.name for one in settled if one.severity is Severity.ERROR)
        settled += safety_of_all(book, context.larder, wrong)
    if planned and priced:
        from recipec.book.money import money_of_all

        settled += money_of_all(book, context.larder)
    # Half a dish has no timeline: what is wrong with it comes first.
    if planned and events and not broken:
        from recipec.book.timeline import timeline_of_all

        settled += timeline_of_all(book, context.larder)
    ordered = tuple(sorted(settled, key=lambda finding: finding.order))
    return Build(pile.root, book, context.larder, ordered, pile.sources, dependencies, pile.photos)


def _text(source: Source, kind: TextKind, context: Context, cache: Cache | None) -> tuple[Model, tuple[Finding, ...]]:
    kept = None if cache is None else cache.get(source, kind)
    if isinstance(kept, tuple):
        return kept
    parsed = parse(source, kind)
    analysed: Analysed[Dish] | Analysed[Event] | Analysed[Kitchen]
    if kind == "dish":
        analysed = analyse_dish(parsed.tree, context)
    elif kind == "event":
        analysed = analyse_event(parsed.tree, context)
    else:
        analysed = analyse_kitchen(parsed.tree, context)
    made = (analysed.value, (*parsed.findings, *analysed.findings))
    if cache is not None:
        cache.put(source, kind, made)
    return made


def _take(pile: _Pile, analysed: Analysed[T]) -> T:
    pile.findings += analysed.findings
    return analysed.value


def _context_mark(settings: Settings, larder: Source | None) -> bytes:
    text = "" if larder is None else larder.text
    return f"{settings!r}\0{larder is None}\0{text}".encode("utf-8", "surrogatepass")


def _asks_for_others(model: Model) -> bool:
    if isinstance(model, Event):
        return True
    return isinstance(model, Dish) and any(use.role is Role.OUR for use in model.uses)


def _beside(root: Path, folder: str) -> list[str]:
    try:
        with os.scandir(root / folder) as found:
            files = sorted(entry.name for entry in found if not entry.name.startswith("."))
    except OSError:
        return []
    names = [f"{folder}/{name}" if folder else name for name in files]
    return [name for name in names if kind_of(name) in ("dish", "kitchen")]


def _common(paths: Iterable[Path]) -> Path:
    """Where loose files are named from: where the cook stands, if all of them are below, so the names are as typed."""
    here = Path.cwd()
    folders = {path.parent for path in paths}
    if all(folder.is_relative_to(here) for folder in folders):
        return here
    return Path(os.path.commonpath(folders))
