"""Ledger, header and rules without a job: printed table rows, refusals, bad options, what is listed."""

from __future__ import annotations

import re
import subprocess
import sys
from dataclasses import replace
from itertools import pairwise
from pathlib import Path
from typing import get_args

import pytest
from tests.cli.conftest import Ran, Run
from tests.deck_jobs import full
from tests.published.checks import Check, load

from sillwright.cli import asked, ledger_case
from sillwright.cli.also_listed import also_listed
from sillwright.cli.amendments import CHECKS
from sillwright.cli.asked import LedgerAsked
from sillwright.cli.ledger import answer
from sillwright.cli.ledger_case import read_case
from sillwright.cli.ledger_drawing import ledger_scene
from sillwright.cli.quantities import feet, inches, psf
from sillwright.drawing import Path as Line
from sillwright.drawing import Text, overlapping_texts
from sillwright.errors import BadInput
from sillwright.inspection import GUARD_POST
from sillwright.rules import rule_book
from sillwright.structure import Attachment, LedgerLoad, attachment_findings, gravity
from sillwright.structure.backing import BAD_BACKINGS, GOOD_BACKINGS

PUBLISHED = [check for check in load("structure_tables") if check.given["table"] == "ledger"]
OPTIONS = {"joist_span_ft": "joist_span", "ground_snow_psf": "snow", "live_psf": "live"}


def flat(ran: Ran) -> str:
    return " ".join(ran.out.split())


def _typed(check: Check) -> list[str]:
    given = {name: value for name, value in check.given.items() if name != "table"}
    return [
        word
        for name, value in given.items()
        for word in (f"--{OPTIONS.get(name, name).replace('_', '-')}", str(value).replace(" ", "-"))
    ]


@pytest.mark.parametrize("check", PUBLISHED, ids=lambda check: check.id)
def test_a_ledger_has_the_printed_spacing_or_the_refusal_of_its_table(run: Run, check: Check) -> None:
    ran = run("ledger", *_typed(check))
    if "refused" in check.expect:
        assert ran.code == 2
        assert ran.out == ""
        assert "outside this table: needs an engineer" in ran.err
        assert check.expect["refused"] in ran.err
        return
    assert ran.code == 0, ran.err
    found = re.search(r"At most (\d+)( 1/2)?\" on centre", ran.out)
    assert found
    check.compare({"spacing": float(found[1]) + (0.5 if found[2] else 0.0)})


@pytest.mark.parametrize(
    ("options", "said", "noted"),
    [
        # IRC 2018 Table R507.9.1.3(1), 40 psf, lag, 12 ft: read in the print of a state's rule
        ((), "At most 15", False),
        # IRC 2021 Table R507.9.1.3(1), 50 psf snow, lag, 12 ft: from memory
        (("--edition", "2021", "--snow", "50"), "At most 14", True),
    ],
)
def test_a_cell_from_memory_is_noted_and_a_read_one_is_not(
    run: Run, options: tuple[str, ...], said: str, noted: bool
) -> None:
    ran = run("ledger", "--joist-span", "12", *options)
    assert said in ran.out
    assert ("WATCH  This value is from memory" in ran.out) == noted


def test_a_states_own_table_and_a_span_between_rows_are_said(run: Run) -> None:
    assert "a state's own table" in run("ledger", "--joist-span", "12", "--live", "60").out
    assert "between rows is from memory" in run("ledger", "--joist-span", "11", "--edition", "2021").out
    plain = run("ledger", "--joist-span", "11").out
    assert "state's own table" not in plain
    assert "between rows" not in plain


def test_what_was_read_in_an_earlier_edition_is_noted(run: Run) -> None:
    noted = "That the 2021 edition has the same is from memory"
    assert run("ledger", "--joist-span", "12", "--edition", "2021").out.count(noted) == 2
    assert noted not in run("ledger", "--joist-span", "12").out


@pytest.mark.parametrize("text", ["11.5", "11 1/2", "11' 6\"", "11.5 ft", '138"', "138 in"])
def test_feet_are_understood_with_and_without_their_mark(text: str) -> None:
    assert feet(text) == pytest.approx(11.5)


def test_metres_and_inches_are_understood_and_loads_with_their_unit() -> None:
    assert feet("3.048 m") == pytest.approx(10.0)  # 25.4 mm = 1 in exactly, NIST SP 811
    assert inches("9 1/4") == 9.25
    assert psf("40 psf") == psf(" 40 ") == 40.0


