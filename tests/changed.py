"""A frozen value with some fields changed: named tuples and dataclasses alike."""

from __future__ import annotations

import dataclasses
from typing import Any, TypeVar

T = TypeVar("T")


def replace(value: T, **changes: Any) -> T:
    """A copy of `value` with these fields changed."""
    if isinstance(value, tuple):
        return value._replace(**changes)  # type: ignore[attr-defined,no-any-return]
    return dataclasses.replace(value, **changes)  # type: ignore[type-var]
