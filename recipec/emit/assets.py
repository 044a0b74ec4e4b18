"""What pages of the cookbook link to: style sheets, scripts, and pictures of dishes."""

from __future__ import annotations

from recipec.emit.desk import Desk
from recipec.emit.live_figures import figures_script
from recipec.emit.render import scripts, styles
from recipec.emit.request import Paper
from recipec.emit.squeeze import squeezed_style


def assets(desk: Desk) -> tuple[Paper, ...]:
    """Every style sheet and script, and the figures and words that scripts go by, which are the book's language's."""
    shapes = {name: squeezed_style(text) for name, text in styles().items()}
    texts = {**shapes, **scripts(), "figures.js": figures_script(desk.tongue)}
    return tuple(Paper(f"assets/{name}", text.encode("utf-8")) for name, text in sorted(texts.items()))


def photos(desk: Desk) -> tuple[Paper, ...]:
    """Every dish's picture, as it is, under the dish's own file name."""
    found = desk.request.photos
    return tuple(
        Paper(desk.paths.photo(key, found[key].ending), found[key].data) for key in desk.sheets if key in found
    )
