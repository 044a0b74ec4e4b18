"""For all tests: `--update` rewrites expectations, and no test touches the user's own cache."""

from __future__ import annotations

import pytest


def pytest_addoption(parser: pytest.Parser) -> None:
    """A reviewer reads the diff of what `--update` wrote."""
    parser.addoption("--update", action="store_true", help="rewrite expected results instead of comparing with them")


@pytest.fixture
def update(request: pytest.FixtureRequest) -> bool:
    """Whether expectations are to be rewritten."""
    return bool(request.config.getoption("--update"))


@pytest.fixture(autouse=True)
def _no_cache(monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setenv("RECIPEC_CACHE", "off")
