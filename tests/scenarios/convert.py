"""Turn demo scenarios (readings as JSON) into job files.

    python -m tests.scenarios.convert tests/scenarios/scenarios.json \\
        --more tests/scenarios/more.json --out examples

More is what a scenario does not say and its job file shall, in the words of a job file. What a job file has
no key for is kept in the job's note and told on standard error, never dropped.
"""

from __future__ import annotations

import argparse
import json
import re
import sys
from collections.abc import Iterable, Iterator, Mapping
from pathlib import Path
from typing import Any

from sillwright.errors import BadInput, Fault
from sillwright.job.deck import Deck
from sillwright.job.document import read_job
from sillwright.job.layout import job_text
from sillwright.job.model import Corners, Forecast, Kit, Opening, ReadingSd, Shim, Site, UnitToSet
from sillwright.lengths import Unit, parse

Data = Mapping[str, Any]
SCENARIO_KEYS = (
    *("id", "title", "units", "about", "note", "notes", "site", "forecast"),
    *("row_lines", "units_to_set", "kit", "deck_wish", "stated_sd", "readings"),
)
KEPT = "Kept from the scenario, not used: "
READING_EXTRAS = ("sd", "by", "note", "instrument")
SD_NAMES = {"diag": "diagonal"}
UNIT_NAMES = {
    "least_side_clearance_each": "least_side_clearance",
    "most_side_clearance_each": "most_side_clearance",
}
OPENING_NAMES = {"opening": "name", "width_outer": "width", "height_outer": "height"}
HEIGHT_NAMES = (
    *("at", "heights", "height", "z", "above_sill", "from_sill"),
    *("height_above_sill", "heights_above_sill", "at_height"),
)
GAP_NAMES = ("gap", "gaps", "gap_to_jamb", "gap_to_jack", "read", "reading", "readings", "down")
MARGIN = {"in": "4", "mm": 100}
"""How far beyond a jack's taped place a head shot may still belong to its opening."""
NEAR: dict[str, str | int] = {"in": "2", "mm": 50}

COMMENTS = {
    "kit": "Shims on hand, and what may be cut away.",
    "reading_sd": "One standard deviation of each kind of reading, as the carpenter states it.",
    "row": "Openings in one row share one sill line.",
    "head_line": "Units whose tops should stand at one height.",
    "mark": "Marks that the set-ups are tied to. The first one is the datum, height 0.",
    "setup": "Shots in the order they were taken. down: from the beam to the point, negative above the beam.",
    "opening": "Rough openings, seen from outside. near: from the corners to the outer readings.",
}


