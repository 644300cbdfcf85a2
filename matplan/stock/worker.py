"""The search process: runs packingsolver on one task and writes every better answer as a line of JSON.

It is a process of its own so that the search ends when its time is up, whatever the solver is doing, takes no more
memory than it is given, and can be stopped by Ctrl-C. Run as a file with the task as JSON on stdin; it imports nothing
of matplan.
"""

from __future__ import annotations

import contextlib
import json
import os
import sys
import time
from typing import Any, TextIO

type Task = dict[str, Any]
type Phase = dict[str, Any]


class _Met(Exception):
    """The proven bound is met: nothing better can come."""


class Search:
    """One task: what is asked, the best answer so far, and the stream that answers go to."""

    def __init__(self, task: Task, out: TextIO) -> None:
        self._task, self._out = task, out
        self._best: float | None = None
        self._ends = time.monotonic() + task["seconds"]

    def run(self) -> None:
        """All phases, each in what is left of the time; a phase that fails is left out."""
        for number, phase in enumerate(self._task["phases"]):
            left = self._ends - time.monotonic()
            if left <= 0.02:
                return
            try:
                self._phase(phase, left)
            except _Met:
                return
            except RuntimeError as error:  # the solver refuses what it has no algorithm for
                self._say({"phase": number, "failed": str(error)[:200]})
            else:
                self._say({"phase": number, "done": True})

    def _phase(self, phase: Phase, left: float) -> None:
        import packingsolver.rectangleguillotine as solver

        build = solver.InstanceBuilder()
        build.set_objective(getattr(solver.Objective, self._task["objective"]))
        if phase.get("stages") is None:
            build.set_number_of_stages_unlimited()
        else:
            build.set_number_of_stages(phase["stages"])
            build.set_first_stage_orientation(solver.CutOrientation.Any)
        for width, height, turn, count in self._task["shapes"]:
            build.add_item_type(width, height, oriented=not turn, copies=count)
        for width, height, weight, count in self._task["piles"]:
            build.add_bin_type(width, height, cost=weight, copies=count)
        asked = solver.OptimizeParameters()
        asked.optimization_mode = solver.OptimizationMode.NotAnytimeDeterministic
        asked.verbosity_level = 0
        asked.messages_to_stdout = False
        asked.time_limit = left
        for key, value in phase.get("set", {}).items():
            setattr(asked, key, value)
        asked.new_solution_callback = self._found
        with contextlib.suppress(AttributeError):
            asked.memory_limit_megabytes = self._task["megabytes"]
        self._found(solver.optimize(build.build(), asked))

    def _found(self, output: Any) -> None:
        """Takes an answer that is better than all before; called by the solver's threads one at a time."""
        solution = output.solution
        if self._task["objective"] == "Knapsack":
            worth = -solution.profit()
        elif solution.full():
            worth = solution.cost()
        else:
            return
        if self._best is not None and worth >= self._best - 1e-9:
            return
        self._best = worth
        sheets = self._sheets(solution)
        self._say({"sheets": sheets})
        weight = sum(self._task["weights"][pile] * copies for pile, copies, _ in sheets)
        if (
            self._task["objective"] != "Knapsack"
            and self._task["enough"] is not None
            and weight <= self._task["enough"] + 1e-6
        ):
            raise _Met

    def _sheets(self, solution: Any) -> list[Any]:
        shapes = self._task["shapes"]
        found = []
        for position in range(solution.number_of_different_bins()):
            sheet = solution.bin(position)
            placed = [
                [node.item_type_id, node.l, node.b, node.r - node.l != shapes[node.item_type_id][0]]
                for node in sheet.nodes
                if node.item_type_id >= 0 and not node.children  # the root bears the number of a part, and is none
            ]
            found.append([sheet.bin_type_id, sheet.copies, placed])
        return found

    def _say(self, line: dict[str, Any]) -> None:
        self._out.write(json.dumps(line) + "\n")
        self._out.flush()


def limit_memory(megabytes: int) -> None:
    """Caps the process's memory where the system can."""
    with contextlib.suppress(ImportError, ValueError, OSError):
        import resource

        resource.setrlimit(resource.RLIMIT_AS, (megabytes << 20, megabytes << 20))


def main() -> None:
    """Reads the task, keeps stdout for answers alone, and ends without waiting for the solver's threads."""
    out = os.fdopen(os.dup(1), "w", encoding="utf-8")
    nowhere = os.open(os.devnull, os.O_WRONLY)
    os.dup2(nowhere, 1)
    os.dup2(nowhere, 2)
    task = json.load(sys.stdin)
    limit_memory(task["megabytes"])
    code = 0
    try:
        Search(task, out).run()
    except (MemoryError, ImportError):
        code = 1
    out.flush()
    os._exit(code)


if __name__ == "__main__":
    main()
