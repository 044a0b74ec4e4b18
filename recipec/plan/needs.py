"""Whether a food goes against what a guest asked for. Unknown is never free.

What a diet shuts out is common practice, not anybody's rule: halal and kosher are for whoever supplies the food to declare, so that here
nothing of an animal is ever called fit for them. What guests who are expecting, or under five, should not eat is not judged here.
"""

from __future__ import annotations

from collections.abc import Iterable
from types import MappingProxyType
from typing import NamedTuple

from recipec.larder.care import Care, care_of
from recipec.larder.ingredient import Ingredient, Presence
from recipec.larder.larder import Larder
from recipec.larder.names import normal_name
from recipec.model.event import Need, NeedKind

# Words of an allergy and the groups of Regulation (EU) 1169/2011 they mean. Wheat is taken for all gluten, the safe way round.
_GROUPS = MappingProxyType(
    {
        "gluten": ("gluten",),
        "wheat": ("gluten",),
        "cereal": ("gluten",),
        "coeliac": ("gluten",),
        "crustacean": ("crustaceans",),
        "shellfish": ("crustaceans", "molluscs"),
        "seafood": ("crustaceans", "molluscs", "fish"),
        "mollusc": ("molluscs",),
        "egg": ("eggs",),
        "fish": ("fish",),
        "peanut": ("peanuts",),
        "groundnut": ("peanuts",),
        "soybean": ("soybeans",),
        "soya": ("soybeans",),
        "soy": ("soybeans",),
        "milk": ("milk",),
        "dairy": ("milk",),
        "lactose": ("milk",),
        "nut": ("nuts",),
        "tree nut": ("nuts",),
        "celery": ("celery",),
        "mustard": ("mustard",),
        "sesame": ("sesame",),
        "sesame seed": ("sesame",),
        "sulphite": ("sulphites",),
        "sulfite": ("sulphites",),
        "lupin": ("lupin",),
    }
)

# What of an animal a diet shuts out, by words of `larder.ingredient.ANIMAL`.
_ANIMALS = MappingProxyType(
    {
        "vegan": frozenset(("meat", "fish", "dairy", "egg", "honey", "other-animal")),
        "vegetarian": frozenset(("meat", "fish", "other-animal")),
        "pescatarian": frozenset(("meat", "other-animal")),
        "meat": frozenset(("meat", "other-animal")),
        "fish": frozenset(("fish",)),
    }
)
_DECLARED = frozenset(("halal", "kosher"))

_PORK = frozenset("pork bacon ham gammon lard pancetta guanciale prosciutto chorizo salami speck lardon".split())
_BEEF = frozenset("beef veal steak brisket oxtail bresaola".split())
_OTHER_MEAT = frozenset(
    "lamb mutton hogget goat chicken duck goose turkey pheasant partridge quail rabbit hare venison".split()
)
_ALCOHOL = frozenset(
    "wine beer ale stout lager cider brandy cognac calvados armagnac rum whisky whiskey bourbon vodka gin port sherry madeira "
    "marsala vermouth champagne prosecco cava sake mirin liqueur kirsch grappa ouzo pastis tequila extract amaretto".split()
)
_NO_ALCOHOL = ("vinegar", "alcohol-free", "non-alcoholic", "dealcoholised", "ginger beer", "root beer")
# Drinks that are none, whatever else is in the department.
_SOFT = frozenset("water juice tea coffee milk lemonade tonic soda cordial cola".split())

_RANK = MappingProxyType(
    {Presence.NOT_IN_RECIPE: 0, Presence.UNKNOWN: 1, Presence.MAY_CONTAIN: 2, Presence.CONTAINS: 3}
)


class Food(NamedTuple):
    """Something to be eaten: its name as written, and what the larder knows of it."""

    name: str
    item: Ingredient | None

    @property
    def key(self) -> str:
        """By what two foods are the same."""
        return normal_name(self.name) if self.item is None else self.item.key


class Harm(NamedTuple):
    """A food that goes against a need, or may: `presence` is never NOT_IN_RECIPE."""

    food: Food
    presence: Presence


def harms(need: Need, foods: Iterable[Food], larder: Larder) -> tuple[Harm, ...]:
    """The foods that go against a need, may do so, or are not known not to; each once, in their order."""
    found: dict[str, Harm] = {}
    for food in foods:
        presence = presence_of(need, food, larder)
        if presence is not Presence.NOT_IN_RECIPE:
            found.setdefault(food.key, Harm(food, presence))
    return tuple(found.values())


def new_harms(need: Need, before: Iterable[Food], after: Iterable[Food], larder: Larder) -> tuple[Harm, ...]:
    """What `after` brings against a need that `before` did not: () where what was there already goes against it for certain."""
    old = harms(need, before, larder)
    if any(harm.presence is Presence.CONTAINS for harm in old):
        return ()
    known = {harm.food.key: harm.presence for harm in old}
    return tuple(
        harm
        for harm in harms(need, after, larder)
        if _RANK[harm.presence] > _RANK[known.get(harm.food.key, Presence.NOT_IN_RECIPE)]
    )


