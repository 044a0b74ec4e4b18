"""For all tests: `--update` rewrites expectations, and no test touches the user's own cache."""

from __future__ import annotations

import os

import pytest


def pytest_addoption(parser: pytest.Parser) -> None:
    """A reviewer reads the diff of what `--update` wrote."""
    parser.addoption("--update", action="store_true", help="rewrite expected results instead of comparing with them")


@pytest.fixture
def update(request: pytest.FixtureRequest) -> bool:
    """Whether expectations are to be rewritten."""
    return bool(request.config.getoption("--update"))


@pytest.fixture(scope="session", autouse=True)
def _plans_made_once(tmp_path_factory: pytest.TempPathFactory) -> None:
    # A plan takes seconds; that a kept one is the same as a new one has its own test.
    # Workers of one run share them.
    base = tmp_path_factory.getbasetemp()
    os.environ["RECIPEC_PLANS"] = str((base.parent if "PYTEST_XDIST_WORKER" in os.environ else base) / "plans")


@pytest.fixture(autouse=True)
def _no_cache(monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setenv("RECIPEC_CACHE", "off")
