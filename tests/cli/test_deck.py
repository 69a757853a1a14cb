"""A job with a deck at the command line: folder, summary, why, local amendments, refusals. Invented data."""

from __future__ import annotations

import json
from pathlib import Path

import pytest
from tests.cli.conftest import Run
from tests.deck_jobs import BUNGALOW, FULL, VILLA, with_deck

TOWN = 'title = "Invented town"\n[[limit]]\nid = "ledger.top_edge"\nvalue = 3.75\nsection = "local 1"\n'
AMENDED = '\n[code]\namendments = "town.toml"\n'


def write(here: Path, text: str) -> None:
    (here / "deck.toml").write_text(text, encoding="utf-8")


def test_the_folder_has_the_decks_drawings_and_the_plan_its_heights_and_fasteners(
    here: Path, run: Run
) -> None:
    write(here, with_deck(FULL))
    done = run("plan", "deck.toml", "--out", "out", "--no-packet")
    assert done.code == 0, done.err
    for name in ("section-A", "whole-section-A", "ledger-part-1", "framing", "story-pole"):
        assert (here / "out" / "drawings" / f"{name}.svg").exists()
        assert (here / "out" / "drawings" / f"{name}.dxf").exists()
    summary = json.loads((here / "out" / "plan.json").read_text(encoding="utf-8"))["summary"]
    assert "ledger top" in [each["name"] for each in summary["story_pole_heights"]]
    assert summary["ledger_fasteners"][0]["from_left"] <= 5.0  # IRC Table R507.9.1.3(2): 2 to 5 in


def test_the_summary_tells_the_heights_to_set_out_the_ledger_and_what_is_from_memory(
    here: Path, run: Run
) -> None:
    write(here, with_deck(FULL))
    said = " ".join(run("plan", "deck.toml", "--out", "out", "--no-packet").out.split())
    assert "Deck below A" in said
    assert "(height.walking-surface)" in said
    assert "lag screws, at most 15 apart. (ledger)" in said
    assert "from memory, not read. (framing.beam)" in said
    assert "Lag screws at least 4 long, 1 1/2 in the wood behind; the tapered tip of 5/16" in said
    assert "(framing.post)" in said
    assert "By calculation, for your engineer" in said
    assert "governs at" in said
    assert "(calc.joist)" in said
    assert "(calc.ledger-bolts)" in said


def test_the_summary_and_the_folder_name_each_door_above_the_deck(here: Path, run: Run) -> None:
    write(here, VILLA)
    said = " ".join(run("plan", "deck.toml", "--out", "out", "--no-packet").out.split())
    names = [
        each["opening"] for each in json.loads((here / "out/plan.json").read_text())["heights"]["openings"]
    ]
    assert len(names) == 2
    for name in names:
        assert f"Threshold of {name}: " in said
        assert f"(height.threshold.{name})" in said
        assert (here / "out" / "drawings" / f"section-{name}.dxf").exists()
    assert f"Deck below {', '.join(names)}" in said


def test_local_amendments_are_read_from_beside_the_job_and_change_the_plan(here: Path, run: Run) -> None:
    write(here, BUNGALOW + AMENDED)
    (here / "town.toml").write_text(TOWN, encoding="utf-8")
    said = " ".join(run("explain", "deck.toml", "check.ledger.top_edge.ledger").out.split())
    assert "town.toml (Invented town), local 1" in said
    first = run("plan", "deck.toml", "--out", "out", "--no-packet").out.split("Plan ")[1][:12]
    (here / "town.toml").write_text(TOWN.replace("3.75", "3.5"), encoding="utf-8")
    second = run("plan", "deck.toml", "--out", "out", "--no-packet").out.split("Plan ")[1][:12]
    assert first != second


@pytest.mark.parametrize("command", [("check",), ("plan", "--out", "out", "--no-packet")])
def test_amendments_that_are_not_there_are_told_with_line_key_and_what_to_do(
    here: Path, run: Run, command: tuple[str, ...]
) -> None:
    write(here, BUNGALOW + AMENDED)
    done = run(command[0], "deck.toml", *command[1:])
    assert done.code == 2
    line = 1 + (BUNGALOW + AMENDED).splitlines().index('amendments = "town.toml"')
    said = f"line {line}, code.amendments: there is no file of local amendments town.toml."
    assert f"{said} Put the file beside the job file" in " ".join(done.err.split())
    assert not (here / "out").exists()


def test_checking_a_job_checks_the_amendments_it_names(here: Path, run: Run) -> None:
    write(here, BUNGALOW + AMENDED)
    (here / "town.toml").write_text(TOWN, encoding="utf-8")
    sound = run("check", "deck.toml")
    assert sound.code == 0
    assert "nothing wrong" in sound.out
    assert "local amendment: town.toml (Invented town)" in " ".join(sound.out.split())
    wrong = TOWN.replace("top_edge", "top_egde") + '[[strike]]\ncheck = "no.such"\n'
    (here / "town.toml").write_text(wrong, encoding="utf-8")
    done = run("check", "deck.toml")
    assert done.code == 2
    said = " ".join(done.err.split())
    assert "deck.toml: 2 faults." in said
    assert "town.toml: limit[0].id: there is no 'ledger.top_egde'. Did you mean 'ledger.top_edge'?" in said
    assert "town.toml: strike[0].check: there is no 'no.such'." in said


@pytest.mark.parametrize(
    ("text", "said"),
    [
        ("title = ", "town.toml: it is not TOML"),
        (TOWN + "[[limits]]\n", "town.toml: unknown key 'limits'. Did you mean 'limit'?"),
        ('title = "T"\neditions = ["2021"]\n', "it amends 2021, and the job is judged by 2018."),
    ],
)
def test_amendments_that_cannot_be_used_are_told_by_check(here: Path, run: Run, text: str, said: str) -> None:
    write(here, BUNGALOW + AMENDED)
    (here / "town.toml").write_text(text, encoding="utf-8")
    done = run("check", "deck.toml")
    assert done.code == 2
    assert said in " ".join(done.err.split())


def test_a_ledger_above_the_sill_is_told_with_its_place_and_what_to_do(here: Path, run: Run) -> None:
    write(here, with_deck("ledger_top = 3"))
    done = run("plan", "deck.toml", "--out", "out", "--no-packet")
    assert done.code == 2
    said = " ".join(done.err.split())
    assert "deck.ledger_top: the ledger's top at 3\" is above the sill" in said
    assert "A ledger stands below the door: give a lower height." in said
