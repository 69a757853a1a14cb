"""What was acknowledged is there after the writer was killed, whenever that was: 300 kills."""

from __future__ import annotations

import os
import random
import signal
import subprocess
import sys
import time
from collections.abc import Iterator
from pathlib import Path

import pytest
from tests.store.jobs import started

from sillwright.store import Store, verify

KILLS = 300
LONGEST = 0.04
"""A child lives at most this long after its first acknowledgement, or is killed before it [s]."""
ROOT = Path(__file__).parents[2]


@pytest.fixture
def crasher(tmp_path: Path) -> Iterator[tuple[Path, str, subprocess.Popen[str]]]:
    db = tmp_path / "jobs.db"
    store = Store(db)
    job = started(store)
    store.close()
    command = [sys.executable, "-m", "tests.store.crasher", str(db), job]
    pipe = subprocess.PIPE
    with subprocess.Popen(command, stdin=pipe, stdout=pipe, text=True, cwd=ROOT) as process:  # noqa: S603
        yield db, job, process
        process.kill()


@pytest.mark.skipif(not hasattr(os, "fork"), reason="this system cannot fork, which makes the kills quick")
def test_every_acknowledged_write_survives_a_kill(crasher: tuple[Path, str, subprocess.Popen[str]]) -> None:
    db, job, process = crasher
    assert process.stdin is not None
    assert process.stdout is not None
    chance = random.Random(4)  # noqa: S311  seeded: the same times on every run
    acknowledged: dict[str, int] = {}
    early = 0
    for kill in range(KILLS):
        process.stdin.write("go\n")
        process.stdin.flush()
        child = int(process.stdout.readline().removeprefix("child "))
        before = len(acknowledged)
        if kill % 3:  # let it write before it dies
            seq, ident = process.stdout.readline().split()
            acknowledged[ident] = int(seq)
        time.sleep(chance.uniform(0.0, LONGEST))
        os.kill(child, signal.SIGKILL)
        for line in iter(process.stdout.readline, "gone\n"):
            seq, ident = line.split()
            acknowledged[ident] = int(seq)
        early += len(acknowledged) == before
        if kill % 60 == 59:
            _whole(db, job, acknowledged)
    _whole(db, job, acknowledged)
    assert len(acknowledged) >= KILLS * 2 // 3
    assert early > 0, "no kill came before the first acknowledgement"


def _whole(db: Path, job: str, acknowledged: dict[str, int]) -> None:
    """Every acknowledged event stands where it was said to stand, and the chain holds."""
    store = Store(db)
    kept = {event.id: event.seq for event in store.events(job)}
    assert verify(store.database).whole
    assert {ident: kept.get(ident) for ident in acknowledged} == acknowledged
    assert sorted(kept.values()) == list(range(1, len(kept) + 1))
    store.close()
