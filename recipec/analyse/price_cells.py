"""The cells of a price list: packs, sums and days, as people write them in a table."""

from __future__ import annotations

import re
from datetime import date
from decimal import Decimal
from fractions import Fraction
from typing import NamedTuple

from recipec.analyse.context import Notes
from recipec.analyse.dimensions import Measurer
from recipec.base.source import Source
from recipec.base.span import Span
from recipec.measure.decimals import decimal_of, is_currency, meant_by, written
from recipec.measure.quantity import Amount
from recipec.measure.units import Region
from recipec.model.prices import Money
from recipec.syntax.parse import parse_amount
from recipec.syntax.words import words

_LARGEST = 10**9
_PLACES = 4
_SIGN = r"[A-Za-z]{3}|[£€$¥]"
_SUM = re.compile(
    rf"(?P<before>{_SIGN})?\s*(?P<minus>[-−–])?\s*(?P<code>{_SIGN})?\s*(?P<number>[0-9](?:.*[0-9])?)\s*(?P<after>{_SIGN})?"
)
_PACK_NUMBER = re.compile("[0-9]+(?:[.,'’][0-9]+)*(?:[ \u00a0\u202f][0-9]{3}(?![0-9/])(?:[.,][0-9]+)?)*")
_DOZEN = re.compile(r"(?:([0-9]{1,4})\s+|an?\s+)?dozen", re.IGNORECASE)
_DAY = re.compile(r"[0-9]{4}-[0-9]{2}-[0-9]{2}")
_OTHER_DAY = re.compile(r"([0-9]{1,2})([./-])([0-9]{1,2})\2([0-9]{4})")
# Currencies that are written with these signs: one means the book's own, or nobody knows which.
_SHARED = {
    "$": frozenset("AUD BBD BMD BND BSD BZD CAD FJD GYD HKD JMD KYD LRD NAD NZD SBD SGD SRD TTD TWD USD XCD".split()),
    "¥": frozenset(("JPY", "CNY")),
}
_REGIONS = {"USD": Region.US, "GBP": Region.UK}


class Wrong(NamedTuple):
    """Why a cell can't be taken, what to write instead, and that as exact text where there is no doubt ('' else)."""

    message: str
    hint: str
    instead: str = ""


def pack_of(text: str, item: str, region: Region | None, language: str) -> Amount | Wrong:
    """`1 kg`, `6`, `1 bunch`, `2 x 400 g`, `1 tin (400 g)`, `a dozen`: what one of them is. Numbers as the language writes them."""
    example = "Write it as 1 kg, 6, 1 bunch, 2 x 400 g or 250 ml."
    if not text:
        return Wrong("there is no pack here.", example)
    plain = text
    if any(mark in text for mark in ",.'’") or language == "fr":
        found = _plain_numbers(text, language)
        if isinstance(found, Wrong):
            return found
        plain = found
    dozen = _DOZEN.fullmatch(plain)
    if dozen is not None:
        plain = str(12 * int(dozen[1] or 1))
    cell = Source("pack", plain)
    tree = parse_amount(Span(cell, 0, len(plain)))
    if tree is None or any(term.low <= 0 or term.low != term.high for term in tree.terms):
        return Wrong("this is no pack that can be bought.", example)
    notes = Notes()
    measurer = Measurer(region, notes)
    amount = measurer.food_amount(tree, item)
    measurer.unsaid()
    wrong = next((one for one in notes.done() if one.slug != "measures-assumed"), None)
    if wrong is None:
        return amount
    if wrong.slug == "missing-fact":
        return Wrong("this measure is not the same everywhere.", "Write the pack in ml or l, as on its label.")
    return Wrong("this is no pack that can be bought.", example)


def _plain_numbers(text: str, language: str) -> str | Wrong:
    """The text with its numbers as plain fractions, which mean the same in every language."""
    pieces = []
    at = 0
    for match in _PACK_NUMBER.finditer(text):
        value = decimal_of(match[0], language)
        if value is None and match[0].replace(" ", "").isdigit():
            # Two numbers side by side: the parser says what it makes of them.
            continue
        if value is None:
            return _other_mark(match[0], text, language)
        exact = Fraction(value)
        pieces += [text[at : match.start()], str(exact)]
        at = match.end()
    return "".join([*pieces, text[at:]])


