"""Whatever is given, the answer is a plan or a message: no traceback, no half-written folder."""

from __future__ import annotations

import errno
import json
import random
import re
from pathlib import Path

import pytest
from tests.cli.conftest import Ran, Run
from tests.plan_fixture import JOB_TEXT

from sillwright.cli import folder
from sillwright.errors import OutputError

EXAMPLES = sorted((Path(__file__).parents[2] / "examples").glob("*.toml"))

MALFORMED = {
    "empty": b"",
    "blank": b" \n\n",
    "binary": bytes(range(256)),
    "utf-16": JOB_TEXT.encode("utf-16"),
    "nothing but a version": b"sillwright = 1\n",
    "newer version": b"sillwright = 99\n",
    "version as text": b'sillwright = "1"\n',
    "not TOML": b"<job/>",
    "cut off": JOB_TEXT.encode()[:300],
    "deep": b"a = " + b"[" * 5000,
    "unknown key": JOB_TEXT.replace("shim_width", "shim_wdth").encode(),
    "huge number": JOB_TEXT.replace("frame_width = 35", "frame_width = 1e300").encode(),
    "whole number without end": JOB_TEXT.replace("= 35", "= " + "9" * 5000).encode(),
    "not a number": JOB_TEXT.replace("x = 50", "x = nan").encode(),
    "infinite": JOB_TEXT.replace("x = 50", "x = inf").encode(),
    "negative size": JOB_TEXT.replace("frame_width = 35", "frame_width = -35").encode(),
    "list for a number": JOB_TEXT.replace("x = 50", "x = [50]").encode(),
    "units of nobody": JOB_TEXT.replace('units = "in"', 'units = "cubits"').encode(),
    "row of strangers": JOB_TEXT.replace('openings = ["A"]', 'openings = ["Z"]').encode(),
    "pad that is not there": (
        JOB_TEXT + '[[reshoot]]\nname="r"\nx=5\nseries=[{mark="M1",down=30},{pad=99,down=26}]\n'
    ).encode(),
}


def _plain(ran: Ran) -> None:
    assert "Traceback" not in ran.err
    assert "its own fault" not in ran.err
    assert (ran.code == 0) == (ran.err == "")


def _only(here: Path, *names: str) -> None:
    assert sorted(each.name for each in here.iterdir()) == sorted(names)


@pytest.mark.parametrize("name", MALFORMED)
@pytest.mark.parametrize("command", ["check", "plan", "explain"])
def test_a_malformed_job_file_is_refused_in_words(run: Run, here: Path, name: str, command: str) -> None:
    (here / "bad.toml").write_bytes(MALFORMED[name])
    more = {"check": (), "plan": ("--out", "out", "--no-packet"), "explain": ("pad.1",)}[command]
    ran = run(command, "bad.toml", *more)
    _plain(ran)
    if command != "check" or name != "pad that is not there":
        assert ran.code == 2
        assert "bad.toml" in ran.err
    _only(here, "bad.toml")


KIT = '[kit]\nshims = ["1/8"]\nshim_width = 1.5\n'
UNIT = JOB_TEXT[JOB_TEXT.index("[[unit]]") : JOB_TEXT.index("[[mark]]")]
SHOTS = '[[setup]]\nname = "s"\nx = 0\nseries = [{ sill = "A", x = 20, down = 30 }]\n'
LITTLE = {
    "an opening": "",
    "a unit": UNIT,
    "a width": UNIT + "width = { middle = 36 }\n",
    "one shot": UNIT + SHOTS,
    "one shot and a width": UNIT + SHOTS + "width = { middle = 36 }\n",
}


def test_a_job_without_openings_is_refused_in_words(run: Run, here: Path) -> None:
    (here / "wall.toml").write_text(f'sillwright = 1\ntitle = "x"\n{KIT}', encoding="utf-8")
    for command in (("plan", "wall.toml", "--out", "out"), ("explain", "wall.toml", "pad.1")):
        ran = run(*command)
        assert ran.code == 2
        assert "no opening" in ran.err
    _only(here, "wall.toml")


@pytest.mark.parametrize("name", LITTLE)
def test_a_job_with_the_least_in_it_is_planned_whole(run: Run, here: Path, name: str) -> None:
    more, _, width = LITTLE[name].partition("width = {")
    opening = '[[opening]]\nname = "A"\n' + (f"width = {{{width}" if width else "")
    text = f'sillwright = 1\ntitle = "x"\n{KIT}{more}{opening}'
    (here / "wall.toml").write_text(text, encoding="utf-8")
    ran = run("plan", "wall.toml", "--out", "out")
    assert ran.code == 0, ran.err
    assert "Not determined: A: " in ran.out
    assert (here / "out" / "packet.pdf").exists()


def test_a_misspelt_key_is_put_right(run: Run, here: Path) -> None:
    (here / "bad.toml").write_bytes(MALFORMED["unknown key"])
    assert "Did you mean 'shim_width'?" in run("plan", "bad.toml", "--out", "out").err


