"""What a client is given: their menu for a household, and not a word of money or of who could not eat what."""

from __future__ import annotations

from pathlib import Path

import pytest

from tests.cli.conftest import Run

_DISHES = {
    "leeks.dish": """\
Ash leeks
serves: 8
course: starter
accept: core-too-low, the guest at the window asked for it so
price: 9.50 GBP

Roast [8 chicken thighs] and [16 leeks] in an {oven} at <200 °C> for <20 min, until dark>, to <58 °C core>. Pour [400 ml our
marrow stock] over. Serve with [hazelnuts] if you like.
""",
    "stock.dish": """\
Marrow stock
makes: 2 l

Simmer [1 kg carrots] in [2 l water] in a {stockpot} for <1 h within reach>. -> stock, 2 l
""",
    "other.dish": "Somebody else's cake\nserves: 4\n\nMix [200 g rye flour] with [100 g butter].\n",
}
_EVENT = """\
Supper for the Quiller family
guests: 8
serve: 2026-10-17 19:30
kitchen: barn
budget: 777 GBP
on hand: salt
seat 3: allergic to celery
seat 5: rather not coriander

An evening of smoke.

Starter, <19:30>:

[7 plates of our ash leeks]
[1 plate of our ash leeks, without carrots, for seat 3]
"""
_TELLTALE = (
    "777", "9.50", "6.66", "celery", "coriander", "seat", "allergic", "window", "Somebody else", "card", "market", "budget", "barn",
    "without carrots", "Costing",
)  # fmt: skip


@pytest.fixture
def book(tmp_path: Path) -> Path:
    root = tmp_path / "book"
    (root / "dishes").mkdir(parents=True)
    for name, text in _DISHES.items():
        (root / "dishes" / name).write_text(text, encoding="utf-8")
    (root / "supper.event").write_text(_EVENT, encoding="utf-8")
    (root / "barn.kitchen").write_text("The barn\noven: 1\nhob: 4 burners\n", encoding="utf-8")
    (root / "prices.csv").write_text(
        "item,pack,price,shop,seen\nleeks,1 kg,6.66 GBP,Bren,2026-10-01\n", encoding="utf-8"
    )
    (root / "cookbook.toml").write_text(
        'title = "The smoke book"\nauthor = "Ida Marsh"\ncurrency = "GBP"\nnote = "Thank you for the long table."\n',
        encoding="utf-8",
    )
    return root


def _pages(out: Path) -> dict[str, str]:
    return {path.relative_to(out).as_posix(): path.read_text(encoding="utf-8") for path in out.rglob("*.html")}


def test_a_copy_has_the_menu_and_nothing_that_is_not_the_clients(book: Path, tmp_path: Path, run: Run) -> None:
    run("build", str(book), "--for-client", "-o", str(tmp_path / "gift"), "--quiet")
    pages = _pages(tmp_path / "gift")
    assert sorted(pages) == ["courses.html", "dishes/leeks.html", "dishes/stock.html", "index.html", "ingredients.html"]
    for name, page in pages.items():
        for word in _TELLTALE:
            assert word.casefold() not in page.casefold(), f"{word} in {name}"
    home = pages["index.html"]
    for said in (
        "Supper for the Quiller family",
        "An evening of smoke.",
        "Ash leeks",
        "Thank you for the long table.",
        "Ida Marsh",
    ):
        assert said in home
    files = {path.suffix for path in (tmp_path / "gift").rglob("*") if path.is_file()}
    assert files <= {".html", ".css", ".js", ".json", ".pdf"} and not (tmp_path / "gift" / "book.json").exists()


def test_dishes_are_for_a_household_and_what_they_are_made_with_follows(book: Path, tmp_path: Path, run: Run) -> None:
    run("build", str(book), "--for-client", "-o", str(tmp_path / "four"), "--quiet")
    run("build", str(book), "--for-client", "--plates", "2", "-o", str(tmp_path / "two"), "--quiet")
    four, two = _pages(tmp_path / "four"), _pages(tmp_path / "two")
    assert "4\u00a0plates" in four["dishes/leeks.html"] and ">8<" in four["dishes/leeks.html"]
    assert "2\u00a0plates" in two["dishes/leeks.html"] and ">4<" in two["dishes/leeks.html"]
    assert "200\u00a0ml" in four["dishes/stock.html"] and "100\u00a0ml" in two["dishes/stock.html"]


def test_a_danger_is_told_the_client_and_the_cooks_reason_is_not(book: Path, tmp_path: Path, run: Run) -> None:
    run("build", str(book), "--for-client", "-o", str(tmp_path / "gift"), "--quiet")
    page = _pages(tmp_path / "gift")["dishes/leeks.html"]
    assert "58\u00a0°C inside is too low" in page


def test_whose_menu_is_asked_where_there_are_several(book: Path, tmp_path: Path, run: Run) -> None:
    (book / "lunch.event").write_text(_EVENT.replace("Supper", "Lunch"), encoding="utf-8")
    said = run("build", str(book), "--for-client", "-o", str(tmp_path / "gift"), code=2)
    assert "--event with one of lunch, supper" in " ".join(said.err.split())
    assert not (tmp_path / "gift").exists()
    run("build", str(book), "--event", "lunch", "-o", str(tmp_path / "gift"), code=2)


def test_nothing_is_given_away_of_a_book_with_a_fault(book: Path, tmp_path: Path, run: Run) -> None:
    (book / "dishes" / "other.dish").write_text("Cake\nserves: 4\n\nMix [200 blurbs flour].\n[", encoding="utf-8")
    run("build", str(book), "--for-client", "-o", str(tmp_path / "gift"), "--quiet", code=1)
    assert not (tmp_path / "gift").exists()
