"""Where the files that travel beside the package lie: in the wheel, or in the checkout."""

from __future__ import annotations

from pathlib import Path

_PACKAGE = Path(__file__).resolve().parent.parent


def grammar_dir() -> Path:
    """The folder that holds `recipec.lark`, the parse table and the tables of words."""
    return _place("grammar")


def site_dir() -> Path:
    """The folder that holds templates, styles and script."""
    return _place("site")


def findings_dir() -> Path:
    """The folder that holds a page for every finding."""
    return _place("findings", "tests/findings")


def _place(name: str, beside: str | None = None) -> Path:
    # The wheel maps these folders in under a leading underscore (pyproject.toml); a checkout has them beside.
    inside = _PACKAGE / f"_{name}"
    return inside if inside.is_dir() else _PACKAGE.parent / (beside or name)
