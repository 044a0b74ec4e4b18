"""One way to run the solver, for all that asks it."""

from __future__ import annotations

import threading
from typing import TYPE_CHECKING

if TYPE_CHECKING:
    from ortools.sat.python import cp_model


def solved(solver: cp_model.CpSolver, model: cp_model.CpModel) -> cp_model.CpSolverStatus:
    """The status of a search. Ctrl-C ends it at once and is raised, as anywhere else in a program.

    Left to itself the solver takes Ctrl-C for a wish to stop early, which would give another plan, and afterwards nobody catches
    the next one any more. So the search runs beside the main thread, which alone hears of signals.
    """
    solver.parameters.catch_sigint_signal = False
    if threading.current_thread() is not threading.main_thread():
        return solver.solve(model)
    found: list[cp_model.CpSolverStatus] = []
    faults: list[BaseException] = []

    def run() -> None:
        try:
            found.append(solver.solve(model))
        except BaseException as fault:  # handed on to the thread that asked
            faults.append(fault)

    thread = threading.Thread(target=run, daemon=True)
    thread.start()
    try:
        thread.join()
    except KeyboardInterrupt:
        solver.stop_search()
        thread.join()
        raise
    if faults:
        raise faults[0]
    return found[0]
