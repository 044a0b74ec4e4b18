"""What becomes of every food of a dish: what heats it, what a thermometer reads inside it, how long it lies neither cold nor hot.

Heat counts only for what is certainly in the pan: `fry [the shallots]` cooks the shallots, not the raw fish cut before it.
"""

from __future__ import annotations

import re
from collections.abc import Iterator, Mapping
from dataclasses import dataclass, field, replace
from fractions import Fraction
from types import MappingProxyType
from typing import NamedTuple

from recipec.base.span import Span
from recipec.larder.ingredient import Ingredient
from recipec.larder.larder import Larder
from recipec.model.dish import Dish, FoodAt, GearAt, Made, Piece, ReadingAt, Role, Step, Use, Words
from recipec.model.reading import Duration, Reading, Temperature, TemperatureOf
from recipec.plan.action_types import Action
from recipec.plan.actions import work_of
from recipec.plan.kitchen_stock import Stock
from recipec.plan.links import Links
from recipec.plan.rules import Core
from recipec.plan.safety_foods import Kind, kind_of, spoils
from recipec.plan.safety_plants import cooked_spoils

# Verbs that cook what is named right after them, and nothing else that is in hand.
_OWN = frozenset(
    """fry sear brown roast bake boil simmer poach grill steam braise toast soften sweat cook crisp blanch char melt heat warm
    caramelise caramelize barbecue griddle scald scramble""".split()
)
_COOKS = _OWN - {"melt", "warm", "heat"}
_COOKERS = frozenset(
    "bath;slow cooker;rice cooker;pressure cooker;steamer;fryer;grill;barbecue;salamander;waffle iron".split(";")
)
_MOIST = re.compile(r"\b(?:simmer|boil|braise|stew|pot-roast)\w*\b")
_STAYS = frozenset({"hold", "keep"})
_STUFFS = frozenset({"stuff"})
_MINCES = frozenset({"mince", "grind"})
_FOR = re.compile(r"\bfor\s*(?:about\s*)?$")
_HELD = re.compile(r"\b(?:hold|held|keep|kept|stay|stays)\b")
_AT = re.compile(r"\bat\s*(?:about\s*)?$")
_HOT_FOOD = 50
_COOL_VERBS = frozenset({"cool", "chill", "freeze"})
_CAN_BE_MINCED = frozenset({Kind.WHOLE, Kind.MEAT})


class Key(NamedTuple):
    """A food mark of a dish of the book."""

    dish: str
    use: int


class Read(NamedTuple):
    """A reading inside food, and where it stands."""

    core: Core
    span: Span


@dataclass(frozen=True, slots=True)
class Food:
    """A food and what was done to it. `cores` in the order of the text; `hot_s` the seconds over heat in all, `moist_s` those in liquid;
    `bath` is the coolest dial of a bath it was cooked in, °C; `frozen_s` seconds in a freezer; `floured`: cooked with flour; `plant`: a
    plant that spoils once it is cooked."""

    key: Key
    use: Use
    item: Ingredient | None
    kind: Kind
    heated: bool = False
    cores: tuple[Read, ...] = ()
    hot_s: Fraction = Fraction(0)
    moist_s: Fraction = Fraction(0)
    bath: Fraction | None = None
    frozen_s: Fraction = Fraction(0)
    floured: bool = False
    plant: bool = False


class Left(NamedTuple):
    """What an arrow leaves, by the action that ends in it: its foods, and what was in hand then."""

    made: Made
    action: Action
    foods: frozenset[Key]


class Moment(NamedTuple):
    """An action with all foods in hand by then, those of them it is done to, and whether the food is cooked in it."""

    action: Action
    present: frozenset[Key]
    acted: frozenset[Key]
    cooks: bool


