"""A job with a deck at the command line: folder, summary, why, local amendments, refusals. Invented data."""

from __future__ import annotations

import json
from pathlib import Path

from tests.cli.conftest import Run
from tests.deck_jobs import BUNGALOW, FULL, with_deck

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
    for name in ("section", "section-whole", "ledger-part-1", "framing", "story-pole"):
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


def test_local_amendments_are_read_from_beside_the_job_and_change_the_plan(here: Path, run: Run) -> None:
    write(here, BUNGALOW + AMENDED)
    (here / "town.toml").write_text(TOWN, encoding="utf-8")
    said = " ".join(run("explain", "deck.toml", "check.ledger.top_edge.ledger").out.split())
    assert "town.toml (Invented town), local 1" in said
    first = run("plan", "deck.toml", "--out", "out", "--no-packet").out.split("Plan ")[1][:12]
    (here / "town.toml").write_text(TOWN.replace("3.75", "3.5"), encoding="utf-8")
    second = run("plan", "deck.toml", "--out", "out", "--no-packet").out.split("Plan ")[1][:12]
    assert first != second


def test_amendments_that_are_not_there_are_told_with_their_name(here: Path, run: Run) -> None:
    write(here, BUNGALOW + AMENDED)
    done = run("plan", "deck.toml", "--out", "out", "--no-packet")
    assert done.code == 2
    assert "town.toml: it cannot be read" in done.err


def test_a_ledger_above_the_sill_is_told_with_its_place_and_what_to_do(here: Path, run: Run) -> None:
    write(here, with_deck("ledger_top = 3"))
    done = run("plan", "deck.toml", "--out", "out", "--no-packet")
    assert done.code == 2
    said = " ".join(done.err.split())
    assert "deck.ledger_top: the ledger's top at 3\" is above the sill" in said
    assert "A ledger stands below the door: give a lower height." in said
