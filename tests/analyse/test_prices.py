"""The price book, row by row, as people keep it."""

from __future__ import annotations

import re
from datetime import date
from decimal import Decimal

import pytest
from hypothesis import given
from hypothesis import strategies as st

from recipec.analyse.context import Context
from recipec.analyse.prices import read_prices
from recipec.base.finding import Finding
from recipec.base.places import grammar_dir
from recipec.base.source import Source, decode
from recipec.larder.larder import builtin
from recipec.measure.show import show_amount
from recipec.model.prices import Price
from recipec.model.settings import Settings

LARDER = builtin()
HEAD = "item,pack,price,shop,seen\n"


def read(text: str, **settings: str) -> tuple[tuple[Price, ...], tuple[Finding, ...]]:
    chosen = Settings(currency="GBP", measures="metric")._replace(**settings)  # type: ignore[arg-type]
    return read_prices(Source("prices.csv", text), Context(chosen, LARDER))


def place(finding: Finding) -> tuple[int, int, str]:
    position = finding.span.position
    return position.line, position.column, finding.span.text


@pytest.mark.parametrize(
    ("measures", "currency", "price", "unit"),
    [
        ("metric", "GBP", "2.10 USD", "us_quart"),
        ("uk", "USD", "2.10", "us_quart"),
        ("uk", "GBP", "2.10", "uk_quart"),
        ("us", "EUR", "2.10", "us_quart"),
        ("uk", "USD", "2.10 GBP", "uk_quart"),
        ("us", "USD", "2.10 GBP", "uk_quart"),
        ("metric", "GBP", "2.10", "uk_quart"),
    ],
)
def test_a_quart_is_that_of_the_money_paid(measures: str, currency: str, price: str, unit: str) -> None:
    (row,), findings = read(f"item,pack,price\nmilk,1 quart,{price}\n", measures=measures, currency=currency)
    assert findings == ()
    assert row.pack.terms[0].unit.name == unit
    assert round(row.pack.terms[0].base_high) == {"us_quart": 946, "uk_quart": 1137}[unit]


def test_a_pint_that_nobody_can_place() -> None:
    prices, (finding,) = read("item,pack,price\nmilk,1 pint,2.10 EUR\n")
    assert prices == ()
    assert (finding.message, place(finding)) == (
        "Row 2, pack: this measure is not the same everywhere.", (2, 6, "1 pint"),
    )  # fmt: skip


@pytest.mark.parametrize(
    ("language", "pack", "shown"),
    [
        ("en", "1 kg", "1 kg"),
        ("en", "1kg", "1 kg"),
        ("en", "0.5 kg", "500 g"),
        ("en", "1.250 kg", "1.25 kg"),
        ("en", "1.125 kg", "1.125 kg"),
        ("en", "1,000 g", "1 kg"),
        ("en", "½ kg", "500 g"),
        ("en", "1 1/2 kg", "1.5 kg"),
        ("en", "6", "6"),
        ("en", "24 pieces", "24"),
        ("en", "dozen", "12"),
        ("en", "a dozen", "12"),
        ("en", "2 dozen", "24"),
        ("en", "1 bunch", "1 bunch"),
        ("en", "a bunch", "1 bunch"),
        ("en", "2 x 400 g", "2 (400 g each)"),
        ("en", "2 × 400 g", "2 (400 g each)"),
        ("en", "2x400g", "2 (400 g each)"),
        ("en", "250 ml", "250 ml"),
        ("en", "1 tin (400 g)", "1 tin (400 g)"),
        ("en", "6 x 75 cl", "6 (750 ml each)"),
        ("de", "0,5 kg", "500 g"),
        ("de", "1,5 l", "1.5 l"),
        ("de", "1.000 g", "1 kg"),
        ("de", "2 x 0,4 kg", "2 (400 g each)"),
        ("de", "1 kg", "1 kg"),
        ("fr", "1 000 g", "1 kg"),
        ("fr", "1\u202f000 g", "1 kg"),
        ("fr", "1,5 l", "1.5 l"),
        ("fr", "6", "6"),
        ("fr", "2 x 400 g", "2 (400 g each)"),
        ("fr", "1 1/2 kg", "1.5 kg"),
    ],
)
def test_packs(language: str, pack: str, shown: str) -> None:
    separator = ";" if language != "en" else ","
    cell = f'"{pack}"' if "," in pack and separator == "," else pack
    text = separator.join(("item", "pack", "price")) + "\n" + separator.join(("salt", cell, "2")) + "\n"
    prices, findings = read(text, language=language)
    assert findings == ()
    term = prices[0].pack
    assert total(term) == shown


