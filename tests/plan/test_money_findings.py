"""What is said of an event's money, through a whole book on disk."""

from __future__ import annotations

from decimal import Decimal
from pathlib import Path

import pytest

from recipec.base.finding import Finding, Severity
from recipec.book.compile import against, check_book, compile_book
from recipec.book.money import money_of
from recipec.book.start import start_book
from recipec.emit.json_papers import money_data
from recipec.measure.currency import in_coins
from recipec.model.prices import Money
from recipec.plan.market import market
from recipec.plan.money_findings import money_words

DISH = """Braised lentils
serves: 4

Braise [300 g lentils] in [800 ml water] with [2 bay leaves] and [1 bunch parsley] in a {saucepan} for <30 min within reach>.
"""
PRICES = [
    "lentils,500 g,1.85,Quay Stores,2026-10-01",
    "lentils,1 kg,3.20,Quay Stores,2026-05-01",
    "bay leaves,20 leaves,1.10,Quay Stores,2026-10-01",
    "parsley,1 bunch,0.90,Quay Stores,",
]
MONEY = frozenset(("no-price", "stale-price", "over-budget", "currency-mismatch"))


def write(
    folder: Path,
    *,
    prices: list[str] | None = PRICES,
    facts: str = "budget: 40 GBP",
    settings: str = 'currency = "GBP"',
) -> Path:
    (folder / "cookbook.toml").write_text(settings + "\n", encoding="utf-8")
    (folder / "lentils.dish").write_text(DISH, encoding="utf-8")
    (folder / "harvest.event").write_text(
        f"Harvest supper\nguests: 8\nserve: 2026-10-17 19:30\n{facts}\n\nMain, <19:30>:\n\n[our braised lentils]\n",
        encoding="utf-8",
    )
    if prices is not None:
        rows = "\n".join(("item,pack,price,shop,seen", *prices))
        (folder / "prices.csv").write_text(rows + "\n", encoding="utf-8")
    return folder


def said(book: Path) -> list[Finding]:
    return [finding for finding in compile_book(book, cached=False).findings if finding.slug in MONEY]


def slugs(book: Path) -> list[str]:
    return [finding.slug for finding in said(book)]


def test_a_book_in_order_says_nothing(tmp_path: Path) -> None:
    fresh = [row.replace("2026-05-01", "2026-10-01") for row in PRICES]
    assert slugs(write(tmp_path, prices=fresh)) == []


def test_only_a_row_that_is_bought_can_be_too_old(tmp_path: Path) -> None:
    # 600 g of lentils: one kilo is the cheaper, and its price is 169 days old. The parsley's has no day.
    (finding,) = said(write(tmp_path))
    assert finding.slug == "stale-price"
    assert (finding.span.source.name, finding.span.position.line, finding.span.text) == ("prices.csv", 3, "2026-05-01")
    assert "169 days" in finding.message and "90 days" in finding.message
    assert finding.labels[0].span.text == "40 GBP"
    assert slugs(write(tmp_path, settings='currency = "GBP"\nprices_stand = "169 d"')) == []
    assert slugs(write(tmp_path, settings='currency = "GBP"\nprices_stand = "168 d"')) == ["stale-price"]


def test_what_has_no_price_is_named_and_never_nothing(tmp_path: Path) -> None:
    (finding,) = said(write(tmp_path, prices=[PRICES[0]]))
    assert finding.slug == "no-price" and finding.severity is Severity.WARNING
    assert finding.message == "No price can be reckoned for bay leaves and parsley, so the total is at least 3.70 GBP."
    assert finding.span.text == "40 GBP"
    assert [label.span.text for label in finding.labels] == ["[2 bay leaves]", "[1 bunch parsley]"]


def test_packs_of_another_measure_are_told_apart_from_no_row_at_all(tmp_path: Path) -> None:
    (finding,) = said(write(tmp_path, prices=[*PRICES[:1], "bay leaves,1 jar,2.00,,", PRICES[3]]))
    assert finding.slug == "no-price"
    assert "another measure" in finding.hints[0]


def test_the_budget_is_held_against_the_till(tmp_path: Path) -> None:
    # 2 x 1.85 + 1.10 + 2 x 0.90: whole packs, though the plates take less.
    rows = [PRICES[0], PRICES[2], PRICES[3]]
    assert slugs(write(tmp_path, prices=rows, facts="budget: 6.60 GBP")) == []
    (finding,) = said(write(tmp_path, prices=rows, facts="budget: 6.59 GBP"))
    assert finding.slug == "over-budget"
    assert "comes to 6.60 GBP, 0.01 GBP over the budget" in finding.message
    assert "recipec cost harvest --swaps" in finding.hints[0]


def test_an_unknown_price_makes_the_excess_a_least(tmp_path: Path) -> None:
    found = said(write(tmp_path, prices=[PRICES[0]], facts="budget: 3 GBP"))
    assert [finding.slug for finding in found] == ["no-price", "over-budget"]
    assert "at least 3.70 GBP" in found[1].message


def test_a_price_in_another_currency_waits_for_a_rate(tmp_path: Path) -> None:
    rows = [PRICES[0], "bay leaves,20 leaves,1.50 USD,Far Stores,2026-10-01", PRICES[3]]
    (finding,) = said(write(tmp_path, prices=rows))
    assert finding.slug == "currency-mismatch"
    assert (finding.span.text, finding.labels[0].span.text) == ("bay leaves", "40 GBP")
    assert "1 USD = … GBP" in finding.hints[0]
    assert slugs(write(tmp_path, prices=rows, settings='currency = "GBP"\nrates = "1 USD = 0.79 GBP"')) == []


