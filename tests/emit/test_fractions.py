"""Fractions that have no sign of their own are set as fractions, and nothing else is changed."""

from __future__ import annotations

import pytest

from recipec.emit.card_page import loud
from recipec.emit.fractions import set_fractions

_SIXTEENTHS = '<span class="frac"><sup>5</sup>\u2044<sub>16</sub></span>'


@pytest.mark.parametrize(
    ("text", "page"),
    [
        ("1 5/16\u00a0lb", f"1\u202f{_SIXTEENTHS}\u00a0lb"),
        ("5/16", _SIXTEENTHS),
        ("2–5/16 cup", f"2–{_SIXTEENTHS} cup"),
        ("1½ cups", "1½ cups"),
        ("15/16/2026", "15/16/2026"),
        ("3/0", "3/0"),
        ("<b>1/3</b> & co", None),
    ],
)
def test_a_fraction_is_raised_and_lowered(text: str, page: str | None) -> None:
    shown = str(set_fractions(text))
    if page is None:
        assert "<b>" not in shown and "&lt;b&gt;" in shown and "&amp; co" in shown and "<sup>1</sup>" in shown
    else:
        assert shown == page


def test_a_cards_figures_are_large_and_their_fractions_set() -> None:
    assert loud("take 5/16\u00a0lb <now>") == f'take <b class="big">{_SIXTEENTHS}\u00a0lb</b> &lt;now&gt;'
