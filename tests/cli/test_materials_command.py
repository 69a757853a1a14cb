"""Materials without a job: what is listed, what two in contact come to, what is refused."""

from __future__ import annotations

import subprocess
import sys
from typing import get_args

import pytest
from tests.cli.conftest import Run

from sillwright.cli import asked
from sillwright.cli.materials import KINDS
from sillwright.materials import families
from sillwright.rules import PLACES


def test_every_family_is_listed_under_its_kind(run: Run) -> None:
    ran = run("materials")
    assert ran.code == 0
    lines = ran.out.splitlines()
    for each in families():
        assert any(line.strip().split(":")[0] == each.name for line in lines)
        assert KINDS[each.kind] in lines


@pytest.mark.parametrize(
    ("pair", "told"),
    [
        (("rubberized asphalt tape", "flexible PVC"), ("STOP  avoid: plasticiser", "Fine Homebuilding")),
        (("silicone sealant", "wood"), ("FIX  primer:", "Prime as the maker says")),
        (("butyl tape", "EPDM"), ("OK  generally accepted:", "JLC, Choosing Flexible Flashings")),
        (("wall wrap", "polyurethane sealant"), ("WATCH  ask both makers", "AAMA 713")),
        (("acetoxy silicone sealant", "bare copper"), ("from memory: look it up",)),
    ],
)
def test_a_pair_is_said_with_its_source_whichever_way_round(
    run: Run, pair: tuple[str, str], told: tuple[str, ...]
) -> None:
    for names in (pair, pair[::-1]):
        ran = run("materials", *names)
        flat = " ".join(ran.out.split(" "))
        assert ran.code == 0
        for each in told:
            assert " ".join(each.split()) in " ".join(flat.split())


def test_one_family_is_told_with_all_that_is_published_on_it(run: Run) -> None:
    flat = " ".join(run("materials", "EPDM").out.split())
    assert "OK with butyl tape: generally accepted" in flat
    assert "with wood" not in flat
    assert "Of all others no statement was found" in flat


def test_an_unknown_family_is_refused_with_the_nearest(run: Run) -> None:
    ran = run("materials", "butyl tap", "OSB")
    assert (ran.code, ran.out) == (2, "")
    assert "Did you mean 'butyl tape'?" in ran.err


def test_the_places_offered_are_those_of_the_rule_book(run: Run) -> None:
    assert get_args(asked.CodePlace) == PLACES
    assert "sill.slope = 6 percent" in run("rules", "--place", "canada-ontario").out
    assert "sill.slope: no number" in run("rules").out
    assert run("rules", "--place", "mars").code == 2


def test_help_comes_without_loading_what_works_it_out() -> None:
    code = (
        "import sys; from sillwright.cli import main; main(['materials', '--help']); "
        "heavy = ('sillwright.materials', 'sillwright.rules'); "
        "print([name for name in sys.modules if name.startswith(heavy)])"
    )
    ran = subprocess.run(  # noqa: S603 - our own program
        [sys.executable, "-c", code], capture_output=True, text=True, check=True
    )
    assert ran.stdout.splitlines()[-1] == "[]"