@pytest.mark.parametrize("path", ["nope.toml", ".", "nope/nope.toml", "x" * 5000, "a\0b", "", "wall.toml/x"])
def test_a_job_that_is_no_file_is_refused_in_words(run: Run, here: Path, job: Path, path: str) -> None:
    for command in (
        ("check", path),
        ("plan", path, "--out", "out"),
        ("explain", path, "pad.1"),
        ("import", path, path),
    ):
        ran = run(*command)
        _plain(ran)
        assert ran.code == 2
    _only(here, "wall.toml")


@pytest.mark.parametrize(
    "out", ["wall.toml", "wall.toml/out", ".", "/", "/proc/nope/out", "x" * 300, "a\0b", ""]
)
def test_a_folder_that_cannot_be_written_is_refused_in_words(
    run: Run, here: Path, job: Path, out: str
) -> None:
    before = job.read_bytes()
    ran = run("plan", "wall.toml", "--out", out, "--no-packet")
    _plain(ran)
    assert ran.code == 1
    assert job.read_bytes() == before
    _only(here, "wall.toml")


def test_a_folder_of_something_else_is_left_alone(run: Run, here: Path, job: Path) -> None:
    (here / "photos").mkdir()
    (here / "photos" / "wall.jpg").write_text("picture", encoding="utf-8")
    ran = run("plan", "wall.toml", "--out", "photos", "--no-packet")
    assert ran.code == 1
    assert "'wall.jpg'" in ran.err
    assert (here / "photos" / "wall.jpg").read_text(encoding="utf-8") == "picture"


@pytest.mark.parametrize("stray", ["notes.txt", "drawings/sketch.png"])
def test_a_plan_with_somebodys_file_in_it_is_left_alone(run: Run, here: Path, job: Path, stray: str) -> None:
    plan = ("plan", "wall.toml", "--out", "out", "--no-packet")
    assert run(*plan).code == 0
    (here / "out" / stray).write_text("mine", encoding="utf-8")
    ran = run(*plan)
    assert ran.code == 1
    assert stray in ran.err
    assert (here / "out" / stray).read_text(encoding="utf-8") == "mine"


@pytest.mark.parametrize("text", ["", "[]", "{}", "not JSON", '{"plan_version": ', "[" * 100_000])
def test_a_plan_json_that_is_not_ours_is_left_alone(run: Run, here: Path, job: Path, text: str) -> None:
    (here / "out").mkdir()
    (here / "out" / "plan.json").write_text(text, encoding="utf-8")
    assert run("plan", "wall.toml", "--out", "out", "--no-packet").code == 1
    assert (here / "out" / "plan.json").read_text(encoding="utf-8") == text


def test_an_earlier_plan_is_replaced_whole(run: Run, here: Path, job: Path) -> None:
    plan = ("plan", "wall.toml", "--out", "out", "--no-packet")
    assert run(*plan).code == 0
    (here / "out" / "drawings" / "old.svg").write_text("old", encoding="utf-8")
    job.write_text(JOB_TEXT.replace("Invented back wall", "Other wall"), encoding="utf-8")
    assert run(*plan).code == 0
    assert json.loads((here / "out" / "plan.json").read_text(encoding="utf-8"))["title"] == "Other wall"
    assert not (here / "out" / "drawings" / "old.svg").exists()
    _only(here, "out", "wall.toml")


def test_an_empty_folder_may_be_filled(run: Run, here: Path, job: Path) -> None:
    (here / "out").mkdir()
    assert run("plan", "wall.toml", "--out", "out", "--no-packet").code == 0


@pytest.mark.parametrize("before", [False, True])
@pytest.mark.parametrize("trouble", [OSError(errno.ENOSPC, "No space left on device"), KeyboardInterrupt()])
def test_trouble_in_mid_writing_leaves_things_as_they_were(
    here: Path, monkeypatch: pytest.MonkeyPatch, before: bool, trouble: BaseException
) -> None:
    old = {"plan.json": b'{"plan_version": 1}'}
    if before:
        folder.write_folder(here / "out", old)
    write = Path.write_bytes

    def failing(path: Path, data: bytes) -> int:
        if path.name == "second.svg":
            raise trouble
        return write(path, data)

    monkeypatch.setattr(Path, "write_bytes", failing)
    files = {"plan.json": b"{}", "drawings/first.svg": b"1", "drawings/second.svg": b"2"}
    with pytest.raises((OutputError, KeyboardInterrupt)):
        folder.write_folder(here / "out", files)
    found = {str(each.relative_to(here / "out")): each.read_bytes() for each in (here / "out").rglob("*.*")}
    assert found == (old if before else {})
    _only(here, *(["out"] if before else []))


