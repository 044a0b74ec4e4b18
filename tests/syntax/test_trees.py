"""Texts and the trees they make: `--update` rewrites what is printed beside each."""

from __future__ import annotations

from pathlib import Path

import pytest

from tests.harness import SYNTAX, check_syntax

FILES = sorted(path for path in SYNTAX.glob("*/*") if path.suffix in (".dish", ".event", ".kitchen"))


@pytest.mark.parametrize("path", FILES, ids=lambda path: f"{path.parent.name}/{path.name}")
def test_tree(path: Path, update: bool) -> None:
    check_syntax(path, update=update)


def test_no_tree_without_its_text() -> None:
    left = [path.name for path in SYNTAX.glob("*/*.tree") if not path.with_suffix("").is_file()]
    assert left == []