@dataclass(frozen=True, slots=True)
class Trace:
    """A dish through all its actions. `foods` holds those of `our` dishes too; `served` are those that are on the plate in the end.
    `keeps` is the whole dish by its fact `keeps:`, where no arrow says how it is held. `hot_since` is the number of the action that first
    cooks a food; -1 where it was cooked in another dish."""

    dish: Dish
    foods: dict[Key, Food]
    moments: tuple[Moment, ...]
    left: tuple[Left, ...]
    served: frozenset[Key]
    keeps: tuple[Left, ...]
    hot_since: Mapping[Key, int]

    def spoils(self, key: Key, number: int) -> bool:
        """Whether a food must be kept cold or hot after action `number`: a vegetable only once it is cooked."""
        food = self.foods[key]
        return spoils(food.use, food.item) or (food.plant and self.hot_since.get(key, number + 1) <= number)

    def own(self) -> Iterator[Food]:
        """Foods bought for this dish itself, in the order of their marks."""
        return (self.foods[key] for key in sorted(self.foods) if key.dish == self.dish.key)


@dataclass(slots=True)
class Tracer:
    """Traces of one book's dishes, each made once."""

    links: Links
    larder: Larder
    _known: dict[str, Trace] = field(default_factory=dict)
    _open: set[str] = field(default_factory=set)

    def trace(self, dish: Dish) -> Trace:
        """The trace of a dish; a circle of dishes ends where it closes."""
        known = self._known.get(dish.key)
        if known is None:
            self._open.add(dish.key)
            known = self._known[dish.key] = _Walk(self, dish).whole()
            self._open.discard(dish.key)
        return known

    def below(self, dish: Dish, use: Use) -> Trace | None:
        """The trace of the dish that a mark means by `our`."""
        meant = self.links.meant(dish, use)
        return None if meant is None or meant.key in self._open else self.trace(meant)