@pytest.mark.parametrize("text", ["", "eleven", "11 strong", "nan", "1e9", "40 psf"])
def test_what_is_no_length_is_refused(text: str) -> None:
    with pytest.raises(BadInput):
        feet(text)


BAD = {
    "span of 0": (("--joist-span", "0"), "--joist-span: 0 cannot be used. Give a number above 0."),
    "negative span": (("--joist-span=-3 ft",), "--joist-span: -3 ft cannot be used."),
    "no length": (("--joist-span", "wide"), "--joist-span: 'wide' is not a tape reading"),
    "negative load": (("--joist-span", "9", "--live", "-40"), "--live: -40 cannot be used."),
    "load of 0": (("--joist-span", "9", "--live", "0"), "--live: 0 cannot be used."),
    "negative snow": (("--joist-span", "9", "--snow", "-1"), "--snow: -1 cannot be used. Give a number 0"),
    "another unit": (("--joist-span", "9", "--snow", "2 kPa"), "'2 kPa' is not a load. Write pounds to the"),
    "load not a number": (("--joist-span", "9", "--live", "inf"), "--live: 'inf' is not a load."),
    "unknown fastener": (("--joist-span", "9", "--fastener", "nail"), 'Choose from: "lag", "bolt"'),
    "unknown edition": (("--joist-span", "9", "--edition", "2015"), "--edition"),
    "unknown backing": (("--joist-span", "9", "--band", "brick"), "--band"),
    "too small a ledger": (("--joist-span", "9", "--ledger", "2x6"), "--ledger"),
    "nothing": ((), "--joist-span is missing."),
    "endless": (("--joist-span", "9", "--length", "900"), "longer than the 200 ft"),
    "joists in each other": (("--joist-span", "9", "--joist-spacing", "3"), "leaves no room between hangers"),
    "obstacle in mid-air": (("--joist-span", "9", "--obstacle", "3..4"), "Give --length as well."),
    "obstacle without end": (
        ("--joist-span", "9", "--length", "9", "--obstacle", "3"),
        "'3' is not a stretch of the ledger. Write it from..to",
    ),
    "obstacle backwards": (
        ("--joist-span", "9", "--length", "9", "--obstacle", "9..3"),
        "'9..3' is not on the ledger",
    ),
    "sheathing of nothing": (
        ("--joist-span", "9", "--sheathing", "1/2", "--sheathing-kind", "none"),
        "1/2 of none cannot be.",
    ),
    "drawing of nothing": (("--joist-span", "9", "--out", "drawn"), "--out: there is no layout to draw."),
}


@pytest.mark.parametrize("name", BAD)
def test_a_bad_option_of_a_ledger_is_told_by_its_name(run: Run, here: Path, name: str) -> None:
    options, said = BAD[name]
    ran = run("ledger", *options)
    assert ran.code == 2
    assert said in " ".join(ran.err.split())
    assert "its own fault" not in ran.err
    assert ran.out == ""
    assert list(here.iterdir()) == []


def test_every_bad_option_is_told_at_once(run: Run) -> None:
    ran = run("header", "--span", "0", "--width", "wide", "--snow", "-5")
    assert ran.code == 2
    assert [line.split(":")[0] for line in ran.err.splitlines()] == ["--span", "--width", "--snow"]


@pytest.mark.parametrize("band", sorted(ledger_case.OTHER_BACKINGS))
def test_a_ledger_on_what_the_table_does_not_assume_is_stopped_without_a_spacing(run: Run, band: str) -> None:
    ran = run("ledger", "--joist-span", "10", "--length", "12", "--band", band)
    assert ran.code == 0
    assert "STOP" in ran.out
    assert "No spacing is given" in ran.out
    assert "on centre" not in ran.out
    assert " up\n" not in ran.out