def _other_mark(number: str, text: str, language: str) -> Wrong:
    meant = meant_by(number, language)
    here = "English" if language.startswith("en") else {"de": "German", "fr": "French"}[language]
    mark = "point" if here == "English" else "comma"
    if meant is None:
        right = written(Decimal("1234.5"), language)
        return Wrong(f"`{number}` is no number.", f"Write it with a {mark}, like {right}.")
    right = text.replace(number, written(meant, language))
    return Wrong(
        f'`{number}` is no number as {here} writes it, and cookbook.toml has `language = "{language}"`.',
        f'Write {right}, or set the language whose numbers these are: "en", "de" or "fr".',
        right,
    )


def money_of(text: str, currency: str, language: str) -> Money | Wrong:
    """`2.40`, `£2.40`, `2.40 GBP`, `EUR 1.20`: a sum, in the book's currency when it names none."""
    right = written(Decimal("2.40"), language)
    example = f"Write a number, with its currency if it is not the book's: {right} or {right} GBP"
    if not text:
        return Wrong("there is no price here.", example)
    match = _SUM.fullmatch(text)
    signs = [] if match is None else [sign for sign in (match["before"], match["code"], match["after"]) if sign]
    if match is None or len(signs) > 2 or (len(signs) == 2 and not any(sign in "£€$¥" for sign in signs)):
        return Wrong("this is no price.", example)
    code = _code_of(signs, currency)
    if isinstance(code, Wrong):
        return code
    number = match["number"]
    value = decimal_of(number, language)
    if value is None:
        if not re.fullmatch("[0-9.,'’ \u00a0\u202f]+", number):
            return Wrong("this is no price.", example)
        return _other_mark(number, text, language)
    if value > _LARGEST or -int(value.as_tuple().exponent) > _PLACES:
        return Wrong("this is no price.", example)
    if match["minus"] or not value:
        return Wrong(
            "a price is more than nothing.",
            "What costs nothing needs no row: an event names it as `on hand`.",
        )
    return Money(value, code)


def _code_of(signs: list[str], currency: str) -> str | Wrong:
    """The currency that the signs and codes beside a number name; the book's own when there are none."""
    known = words().currencies
    codes = {known.get(sign, sign.upper()) for sign in signs if sign not in _SHARED}
    for code in sorted(codes):
        if not is_currency(code):
            return Wrong(f"`{code}` is no currency.", "Write its three letters by ISO 4217, like GBP.")
    if len(codes) > 1:
        return Wrong("this names two currencies.", "Write one of them.")
    if codes or not signs:
        # Beside a code, a shared sign says nothing more.
        return codes.pop() if codes else currency
    if currency in _SHARED[signs[0]]:
        return currency
    return Wrong(
        f"whose `{signs[0]}` is this? The book's money is {currency}.",
        f"Write the currency's three letters: {'USD' if signs[0] == '$' else 'JPY'}.",
    )


def region_paid_in(currency: str, else_: Region | None) -> Region | None:
    """What is paid in dollars stands on a shelf in America, whatever the book cooks by, and its quart is 946 ml; in pounds, in Britain."""
    return _REGIONS.get(currency, else_)


def day_of(text: str) -> date | Wrong:
    """`2026-10-17`. Other ways to write a day mean two days to two people, so they are asked about."""
    if _DAY.fullmatch(text):
        try:
            return date.fromisoformat(text)
        except ValueError:
            return Wrong("no calendar has this day.", "Write it as 2026-10-17.")
    other = _OTHER_DAY.fullmatch(text)
    if other is not None:
        first, second, year = int(other[1]), int(other[3]), int(other[4])
        readings = sorted({day for day in (_day(year, second, first), _day(year, first, second)) if day is not None})
        if len(readings) == 2:
            either = " or ".join(day.isoformat() for day in readings)
            return Wrong("this could be two days.", f"Write the year first: {either}.")
        if readings:
            right = readings[0].isoformat()
            return Wrong("a day is written year first.", f"Write {right}.", right)
    return Wrong("this is no day.", "Write it as 2026-10-17.")


def _day(year: int, month: int, day: int) -> date | None:
    try:
        return date(year, month, day)
    except ValueError:
        return None
