"""The pattern that stands for ISO 8601 durations accepts and refuses what the standard does."""

from __future__ import annotations

import pytest
from test_jsonld_types import ISO


@pytest.mark.parametrize("text", ["PT1H30M", "P1D", "P1DT2H", "PT45M", "PT10S"])
def test_durations(text: str) -> None:
    assert ISO.fullmatch(text)


@pytest.mark.parametrize("text", ["", "P", "PT", "P1DT", "1H", "PT1.5X", "PTM", "90 min"])
def test_no_durations(text: str) -> None:
    assert not ISO.fullmatch(text)