def total(pack: object) -> str:
    """A pack in words, exactly: nothing is rounded."""
    from recipec.measure.quantity import Amount

    assert isinstance(pack, Amount)
    (term,) = pack.terms
    number = term.low

    def exact(value: object, unit: str) -> str:
        from fractions import Fraction

        assert isinstance(value, Fraction)
        if unit in ("g", "ml") and value >= 1000:
            value, unit = value / 1000, {"g": "kg", "ml": "l"}[unit]
        elif unit in ("kg", "l") and value < 1:
            value, unit = value * 1000, {"kg": "g", "l": "ml"}[unit]
        elif unit == "cl":
            value, unit = value * 10, "ml"
        words = f"{Decimal(value.numerator) / Decimal(value.denominator):f}"
        return words if unit == "piece" else f"{words} {unit}"

    text = exact(number, term.unit.name)
    if pack.each is None:
        return text
    each = exact(pack.each.low, pack.each.unit.name)
    return f"{text} ({each} each)" if term.unit.name == "piece" else f"{text} ({each})"


@pytest.mark.parametrize(
    ("language", "currency", "cell", "value", "paid"),
    [
        ("en", "GBP", "2.40", "2.40", "GBP"),
        ("en", "GBP", "2", "2", "GBP"),
        ("en", "GBP", "0.0175", "0.0175", "GBP"),
        ("en", "GBP", '"1,234.50"', "1234.50", "GBP"),
        ("en", "GBP", "£2.40", "2.40", "GBP"),
        ("en", "GBP", "£ 2.40", "2.40", "GBP"),
        ("en", "GBP", "2.40 GBP", "2.40", "GBP"),
        ("en", "GBP", "2.40gbp", "2.40", "GBP"),
        ("en", "GBP", "EUR 2.40", "2.40", "EUR"),
        ("en", "GBP", "€2.40", "2.40", "EUR"),
        ("en", "GBP", "2.40 €", "2.40", "EUR"),
        ("en", "USD", "$3", "3", "USD"),
        ("en", "CAD", "$3.10", "3.10", "CAD"),
        ("en", "GBP", "$3 CAD", "3", "CAD"),
        ("en", "JPY", "¥300", "300", "JPY"),
        ("en", "GBP", "9.90 CHF", "9.90", "CHF"),
        ("de", "EUR", "2,40", "2.40", "EUR"),
        ("de", "EUR", "€2,40", "2.40", "EUR"),
        ("de", "EUR", "2,40 €", "2.40", "EUR"),
        ("de", "EUR", "1.234,50", "1234.50", "EUR"),
        ("de", "EUR", "1.234", "1234", "EUR"),
        ("de", "EUR", "3", "3", "EUR"),
        ("de", "CHF", "2,40 EUR", "2.40", "EUR"),
        ("fr", "EUR", "1 234,50", "1234.50", "EUR"),
        ("fr", "EUR", "1\u00a0234,50 €", "1234.50", "EUR"),
        ("fr", "EUR", "2,40", "2.40", "EUR"),
    ],
)
def test_sums(language: str, currency: str, cell: str, value: str, paid: str) -> None:
    separator = "," if language == "en" else ";"
    text = f"item,pack,price\nsalt,1 kg,{cell}\n" if separator == "," else f"item;pack;price\nsalt;1 kg;{cell}\n"
    (price,), findings = read(text, language=language, currency=currency)
    assert findings == ()
    assert (str(price.price.value), price.price.currency) == (value, paid)