def test_the_layout_lists_every_fastener_from_one_end_within_the_spacing(run: Run) -> None:
    ran = run("ledger", "--joist-span", "11", "--length", "12 ft")
    rows = re.findall(r"^ +(\d+) +([\d /]+)\" +(low|high) +([\d /]+)\" up$", ran.out, re.MULTILINE)
    places = [inches(place.strip()) for _, place, _, _ in rows]
    assert [int(number) for number, *_ in rows] == list(range(1, len(rows) + 1))
    # IRC 2018 R507.9.1.3: ends 2 to 5 in; 15 in on centre for lag screws and joists to 12 ft; staggered rows
    assert 2.0 <= places[0] <= 5.0
    assert 2.0 <= 144.0 - places[-1] <= 5.0
    assert max(b - a for a, b in pairwise(places)) <= 15.0
    assert {row for _, _, row, _ in rows[::2]} == {"low"}
    assert {row for _, _, row, _ in rows[1::2]} == {"high"}
    heights = {row: inches(height) for _, _, row, height in rows}
    assert 9.25 - heights["low"] >= 6.5  # 2x10 ledger
    assert 9.25 - heights["high"] >= 2.0


def test_an_obstacle_keeps_its_stretch_free_and_too_wide_a_one_is_a_stop(run: Run) -> None:
    found = answer(read_case(LedgerAsked(joist_span="11", length="12", obstacle=("40..45:vent",))))
    assert found.layout is not None
    assert not [each for each in found.layout.fasteners if 39.25 < each.x < 45.75]
    wide = run("ledger", "--joist-span", "11", "--length", "12", "--obstacle", "20..60:chimney")
    assert wide.code == 0
    assert "STOP  No place for the next fastener" in wide.out
    assert "chimney" in wide.out
    assert "No layout: see the stop above." in wide.out


def test_a_ledger_too_deep_for_its_band_joist_is_a_stop(run: Run) -> None:
    ran = run("ledger", "--joist-span", "8", "--length", "10", "--ledger", "2x12")
    assert "STOP  Two rows of fasteners do not fit" in ran.out
    assert "STOP" not in run("ledger", "--joist-span", "8", "--length", "10", "--ledger", "2x10").out


def test_lateral_ties_stand_at_joists_near_the_ends_or_are_a_stop(run: Run) -> None:
    # IRC 2018 R507.9.2: within 24 in of the ends
    ran = run("ledger", "--joist-span", "8", "--length", "20", "--ties", "exterior")
    assert 'From the ledger\'s left end: 16", 80", 160", 224".' in ran.out
    assert "750 from memory" in ran.out
    short = run("ledger", "--joist-span", "8", "--length", "2", "--ties", "exterior")
    assert "STOP" in short.out
    assert "lateral ties" in short.out


def test_the_calculation_is_for_the_engineer_and_names_the_mode(run: Run) -> None:
    ran = run(
        *("ledger", "--joist-span", "12", "--fastener", "bolt", "--sheathing-kind", "none"),
        *("--species", "douglas-fir-larch", "--calculate"),
    )
    assert "By calculation, for your engineer" in ran.out
    assert "mode II governs" in ran.out
    # NDS 2018 Table 12A, 1/2 in bolt, 1-1/2 in members, both across the grain: 220 lbf to 10 (from memory)
    found = re.search(r"mode II: .*?: (\d+) lbf, governs", " ".join(ran.out.split()))
    assert found
    assert round(float(found[1]), -1) == 220.0
    for mode in ("Im", "Is", "II", "IIIm", "IIIs", "IV"):
        assert ran.out.count(f"mode {mode}: ") == 1
    assert 'At most 29" on centre' in ran.out  # the table stays beside it


def test_the_calculation_answers_beyond_the_table_and_refuses_what_it_does_not_hold_for(run: Run) -> None:
    beyond = run(
        *("ledger", "--joist-span", "19", "--fastener", "bolt", "--sheathing-kind", "none", "--calculate")
    )
    assert beyond.code == 0
    assert "STOP  The fasteners are outside this table" in beyond.out
    assert "mode II governs" in beyond.out
    lag = run("ledger", "--joist-span", "19", "--calculate")
    assert (
        "no value; outside this table: needs an engineer; a lag screw of 0.5 in needs 2 in of hold"
        in flat(lag)
    )
    assert "Ledger on 1/2 in bolts: at most" in lag.out
    far = run("ledger", "--joist-span", "19", "--fastener", "bolt", "--washers", "2", "--calculate")
    assert "AWC TR 12 Table 1-1 (from memory)" in flat(far)
    veneer = run("ledger", "--joist-span", "12", "--band", "veneer", "--calculate")
    assert "Ledger: no value; nothing to calculate: the backing is veneer." in veneer.out


