"""What concerns a job as a whole."""

from __future__ import annotations

from matplan.planning import plan
from tests.planning.jobs import job, piece


def wall(name: str, pieces: str) -> str:
    return f'[[wall]]\nname = "{name}"\nsize = "4000 x 2600 mm"\npieces = [{pieces}]\n'


def codes(*tables: str) -> list[tuple[str, str]]:
    return [(finding.code, finding.where) for finding in plan(job(*tables)).findings]


def test_a_piece_that_hangs_nowhere_while_others_do() -> None:
    assert codes(piece("Gull"), piece("Coil")) == []
    assert codes(piece("Gull"), piece("Coil"), wall("Hall", '"Gull", "Coil"')) == []
    assert codes(piece("Gull"), piece("Coil"), wall("Hall", '"Gull"')) == [("hung-nowhere", "Coil")]


def test_more_hung_than_made_counts_all_walls() -> None:
    both = wall("Hall", '"Gull"'), wall("Stair", '"Gull"')
    assert codes(piece("Gull", more="quantity = 2\n"), *both) == []
    assert codes(piece("Gull"), *both) == [("more-than-made", "Gull")]
    text = plan(job(piece("Gull"), *both)).findings[0].text
    assert text == 'the walls hang 2 of "Gull", and 1 is made; write quantity = 2 or name it less often'


def test_more_hung_than_made_on_one_wall() -> None:
    assert codes(piece("Gull"), wall("Hall", '"Gull", "Gull"')) == [("more-than-made", "Gull")]