class Converter:
    """One scenario on its way to a job; remembers what found no place."""

    def __init__(self, scenario: Data) -> None:
        self.scenario = scenario
        self.unit: Unit = scenario.get("units", "in")
        self.readings: Data = scenario.get("readings", {})
        self.left: list[str] = []

    def job(self) -> dict[str, Any]:
        """Return the data of the job file."""
        scenario = self.scenario
        self._keep("", scenario, SCENARIO_KEYS)
        self._keep("readings", self.readings, {"laser", "openings", "wall_string"})
        job: dict[str, Any] = {"sillwright": 1, "units": self.unit, "title": scenario["title"]}
        job |= {"note": "", "invented": True}
        job["forecast"] = [self._known("forecast", day, Forecast) for day in scenario.get("forecast", [])]
        job["site"] = self._known("site", scenario.get("site", {}), Site)
        job["kit"] = self._kit(scenario.get("kit", {}))
        if "deck_wish" in scenario:
            job["deck"] = self._known("deck_wish", scenario["deck_wish"], Deck)
        job["reading_sd"] = self._reading_sd(scenario.get("stated_sd", {}))
        job["row"] = [{"openings": list(row)} for row in scenario.get("row_lines", [])]
        job["unit"] = [self._unit(each) for each in scenario.get("units_to_set", [])]
        job["mark"] = self._marks()
        job["setup"] = list(self._setups())
        job["opening"] = [self._opening(each) for each in self.readings.get("openings", [])]
        if "wall_string" in self.readings:
            job["wall"] = {"string": self._wall_string(self.readings["wall_string"])}
        job["note"] = self._note()
        return {key: value for key, value in job.items() if value not in ({}, [], "")}

    def _note(self) -> str:
        said = [_text(self.scenario[key]) for key in ("about", "note", "notes") if self.scenario.get(key)]
        kept = [KEPT + "; ".join(self.left) + "."] if self.left else []
        return " ".join(said + kept)

    def _keep(self, place: str, table: Data, known: Iterable[str]) -> None:
        """Remember the keys that a job file has no place for."""
        names = set(known)
        dot = "." if place else ""
        self.left += [f"{place}{dot}{key} = {_text(v)}" for key, v in table.items() if key not in names]

    def _known(self, place: str, table: Data, model: type[Any], names: Data | None = None) -> dict[str, Any]:
        """Return the keys the model has, renamed; keep the others for the note."""
        renamed = {(names or {}).get(key, key): value for key, value in table.items()}
        self._keep(place, renamed, model.model_fields)
        return {key: value for key, value in renamed.items() if key in model.model_fields}

    def _kit(self, kit: Data) -> dict[str, Any]:
        known = self._known("kit", kit, Kit)
        for shim in known.get("shims", []):
            if isinstance(shim, Mapping):
                self._keep("kit.shims", shim, Shim.model_fields)
        return known

    def _reading_sd(self, stated: Data) -> dict[str, Any]:
        known = self._known("stated_sd", stated, ReadingSd, SD_NAMES)
        thick = any("wall_thickness" in opening for opening in self.readings.get("openings", []))
        if thick and "width" in known:
            known.setdefault("thickness", known["width"])
        return known

    def _unit(self, unit: Data) -> dict[str, Any]:
        place = f"unit {unit.get('opening', '')}"
        return self._known(place, unit, UnitToSet, UNIT_NAMES)

    def _stations(self) -> list[Data]:
        laser = self.readings.get("laser", [])
        return list(laser) if isinstance(laser, list) else [laser]

    def _marks(self) -> list[dict[str, Any]]:
        marks: dict[str, dict[str, Any]] = {}
        for station in self._stations():
            for shot in station.get("benchmarks", []):
                marks.setdefault(shot["mark"], {"name": shot["mark"], "x": shot["x"]})
        return sorted(marks.values(), key=lambda mark: mark["name"] != "M1")  # M1 is the datum

    def _setups(self) -> Iterator[dict[str, Any]]:
        stations = self._stations()
        turned = ["turned round" in str(station.get("setup", "")) for station in stations]
        places = {mark["name"]: mark["x"] for mark in self._marks()}
        known = {"setup", "instrument_x", "note", "benchmarks", "laser_to_sill", "laser_to_other"}
        names: list[str] = []
        for n, station in enumerate(stations):
            name = str(station.get("setup", f"set-up {n + 1}"))
            names.append(name)
            self._keep(f"set-up {name}", station, known)
            setup: dict[str, Any] = {
                "name": name if names.count(name) == 1 else f"{name} ({names.count(name)})"
            }
            setup["x"] = station["instrument_x"]
            if any(turned) and (turned[n] or n == turned.index(False)):
                setup["turned"] = turned[n]
            if "note" in station:
                setup["note"] = _text(station["note"])
            yield setup | {"series": list(self._series(station, places))}

    def _series(self, station: Data, places: Data) -> Iterator[dict[str, Any]]:
        """Yield the shots in the order they were taken: marks before, sills, others, marks after."""
        marks = station.get("benchmarks", [])
        for shot in marks:
            if shot.get("when", "before") not in ("before", "after"):
                advice = "Known here: before, after."
                raise BadInput(Fault("benchmarks", f"when = {shot['when']!r} is not known.", advice))
        yield from (self._mark_shot(shot, places) for shot in marks if shot.get("when", "before") == "before")
        for shot in station.get("laser_to_sill", []):
            self._keep("laser_to_sill", shot, {"opening", "x", "edge", "down", *READING_EXTRAS})
            yield {
                "sill": shot["opening"],
                "x": shot["x"],
                "edge": shot.get("edge", "outer"),
                "down": _read(shot),
            }
        yield from (self._other(shot) for shot in station.get("laser_to_other", []))
        yield from (self._mark_shot(shot, places) for shot in marks if shot.get("when") == "after")

    def _mark_shot(self, shot: Data, places: Data) -> dict[str, Any]:
        self._keep("benchmarks", shot, {"mark", "x", "when", "down", *READING_EXTRAS})
        elsewhere = {} if shot["x"] == places[shot["mark"]] else {"x": shot["x"]}
        return {"mark": shot["mark"], **elsewhere, "down": _read(shot)}

    def _other(self, shot: Data) -> dict[str, Any]:
        self._keep("laser_to_other", shot, {"to", "x", "edge", "down", *READING_EXTRAS})
        named = str(shot["to"])
        opening = self._opening_at(shot["x"]) if named.casefold().startswith("head") else None
        inner = shot.get("edge") == "inner" or re.search(r"\b(inner|inside|room)\b", named.casefold())
        edge = {"edge": "inner"} if inner and (opening or "edge" in shot) else {}
        target = {"head": opening} if opening else {"point": named}
        return {**target, "x": shot["x"], **edge, "down": _read(shot)}

    def _opening_at(self, x: str | float) -> str | None:
        """Return the opening whose jacks stand on both sides of x, with a margin."""
        at, margin = self._inches(x), self._inches(MARGIN[self.unit])
        for opening in self.readings.get("openings", []):
            if "left_jack_x" not in opening or "right_jack_x" not in opening:
                continue
            left, right = (self._inches(opening[key]) for key in ("left_jack_x", "right_jack_x"))
            if left - margin <= at <= right + margin:
                return str(opening["opening"])
        return None

    def _inches(self, value: Any) -> float:
        first = value[0] if isinstance(value, list) else value
        return parse(first["value"] if isinstance(first, Mapping) else first, unit=self.unit).value

    def _opening(self, opening: Data) -> dict[str, Any]:
        place = f"opening {opening.get('opening', '')}"
        known = self._known(place, opening, Opening, OPENING_NAMES)
        if "wall_thickness" in known and isinstance(known["wall_thickness"], Mapping):
            known["wall_thickness"] = self._known(f"{place} wall_thickness", known["wall_thickness"], Corners)
        if "plumb_line" in known:
            known |= self._plumb_lines(place, known.pop("plumb_line"))
        if "note" in known:
            known["note"] = _text(known["note"])
        return {"name": known.pop("name", ""), "near": NEAR[self.unit], **known}

    def _plumb_lines(self, place: str, said: Any) -> dict[str, Any]:
        """Return the hanging lines of an opening; forms that are not known go to the note."""
        lines = {}
        for side in ("left", "right"):
            line = _plumb_line(_of_side(said, side))
            if line and all(_is_length(height, self.unit) for height in line["at"]):
                lines[side] = dict(zip(("at", "gap"), _going_up(line, self.unit), strict=True))
        if not lines:
            self.left.append(f"{place}.plumb_line = {_text(said)}")
            return {}
        return {"plumb_line": lines}

    def _wall_string(self, string: Data) -> dict[str, Any]:
        self._keep("wall_string", string, {"height", "clear", "note", "offsets"})
        note = _text(string.get("note", ""))
        held = re.search(r"\bheld (?P<clear>\S+(?: \d+/\d+)?)(?: (?:in|mm))? clear\b", note)
        height = re.match(r"-?[\d./ ]*\d", str(string["height"]))
        clear = string.get("clear", held and held["clear"])
        if not clear or not height:
            advice = 'Say "held 50 clear" in its note, and "1000 above floor" as its height.'
            raise BadInput(
                Fault("wall_string", "its height, or how far clear it was held, is not said.", advice)
            )
        offsets = [{"x": each["x"], "gap": _read(each, "gap")} for each in string["offsets"]]
        said = {"note": note} if note else {}
        return {"height": _bare(height[0]), "clear": _bare(clear), **said, "offsets": offsets}


