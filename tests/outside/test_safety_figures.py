"""The figures of food safety against the published ones, and none without a section and a word on where it comes from."""

from __future__ import annotations

from fractions import Fraction
from pathlib import Path

import pytest

from recipec.plan.figures import rows
from recipec.plan.rules import edition, follow, limits, rule_sets

_LINES = Path(__file__).with_name("safety_figures.tsv").read_text(encoding="utf-8").splitlines()
PUBLISHED = [line.split("\t") for line in _LINES if not line.startswith("#")][1:]


@pytest.mark.parametrize("row", PUBLISHED, ids=lambda row: " ".join(row[:3]))
def test_every_published_figure_is_a_row_with_its_section(row: list[str]) -> None:
    rule, kind, celsius, fahrenheit, seconds, section, _ = row
    found = [
        limit
        for limit in limits("us-food-code", rule, kind)
        if limit.celsius == (Fraction(celsius) if celsius else None)
        and limit.seconds == (int(seconds) if seconds else None)
    ]
    assert len(found) == 1
    assert found[0].section == section
    assert found[0].mark == "S"
    assert not fahrenheit or found[0].fahrenheit == Fraction(fahrenheit)


def test_no_row_says_it_was_read_unless_it_is_among_the_published() -> None:
    published = {(row[0], row[1], row[2], row[4]) for row in PUBLISHED}
    # The same sentence of the code names both: whole cuts of any animal, and shellfish; eggs broken together go with minced meat.
    same = {"meat": "whole", "shellfish": "whole", "egg": "minced"}
    for rules, rule, kind, celsius, _, seconds, section, mark, _ in rows("rules.tsv"):
        assert section, (rules, rule, kind)
        assert mark in ("S", "M", "P")
        if mark == "S" and rule not in ("edition", "time warm"):
            assert rules == "us-food-code"
            assert (rule, same.get(kind, kind), celsius, seconds) in published or (
                rule,
                kind,
                celsius,
                seconds,
            ) in published


def test_every_rule_set_has_an_edition_and_defers_to_the_local_code() -> None:
    assert rule_sets() == ("us-food-code", "uk")
    for rules in rule_sets():
        assert edition(rules).name in follow(rules)
        assert "Follow your local code and your own licence and training" in follow(rules)
        for rule in ("hold hot", "hold cold", "cool whole", "time alone", "time warm", "reheat"):
            assert limits(rules, rule), (rules, rule)
