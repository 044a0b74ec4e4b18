"""Free-from plates first and on clean kit: what is washed, what waits, and what can't be kept apart (`shared-kit`)."""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from dataclasses import dataclass, field

from recipec.base.span import Span
from recipec.model.dish import FoodAt, Role
from recipec.plan.action_types import Held
from recipec.plan.clean_kit import Booking, Guard, guards_of, lasting
from recipec.plan.demand import Run
from recipec.plan.draft import Draft, Taken
from recipec.plan.run_tasks import DishTasks
from recipec.plan.timeline_types import Link, PoolKind, Trouble, Why
from recipec.plan.timeline_types import Work as Kind
from recipec.plan.versions import touched_by

# What is cooked so leaves something of itself in the oil or the water. Common practice.
_IN_FAT_OR_WATER = frozenset(("fry", "deep-fry", "shallow-fry", "boil", "blanch", "poach", "simmer", "cook", "brown"))
_SHOWN = "so it may be on what must be free of it"


def keep_apart(booking: Booking, draft: Draft, dishes: Mapping[str, DishTasks]) -> tuple[Trouble, ...]:
    """Marks in `draft` what is washed, links what comes first, and tells what stays shared. To be called when all tasks are there and
    the gear is not settled yet."""
    ahead = tuple(course is None for course in booking.courses)
    return _KitOrder(draft, booking.runs, dishes, booking.wanted_at(), ahead).keep_apart(guards_of(booking))


