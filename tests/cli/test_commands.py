"""Commands as people type them: what they write, what they say, how they end."""

from __future__ import annotations

import json
import os
import subprocess
import sys
from pathlib import Path

import pytest
from pypdf import PdfReader
from tests.cli.conftest import Run
from tests.plan_fixture import JOB_TEXT

from sillwright import __version__
from sillwright.job import read_job

WIDTH_LINE = JOB_TEXT[: JOB_TEXT.index("width = {")].count("\n") + 1
CSV = "kind,opening,place,value\nheight,A,centre,48 1/4\nwidth,A,middle,36 shy\n"


def test_the_version_is_told(run: Run) -> None:
    assert run("--version").out.strip() == f"Sillwright {__version__}"


@pytest.mark.parametrize("arguments", [(), ("--help",), ("-h",)])
def test_help_lists_every_command(run: Run, arguments: tuple[str, ...]) -> None:
    ran = run(*arguments)
    assert ran.code == 0
    for command in ("new", "check", "plan", "explain", "import", "form"):
        assert f"  {command}: " in ran.out


@pytest.mark.parametrize(
    ("arguments", "message"),
    [
        (("pln", "x"), 'Did you mean "plan"?'),
        (("plan", "x", "--outt", "y"), "Did you mean --out"),
        (("plan",), "JOB is missing"),
        (("plan", "x"), "--out is missing"),
        (("plan", "x", "--out", "y", "--paper", "b5"), '"letter", "a4"'),
        (("new", "--units", "cm"), '"in", "mm"'),
        (("check", "a", "b"), "b"),
        (("explain", "x"), "ID is missing"),
    ],
)
def test_a_command_typed_wrong_is_told_what_is_wrong_and_where_help_is(
    run: Run, arguments: tuple[str, ...], message: str
) -> None:
    ran = run(*arguments)
    assert ran.code == 2
    assert message in ran.err
    assert "--help" in ran.err
    assert "Traceback" not in ran.err
    assert ran.out == ""


@pytest.mark.parametrize("units", ["in", "mm"])
def test_a_new_job_file_is_sound(run: Run, here: Path, units: str) -> None:
    assert run("new", "wall.toml", "--units", units).code == 0
    assert read_job((here / "wall.toml").read_text(encoding="utf-8")).units == units
    ran = run("check", "wall.toml")
    assert ran.code == 0
    assert "nothing wrong. 1 opening, 1 unit" in ran.out


def test_a_new_job_file_never_takes_the_place_of_another(run: Run, here: Path) -> None:
    (here / "job.toml").write_text("mine", encoding="utf-8")
    ran = run("new")
    assert ran.code == 1
    assert "is there already" in ran.err
    assert (here / "job.toml").read_text(encoding="utf-8") == "mine"


def test_check_tells_all_faults_with_line_and_advice(run: Run, job: Path) -> None:
    text = job.read_text(encoding="utf-8")
    text = text.replace("frame_width = 35", "frame_widht = 35").replace('"37 1/8"', '"37 1/7"')
    job.write_text(text, encoding="utf-8")
    ran = run("check", "wall.toml")
    assert ran.code == 2
    assert ran.err.startswith("wall.toml: ")
    assert "Did you mean 'frame_width'?" in ran.err
    assert f"line {WIDTH_LINE}" in ran.err
    assert "37 1/7" in ran.err
    assert "did you mean 37 1/8" in ran.err


def test_plan_writes_the_whole_folder(run: Run, here: Path, job: Path) -> None:
    ran = run("plan", "wall.toml", "--out", "out")
    assert ran.code == 0, ran.err
    assert ran.err == ""
    out = here / "out"
    data = json.loads((out / "plan.json").read_text(encoding="utf-8"))
    assert data["title"] == "Invented back wall"
    assert (out / "packet.pdf").read_bytes().startswith(b"%PDF")
    drawings = sorted(each.name for each in (out / "drawings").iterdir())
    assert drawings
    assert {each.rpartition(".")[2] for each in drawings} == {"svg", "dxf"}
    assert len({each.rpartition(".")[0] for each in drawings}) * 2 == len(drawings)
    assert "Packet to print: out/packet.pdf" in ran.out
    assert "sillwright explain wall.toml ID" in ran.out
    assert sorted(each.name for each in here.iterdir()) == ["out", "wall.toml"]


def test_plan_can_leave_the_packet_out(run: Run, here: Path, job: Path) -> None:
    assert run("plan", "wall.toml", "--out", "deep/in/out", "--no-packet").code == 0
    assert (here / "deep/in/out/plan.json").exists()
    assert not (here / "deep/in/out/packet.pdf").exists()


def test_the_same_job_gives_the_same_files_byte_for_byte(run: Run, here: Path, job: Path) -> None:
    for out in ("one", "two"):
        assert run("plan", "wall.toml", "--out", out).code == 0
    for path in (here / "one").rglob("*.*"):
        assert path.read_bytes() == (here / "two" / path.relative_to(here / "one")).read_bytes(), path.name


def test_the_summary_tells_suspects_first_then_what_to_do(run: Run, job: Path) -> None:
    said = run("plan", "wall.toml", "--out", "out", "--no-packet").out
    places = [
        said.index(each) for each in ("Readings", "Findings", "Level line", "Units", "sillwright explain")
    ]
    assert places == sorted(places)
    assert f"line {WIDTH_LINE}, opening[0].width.middle" in said
    assert "\x1b" not in said


