"""`--lang` and `language = …`: the papers change their language; prices, findings and speed do not."""

from __future__ import annotations

import json
import subprocess
import sys
from pathlib import Path

import pytest

from recipec.book.compile import compile_book
from recipec.book.start import start_book
from recipec.cli.main import run
from tests.languages.papers import build_in

ROOT = Path(__file__).resolve().parents[2]
DEMO = ROOT / "recipes"
SMALL = ROOT / "tests" / "books" / "small-supper" / "src"


def said(capsys: pytest.CaptureFixture[str], *words: str) -> str:
    """What a command writes; it must end well."""
    capsys.readouterr()
    assert run(list(words)) in (0, 1)
    return capsys.readouterr().out


@pytest.mark.parametrize(
    ("words", "german", "french"),
    [
        (("market", "supper"), "Einkaufsliste: ", "Liste du marché\u00a0: "),
        (("cost", "supper"), "Kalkulation: ", "Fiche de coûts\u00a0: "),
        (("guests", "supper"), "Gäste: ", "Convives\u00a0: "),
        (("guests", "supper", "--paper", "leftovers"), "Reste: ", "Restes\u00a0: "),
        (("card", "walnut-paste"), "Fassung ", "version "),
        (("card", "walnut-paste", "--format", "html"), '<html lang="de">', '<html lang="fr">'),
    ],
)
def test_a_command_speaks_the_language_asked_for(
    words: tuple[str, ...], german: str, french: str, capsys: pytest.CaptureFixture[str]
) -> None:
    for language, start in (("de", german), ("fr", french)):
        text = said(capsys, *words, "--book", str(SMALL), "--lang", language)
        # A no-break space is printed as a plain one.
        assert start in text or start.replace("\u00a0", " ") in text


def test_a_books_own_language_needs_no_option(tmp_path: Path, capsys: pytest.CaptureFixture[str]) -> None:
    start_book(tmp_path / "book")
    settings = tmp_path / "book" / "cookbook.toml"
    lines = [line for line in settings.read_text("utf-8").splitlines() if not line.startswith("language")]
    settings.write_text("\n".join([*lines, 'language = "de"', ""]), encoding="utf-8")
    dish = compile_book(tmp_path / "book").book.dishes[0].key
    assert "ZUTATEN" in said(capsys, "card", dish, "--book", str(tmp_path / "book"))
    assert "INGREDIENTS" in said(capsys, "card", dish, "--book", str(tmp_path / "book"), "--lang", "en")


def test_prices_are_read_as_the_book_writes_its_numbers() -> None:
    english, german = compile_book(DEMO), build_in(DEMO, "de")
    assert [price.price for price in german.book.prices] == [price.price for price in english.book.prices]
    assert [finding.message for finding in german.findings] == [finding.message for finding in english.findings]


def test_keys_for_scripts_are_the_same_in_every_language(capsys: pytest.CaptureFixture[str]) -> None:
    words = ("market", "supper", "--book", str(SMALL), "--format", "json")
    english, german = (json.loads(said(capsys, *words, "--lang", language)) for language in ("en", "de"))
    assert english.keys() == german.keys()
    assert [line["department"] for line in english["lines"]] == [line["department"] for line in german["lines"]]
    head = (said(capsys, *words[:-1], "csv", "--lang", language).splitlines()[0] for language in ("en", "de"))
    assert len(set(head)) == 1


def test_a_check_in_english_loads_no_catalogue_and_no_babel(tmp_path: Path) -> None:
    dish = tmp_path / "walnut-paste.dish"
    dish.write_bytes((SMALL / dish.name).read_bytes())
    # A catalogue is read by Babel.
    code = (
        "import sys\nfrom recipec.cli.main import run\n"
        f"run(['check', {str(dish)!r}])\n"
        "print([name for name in sys.modules if name.partition('.')[0] == 'babel'])"
    )
    done = subprocess.run([sys.executable, "-c", code], cwd=ROOT, capture_output=True, text=True, check=True)
    assert done.stdout.splitlines()[-1] == "[]"
