"""Fractions that have no sign of their own, set as one: `1 5/16` with a raised and a lowered figure. The rest of the text is escaped."""

from __future__ import annotations

import re

from markupsafe import Markup, escape

_FRACTION = re.compile(r"(?<![\d/.,])(?:(\d{1,3})[ \u00a0])?(\d{1,3})/([1-9]\d{0,2})(?![\d/.,])")
_SET = Markup('{}<span class="frac"><sup>{}</sup>\u2044<sub>{}</sub></span>')
_BETWEEN = "\u202f"
"""Narrow, and no line ends there: heard and copied, `1 5/16` must not become fifteen sixteenths."""


def set_fractions(text: str) -> Markup:
    """Text for a page, escaped."""
    if "/" not in text:
        return escape(text)
    parts: list[Markup] = []
    end = 0
    for found in _FRACTION.finditer(text):
        parts.append(escape(text[end : found.start()]))
        parts.append(_SET.format(found[1] + _BETWEEN if found[1] else "", found[2], found[3]))
        end = found.end()
    return Markup("").join((*parts, escape(text[end:])))
