"""Scripts and styles as a device loads them: without remarks and blanks, and scripts with short names for what is their own.

A dish's page with its styles and scripts is to stay under 60 KB. The sources of `site/` are written for whoever reads them. This knows
only what they keep to: every statement ends in a semicolon; patterns stand after `(`, `,`, `=` or `:`; no template strings; keys of
objects are written out.
"""

from __future__ import annotations

import re
from collections import Counter
from collections.abc import Iterator
from itertools import product

_TOKEN = re.compile(
    r"""
    (?P<text>"(?:\\.|[^"\\\n])*")
  | (?P<remark>//[^\n]*|/\*.*?\*/)
  | (?P<pattern>(?<=[(,=:])\ ?/(?:\\.|\[(?:\\.|[^\]\\\n])*\]|[^/\\\n\[])+/[a-z]*)
  | (?P<blank>\s+)
  | (?P<word>[A-Za-z_$][\w$]*)
  | (?P<number>\d[\w.]*)
  | (?P<sign>.)
    """,
    re.VERBOSE | re.DOTALL,
)
_DECLARED = re.compile(
    r"\b(?:var|let|const|function)\s+([\w$]+)|[(,\[]\s*([\w$]+)(?=\s*[,)\]])|([\w$]+)\s*=>|,\s*([\w$]+)\s*=(?!=)"
)
_RESERVED = frozenset(
    "break case catch class const continue debugger default delete do else export extends false finally for function if import in "
    "instanceof let new null of return static super switch this throw true try typeof undefined var void while with yield async await "
    # What the page or the language brings, and what one script leaves for another.
    "arguments window document navigator Figures Sums Dishes Object String Number Boolean BigInt Math JSON Map Set Array Date Event "
    "parseInt isNaN Symbol Promise Error".split()
)
_ZERO = re.compile(r"(?<![\w.])0\.(?=\d)")
_STYLE_BLANK = re.compile(r"\s*([{};,])\s*|/\*.*?\*/|(?<=:)\s+|\s+", re.DOTALL)


def squeezed_script(text: str) -> str:
    """The same script, shorter."""
    tokens = [(match.lastgroup or "", match.group()) for match in _TOKEN.finditer(text)]
    kept = [
        (kind, word.strip() if kind == "pattern" else word) for kind, word in tokens if kind not in ("blank", "remark")
    ]
    short = _short_names(text, kept)
    out: list[str] = []
    last = ""
    for place, (kind, word) in enumerate(kept):
        said = short.get(word, word) if kind == "word" and not _is_key(kept, place) else word
        if said == "}" and last == ";":
            out.pop()
        if _needs_blank(last, said):
            out.append(" ")
        out.append(said)
        last = said[-1:]
    return "".join(out) + "\n"


def _needs_blank(last: str, said: str) -> bool:
    both_words = _wordy(last) and _wordy(said[:1])
    return both_words or (last in ("+", "-") and said[:1] == last)


def _wordy(char: str) -> bool:
    return char.isalnum() or char in ("_", "$")


def _is_key(kept: list[tuple[str, str]], place: int) -> bool:
    """Whether a word names a property: after a dot, or before a colon that no question mark asks for."""
    before = kept[place - 1][1] if place else ""
    after = kept[place + 1][1] if place + 1 < len(kept) else ""
    spread = before == "." and place > 1 and kept[place - 2][1] == "."
    return (before == "." and not spread) or (after == ":" and before in ("{", ","))


def _short_names(text: str, kept: list[tuple[str, str]]) -> dict[str, str]:
    # One name is one short name all over the script, so what is in sight of what stays as it was.
    bare = "".join(word if kind not in ("text", "pattern") else '""' for kind, word in _without_remarks(text))
    declared = {name for found in _DECLARED.findall(bare) for name in found if name} - _RESERVED
    used = Counter(word for place, (kind, word) in enumerate(kept) if kind == "word" and not _is_key(kept, place))
    # Names of the page's own (`document`) are used, and never declared.
    taken = {word for word in used if word not in declared} | _RESERVED
    names = (name for name in _names() if name not in taken)
    return {
        name: next(names) for name, _ in sorted(used.items(), key=lambda pair: (-pair[1], pair[0])) if name in declared
    }


def _without_remarks(text: str) -> Iterator[tuple[str, str]]:
    for match in _TOKEN.finditer(text):
        if match.lastgroup != "remark":
            yield match.lastgroup or "", match.group()


def _names() -> Iterator[str]:
    letters = "abcdefghijklmnopqrstuvwxyzABCDEFGHIJKLMNOPQRSTUVWXYZ"
    for length in (1, 2):
        for chars in product(letters, repeat=length):
            yield "".join(chars)


def squeezed_style(text: str) -> str:
    """The same style sheet, shorter."""
    parts = re.split(r'("(?:\\.|[^"\\])*")', re.sub(r"/\*.*?\*/", "", text, flags=re.DOTALL))
    short = [part if place % 2 else _STYLE_BLANK.sub(_style_blank, part) for place, part in enumerate(parts)]
    return _ZERO.sub(".", "".join(short).replace(";}", "}")).strip() + "\n"


def _style_blank(match: re.Match[str]) -> str:
    if match[1]:
        return match[1]
    return "" if match.start() and match.string[match.start() - 1] == ":" else " "