@pytest.mark.parametrize(
    ("row", "column", "at", "says", "write"),
    [
        (",1 kg,2.40,,", "item", "", "there is no name", "plain flour"),
        ("salt,,2.40,,", "pack", "", "there is no pack", "1 kg"),
        ("salt,a lump,2.40,,", "pack", "a lump", "no pack", "1 kg"),
        ("salt,0 kg,2.40,,", "pack", "0 kg", "no pack", "1 kg"),
        ("salt,-1 kg,2.40,,", "pack", "-1 kg", "no pack", "1 kg"),
        ("salt,1-2 kg,2.40,,", "pack", "1-2 kg", "no pack", "1 kg"),
        ("salt,kg,2.40,,", "pack", "kg", "no pack", "1 kg"),
        ("salt,30 min,2.40,,", "pack", "30 min", "no pack", "1 kg"),
        ('salt,"0,5 kg",2.40,,', "pack", '"0,5 kg"', "no number as English", "0.5 kg"),
        ("salt,1 kg,,,", "price", "", "there is no price", "2.40"),
        ("salt,1 kg,cheap,,", "price", "cheap", "no price", "2.40"),
        ("salt,1 kg,2.40/kg,,", "price", "2.40/kg", "no price", "2.40"),
        ("salt,1 kg,2-3,,", "price", "2-3", "no price", "2.40"),
        ("salt,1 kg,NaN,,", "price", "NaN", "no price", "2.40"),
        ("salt,1 kg,1e3,,", "price", "1e3", "no price", "2.40"),
        ("salt,1 kg,9999999999999,,", "price", "9999999999999", "no price", "2.40"),
        ("salt,1 kg,2.123456,,", "price", "2.123456", "no price", "2.40"),
        ("salt,1 kg,1.2.3,,", "price", "1.2.3", "no number", "1234.5"),
        ('salt,1 kg,"2,40",,', "price", '"2,40"', "no number as English", "2.40"),
        ('salt,1 kg,"£2,40",,', "price", '"£2,40"', "no number as English", "£2.40"),
        ("salt,1 kg,0,,", "price", "0", "more than nothing", "on hand"),
        ("salt,1 kg,0.00 USD,,", "price", "0.00 USD", "more than nothing", "on hand"),
        ("salt,1 kg,-2.40,,", "price", "-2.40", "more than nothing", "on hand"),
        ("salt,1 kg,-£2.40,,", "price", "-£2.40", "more than nothing", "on hand"),
        ("salt,1 kg,−2.40,,", "price", "−2.40", "more than nothing", "on hand"),
        ("salt,1 kg,$2.40,,", "price", "$2.40", "whose `$`", "USD"),
        ("salt,1 kg,¥240,,", "price", "¥240", "whose `¥`", "JPY"),
        ("salt,1 kg,2.40 XYZ,,", "price", "2.40 XYZ", "no currency", "GBP"),
        ("salt,1 kg,EUR 2.40 GBP,,", "price", "EUR 2.40 GBP", "no price", "2.40"),
        ("salt,1 kg,£2.40 EUR,,", "price", "£2.40 EUR", "two currencies", "one of them"),
    ],
)
def test_a_row_that_cannot_be_taken(row: str, column: str, at: str, says: str, write: str) -> None:
    prices, (finding,) = read(f"{HEAD}butter,250 g,2.05,,\n{row}\neggs,6,1.80,,\n")
    assert [price.name for price in prices] == ["butter", "eggs"], "the others stand"
    assert finding.slug == "bad-row"
    assert finding.message.startswith(f"Row 3, {column}: ")
    assert says in finding.message
    assert any(write in hint for hint in finding.hints)
    line, start, text = place(finding)
    assert (line, text) == (3, at)
    assert row[start - 1 :].startswith(at)