def presence_of(need: Need, food: Food, larder: Larder) -> Presence:
    """What may be said of a food against a need."""
    words = _plain_words(need)
    if need.kind in (NeedKind.DIET, NeedKind.WITHOUT):
        found = _by_diet(words, food)
        if found is not None:
            return found
    if words in _GROUPS:
        return _by_groups(_GROUPS[words], food)
    if need.kind is NeedKind.DIET:
        # A diet nobody here has heard of.
        return Presence.UNKNOWN
    return _by_name(words, food, larder)


def _plain_words(need: Need) -> str:
    """`gluten` of gluten-free, `nut` of no nuts."""
    words = normal_name(need.what)
    for ending in ("-free", " free"):
        words = words.removesuffix(ending)
    return words if need.kind in (NeedKind.ALLERGIC, NeedKind.RATHER_NOT) else words.removeprefix("no ")


def is_allergy(need: Need) -> bool:
    """Whether somebody may be hurt: an allergy, or anything asked for in the words of one (`gluten-free`, `no nuts`), since nobody here
    knows why it is asked for."""
    return need.kind is NeedKind.ALLERGIC or (need.kind is not NeedKind.RATHER_NOT and _plain_words(need) in _GROUPS)


def most(found: Iterable[Presence]) -> Presence:
    """The worst that may be said, by how much it goes against someone."""
    return max(found, key=lambda presence: _RANK[presence], default=Presence.NOT_IN_RECIPE)


def _by_groups(groups: Iterable[str], food: Food) -> Presence:
    item = food.item
    return Presence.UNKNOWN if item is None else most(item.presence(group) for group in groups)


def _by_name(words: str, food: Food, larder: Larder) -> Presence:
    """One food: coriander, hazelnuts. What may be mixed of anything may hold it."""
    item = food.item
    match = larder.find(words)
    key = words if match is None else match.ingredient.key
    parts = set(normal_name(food.name).split(" "))
    if food.key == key or set(words.split(" ")) <= parts or set(key.split(" ")) <= parts:
        return Presence.CONTAINS
    if item is None:
        return Presence.UNKNOWN
    if key in item.named:
        return Presence.CONTAINS
    if match is None and not _known_word(words, larder):
        return Presence.UNKNOWN
    groups = () if match is None else match.ingredient.allergens or ()
    by_group = _by_groups(groups, food)
    if by_group is Presence.CONTAINS:
        # Of the same group, and not this one: a walnut is no hazelnut; where the kind is not said it may be.
        by_group = Presence.NOT_IN_RECIPE if item.named else Presence.MAY_CONTAIN
    mixed = Presence.UNKNOWN if item.allergens is None or item.open else Presence.NOT_IN_RECIPE
    return most((by_group, mixed))


def _known_word(words: str, larder: Larder) -> bool:
    """Whether a word is at least a kind of what the larder has: `onion` of spring onions."""
    return any(words in item.named or words in item.key.split(" ") for item in larder.all())


def _by_diet(words: str, food: Food) -> Presence | None:
    """None where the words name no diet."""
    if words in ("gluten", "dairy", "shellfish", "lactose"):
        return _by_groups(_GROUPS[words], food)
    if words in _ANIMALS:
        return _by_animal(_ANIMALS[words], food)
    if words in _DECLARED:
        animal = _by_animal(frozenset(("meat", "fish", "dairy", "other-animal")), food)
        found = most((animal, _alcohol(food)))
        return Presence.UNKNOWN if found is not Presence.NOT_IN_RECIPE else found
    if words == "pork":
        return _by_meat(_PORK, _BEEF | _OTHER_MEAT, food)
    if words == "beef":
        return _by_meat(_BEEF, _PORK | _OTHER_MEAT, food)
    return _alcohol(food) if words == "alcohol" else None


def _by_animal(shut_out: frozenset[str], food: Food) -> Presence:
    if food.item is None or food.item.animal is None:
        return Presence.UNKNOWN
    return Presence.CONTAINS if shut_out & set(food.item.animal) else Presence.NOT_IN_RECIPE


def _by_meat(these: frozenset[str], others: frozenset[str], food: Food) -> Presence:
    words = _words(food)
    if food.item is None or food.item.animal is None:
        return Presence.CONTAINS if words & these else Presence.UNKNOWN
    if not {"meat", "other-animal"} & set(food.item.animal):
        return Presence.NOT_IN_RECIPE
    if words & these:
        return Presence.CONTAINS
    # A sausage of chicken is one; a gelatine of nobody knows what is not known.
    return Presence.NOT_IN_RECIPE if words & others else Presence.UNKNOWN


def _alcohol(food: Food) -> Presence:
    name = normal_name(food.name if food.item is None else food.item.name)
    if any(word in name for word in _NO_ALCOHOL):
        return Presence.NOT_IN_RECIPE
    if _words(food) & _ALCOHOL or care_of(name) is Care.ALCOHOL:
        return Presence.CONTAINS
    if food.item is None or (food.item.department == "drinks" and not _words(food) & _SOFT):
        return Presence.UNKNOWN
    return Presence.UNKNOWN if food.item.allergens is None else Presence.NOT_IN_RECIPE


def _words(food: Food) -> frozenset[str]:
    names = [food.name] if food.item is None else [food.name, food.item.name, *food.item.aliases]
    return frozenset(word for name in names for word in normal_name(name).split(" "))
