"""Labels, the leftovers sheet and the safety log as plain text, 80 columns, with room to write."""

from __future__ import annotations

from collections.abc import Iterable, Iterator

from recipec.emit import labels_words, leftovers_words, safety_log_words
from recipec.emit.card_text import caution_lines
from recipec.emit.labels_words import LabelText, label_texts
from recipec.emit.leftovers_words import LeftText, first_of_all, left_texts
from recipec.emit.plain import page, rule, title_line, wrap
from recipec.emit.safety_log_words import CheckText, log_parts
from recipec.emit.tub_words import TITLES, HeldText, TubHead
from recipec.plan.labels import Label
from recipec.plan.leftovers import Leftover
from recipec.plan.safety_log import Check

_BLANK = "_" * 12
_MARGIN = 14


def labels_text(head: TubHead, labels: Iterable[Label]) -> str:
    """`guests --paper labels`."""
    texts = label_texts(labels, head.rule_set)
    lines = list(_head(head, labels_words.ALSO))
    lines += ["", labels_words.NOTHING] if not texts else []
    for label in texts:
        lines += ["", *_label(label)]
    return page(lines)


def leftovers_text(head: TubHead, left: Iterable[Leftover]) -> str:
    """`guests --paper leftovers`."""
    texts = left_texts(left, head.rule_set)
    lines = [*_head(head), ""]
    for words in first_of_all(head.rule_set):
        lines += wrap(words, "· ")
    lines += ["", leftovers_words.NOTHING] if not texts else []
    for line in texts:
        lines += ["", *_left(line)]
    return page(lines)


def log_text(head: TubHead, checks: Iterable[Check]) -> str:
    """`guests --paper log`."""
    lines = list(_head(head, safety_log_words.ALSO))
    for part in log_parts(checks):
        lines += ["", part.name.upper(), rule()]
        for check in part.lines:
            lines += [*_check(check), ""]
        lines += wrap("; ".join(part.sources))
    return page([*lines, "", "SIGNED", rule(), f"Name {_BLANK}{_BLANK}   Day and time {_BLANK}{_BLANK}"])


def _head(head: TubHead, also: str = "") -> Iterator[str]:
    yield from title_line(f"{TITLES[head.paper]}: {head.title}")
    if head.when:
        yield from wrap(head.when)
    yield rule("═")
    yield from wrap(f"{head.rules} {also}".rstrip())
    yield from caution_lines(head.cautions)


def _label(label: LabelText) -> Iterator[str]:
    yield rule()
    yield from title_line(label.name.upper(), label.much)
    of = ", ".join(words for words in (f"of {label.title}" if label.title else "", label.without) if words)
    if of:
        yield from wrap(of)
    yield from _row("Made", label.made or _BLANK)
    yield from _row("Use by", f"{label.use_by} ({label.why})" if label.use_by else _BLANK)
    yield from _row("Keep", "; ".join(words for words in (label.keep, label.back) if words))
    yield from _held(label.held)
    yield from _row("Initials", _BLANK)


def _left(line: LeftText) -> Iterator[str]:
    yield rule()
    yield from title_line(", ".join(words for words in (line.title.upper(), line.without) if words))
    if line.throw:
        yield from _row("Not kept", line.throw)
    else:
        yield from _row("Use by", f"{line.use_by} ({line.why})" if line.use_by else _BLANK)
        yield from _row("Keep", line.keep)
        if line.again:
            yield from _row("Heat", line.again)
    yield from _held(line.held)


def _held(held: HeldText) -> Iterator[str]:
    if held.contains:
        yield from _row("Contains", held.contains)
    if held.may:
        yield from _row("May contain", held.may)
    if held.unknown:
        yield from _row("Not known", f"{held.unknown}. Read the packets; unknown is never free.")
    if held.none:
        yield from _row("Allergens", held.none)


def _check(check: CheckText) -> Iterator[str]:
    due = f"due {check.due}" if check.due else ""
    yield from title_line(f"{check.what} ({check.of})" if check.of else check.what, due, "[ ] ")
    for limit in check.limits:
        yield from title_line(limit, _BLANK, "      ")
    yield from wrap(f"At {_BLANK}  Done about it {_BLANK}  Initials {_BLANK}", "      ")


def _row(name: str, words: str) -> list[str]:
    return wrap(words, f"  {name:<{_MARGIN}}")
