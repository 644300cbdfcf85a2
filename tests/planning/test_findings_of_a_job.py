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
    both = wall("Hall", '"Gull"'), wall("Stair", '"Gull"') + 'eye = "1500 mm"\n'
    assert codes(piece("Gull", more="quantity = 2\n"), *both) == []
    assert codes(piece("Gull"), *both) == [("more-than-made", "Gull")]
    text = plan(job(piece("Gull"), *both)).findings[0].text
    assert text == 'the walls hang 2 of "Gull", and 1 is made; write quantity = 2 or name it less often'


def test_walls_that_differ_in_their_names_alone_are_told_together() -> None:
    alike = [wall(name, '"Gull"') for name in ("Hall", "Stair", "Attic")]
    made = plan(job(piece("Gull", more="quantity = 4\n"), *alike, wall("Cellar", '"Gull"') + "path = true\n"))
    (found,) = made.findings
    assert (found.code, found.where) == ("walls-alike", "Hall")
    assert found.text.startswith('the walls "Hall", "Stair" and "Attic" are alike but for their names')


def test_more_hung_than_made_on_one_wall() -> None:
    assert codes(piece("Gull"), wall("Hall", '"Gull", "Gull"')) == [("more-than-made", "Gull")]


def test_pieces_that_lack_the_same_price_have_one_finding_for_their_selling_prices() -> None:
    """The frame has no price, nor have glazing, backing and the small things; the sheets of chalk have one."""
    assert codes(piece("Gull"), piece("Coil")) == []
    found = plan(job("[costs]\nmarkup = 2\n", piece("Gull"), piece("Coil"))).findings
    assert [(finding.code, finding.where) for finding in found] == [("no-selling-price", "")]
    assert found[0].text.startswith('"Gull" and "Coil" have no selling price, because frame birch, glazing glass-2mm, ')
    assert found[0].text.endswith(" have no price in the job")
    assert "chalk" not in found[0].text
    known = "[costs]\nmarkup = 2\nhinge = 0\ntape_per_m = 0\nhanger = 0\nwire_per_m = 0\nhook = 0\n"
    bare = piece("Gull", more='glazing = "none"\nbacking = "none"\n')
    assert [finding.text for finding in plan(job(known, bare)).findings] == [
        '"Gull" has no selling price, because frame birch has no price in the job'
    ]


def test_work_that_has_a_price_and_no_minutes() -> None:
    work, timed = "[costs]\nlabour_per_hour = 40\n", piece("Coil", more="minutes = 30\n")
    assert codes(piece("Gull"), timed) == codes(work, piece("Gull"), timed) == []
    assert codes(work, piece("Gull")) == [("no-minutes", "")]
    assert codes(work.replace("40", "0"), piece("Gull")) == []


def test_a_job_over_its_budget_says_by_how_much() -> None:
    """Board in sheets is all that has a price; the job costs what one sheet costs."""
    cost = plan(job(piece("Gull"))).costs.total
    assert cost is not None
    assert codes(f"[costs]\nbudget = {cost}\n", piece("Gull")) == []
    found = plan(job(f"[costs]\nbudget = {cost - 1}\n", piece("Gull"))).findings
    assert [(finding.code, finding.level) for finding in found] == [("over-budget", "warning")]
    assert found[0].text.endswith(f"over the budget of {cost - 1:.2f} by 1.00")
