"""A folder to work in, and commands run in it."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass
from pathlib import Path

import pytest
from tests.plan_fixture import JOB_TEXT

from sillwright.cli import main


@dataclass(frozen=True, slots=True)
class Ran:
    """What a command left behind."""

    code: int
    out: str
    err: str


Run = Callable[..., Ran]


@pytest.fixture
def here(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> Path:
    """Return an empty folder that commands run in."""
    monkeypatch.chdir(tmp_path)
    return tmp_path


@pytest.fixture
def run(here: Path, capsys: pytest.CaptureFixture[str]) -> Run:
    """Return a function that runs one command."""

    def command(*arguments: str) -> Ran:
        capsys.readouterr()
        code = main(arguments)
        said = capsys.readouterr()
        return Ran(code, said.out, said.err)

    return command


@pytest.fixture
def job(here: Path) -> Path:
    """Return a small sound job file."""
    path = here / "wall.toml"
    path.write_text(JOB_TEXT, encoding="utf-8")
    return path
