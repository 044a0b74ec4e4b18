"""Each command as a cook calls it: what it prints, where, and how it ends."""

from __future__ import annotations

import json
from pathlib import Path

import pytest

from recipec.base.finding import KINDS
from recipec.cli.main import COMMANDS
from tests.cli.conftest import Run

BROKEN = "Soup\nserves: 4\n\nMelt [20 g butter and add [1 leek].\n"


def test_help_lists_every_command_and_loads_none(run: Run) -> None:
    said = run("--help")
    for name, words in COMMANDS.items():
        assert f"  {name}" in said.out and words in said.out


@pytest.mark.parametrize("name", COMMANDS)
def test_every_help_shows_a_real_example(run: Run, name: str) -> None:
    said = run(name, "--help")
    assert "Example:\n" in said.out
    assert f"  recipec {name}" in said.out.split("Example:")[1]
    assert all(len(line) <= 80 for line in said.out.splitlines())


def test_usage_mistakes_exit_2_and_offer_the_nearest(run: Run) -> None:
    assert "'check'" in run("chek", code=2).err
    assert "'used-up'" in run("explain", "used-pu", code=2).err
    run("card", code=2)
    run("check", "--format", "yaml", code=2)
    run("check", "nowhere.dish", code=2)


# ---------------------------------------------------------------- new


def test_new_book_is_without_any_finding_and_builds(run: Run, book: Path) -> None:
    said = run("check", "--all")
    assert said.out == ""
    assert said.err == "Nothing wrong in 5 files.\n"
    assert "written" in run("build").err
    assert (book / "out" / "index.html").is_file()
    assert "as they were" in run("build").err