@dataclass(slots=True)
class _KitOrder:
    """For one booking. `at` is for every run the course it is first wanted for; `made_ahead` whether only other dishes use it."""

    draft: Draft
    runs: tuple[Run, ...]
    dishes: Mapping[str, DishTasks]
    at: tuple[int, ...]
    made_ahead: tuple[bool, ...]
    _touched: dict[tuple[int, frozenset[int]], frozenset[int]] = field(default_factory=dict)

    def keep_apart(self, guards: tuple[Guard, ...]) -> tuple[Trouble, ...]:
        """Marks what is washed, links what comes first, and tells what stays shared; each of it once, allergies first."""
        found: dict[tuple[str, int, int], Trouble] = {}
        for guard in guards:
            bears = dict(guard.bears)
            self._plates_first(guard, bears)
            for trouble in (*self._gear(guard, bears), *self._same_pot(guard, bears)):
                found.setdefault((trouble.span.source.name, trouble.span.start, trouble.span.end), trouble)
        return tuple(found.values())

    # ------------------------------------------------------------ plating

    def _plates_first(self, guard: Guard, bears: Mapping[int, frozenset[int]]) -> None:
        """A version's plates are set before those of the same dish that hold what it must not."""
        for run in sorted(guard.runs):
            if not self.runs[run].without:
                continue
            for other in sorted(bears):
                if self.runs[other].dish.key == self.runs[run].dish.key and self.at[other] == self.at[run]:
                    for first in self._plates(run):
                        for second in self._plates(other):
                            self._before(first, second)

    def _plates(self, run: int) -> list[int]:
        return [place for place, task in enumerate(self.draft.tasks) if task.run == run and task.work is Kind.PLATE]

    # ------------------------------------------------------------ gear

    def _gear(self, guard: Guard, bears: Mapping[int, frozenset[int]]) -> Iterator[Trouble]:
        own = [taken for taken in self.draft.taken if set(taken.party) & guard.runs]
        pools = {taken.pool for taken in own}
        for place, taken in enumerate(self.draft.taken):
            if taken.pool not in pools or not self._is_in(taken, bears):
                continue
            pool = self.draft.pools[taken.pool]
            if lasting(pool.key):
                for clean in own:
                    if clean.pool != taken.pool or clean is taken:
                        continue
                    if not self._comes_first(clean, taken, bears):
                        yield self._shared(guard, taken, clean)
            elif guard.hurts and pool.kind is PoolKind.GEAR and self.draft.is_washed(taken.pool):
                self.draft.dirty.add(place)

    def _is_in(self, taken: Taken, bears: Mapping[int, frozenset[int]]) -> bool:
        """Whether something of it is in that piece of gear."""
        return any(run in bears and bool(self._touched_in(run, bears[run]) & set(taken.doing)) for run in taken.party)

    def _touched_in(self, run: int, uses: frozenset[int]) -> frozenset[int]:
        known = self._touched.get((run, uses))
        if known is None:
            made = self.dishes[self.runs[run].dish.key]
            known = self._touched[run, uses] = touched_by(made.dish, made.work, uses)
        return known

    def _comes_first(self, clean: Taken, taken: Taken, bears: Mapping[int, frozenset[int]]) -> bool:
        """Puts the one before the first work that brings it into the other, where that can be."""
        # What is served later is cooked later; a part of other dishes is made when there is time.
        ahead = any(self.made_ahead[run] for run in clean.party)
        if not ahead and max(self.at[run] for run in clean.party) > max(self.at[run] for run in taken.party):
            return False
        into = [
            task
            for run in taken.party
            if run in bears
            for action in sorted(self._touched_in(run, bears[run]) & set(taken.doing))
            for task in self.dishes[self.runs[run].dish.key].tasks(action, run)
        ]
        return all(self._before(clean.last, task) for task in dict.fromkeys(into))

    def _shared(self, guard: Guard, taken: Taken, clean: Taken) -> Trouble:
        name = self.draft.pools[taken.pool].name
        other, dish = self._title(taken.run), self._title(clean.run)
        return Trouble(
            _slug(guard),
            self._mark(clean),
            f"{_upper(guard.words)}, and {dish} uses the {name} after {other}, with no washing between: "
            f"what {other} leaves there gets into it.",
            (
                f"Use another {name}, or fresh oil in a clean pan, for {dish}, and write that gear into the dish.",
                "Or serve something else that is not cooked there.",
            ),
        )

    def _mark(self, taken: Taken) -> Span:
        dish = self.runs[taken.run].dish
        return next((gear.span for gear in dish.gear if gear.name == taken.what), dish.title_span)

    def _title(self, run: int) -> str:
        one = self.runs[run]
        return one.dish.title + (f" without {' or '.join(one.without)}" if one.without else "")

    # ------------------------------------------------------------ one pot

    def _same_pot(self, guard: Guard, bears: Mapping[int, frozenset[int]]) -> Iterator[Trouble]:
        """Within a dish: what is left out goes into the oil or the water, and then what is not left out."""
        for run in sorted(guard.runs):
            one = self.runs[run]
            if not one.without or not one.left.touched:
                continue
            made = self.dishes[one.dish.key]
            others = [other for other in bears if self.runs[other].dish.key == one.dish.key]
            for held in made.work.held:
                if any(self._after_it(made, held, run, other) for other in others):
                    gear = made.dish.gear[held.mark]
                    left = " and ".join(one.without)
                    yield Trouble(
                        _slug(guard),
                        gear.span,
                        f"{_upper(guard.words)}, and in {one.dish.title} the {left} and then the rest go into the same {gear.name}, "
                        f"{_SHOWN}.",
                        (
                            f"Cook the {left} last, or in a pan of its own with oil or water of its own.",
                            "Or serve those plates something else.",
                        ),
                    )

    def _after_it(self, made: DishTasks, held: Held, run: int, other: int) -> bool:
        """Whether they begin in one pot, it goes in, and then something else does."""
        left = self.runs[run].left
        actions = [
            action
            for action in made.work.actions[held.first : held.last + 1]
            if action.strand == made.work.actions[held.first].strand
        ]
        together = in_it = False
        for action in actions:
            foods = [made.dish.uses[piece.use] for piece in action.pieces if isinstance(piece, FoodAt)]
            if any(run in party and other in party for party in made.parties(action.number)):
                together = True
            elif together and action.verb in _IN_FAT_OR_WATER:
                brought = [use for use in foods if use.role is not Role.HANDLE]
                if brought and all(use.number in left.gone for use in brought):
                    in_it = True
                elif in_it and any(use.number not in left.gone for use in brought):
                    return True
        return False

    # ------------------------------------------------------------ order

    def _before(self, first: int, second: int) -> bool:
        """Links two tasks; False where the second is before the first already."""
        if first == second or self._leads(second, first):
            return False
        if not self._leads(first, second):
            self.draft.link(Link(first, second, why=Why.ORDER))
        return True

    def _leads(self, start: int, end: int) -> bool:
        after: dict[int, list[int]] = {}
        for link in self.draft.links:
            after.setdefault(link.before, []).append(link.after)
        todo, seen = [start], {start}
        while todo:
            for following in after.get(todo.pop(), ()):
                if following == end:
                    return True
                if following not in seen:
                    seen.add(following)
                    todo.append(following)
        return False


def _slug(guard: Guard) -> str:
    return "shared-kit" if guard.hurts else "same-kit"


def _upper(words: str) -> str:
    return words[:1].upper() + words[1:]
