"""The timeline as JSON, in the stable shape of `schemas/timeline.json`: local times as RFC 3339 without an offset, whole seconds."""

from __future__ import annotations

from collections.abc import Iterable

from recipec.emit.json_papers import Json, cautions_data, json_text
from recipec.emit.timeline_clock import Clock
from recipec.plan.pull_list import pull_list
from recipec.plan.run_sheet import gear_of, run_sheet, task_ids
from recipec.plan.run_sheet_types import CourseLine, LineKind, PrepDay, PullLine, RunLine
from recipec.plan.sheet import Caution
from recipec.plan.timeline_types import Collision, Late, Planned, Problem, Setting


def timeline_json(planned: Planned, prep: tuple[PrepDay, ...] = (), cautions: Iterable[Caution] = ()) -> str:
    """`timeline --format json`."""
    return json_text({**_Data(planned, prep).data(), "cautions": cautions_data(cautions)})


class _Data:
    def __init__(self, planned: Planned, prep: tuple[PrepDay, ...]) -> None:
        self.planned, self.prep = planned, prep
        self.problem, self.plan = planned.problem, planned.plan
        self.clock = Clock(planned.problem, "en")
        self.ids = task_ids(planned.problem)
        self.sheet = run_sheet(planned)

    def data(self) -> dict[str, Json]:
        plan, placed = self.plan, self.plan.placed
        there = bool(placed)
        return {
            "event": self.problem.event,
            "title": self.problem.title,
            "status": plan.status.value,
            "aim": self.problem.aim,
            "bound_s": plan.bound_s if there else None,
            "span_s": plan.span_s if there else None,
            "start": self._time(min((one.start for one in placed), default=None)),
            "end": self._time(max((one.end for one in placed), default=None)),
            "goals": [{"name": goal.name, "value": goal.value, "bound": goal.bound} for goal in plan.goals],
            "assumptions": list(self.problem.assumed),
            "courses": [self._course(course) for course in self.sheet.courses],
            "steps": [self._step(line) for line in self.sheet.lines if line.kind is LineKind.TASK],
            "touches": [self._touch(line) for line in self.sheet.lines if line.kind is LineKind.TOUCH],
            "ovens": [self._setting(setting) for setting in plan.settings],
            "collisions": [self._collision(one) for one in plan.collisions],
            "pull": [self._pull(line) for line in pull_list(self.planned)],
            "prep": [self._prep(day) for day in self.prep],
            "late": [self._late(late) for late in self.planned.late],
        }

    def _time(self, second: int | None) -> Json:
        return None if second is None else self.clock.moment(second).isoformat(timespec="seconds")

    def _step(self, line: RunLine) -> dict[str, Json]:
        assert line.task is not None and line.attend is not None and line.work is not None
        task, placed = self.problem.tasks[line.task], self.plan.placed[line.task]
        run = None if task.run is None else self.problem.runs[task.run]
        gear = gear_of(self.problem, task, placed)
        units: list[Json] = [{"name": one.name, "unit": unit} for one in gear for unit in (one.units or (None,))]
        if line.heat is not None:
            units.append({"name": line.heat.name, "unit": line.heat.unit})
        return {
            "id": line.id,
            "number": line.number,
            "dish": None if run is None else run.dish,
            "without": [] if run is None else list(run.without),
            "strand": task.strand,
            "step": task.step,
            "work": line.work.value,
            "attendance": line.attend.value,
            "text": task.text,
            "what": task.what,
            "start": self._time(placed.start),
            "end": self._time(placed.end),
            "hands": placed.hands,
            "gear": units,
            "celsius": None if line.heat is None else _celsius(line.heat.celsius),
            "batch": None if task.batch is None else list(task.batch),
            "assumed": task.assumed,
            "wait_until": self._time(line.wait_until),
            "done_by": self._time(line.done_by),
        }

    def _touch(self, line: RunLine) -> dict[str, Json]:
        return {"step": line.id.rsplit(".touch.", 1)[0], "at": self._time(line.at), "text": line.text}

    def _course(self, course: CourseLine) -> dict[str, Json]:
        return {
            "name": course.name,
            "fire": self._time(course.fire),
            "plate": self._time(course.plate),
            "at": self._time(course.at),
            "ends": self._time(course.ends),
            "slack_s": course.slack,
        }

    def _setting(self, setting: Setting) -> dict[str, Json]:
        pool = self.problem.pools[setting.pool]
        return {
            "name": pool.name,
            "unit": setting.oven + 1,
            "celsius": _celsius(setting.celsius),
            "lit": self._time(setting.lit),
            "start": self._time(setting.start),
            "end": self._time(setting.end),
        }

    def _collision(self, one: Collision) -> dict[str, Json]:
        return {
            "slug": one.slug,
            "text": one.text,
            "steps": [self.ids[task] for task in one.tasks],
            "places": [{"file": span.source.name, "line": span.position.line} for span in one.spans],
            "fixes": [fix.text for fix in one.fixes],
        }

    def _pull(self, line: PullLine) -> dict[str, Json]:
        return {
            "key": line.key,
            "name": line.name,
            "unit": "ml" if line.room else "piece",
            "peak": line.peak,
            "kitchen": line.have,
            "bring": line.bring,
            "at": self._time(line.at),
            "dishes": list(dict.fromkeys(self.problem.runs[run].dish for run in line.runs)),
        }

    def _prep(self, day: PrepDay) -> dict[str, Json]:
        return {
            "day": self.clock.moment(day.start).date().isoformat(),
            "board": [
                {
                    "thing": job.thing,
                    "by": self._time(job.at),
                    "dishes": [
                        {"dish": part.dish, "how": part.how, "amount": part.much, "by": self._time(part.at)}
                        for part in job.parts
                    ],
                }
                for job in day.board
            ],
            "make": [
                {"name": job.name, "seconds": job.seconds, "numbers": [part.number for part in job.parts]}
                for job in day.make
            ],
        }

    def _late(self, late: Late) -> dict[str, Json]:
        return {
            "minutes": late.minutes,
            "possible": bool(late.starts),
            "breaks": [
                {
                    "step": self.ids[one.task],
                    "by_s": one.by,
                    "hold": one.hold,
                    "course": _course_of(self.problem, one.course),
                }
                for one in late.breaks
            ],
            "waits": [
                {"step": self.ids[task], "start": self._time(late.starts[task])}
                for task in late.waits
                if task < len(late.starts)
            ],
            "stays_s": late.stays_s,
        }


def _course_of(problem: Problem, number: int | None) -> str | None:
    return None if number is None else problem.courses[number].name


def _celsius(tenths: int) -> str:
    """An exact number as a string, as all amounts are."""
    whole, part = divmod(tenths, 10)
    return f"{whole}.{part}" if part else str(whole)
