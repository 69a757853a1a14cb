from __future__ import annotations

from sillwright.job.fields import field_docs
from sillwright.job.model import Job
from sillwright.job.problems import keys_at, model_in
from sillwright.job.reference import job_reference
from sillwright.job.values import Model


def models(table: type[Model]) -> set[type[Model]]:
    inside = [model for field in table.model_fields.values() if (model := model_in(field.annotation))]
    return {table}.union(*(models(each) for each in inside))


def test_every_key_of_every_table_says_what_it_is() -> None:
    for model in models(Job):
        docs = field_docs(model.__name__)
        assert docs.about
        assert set(docs.fields) == set(model.model_fields), model.__name__


def test_the_reference_has_every_key() -> None:
    page = job_reference()
    for model in models(Job):
        for key in model.model_fields:
            if key not in ("spread", "text"):
                assert f"| `{key}` |" in page or f"`[{key}]`" in page or f"`[[{key}]]`" in page, key


def test_limits_defaults_and_needs_are_told() -> None:
    page = job_reference()
    assert "| `frame_width` | Outside width of the frame. | length, more than 0 | **needed** |" in page
    assert "| length, more than 0 | 1/32 in |" in page
    assert '| `"outer"` or `"inner"` | `"outer"` |' in page
    assert "| `openings` | Their names. | list of texts | **needed** |" in page


def test_keys_are_known_at_their_place() -> None:
    assert keys_at(("opening", 0, "width")) == ["bottom", "middle", "top"]
    assert keys_at(("opening", 0, "width", "middle")) == ["value", "sd", "instrument", "by", "note"]
    assert keys_at(("title",)) == []