def _read(shot: Data, key: str = "down") -> Any:
    """Return a reading, as a table if something is said about it."""
    extras = {name: shot[name] for name in READING_EXTRAS if name in shot}
    return {"value": shot[key], **extras} if extras else shot[key]


def _of_side(said: Any, side: str) -> Any:
    """Return what is said of one jack: under its name, or in the tables that name it."""
    if isinstance(said, Mapping):
        return next((value for key, value in said.items() if str(key).casefold().startswith(side)), None)
    tables = [each for each in said if isinstance(each, Mapping)] if isinstance(said, list) else []
    named = [
        each for each in tables if side in (each.get(key) for key in ("side", "jack", "jamb", "at_jack"))
    ]
    return named[0] if len(named) == 1 else named


def _plumb_line(line: Any) -> dict[str, list[Any]] | None:
    """Return heights and gaps from `{at, gap}` or a list of `{at, gap}`, by whichever names they go."""
    if isinstance(line, Mapping) and not any(key in line for key in HEIGHT_NAMES):
        line = [{"at": height, "gap": gap} for height, gap in line.items()]
    found: dict[str, list[Any]] = {"at": [], "gap": []}
    for table in line if isinstance(line, list) else [line]:
        for name, names in (("at", HEIGHT_NAMES), ("gap", GAP_NAMES)):
            value = next((table[key] for key in names if isinstance(table, Mapping) and key in table), None)
            found[name] += value if isinstance(value, list) else [value]
    pairs = zip(found["at"], found["gap"], strict=False)
    sound = len(found["at"]) == len(found["gap"]) > 1 and all(None not in pair for pair in pairs)
    return found if sound else None


