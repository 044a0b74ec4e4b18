"""Style sheets that pages of the cookbook link to."""

from __future__ import annotations

from recipec.emit.desk import Desk
from recipec.emit.render import styles
from recipec.emit.request import Paper


def assets(desk: Desk) -> tuple[Paper, ...]:
    """Every style sheet; the desk adds nothing to them."""
    return tuple(Paper(f"assets/{name}", text.encode("utf-8")) for name, text in styles().items())
