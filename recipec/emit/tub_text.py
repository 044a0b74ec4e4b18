"""Labels, the leftovers sheet and the safety log as plain text, 80 columns, with room to write."""

from __future__ import annotations

from collections.abc import Iterable, Iterator

from recipec.emit import labels_words, leftovers_words, safety_log_words
from recipec.emit.card_text import caution_lines
from recipec.emit.labels_words import LabelText, label_texts
from recipec.emit.leftovers_words import LeftText, first_of_all, left_texts
from recipec.emit.plain import capital, page, rule, title_line, wrap
from recipec.emit.safety_log_words import CheckText, log_parts
from recipec.emit.tub_words import HeldText, TubHead, paper_title
from recipec.measure.language import Language
from recipec.plan.labels import Label
from recipec.plan.leftovers import Leftover
from recipec.plan.safety_log import Check

_BLANK = "_" * 12
_MARGIN = 14


def labels_text(head: TubHead, labels: Iterable[Label]) -> str:
    """`guests --paper labels`."""
    texts = label_texts(labels, head.rule_set, head.tongue)
    lines = list(_head(head, labels_words.also(head.tongue)))
    lines += ["", labels_words.nothing(head.tongue)] if not texts else []
    for label in texts:
        lines += ["", *_label(label, head.tongue)]
    return page(lines)


def leftovers_text(head: TubHead, left: Iterable[Leftover]) -> str:
    """`guests --paper leftovers`."""
    texts = left_texts(left, head.rule_set, head.tongue)
    lines = [*_head(head), ""]
    for words in first_of_all(head.rule_set, head.tongue):
        lines += wrap(words, "· ")
    lines += ["", leftovers_words.nothing(head.tongue)] if not texts else []
    for line in texts:
        lines += ["", *_left(line, head.tongue)]
    return page(lines)


def log_text(head: TubHead, checks: Iterable[Check]) -> str:
    """`guests --paper log`."""
    lines = list(_head(head, safety_log_words.also(head.tongue)))
    for part in log_parts(checks, head.tongue):
        lines += ["", part.name.upper(), rule()]
        for check in part.lines:
            lines += [*_check(check, head.tongue), ""]
        lines += wrap("; ".join(part.sources))
    say, blank = head.tongue.say, _BLANK + _BLANK
    return page([*lines, "", say("Signed").upper(), rule(), f"{say('Name')} {blank}   {say('Day and time')} {blank}"])


def _head(head: TubHead, also: str = "") -> Iterator[str]:
    yield from title_line(
        head.tongue.say("%(paper)s: %(event)s", paper=paper_title(head.paper, head.tongue), event=head.title)
    )
    if head.when:
        yield from wrap(head.when)
    yield rule("═")
    yield from wrap(f"{head.rules} {also}".rstrip())
    yield from caution_lines(head.cautions, head.tongue)


def _label(label: LabelText, tongue: Language) -> Iterator[str]:
    say = tongue.say
    yield rule()
    yield from title_line(label.name.upper(), label.much)
    of = ", ".join(
        words for words in (say("of %(dish)s", dish=label.title) if label.title else "", label.without) if words
    )
    if of:
        yield from wrap(of)
    yield from _row(say("Made"), label.made or _BLANK)
    yield from _row(say("Use by"), f"{label.use_by} ({label.why})" if label.use_by else _BLANK)
    yield from _row(say("Keep"), "; ".join(words for words in (label.keep, label.back) if words))
    yield from _held(label.held, tongue)
    yield from _row(say("Initials"), _BLANK)


def _left(line: LeftText, tongue: Language) -> Iterator[str]:
    say = tongue.say
    yield rule()
    yield from title_line(", ".join(words for words in (line.title.upper(), line.without) if words))
    if line.throw:
        yield from _row(say("Not kept"), line.throw)
    else:
        yield from _row(say("Use by"), f"{line.use_by} ({line.why})" if line.use_by else _BLANK)
        yield from _row(say("Keep"), line.keep)
        if line.again:
            yield from _row(say("Heat"), line.again)
    yield from _held(line.held, tongue)


def _held(held: HeldText, tongue: Language) -> Iterator[str]:
    say = tongue.say
    if held.contains:
        yield from _row(capital(say("contains", context="presence")), held.contains)
    if held.may:
        yield from _row(capital(say("may contain", context="presence")), held.may)
    if held.unknown:
        yield from _row(say("Not known"), f"{held.unknown}. {say('Read the packets; unknown is never free.')}")
    if held.none:
        yield from _row(say("Allergens"), held.none)


def _check(check: CheckText, tongue: Language) -> Iterator[str]:
    say = tongue.say
    due = say("due %(time)s", time=check.due) if check.due else ""
    yield from title_line(f"{check.what} ({check.of})" if check.of else check.what, due, "[ ] ")
    for limit in check.limits:
        yield from title_line(limit, _BLANK, "      ")
    blanks = (say("At", context="time"), say("Done about it"), say("Initials"))
    yield from wrap("  ".join(f"{words} {_BLANK}" for words in blanks), "      ")


def _row(name: str, words: str) -> list[str]:
    return wrap(words, f"  {name + ' ':<{_MARGIN}}")
