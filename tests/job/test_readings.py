"""Readings one by one: a job file's text and a plain list of readings, changed side by side, agree."""

from __future__ import annotations

import random
from pathlib import Path

import pytest

from sillwright.errors import BadInput
from sillwright.job import (
    add_reading,
    add_readings,
    change_reading,
    drop_reading,
    filed_readings,
    read_job,
    remove_value,
    set_value,
    starter,
)
from sillwright.survey import cleanse, report

EXAMPLES = sorted((Path(__file__).parents[2] / "examples").glob("*.toml"))
TEXTS = [path.read_text(encoding="utf-8") for path in EXAMPLES]
IDS = [path.stem.split("-")[0] for path in EXAMPLES]
READING = ("value", "sd", "instrument", "by", "note")


def told(text: str) -> dict[str, tuple[str, dict[str, str]]]:
    return {each.path: (each.kind, dict(each.cells)) for each in filed_readings(read_job(text))}


def comments(text: str) -> list[str]:
    return [line.split("#", 1)[1] for line in text.splitlines() if "#" in line and '"' not in line]


def moved_by(moved: object, path: str) -> str:
    assert isinstance(moved, dict)
    return str(moved.get(path, path))


class Walk:
    """A text and what its readings must be, by names of our own."""

    def __init__(self, text: str) -> None:
        self.text = text
        self.where = {f"file {path}": path for path in told(text)}
        self.cells = {f"file {path}": cells for path, cells in told(text).items()}

    def add(self, name: str, kind: str, cells: dict[str, str]) -> None:
        edited = add_reading(self.text, {"kind": kind, **cells})
        self.where = {key: moved_by(edited.moved, path) for key, path in self.where.items()}
        self.where[name] = edited.path
        self.cells[name] = (
            kind,
            {"edge": "outer", **cells} if "edge" in told(edited.text)[edited.path][1] else cells,
        )
        self.text = edited.text

    def change(self, name: str, value: str) -> None:
        kind, cells = self.cells[name]
        self.text = change_reading(self.text, self.where[name], {"value": value, "note": "again"}).text
        kept = {key: cell for key, cell in cells.items() if key not in READING}
        self.cells[name] = (kind, {**kept, "value": value, "note": "again"})

    def drop(self, name: str) -> None:
        edited = drop_reading(self.text, self.where.pop(name))
        del self.cells[name]
        self.where = {key: moved_by(edited.moved, path) for key, path in self.where.items()}
        self.text = edited.text

    def check(self) -> None:
        found = told(self.text)
        assert sorted(found) == sorted(self.where.values())
        for name, path in self.where.items():
            assert found[path] == self.cells[name], name


@pytest.mark.parametrize("text", TEXTS, ids=IDS)
def test_text_and_list_agree_through_adding_changing_and_taking_out(text: str) -> None:
    chance = random.Random(20260504)  # noqa: S311  a fixed walk
    walk = Walk(text)
    unit = read_job(text).units
    size = {"in": ("36 5/16", "36 5/16 strong", "1/4", "35.5"), "mm": ("922", "921.5", "922 strong", "6")}[
        unit
    ]
    kinds = [
        (kind, {k: v for k, v in cells.items() if k not in READING}) for kind, cells in walk.cells.values()
    ]
    for step in range(30):
        what = chance.random()
        name = chance.choice(sorted(walk.where))
        if what < 0.45:
            kind, cells = chance.choice(kinds)
            walk.add(f"added {step}", kind, {**cells, "value": chance.choice(size)})
        elif what < 0.7:
            walk.change(name, chance.choice(size))
        else:
            walk.drop(name)
        walk.check()
    assert comments(walk.text) == comments(text)


def test_what_the_survey_calls_a_place_is_what_we_call_it() -> None:
    job = read_job(TEXTS[0])
    surveyed = {each.path for each in report(job, cleanse(job)).readings}
    assert surveyed <= {each.path for each in filed_readings(job)}
    assert len(surveyed) > 30


@pytest.mark.parametrize("text", TEXTS, ids=IDS)
def test_many_readings_added_at_once_are_as_if_added_one_by_one(text: str) -> None:
    chance = random.Random(7)  # noqa: S311  a fixed choice
    value = {"in": "36 5/16", "mm": "922"}[read_job(text).units]
    cells = [
        {
            "kind": kind,
            **{key: cell for key, cell in told_cells.items() if key not in READING},
            "value": value,
        }
        for kind, told_cells in told(text).values()
    ]
    opening = read_job(text).opening[0].name
    hung = {"kind": "plumb_line", "opening": opening, "place": "left", "value": "1"}
    fresh = [{**hung, "at_height": height} for height in ("30", "12", "21")]
    shot = {"kind": "sill", "setup": "new one", "setup_x": "50", "opening": opening, "x": "50", "value": "20"}
    many = [*chance.choices(cells, k=25), *fresh, shot, {**shot, "x": "60"}, *chance.choices(cells, k=5)]
    chance.shuffle(many)
    one = text
    paths: list[str] = []
    moved = {path: path for path in told(text)}
    for each in many:
        edited = add_reading(one, each)
        one = edited.text
        moved = {old: edited.moved.get(new, new) for old, new in moved.items()}
        paths = [edited.moved.get(path, path) for path in paths] + [edited.path]
    added = add_readings(text, many)
    assert added.text == one
    assert [each.path for each in added.readings] == paths
    assert added.moved == {old: new for old, new in moved.items() if old != new}