def test_new_never_touches_a_folder_in_use(run: Run, tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.chdir(tmp_path)
    (tmp_path / "used").mkdir()
    (tmp_path / "used" / "a.txt").write_text("mine")
    assert "not empty" in run("new", "used", code=1).err
    assert [path.name for path in (tmp_path / "used").iterdir()] == ["a.txt"]
    run("new", "fresh/deep")
    assert (tmp_path / "fresh" / "deep" / "cookbook.toml").is_file()
    run("new", "used/a.txt", code=1)


# ---------------------------------------------------------------- check


def test_check_says_what_is_wrong_where(run: Run, book: Path) -> None:
    (book / "bad.dish").write_text(BROKEN)
    said = run("check", code=1)
    assert "error unclosed-mark  bad.dish:4:" in said.out
    assert "error" in said.err
    assert "\x1b" not in said.out


def test_check_of_one_dish_sees_the_book_and_says_nothing_of_other_files(run: Run, book: Path) -> None:
    (book / "bad.dish").write_text(BROKEN)
    (book / "toast.dish").write_text(
        "Soup and toast\nserves: 2\n\nWarm [600 ml our white bean soup] for <5 min>. Serve with [2 slices sourdough].\n"
    )
    soup = book / "white-bean-soup.dish"
    soup.write_text(soup.read_text().replace("serves: 4\n", "serves: 4\nmakes: 1.6 l\n"))
    assert run("check", "toast.dish").out == ""
    assert "bad.dish" in run("check", "toast.dish", "bad.dish", code=1).out
    assert "no-such-dish" not in run("check", code=1).out


def test_a_dish_with_no_book_is_checked_by_itself(run: Run, tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.chdir(tmp_path)
    (tmp_path / "sub").mkdir()
    (tmp_path / "sub" / "leek.dish").write_text(
        "Leeks\nserves: 2\n\nRoast [4 leeks] in {the oven} at <200 °C> for <20 min>.\n"
    )
    assert run("check", "sub/leek.dish").err == "Nothing wrong in 1 file.\n"
    assert run("check", "sub").err == "Nothing wrong in 1 file.\n"
    assert run("check").err == "Nothing wrong in 1 file.\n"
    (tmp_path / "sub" / "leek.dish").write_text(BROKEN)
    assert "sub/leek.dish:4:" in run("check", "sub/leek.dish", code=1).out


def test_check_where_there_is_nothing_is_a_usage_mistake(
    run: Run, tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    monkeypatch.chdir(tmp_path)
    assert "no book here" in run("check", code=2).err
    (tmp_path / "notes.txt").write_text("x")
    run("check", "notes.txt", code=2)
    run("check", "--book", ".", code=2)


def test_check_as_json_and_sarif(run: Run, book: Path) -> None:
    (book / "bad.dish").write_text(BROKEN)
    data = json.loads(run("check", "--format", "json", code=1).out)
    assert data["errors"] == len([one for one in data["findings"] if one["severity"] == "error"]) > 0
    sarif = json.loads(run("check", "--format", "sarif", code=1).out)
    assert [one["ruleId"] for one in sarif["runs"][0]["results"]] == [one["slug"] for one in data["findings"]]
    run("check", "--format", "json", "-o", "report.json", code=1)
    assert json.loads((book / "report.json").read_text("utf-8")) == data


def test_json_of_check_and_convert_keep_to_their_schemas(run: Run, book: Path) -> None:
    jsonschema = pytest.importorskip("jsonschema")
    from recipec.emit.json_papers import schema

    (book / "bad.dish").write_text(BROKEN)
    for name, words, code in (
        ("check", ("check", "--all"), 1),
        ("convert", ("convert", "1 cup", "g", "--of", "flour"), 0),
        ("card", ("card", "white-bean-soup"), 0),
        ("market", ("market", "friday-supper"), 0),
    ):
        data = json.loads(run(*words, "--format", "json", code=code).out)
        jsonschema.validate(data, json.loads(schema(name)))


def test_hints_are_counted_and_listed_only_when_asked(run: Run, book: Path) -> None:
    soup = book / "white-bean-soup.dish"
    soup.write_text(soup.read_text() + "\nLast, chill [1 onion] <until cold>.\n")
    said = run("check")
    assert said.out == "" and "1 hint (--all lists them)" in said.err
    assert "hint time-assumed" in run("check", "--all").out


def test_colour_only_when_wanted(run: Run, book: Path) -> None:
    (book / "bad.dish").write_text(BROKEN)
    assert "\x1b[" in run("check", "--color", "always", code=1).out
    assert "\x1b[" not in run("check", "--color", "never", code=1).out
    run("check", "--color", "always", "-o", "r.txt", code=1)
    assert "\x1b" not in (book / "r.txt").read_text()


def test_quiet_has_no_closing_line(run: Run, book: Path) -> None:
    assert run("check", "-q") == ("", "")
    assert run("build", "-q") == ("", "")


def test_a_source_is_never_written_over(run: Run, book: Path) -> None:
    before = (book / "white-bean-soup.dish").read_bytes()
    run("card", "white-bean-soup", "-o", "white-bean-soup.dish", code=1)
    run("check", "-o", "prices.csv", code=1)
    run("build", "-o", ".", code=1)
    assert (book / "white-bean-soup.dish").read_bytes() == before
    assert len(list(book.iterdir())) == 5


# ---------------------------------------------------------------- build


def test_with_an_error_nothing_is_written_and_the_last_book_stays(run: Run, book: Path) -> None:
    run("build")
    before = {path: path.read_bytes() for path in (book / "out").rglob("*") if path.is_file()}
    (book / "bad.dish").write_text(BROKEN)
    said = run("build", code=1)
    assert "unclosed-mark" in said.err and "Nothing was written" in said.err
    assert {path: path.read_bytes() for path in (book / "out").rglob("*") if path.is_file()} == before


def test_build_names_its_book_and_its_folder(run: Run, book: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.chdir(book.parent)
    run("build", "book", "-o", "elsewhere")
    assert (book.parent / "elsewhere" / "index.html").is_file()
    assert not (book / "out").exists()
    run("build", "elsewhere", code=2)


def test_two_builds_in_two_places_are_the_same_bytes(run: Run, book: Path) -> None:
    run("build", "-o", "../one")
    run("build", "-o", "../two")
    one, two = (
        {path.relative_to(folder).as_posix(): path.read_bytes() for path in folder.rglob("*") if path.is_file()}
        for folder in (book.parent / "one", book.parent / "two")
    )
    assert one == two


# ---------------------------------------------------------------- card and market


@pytest.mark.parametrize(
    "words", ["white-bean-soup", "white-bean-soup.dish", "White bean soup with sage oil", "white bean"]
)
def test_a_dish_by_file_name_title_or_its_start(run: Run, book: Path, words: str) -> None:
    assert "White bean soup with sage oil" in run("card", words).out


def test_a_card_is_scaled(run: Run, book: Path) -> None:
    data = json.loads(run("card", "white-bean-soup", "--for", "10", "--format", "json").out)
    assert data["plates"] == "10" and data["factor"] == "5/2"
    assert "<!DOCTYPE html>" in run("card", "white-bean-soup", "--format", "html").out.replace("doctype", "DOCTYPE")
    run("card", "white-bean-soup", "--for", "0", code=2)
    run("card", "white-bean-soup", "--for", "many", code=2)
    run("card", "white-bean-soup", "--for", "1/0", code=2)


def test_a_card_of_a_version_leaves_a_food_out_or_says_why_it_can_t(run: Run, book: Path) -> None:
    (book / "pears.dish").write_text(
        "Dressed pears\nserves: 4\n\nDress [800 g pears, sliced] with [60 g hazelnuts] for <3 min>.\n", encoding="utf-8"
    )
    said = run("card", "dressed pears", "--without", "hazelnuts").out
    assert "WITHOUT  hazelnuts" in said
    assert "60 g" not in said
    assert "(NOT the hazelnuts)" in said
    assert json.loads(run("card", "pears", "--without", "hazelnuts", "--format", "json").out)["without"] == [
        "hazelnuts"
    ]
    assert "without hazelnuts" in run("card", "pears", "--without", "hazelnuts", "--format", "html").out
    # A card that only seems to be free of something is worse than none.
    for food, words in (("pears", "is made from pears"), ("hazelnuss", "Did you mean `without hazelnuts`?")):
        failed = run("card", "pears", "--without", food, code=1)
        assert failed.out == ""
        assert words in failed.err


def test_a_card_of_a_version_without_a_result_by_its_name(run: Run, book: Path) -> None:
    (book / "leeks.dish").write_text(
        "Ash leeks\nserves: 4\n\nFor the crumb:\n\nToast [60 g hazelnuts] in a {frying pan} for <3 min>. -> nut crumb\n\n"
        "To plate:\n\nChar [800 g leeks] for <8 min> and scatter with [the nut crumb].\n",
        encoding="utf-8",
    )
    for name in ("nut crumb", "the crumb"):
        said = run("card", "ash leeks", "--without", name).out
        assert f"WITHOUT  {name.removeprefix('the ')}" in said
        assert "(NOT the nut crumb)" in said
        assert "hazelnuts" not in said
    assert "Did you mean `without nut crumb`?" in run("card", "ash leeks", "--without", "nut crums", code=1).err


def test_a_card_of_a_dish_with_an_error_says_so_itself(run: Run, book: Path) -> None:
    (book / "bad.dish").write_text(BROKEN)
    for form in ("text", "html", "json"):
        said = run("card", "bad.dish", "--format", form, code=1)
        assert "never closed" in said.out
        assert "unclosed-mark" in said.err
    # Another dish's error is no hindrance.
    assert run("card", "white-bean-soup").err == ""


def test_a_loose_dish_gets_its_card(run: Run, tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.chdir(tmp_path)
    (tmp_path / "leek.dish").write_text("Leeks\nserves: 2\n\nRoast [4 leeks] in {the oven} at <200 °C> for <20 min>.\n")
    said = run("card", "leek.dish", "--for", "4")
    assert "8 leeks" in said.out.replace("\u00a0", " ").replace("  ", " ") or "leeks" in said.out
    assert said.err == ""


def test_an_unknown_dish_is_answered_with_the_nearest(run: Run, book: Path) -> None:
    assert "'white-bean-soup'" in run("card", "white-baen-soup", code=2).err
    assert "'friday-supper'" in run("market", "fridy-supper", code=2).err


def test_a_dish_that_serves_nobody_in_particular_is_made_by_the_amount(run: Run, book: Path) -> None:
    (book / "stock.dish").write_text("Stock\nmakes: 1 l\n\nSimmer [2 onions] in [1.5 l water] for <1 h>.\n")
    said = run("card", "stock", "--for", "3", code=1).err.replace("\u00a0", " ")
    assert "makes 1 l" in said and "--for '1 l'" in said and "60 ml a plate" in said
    for words in ("3 l", "3000ml", "3 batches"):
        data = json.loads(run("card", "stock", "--for", words, "--format", "json").out)
        assert (data["factor"], data["plates"], data["makes"]) == ("3", None, "3\u00a0l")
    assert "6" in run("card", "stock", "--for", "3 l").out
    assert "<html" in run("card", "stock", "--for", "3 l", "--format", "html").out
    assert "it makes 1" in run("card", "stock", "--for", "3 kg", code=1).err
    run("card", "stock", "--for", "3 zorbs", code=2)
    run("card", "stock")


def test_so_many_pieces(run: Run, book: Path) -> None:
    (book / "puffs.dish").write_text("Puffs\nmakes: 12 puffs, 3 pieces a plate\n\nBake [2 onions] for <1 h>.\n")
    for words in ("24 puffs", "24 pieces", "8"):
        assert json.loads(run("card", "puffs", "--for", words, "--format", "json").out)["factor"] == "2"
    assert "--for 8" in run("card", "white-bean-soup", "--for", "2 l", code=1).err


def test_a_market_list_in_every_format(run: Run, book: Path) -> None:
    text = run("market", "friday-supper").out
    assert "PRODUCE" in text and "onion" in text
    data = json.loads(run("market", "friday-supper", "--format", "json").out)
    onions = next(line for line in data["lines"] if line["item"] == "onion")
    assert onions["need"][0]["value"] == "3" and onions["asked_by"][0]["file"] == "white-bean-soup.dish"
    assert run("market", "friday-supper", "--format", "csv").out.startswith("\ufeff")
    assert "<html" in run("market", "friday-supper", "--format", "html").out
    twice = json.loads(run("market", "friday-supper", "Friday supper", "--format", "json").out)
    assert twice["lines"] == data["lines"]


# ---------------------------------------------------------------- convert and explain


@pytest.mark.parametrize(
    ("words", "value", "unit"),
    [
        (("3 lb", "kg"), "136077711/100000000", "kg"),
        (("1 pint", "ml", "--measures", "uk"), "56826125/100000", "ml"),
        (("180 C", "F"), "356", "°F"),
        (("180 C", "gas"), "4", "gas"),
        (("gas 6", "C"), "200", "°C"),
        (("350F", "C fan"), "160", "°C"),
        (("-18 C", "F"), "-2/5", "°F"),
    ],
)
def test_sums_at_the_bench(run: Run, book: Path, words: tuple[str, ...], value: str, unit: str) -> None:
    from fractions import Fraction

    data = json.loads(run("convert", "--format", "json", *words).out)
    assert Fraction(data["to"]["value"]) == Fraction(value)
    assert data["to"]["unit"] == unit


def test_a_sum_through_a_density_says_by_which(run: Run, book: Path) -> None:
    data = json.loads(run("convert", "2 cups", "g", "--of", "flour", "--measures", "us", "--format", "json").out)
    assert 200 < float(eval(data["to"]["value"])) < 300
    assert "g per ml" in data["via"] and "flour" in data["via"]
    assert "onion" in run("convert", "3", "g", "--of", "onions").out


@pytest.mark.parametrize(
    ("words", "said"),
    [
        (("7 tbsp", "cup"), "7 tbsp = 0.4375 cup"),
        (("1/3 cup", "tbsp"), "⅓ cup = 5⅓ tbsp"),
        (("0.1 g", "oz"), "0.1 g = 0.003527 oz"),
        (("5 cups", "kg", "--of", "plain flour"), "5 cups plain flour = 0.625 kg"),  # 125 g a cup: SR28 20081
        (("3", "g", "--of", "eggs"), "3 eggs = 150 g"),  # 50 g each: SR28 01123
        (("2 eggs", "g"), "2 eggs = 100 g"),
        (("250 g", "pieces", "--of", "egg"), "250 g egg = 5 eggs"),
        (("1 kg", "onions"), "1 kg onions = about 9 onions"),  # 110 g each: SR28 11282
        (("1 kg", "onions", "--of", "onion"), "1 kg onion = about 9 onions"),
        (("2 egg yolks", "g"), "2 egg yolks = 34 g"),  # 17 g each: SR28 01125
        (("1 cup", "g", "--of", "lemon juice"), "1 cup lemon juice = 244 g"),  # SR28 09152
        (("2 cloves", "g", "--of", "garlic"), "2 cloves garlic = 6 g"),
        (("1-2 cups", "g", "--of", "sugar"), "1–2 cups sugar = 200–400 g"),
        (("500 ml", "cups"), "500 ml = 2.113 cups (2 cups plus 2 tbsp)"),
        (("90 min", "h"), "90 min = 1½ h"),
        (("200 C", "fan"), "200 °C = 180 °C fan"),
        (("1 lb", "g", "--of", "wonder dust"), "1 lb wonder dust = 453.6 g"),
    ],
)
def test_a_sum_is_said_in_the_unit_asked_for_and_the_cooks_words(
    run: Run, book: Path, words: tuple[str, ...], said: str
) -> None:
    assert run("convert", "--measures", "us", *words).out.splitlines()[0].replace("\u00a0", " ") == said


@pytest.mark.parametrize(
    ("words", "hint"),
    [
        (("1 cup", "g"), "--of"),
        (("1 cup", "g", "--of", "fluor", "--measures", "us"), "flour"),
        (("1 pint", "ml"), "--measures"),
        (("1 T", "ml"), "Write tbsp"),
        (("1 clove", "bunch", "--of", "garlic"), "same kind"),
        (("2 h", "g"), "same kind"),
        (("1 bunch", "g", "--of", "flour"), "a bunch of flour"),
        (("1 cup", "g", "--of", "wonder dust", "--measures", "us"), "larder"),
        (("200 g", "C"), "180 C"),
        (("gas 40", "C"), "¼ to 10"),
        (("lots", "g"), "200 g"),
        (("-300 C", "F"), "figure"),
    ],
)
def test_a_sum_that_cannot_be_done_says_why(run: Run, book: Path, words: tuple[str, ...], hint: str) -> None:
    said = run("convert", *words, code=1)
    assert said.out == "" and hint in said.err


def test_explain_prints_the_page_of_every_finding(run: Run) -> None:
    for slug, kind in KINDS.items():
        page = run("explain", slug).out
        assert page.startswith(f"{slug} ({kind.severity})\n")
        assert "```" not in page
    data = json.loads(run("explain", "used-up", "--format", "json").out)
    assert data["severity"] == "error" and "```" in data["page"]
