"""Facts: the lines `name: value` under the title, and every line of a kitchen."""

from __future__ import annotations

import re

from recipec.base.finding import Fix
from recipec.base.span import Span
from recipec.base.suggest import nearest
from recipec.syntax import explain
from recipec.syntax.builder import MOST, Token, plain
from recipec.syntax.driver import Stuck
from recipec.syntax.prose import LONGEST, Prose
from recipec.syntax.tree import Fact, FactValue, FileKind, Items, Need, Seat, Text
from recipec.syntax.words import fold

_LINE = re.compile(r"([^\r\n:]*):([^\r\n]*)")
_SEAT = re.compile(r"([^\W\d]+)\s+([0-9]{1,4})")
_SEAT_NUMBER = re.compile(r"\s+[0-9]+\Z")
_FIRST = re.compile(r"[^\s][^\r\n]*")
_NO_COLON = re.compile(r"([^\W\d_]+)[^\S\r\n]+[0-9][0-9–-]*(?:\s+[^\W\d_]+)?\.?\s*")
LONGEST_NAME = 40
"""Characters of a fact's name. A longer one is prose, and looking for its neighbours would take long."""
_STARTS = {
    "number": "count", "yield": "yield_", "keeps": "keeps", "acceptance": "acceptance", "daytime": "daytime",
    "guests": "guests", "hands": "hands", "sum": "sum", "children": "children", "stretch": "stretch",
    "degrees": "tolerance", "stock": "stock", "seat": "seat",
}  # fmt: skip
# Each of these lines adds to those before it; of all others one is right and the cook must say which.
_MANY = frozenset({"accept", "prepare", "keeps", "tags", "on hand"})
_PARTED = re.compile(r"\s*[,;]\s*")


