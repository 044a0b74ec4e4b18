"""Words for what is done to a thing: which may stand before its name, and which throw part of it away."""

from __future__ import annotations

from collections.abc import Mapping
from functools import cache
from types import MappingProxyType
from typing import NamedTuple

from recipec.larder.names import folded
from recipec.larder.table_text import rows


class Treatments(NamedTuple):
    """Words that may stand before a name without changing what it is, and the adverbs that go with them.

    `losses` is from every word that loses weight to the one under which its yield is known (`stoned` to `pitted`). `wet` are the
    words after which draining takes away only the water that was put in.
    """

    words: frozenset[str]
    adverbs: frozenset[str]
    losses: Mapping[str, str]
    wet: frozenset[str]

    def take(self, words: tuple[str, ...]) -> tuple[str, ...] | None:
        """`finely chopped toasted` as (`finely chopped`, `toasted`); None when a word is no treatment."""
        found: list[str] = []
        adverb = ""
        for word in words:
            if word == "and" and found and not adverb:
                continue
            if word in self.adverbs:
                adverb = f"{adverb}{word} "
            elif word in self.words or word.replace("-", " ") in self.words:
                found.append(adverb + word)
                adverb = ""
            else:
                return None
        # `freshly ground pepper`: the larder's own name took the word that the adverb goes with.
        return (*found, adverb.strip()) if adverb else tuple(found)


@cache
def treatments() -> Treatments:
    """The table of treatment words."""
    table = list(rows("treatments.tsv"))
    return Treatments(
        frozenset(word for word, kind, _ in table if kind != "adverb"),
        frozenset(word for word, kind, _ in table if kind == "adverb"),
        MappingProxyType({word: under for word, kind, under in table if kind == "loss"}),
        frozenset(word for word, kind, _ in table if kind == "heat") | {"soaked"},
    )


def losses(*done: str) -> frozenset[str]:
    """The losses that the words of treatments name, each once: `topped and tailed`, `stoned` are `trimmed` and `pitted`.

    `not peeled` names none, nor does `boiled and drained`: what runs off there was never weighed.
    """
    table = treatments()
    words = " ".join(folded(treatment).replace(",", " ") for treatment in done).split()
    found = {
        table.losses[word]
        for before, word in zip(("", *words), words, strict=False)
        if word in table.losses and before != "not"
    }
    return frozenset(found - {"drained"} if table.wet.intersection(words) else found)


def loses(*done: str) -> bool:
    """Whether part of what was weighed is thrown away by them, in whatever words: `peeled`, `neatly trimmed`, `cored and sliced`."""
    return bool(losses(*done))
