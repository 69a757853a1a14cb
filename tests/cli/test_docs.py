"""Pages tell the truth: help is the program's own, the tutorial runs, words are fixed."""

from __future__ import annotations

import inspect
import re
import shlex
from pathlib import Path

import pytest
from tests.cli.conftest import Run

from sillwright import lengths, setting, survey
from sillwright.cli.reference import page
from sillwright.explain import KINDS
from sillwright.explain.sill import TERMS
from sillwright.flashing import schemes
from sillwright.setting.rates import by_the_inch, rates

ROOT = Path(__file__).parents[2]
DOCS = ROOT / "docs"
TUTORIAL = (DOCS / "tutorial.md").read_text(encoding="utf-8")
GLOSSARY = (DOCS / "glossary.md").read_text(encoding="utf-8")
BLOCKS = re.findall(r"^```(\w+)(?: (\S+))?\n(.*?)^```$", TUTORIAL, re.MULTILINE | re.DOTALL)


def test_the_page_on_commands_is_the_programs_own_help() -> None:
    assert (DOCS / "cli.md").read_text(encoding="utf-8") == page(), (
        "run: python -m sillwright.cli.reference docs/cli.md"
    )


def test_the_tutorial_runs_and_prints_what_it_says(run: Run, here: Path) -> None:
    said, ran = "", 0
    for kind, name, text in BLOCKS:
        if kind == "csv":
            (here / name).write_text(text, encoding="utf-8")
        elif kind == "sh":
            said = ""
            for line in text.splitlines():
                done = run(*shlex.split(line)[1:])
                assert done.code == 0, f"{line}: {done.err}"
                said += done.out
                ran += 1
        else:
            flat = " ".join(said.split())
            for line in text.splitlines():
                assert " ".join(line.split()) in flat, line
    assert ran == TUTORIAL.count("\nsillwright ")
    assert (here / "reading-form.pdf").exists()
    assert (here / "kitchen" / "packet.pdf").exists()


def test_every_shell_block_of_the_tutorial_is_of_a_kind_that_is_run() -> None:
    assert {kind for kind, _, _ in BLOCKS} == {"sh", "csv", "text"}
    assert TUTORIAL.count("```") == 2 * len(BLOCKS)


def test_the_page_on_water_shows_commands_and_changes_that_work(run: Run, here: Path) -> None:
    page_ = (DOCS / "water.md").read_text(encoding="utf-8")
    assert run("new", "job.toml").code == 0
    commands = [line.split("   ")[0] for line in page_.splitlines() if line.startswith("sillwright ")]
    assert len(commands) == 8
    for line in commands:
        assert run(*shlex.split(line)[1:]).code == 0, line
    for name in re.findall(r"^\| ([a-z][a-z, ]+) \|", page_.split("| scheme | suits |")[1], re.MULTILINE):
        assert any(card.scheme.name == name for card in schemes()), name
    job = (here / "job.toml").read_text(encoding="utf-8")
    start, end = job.index("# How the openings are kept dry"), job.index("# What you have to bring the sill")
    (changes,) = re.findall(r"```toml\n(.*?)```", page_, re.DOTALL)
    (here / "changed.toml").write_text(job[:start] + changes + job[end:], encoding="utf-8")
    assert "nothing wrong" in run("check", "changed.toml").out


def test_the_page_on_structure_shows_commands_that_work_and_what_they_print(run: Run) -> None:
    page_ = (DOCS / "structure.md").read_text(encoding="utf-8")
    commands = [line for line in page_.splitlines() if line.startswith("sillwright ")]
    assert len(commands) == 3
    said = ""
    for line in commands:
        done = run(*shlex.split(line)[1:])
        assert done.code == 0, f"{line}: {done.err}"
        said += " ".join(done.out.split())
    (shown,) = re.findall(r"^```text\n(.*?)^```$", page_, re.MULTILINE | re.DOTALL)
    assert "governs" in shown
    for line in shown.splitlines():
        assert " ".join(line.split()) in said, line


@pytest.mark.parametrize("path", [ROOT / "README.md", *sorted(DOCS.glob("*.md"))], ids=lambda path: path.name)
def test_links_lead_to_files(path: Path) -> None:
    for target in re.findall(r"\]\(([^)#]+)(?:#[^)]*)?\)", path.read_text(encoding="utf-8")):
        assert (path.parent / target).exists(), target


def test_the_readme_gives_two_commands_and_no_others_to_begin_with() -> None:
    readme = (ROOT / "README.md").read_text(encoding="utf-8")
    assert re.findall(r"^```\n(.*?)^```$", readme, re.MULTILINE | re.DOTALL)[0] == "make demo\nmake test\n"


def _rows(heading: str) -> list[list[str]]:
    section = GLOSSARY.split(f"## {heading}\n")[1].split("\n## ")[0]
    rows = [line for line in section.splitlines() if line.startswith("| ")][2:]
    return [[cell.strip() for cell in row.strip("|").split("|")] for row in rows]


def test_the_glossary_has_every_parameter_of_the_public_functions() -> None:
    named = {name for row in _rows("In the program") for name in row[0].split(", ")}
    for package in (lengths, survey, setting):
        for public in package.__all__:
            function = getattr(package, public)
            if inspect.isfunction(function):
                assert set(inspect.signature(function).parameters) <= named, public


def test_the_glossary_has_every_kind_that_can_be_explained() -> None:
    assert {row[0]: row[1] for row in _rows("What `sillwright explain` answers")} == KINDS


def test_the_words_of_the_glossary_stand_in_order_and_once() -> None:
    words = [row[0] for row in _rows("On the wall")]
    assert words == sorted(set(words))


def test_every_part_of_the_work_has_words() -> None:
    assert set(TERMS) == set(rates())


def test_lengths_among_the_parts_are_those_whose_rate_is_by_the_inch() -> None:
    table = (ROOT / "src/sillwright/setting/data/minutes.csv").read_text(encoding="utf-8")
    rows = [line.split(",", 3) for line in table.splitlines() if line[0] != "#"][1:]
    assert {name for name, _, _, what in rows if what.startswith("each inch")} == by_the_inch()
    assert {per for _, _, per, _ in rows} == {"one", "inch"}