class Facts:
    """Reads the facts of one file, and remembers which it has seen."""

    def __init__(self, parse: Prose, kind: FileKind) -> None:
        self.parse = parse
        self.kind = kind
        self.known = parse.words.facts[kind]
        self.seen: set[str] = set()
        parse.limit = len(parse.findings) + MOST

    def kind_of(self, name: str) -> tuple[str, str, int] | None:
        """The canonical key of a fact's name, the kind of its value, and the seat's number; None when it is unknown."""
        said = fold(name)
        if said in self.known and said != "seat":
            return said, self.known[said], 0
        seat = _SEAT.fullmatch(said)
        if seat and seat[1] in self.known and self.known[seat[1]] == "seat":
            return seat[1], "seat", int(seat[2])
        if self.kind == "kitchen" and said:
            return said, "stock", 0
        return None

    def starts(self, start: int, end: int) -> bool:
        """Whether the line begins the facts: a known name, a colon and a value (rule 1)."""
        found = _LINE.match(self.parse.text, start, end)
        return found is not None and bool(found[2].strip()) and self.kind_of(found[1]) is not None

    def begins(self, start: int, end: int) -> bool:
        """Whether the block from `start` to `end` is one of facts (rule 1): its first line looks like one, or some line is one."""
        text = self.parse.text
        first = _FIRST.match(text, start, end)
        if first is not None and (self._looks_like(*first.span()) or self._without_colon(*first.span())):
            return True
        return any(self.starts(*self.parse.trimmed(*found.span())) for found in _FIRST.finditer(text, start, end))

    def _looks_like(self, start: int, end: int) -> bool:
        """A name near that of a fact, a colon and a value."""
        found = _LINE.match(self.parse.text, start, end)
        return found is not None and bool(found[2].strip()) and bool(self._near(fold(found[1])))

    def _near(self, said: str) -> tuple[str, ...]:
        """The facts that may be meant; one empty name where there is no such fact though many write it."""
        slips = self.parse.words.fact_slips.get(self.kind, {})
        if said in slips:
            return (slips[said],)
        # Two words of a sentence are soon as near to a name as a slip of the hand is.
        return nearest(_SEAT_NUMBER.sub("", said), self.known) if len(said) <= LONGEST_NAME else ()

    def _without_colon(self, start: int, end: int) -> Token | None:
        """The name in `serves 4`, where the colon was left out."""
        found = _NO_COLON.fullmatch(self.parse.text, start, end)
        return found.span(1) if found and fold(found[1]) in self.known else None

    def line(self, start: int, end: int) -> Fact | None:
        """One line's fact; None, with a finding, when its name is unknown."""
        parse = self.parse
        start, end = parse.trimmed(start, end)
        found = _LINE.fullmatch(parse.text, start, end)
        name = self._without_colon(start, end) if found is None else None
        if name is not None:
            said = plain(parse.text[start:end])
            better = f"{said[: name[1] - name[0]]}: {said[name[1] - name[0] :].lstrip().rstrip('.')}"
            parse.note(
                "unknown-fact", start, end, f"A colon is missing in `{said}`.", f"Write `{better}`.",
                fixes=((better, f"write `{better}`"),),
            )  # fmt: skip
            return None
        if found is None:
            slug = "bad-fact" if self.kind == "kitchen" else "unknown-fact"
            parse.note(
                slug, start, end, f"`{explain.shown(parse.text[start:end])}` is no fact.",
                "A fact is a name, a colon and a value: `serves: 4`. A blank line ends the facts."
                if self.kind != "kitchen" else "A kitchen says one thing a line: `oven: 1, 2 shelves, up to 250 °C`.",
            )  # fmt: skip
            return None
        name = parse.trimmed(*found.span(1))
        value = parse.trimmed(*found.span(2))
        known = self.kind_of(found[1])
        if known is None:
            self._unknown(name, start, found.end(1))
            return None
        key, kind, seat = known
        self._repeated(key, seat, name)
        if value[0] == value[1]:
            parse.note(
                "bad-fact",
                start,
                end,
                f"`{plain(parse.text[name[0] : name[1]])}` has no value.",
                f"Write {parse.words.forms[kind]}.",
            )
            made = None
        else:
            made = self._value(kind, seat, name, value)
        return Fact(Span(parse.source, start, end), key, parse.name(name), made)

    def _unknown(self, name: Token, start: int, colon: int) -> None:
        parse = self.parse
        if len(parse.findings) >= parse.limit:
            return
        article = "an" if self.kind == "event" else "a"
        said = fold(parse.text[name[0] : name[1]])
        near = self._near(said)
        hints = (
            ("There is no such fact: times are taken from the readings in the steps, as in `<25 min>`.",)
            if near == ("",)
            else (f"Did you mean {' or '.join(f'`{other}`' for other in near)}?",)
            if near
            else (f"Facts here: {', '.join(self.known)}.",)
        )
        if said in self.known:
            hints = ("Write which seat: `seat 3: allergic to tree nuts`.",)
        first, last = name if name[0] < name[1] else (start, colon + 1)
        parse.note(
            "unknown-fact", first, last, f"`{explain.shown(parse.text[first:last])}` is no fact of {article} {self.kind}.", *hints,
            fixes=tuple((other, f"write `{other}`") for other in near if other not in ("", said)),
        )  # fmt: skip

    def _repeated(self, key: str, seat: int, name: Token) -> None:
        mine = f"{key} {seat}" if seat else key
        if mine in self.seen and (key not in _MANY or self.kind == "kitchen"):
            self.parse.note("repeated-fact", *name, f"`{mine}` is said twice.", "Keep one of them.")
        self.seen.add(mine)

    def _value(self, kind: str, seat: int, name: Token, value: Token) -> FactValue | None:
        parse = self.parse
        span = Span(parse.source, *value)
        if kind == "text":
            return Text(span, plain(span.text))
        if kind == "items":
            return self._items(value)
        # Most books say `serves: 4` and `keeps: 3 d chilled` again and again.
        raw = f"{kind}: {span.text}"
        known = parse.kept.make(raw, parse.source, value[0])
        if known is not None:
            return known  # type: ignore[no-any-return]
        before = len(parse.findings)
        parse.mark = value
        fits = value[1] - value[0] <= LONGEST
        made = parse.run(_STARTS[kind], value) if fits else Stuck(value[0], frozenset())
        if isinstance(made, Stuck):
            if len(parse.findings) == before and not (kind == "daytime" and self._windows(name, value)):
                shown = plain(parse.text[name[0] : name[1]])
                rest = parse.trimmed(made.at, value[1])
                first = rest[0] if rest[0] < rest[1] else value[0]
                parse.note(
                    "bad-fact", first, value[1], f"`{shown}` cannot be read from `{explain.shown(parse.text[first:value[1]])}` on.",
                    f"Write it as {parse.words.forms[kind]}.",
                )  # fmt: skip
            return None
        if kind == "seat":
            needs: list[Need] = made  # type: ignore[assignment]
            return Seat(span, seat, tuple(needs))
        if len(parse.findings) == before:
            parse.kept.met(raw, made, value[0])
        return made  # type: ignore[return-value]

    def _windows(self, name: Token, value: Token) -> bool:
        """`prepare: A, B`: two windows on one line, each of which can be read."""
        parse = self.parse
        said = fold(parse.text[slice(*name)])
        parted = list(_PARTED.finditer(parse.text, *value))
        if said not in _MANY or not 0 < len(parted) < MOST:
            return False
        ends = [value[0], *(at for found in parted for at in found.span()), value[1]]
        halves = list(zip(ends[::2], ends[1::2], strict=True))
        if any(first >= last or isinstance(parse.run("daytime", (first, last)), Stuck) for first, last in halves):
            return False
        again = f"\n{plain(parse.text[slice(*name)])}: "
        parse.note(
            "bad-fact", parted[0].end(), value[1], "One line holds one stretch of time.",
            f"Begin a second line `{again.strip()} …` for it.",
            elsewhere=tuple(Fix(Span(parse.source, *found.span()), again, "begin a second line") for found in parted),
        )  # fmt: skip
        return True

    def _items(self, value: Token) -> Items:
        parse = self.parse
        items = []
        at = value[0]
        for end in [*(found.start() for found in re.compile(",").finditer(parse.text, *value)), value[1]]:
            token = parse.trimmed(at, end)
            if token[0] < token[1]:
                items.append(parse.name(token))
            at = end + 1
        return Items(Span(parse.source, *value), tuple(items))
