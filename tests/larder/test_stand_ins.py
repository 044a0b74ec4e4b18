"""Cheaper cuts and kinds: known, of one animal, and never another allergen or diet."""

from __future__ import annotations

import re

from recipec.base.source import Source
from recipec.larder.book_rows import read_larder_csv
from recipec.larder.larder import builtin
from recipec.larder.stand_ins import same_for_guests
from recipec.larder.table_text import rows

TABLE = list(rows("cheaper.tsv"))
LARDER = builtin()
ANIMALS = {"beef", "lamb", "pork", "chicken", "turkey", "duck", "veal", "venison"}
WATER = {"fish", "prawn", "crab"}


def test_both_sides_are_known_and_the_same_to_every_guest() -> None:
    assert len(TABLE) >= 100
    for name, instead, _, _, source in TABLE:
        one, other = LARDER.get(name), LARDER.get(instead)
        assert one is not None and other is not None and one is not other, (name, instead)
        assert same_for_guests(one, other), (name, instead)
        assert (one.allergens, one.may_contain, one.open, one.animal) == (
            other.allergens,
            other.may_contain,
            other.open,
            other.animal,
        )
        assert source == "common practice"
    assert len({frozenset(row[:2]) for row in TABLE}) == len(TABLE)


def test_meat_stays_of_one_animal() -> None:
    kinds: dict[str, str] = {}
    for name, instead, of, *_ in TABLE:
        for key in (name, instead):
            item = LARDER.get(key)
            assert item is not None
            meat = item.animal == ("meat",)
            assert (of in ANIMALS) == meat and (of in WATER) == (item.animal == ("fish",)), key
            assert kinds.setdefault(key, of) == of or not meat, key
    # The animal in a name is the animal of the row.
    for key, of in kinds.items():
        said = set(re.findall(r"\w+", key)) & (ANIMALS | {"ox"})
        assert not said or said <= {of, "ox" if of == "beef" else of}, key


def test_both_ways_about() -> None:
    assert "pollock" in {one.key for one in LARDER.stand_ins("cod")}
    assert "cod" in {one.key for one in LARDER.stand_ins("pollock")}
    assert [one.note for one in LARDER.stand_ins("lamb shank") if one.key == "lamb neck"] != [""]
    assert LARDER.stand_ins("saffron") == () == LARDER.stand_ins("never heard of")


def test_the_book_may_know_better() -> None:
    parsed, findings = read_larder_csv(Source("larder.csv", "name,allergens\ncomté,milk; eggs\n"))
    assert not findings
    larder = LARDER.with_rows(parsed)
    assert "comté" in {one.key for one in LARDER.stand_ins("gruyère")}
    assert "comté" not in {one.key for one in larder.stand_ins("gruyère")}
    assert "gruyère" not in {one.key for one in larder.stand_ins("comté")}