def test_the_tip_of_a_lag_screw_is_not_counted(run: Run) -> None:
    ran = flat(run("ledger", "--joist-span", "12", "--calculate"))
    # 1-1/2 ledger, 1/2 sheathing, 1-1/2 band joist, 5/16 tip (NDS appendix L, from memory): 3-13/16 in
    assert 'at least 4" long, so that the tapered tip, 5/16" and not counted' in ran
    assert "without the tapered tip: 1.5 in, at least 2 in (too little)" in ran


def test_the_drawing_marks_every_fastener_and_no_words_overlap(run: Run, here: Path) -> None:
    ran = run("ledger", "--joist-span", "11", "--length", "12", "--out", "drawn")
    assert ran.code == 0
    assert sorted(each.name for each in (here / "drawn").iterdir()) == ["ledger.dxf", "ledger.svg"]
    again = run("ledger", "--joist-span", "11", "--length", "12", "--out", "drawn")
    assert again.code == 1
    assert "did not write" in again.err


@pytest.mark.parametrize("length", ["6", "12", "40"])
def test_a_drawn_fastener_stands_where_the_layout_has_it(length: str) -> None:
    found = answer(read_case(LedgerAsked(joist_span="14", length=length, obstacle=("22..24:pipe",))))
    assert found.layout is not None
    scene = ledger_scene(found)
    assert overlapping_texts(scene) == ()
    drawn = [each for each in scene.marks if isinstance(each, Line) and each.ref and each.closed]
    middles = [
        tuple(round(sum(point[k] for point in each.points) / len(each.points), 6) for k in (0, 1))
        for each in drawn
    ]
    assert middles == [(each.x, each.z) for each in found.layout.fasteners]
    named = [each.text for each in scene.marks if isinstance(each, Text) and each.ref]
    assert len(named) == len(found.layout.fasteners)


def test_a_stopped_ledger_is_not_drawn(run: Run, here: Path) -> None:
    ran = run("ledger", "--joist-span", "9", "--length", "9", "--band", "veneer", "--out", "drawn")
    assert ran.code == 0
    assert "Nothing was drawn" in ran.out
    assert not (here / "drawn").exists()


# IRC 2018 Table R602.7(1), cells of tests/published/rules_headers.toml and structure_tables.toml
@pytest.mark.parametrize(
    ("span", "width", "snow", "supports", "least"),
    [
        ("5", "24", "50", "roof", "2-2x8 with 2 jack studs"),  # 60 in
        ("5' 1\"", "24", "50", "roof", "2-2x10 with 2 jack studs"),  # 71 in
        ("61 in", "12", "50", "roof", "2-2x6 with 1 jack stud at"),  # 61 in
        ("3' 6\"", "24 ft", "70 psf", "roof", "2-2x6 with 2 jack studs"),  # 42 in
        ("78 in", "36", "70", "roof", "3-2x12 with 2 jack studs"),  # 78 in
        ("53 in", "24", "50", "roof-and-center-bearing-floor", "2-2x8 with 2 jack studs"),  # 53 in
        ("62 in", "36", "70", "roof", "2-2x12 with 3 jack studs"),  # 62 in
    ],
)
def test_the_least_header_is_the_one_whose_cell_reaches(
    run: Run, span: str, width: str, snow: str, supports: str, least: str
) -> None:
    ran = run("header", "--span", span, "--width", width, "--snow", snow, "--supports", supports)
    assert ran.code == 0, ran.err
    assert least in ran.out
    assert "IRC 2018, Table R602.7(1)" in ran.out
    assert "licensed engineer" in ran.out


def test_a_header_under_cripples_goes_less_far(run: Run) -> None:
    # IRC 2018 Table R602.7(1), footnote: 2x8 to 2x12 times 0.70; 2-2x12, 50 psf, 24 ft: 83 in, so 58.1 in
    common = ("header", "--width", "24", "--snow", "50", "--no-top-braced")
    assert "2-2x12 with" in run(*common, "--span", "58 in").out
    assert "2-2x12 with" not in run(*common, "--span", "59 in").out


