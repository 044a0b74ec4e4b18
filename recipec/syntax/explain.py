"""What to tell a cook where a mark, a result or a fact could not be read.

Everything here works from the place, from what could have stood there, and from what stands there instead.
"""

from __future__ import annotations

import re
from typing import TYPE_CHECKING

from recipec.base.suggest import nearest
from recipec.syntax.builder import Token, plain
from recipec.syntax.driver import Stuck

if TYPE_CHECKING:
    from recipec.syntax.prose import Prose

MOST = 8
"""Findings of one kind in one block: past that a block is so broken that more would not help."""

EMPTY = {"food": "the food: `[200 g butter]`", "gear": "the gear: `{frying pan}`", "reading": "the reading: `<25 min>`"}
_FORM = {
    "food": "Write the amount, the name, and after a comma how it is treated: `[200 g butter, cubed]`.",
    "gear": "Write the gear, and after a comma its size: `{frying pan, 28 cm}`.",
    "reading": "Write a time `<25 min>`, a temperature `<220 °C>`, a size `<5 mm>` or what is left `<by half>`; a cue goes after a comma.",
}
_NUMBER = re.compile(r"(?:about\s+|~\s*)?([0-9][0-9.,/–-]*)\s*(.*)", re.DOTALL)

_THOUSANDS = re.compile(r"([0-9]{1,3})\s([0-9]{3})\s?([^\W\d_]+)")


def shown(text: str) -> str:
    """A few words of what stands there, on one line."""
    words = plain(text)
    return words if len(words) <= 40 else words[:38].rstrip() + " …"


def close_of(parse: Prose, start: int, end: int) -> int:
    """Where a mark that was never closed probably should have: before a joining word or the end of the sentence."""
    text = parse.text
    joining = "|".join(parse.words.joining)
    if text[start - 1] == "<":
        # A time's cue begins with such a word too.
        cue = {*parse.words.marks["until"], *parse.words.marks["to"], *parse.words.marks["at"]}
        joining = "|".join(word for word in parse.words.joining if word not in cue)
    # A name is seldom longer than a line of text; and a long run of white space must not be gone over again and again.
    last = min(end, start + 200)
    found = re.compile(rf"\s+(?:{joining})\b|[.;:!?](?:\s|\Z)|\s*->").search(text, min(start + 1, last), last)
    place = found.start() if found else last
    while place > start and text[place - 1].isspace():
        place -= 1
    return place


def mark(parse: Prose, kind: str, inner: Token, stuck: Stuck) -> None:
    """The finding for a mark that the grammar refused."""
    if kind == "reading":
        _reading(parse, inner, stuck)
        return
    start, end = inner
    at = stuck.at
    rest = parse.text[at:end]
    before = plain(parse.text[start:at]).rstrip()
    at += len(rest) - len(rest.lstrip())
    rest = rest.lstrip()
    if not rest:
        if before.endswith(","):
            comma = parse.text.rindex(",", start, end)
            parse.note("unreadable-mark", comma, comma + 1, "Nothing follows this comma.", "Take the comma out.")
        else:
            parse.note("unreadable-mark", *parse.mark, f"A name is missing after `{shown(before)}`.", _FORM[kind])
    elif rest[0] in "()":
        word = "is not closed" if rest[0] == "(" else "closes nothing"
        parse.note(
            "unreadable-mark",
            at,
            at + 1,
            f"This round bracket {word}.",
            "A mark may end in one pair: `[200 g butter (cold)]`.",
        )
    elif rest[0] == "," and not before:
        parse.note("unreadable-mark", *parse.mark, "The name is missing before the comma.", _FORM[kind])
    elif rest[0] == "," and stuck.expected & {"NAME", "GNAME"}:
        parse.note(
            "unreadable-mark", at, at + 1, f"A comma stands between `{shown(before)}` and the name.", _FORM[kind]
        )
    elif re.match(r"[0-9]{20}", rest):
        parse.note("bad-number", at, end, "This number is too large for any kitchen.", "Write the amount again.")
    elif rest[0] in "-+−" and rest[1:].lstrip()[:1].isdigit():
        parse.note(
            "bad-number",
            at,
            end,
            f"`{shown(rest)}` begins with a sign.",
            "Write the amount as a plain number: `[2 eggs]`.",
        )
    elif rest[0] == "/" and rest[1:].lstrip()[:1].isdigit():
        parse.note(
            "unreadable-mark", at, end, "Two measures of one thing stand here.", "Keep one of them, as in `[500 ml milk]`."
        )  # fmt: skip
    elif rest[0].isdigit() and before.lower() in (*parse.words.marks["the"], *parse.words.marks["our"]):
        parse.note(
            "unreadable-mark", start, end, f"`{before}` comes after the amount.",
            "Write `[200 g of the butter]` for a part of what is there, `[200 g our stock]` for another dish.",
        )  # fmt: skip
    elif rest[0].isdigit() and "NAME" in stuck.expected and _thousands(parse, start, at, end):
        pass
    elif rest[0].isdigit() and "NAME" in stuck.expected:
        stop = at + len(rest.split(maxsplit=1)[0])
        parse.note(
            "unreadable-mark", at, stop, f"A second number, `{parse.text[at:stop]}`, stands where the name should.",
            "Write `[2 x 400 g tins tomatoes]` or `[1 tin (400 g) tomatoes]`.",
        )  # fmt: skip
    else:
        parse.note("unreadable-mark", at, end, f"This mark cannot be read from `{shown(rest)}` on.", _FORM[kind])


