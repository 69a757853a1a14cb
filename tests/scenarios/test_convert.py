from __future__ import annotations

import copy
import json
from pathlib import Path
from typing import Any

import pytest
from tests.scenarios.convert import KEPT, convert, main

from sillwright.errors import BadInput
from sillwright.job import read_job
from sillwright.job.model import Job
from sillwright.lengths import parse

HERE = Path(__file__).parent
EXAMPLES = HERE.parents[1] / "examples"
DOCUMENT = json.loads((HERE / "scenarios.json").read_text(encoding="utf-8"))
SCENARIOS = {scenario["id"]: scenario for scenario in DOCUMENT["scenarios"]}
MORE = json.loads((HERE / "more.json").read_text(encoding="utf-8"))["jobs"]
MAKEFILE = (HERE.parents[1] / "Makefile").read_text(encoding="utf-8")
DEMO = next(name for name in SCENARIOS if f"DEMO := examples/{name}.toml" in MAKEFILE)
RUN_AGAIN = (
    "run: python -m tests.scenarios.convert tests/scenarios/scenarios.json "
    "--more tests/scenarios/more.json --out examples"
)


def converted(scenario: dict[str, Any], more: dict[str, Any] | None = None) -> Job:
    return read_job(convert(scenario, DOCUMENT["conventions"], more))


def scenario(name: str = "villa-stacking-slider-mm") -> Any:
    return copy.deepcopy(SCENARIOS[name])


@pytest.mark.parametrize("name", SCENARIOS)
def test_a_scenario_gives_exactly_its_example(name: str) -> None:
    text = convert(SCENARIOS[name], DOCUMENT["conventions"], MORE.get(name))
    assert text == (EXAMPLES / f"{name}.toml").read_text(encoding="utf-8"), RUN_AGAIN


def test_there_is_no_example_without_its_scenario() -> None:
    assert {path.stem for path in EXAMPLES.glob("*.toml")} == set(SCENARIOS)


def test_the_script_writes_one_file_for_each_scenario(tmp_path: Path) -> None:
    assert main([str(HERE / "scenarios.json"), "--out", str(tmp_path / "out")]) == 0
    assert {path.stem for path in (tmp_path / "out").iterdir()} == set(SCENARIOS)


def test_the_script_says_more_of_a_job_where_there_is_more(tmp_path: Path) -> None:
    more = ["--more", str(HERE / "more.json")]
    assert main([str(HERE / "scenarios.json"), *more, "--out", str(tmp_path)]) == 0
    for name in SCENARIOS:
        written = (tmp_path / f"{name}.toml").read_text(encoding="utf-8")
        assert written == (EXAMPLES / f"{name}.toml").read_text(encoding="utf-8")


@pytest.mark.parametrize("name", MORE)
def test_more_changes_no_reading_and_nothing_that_a_scenario_says(name: str) -> None:
    before, after = converted(SCENARIOS[name]), converted(SCENARIOS[name], MORE[name])
    assert (after.setup, after.opening, after.mark) == (before.setup, before.opening, before.mark)
    assert (after.row, after.reading_sd) == (before.row, before.reading_sd)
    for key in ("kit", "deck"):
        said, says = (getattr(job, key).model_dump(exclude_unset=True) for job in (before, after))
        assert said.items() <= says.items()


def test_more_of_a_unit_that_is_not_there_is_refused() -> None:
    with pytest.raises(BadInput, match="there is no Z"):
        converted(scenario(), {"unit": {"Z": {"facts": {}}}})


def test_the_demo_job_has_a_full_deck_below_its_door() -> None:
    deck = converted(SCENARIOS[DEMO], MORE[DEMO]).deck
    assert deck is not None
    for key in ("ledger_depth", "beam", "species", "grade", "footing_depth", "ties", "flashed"):
        assert getattr(deck, key) is not None, key


