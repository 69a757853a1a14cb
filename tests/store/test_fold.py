"""What events make of a job: readings with their versions, the job file with its comments, ticks."""

from __future__ import annotations

import random
import shutil
import tomllib
from collections.abc import Iterator
from pathlib import Path
from typing import Any

import pytest
from tests.store.jobs import EXAMPLE, OTHER, PHONE, STARTER, event, sent, started, width

from sillwright.job import read_job
from sillwright.store import ReadingState, State, Store, new_id


@pytest.fixture
def store(tmp_path: Path, empty: Path) -> Iterator[Store]:
    shutil.copy(empty, tmp_path / "jobs.db")
    opened = Store(tmp_path / "jobs.db")
    yield opened
    opened.close()


def refused(store: Store, job: str, each: dict[str, Any]) -> list[tuple[str, str]]:
    """Return place and words of the faults of an event that must be refused."""
    outcome = store.append(job, [each], device=PHONE)
    assert not outcome.taken
    return [(fault.where, fault.what) for _, faults in outcome.refused for fault in faults]


def middle(state: State) -> Any:
    return tomllib.loads(state.text)["opening"][0]["width"]["middle"]


def versions(reading: ReadingState) -> list[str | None]:
    return [None if each.values is None else each.values["value"] for each in reading.heads]


def change(reading: str, value: str, *bases: str) -> dict[str, Any]:
    base = bases[0] if len(bases) == 1 else list(bases)
    return event("reading.change", reading_id=reading, base=base, values={"value": value})


def test_readings_of_the_file_have_their_paths_for_names(store: Store) -> None:
    state = store.state(started(store))
    assert "file:opening[0].width.middle" in state.readings
    assert all(reading.path == ident.removeprefix("file:") for ident, reading in state.readings.items())


def test_a_reading_is_added_changed_and_taken_out_in_the_file(store: Store) -> None:
    job = started(store)
    added = width("36 3/8", by="R.")
    ident = added["payload"]["reading_id"]
    sent(store, job, added)
    assert middle(store.state(job)) == ["36 1/4", {"value": "36 3/8", "by": "R."}]
    revised = change(ident, "36 7/16", added["id"])
    sent(store, job, revised)
    assert middle(store.state(job)) == ["36 1/4", "36 7/16"]
    sent(store, job, event("reading.drop", reading_id=ident, base=revised["id"]))
    assert store.state(job).text == STARTER
    assert not store.state(job).conflicts()


def test_two_changes_of_one_version_are_both_kept_until_someone_decides(store: Store) -> None:
    job, added = started(store), width("36 3/8")
    ident = added["payload"]["reading_id"]
    sent(store, job, added)
    one, two = change(ident, "36 1/2", added["id"]), change(ident, "36 5/8", added["id"])
    sent(store, job, one, device=PHONE)
    sent(store, job, two, device=OTHER)
    state = store.state(job)
    assert [reading.id for reading in state.conflicts()] == [ident]
    assert versions(state.readings[ident]) == ["36 1/2", "36 5/8"]
    assert [head.device for head in state.readings[ident].heads] == [PHONE, OTHER]
    assert middle(state)[1] == "36 1/2"
    half = change(ident, "36 9/16", two["id"])  # decides one side only
    sent(store, job, half)
    assert versions(store.state(job).readings[ident]) == ["36 1/2", "36 9/16"]
    sent(store, job, change(ident, "36 5/8", one["id"], half["id"]))
    state = store.state(job)
    assert not state.conflicts()
    assert middle(state)[1] == "36 5/8"


def test_two_people_who_say_the_same_do_not_conflict(store: Store) -> None:
    job, added = started(store), width("36 3/8")
    ident = added["payload"]["reading_id"]
    sent(store, job, added, change(ident, "36", added["id"]), change(ident, "36", added["id"]))
    assert not store.state(job).conflicts()
    assert middle(store.state(job))[1] == 36


def test_a_change_meets_a_reading_taken_out_and_can_bring_it_back(store: Store) -> None:
    job, added = started(store), width("36 3/8")
    ident = added["payload"]["reading_id"]
    gone = event("reading.drop", reading_id=ident, base=added["id"])
    late = change(ident, "36 1/2", added["id"])
    sent(store, job, added, gone, late)
    state = store.state(job)
    assert versions(state.readings[ident]) == [None, "36 1/2"]
    assert state.text == STARTER
    sent(store, job, change(ident, "36 1/2", gone["id"], late["id"]))
    assert middle(store.state(job)) == ["36 1/4", "36 1/2"]
    assert not store.state(job).conflicts()


