"""File names come from cooks; none may leave the folder, clash on any disk, or move when another dish comes."""

from __future__ import annotations

import re

from hypothesis import given
from hypothesis import strategies as st

from recipec.emit.paths import slug, slugs, up

PLAIN = re.compile(r"[a-z0-9][a-z0-9-]{0,90}")


@given(st.text())
def test_any_text_gives_a_plain_name(text: str) -> None:
    assert PLAIN.fullmatch(slug(text))


@given(st.sets(st.text(max_size=6)))
def test_names_differ_whatever_the_case(keys: set[str]) -> None:
    names = slugs(keys)
    assert set(names) == keys
    assert len({name.casefold() for name in names.values()}) == len(keys)


def test_a_plain_key_is_its_own_name_whoever_else_comes() -> None:
    assert slugs(["leek-pie"])["leek-pie"] == "leek-pie"
    both = slugs(["leek-pie", "Leek pie"])
    assert both["leek-pie"] == "leek-pie"
    assert both["Leek pie"].startswith("leek-pie-")


def test_accents_traversal_and_devices() -> None:
    assert slug("Crème brûlée") == "creme-brulee"
    assert slug("../../etc/passwd") == "etc-passwd"
    assert slug("CON") not in {"con", "nul", "aux"}
    assert slug("烤鴨") == "unnamed"


def test_the_way_back() -> None:
    assert up("index.html") == ""
    assert up("events/supper/market.html") == "../../"
