from __future__ import annotations

from pathlib import Path

import pytest
from tests.job.documents import SMALL

from sillwright.errors import BadInput
from sillwright.job import load_job


def told(path: Path) -> str:
    with pytest.raises(BadInput) as caught:
        load_job(path)
    return str(caught.value)


def test_a_job_file_gives_its_job_and_its_text(tmp_path: Path) -> None:
    path = tmp_path / "job.toml"
    path.write_text(SMALL, encoding="utf-8")
    document = load_job(path)
    assert document.job.title == "Back wall"
    assert document.text == SMALL


def test_a_byte_order_mark_is_passed_over(tmp_path: Path) -> None:
    path = tmp_path / "job.toml"
    path.write_bytes(b"\xef\xbb\xbf" + SMALL.replace("\n", "\r\n").encode())
    assert load_job(path).lines["opening[0].name"] == 10


def test_a_missing_file_says_so(tmp_path: Path) -> None:
    path = tmp_path / "none.toml"
    assert told(path) == f"{path}: there is no such file. Check the name, or start one: sillwright new"
    sheet = tmp_path / "none.csv"
    assert told(sheet) == f"{sheet}: there is no such file. Check the name."


def test_a_folder_is_no_job_file(tmp_path: Path) -> None:
    assert told(tmp_path) == f"{tmp_path}: this is a folder. Name the file in it."


def test_a_file_that_is_no_text_says_where(tmp_path: Path) -> None:
    path = tmp_path / "job.toml"
    path.write_bytes(b"sillwright = 1\ntitle = 'caf\xe9'\n")
    what = "it is not text in UTF-8. Save it as UTF-8 in your editor, and try again."
    assert told(path) == f"line 2, {path}: {what}"


def test_a_name_that_no_file_can_have_is_refused(tmp_path: Path) -> None:
    assert "it cannot be opened: " in told(tmp_path / "a\0b")


def test_an_empty_file_says_how_to_start_one(tmp_path: Path) -> None:
    path = tmp_path / "job.toml"
    path.write_bytes(b"")
    assert told(path) == "job file: the file is empty. Start one with: sillwright new"
