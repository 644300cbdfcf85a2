"""The error tree: what its docstring draws is what the rooms define, and a fault says which file it is in."""

from __future__ import annotations

import builtins
import re
from importlib import import_module
from pkgutil import walk_packages

import matplan
from matplan import faults
from matplan.faults import Fault, JobError, MatplanError

BRANCH = re.compile(r"^ +[│ ]*[├└]── (?P<name>\w+) +\((?P<kind>\w+)\)", re.MULTILINE)


def drawn() -> dict[str, str]:
    """The leaves of the tree in the docstring, each with its built-in kind."""
    return {found["name"]: found["kind"] for found in BRANCH.finditer(faults.__doc__ or "")}


def defined(of: type[MatplanError] = MatplanError) -> dict[str, type[MatplanError]]:
    """Every public error below `of`, by its name."""
    found: dict[str, type[MatplanError]] = {}
    for leaf in of.__subclasses__():
        if not leaf.__name__.startswith("_"):
            found[leaf.__name__] = leaf
        found.update(defined(leaf))
    return found


def test_the_tree_in_the_docstring_is_the_tree_of_the_rooms() -> None:
    for room in walk_packages(matplan.__path__, "matplan."):
        if not room.name.endswith("__main__"):
            import_module(room.name)
    leaves = {name: leaf for name, leaf in defined().items() if leaf.__module__.startswith("matplan.")}
    assert set(drawn()) == set(leaves)
    for name, kind in drawn().items():
        assert issubclass(leaves[name], getattr(builtins, kind)), name


def test_a_fault_shows_its_own_file_before_the_one_asked_for() -> None:
    own = Fault(line=3, where="board.fog", text="too thick", file="supplies.toml")
    asked = Fault(line=7, where="piece[1]", text="too wide")
    error = JobError((own, asked), file="job.toml")
    assert str(error).splitlines() == [
        "supplies.toml:3: board.fog: too thick",
        "job.toml:7: piece[1]: too wide",
    ]


def test_a_message_of_our_own_stands_whole_and_safe() -> None:
    cure = f"{'the label of a frame, ' * 30}is too wide; take a smaller label\x1b, or hang labels below"
    (line,) = str(JobError((Fault(line=1, where="wall[1]", text=cure),), file="job.toml")).splitlines()
    assert line == f"job.toml:1: wall[1]: {cure.replace('\x1b', '\\x1b')}"


def test_the_same_fault_at_many_places_is_told_once_and_kept_at_each() -> None:
    def told(count: int) -> list[str]:
        equal = [Fault(line=10 * n, where=f"piece[{n}].colur", text="no such key") for n in range(1, count + 1)]
        error = JobError([*equal, Fault(line=99, where="", text="too wide")], file="job.toml")
        assert error.faults[:count] == tuple(equal)
        return str(error).splitlines()

    assert told(3) == [*(f"job.toml:{n}0: piece[{n}].colur: no such key" for n in (1, 2, 3)), "job.toml:99: too wide"]
    first = "job.toml:10: piece[1].colur: no such key; the same"
    assert told(4) == [f"{first} 3 times more, on lines 20, 30, 40", "job.toml:99: too wide"]
    assert told(60) == [f"{first} 59 times more, on lines 20, 30, 40, …", "job.toml:99: too wide"]