def test_a_decision_to_take_it_out_ends_a_conflict(store: Store) -> None:
    job, added = started(store), width("36 3/8")
    ident = added["payload"]["reading_id"]
    one, two = change(ident, "36 1/2", added["id"]), change(ident, "36 5/8", added["id"])
    sent(store, job, added, one, two)
    sent(store, job, event("reading.drop", reading_id=ident, base=[one["id"], two["id"]]))
    assert store.state(job).text == STARTER
    assert not store.state(job).conflicts()


def test_readings_of_the_file_conflict_like_any_other(store: Store) -> None:
    job = started(store)
    start = store.events(job)[0].id
    ident = "file:opening[0].width.middle"
    sent(store, job, change(ident, "36 1/8", start), change(ident, "36 3/16", start))
    assert versions(store.state(job).readings[ident]) == ["36 1/8", "36 3/16"]
    assert middle(store.state(job)) == "36 1/8"


def test_what_makes_no_sense_of_a_reading_is_refused(store: Store) -> None:
    job, added = started(store), width("36 3/8")
    ident = added["payload"]["reading_id"]
    sent(store, job, added)
    assert refused(store, job, width("36 7/17"))[0][0] == "value"
    assert refused(store, job, {**added, "id": new_id()}) == [(ident, "this reading is in the job already.")]
    assert refused(store, job, change("nobody's", "36", added["id"]))[0][0] == "nobody's"
    assert refused(store, job, change(ident, "36", new_id()))[0][0] == ident
    assert refused(store, job, change(ident, "wide", added["id"]))[0][0] == "value"
    other = event("reading.add", reading_id=new_id(), table="depth", values={"value": "36"})
    assert "no kind of reading" in refused(store, job, other)[0][1]
    assert middle(store.state(job)) == ["36 1/4", "36 3/8"]


def test_a_file_sent_out_edited_and_taken_in_again_keeps_the_readings_names(store: Store) -> None:
    job, added = started(store), width("36 3/8")
    ident = added["payload"]["reading_id"]
    sent(store, job, added)
    text = store.state(job).text.replace('title      = "Kitchen window, back wall"', 'title = "Kitchen"')
    text = text.replace('"60 1/2"', '"60 5/8"')
    brought = event("job.file", text=text)
    sent(store, job, brought)
    state = store.state(job)
    assert state.text == text
    assert state.document.title == store.jobs()[0].title == "Kitchen"
    assert state.readings[ident].path == "opening[0].width.middle[1]"
    assert state.readings["file:opening[0].height.left"].known == {store.events(job)[0].id}
    diagonal = "file:opening[0].diagonal.bottom_left_to_top_right"
    assert versions(state.readings[diagonal]) == [None]
    new = state.readings[f"file:{brought['id'][:8]}:opening[0].diagonal.bottom_left_to_top_right"]
    assert versions(new) == ["60 5/8"]
    sent(store, job, change(diagonal, "60 3/8", store.events(job)[0].id))  # a phone that had not heard of it
    assert [each.id for each in store.state(job).conflicts()] == [diagonal]


def test_other_values_of_the_file_are_set_added_and_taken_away_with_comments_kept(store: Store) -> None:
    job = started(store)
    sent(
        store,
        job,
        event("job.set", path="title", value="Kitchen"),
        event("job.set", path="unit[0].weight_lb", value=80),
        event("job.add", path="mark", value={"name": "M3", "x": "40 1/2"}),
        event("job.drop", path="mark[2]"),
        event("job.add", path="mark", value={"name": "M4", "x": 40}),
        event("job.add", path="kit.shims", value="1/2"),
        event("job.set", path="note", value="é"),
    )
    state = store.state(job)
    document = state.document
    assert (document.title, document.unit[0].weight_lb, document.note) == ("Kitchen", 80, "é")
    assert [mark.name for mark in document.mark] == ["M1", "M2", "M4"]
    assert document.kit.shims[-1].thickness == 0.5
    assert state.text.count("#") == STARTER.count("#")


