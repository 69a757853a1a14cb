from __future__ import annotations

import json
import tomllib
from pathlib import Path
from typing import Any

import pytest
from hypothesis import given, settings
from jsonschema import Draft202012Validator
from tests.job.documents import EXAMPLES, ROOT, SMALL, jobs, text_of

from sillwright.job import dump_job, job_schema, read_job, starter
from sillwright.job.reference import job_reference

VALIDATOR = Draft202012Validator(job_schema())
REFUSED = [
    ("title = ", "titel = "),
    ('{ middle = "36 3/16" }', "{ middle = true }"),
    ('{ middle = "36 3/16" }', "{ middle = [] }"),
    ('{ middle = "36 3/16" }', "{ middle = { sd = 1 } }"),
    ('["1/8"]', "[]"),
    ('["1/8"]', "[{ thin = 1 }]"),
    ("sillwright = 1", "sillwright = 2"),
    ("sillwright = 1", 'sillwright = 1\nunits = "cm"'),
]


def test_the_schema_is_one_of_the_dialect_it_names() -> None:
    schema = job_schema()
    assert schema["$schema"] == "https://json-schema.org/draft/2020-12/schema"
    Draft202012Validator.check_schema(schema)


def test_the_published_schema_is_not_stale() -> None:
    published = json.loads((ROOT / "docs" / "job.schema.json").read_text(encoding="utf-8"))
    assert published == job_schema(), "run: python -m sillwright.job.reference docs"


def test_the_published_reference_is_not_stale() -> None:
    published = (ROOT / "docs" / "job-file.md").read_text(encoding="utf-8")
    assert published == job_reference(), "run: python -m sillwright.job.reference docs"


@pytest.mark.parametrize("path", EXAMPLES, ids=lambda p: p.stem)
def test_an_example_validates_as_written_and_as_written_out(path: Path) -> None:
    text = text_of(path)
    VALIDATOR.validate(tomllib.loads(text))
    VALIDATOR.validate(tomllib.loads(dump_job(read_job(text))))


@pytest.mark.parametrize("text", [starter("in"), starter("mm"), SMALL])
def test_a_starter_validates(text: str) -> None:
    VALIDATOR.validate(tomllib.loads(text))


@settings(deadline=None)
@given(jobs())
def test_what_the_program_reads_the_schema_allows(data: dict[str, Any]) -> None:
    VALIDATOR.validate(data)


@pytest.mark.parametrize(("before", "after"), REFUSED)
def test_what_the_schema_refuses_the_program_refuses_too(before: str, after: str) -> None:
    text = SMALL.replace(before, after)
    assert text != SMALL
    assert not VALIDATOR.is_valid(tomllib.loads(text))
    with pytest.raises(ValueError, match=r"\w"):
        read_job(text)


def test_every_key_of_the_schema_is_described() -> None:
    schema = job_schema()
    for definition in [schema, *schema["$defs"].values()]:
        for table in [definition, *definition.get("anyOf", [])]:
            for key, field in table.get("properties", {}).items():
                assert field.get("description"), key
