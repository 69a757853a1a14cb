from __future__ import annotations

from pathlib import Path

import pytest
from tests.rules.samples import Facts, check

from sillwright.errors import BadInput
from sillwright.rules import RuleBook, amended, catalogue, examine, read_amendment, rule_book, run

BOOK = rule_book("2018")
IDS = ("sample.sill", "fall.low_sill")
TITLE = 'title = "Town of Example"\n'
LIMIT = '[[limit]]\nid = "escape.sill"\nvalue = 48\nsection = "R310.2.2 as amended"\n'
ROW = (
    '[[row]]\ntable = "fenestration"\nclimate_zone = "3"\n'
    'u_max = 0.35\nu_max_high = 0.35\nshgc_max = 0.25\nsection = "N1102"\n'
)
HEADER = (
    '[[row]]\ntable = "headers"\nsupports = "roof_ceiling"\nheader = "2-2x10"\nground_snow_psf = 90\n'
    "building_width_ft = 24\nspan = {span}\njack_studs = 2\n"
)


def _laid(text: str, book: RuleBook = BOOK) -> RuleBook:
    return amended(book, TITLE + text, name="town.toml", check_ids=IDS)


def test_an_amended_limit_is_judged_by_and_shown_in_the_source() -> None:
    facts = Facts(opens=True, sill=50)
    (finding,) = run([check()], facts, _laid(LIMIT))
    assert finding.limit == 'at most 48"'
    assert finding.source == (
        "IRC 2018, R310.2.2; local amendment: town.toml (Town of Example), R310.2.2 as amended"
    )
    assert run([check()], Facts(opens=True, sill=46), _laid(LIMIT)) == ()


def test_a_number_may_be_set_where_the_place_sets_none() -> None:
    book = _laid('[[limit]]\nid = "sill.slope"\nvalue = 2\n')
    assert book.limits["sill.slope"].value == 2
    assert book.limits["sill.slope"].origin == "local amendment: town.toml (Town of Example)"
    assert "sill.slope" not in book.unset
    assert "sill.slope" in BOOK.unset


def test_the_model_code_stays_as_it_was() -> None:
    _laid(LIMIT)
    assert rule_book("2018").limits["escape.sill"].value == 44


def test_an_amended_row_takes_the_place_of_the_models_own() -> None:
    table = _laid(ROW).tables["fenestration"]
    row = table.find({"edition": "2018", "climate_zone": "3"})
    assert row.values["u_max"] == 0.35
    assert row.origin == "local amendment: town.toml (Town of Example), N1102"
    assert len(table.rows) == len(BOOK.tables["fenestration"].rows)


def test_no_requirement_may_be_laid_over_a_value() -> None:
    book = _laid(ROW.replace("shgc_max = 0.25", 'shgc_max = "NR"'))
    row = book.tables["fenestration"].find({"edition": "2018", "climate_zone": "3"})
    assert row.values["shgc_max"] is None


def test_a_row_may_carry_a_table_further() -> None:
    book = _laid(HEADER.format(span=44))
    keys = {"edition": "2018", "supports": "roof_ceiling", "header": "2-2x10"}
    row = book.tables["headers"].find(keys, {"ground_snow_psf": 80, "building_width_ft": 24})
    assert (row.values["span"], row.origin) == (44.0, "local amendment: town.toml (Town of Example)")


def test_a_row_against_the_order_of_its_table_is_refused() -> None:
    with pytest.raises(
        BadInput, match=r"row\[0\]: headers\.csv: span should fall as ground_snow_psf goes up"
    ):
        _laid(HEADER.format(span=90))


def test_a_check_struck_out_is_not_run_and_says_who_struck_it() -> None:
    book = _laid('[[strike]]\ncheck = "sample.sill"\nsection = "not adopted"\n')
    (result,) = examine([check()], Facts(opens=True, sill=99), book)
    said = "struck out by local amendment: town.toml (Town of Example), not adopted"
    assert (result.status, result.why, result.finding) == ("struck out", said, None)
    assert catalogue([check()], book)[0].limits[-1] == said


def test_amendments_lie_over_each_other_and_the_last_one_counts() -> None:
    book = amended(
        _laid(LIMIT), 'title = "State"\n' + LIMIT.replace("48", "40"), name="s.toml", check_ids=IDS
    )
    assert book.limits["escape.sill"].value == 40
    assert book.amendments == (
        "local amendment: town.toml (Town of Example)",
        "local amendment: s.toml (State)",
    )


