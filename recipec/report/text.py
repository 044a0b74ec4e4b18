"""Findings as text: what is wrong, the line it stands in, and what to write instead.

error used-up  leeks.dish:12:5
  More butter is taken than there is: 650 g of 600 g.

     4  Melt [600 g butter] in {the pan}.
             ~~~~~~~~~~~~~~ 600 g comes in here
    12  Add [650 g of the butter].
            ^^^^^^^^^^^^^^^^^^^^^

  write: [600 g of the butter]
"""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from typing import NamedTuple

from recipec.base.finding import Finding, Fix, Severity
from recipec.base.source import Source
from recipec.base.span import Span
from recipec.report.cells import Cell, cells, cut, shown, width, wrap

COLUMNS = 80
_INDENT = "  "
_MOST_LINES = 4
_CUT = Cell("…", 1)
_FAR = 2_000
"""Characters. What stands farther from a mark in its line is not looked at."""

# ISO 6429 attributes.
_ATTRIBUTES = {
    Severity.DANGER: "1;7;31",
    Severity.ERROR: "1;31",
    Severity.WARNING: "1;33",
    Severity.HINT: "1;36",
}
_SECOND = "36"
_FAINT = "2"


class Mark(NamedTuple):
    """Characters `start` to `end` of one line, underlined with `sign`; `words` stand after the last line's signs."""

    start: int
    end: int
    sign: str
    words: str


class Line(NamedTuple):
    """A line of a source and what is underlined in it."""

    source: Source
    number: int
    marks: tuple[Mark, ...]


class _Paint(NamedTuple):
    colour: bool

    def __call__(self, text: str, attribute: str) -> str:
        return f"\x1b[{attribute}m{text}\x1b[0m" if self.colour and text else text


def render(findings: Iterable[Finding], *, colour: bool = False, columns: int = COLUMNS) -> str:
    """All findings in the order of files and places, a blank line between; '' for none."""
    paint = _Paint(colour)
    blocks = [_block(finding, paint, columns) for finding in sorted(findings, key=lambda one: one.order)]
    return "\n".join(blocks)


def _block(finding: Finding, paint: _Paint, columns: int) -> str:
    attribute = _ATTRIBUTES[finding.severity]
    accepted = " (accepted)" if finding.accepted is not None else ""
    place = finding.span.position
    where = f"{shown(finding.span.source.name)}:{place.line}:{place.column}"
    rows = [paint(f"{finding.severity} {finding.slug}{accepted}", attribute) + f"  {where}"]
    rows += [_INDENT + line for line in wrap(finding.message, columns - 2)]
    excerpt = _excerpt(finding, paint, columns)
    if excerpt:
        rows += ["", *excerpt]
    notes = [_note(hint, columns) for hint in finding.hints]
    # Words tell several offers apart; beside a single one they would only say it again.
    notes += [_offer(fix, columns, told=len(finding.fixes) > 1) for fix in finding.fixes]
    if finding.accepted is not None:
        notes.append(_note(f"Accepted: {finding.accepted}", columns))
    if notes:
        rows += ["", *notes]
    return "\n".join(rows) + "\n"


def _note(text: str, columns: int) -> str:
    return "\n".join(_INDENT + line for line in wrap(text, columns - 2))


def _offer(fix: Fix, columns: int, *, told: bool) -> str:
    room = columns - len(_INDENT) - len("leave out: ")
    written = _written(fix)
    # Where the surroundings are long, what is to be written must still be seen.
    written = cut(written if width(written[: 4 * room]) <= room else fix.replacement, room)
    words = shown(fix.text)
    line = f"{_INDENT}write: {written}" if written else f"{_INDENT}leave out: {cut(fix.span.text, room)}"
    if not told or not words or words == written:
        return line
    beside = f"{line}   ({words})"
    return beside if width(beside) <= columns else f"{line}\n{_note(f'({words})', columns)}"


def _written(fix: Fix) -> str:
    """The replacement with enough around it to be read: the rest of its mark, or of its words."""
    if not fix.replacement.strip() and fix.span.start != fix.span.end:
        return ""
    line = fix.span.source.line_text(fix.span.position.line)
    start = fix.span.position.column - 1
    end = min(len(line), start + fix.span.end - fix.span.start)
    before, after = line[max(0, start - _FAR) : start], line[end : end + _FAR]
    opening = max(before.rfind(sign) for sign in "[{<")
    closing = min((at for sign in "]}>" if (at := after.find(sign)) >= 0), default=-1)
    opened_inside = opening >= 0 and not any(sign in before[opening:] for sign in "]}>")
    if opened_inside and closing >= 0 and not any(sign in after[:closing] for sign in "[{<"):
        return before[opening:] + fix.replacement + after[: closing + 1]
    if opened_inside:
        return before[opening:] + fix.replacement
    head = before[before.rfind(" ") + 1 :]
    tail = after.split(" ", 1)[0] if after and not after[0].isspace() else ""
    return head + fix.replacement + tail


# ---------------------------------------------------------------- the source lines


def _excerpt(finding: Finding, paint: _Paint, columns: int) -> list[str]:
    lines = lines_of(finding)
    if not lines:
        return []
    gutter = max(8, len(str(max(line.number for line in lines))) + 4)
    rows: list[str] = []
    source = finding.span.source
    for line in lines:
        if line.source is not source:
            source = line.source
            rows += ["", f"{_INDENT}in {shown(source.name)}:"]
        rows += _line_rows(line, gutter, paint, _ATTRIBUTES[finding.severity], columns)
    return rows