@pytest.mark.parametrize("name", SCENARIOS)
def test_no_reading_is_lost_or_changed(name: str) -> None:
    """Counted and compared on the JSON side without the converter."""
    said, job = SCENARIOS[name], converted(SCENARIOS[name])
    for station, setup in zip(said["readings"]["laser"], job.setup, strict=True):
        parts = [station["benchmarks"], station["laser_to_sill"], station.get("laser_to_other", [])]
        given = sorted(parse(shot["down"], unit=job.units).value for part in parts for shot in part)
        assert sorted(shot.down[0].value for shot in setup.series) == given
    for given_opening, opening in zip(said["readings"]["openings"], job.opening, strict=True):
        assert opening.name == given_opening["opening"]
        for key in ("bottom", "middle", "top"):
            (reading,) = getattr(opening.width, key)
            assert reading.text == str(given_opening["width_outer"][key])
        for side in ("left", "right"):
            (reading,) = getattr(opening.plumb, side).top_leans_in
            assert reading.text == str(given_opening["plumb"][side]["top_leans_in"])


def test_shots_stand_in_the_order_they_were_taken() -> None:
    series = converted(scenario("stucco-bungalow-tilt-turn-mm")).setup[0].series
    kinds = [next(key for key in ("mark", "sill", "head", "point") if getattr(shot, key)) for shot in series]
    assert kinds == ["mark"] + ["sill"] * 11 + ["head"] * 9 + ["mark"]
    assert [shot.head for shot in series if shot.head] == ["T1"] * 3 + ["T2"] * 3 + ["D"] * 3


def test_a_laser_turned_round_is_told_from_one_that_is_not() -> None:
    assert [setup.turned for setup in converted(scenario("farmhouse-three-casements")).setup] == [False, True]
    assert [setup.turned for setup in converted(scenario()).setup] == [None]


def test_the_string_along_the_wall_keeps_height_and_clearance() -> None:
    string = converted(scenario()).wall.string
    assert string is not None
    assert string.height == pytest.approx(1000 / 25.4)
    assert string.clear == pytest.approx(50 / 25.4)
    assert [offset.gap[0].text for offset in string.offsets] == ["50", "47", "44", "39", "39", "38", "35"]


def test_a_string_in_inches_keeps_its_fractions() -> None:
    said = scenario("farmhouse-three-casements")
    note = "string held 1 1/2 in clear at both ends"
    offsets = [{"x": "0", "gap": "1 1/2"}, {"x": "40", "gap": "1 7/16 shy"}]
    said["readings"]["wall_string"] = {"height": "39 3/8 above floor", "note": note, "offsets": offsets}
    string = converted(said).wall.string
    assert string is not None
    assert (string.height, string.clear) == (39.375, 1.5)


def test_the_stated_doubt_of_widths_holds_for_thicknesses() -> None:
    assert converted(scenario("farmhouse-three-casements")).reading_sd.thickness == 0.03
    assert converted(scenario()).reading_sd.thickness is None


def test_near_is_what_the_conventions_say() -> None:
    assert converted(scenario("farmhouse-three-casements")).opening[0].near == 2
    assert converted(scenario()).opening[0].near == pytest.approx(50 / 25.4)


def test_a_head_shot_just_beside_its_opening_is_still_its_own() -> None:
    said = scenario("stucco-bungalow-tilt-turn-mm")
    others = said["readings"]["laser"][0]["laser_to_other"]
    others[:] = [
        {"to": "head, underside", "x": 595, "down": -740},
        {"to": "head, room side", "x": 1354, "down": -741},
        {"to": "header over the porch", "x": 9000, "down": -700},
    ]
    shots = [shot for shot in converted(said).setup[0].series if shot.head or shot.point]
    assert [(shot.head, shot.point, shot.edge) for shot in shots] == [
        ("T1", None, "outer"),
        ("T1", None, "inner"),
        (None, "header over the porch", "outer"),
    ]


LINES: list[Any] = [
    {"left": {"at": [100, 500], "gap": [20, 21]}},
    {"left": {"heights": [100, 500], "gaps": [20, 21]}},
    {"left": [{"height": 100, "gap": 20}, {"height": 500, "gap": 21}]},
    {"left": [{"height": 500, "gap": 21}, {"height": 100, "gap": 20}]},
    {"left": {"100": 20, "500": 21}},
    {"left_jack": {"at": [100, 500], "gap": [20, 21]}},
    [{"side": "left", "heights_above_sill": [100, 500], "gap": [20, 21]}],
    [{"jamb": "left", "height": 100, "gap": 20}, {"jamb": "left", "height": 500, "gap": 21}],
]