@dataclass(slots=True)
class _Walk:
    tracer: Tracer
    dish: Dish
    foods: dict[Key, Food] = field(default_factory=dict)
    things: dict[str, frozenset[Key]] = field(default_factory=dict)
    out: dict[int, frozenset[Key]] = field(default_factory=dict)
    bath: dict[int, Fraction] = field(default_factory=dict)
    moments: list[Moment] = field(default_factory=list)
    left: list[Left] = field(default_factory=list)
    hot_since: dict[Key, int] = field(default_factory=dict)

    def whole(self) -> Trace:
        """All of it."""
        self._buy()
        actions = work_of(self.dish, Stock(None)).actions
        for action in actions:
            self._act(actions, action)
        discarded = {made.thing for step in self.dish.steps() for made in step.makes if made.discarded}
        kept = [left.foods for left in self.left if left.made.thing not in discarded]
        thrown = frozenset(key for left in self.left if left.made.thing in discarded for key in left.foods)
        last = frozenset() if not actions else self.out.get(actions[-1].number, frozenset())
        on = last.union(*kept) if kept or last else frozenset(self.foods)
        # What no sentence with work in it names is on the plate as it was bought.
        met = frozenset(key for moment in self.moments for key in moment.present)
        served = on | (frozenset(self.foods) - met) | (met - thrown)
        keeps = self._keeps(actions, served)
        return Trace(
            self.dish,
            self.foods,
            tuple(self.moments),
            tuple(self.left),
            served,
            keeps,
            MappingProxyType(self.hot_since),
        )

    def _keeps(self, actions: tuple[Action, ...], served: frozenset[Key]) -> tuple[Left, ...]:
        """The dish as it keeps by its own fact, where its last arrow does not say."""
        if not actions or any(made.hold is not None for made in actions[-1].made):
            return ()
        title = self.dish.title
        return tuple(
            Left(Made(self.dish.title_span, "", title, None, hold, False), actions[-1], served)
            for hold in self.dish.keeps
        )

    def _buy(self) -> None:
        for use in self.dish.uses:
            if use.role is Role.BUY:
                key = Key(self.dish.key, use.number)
                item = None if use.item is None else self.tracer.larder.get(use.item)
                self.foods[key] = Food(key, use, item, kind_of(use, item), plant=cooked_spoils(use, item))
                self.things[use.thing] = self.things.get(use.thing, frozenset()) | {key}
            elif use.role is Role.OUR:
                below = self.tracer.below(self.dish, use)
                if below is not None:
                    self.foods.update({key: below.foods[key] for key in below.served})
                    self.hot_since.update(dict.fromkeys((key for key in below.served if key in below.hot_since), -1))
                    self.things[use.thing] = self.things.get(use.thing, frozenset()) | below.served

    # ------------------------------------------------------------ one action

    def _act(self, actions: tuple[Action, ...], action: Action) -> None:
        carried: frozenset[Key] = frozenset()
        for number in action.after:
            carried |= self._carried(actions[number], action)
        at = {place: self._named(piece) for place, piece in enumerate(action.pieces) if isinstance(piece, FoodAt)}
        named = frozenset(key for keys in at.values() for key in keys)
        present = named | carried
        # A food named after the time is over was not in the pan for it.
        end = next((place for place, piece in enumerate(action.pieces) if _is_time(piece, action)), len(action.pieces))
        early = frozenset(key for place, keys in at.items() if place < end for key in keys)
        own = action.heats_gear or (action.verb in _OWN and action.subject is not None and bool(early))
        acted = early if own else early | carried
        dial = action.heat is not None and action.heat.high > 0
        burner = action.pan is not None or action.over_water or any(self._gear_cooks(mark) for mark in action.marks)
        over_heat = (burner and not action.standing) or dial or action.verb in _COOKS
        cooks = over_heat and not action.heats_gear and not action.plating
        self._set_bath(action)
        floured = cooks and any(_is_flour(self.foods[key].item) for key in acted)
        for key in sorted(acted):
            food = self._done(self.foods[key], action, cooks)
            if cooks:
                self.hot_since.setdefault(key, action.number)
            self.foods[key] = replace(food, floured=food.floured or floured)
        for place, read in reads_in(action):
            into = frozenset(key for where, keys in at.items() if where < place for key in keys)
            for key in sorted(into if own and into else into | carried):
                food = self.foods[key]
                hot = food.heated or read.core.celsius >= _HOT_FOOD
                self.foods[key] = replace(food, cores=(*food.cores, read), heated=hot)
        self.moments.append(Moment(action, present, acted, cooks))
        for made in action.made:
            self.things[made.thing] = self.things.get(made.thing, frozenset()) | present
            self.left.append(Left(made, action, present))
        self.out[action.number] = present

    def _named(self, piece: FoodAt) -> frozenset[Key]:
        found: frozenset[Key] = frozenset()
        for number in (piece.use, piece.plus):
            if number is None or number >= len(self.dish.uses):
                continue
            use = self.dish.uses[number]
            if use.role is Role.BUY:
                found |= {Key(self.dish.key, use.number)}
            else:
                found |= self.things.get(use.thing, frozenset())
        return found

    def _carried(self, before: Action, after: Action) -> frozenset[Key]:
        """What is still in hand: all of it, or what the arrow left of which the next sentence speaks."""
        made = [one for one in before.made if not one.discarded]
        if not before.last or not before.made:
            return self.out.get(before.number, frozenset())
        named = {self.dish.uses[piece.use].thing for piece in after.pieces if isinstance(piece, FoodAt)}
        # Named again it comes in by its name; where nothing of it is named it lies there still.
        return frozenset() if named or not made else self.out.get(before.number, frozenset())

    def _set_bath(self, action: Action) -> None:
        """The dial of the bath that this strand's food lies in: the last that is set by then, else the first that the strand sets."""
        found = [*_dials(action.pieces), *(() if action.strand in self.bath else self._dials_of(action.strand)[:1])]
        if found:
            self.bath[action.strand] = found[0]

    def _dials_of(self, strand: int) -> list[Fraction]:
        steps = [block for block in self.dish.strands[strand].blocks if isinstance(block, Step)]
        return [dial for step in steps for sentence in step.sentences for dial in _dials(sentence.pieces)]

    def _done(self, food: Food, action: Action, cooks: bool) -> Food:
        seconds = Fraction(0) if action.reading is None else seconds_of(action.reading)
        cores = food.cores
        if action.verb in _STAYS and cores and action.reading is not None and not any(reads_in(action)):
            last = cores[-1]
            cores = (*cores[:-1], last._replace(core=last.core._replace(seconds=(last.core.seconds or 0) + seconds)))
        food = replace(food, cores=cores, kind=_changed(food.kind, action))
        if cooks:
            moist = seconds if _MOIST.search(_prose(action)) else Fraction(0)
            food = replace(food, heated=True, hot_s=food.hot_s + seconds, moist_s=food.moist_s + moist)
            if self._in_bath(action):
                dial = self.bath.get(action.strand)
                coolest = dial if food.bath is None or dial is None else min(dial, food.bath)
                food = replace(food, bath=coolest)
        if action.verb == "freeze" or self._gear_ends(action.place, "freezer"):
            food = replace(food, frozen_s=food.frozen_s + seconds)
        return food

    def _in_bath(self, action: Action) -> bool:
        return any(self._gear_ends(mark, "bath") for mark in action.marks)

    def _gear_cooks(self, mark: int) -> bool:
        """Gear that cooks off the hob. A smoker, a hot cupboard or an ice-cream machine does not."""
        words = self.dish.gear[mark].key.split()
        return words[-1] in _COOKERS or " ".join(words[-2:]) in _COOKERS

    def _gear_ends(self, mark: int | None, word: str) -> bool:
        return mark is not None and self.dish.gear[mark].key.split()[-1:] == [word]


