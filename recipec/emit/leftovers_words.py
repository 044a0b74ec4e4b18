"""The leftovers sheet in words: for whoever finds the box in the fridge tomorrow."""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass

from recipec.emit.tub_words import HeldText, held_text, use_by_text, without_text
from recipec.measure.show import show_duration, show_temperature
from recipec.plan.leftovers import Leftover
from recipec.plan.paper_limits import paper_limit
from recipec.plan.rules import limit

NOTHING = "This booking serves no dish of the book."


@dataclass(frozen=True, slots=True)
class LeftText:
    """A line, worded. `throw` is set where nothing of it is kept, and then nothing else is said of keeping."""

    title: str
    without: str
    throw: str
    use_by: str
    why: str
    keep: str
    again: str
    held: HeldText


def left_texts(left: Iterable[Leftover], rules: str) -> tuple[LeftText, ...]:
    """Every line, worded."""
    return tuple(_line(line, rules) for line in left)


def first_of_all(rules: str) -> tuple[str, ...]:
    """What holds for everything, before any dish."""
    hot, cold, cool, keep = (
        paper_limit(rules, "out hot"),
        paper_limit(rules, "out cold"),
        limit(rules, "cool whole"),
        limit(rules, "hold cold"),
    )
    said: list[str] = []
    for served, known in (("hot", hot), ("cold", cold)):
        if known is not None and known.seconds is not None:
            said.append(
                f"What was served {served} and stood out for more than {show_duration(known.seconds)} is thrown away: "
                f"{known.source}."
            )
    if cool is not None and cool.seconds is not None and keep is not None and keep.celsius is not None:
        said.append(
            f"The rest is cooled within {show_duration(cool.seconds)}, spread out shallow, and kept covered at "
            f"{show_temperature(keep.celsius)} or colder: {cool.source}; {keep.source}."
        )
    said.append("What came back on guests' plates is thrown away. Days count only for what was put away in time.")
    return tuple(said)


def _line(line: Leftover, rules: str) -> LeftText:
    return LeftText(
        title=line.title,
        without=without_text(line.without),
        throw=line.throw,
        use_by="" if line.use_by is None else use_by_text(line.use_by),
        why="" if line.use_by is None else line.use_by.why,
        keep="in the freezer, if it never thawed; what has thawed is not frozen again"
        if line.frozen
        else "in the fridge, covered",
        again=_again(line, rules),
        held=held_text(line.held, line.open),
    )


def _again(line: Leftover, rules: str) -> str:
    if line.heated:
        return "not again: it, or something in it, was heated again before it was served"
    known, reheat = paper_limit(rules, "leftovers reheat"), limit(rules, "reheat")
    celsius = known.celsius if known is not None else None if reheat is None else reheat.celsius
    source = known.source if known is not None else "" if reheat is None else reheat.source
    if celsius is None:
        return ""
    return f"if it is eaten hot: right through to {show_temperature(celsius)} in the middle, once only ({source})"
