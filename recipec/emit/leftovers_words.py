"""The leftovers sheet in words: for whoever finds the box in the fridge tomorrow."""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass

from recipec.emit.tub_words import HeldText, held_text, use_by_text, without_text
from recipec.measure.language import ENGLISH, Language
from recipec.measure.show import show_duration, show_temperature
from recipec.plan.leftovers import Leftover
from recipec.plan.paper_limits import paper_limit
from recipec.plan.rules import limit


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


def nothing(tongue: Language) -> str:
    """Instead of lines, where there are none."""
    return tongue.say("This booking serves no dish of the book.")


def left_texts(left: Iterable[Leftover], rules: str, tongue: Language = ENGLISH) -> tuple[LeftText, ...]:
    """Every line, worded."""
    return tuple(_line(line, rules, tongue) for line in left)


def first_of_all(rules: str, tongue: Language = ENGLISH) -> tuple[str, ...]:
    """What holds for everything, before any dish."""
    say = tongue.say
    hot, cold, cool, keep = (
        paper_limit(rules, "out hot"),
        paper_limit(rules, "out cold"),
        limit(rules, "cool whole"),
        limit(rules, "hold cold"),
    )
    said: list[str] = []
    if hot is not None and hot.seconds is not None:
        said.append(
            say(
                "What was served hot and stood out for more than %(time)s is thrown away: %(source)s.",
                time=show_duration(hot.seconds, None, tongue),
                source=hot.source,
            )
        )
    if cold is not None and cold.seconds is not None:
        said.append(
            say(
                "What was served cold and stood out for more than %(time)s is thrown away: %(source)s.",
                time=show_duration(cold.seconds, None, tongue),
                source=cold.source,
            )
        )
    if cool is not None and cool.seconds is not None and keep is not None and keep.celsius is not None:
        said.append(
            say(
                "The rest is cooled within %(time)s, spread out shallow, and kept covered at %(degrees)s or colder: %(source)s.",
                time=show_duration(cool.seconds, None, tongue),
                degrees=show_temperature(keep.celsius, tongue=tongue),
                source=f"{cool.source}; {keep.source}",
            )
        )
    said.append(say("What came back on guests' plates is thrown away. Days count only for what was put away in time."))
    return tuple(said)


def _line(line: Leftover, rules: str, tongue: Language) -> LeftText:
    return LeftText(
        title=line.title,
        without=without_text(line.without, tongue),
        throw=line.throw,
        use_by="" if line.use_by is None else use_by_text(line.use_by, tongue),
        why="" if line.use_by is None else line.use_by.why,
        keep=tongue.say("in the freezer, if it never thawed; what has thawed is not frozen again")
        if line.frozen
        else tongue.say("in the fridge, covered"),
        again=_again(line, rules, tongue),
        held=held_text(line.held, line.open, tongue),
    )


def _again(line: Leftover, rules: str, tongue: Language) -> str:
    if line.heated:
        return tongue.say("not again: it, or something in it, was heated again before it was served")
    known, reheat = paper_limit(rules, "leftovers reheat"), limit(rules, "reheat")
    celsius = known.celsius if known is not None else None if reheat is None else reheat.celsius
    source = known.source if known is not None else "" if reheat is None else reheat.source
    if celsius is None:
        return ""
    return tongue.say(
        "if it is eaten hot: right through to %(degrees)s in the middle, once only (%(source)s)",
        degrees=show_temperature(celsius, tongue=tongue),
        source=source,
    )
