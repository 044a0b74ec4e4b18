"""A tree as text, one node a line: for golden tests, and for a look at what was understood."""

from __future__ import annotations

from collections.abc import Iterator
from fractions import Fraction
from typing import Any

from recipec.base.span import Span


def dump(node: Any) -> str:
    """Every node on a line of its own: its type, where it stands, its plain fields; children are indented below it."""
    return "\n".join(_lines(node, "", 0)) + "\n"


def _is_node(value: Any) -> bool:
    return isinstance(value, tuple) and hasattr(value, "_fields")


def _lines(node: Any, label: str, depth: int) -> Iterator[str]:
    head = "  " * depth + (f"{label}: " if label else "") + type(node).__name__
    plain: list[str] = []
    children: list[tuple[str, Any]] = []
    for field in node._fields:
        value = getattr(node, field)
        if isinstance(value, Span):
            start, end = value.position, value.end_position
            head += f" {start.line}:{start.column}-{end.line}:{end.column}"
        elif _is_node(value):
            children.append((field, value))
        elif isinstance(value, tuple) and any(_is_node(child) for child in value):
            children += [(field, child) for child in value]
        elif value is not None and value is not False and value != "" and value != ():
            plain.append(f"{field}={_plain(value)}")
    # The words are the point of a name: they need no field of their own.
    yield " ".join([head, *plain])
    for field, child in children:
        yield from _lines(child, field, depth + 1)


def _plain(value: Any) -> str:
    if isinstance(value, Fraction):
        return str(value)
    return repr(value)