@pytest.mark.parametrize(
    "each",
    [
        event("job.set", path="opening[0].width.middle", value="36"),
        event("job.set", path="opening[0].width.top", value="36"),
        event("job.set", path="opening[0].width", value={}),
        event("job.set", path="opening[0].width_inner", value={"middle": "35"}),
        event("job.set", path="no.such.table", value=1),
        event("job.set", path="title", value=None),
        event("job.set", path="title", value=7),
        event("job.set", path="kit.planing_max", value="a hand"),
        event("job.set", path="]][", value=1),
        event("job.add", path="opening", value={"name": "B", "width": {"middle": "36"}}),
        event("job.add", path="site", value={}),
        event("job.add", path="title", value={}),
        event("job.add", path="mark", value={"name": "M1", "x": 3}),
        event("job.drop", path="kit"),
        event("job.drop", path="nothing"),
        event("answer.add", finding="finding.1", by="inspector", date="2026-02-30"),
        event("act.done", act="pad", text="x" * 301),
        event("note.add", place="", text="bell \0"),
        event("note.add", place="", text="half \ud800"),
        event("note.add", place="", text="a", more="b"),
        event("sign", name=" ", role="owner", what="pads"),
        event("photo.add", photo="abc", place="", step=""),
        event("job.set", path="title", value=float("inf")),
        event("job.set", path="title", value=2**60),
        {**event("note.add", place="", text="a"), "made_at": "yesterday"},
        {**event("note.add", place="", text="a"), "made_at": "2026-05-04T10:00:00"},
        {**event("note.add", place="", text="a"), "id": "A" * 32},
        {**event("note.add", place="", text="a"), "seq": 1},
    ],
    ids=lambda each: f"{each['kind']}-{str(each['payload'])[:40]}",
)
def test_what_the_job_file_cannot_hold_is_refused_in_words(store: Store, each: dict[str, Any]) -> None:
    job = started(store)
    faults = store.append(job, [each], device=PHONE).refused[0][1]
    assert all(fault.what for fault in faults)
    assert store.state(job).text == STARTER


def test_readings_go_with_the_opening_that_is_taken_away(store: Store) -> None:
    job = started(store)
    sent(store, job, event("job.add", path="opening", value={"name": "B"}))
    added = event(
        "reading.add",
        reading_id=new_id(),
        table="width",
        values={"opening": "B", "place": "top", "value": "30"},
    )
    sent(store, job, added, event("job.drop", path="opening[1]"))
    state = store.state(job)
    assert [opening.name for opening in state.document.opening] == ["A"]
    ident = added["payload"]["reading_id"]
    assert state.readings[ident].path == ""
    sent(store, job, change(ident, "31", added["id"]))
    assert [reading.id for reading in store.state(job).conflicts()] == [ident]


def test_ticks_holds_notes_signs_and_answers(store: Store) -> None:
    job = started(store)
    sent(
        store,
        job,
        event("act.done", act="pad.A.32", text="Pad 1/8 at 32"),
        event("act.done", act="set.A", text="Set it"),
        event("act.undone", act="set.A"),
        event("act.undone", act="never done"),
        event("hold.tick", hold="lead"),
        event("hold.override", hold="wires", reason="new wall, seen open"),
        event("hold.tick", hold="pads"),
        event("hold.undo", hold="pads"),
        event("note.add", place="pad.1", text="soft here"),
        event("weather.note", text="rain from noon"),
        event("sign", name="A. Nobody", role="carpenter", what="pads"),
        event("answer.add", finding="finding.level", by="inspector", date="2026-05-04", note="seen"),
        event("amend.file", name="town.toml", text='title = "Town"'),
    )
    state = store.state(job)
    assert {key: value["text"] for key, value in state.acts.items()} == {"pad.A.32": "Pad 1/8 at 32"}
    assert {key: (value["how"], value["reason"]) for key, value in state.holds.items()} == {
        "lead": ("tick", ""),
        "wires": ("override", "new wall, seen open"),
    }
    assert [note["place"] for note in state.notes] == ["pad.1"]
    assert [sign["name"] for sign in state.signs] == ["A. Nobody"]
    assert [note["text"] for note in state.weather] == ["rain from noon"]
    assert [answer.finding for answer in state.document.answer] == ["finding.level"]
    assert state.amendments == {"town.toml": 'title = "Town"'}
    assert all(entry["device"] == PHONE for entry in [*state.notes, *state.signs, *state.acts.values()])


def test_whatever_order_events_come_in_no_reading_is_lost(store: Store) -> None:
    """Three phones work without a signal and send in any order: every value said stands, or is shown."""
    chance = random.Random(11)  # noqa: S311  a fixed shuffle
    for _ in range(2):
        job = started(store, EXAMPLE)
        name = store.state(job).document.opening[0].name
        adds = [width(f"{30 + n} 1/2", opening=name) for n in range(3)]
        sent(store, job, *adds)
        late = [
            change(each["payload"]["reading_id"], f"{40 + 3 * n + k} 1/4", each["id"])
            for n, each in enumerate(adds)
            for k in range(3)
        ]
        chance.shuffle(late)
        for each in late:
            sent(store, job, each, device=chance.choice([PHONE, OTHER]))
        state = store.state(job)
        shown = {value for reading in state.readings.values() for value in versions(reading)}
        assert {each["payload"]["values"]["value"] for each in late} <= shown
        assert len(state.conflicts()) == 3
        assert read_job(state.text) == state.document
