"""Finds the checkers that come from npm.

They are no part of the project: CI installs `html-validate`, `schema-dts` and `typescript` somewhere and names that
`node_modules` folder in RECIPEC_NODE_MODULES. Without it these tests are skipped, except in CI, where that is a failure.
"""

from __future__ import annotations

import os
from pathlib import Path

import pytest


def node_modules(package: str) -> Path:
    """The folder that holds `package`; skips the test, or fails it in CI, when there is none."""
    named = os.environ.get("RECIPEC_NODE_MODULES", "")
    if named and (Path(named) / package).is_dir():
        return Path(named)
    if os.environ.get("CI") == "true":
        pytest.fail(f"CI must have npm's {package} and name its folder in RECIPEC_NODE_MODULES")
    pytest.skip(f"npm's {package} is not installed; name its node_modules folder in RECIPEC_NODE_MODULES")
