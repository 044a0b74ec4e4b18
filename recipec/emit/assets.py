"""What pages of the cookbook link to: style sheets, and pictures of dishes."""

from __future__ import annotations

from recipec.emit.desk import Desk
from recipec.emit.render import styles
from recipec.emit.request import Paper


def assets(desk: Desk) -> tuple[Paper, ...]:
    """Every style sheet; the desk adds nothing to them."""
    return tuple(Paper(f"assets/{name}", text.encode("utf-8")) for name, text in styles().items())


def photos(desk: Desk) -> tuple[Paper, ...]:
    """Every dish's picture, as it is, under the dish's own file name."""
    found = desk.request.photos
    return tuple(
        Paper(desk.paths.photo(key, found[key].ending), found[key].data) for key in desk.sheets if key in found
    )
