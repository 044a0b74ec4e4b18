"""Finds the checkers that come from npm.

They are no part of the project: CI installs `html-validate`, `schema-dts`, `@types/sarif` and `typescript` somewhere and names that
`node_modules` folder in RECIPEC_NODE_MODULES. Without it these tests are skipped, except in CI, where that is a failure.
"""

from __future__ import annotations

import os
import subprocess
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


def type_check(tmp_path: Path, package: str, source: str) -> subprocess.CompletedProcess[str]:
    """What typescript says, strictly, of `source`, which may import the types of `package`."""
    tools = node_modules(package)
    link = tmp_path / "node_modules"
    if not link.is_symlink():
        link.symlink_to(tools, target_is_directory=True)
    (tmp_path / "data.ts").write_text(source, "utf-8")
    options = "--noEmit --strict --skipLibCheck --target es2022 --module nodenext --moduleResolution nodenext".split()
    command = [str(tools / ".bin" / "tsc"), *options, "data.ts"]
    return subprocess.run(command, cwd=tmp_path, capture_output=True, text=True, check=False)
