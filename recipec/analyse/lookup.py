"""What a name with `the` means: looked up among what stands above, and what to say when nothing there has it."""

from __future__ import annotations

from recipec.analyse.context import Notes
from recipec.analyse.marks import FoodMark
from recipec.analyse.names import Account, Namespace, identify
from recipec.base.finding import Fix, Label
from recipec.larder.larder import Larder
from recipec.larder.names import normal_name
from recipec.syntax import tree


def look_up(name: tree.Name, mark: FoodMark, space: Namespace, larder: Larder, notes: Notes) -> Account | None:
    """The thing above that a name with `the` means, or None after saying why there is none."""
    offset, strand = mark.food.span.start, mark.place.strand
    known = identify(name.text, None, larder)
    names: tuple[str, ...] = (normal_name(name.text), known.key)
    if known.before and known.ingredient is not None:
        words = name.text.split()
        names += (normal_name(" ".join(words[len(" ".join(known.before).split()) :])),)
    found = space.find(tuple(dict.fromkeys(names)), offset, strand)
    if len(found) == 1:
        return found[0]
    if found:
        notes.add(
            "ambiguous-name",
            name.span,
            f"`the {name.text}` could be {_either(found)}.",
            "Write the name in full.",
            labels=tuple(Label(account.origin, f"{account.name}: here") for account in found),
        )
        return found[-1]
    below = space.below(names[0], offset)
    near = space.near(names[0], offset, strand)
    labels = () if below is None else (Label(below.origin, "it only comes here, further down"),)
    hints = [f"Did you mean `the {other.name}`?" for other in near[:1]]
    for other in near[:1]:
        # A slip in the name is one mistake: what was meant does not count as never used as well.
        other.meant = True
    if below is None:
        hints.append(f"If it comes from the shelf, write it without `the`, with its amount: [{name.text}].")
    notes.add(
        "not-introduced",
        name.span,
        f"Nothing above is called `{name.text}`.",
        *hints,
        labels=labels,
        fixes=tuple(Fix(name.span, other.name, f"write `{other.name}`") for other in near[:1]),
    )
    return None


def _either(accounts: list[Account]) -> str:
    names = [f"`{account.name}`" for account in accounts]
    return f"{', '.join(names[:-1])} or {names[-1]}"
