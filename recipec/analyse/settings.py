"""`cookbook.toml` read into settings."""

from __future__ import annotations

import re
import tomllib

from recipec.analyse.context import Analysed, Notes
from recipec.analyse.settings_money import Reader
from recipec.base.source import Source
from recipec.base.span import Span
from recipec.base.suggest import nearest
from recipec.measure.decimals import LANGUAGES, is_currency
from recipec.model.settings import Settings

# Key → the values it may have; () is any words.
_KEYS: dict[str, tuple[str, ...]] = {
    "title": (),
    "author": (),
    "currency": (),
    "measures": ("us", "uk", "metric", "au"),
    "show": ("as written", "metric", "us"),
    "paper": ("A4", "A5", "Letter"),
    "language": LANGUAGES,
    "safety": ("us-food-code", "uk"),
    "note": (),
    "rates": (),
    "prices_stand": (),
    "seasoning": (),
}
_READ_LAST = ("rates", "prices_stand", "seasoning")
_AT = re.compile(r"\(at line (\d+), column (\d+)\)")


def read_settings(source: Source) -> Analysed[Settings]:
    """The settings a book states, defaults for the rest; a broken file gives one finding and what its other lines say."""
    notes = Notes()
    try:
        table = tomllib.loads(source.text)
    except tomllib.TOMLDecodeError as problem:
        notes.add(
            "bad-settings",
            _place(source, str(problem)),
            f"This is not TOML: {_AT.sub('', str(problem)).strip().rstrip('.').lower()}.",
            'Each line is a name, an equals sign and a value in quotes: title = "My book"',
        )
        table = _by_line(source)
    taken: dict[str, str] = {}
    for key, value in table.items():
        span = _key(source, key)
        if key not in _KEYS:
            near = nearest(key, sorted(_KEYS))
            notes.add(
                "bad-settings",
                span,
                f"A book has no setting called `{key}`.",
                f"Did you mean `{near[0]}`?" if near else f"The settings are: {', '.join(sorted(_KEYS))}.",
            )
        elif not isinstance(value, str):
            notes.add("bad-settings", span, f"`{key}` must be words in quotes.", f'Write {key} = "…"')
        elif _KEYS[key] and value not in _KEYS[key]:
            allowed = ", ".join(f'"{word}"' for word in _KEYS[key])
            notes.add("bad-settings", span, f"`{key}` can't be `{value}`.", f"Write one of: {allowed}.")
        elif key == "currency" and not is_currency(value):
            notes.add(
                "bad-settings",
                span,
                f"`{value}` is no currency code.",
                'Write its three letters by ISO 4217: currency = "GBP"',
            )
        else:
            taken[key] = value
    # How their numbers are written is the language's business, which may stand below them.
    late = {key: taken.pop(key) for key in _READ_LAST if key in taken}
    settings = Settings(**taken)  # type: ignore[arg-type]
    reader = Reader(settings.language, notes, {key: _key(source, key) for key in late})
    if "rates" in late:
        settings = settings._replace(rates=reader.rates(late["rates"]))
    if "prices_stand" in late and (days := reader.days(late["prices_stand"])) is not None:
        settings = settings._replace(prices_stand_days=days)
    if "seasoning" in late and (part := reader.part(late["seasoning"])) is not None:
        settings = settings._replace(seasoning=part)
    return Analysed(settings, notes.done())


def _by_line(source: Source) -> dict[str, object]:
    """The settings of the lines that can be read one by one: a slip in one must not lose whose measures the book follows."""
    table: dict[str, object] = {}
    for line in source.text.splitlines():
        try:
            table |= tomllib.loads(line)
        except tomllib.TOMLDecodeError:
            continue
    return {key: value for key, value in table.items() if key in _KEYS}


def _key(source: Source, key: str) -> Span:
    match = re.search(
        rf"^\s*[\"']?({re.escape(key)})[\"']?\s*[=.\]]|^\s*\[+\s*({re.escape(key)})", source.text, re.MULTILINE
    )
    if match is None:
        return Span(source, 0, len(source.line_text(1)))
    group = 1 if match.group(1) else 2
    return Span(source, *match.span(group))


def _place(source: Source, message: str) -> Span:
    match = _AT.search(message)
    if match is None:
        end = len(source.text)
        return Span(source, max(0, end - 1), end)
    line, column = int(match.group(1)), int(match.group(2))
    offset = source.offset(line, column)
    return Span(source, offset, min(offset + 1, len(source.text)))
