"""The one place that makes HTML: templates of `site/`, autoescape always on, undefined names refused."""

from __future__ import annotations

import base64
import hashlib
import re
from collections.abc import Mapping
from functools import cache

from jinja2 import Environment, FileSystemLoader, StrictUndefined

from recipec.base.places import site_dir
from recipec.emit.fractions import set_fractions
from recipec.emit.squeeze import squeezed_script

# Control characters have no place in HTML, and lone surrogates none in UTF-8. Embeddings, overrides and isolates
# (U+202A-E, U+2066-9) would turn text around beyond the words they stand in; the plain marks U+200E/F are left alone.
_UNSAFE = re.compile(
    "[\x00-\x08\x0b\x0c\x0e-\x1f\x7f-\x9f\u202a-\u202e\u2066-\u2069\ud800-\udfff\ufdd0-\ufdef\ufffe\uffff]"
)


def clean(text: str) -> str:
    """Text without characters that could break a page or turn its direction."""
    return _UNSAFE.sub("", text)


@cache
def _environment() -> Environment:
    environment = Environment(
        loader=FileSystemLoader(site_dir() / "templates"),
        autoescape=True,
        undefined=StrictUndefined,
        trim_blocks=True,
        lstrip_blocks=True,
        keep_trailing_newline=True,
        auto_reload=False,
        cache_size=-1,
    )
    environment.filters["fractions"] = set_fractions
    return environment


def page(template: str, **context: object) -> bytes:
    """A template of `site/templates` filled in, as UTF-8."""
    return clean(_environment().get_template(template).render(context)).encode("utf-8")


@cache
def style(name: str) -> str:
    """The text of a style sheet of `site/styles`."""
    return (site_dir() / "styles" / name).read_text(encoding="utf-8")


def styles() -> Mapping[str, str]:
    """Every style sheet by name."""
    return {file.name: style(file.name) for file in sorted((site_dir() / "styles").glob("*.css"))}


@cache
def script(name: str) -> str:
    """The text of a script of `site/scripts`, squeezed."""
    return squeezed_script((site_dir() / "scripts" / name).read_text(encoding="utf-8"))


def scripts() -> Mapping[str, str]:
    """Every script by name."""
    return {file.name: script(file.name) for file in sorted((site_dir() / "scripts").glob("*.js"))}


def source_hash(text: str) -> str:
    """What a content security policy calls a text by, so that just that style may stand inside a page that travels alone."""
    return "sha256-" + base64.b64encode(hashlib.sha256(text.encode("utf-8")).digest()).decode("ascii")