@pytest.mark.parametrize(
    ("text", "said"),
    [
        ("[[limit]", "town.toml: it is not TOML"),
        ('limt = 1\n[[limit]]\nid = "escape.sill"\nvalue = 1', "unknown key 'limt'. Did you mean 'limit'?"),
        (
            'editions = ["2015"]',
            "editions: ['2015'] is not a list of known editions. Known here: 2018, 2021.",
        ),
        ('editions = "2018"', "is not a list of known editions"),
        ('editions = ["2021"]', "it amends 2021, and the job is judged by 2018."),
        ('[limit]\nid = "escape.sill"', "limit: expected a list of tables. Write [[limit]]."),
        ("limit = [1]", "limit[0]: expected a table of keys."),
        ("[[limit]]\nvalue = 1", "limit[0]: the key 'id' is missing."),
        ('[[limit]]\nid = "escape.sil"\nvalue = 1', "there is no 'escape.sil'. Did you mean 'escape.sill'?"),
        ('[[limit]]\nid = "escape.sill"', "limit[0].value: expected a number of at least 0, found None."),
        ('[[limit]]\nid = "escape.sill"\nvalue = "44"', "found '44'."),
        ('[[limit]]\nid = "escape.sill"\nvalue = true', "found True."),
        ('[[limit]]\nid = "escape.sill"\nvalue = -1', "found -1."),
        ('[[limit]]\nid = "escape.sill"\nvalue = nan', "found nan."),
        ('[[limit]]\nid = "escape.sill"\nvalue = 1\nsection = 3', "section: expected text in quotes."),
        ('[[limit]]\nid = "escape.sill"\nvalue = 1\nunit = "mm"', "limit[0]: unknown key 'unit'."),
        ('[[row]]\ntable = "windows"', "row[0].table: there is no 'windows'."),
        ('[[row]]\ntable = "limits"', "row[0].table: there is no 'limits'."),
        (ROW.replace("u_max = 0.35\n", ""), "row[0]: the key 'u_max' is missing."),
        (ROW.replace("u_max =", "u_mx ="), "unknown key 'u_mx'. Did you mean 'u_max'?"),
        (ROW.replace("u_max = 0.35", 'u_max = "low"'), "row[0].u_max: expected a number"),
        ('[[strike]]\ncheck = "fall.low_sil"', "Did you mean 'fall.low_sill'?"),
    ],
)
def test_a_faulty_amendment_is_refused_with_where_what_and_what_to_do(text: str, said: str) -> None:
    with pytest.raises(BadInput) as refusal:
        _laid(text)
    assert said in str(refusal.value)
    assert str(refusal.value).startswith("town.toml")


def test_an_amendment_that_names_no_town_is_refused() -> None:
    with pytest.raises(BadInput, match="whose amendment this is must be said"):
        amended(BOOK, LIMIT, name="town.toml", check_ids=IDS)


def test_all_faults_of_an_amendment_are_told_at_once() -> None:
    bad = (
        '[[limit]]\nid = "x"\nvalue = 1\n[[limit]]\nid = "escape.sill"\nvalue = -1\n[[strike]]\ncheck = "y"\n'
    )
    with pytest.raises(BadInput) as refusal:
        _laid(bad)
    assert [fault.where for fault in refusal.value.faults] == [
        "town.toml: limit[0].id",
        "town.toml: limit[1].value",
        "town.toml: strike[0].check",
    ]


def test_an_amendment_is_read_from_its_file_and_named_by_it(tmp_path: Path) -> None:
    path = tmp_path / "our town.toml"
    path.write_text(TITLE + LIMIT, encoding="utf-8")
    book = read_amendment(path, BOOK, check_ids=IDS)
    assert "our town.toml" in book.limits["escape.sill"].origin
    assert str(tmp_path) not in book.limits["escape.sill"].origin


@pytest.mark.parametrize("data", [None, b"\xff\xfe"])
def test_a_file_that_is_not_there_or_not_text_is_refused(tmp_path: Path, data: bytes | None) -> None:
    path = tmp_path / "town.toml"
    if data is not None:
        path.write_bytes(data)
    with pytest.raises(BadInput, match="it cannot be read"):
        read_amendment(path, BOOK, check_ids=IDS)
