"""The tasks of one dish: its actions for the plates of a booking, batch by batch, with what must wait for what."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass, field, replace
from fractions import Fraction
from itertools import pairwise

from recipec.larder.larder import Larder
from recipec.measure.show import Style
from recipec.model.dish import Dish, FoodAt, Role, Use
from recipec.model.reading import Duration
from recipec.plan.action_types import Action, Held, Work
from recipec.plan.actions import work_of
from recipec.plan.demand import Run
from recipec.plan.draft import Draft, Taken
from recipec.plan.lengths import Takes, batches_of, length_of, touches_of
from recipec.plan.links import Links
from recipec.plan.oven_needs import oven_need
from recipec.plan.pieces import pieces_wanted
from recipec.plan.scale import Scaled
from recipec.plan.space import boxed, room_for
from recipec.plan.task_words import text_of, thing_of, what_of
from recipec.plan.timeline_types import Attend, GearNeed, Link, Task, Why
from recipec.plan.timeline_types import Work as Kind
from recipec.plan.unloading import stays_in, taken_out_by, with_unloading
from recipec.plan.versions import Shared, left_out, shared_by
from recipec.plan.waiting import Wait, used_of, wait_within
from recipec.plan.wording import Desk
from recipec.plan.work_figures import seconds


@dataclass(frozen=True, slots=True)
class Table:
    """What all dishes of one problem are made with."""

    draft: Draft
    larder: Larder
    style: Style
    links: Links


@dataclass(slots=True)
class DishTasks:
    """All runs of one dish. `runs` are their places in `Problem.runs`, and what each makes."""

    table: Table
    dish: Dish
    runs: tuple[tuple[int, Run], ...]
    work: Work = field(init=False)
    shared: Shared = field(init=False)
    lanes: dict[tuple[int, int], tuple[int, ...]] = field(default_factory=dict)

    def __post_init__(self) -> None:
        self.work = work_of(self.dish, self.table.draft.stock)
        self.shared = shared_by(self.dish, self.work, self.runs)
        for action in self.work.actions:
            for party in self.shared[action.number]:
                self._action(action, party)
        for held in self.work.held:
            self._hold_gear(held)
        self._unload()
        self._order()

    def tasks(self, action: int, run: int) -> tuple[int, ...]:
        """Task ids of an action in a run, a batch each; () where the run does not do it."""
        return self.lanes.get((action, run), ())

    def desk(self, party: tuple[int, ...]) -> Desk:
        """For wording and measuring what these runs make together."""
        runs = [run for number, run in self.runs if number in party]
        plates = [run.plates for run in runs]
        whole = (
            None if any(one is None for one in plates) else sum((one for one in plates if one is not None), Fraction(0))
        )
        scaled = Scaled(self.dish, sum((run.factor for run in runs), Fraction(0)), whole)
        return Desk(scaled, self.table.larder, self.table.style)

    def parties(self, action: int) -> tuple[tuple[int, ...], ...]:
        """The groups of runs that do an action together."""
        return self.shared[action]

    # ------------------------------------------------------------ tasks

    def _action(self, action: Action, party: tuple[int, ...]) -> None:
        draft, desk = self.table.draft, self.desk(party)
        long, assumed = length_of(action, desk, self._handled(action))
        number, recovers, mark = self._batches(action, desk, party)
        each = seconds("touch")
        touches, word = touches_of(action.reading, long, each)
        if action.attend is Attend.ALONE:
            if long > seconds("touched to the minute"):
                # A cure turned at night is turned in the evening or the morning: the words say when, the plan does not.
                touches = ()
            # Somebody puts it there.
            touches = (0, *touches)
        needs = tuple(self._places(action, desk))
        served = any(run.served_plates is not None or run.served for one, run in self.runs if one in party)
        alone = next((run for one, run in self.runs if (one,) == party), None)
        out = frozenset[int]() if alone is None else left_out(alone)
        free = desk.tongue.either(alone.without) if alone is not None and out else ""
        text = text_of(action, desk, self.table.links, out, free if action.plating else "")
        if not action.plating:
            text = self._divided(action, party, free) + text
        need = oven_need(action.heat, self.dish, draft)
        if need is not None and number > 1 and action.heat is not None and mark == action.heat.mark:
            need = need._replace(shelves=draft.pools[need.pool].shelves)
        ids = []
        for batch in range(1, number + 1):
            task = Task(
                run=party[0],
                work=Kind.PLATE if action.plating and served else Kind.COOK,
                attend=action.attend,
                seconds=long,
                text=text,
                what=what_of(action, self.dish, desk.tongue),
                span=action.span,
                step=action.step,
                strand=self.dish.strands[action.strand].heading,
                verb=action.verb,
                thing=thing_of(action, self.dish),
                gear=needs,
                oven=need,
                batch=(batch, number) if number > 1 else None,
                touches=touches,
                touch_s=each,
                touch=word,
                assumed=assumed,
            )
            ids.append(draft.add(task))
        for run in party:
            self.lanes[action.number, run] = tuple(ids)
        if number > 1 and mark is not None:
            self._chain(ids, recovers, mark)

    def _unload(self) -> None:
        """Hands for taking out of an oven what nobody stands by."""
        draft = self.table.draft
        for action in self.work.actions:
            if action.heat is None or stays_in(action, self.work, self.dish):
                continue
            for party in self.shared[action.number]:
                if self._taken_out(action, party) is None:
                    for task in self.tasks(action.number, party[0]):
                        draft.tasks[task] = with_unloading(draft.tasks[task])

    def _taken_out(self, before: Action, party: tuple[int, ...]) -> Action | None:
        """The action that takes it out of the oven itself, where it does so for each batch and for all of these runs."""
        after = taken_out_by(before, self.work, self.dish)
        if after is None or party not in self.shared[after.number]:
            return None
        alike = len(self.tasks(before.number, party[0])) == len(self.tasks(after.number, party[0]))
        return after if alike else None

    def _divided(self, action: Action, party: tuple[int, ...], free: str) -> str:
        """Words for where one pot becomes several: what is to be free of something leaves it before that goes in. Common practice."""
        before = {run for other in action.after for one in self.parties(other) if set(party) <= set(one) for run in one}
        parted = sorted(before - set(party))
        if not parted:
            return ""
        tongue = self.table.draft.tongue
        if free:
            words = tongue.say(
                "Take out what is for the plates without %(foods)s with a clean spoon, into clean gear.", foods=free
            )
            return f"{words} "
        others = [run for number, run in self.runs if number in parted and left_out(run)]
        names = dict.fromkeys(tongue.say("without %(food)s", food=tongue.either(run.without)) for run in others)
        if not names:
            return ""
        return (
            tongue.say("First take out what is for the plates %(names)s.", names=tongue.say(" and ").join(names)) + " "
        )

    def _chain(self, ids: list[int], recovers: int, mark: int) -> None:
        """One batch after another, unless there is gear enough for two at once."""
        gear = self.dish.gear[mark]
        piece = self.table.draft.stock.find(gear.name)
        if not recovers and piece.line is not None and piece.line.number >= 2 * gear.pieces:
            return
        if piece.kind == "oven" and not recovers:
            # Each batch fills an oven: that alone keeps them apart, and another oven would free them.
            return
        for first, second in pairwise(ids):
            self.table.draft.link(Link(first, second, gap_min=recovers, why=Why.BATCH))

    def _handled(self, action: Action) -> tuple[Use, ...]:
        """Foods of the action; where it names none of a weight, those before it in its strand too, the last first."""
        before = [
            other for other in self.work.actions if other.strand == action.strand and other.number <= action.number
        ]
        uses: list[Use] = []
        for other in reversed(before):
            uses += [self.dish.uses[p.use] for p in other.pieces if isinstance(p, FoodAt)]
        # What is made elsewhere stands for what it was made of.
        makers = {use.thing for use in uses if use.role in (Role.TAKE, Role.HANDLE)}
        for other in self.work.actions:
            if any(made.thing in makers for made in other.made):
                uses += [self.dish.uses[p.use] for p in other.pieces if isinstance(p, FoodAt)]
        return tuple(uses)

    def _batches(self, action: Action, desk: Desk, party: tuple[int, ...]) -> tuple[int, int, int | None]:
        """How many batches, seconds between two of them, and the gear that splits the work."""
        if action.heats_gear:
            return 1, 0, None
        oven = () if action.heat is None or action.heat.mark is None else (action.heat.mark,)
        for mark in (*action.marks, *(() if action.pan is None else (action.pan,)), *oven):
            takes = self._takes(mark, action)
            if takes is not None:
                number = batches_of(action, desk, takes, self.dish.gear[mark].pieces)
                if number > 1:
                    return number, takes.recovers, mark
        before = [other for other in action.after if self.work.actions[other].step == action.step]
        lanes = [self.tasks(other, party[0]) for other in before]
        if action.standing and lanes and len(lanes[0]) > 1:
            return len(lanes[0]), 0, None
        return 1, 0, None

    def _takes(self, mark: int, action: Action) -> Takes | None:
        """What a piece holds at once. A kitchen's plates to a pan count only for what is cooked by the batch: a spoon of seeds is
        toasted in one go."""
        same = [
            gear
            for gear in self.dish.gear
            if gear.number == mark or (gear.same and gear.key == self.dish.gear[mark].key)
        ]
        said = next((gear for gear in same if gear.takes is not None), None)
        if said is not None and said.takes is not None:
            return Takes(said.takes, said.takes_plates, int(said.recovers or 0))
        line = self.table.draft.stock.find(self.dish.gear[mark].name).line
        if line is None or line.takes is None:
            return None
        by_plates = line.takes.terms[0].unit.name == "plate"
        return None if by_plates and not _by_batch(action) else Takes(line.takes, by_plates, 0)

    # ------------------------------------------------------------ gear

    def _places(self, action: Action, desk: Desk) -> Iterator[GearNeed]:
        """Burners, and room in the fridge or freezer, for just as long as it takes."""
        draft = self.table.draft
        burners = (0 if action.pan is None else pieces_wanted(self.dish.gear[action.pan], desk)) + int(
            action.over_water
        )
        if burners:
            yield GearNeed(draft.kind_pool("hob"), burners)
        if action.place is not None:
            piece = draft.stock.find(self.dish.gear[action.place].name)
            same = (action.strand, action.step)
            before = tuple(one for one in self.work.actions[: action.number] if (one.strand, one.step) == same)
            yield GearNeed(draft.pool(piece), room_for(action, before, self.dish, desk))

    def _hold_gear(self, held: Held) -> None:
        draft = self.table.draft
        gear = self.dish.gear[held.mark]
        pool = draft.pool(draft.stock.find(gear.name))
        for party, begin in self._parties_between(held.first, held.last):
            run = party[0]
            doing = [a for a in range(begin, held.last + 1) if self.tasks(a, run) and self._same_strand(a, held.first)]
            if not doing:
                continue
            pieces = pieces_wanted(gear, self.desk(party))
            what = Taken(pool, pieces, 0, 0, gear.name, run, party=party, doing=tuple(doing), split=begin != held.first)
            lanes = max(len(self.tasks(a, run)) for a in doing)
            split = [a for a in doing if len(self.tasks(a, run)) == lanes]
            if lanes == 1:
                to_start = held.to_start and doing[-1] == held.last
                first, last = self.tasks(doing[0], run)[0], self.tasks(doing[-1], run)[0]
                draft.taken.append(replace(what, first=first, last=last, to_start=to_start, washed=not held.turned_out))
                continue
            for a in doing[: doing.index(split[0])]:
                task = self.tasks(a, run)[0]
                draft.taken.append(replace(what, first=task, last=task, washed=False))
            until = self._until(split, held.mark)
            if self._takes(held.mark, self.work.actions[split[0]]) is None:
                # Eight ramekins in two batches are four in each.
                pieces = -(-pieces // lanes)
            for lane in range(lanes):
                first, last = self.tasks(split[0], run)[lane], self.tasks(until, run)[lane]
                washed = lane == lanes - 1 and not held.turned_out
                draft.taken.append(replace(what, pieces=pieces, first=first, last=last, washed=washed))

    def _until(self, split: list[int], mark: int) -> int:
        """The last action of a batch that needs the gear: the next batch wants it."""
        until = split[0]
        for number in split:
            action = self.work.actions[number]
            if mark in action.marks or action.pan == mark:
                until = number
        return until

    def _same_strand(self, one: int, other: int) -> bool:
        return self.work.actions[one].strand == self.work.actions[other].strand

    def _parties_between(self, first: int, last: int) -> list[tuple[tuple[int, ...], int]]:
        """The groups of runs at work while a piece is held, and from which action on: those that begin it, and those of them that go on
        apart later, which need a piece of their own from there."""
        found: list[tuple[tuple[int, ...], int]] = []
        for action in range(first, last + 1):
            if not self._same_strand(action, first):
                continue
            for party in self.shared[action]:
                known = [other for other, _ in found if set(party) & set(other)]
                if not known:
                    found.append((party, first if not found else action))
                elif all(other[0] != party[0] for other in known):
                    found.append((party, action))
        return found

    # ------------------------------------------------------------ order

    def _order(self) -> None:
        for action in self.work.actions:
            for before in action.after:
                wait = self._while_the_oven_changes(
                    wait_within(self.work, self.work.actions[before], action, self.dish, self.table.draft.tongue),
                    before,
                    action,
                )
                for party in self.shared[action.number]:
                    at_once = self._taken_out(self.work.actions[before], party) is action
                    for run in party:
                        most = wait._replace(gap_max=0) if at_once else wait
                        self.follow(self.tasks(before, run), self.tasks(action.number, run), most)
                    if not action.beside and self.tasks(before, party[0]):
                        self._chilled_between(self.work.actions[before], action, party)

    def _chilled_between(self, before: Action, after: Action, party: tuple[int, ...]) -> None:
        """What one action leaves chilled keeps its room until the next of the strand begins."""
        draft, run = self.table.draft, party[0]
        first, last = self.tasks(before.number, run)[-1], self.tasks(after.number, run)[0]
        makers = next(one for one in self.shared[before.number] if run in one)
        desk = self.desk(makers)
        left = [
            (one.thing, one.name, one.hold, boxed(desk.scaled.made(one))) for one in used_of(before, after, self.dish)
        ]
        for thing, name, hold, room in left or [(f"step {before.step}", self.dish.title, None, 0)]:
            if hold is not None:
                draft.held_hot(hold, first, last, name)
            need = draft.room_of(first, hold, room)
            if need is not None:
                draft.room((self.dish.key, thing, makers[0]), need, first, last, name)

    def _while_the_oven_changes(self, wait: Wait, before: int, action: Action) -> Wait:
        """What bakes on in an oven that is turned up or down stays in it until that is done."""
        first, second = (
            oven_need(one, self.dish, self.table.draft) for one in (self.work.actions[before].heat, action.heat)
        )
        if wait.gap_max is None or first is None or second is None or first.pool != second.pool:
            return wait
        pool = self.table.draft.pools[first.pool]
        down, up = max(0, first.low - second.high), max(0, second.low - first.high)
        change = max(-(-down * 60 // max(1, pool.cools)), -(-up * 60 // max(1, pool.heats)))
        return wait._replace(gap_max=wait.gap_max + change)

    def follow(self, before: tuple[int, ...], after: tuple[int, ...], wait: Wait) -> None:
        """Every batch before every one after; batch by batch where both are split alike."""
        self.table.draft.follow(before, after, wait)


def _by_batch(action: Action) -> bool:
    value = None if action.reading is None else action.reading.value
    return isinstance(value, Duration) and value.pace is not None and value.pace.per == "batch"