def test_a_second_reading_of_a_place_keeps_the_first() -> None:
    edited = add_reading(
        starter("in"), {"kind": "width", "opening": "A", "place": "middle", "value": "36 3/8 shy"}
    )
    assert edited.path == "opening[0].width.middle[1]"
    assert edited.moved == {"opening[0].width.middle": "opening[0].width.middle[0]"}
    assert 'middle = ["36 1/4", "36 3/8 shy"]' in edited.text


def test_taking_out_the_second_of_two_leaves_the_text_as_it_was() -> None:
    before = starter("in")
    edited = add_reading(before, {"kind": "width", "opening": "A", "place": "middle", "value": "36 3/8"})
    assert drop_reading(edited.text, edited.path).text == before


def test_a_new_set_up_is_added_and_goes_with_its_last_shot() -> None:
    before = starter("in")
    shot = {"kind": "mark", "setup": "from the road", "setup_x": "12", "place": "M1", "value": "31 1/2"}
    edited = add_reading(before, shot)
    assert read_job(edited.text).setup[1].name == "from the road"
    assert drop_reading(edited.text, edited.path).text.rstrip() == before.rstrip()


def test_a_set_up_that_shoots_the_pads_again_starts_with_its_marks() -> None:
    shot = {
        "kind": "mark",
        "setup": "after",
        "setup_x": "12",
        "again": "yes",
        "place": "M1",
        "value": "31 1/2",
    }
    edited = add_reading(starter("in"), shot)
    assert edited.path == "reshoot[0].series[0].down"
    pad = {"kind": "pad", "setup": "after", "place": "1", "value": "27"}
    assert add_reading(edited.text, pad).path == "reshoot[0].series[1].down"


def test_faults_name_the_cell_and_not_a_spreadsheet() -> None:
    with pytest.raises(BadInput) as caught:
        add_reading(starter("in"), {"kind": "width", "opening": "Z", "place": "middle", "value": "36 7/17"})
    assert [fault.where for fault in caught.value.faults] == ["value"]
    with pytest.raises(BadInput) as caught:
        add_reading(starter("in"), {"kind": "width", "opening": "Z", "place": "middle", "value": "36"})
    assert [fault.where for fault in caught.value.faults] == ["opening"]


def test_a_change_cannot_make_another_reading_of_it() -> None:
    with pytest.raises(BadInput, match="cannot be changed"):
        change_reading(starter("in"), "opening[0].width.middle", {"value": "36", "place": "top"})
    with pytest.raises(KeyError):
        change_reading(starter("in"), "opening[0].width_inner.middle", {"value": "36"})


def test_a_shot_can_move_along_the_sill() -> None:
    text = change_reading(
        starter("in"), "setup[0].series[2].down", {"value": "26 1/4", "x": "33", "edge": "inner"}
    ).text
    shot = read_job(text).setup[0].series[2]
    assert (shot.x, shot.edge, shot.down[0].text) == (33.0, "inner", "26 1/4")


SAMPLE = """\
top = 1 # one
list = [ 1, 2, # two
  3,
  { a = 1, b = 2 }, # four
]
[table]
key = "x" # said
in.side = 4
other = { deep.a = 1, deep.b = 2 }

# above
[[many]]
n = 1

[[many]]
n = 2
"""


@pytest.mark.parametrize(
    ("path", "gone", "left"),
    [
        ("top", "top = 1 ", "# one\nlist = ["),
        ("list[1]", " 2,", "list = [ 1, # two\n  3,"),
        ("list[2]", "  3,\n", "# two\n  { a = 1"),
        ("list[3]", "  { a = 1, b = 2 }, ", "  3,\n  # four\n]"),
        ("list[3].b", ", b = 2", "{ a = 1 }, # four"),
        ("table.key", 'key = "x" ', "[table]\n# said\nin.side"),
        ("table.in.side", "in.side = 4\n", "# said\nother"),
        ("table.other.deep.a", "deep.a = 1, ", "other = { deep.b = 2 }"),
        ("many[0]", "[[many]]\nn = 1\n", "# above\n[[many]]\nn = 2"),
    ],
)
def test_one_value_goes_and_all_else_stays(path: str, gone: str, left: str) -> None:
    after = remove_value(SAMPLE, path)
    assert left in after
    assert gone not in after or SAMPLE.count(gone) == 2
    assert after.count("#") == SAMPLE.count("#")


@pytest.mark.parametrize("path", ["nothing", "list[7]", "table.other.deep", "many"])
def test_what_is_not_there_or_not_one_thing_cannot_be_taken_out(path: str) -> None:
    with pytest.raises(KeyError):
        remove_value(SAMPLE, path)


def test_a_value_set_after_a_reading_was_taken_out_still_finds_its_table() -> None:
    text = drop_reading(starter("in"), "opening[0].width.middle").text
    assert read_job(set_value(text, "opening[0].near", 3)).opening[0].near == 3.0
