"""`sillwright water`: schemes, one wall's order of work, verdicts, laps, one piece, other heads, drawings."""

from __future__ import annotations

import json
from pathlib import Path

import pytest
from tests.cli.conftest import Ran, Run
from tests.flashing.dressings import PIECES
from tests.setting.walls import Hole, text_of

from sillwright.flashing import schemes


def flat(ran: Ran) -> str:
    return " ".join(ran.out.split())


@pytest.fixture
def wall(here: Path) -> Path:
    """Return the job file of one window in a wall 4 1/2 in deep."""
    path = here / "wall.toml"
    path.write_text(text_of(Hole(name="A", left=30.0), water={"wall_pieces": PIECES}), encoding="utf-8")
    return path


def test_every_scheme_is_listed_with_when_and_what_to_watch(run: Run) -> None:
    ran = run("water", "--schemes")
    assert ran.code == 0
    for card in schemes():
        assert f"\n{card.scheme.name}\n" in ran.out
        assert " ".join(card.when.split()) in flat(ran)


def test_a_wall_is_told_in_the_order_of_the_work_with_verdicts_and_laps(run: Run, wall: Path) -> None:
    said = flat(run("water", "wall.toml"))
    parts = ["strips over the fin", "Head of water to stand: 9/16", "Order of work", "1. Lay the wall wrap"]
    parts += ["(A.pan)", "Where water can get at A", "held by bond", "Weakest way: From", "Laps, the least"]
    parts += ["ask the maker", "Stock that the pieces take", "The makers of unit and rolls"]
    places = [said.index(part) for part in parts]
    assert places == sorted(places)


def test_another_scheme_and_head_are_tried_without_changing_the_file(run: Run, wall: Path) -> None:
    before = wall.read_text(encoding="utf-8")
    assert "wrap in courses" in flat(run("water", "wall.toml", "--scheme", "wrap in courses"))
    assert "Head of water to stand: 2 " in flat(run("water", "wall.toml", "--head", "2"))
    assert "(5 psf)" in flat(run("water", "wall.toml", "--psf", "5"))
    assert wall.read_text(encoding="utf-8") == before


def test_all_of_one_piece_is_told(run: Run, wall: Path) -> None:
    said = flat(run("water", "wall.toml", "--sheet", "A.pan"))
    assert "sill: A.sill, 30 to 66 1/2 × 0 to 4 1/2, bonded" in said
    assert "folded, 6 folds, 2 slits" in said
    assert "lap.A.pan.wrap.up" in said


@pytest.mark.parametrize(
    ("options", "told"),
    [
        ((), "JOB: it is missing. Name a job file, or list the schemes: --schemes."),
        (
            ("wall.toml", "--scheme", "stretch pan"),
            "--scheme: there is no scheme 'stretch pan'. Did you mean 'stretched pan'?",
        ),
        (("wall.toml", "--sheet", "A.pam"), "--sheet: there is no piece 'A.pam'. Did you mean 'A.pan'?"),
        (
            ("wall.toml", "--head", "1", "--psf", "2"),
            "--head: both --head and --psf are given. Keep one of the two.",
        ),
        (
            ("wall.toml", "--head", "abc"),
            "--head: 'abc' is not a tape reading: at character 1, 'abc'. "
            "Write a reading such as 27 3/8, 4' 3 1/2\" or 1302 mm.",
        ),
        (("wall.toml", "--psf=-1"), "--psf: -1 is no head of water. Give 0 or more."),
        (
            ("wall.toml", "--scheme", "none"),
            "water: this job has no water plan. Its scheme is none, or it has no [[unit]].",
        ),
    ],
)
def test_what_cannot_be_used_is_told_with_what_to_do(
    run: Run, wall: Path, options: tuple[str, ...], told: str
) -> None:
    ran = run("water", *options)
    assert ran.code == 2
    assert ran.err.strip() == told


def test_an_opening_that_cannot_be_dressed_says_why(run: Run, here: Path) -> None:
    (here / "bare.toml").write_text(text_of(Hole(name="A", left=30.0)), encoding="utf-8")
    ran = run("water", "bare.toml")
    assert ran.code == 2
    assert "No water plan for A: the depth of its wall is not known." in ran.err


def test_drawings_go_into_a_folder_that_may_be_replaced(run: Run, here: Path, wall: Path) -> None:
    for _ in range(2):
        assert run("water", "wall.toml", "--out", "wet").code == 0
    names = {path.name for path in (here / "wet" / "drawings").iterdir()}
    assert {"water-step-01.svg", "water-step-01.dxf", "water-map-wall.svg", "water-map-box-A.svg"} <= names
    assert {"water-section-A-sill.svg", "water-section-A-head.svg"} <= names
    assert json.loads((here / "wet" / "plan.json").read_text(encoding="utf-8"))["water"]["pieces"]


def test_a_pan_is_explained(run: Run, wall: Path) -> None:
    for ident in ("water", "piece.A.pan", "water.A.left", "lap.A.pan.wrap.up", "cutting.A.pan"):
        assert run("explain", "wall.toml", ident).code == 0, ident


def test_checking_a_job_tells_every_piece_that_is_not_there_with_its_line(run: Run, here: Path) -> None:
    sheet = [
        {"name": "A.pam", "leave_out": True},
        {"name": "A.strip.left", "panel": [{"name": "strap", "leave_out": True}]},
    ]
    water = {"wall_pieces": PIECES, "order": ["A.strip.rihgt", "A.strip.left"], "sheet": sheet}
    path = here / "changed.toml"
    path.write_text(text_of(Hole(name="A", left=30.0), water=water), encoding="utf-8")
    told = run("check", "changed.toml")
    assert told.code == 2
    assert told.err.splitlines()[0] == "changed.toml: 3 faults."
    assert "water.order[0]: there is no piece 'A.strip.rihgt'. Did you mean A.strip.right" in told.err
    assert "water.sheet[0].name: there is no piece 'A.pam'. Did you mean A.pan" in told.err
    assert "the piece 'A.strip.left' has no part 'strap'. It has: strip." in told.err
    assert told.err.count("line ") == 3
    assert run("plan", "changed.toml", "--out", "out").err == told.err