def _going_up(line: dict[str, list[Any]], unit: Unit) -> tuple[list[Any], list[Any]]:
    pairs = sorted(
        zip(line["at"], line["gap"], strict=True), key=lambda pair: parse(pair[0], unit=unit).value
    )
    return [at for at, _ in pairs], [gap for _, gap in pairs]


def _is_length(value: Any, unit: Unit) -> bool:
    try:
        parse(value, unit=unit)
    except BadInput:
        return False
    return True


def _bare(value: Any) -> Any:
    text = str(value).strip()
    return int(text) if re.fullmatch(r"-?\d+", text) else text


def _text(value: Any) -> str:
    return value if isinstance(value, str) else json.dumps(value, ensure_ascii=False)


def _with_more(data: dict[str, Any], more: Data) -> dict[str, Any]:
    """Return the data of a job with more said: keys of its tables, of units and openings by their names."""
    said: dict[str, Any] = {}
    for key, value in more.items():
        name = BY_NAME.get(key)
        if name is not None:
            said[key] = [{**each, **value.get(each[name], {})} for each in data[key]]
            if strange := set(value) - {each[name] for each in data[key]}:
                raise BadInput(Fault(key, f"there is no {', '.join(sorted(strange))}.", "Correct its name."))
        else:
            said[key] = {**data.get(key, {}), **value} if isinstance(value, Mapping) else value
    return {**data, **said}


BY_NAME = {"unit": "opening", "opening": "name"}
"""Lists of a job in which more is said of one table, and the key that names it."""


def convert(scenario: Data, conventions: Data, more: Data | None = None) -> str:
    """Return a scenario as the text of a job file.

    Args:    more: what else the job file says, in its own words
    Raises:  BadInput: the scenario has what no job file can hold
    """
    converter = Converter(scenario)
    try:
        data = _with_more(converter.job(), more or {})
    except KeyError as error:
        what = f"the key {error} is missing."
        raise BadInput(Fault(str(scenario.get("id", "scenario")), what, "Add it to the scenario.")) from None
    lines = ["Invented demonstration data: house, people, units and readings are made up."]
    if "axes" in conventions:
        lines.append("Seen from outside: x to the right along the wall, y inward, z up from the first mark.")
    unit = (
        "Bare numbers are millimetres."
        if converter.unit == "mm"
        else "Lengths are in inches, as a tape says them."
    )
    comments = {key: text for key, text in COMMENTS.items() if key in data}
    text = job_text(data, header="\n".join([*lines, unit]), comments=comments)
    read_job(text)
    for each in converter.left:
        sys.stderr.write(f"{scenario.get('id', '')}: kept as a note: {each}\n")
    return text


def scenario_text(ident: str) -> str:
    """Return one of our scenarios as the text of a job file, with no more said than it says itself."""
    document = json.loads(Path(__file__).with_name("scenarios.json").read_text(encoding="utf-8"))
    (scenario,) = (each for each in document["scenarios"] if each["id"] == ident)
    return convert(scenario, document["conventions"])


def main(arguments: list[str] | None = None) -> int:
    """Write one job file for each scenario of a file."""
    parser = argparse.ArgumentParser(description="Turn demo scenarios into job files.")
    parser.add_argument("scenarios", type=Path)
    parser.add_argument("--more", type=Path)
    parser.add_argument("--out", type=Path, default=Path("examples"))
    options = parser.parse_args(arguments)
    document = json.loads(options.scenarios.read_text(encoding="utf-8"))
    more = json.loads(options.more.read_text(encoding="utf-8"))["jobs"] if options.more else {}
    options.out.mkdir(parents=True, exist_ok=True)
    failed = 0
    for scenario in document["scenarios"]:
        try:
            text = convert(scenario, document.get("conventions", {}), more.get(scenario["id"]))
        except BadInput as error:
            sys.stderr.write(f"{scenario.get('id', '')}: {error}\n")
            failed = 2
            continue
        (options.out / f"{scenario['id']}.toml").write_text(text, encoding="utf-8")
    return failed


if __name__ == "__main__":
    sys.exit(main())