@pytest.mark.parametrize("line", LINES)
def test_plumb_lines_are_taken_in_any_of_their_forms(line: Any) -> None:
    said = scenario()
    said["readings"]["openings"][0]["plumb_line"] = line
    left = converted(said).opening[0].plumb_line.left
    assert left is not None
    assert left.at == pytest.approx((100 / 25.4, 500 / 25.4))
    assert [gap[0].value for gap in left.gap] == pytest.approx([20 / 25.4, 21 / 25.4])


@pytest.mark.parametrize("line", [[20, 21, 22], {"left": [20, 21]}, {"left": {"low": 1, "high": 2}}, 3])
def test_a_plumb_line_without_heights_is_kept_in_the_note(line: Any) -> None:
    said = scenario()
    said["readings"]["openings"][0]["plumb_line"] = line
    job = converted(said)
    assert job.opening[0].plumb_line.left is None
    assert f"opening P.plumb_line = {json.dumps(line)}" in job.note


def test_one_bad_scenario_does_not_stop_the_others(
    tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    bad, good = scenario(), scenario("farmhouse-three-casements")
    del bad["readings"]["laser"][0]["instrument_x"]
    source = tmp_path / "some.json"
    source.write_text(json.dumps({"scenarios": [bad, good]}), encoding="utf-8")
    assert main([str(source), "--out", str(tmp_path)]) == 2
    assert [path.stem for path in tmp_path.glob("*.toml")] == ["farmhouse-three-casements"]
    told = "villa-stacking-slider-mm: the key 'instrument_x' is missing. Add it to the scenario.\n"
    assert told in capsys.readouterr().err


def test_inner_widths_strong_and_shy_notes_and_several_readings_come_along() -> None:
    said = scenario("farmhouse-three-casements")
    opening = said["readings"]["openings"][0]
    opening["width_inner"] = {"bottom": "36 5/16 strong", "middle": ["36 1/4", "36 3/16 shy"]}
    opening["note"] = "plaster is loose"
    said["readings"]["laser"][0]["laser_to_sill"][0]["note"] = "a knot"
    job = converted(said)
    first = job.opening[0]
    assert [reading.text for reading in first.width_inner.middle or ()] == ["36 1/4", "36 3/16 shy"]
    assert (first.width_inner.bottom or ())[0].spread > 0
    assert first.note == "plaster is loose"
    assert job.setup[0].series[2].down[0].note == "a knot"


def test_what_a_job_has_no_key_for_is_kept_in_the_note_and_told(capsys: pytest.CaptureFixture[str]) -> None:
    said = scenario()
    said["crew"] = 3
    said["units_to_set"][0]["colour"] = "green"
    said["readings"]["openings"][1]["smell"] = ["damp"]
    job = converted(said)
    kept = ["crew = 3", "unit P.colour = green", 'opening Q.smell = ["damp"]']
    assert job.note.endswith(KEPT + "; ".join(kept) + ".")
    told = capsys.readouterr().err
    assert all(f"kept as a note: {each}\n" in told for each in kept)


def test_two_set_ups_of_one_name_are_told_apart() -> None:
    said = scenario()
    said["readings"]["laser"] *= 2
    names = [setup.name for setup in converted(said).setup]
    assert names == ["one set-up, on the old verandah slab", "one set-up, on the old verandah slab (2)"]


@pytest.mark.parametrize(
    ("path", "value", "message"),
    [
        (["readings", "laser", 0, "benchmarks", 0, "when"], "noon", "when = 'noon' is not known"),
        (["readings", "openings", 0, "left_jack_x"], "40 1/3", "is not a tape reading"),
        (["units_to_set", 0, "opening"], "Z", "there is no opening 'Z'"),
        (["readings", "wall_string", "note"], "loose", "how far clear it was held, is not said"),
    ],
)
def test_what_no_job_can_hold_is_refused_with_its_place(path: list[Any], value: Any, message: str) -> None:
    said = scenario()
    here = said
    for step in path[:-1]:
        here = here[step]
    here[path[-1]] = value
    with pytest.raises(BadInput, match=message):
        converted(said)


def test_a_unit_not_ordered_yet_stays_so() -> None:
    assert [unit.ordered for unit in converted(scenario()).unit] == [False, False]