def test_a_swap_that_fails_puts_the_earlier_plan_back(here: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    folder.write_folder(here / "out", {"plan.json": b'{"plan_version": 1}'})
    rename = Path.rename

    def failing(path: Path, target: Path) -> Path:
        if path.name.endswith(".new"):
            raise OSError(errno.EACCES, "Permission denied")
        return rename(path, target)

    monkeypatch.setattr(Path, "rename", failing)
    with pytest.raises(OutputError, match="Permission denied"):
        folder.write_folder(here / "out", {"plan.json": b"{}"})
    assert (here / "out" / "plan.json").read_bytes() == b'{"plan_version": 1}'
    _only(here, "out")


def test_our_own_fault_is_owned_up_to_and_nothing_is_written(
    run: Run, here: Path, job: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    def failing(*_: object) -> str:
        raise ZeroDivisionError("division by zero")

    monkeypatch.setattr("sillwright.cli.planning.plan_to_json", failing)
    ran = run("plan", "wall.toml", "--out", "out", "--no-packet")
    assert ran.code == 1
    assert "its own fault" in ran.err
    assert "Traceback" not in ran.err
    _only(here, "wall.toml")
    monkeypatch.setenv("SILLWRIGHT_TRACE", "1")
    assert "ZeroDivisionError" in run("plan", "wall.toml", "--out", "out", "--no-packet").err


def test_a_name_cannot_steer_the_terminal_or_leave_the_folder(run: Run, here: Path) -> None:
    nasty = "../../../\\u001b[31mA"
    (here / "bad.toml").write_text(JOB_TEXT.replace('"A"', f'"{nasty}"'), encoding="utf-8")
    ran = run("plan", "bad.toml", "--out", "out", "--no-packet")
    _plain(ran)
    assert "\x1b" not in ran.out + ran.err
    _only(here, "bad.toml", *(["out"] if ran.code == 0 else []))
    assert all(each.is_relative_to(here) for each in here.rglob("*"))


TROUBLE = [
    "",
    "0",
    "-1",
    "1e9",
    "-1e9",
    '"27 7/17"',
    "[]",
    "{}",
    "true",
    "[[",
    '"',
    "nan",
    "99999999999999999999",
    "\x00",
    "é",
]


LENGTHS = ["0", "-2", "300", '"1/2"', "0.001", '"36 1/8 shy"', "25", "40", "[30, 31]", "119999"]
VALUE = re.compile(r'(?<== )("[\d /]+"|\d+)')


def _other_lengths(text: str, seed: int) -> str:
    """Return a job's text with one to three lengths that may or may not make sense."""
    dice = random.Random(seed)  # noqa: S311  no secret
    for found in sorted(
        dice.sample(list(VALUE.finditer(text)), dice.randint(1, 3)), key=lambda each: -each.start()
    ):
        text = text[: found.start()] + dice.choice(LENGTHS) + text[found.end() :]
    return text


def _spoilt(text: str, seed: int) -> str:
    """Return a job's text with one to three things wrong, the same each time."""
    dice = random.Random(seed)  # noqa: S311  no secret
    lines = text.split("\n")
    for _ in range(dice.randint(1, 3)):
        n = dice.randrange(len(lines))
        way = dice.randrange(4)
        if way == 0:
            del lines[n : n + dice.randint(1, 4)]
        elif way == 1:
            lines.insert(n, lines[dice.randrange(len(lines))])
        elif way == 2 and "=" in lines[n]:
            lines[n] = lines[n].partition("=")[0] + "= " + dice.choice(TROUBLE)
        else:
            at = dice.randrange(len(lines[n]) + 1)
            lines[n] = lines[n][:at] + dice.choice(TROUBLE) + lines[n][at + dice.randint(0, 3) :]
    return "\n".join(lines)


@pytest.mark.parametrize("path", EXAMPLES, ids=lambda path: path.stem)
def test_spoilt_job_files_are_checked_or_refused_in_words(run: Run, here: Path, path: Path) -> None:
    text = path.read_text(encoding="utf-8")
    refused = 0
    for seed in range(60):
        (here / "bad.toml").write_text(_spoilt(text, seed), encoding="utf-8")
        ran = run("check", "bad.toml")
        _plain(ran)
        assert ran.code in (0, 2)
        refused += ran.code == 2
    assert refused > 20


def test_spoilt_job_files_are_planned_or_refused_in_words(run: Run, here: Path) -> None:
    planned = 0
    for seed in range(50):
        (here / "bad.toml").write_text(_other_lengths(JOB_TEXT, seed), encoding="utf-8")
        ran = run("plan", "bad.toml", "--out", f"out{seed}", "--no-packet")
        _plain(ran)
        assert ran.code in (0, 2), ran.err
        assert (here / f"out{seed}").exists() == (ran.code == 0)
        planned += ran.code == 0
    assert 5 < planned < 45
    assert not [each.name for each in here.iterdir() if each.name.startswith(".")]