@pytest.mark.parametrize(
    ("options", "said"),
    [
        # the table ends at 36 ft and 70 psf; its longest cell at 70 psf, 36 ft is 78 in (3-2x12)
        (("--span", "5", "--width", "37", "--snow", "50"), "building width 37 ft is more than 36 ft"),
        (("--span", "5", "--width", "24", "--snow", "71"), "ground snow 71 psf is more than 70 psf"),
        (("--span", "79 in", "--width", "36", "--snow", "70"), "79 in is more than the 78 in of 3-2x12"),
        (("--span", "5", "--width", "24", "--snow", "50", "--edition", "2021"), "it has 2018"),
    ],
)
def test_a_header_outside_the_table_is_refused_with_the_bound(
    run: Run, options: tuple[str, ...], said: str
) -> None:
    ran = run("header", *options)
    assert ran.code == 2
    assert "outside this table: needs an engineer" in ran.err
    assert said in ran.err
    shown = run("header", *options, "--calculate")
    assert shown.code == 0
    assert "STOP  The header is outside this table" in shown.out
    assert "By calculation, for your engineer" in shown.out
    assert "governs" in shown.out or "no header of" in flat(shown)


def test_headers_whose_cell_is_not_held_are_named(run: Run) -> None:
    ran = run("header", "--span", "83 in", "--width", "24", "--snow", "50")
    assert "2-2x12 with" in ran.out
    assert "Not held here for this load, so not compared: 3-2x8." in ran.out


def test_the_calculated_header_is_told_with_what_was_taken(run: Run) -> None:
    ran = run("header", "--span", "5", "--width", "24", "--snow", "50", "--calculate")
    # by hand: 14 ft of roof at 15 psf dead, and at 0.7 x 50 psf snow
    assert "dead load D: 210 lbf/ft" in ran.out
    assert "snow on the roof S: 490 lbf/ft" in ran.out
    assert "live load of the floor" not in ran.out
    assert ran.out.count(", governs") == 1
    assert "beam stability" not in ran.out
    bare = run("header", "--span", "5", "--width", "24", "--snow", "50", "--calculate", "--no-top-braced")
    assert "beam stability, the top edge not held" in flat(bare)
    assert "the top edge is held at the ends only" in flat(bare)


def test_rules_list_every_check_of_either_edition(run: Run) -> None:
    for edition in ("2018", "2021"):
        ran = run("rules", "--edition", edition)
        assert ran.code == 0
        told = re.findall(r"^  (?:STOP|FIX|WATCH)  ([^:]+): ", ran.out, re.MULTILINE)
        assert told == [check.id for check in CHECKS] + [row.id for row in also_listed(rule_book(edition))]
        assert f"IRC {edition}, R310.2" in ran.out


def test_amendments_are_shown_as_local(run: Run, here: Path) -> None:
    (here / "town.toml").write_text(
        'title = "Town of Example"\n[[limit]]\nid = "escape.sill"\nvalue = 48\n'
        '[[row]]\ntable = "fenestration"\nclimate_zone = "3"\nu_max = 0.35\nu_max_high = 0.35\n'
        "shgc_max = 0.25\n"
        '[[strike]]\ncheck = "fall.low_sill"\n[[limit]]\nid = "guard.drop"\nvalue = 24\n',
        encoding="utf-8",
    )
    flat = " ".join(run("rules", "--amendments", "town.toml").out.split())
    assert "LOCAL With local amendment: town.toml (Town of Example)." in flat
    assert "escape.sill = 48 in (local amendment: town.toml (Town of Example))" in flat
    assert "rows by local amendment: town.toml" in flat
    assert "fall.low_sill: not applied: " in flat
    told = flat.partition("heights.guard: ")[2]  # heights go by the same limits
    assert "Source: local amendment: town.toml (Town of Example). Limits: guard.drop = 24 in." in told
    assert "local amendment" not in run("rules").out


def test_amendments_hold_for_a_ledger_and_a_header_alone(run: Run, here: Path) -> None:
    (here / "town.toml").write_text(
        'title = "Town of Example"\n[[row]]\ntable = "ledger_spacing"\nload_kind = "live"\n'
        'fastener = "lag"\nsheathing = "0.5"\nload_psf = 40\njoist_span_ft = 12\nspacing = 14\n'
        '[[limit]]\nid = "ledger.end_most"\nvalue = 4\n'
        '[[limit]]\nid = "header.unbraced_factor"\nvalue = 0.6\n',
        encoding="utf-8",
    )
    ledger = flat(run("ledger", "--joist-span", "11", "--amendments", "town.toml"))
    assert "LOCAL With local amendment: town.toml (Town of Example)." in ledger
    assert 'At most 14" on centre' in ledger
    assert '2" to 4" from the ends' in ledger
    assert "Table R507.9.1.3(2); local amendment: town.toml (Town of Example)." in ledger
    asked = ("header", "--span", "4", "--width", "24", "--snow", "50", "--no-top-braced")
    assert "times 0.60" in flat(run(*asked, "--amendments", "town.toml"))
    assert "times 0.70" in flat(run(*asked))
    missing = run(*asked, "--amendments", "none.toml")
    assert missing.code == 2
    assert "none.toml: it cannot be read" in missing.err