@pytest.mark.parametrize(
    ("cell", "says", "write", "fixed"),
    [
        ("17/10/2026", "year first", "2026-10-17", "2026-10-17"),
        ("10/17/2026", "year first", "2026-10-17", "2026-10-17"),
        ("17.10.2026", "year first", "2026-10-17", "2026-10-17"),
        ("05/05/2026", "year first", "2026-05-05", "2026-05-05"),
        ("03/04/2026", "two days", "2026-03-04 or 2026-04-03", None),
        ("2026-02-30", "no calendar", "2026-10-17", None),
        ("31/31/2026", "no day", "2026-10-17", None),
        ("20261017", "no day", "2026-10-17", None),
        ("2026-W42-6", "no day", "2026-10-17", None),
        ("yesterday", "no day", "2026-10-17", None),
        ("17/10/26", "no day", "2026-10-17", None),
    ],
)
def test_days_that_are_asked_about(cell: str, says: str, write: str, fixed: str | None) -> None:
    prices, (finding,) = read(f"{HEAD}butter,250 g,2.05,Dairy,{cell}\n")
    assert prices[0].seen is None, "the price itself stands"
    assert finding.message.startswith("Row 2, seen: ") and says in finding.message
    assert place(finding)[2] == cell
    assert write in finding.hints[0]
    assert [fix.replacement for fix in finding.fixes] == ([fixed] if fixed else [])


def test_a_slip_of_the_decimal_mark_can_be_put_right() -> None:
    text = f'{HEAD}butter,250 g,"2,05",,\n'
    _, (finding,) = read(text)
    (fix,) = finding.fixes
    mended = text[: fix.span.start] + fix.replacement + text[fix.span.end :]
    prices, findings = read(mended)
    assert findings == () and str(prices[0].price.value) == "2.05"
    _, (other,) = read("item,pack,price\nbutter,250 g,2.05\n", language="de")
    assert other.fixes[0].replacement == '"2,05"', "a comma among commas stands in quotes"


WHOLE = [
    ("butter", Decimal("2.05"), "A, B", date(2026, 2, 5)),
    ("old butter", Decimal("1234.5"), "", None),
]


@pytest.mark.parametrize(
    ("text", "language"),
    [
        ('item,pack,price,shop,seen\nbutter,250 g,2.05,"A, B",2026-02-05\nold butter,5 kg,1234.5,,\n', "en"),
        ('\ufeffitem,pack,price,shop,seen\r\nbutter,250 g,2.05,"A, B",2026-02-05\r\nold butter,5 kg,"1,234.50",,\r\n', "en"),
        ("item;pack;price;shop;seen\nbutter;250 g;2,05;A, B;2026-02-05\nold butter;5 kg;1.234,50;;\n", "de"),
        ("item\tpack\tprice\tshop\tseen\nbutter\t250 g\t2.05\tA, B\t2026-02-05\nold butter\t5 kg\t1234.50\n", "en"),
        ('item,pack,price,shop,seen,,\nbutter,250 g,2.05,"A, B",2026-02-05,,\n,,,,,,\nold butter,5 kg,1234.50,,,,\n\n', "en"),
        ('\n,,,,\nItem, Pack, Price, Shop, Seen\nbutter, 250 g, 2.05, "A, B", 2026-02-05\n  \nold butter, 5 kg, 1234.5\n', "en"),
        ('"item","pack","price","shop","seen"\r"butter","250 g","2.05","A, B","2026-02-05"\r"old butter","5 kg","1,234.50","",""', "en"),
        ('seen,shop,price,pack,item\n2026-02-05,"A, B",2.05,250 g,butter\n,,1234.50,5 kg,old butter\n', "en"),
    ],
    ids=["plain", "bom and crlf", "semicolons", "tabs", "empty columns", "blank rows and spaces", "quotes and cr", "other order"],
)  # fmt: skip
def test_forms_of_the_same_table(text: str, language: str) -> None:
    prices, findings = read(text, language=language)
    assert findings == ()
    assert [(price.name, price.price.value, price.shop, price.seen) for price in prices] == WHOLE
    for price in prices:
        assert price.span.text.strip('"') == price.name
        assert (price.seen_span is None) == (price.seen is None)
        assert price.seen_span is None or price.seen_span.text.strip('"') == "2026-02-05"


def test_a_byte_order_mark_in_the_file_itself() -> None:
    source, bad = decode("prices.csv", b"\xef\xbb\xbf" + HEAD.encode() + b"butter,250 g,2.05,,\n")
    prices, findings = read_prices(source, Context(Settings(), LARDER))
    assert bad is None and findings == () and len(prices) == 1