def test_another_shop_abroad_is_no_mistake_while_one_at_home_has_it(tmp_path: Path) -> None:
    assert slugs(write(tmp_path, prices=[PRICES[0], *PRICES[2:], "bay leaves,20 leaves,1.50 USD,Far,2026-10-01"])) == []


def test_a_budget_in_another_currency_than_the_menu_price(tmp_path: Path) -> None:
    rows = [PRICES[0], *PRICES[2:]]
    facts = "budget: 5 USD\nprice: 30 GBP"
    (finding,) = said(write(tmp_path, prices=rows, facts=facts))
    assert (finding.slug, finding.span.text) == ("currency-mismatch", "5 USD")
    settings = 'currency = "GBP"\nrates = "1 USD = 0.79 GBP"'
    (finding,) = said(write(tmp_path, prices=rows, facts=facts, settings=settings))
    assert finding.slug == "over-budget"
    assert "6.60 GBP, 2.65 GBP over" in finding.message


@pytest.mark.parametrize("prices", [PRICES, None])
def test_nobody_has_asked_for_a_sum(tmp_path: Path, prices: list[str] | None) -> None:
    """Without a budget or a price, or without any price list, a check says nothing; the command that reckons does."""
    facts = "budget: 1 GBP" if prices is None else "crew: 0"
    book = write(tmp_path, prices=prices, facts=facts)
    assert slugs(book) == []
    build = compile_book(book, cached=False)
    event = build.book.event("harvest")
    assert event is not None
    (finding,) = money_of(build.book, build.larder, event)
    assert finding.slug == ("no-price" if prices is None else "stale-price")


def test_a_reason_in_the_event_answers_a_row_of_the_price_list(tmp_path: Path) -> None:
    facts = "budget: 3 GBP\naccept: stale-price for lentils, the stall has not changed it in years\naccept: over-budget, the client knows"
    found = said(write(tmp_path, facts=facts))
    assert {finding.slug: finding.accepted for finding in found} == {
        "stale-price": "the stall has not changed it in years",
        "over-budget": "the client knows",
    }
    other = said(write(tmp_path, facts="budget: 40 GBP\naccept: stale-price for parsley, it grows outside"))
    assert [finding.accepted for finding in other] == [None]


def test_warnings_do_not_fail_a_build_and_the_cache_says_the_same(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    monkeypatch.setenv("RECIPEC_CACHE", str(tmp_path / "kept"))
    (tmp_path / "book").mkdir()
    book = write(tmp_path / "book", facts="budget: 3 GBP")
    first = check_book(book).findings
    assert check_book(book).findings == first
    assert {"stale-price", "over-budget"} <= {finding.slug for finding in first}
    assert against(first) == ()
    write(book, facts="budget: 3 GBP", prices=[row.replace("2026-05-01", "2026-10-01") for row in PRICES])
    assert "stale-price" not in {finding.slug for finding in check_book(book).findings}


def test_a_card_does_not_reckon(tmp_path: Path) -> None:
    build = compile_book(write(tmp_path), cached=False, events=False)
    assert not MONEY & {finding.slug for finding in build.findings}


RECIPES = Path(__file__).resolve().parents[2] / "recipes"


def test_the_demo_book_is_within_its_budgets_and_all_is_priced() -> None:
    build = compile_book(RECIPES)
    assert len(build.book.events) == 3
    for event in build.book.events:
        listed = market(build.book, build.larder, [event.key])
        assert event.budget is not None and listed.till is not None
        assert listed.unpriced == ()
        assert listed.till.value <= event.budget.value
        assert money_of(build.book, build.larder, event, listed) == ()


def test_a_new_book_is_in_order_too(tmp_path: Path) -> None:
    started = start_book(tmp_path / "new")
    assert isinstance(started, tuple)
    assert compile_book(tmp_path / "new", cached=False).findings == ()


def test_sums_in_findings_have_the_coins_of_their_currency(tmp_path: Path) -> None:
    rows = [
        "lentils,500 g,312,Quay Stores,",
        "bay leaves,20 leaves,180,Quay Stores,",
        "parsley,1 bunch,90.0,Quay Stores,",
    ]
    found = said(write(tmp_path, prices=rows, facts="budget: 800 JPY", settings='currency = "JPY"'))
    (over,) = (one for one in found if one.slug == "over-budget")
    assert " JPY" in over.message
    # There is no hundredth of a yen.
    assert over.message == "What is to be bought comes to 984 JPY, 184 JPY over the budget."


@pytest.mark.parametrize(
    ("value", "currency", "words"),
    [
        ("193", "JPY", "193"),
        ("193.0", "JPY", "193"),
        ("12.4", "GBP", "12.40"),
        ("12.40", "GBP", "12.40"),
        ("0.125", "GBP", "0.125"),
        ("2.5", "KWD", "2.500"),
        ("1E+3", "JPY", "1000"),
        ("12.4", "XQQ", "12.40"),
    ],
)
def test_sums_in_digits(value: str, currency: str, words: str) -> None:
    money = Money(Decimal(value), currency)
    assert in_coins(money.value, currency) == words
    assert money_data(money) == {"value": words, "currency": currency}
    assert money_words(money) == f"{words} {currency}"
