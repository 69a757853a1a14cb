"""The page: its files and nothing beside them, no data in it, one version."""

from __future__ import annotations

import ast
import json
import re
import tomllib
from collections.abc import Iterator, Mapping
from pathlib import Path
from typing import Any

import pytest
from fastapi.testclient import TestClient
from tests.web.phones import Phone, faults

import sillwright
from sillwright.wording import fault, say, section

SOURCE = Path(sillwright.__path__[0])

WAYS_OUT = [
    "/static/../app.py",
    "/static/..%2fapp.py",
    "/static/%2e%2e/app.py",
    "/static/....//app.py",
    "/static//etc/passwd",
    "/static/%2fetc%2fpasswd",
    "/static/..\\app.py",
    "/static/",
    "/static",
    "/static/screens",
    "/static/app.js%00.css",
    "/font/../../../etc/passwd",
    "/font/..%2f..%2fpyproject.toml",
    "/font/LICENSE",
    "/templates/shell.html",
    "/openapi.json",
    "/docs",
]


@pytest.mark.parametrize("path", WAYS_OUT)
def test_there_is_no_way_out_of_the_pages_files(client: TestClient, path: str) -> None:
    faults(client.get(path), 404)


def test_the_page_has_no_data_and_no_inline_script(phone: Phone) -> None:
    phone.client.post("/api/jobs", json={"starter": "blank", "title": "Nobody's secret wall"})
    page = phone.client.get("/").text
    assert "secret" not in page
    for tag in re.findall(r"<script[^>]*>", page):
        assert "src=" in tag
    assert "<style" not in page
    assert " style=" not in page
    assert not re.search(r"(https?:)?//[a-z]", page)


def test_the_service_worker_names_every_file_of_one_version(client: TestClient) -> None:
    answer = client.get("/sw.js")
    assert answer.headers["cache-control"] == "no-cache"
    assert answer.headers["content-type"].startswith("text/javascript")
    line = answer.text.split("\n", maxsplit=1)[0]
    shell = json.loads(line.removeprefix("self.SHELL = ").removesuffix(";"))
    assert shell["version"] in client.get("/").text
    assert {"/", "/drawing.css", "/static/app.js", "/font/SourceSansPro-Regular.ttf"} <= set(shell["files"])
    for path in shell["files"]:
        answer = client.get(path)
        assert answer.status_code == 200, path
        assert "text/plain" not in answer.headers["content-type"], path


def test_the_page_asks_only_for_files_that_the_service_worker_keeps(client: TestClient) -> None:
    kept = client.get("/sw.js").text.split("\n", maxsplit=1)[0]
    for path in re.findall(r'(?:src|href)="([^"]+)"', client.get("/").text):
        assert f'"{path}"' in kept, path


def test_drawings_have_their_looks_in_one_sheet(client: TestClient) -> None:
    answer = client.get("/drawing.css")
    assert answer.headers["content-type"].startswith("text/css")
    assert ".sillwright .pencil" in answer.text
    assert "<" not in answer.text


def test_plain_mode_has_no_certificate(client: TestClient) -> None:
    assert "--trust" in faults(client.get("/trust"), 404)[0]["fix"]


# --- words --------------------------------------------------------------------------------------------------


def names(words: Mapping[str, Any], around: str = "") -> Iterator[str]:
    for key, value in words.items():
        if isinstance(value, str):
            yield f"{around}{key}"
        else:
            yield from names(value, f"{around}{key}.")


def patterns() -> list[re.Pattern[str]]:
    """Return what each call of the catalogue in the source may ask for, one pattern a call."""
    found = []
    for path in sorted(SOURCE.rglob("*.py")):
        for node in ast.walk(ast.parse(path.read_text(encoding="utf-8"))):
            if not isinstance(node, ast.Call) or not isinstance(node.func, ast.Name) or not node.args:
                continue
            if node.func.id not in ("say", "fault", "word", "section"):
                continue
            text = _text(node.args[0])
            if text is not None:
                ending = {"fault": r"\.(what|fix)", "section": r"\..+"}.get(node.func.id, "")
                found.append(re.compile(text + ending))
    return found


def _text(node: ast.expr) -> str | None:
    match node:
        case ast.Constant(value=str(value)):
            return re.escape(value)
        case ast.JoinedStr(values=parts):
            return "".join(
                ".+" if isinstance(part, ast.FormattedValue) else _text(part) or "" for part in parts
            )
        case ast.IfExp(body=body, orelse=orelse):
            return f"(?:{_text(body)}|{_text(orelse)})"
        case _:
            return None


def test_every_text_of_the_catalogue_is_used_and_every_one_asked_for_is_there() -> None:

    words = tomllib.loads((SOURCE / "wording" / "words.toml").read_text(encoding="utf-8"))
    known = set(names(words))
    asked = patterns()
    # kept in tables of names and asked for by what is in them
    by_name = re.compile(r"(store|starter|work|broken|event|screen|column)\..+")
    unused = {name for name in known if not any(each.fullmatch(name) for each in asked)}
    assert {name for name in unused if not by_name.fullmatch(name)} == set()
    plain = {each.pattern.replace("\\", "") for each in asked}
    missing = {
        name for name in plain if re.fullmatch(r"[a-z_.]+", name) and name not in known and "." in name
    }
    assert not {name for name in missing if name.split(".")[0] in words}


def test_a_text_says_what_it_lacks() -> None:
    assert say("act.pad") == "Pads"
    assert fault("request.no_job", "x").advice
    assert section("screen")["measure"] == "Measure"
    with pytest.raises(KeyError):
        say("hold.closed.what")
    with pytest.raises(KeyError):
        say("screen")
    with pytest.raises(KeyError):
        say("nothing.there")