def _dials(pieces: tuple[Piece, ...]) -> Iterator[Fraction]:
    for piece in pieces:
        value = piece.reading.value if isinstance(piece, ReadingAt) else None
        if isinstance(value, Temperature) and value.of is TemperatureOf.GEAR:
            yield Core(value.high, value.scale, None).celsius


def _is_flour(item: Ingredient | None) -> bool:
    return item is not None and item.key.split()[-1] in ("flour", "cornmeal", "semolina")


def _changed(kind: Kind, action: Action) -> Kind:
    if kind in (Kind.NONE, Kind.READY, Kind.SMOKED, Kind.CURED):
        return kind
    if action.verb in _STUFFS:
        return Kind.STUFFED
    return Kind.MINCED if action.verb in _MINCES and kind in _CAN_BE_MINCED else kind


def seconds_of(reading: Reading) -> Fraction:
    """The short end of a duration, all its times over; paced ones once: food may lie in the pan for less than the cook thinks."""
    value = reading.value
    return value.low * value.times * (2 if value.per_side else 1) if isinstance(value, Duration) else Fraction(0)


def reads_in(action: Action) -> Iterator[tuple[int, Read]]:
    """The readings inside food that an action gives, each with its place. A time counts as kept there when the text says so
    (`at <60 °C core> for <45 min>`, `and hold it for <3 min>`): in `to <60 °C> for <5 min>` it is the time it takes to get there."""
    for place, piece in enumerate(action.pieces):
        if not isinstance(piece, ReadingAt) or not isinstance(piece.reading.value, Temperature):
            continue
        value = piece.reading.value
        if value.of is not TemperatureOf.FOOD or value.scale not in ("C", "F"):
            continue
        degrees = value.low if value.rises_to is None else max(value.low, value.rises_to)
        yield place, Read(Core(degrees, value.scale, _kept(action, place)), piece.reading.span)


def _kept(action: Action, place: int) -> Fraction | None:
    before = action.pieces[place - 1] if place else None
    words = action.pieces[place + 1] if place + 1 < len(action.pieces) else None
    time = action.pieces[place + 2] if place + 2 < len(action.pieces) else None
    if not isinstance(words, Words) or not isinstance(time, ReadingAt) or not isinstance(time.reading.value, Duration):
        return None
    at = isinstance(before, Words) and _AT.search(before.text) is not None
    return time.reading.value.low if _FOR.search(words.text) and (at or _HELD.search(words.text)) else None


def _is_time(piece: Piece, action: Action) -> bool:
    return isinstance(piece, ReadingAt) and piece.reading is action.reading


def _prose(action: Action) -> str:
    return " ".join(piece.text.lower() for piece in action.pieces if isinstance(piece, Words))


def words_of(action: Action, dish: Dish) -> str:
    """Its text with the names of its gear, in lower case."""
    return " ".join(
        piece.text.lower() if isinstance(piece, Words) else dish.gear[piece.gear].key
        for piece in action.pieces
        if isinstance(piece, Words | GearAt)
    )


def cools(action: Action, dish: Dish) -> bool:
    """Whether it takes the heat out of food: it is cooled, chilled, set in ice, or lies in a fridge."""
    if action.verb in _COOL_VERBS or action.place is not None:
        return True
    return any(
        isinstance(piece, GearAt) and dish.gear[piece.gear].key.split()[-1:] == ["ice"] for piece in action.pieces
    )
