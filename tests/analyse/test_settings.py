"""The settings of money: rates, how long prices stand, the seasoning allowance, the language of numbers."""

from __future__ import annotations

import re
from decimal import Decimal
from fractions import Fraction

import pytest

from recipec.analyse.settings import _KEYS, read_settings
from recipec.base.places import grammar_dir
from recipec.base.source import Source
from recipec.measure.decimals import LANGUAGES, decimal_of, is_currency
from recipec.model.prices import Rate
from recipec.model.settings import Settings


def read(text: str) -> tuple[Settings, list[str]]:
    settings, findings = read_settings(Source("cookbook.toml", text))
    return settings, [f"{finding.span.text}: {finding.message}" for finding in findings]


def test_nothing_said() -> None:
    settings, said = read("")
    assert (settings.rates, settings.prices_stand_days, settings.seasoning, said) == ((), 90, Fraction(0), [])


@pytest.mark.parametrize(
    ("text", "rates"),
    [
        ('rates = "1 USD = 0.79 GBP"', [("USD", "79/100", "GBP")]),
        ('rates = "1 USD = 0.79 GBP, 1 EUR = 0.86 GBP"', [("USD", "79/100", "GBP"), ("EUR", "43/50", "GBP")]),
        ('rates = "100 jpy=0.52 gbp;1 EUR = 0.86 GBP,"', [("JPY", "13/2500", "GBP"), ("EUR", "43/50", "GBP")]),
        ('rates = "1 KWD = 1,234.5 JPY, 1 EUR = 2 GBP"', [("KWD", "2469/2", "JPY"), ("EUR", "2", "GBP")]),
        (
            'language = "de"\nrates = "1 USD = 0,79 EUR, 1 GBP = 1,16 EUR"',
            [("USD", "79/100", "EUR"), ("GBP", "29/25", "EUR")],
        ),
        ('rates = "1 USD = 0,79 EUR"\nlanguage = "fr"', [("USD", "79/100", "EUR")]),
        ('rates = ""', []),
    ],
)
def test_rates(text: str, rates: list[tuple[str, str, str]]) -> None:
    settings, said = read(text)
    assert settings.rates == tuple(Rate(one, Fraction(worth), other) for one, worth, other in rates)
    assert said == []


@pytest.mark.parametrize(
    "bad",
    ["1 USD = GBP", "USD 0.79", "1 USD = 0 GBP", "0 USD = 1 GBP", "1 USD = 0,79 GBP", "1 ABC = 2 GBP", "1 GBP = 1 GBP"],
)
def test_a_bad_rate_loses_only_itself(bad: str) -> None:
    settings, said = read(f'rates = "{bad}; 1 EUR = 0.86 GBP"')
    assert settings.rates == (Rate("EUR", Fraction(43, 50), "GBP"),)
    assert len(said) == 1 and said[0].startswith("rates: ")


def test_a_rate_stated_twice() -> None:
    settings, said = read('rates = "1 EUR = 0.86 GBP, 1 GBP = 1.2 EUR"')
    assert settings.rates == (Rate("EUR", Fraction(43, 50), "GBP"),)
    assert said == ["rates: The rate between GBP and EUR is stated twice."]


@pytest.mark.parametrize(("text", "days"), [("90 d", 90), ("1 day", 1), ("6 weeks", 42), ("3 months", 90), ("45d", 45)])
def test_how_long_prices_stand(text: str, days: int) -> None:
    settings, said = read(f'prices_stand = "{text}"')
    assert (settings.prices_stand_days, said) == (days, [])


@pytest.mark.parametrize("text", ["a while", "0 d", "90", "-3 d", "3 h"])
def test_no_number_of_days(text: str) -> None:
    settings, said = read(f'prices_stand = "{text}"')
    assert settings.prices_stand_days == 90 and len(said) == 1


@pytest.mark.parametrize(("text", "part"), [("3%", "3/100"), ("2.5 %", "1/40"), ("0%", "0")])
def test_seasoning(text: str, part: str) -> None:
    settings, said = read(f'seasoning = "{text}"')
    assert (settings.seasoning, said) == (Fraction(part), [])


@pytest.mark.parametrize("text", ["3", "plenty", "100%", "-1%", "%"])
def test_no_percentage(text: str) -> None:
    settings, said = read(f'seasoning = "{text}"')
    assert settings.seasoning == 0 and len(said) == 1


@pytest.mark.parametrize("language", LANGUAGES)
def test_a_book_may_be_in_any_language_of_the_list(language: str) -> None:
    settings, said = read(f'language = "{language}"')
    assert settings.language == language and said == []


def test_three_letters_are_not_yet_a_currency() -> None:
    settings, said = read('currency = "ABC"')
    assert settings.currency == "EUR" and said == ["currency: `ABC` is no currency code."]
    assert is_currency("GBP") and is_currency("THB") and not is_currency("gbp") and not is_currency("POUND")


@pytest.mark.parametrize(
    ("text", "language", "value"),
    [
        ("2.40", "en", "2.40"),
        ("1,234.50", "en", "1234.50"),
        ("1234.5", "en-GB", "1234.5"),
        ("2,40", "en", None),
        ("1.234,50", "en", None),
        ("1,23.4", "en", None),
        ("2,40", "de", "2.40"),
        ("1.234,50", "de", "1234.50"),
        ("1.234", "de", "1234"),
        ("2.40", "de", None),
        ("1 234,50", "fr", "1234.50"),
        ("1\u00a0234,50", "fr", "1234.50"),
        ("1\u202f234,50", "fr", "1234.50"),
        ("1 23,5", "fr", None),
        ("NaN", "en", None),
        ("1e5", "en", None),
        ("-1", "en", None),
        ("", "de", None),
        ("٣", "en", None),
        ("9" * 200, "de", None),
    ],
)
def test_numbers_by_language(text: str, language: str, value: str | None) -> None:
    assert decimal_of(text, language) == (None if value is None else Decimal(value))


def test_the_references_example() -> None:
    page = (grammar_dir() / "README.md").read_text("utf-8")
    (text,) = re.findall(r"^```toml cookbook.toml\n(.*?)^```$", page, re.MULTILINE | re.DOTALL)
    settings, said = read(text)
    assert said == []
    assert (settings.language, settings.prices_stand_days, settings.seasoning) == ("en-GB", 90, Fraction(3, 100))
    # Every setting there is stands in the example.
    assert sorted(re.findall(r"^(\w+) = ", text, re.MULTILINE)) == sorted(_KEYS)
