"""Labels for tubs in words: what, made, used by, how it is kept, and what is in it."""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass

from recipec.emit.tub_words import HeldText, held_text, use_by_text, without_text
from recipec.emit.when import moment_text
from recipec.measure.show import show_temperature
from recipec.model.reading import State
from recipec.plan.labels import Label
from recipec.plan.paper_limits import paper_limit
from recipec.plan.rules import limit

ALSO = "Days and times are the plan's: where the day went otherwise, cross them out and write what was."
NOTHING = "Nothing of this booking is made ahead and kept."


@dataclass(frozen=True, slots=True)
class LabelText:
    """A label, worded; `made` and `use_by` are '' where they are written in by hand."""

    name: str
    title: str
    without: str
    much: str
    made: str
    use_by: str
    why: str
    keep: str
    back: str
    held: HeldText


def label_texts(labels: Iterable[Label], rules: str) -> tuple[LabelText, ...]:
    """Every label, worded."""
    return tuple(_label(label, rules) for label in labels)


def _label(label: Label, rules: str) -> LabelText:
    return LabelText(
        name=label.name,
        title="" if label.title.casefold() == label.name.casefold() else label.title,
        without=without_text(label.without),
        much=label.much,
        made="" if label.made is None else moment_text(label.made),
        use_by="" if label.use_by is None else use_by_text(label.use_by),
        why="" if label.use_by is None else label.use_by.why,
        keep=f"{label.keep}{_at(label.state, rules)}",
        back=f"{label.back}, once only" if label.back else "",
        held=held_text(label.held, label.open),
    )


def _at(state: State, rules: str) -> str:
    """At what temperature it is kept."""
    if state is State.CHILLED:
        cold = limit(rules, "hold cold")
        return "" if cold is None or cold.celsius is None else f", at {show_temperature(cold.celsius)} or colder"
    if state is State.FROZEN:
        frozen = paper_limit(rules, "freezer")
        return "" if frozen is None or frozen.celsius is None else f", at {show_temperature(frozen.celsius)} or colder"
    return ""