@pytest.mark.parametrize(
    ("text", "said"),
    [
        ('title = "T"\n[[limit]]\nid = "escape.sil"\nvalue = 48\n', "Did you mean 'escape.sill'?"),
        ('title = "T"\neditions = ["2021"]\n', "it amends 2021"),
        ("title = ", "it is not TOML"),
    ],
)
def test_bad_amendments_are_refused(run: Run, here: Path, text: str, said: str) -> None:
    (here / "town.toml").write_text(text, encoding="utf-8")
    ran = run("rules", "--amendments", "town.toml")
    assert ran.code == 2
    assert said in ran.err
    assert run("rules", "--amendments", "none.toml").code == 2


def test_what_is_listed_of_ledgers_is_what_is_found_of_them() -> None:
    load_ = LedgerLoad(joist_span_ft=10.0, fastener="lag")
    bad = Attachment(
        load=load_,
        ledger="2x6",
        beams_on_ledger=True,
        nailed=True,
        joists_cantilever=True,
        flashed=False,
        lateral_ties=False,
        band_bears_fully=False,
        band_thickness=1.0,
        treated=False,
        guard_posts_on_edge=True,
    )
    beyond = replace(bad, load=replace(load_, joist_span_ft=20.0))
    found = {each.id: each for case in (bad, beyond) for each in attachment_findings(case)}
    listed = {each.id: each for each in also_listed(rule_book("2018"))}
    assert len(found) == 11
    for ident, finding in found.items():
        assert (listed[ident].severity, listed[ident].source) == (finding.severity, finding.source)


ROOT = Path(__file__).parents[2] / "src/sillwright"


def test_every_finding_in_the_text_of_heights_and_structure_is_listed() -> None:
    text = "".join(
        (ROOT / name).read_text(encoding="utf-8")
        for name in ("heights/checks.py", "structure/layout.py", "structure/backing.py", "cli/ledger.py")
    )
    idents = {
        each.rstrip(".") for each in re.findall(r'id=f?"((?:heights|ledger|deck)\.[a-z][a-z .-]*)', text)
    }
    listed = {each.id for each in also_listed(rule_book("2018"))}
    assert idents >= {"heights.guard", "ledger.zone-empty", "ledger.ties"}
    for ident in idents - {"heights"}:
        assert any(each == ident or each.startswith(f"{ident}.") for each in listed), ident


def test_what_is_listed_of_framing_is_what_a_deck_is_judged_by() -> None:
    listed = {each.id: each for each in also_listed(rule_book("2018"))}
    text = (ROOT / "inspection/framing.py").read_text(encoding="utf-8")
    judged = set(re.findall(r'"(framing\.[a-z.-]+)"', text)) - {GUARD_POST}
    judged = {each for each in judged if not each.endswith(".least")}  # a suggestion
    assert judged | {"framing.edition"} == {each for each in listed if each.startswith("framing.")}
    values = {value.id: value.source for value in full()[1].framing if value.id in listed}
    assert len(values) > 4
    for ident, source in values.items():
        assert listed[ident].source == source


def test_the_choices_are_those_of_the_tables() -> None:
    words = ledger_case.BANDS | ledger_case.OTHER_BACKINGS
    assert get_args(asked.Backing) == tuple(words)
    assert set(ledger_case.BANDS.values()) == set(GOOD_BACKINGS)
    assert set(ledger_case.OTHER_BACKINGS.values()) == set(BAD_BACKINGS)
    for species in get_args(asked.Species):
        assert gravity(species.replace("-", "_")) > 0.3


def test_help_comes_without_loading_what_works_it_out() -> None:
    code = (
        "import sys; from sillwright.cli import main; main(['ledger', '--help']); "
        "heavy = ('sillwright.structure', 'sillwright.rules', 'numpy'); "
        "print([name for name in sys.modules if name.startswith(heavy)])"
    )
    ran = subprocess.run(  # noqa: S603 - our own program
        [sys.executable, "-c", code], capture_output=True, text=True, check=True
    )
    assert ran.stdout.splitlines()[-1] == "[]"