@pytest.mark.parametrize(
    ("text", "says"),
    [
        ("item,pack,shop\nsalt,1 kg,Quay\n", ["The first row has no column `price`."]),
        ("salt,1 kg,2.40\n", ["The first row has no column `item`."]),
        ("item,pack,price,shopp\nsalt,1 kg,2.40,\n", ["A price list has no column `shopp`."]),
        ("item,pack,price,price\nsalt,1 kg,2.40,3.40\n", ["The column `price` is here twice."]),
        ("", []),
        ("\n\n,,,\n", []),
        (HEAD, []),
    ],
)
def test_the_first_row(text: str, says: list[str]) -> None:
    _, findings = read(text)
    assert [finding.message for finding in findings] == says
    assert all(finding.span.position.line == 1 for finding in findings)


def test_a_comma_too_many_moves_no_price_into_another_column() -> None:
    prices, (finding,) = read(f"{HEAD}butter,250 g,2,05,Dairy,2026-02-05\neggs,6,1.80,,\n")
    assert [price.name for price in prices] == ["eggs"]
    assert finding.message == "Row 2: there are more cells here than columns."
    assert '"2,40"' in finding.hints[0]


def test_a_quote_left_open_takes_only_its_own_row() -> None:
    prices, (finding,) = read(f'{HEAD}butter,250 g,2.05,"Dairy,2026-02-05\neggs,6,1.80,,\n')
    assert [price.name for price in prices] == ["eggs"]
    assert finding.message == "Row 2: a quote is opened here and not closed."
    assert place(finding)[:2] == (2, 19)


def test_several_bad_cells_of_one_row_are_told_at_once() -> None:
    prices, findings = read(f"{HEAD}butter,a lump,cheap,,yesterday\n")
    assert prices == ()
    assert [finding.span.text for finding in findings] == ["a lump", "cheap", "yesterday"]


def test_of_one_pack_at_one_shop_the_later_seen_counts() -> None:
    rows = [
        "butter,250 g,2.05,Dairy,2026-01-05",
        "butter,250 g,2.35,Dairy,2026-03-05",
        "butter,250 g,2.15,dairy,2026-02-05",
        "butter,250 g,1.95,Dairy,",
        "butter,250 g,2.60,Corner,2025-03-05",
        "butter,500 g,4.10,Dairy,2025-03-05",
    ]
    prices, findings = read(HEAD + "\n".join(rows))
    assert findings == ()
    assert [str(price.price.value) for price in prices] == ["2.35", "2.60", "4.10"]


def test_two_prices_of_one_day_cannot_both_be_right() -> None:
    rows = ["butter,250 g,2.05,Dairy,2026-01-05", "salt,1 kg,1,,", "butter,250 g,2.35,Dairy,2026-01-05"]
    prices, (finding,) = read(HEAD + "\n".join(rows))
    assert [str(price.price.value) for price in prices] == ["2.05", "1"]
    assert (finding.span.position.line, finding.labels[0].span.position.line) == (4, 2)
    assert read(HEAD + "\n".join((rows[0], rows[0])))[1] == (), "the same row twice says nothing new"


def test_the_references_example() -> None:
    page = (grammar_dir() / "README.md").read_text("utf-8")
    (table,) = re.findall(r"^```csv prices.csv\n(.*?)^```$", page, re.MULTILINE | re.DOTALL)
    prices, findings = read(table)
    assert findings == ()
    assert len(prices) == len(table.splitlines()) - 1
    assert prices[-1].price.value == Decimal("1234.50")


def test_what_no_dish_asks_for_is_no_mistake() -> None:
    prices, findings = read(f"{HEAD}moon dust,1 kg,2.40,,\n")
    assert findings == () and prices[0].item == "moon dust"
    assert show_amount(prices[0].pack).text


@given(st.text(alphabet='ab1,;\t" \r\n\ufeff€£.-"', max_size=60), st.sampled_from(["en", "de", "fr"]))
def test_no_table_is_too_odd(text: str, language: str) -> None:
    whole = f"{HEAD}{text}"
    prices, findings = read(whole, language=language)
    assert all(price.price.value > 0 for price in prices)
    for finding in findings:
        assert finding.hints
        assert 0 <= finding.span.start <= finding.span.end <= len(whole)
        # A finding stands in the one row it speaks of.
        assert "\n" not in finding.span.text and "\r" not in finding.span.text