def _thousands(parse: Prose, start: int, at: int, end: int) -> bool:
    """`1 200 g flour`: a space that parts thousands, unless a container after it says that it does not."""
    found = _THOUSANDS.match(parse.text, start, end)
    unit = parse.words.unit_of.get(found[3], "") if found else ""
    if found is None or found.start(2) != at or parse.words.kind_of.get(unit) not in ("mass", "volume"):
        return False
    after = re.compile(r"\s*([^\W\d_]+)").match(parse.text, found.end(), end)
    if after and after[1].lower() in parse.words.unit_of:
        return False
    whole, packs = found[1] + found[2], f"{found[1]} x {found[2]}"
    parse.note(
        "bad-number", start, found.end(2), f"`{plain(parse.text[start : found.end(2)])}` may be read as {whole} or as {packs}.",
        f"Write `{whole}` or `{packs}`.", fixes=tuple((one, f"read it as {one}") for one in (whole, packs)),
    )  # fmt: skip
    return True


def _reading(parse: Prose, inner: Token, stuck: Stuck) -> None:
    start, end = inner
    at = stuck.at
    raw = parse.text[start:end]
    rest = parse.text[at:end]
    number = _NUMBER.match(raw)
    if number and not number[2].strip():
        value = number[1]
        units = ("min", "mm") if value.isdigit() and len(value) < 3 else ("°C", "°F", "ml")
        forms = [f"`<{value} {unit}>`" for unit in units]
        parse.note(
            "bad-reading", start, end, f"`{shown(raw)}` has no unit.", f"Write {', '.join(forms[:-1])} or {forms[-1]}.",
        )  # fmt: skip
        return
    word = re.match(r"[^\W\d_]+|[°º˚]", rest)
    if number and word and at + len(word[0]) <= end and "TUNIT" in stuck.expected:
        stop = at + len(word[0])
        if word[0] == "m":
            parse.note(
                "bad-reading", at, stop, "`m` could be minutes or metres.", "Write `min`.", fixes=(("min", "write `min`"),)
            )  # fmt: skip
            return
        if word[0] in "°º˚":
            parse.note(
                "bad-reading", start, end, "Degrees of which kind?", f"Write `<{number[1]} °C>` or `<{number[1]} °F>`."
            )
            return
        near = _near_units(parse, word[0])
        hints = tuple(f"Write `<{number[1]} {unit}>`." for unit in near) or (_FORM["reading"],)
        parse.note(
            "bad-reading", at, stop, f"`{word[0]}` is nothing that a clock, thermometer or ruler shows.", *hints,
            fixes=tuple((unit, f"write `{unit}`") for unit in near),
        )  # fmt: skip
        return
    if not rest.strip():
        parse.note("bad-reading", start, end, f"Something is missing after `{shown(raw)}`.", _FORM["reading"])
    else:
        parse.note("bad-reading", at, end, f"This reading cannot be read from `{shown(rest)}` on.", _FORM["reading"])


def _near_units(parse: Prose, word: str) -> tuple[str, ...]:
    """Up to two units that the word may have meant, as they are written by rule; times first."""
    words = parse.words
    for kinds in (("time",), ("mass", "volume", "length")):
        known = [other for other, key in words.unit_of.items() if words.kind_of[key] in kinds and other.islower()]
        near = nearest(word, [other for other in known if len(other) > 1 or len(word) == 1], most=2)
        if near:
            return tuple(dict.fromkeys(words.unit_of[other] for other in near))
    near = nearest(word, [key for key in words.temperature if len(key) > 1], most=1)
    return tuple(f"°{words.temperature[other]}" for other in near)


def segments(text: str, start: int, end: int) -> list[Token]:
    """The stretches between semicolons that stand outside of gear marks."""
    found: list[Token] = []
    at = start
    depth = 0
    for symbol in re.compile(r"[;{}]").finditer(text, start, end):
        if symbol[0] == ";" and depth <= 0:
            found.append((at, symbol.start()))
            at = symbol.end()
        elif symbol[0] == "{":
            depth += 1
        elif symbol[0] == "}":
            depth -= 1
    found.append((at, end))
    return found


def result(parse: Prose, stretch: Token, stuck: Stuck) -> None:
    """The finding for a result that the grammar refused."""
    start, end = stretch
    at = min(stuck.at, end)
    stop = parse.text.find(",", at, end)
    first, last = parse.trimmed(at, stop if stop >= 0 else end)
    hint = "After the name: how much, `holds 3 d chilled`, `cooled in 90 min`, `back in 25 min in {the oven}` or `discarded`."
    if first >= last:
        parse.note("bad-result", start, end, "Something is missing in this result.", hint)
    else:
        parse.note("bad-result", first, last, f"`{shown(parse.text[first:last])}` says nothing about a result.", hint)


def no_result(parse: Prose, start: int, end: int) -> None:
    """The finding for an arrow, or a semicolon after one, with nothing behind it."""
    if parse.text[start:end] == "->":
        parse.note(
            "bad-result", start, end, "Nothing stands after the arrow.", "Write what the step leaves: `-> crumb`."
        )
        return
    parse.note(
        "bad-result", start, end, "A result is missing before or after a semicolon.",
        "Write a result on either side of it: `-> crumb; dust, discarded`.",
    )  # fmt: skip
