"""Options that several commands share, always under the same name."""

from __future__ import annotations

from collections.abc import Callable, Sequence
from pathlib import Path
from typing import Any, TypeVar

import click

F = TypeVar("F", bound=Callable[..., Any])

book = click.option(
    "--book",
    type=click.Path(path_type=Path, exists=True, file_okay=False),
    metavar="DIR",
    help="The book's folder; else the nearest one upward with a cookbook.toml.",
)
output = click.option(
    "-o",
    "--output",
    type=click.Path(path_type=Path, dir_okay=False),
    metavar="FILE",
    help="Write into this file instead of the terminal.",
)
_SIZES = click.Choice(["A4", "A5", "Letter"], case_sensitive=False)
_SIZE_HELP = "The sheet that html and pdf are laid out for; else the book's own."

size = click.option("--size", "--paper", "size", type=_SIZES, help=_SIZE_HELP)
size_alone = click.option("--size", type=_SIZES, help=_SIZE_HELP)
"""For a command whose --paper says which paper is meant."""

measures = click.option(
    "--measures",
    type=click.Choice(["us", "uk", "metric", "au"]),
    help="Whose cups and spoons a bare cup or spoon is.",
)
show = click.option(
    "--show",
    type=click.Choice(["as written", "metric", "us"]),
    help="How amounts are shown.",
)
lang = click.option(
    "--lang", type=click.Choice(["en", "de", "fr"]), help="The language of the papers; else the book's own."
)
color = click.option(
    "--color",
    type=click.Choice(["auto", "always", "never"]),
    default="auto",
    show_default=True,
    help="Colour in reports.",
)
quiet = click.option("-q", "--quiet", is_flag=True, help="Only what is asked for, no closing line.")


def formats(names: Sequence[str]) -> Callable[[F], F]:
    """`--format`, the first name being the usual one."""
    return click.option(
        "--format", "form", type=click.Choice(names), default=names[0], show_default=True, help="What it is written as."
    )


def several(*options: Callable[[F], F]) -> Callable[[F], F]:
    """Several of the above as one, in their order in the help."""

    def put_on(function: F) -> F:
        for option in reversed(options):
            function = option(function)
        return function

    return put_on