def test_a_number_of_the_plan_is_explained(run: Run, job: Path) -> None:
    ran = run("explain", "wall.toml", "A.width.middle")
    assert ran.code == 0
    assert "37 1/8" in ran.out
    assert f"(line {WIDTH_LINE})" in ran.out


def test_an_unknown_number_is_answered_with_the_nearest(run: Run, job: Path) -> None:
    ran = run("explain", "wall.toml", "A.width.midle")
    assert ran.code == 2
    assert "Did you mean A.width.middle" in ran.err


def test_readings_are_added_in_place_and_all_else_stays(run: Run, here: Path, job: Path) -> None:
    before = job.read_text(encoding="utf-8")
    (here / "more.csv").write_text(CSV, encoding="utf-8")
    ran = run("import", "wall.toml", "more.csv")
    assert ran.code == 0, ran.err
    assert "2 readings" in ran.out
    after = job.read_text(encoding="utf-8")
    opening = read_job(after).opening[0]
    assert opening.height.centre is not None
    assert len(opening.width.middle or ()) == 2
    assert after.startswith(before[: before.index("[[opening]]")])
    assert sorted(each.name for each in here.iterdir()) == ["more.csv", "wall.toml"]


def test_readings_can_go_to_a_new_file_but_never_over_one(run: Run, here: Path, job: Path) -> None:
    before = job.read_bytes()
    (here / "more.csv").write_text(CSV, encoding="utf-8")
    assert run("import", "wall.toml", "more.csv", "--out", "new.toml").code == 0
    assert job.read_bytes() == before
    assert run("import", "wall.toml", "more.csv", "--out", "new.toml").code == 1


def test_bad_rows_leave_the_job_file_as_it_was(run: Run, here: Path, job: Path) -> None:
    before = job.read_bytes()
    (here / "more.csv").write_text("kind,opening,place,value\nwidth,Z,middle,36 1/7\n", encoding="utf-8")
    ran = run("import", "wall.toml", "more.csv")
    assert ran.code == 2
    assert ran.err.startswith("more.csv: ")
    assert job.read_bytes() == before


@pytest.mark.parametrize("units", ["in", "mm"])
def test_the_blank_form_is_a_pdf_and_overwrites_nothing(run: Run, here: Path, units: str) -> None:
    assert run("form", "--units", units, "--out", "form.pdf").code == 0
    assert (here / "form.pdf").read_bytes().startswith(b"%PDF")
    assert run("form", "--out", "form.pdf").code == 1


def test_the_form_can_name_the_openings_of_a_job(run: Run, here: Path, job: Path) -> None:
    assert run("form", "wall.toml").code == 0
    text = "".join(page.extract_text() for page in PdfReader(here / "reading-form.pdf").pages)
    assert "Opening A" in text
    assert "M1" in text


def _shell(*arguments: str, **environment: str) -> subprocess.CompletedProcess[bytes]:
    command = [
        sys.executable,
        "-c",
        "import sys; from sillwright.cli import main; sys.exit(main())",
        *arguments,
    ]
    return subprocess.run(  # noqa: S603  our own program
        command, capture_output=True, check=False, env={**os.environ, **environment}, timeout=60
    )


def test_the_program_exits_with_the_code_and_keeps_talk_and_faults_apart(here: Path) -> None:
    ran = _shell("check", "nope.toml")
    assert ran.returncode == 2
    assert ran.stdout == b""
    assert b"there is no such file" in ran.stderr


def test_a_terminal_without_the_sign_is_no_reason_to_fail(job: Path) -> None:
    ran = _shell("explain", str(job), "A.width.middle", PYTHONIOENCODING="ascii", PYTHONUTF8="0")
    assert ran.returncode == 0, ran.stderr
    assert b"? 0.0" in ran.stdout


def test_a_reader_that_has_seen_enough_is_no_fault(job: Path) -> None:
    command = [sys.executable, "-c", "import sys; from sillwright.cli import main; sys.exit(main())"]
    with subprocess.Popen(  # noqa: S603  our own program
        [*command, "check", str(job)], stdout=subprocess.PIPE, stderr=subprocess.PIPE
    ) as ran:
        assert ran.stdout is not None
        assert ran.stderr is not None
        ran.stdout.close()
        said = ran.stderr.read()
        assert ran.wait(timeout=60) == 0
    assert said == b""


@pytest.mark.skipif(not Path("/dev/full").exists(), reason="needs a device that is always full")
def test_output_that_cannot_be_written_is_told(job: Path) -> None:
    command = [sys.executable, "-c", "import sys; from sillwright.cli import main; sys.exit(main())"]
    with Path("/dev/full").open("wb") as full:
        ran = subprocess.run(  # noqa: S603  our own program
            [*command, "check", str(job)], stdout=full, stderr=subprocess.PIPE, check=False, timeout=60
        )
    assert ran.returncode == 1
    assert ran.stderr.startswith(b"The output cannot be written: ")
    assert b"Exception" not in ran.stderr


def test_help_does_not_wait_for_what_only_plans_need(here: Path) -> None:
    code = (
        "import sys; from sillwright.cli import main; main(['--help']);"
        "print(sorted({'numpy', 'scipy', 'ezdxf', 'typst', 'highspy', 'pydantic'} & set(sys.modules)))"
    )
    ran = subprocess.run(  # noqa: S603  our own program
        [sys.executable, "-c", code], capture_output=True, check=True, timeout=60
    )
    assert ran.stdout.rstrip().endswith(b"[]")