def lines_of(finding: Finding) -> list[Line]:
    """The lines to show: the finding's own file first, then the others as the labels name them; each in its own order.

    An empty source has no line to show.
    """
    marked: dict[tuple[int, int], tuple[Source, int, list[Mark]]] = {}
    order: list[Source] = []
    labels = [(finding.span, "^", ""), *((label.span, "~", label.text) for label in finding.labels)]
    for span, sign, words in labels:
        if not span.source.text:
            continue
        if not any(known is span.source for known in order):
            order.append(span.source)
        at = next(number for number, known in enumerate(order) if known is span.source)
        for number, mark in _marks(span, sign, words):
            marked.setdefault((at, number), (span.source, number, []))[2].append(mark)
    return [
        Line(source, number, tuple(sorted(marks)))
        for _, (source, number, marks) in sorted(marked.items(), key=lambda item: item[0])
    ]


def _marks(span: Span, sign: str, words: str) -> list[tuple[int, Mark]]:
    first, last = span.position, span.end_position
    if last.line == first.line:
        return [(first.line, Mark(first.column - 1, last.column - 1, sign, words))]
    found: list[tuple[int, Mark]] = []
    for number in range(first.line, last.line + 1):
        text = span.source.line_text(number)
        start = first.column - 1 if number == first.line else len(text) - len(text.lstrip())
        end = last.column - 1 if number == last.line else len(text.rstrip())
        if start < end:
            found.append((number, Mark(start, end, sign, "")))
    if not found:  # only line ends
        return [(first.line, Mark(first.column - 1, first.column - 1, sign, words))]
    if len(found) > _MOST_LINES:
        found = [*found[: _MOST_LINES - 1], found[-1]]
    number, mark = found[-1]
    return [*found[:-1], (number, mark._replace(words=words))]


def _line_rows(line: Line, gutter: int, paint: _Paint, attribute: str, columns: int) -> list[str]:
    text = line.source.line_text(line.number)
    if len(text) <= _FAR:
        return _piece_rows(line.number, text, 0, line.marks, gutter, paint, attribute, columns, more=False)
    # A whole book in one line: only what stands about each mark is looked at.
    rows: list[str] = []
    for mark in line.marks:
        start = max(0, mark.start - columns)
        piece = text[start : mark.start + 4 * columns]
        moved = mark._replace(start=mark.start - start, end=min(mark.end - start, len(piece)))
        more = start + len(piece) < len(text)
        rows += _piece_rows(line.number, piece, start, (moved,), gutter, paint, attribute, columns, more=more)
    return rows


def _piece_rows(
    number: int,
    text: str,
    offset: int,
    all_marks: Sequence[Mark],
    gutter: int,
    paint: _Paint,
    attribute: str,
    columns: int,
    *,
    more: bool,
) -> list[str]:
    """Rows of one stretch of a line, which begins `offset` characters into it; `more` follows."""
    row = cells(text)
    rows: list[str] = []
    for start, end, marks in _windows(row, all_marks, columns - gutter):
        cut_left, cut_right = offset + start > 0, more or end < len(row)
        window = [*([_CUT] if cut_left else []), *row[start:end], *([_CUT] if cut_right else [])]
        rows.append(f"{paint(f'{number:>{gutter - 2}}', _FAINT)}  {''.join(one.glyph for one in window)}".rstrip())
        shift = start - (1 if cut_left else 0)
        for mark in marks:
            rows += _signs(mark, window, shift, gutter, paint, attribute, columns)
    return rows


def _signs(
    mark: Mark, window: Sequence[Cell], shift: int, gutter: int, paint: _Paint, attribute: str, columns: int
) -> list[str]:
    start = max(0, min(mark.start - shift, len(window)))
    end = max(start, min(mark.end - shift, len(window)))
    # A combining mark is underlined with the letter it stands on.
    while 0 < start < len(window) and window[start].width == 0:
        start -= 1
    before = sum(one.width for one in window[:start])
    wide = max(1, sum(one.width for one in window[start:end]))
    signs = paint(mark.sign * wide, attribute if mark.sign == "^" else _SECOND)
    row = " " * (gutter + before) + signs
    if not mark.words:
        return [row]
    words = shown(mark.words)
    if gutter + before + wide + 1 + width(words) <= columns:
        return [f"{row} {words}"]
    indent = min(gutter + before, columns - 40)
    return [row, *(" " * indent + part for part in wrap(mark.words, columns - indent))]


def _windows(row: Sequence[Cell], marks: Sequence[Mark], room: int) -> list[tuple[int, int, tuple[Mark, ...]]]:
    """Stretches of a line to show, as (first character, last + 1, marks in it): the whole line, or pieces about the marks."""
    if sum(one.width for one in row) <= room:
        return [(0, len(row), tuple(marks))]
    room -= 2  # for the signs of a cut
    groups: list[list[Mark]] = []
    for mark in marks:
        first = groups[-1][0].start if groups else 0
        if groups and sum(one.width for one in row[first : max(mark.end, mark.start + 1)]) <= room:
            groups[-1].append(mark)
        else:
            groups.append([mark])
    return [(*_around(row, group[0].start, max(mark.end for mark in group), room), tuple(group)) for group in groups]


def _around(row: Sequence[Cell], start: int, end: int, room: int) -> tuple[int, int]:
    first = min(start, len(row))
    used = 0
    last = first
    while last < min(end, len(row)) and used + row[last].width <= room:
        used += row[last].width
        last += 1
    # What room is left goes a third before, two thirds after; what one side can't use goes to the other.
    free = (room - used) // 3
    for left, limit in ((True, used + free), (False, room), (True, room)):
        while left and first > 0 and used + row[first - 1].width <= limit:
            first -= 1
            used += row[first].width
        while not left and last < len(row) and used + row[last].width <= limit:
            used += row[last].width
            last += 1
    while last < len(row) and row[last].width == 0:
        last += 1
    while first > 0 and row[first].width == 0:
        first += 1
        if first >= last:
            break
    return first, last
