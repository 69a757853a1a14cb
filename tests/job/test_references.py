from __future__ import annotations

import pytest
from tests.job.documents import SMALL, messages

UNIT = (
    '[[unit]]\nopening = "{}"\nkind = "casement"\nframe_width = 35\nframe_height = 57\n'
    "least_side_clearance = 0\nleast_head_clearance = 0\nlargest_out_of_plane = 1\n"
)
SETUP = '[[setup]]\nname = "s"\nx = 0\nseries = [{}]\n'

CASES = {
    "two openings of one name": (
        '[[opening]]\nname = "A"\n',
        ["line 13, opening[1] \"A\".name: there is already an opening 'A'. Give each its own name."],
    ),
    "two units in one opening": (
        UNIT.format("A") * 2,
        [
            "line 21, unit[1] \"A\".opening: there is already a unit in opening 'A'. "
            "One opening takes one unit."
        ],
    ),
    "two marks of one name": (
        '[[mark]]\nname = "M1"\nx = 1\n' * 2,
        ["line 16, mark[1] \"M1\".name: there is already a mark 'M1'. Give each its own name."],
    ),
    "two instruments of one name": (
        '[[instrument]]\nname = "red"\nkind = "laser"\n' * 2,
        [
            "line 16, instrument[1] \"red\".name: there is already an instrument 'red'. "
            "Give each its own name."
        ],
    ),
    "two set-ups of one name": (
        SETUP.format("{ point = 'floor', down = 1 }") * 2,
        ["line 17, setup[1] \"s\".name: there is already a set-up 's'. Give each its own name."],
    ),
    "a unit without its opening": (
        UNIT.format("AA"),
        ["line 13, unit[0] \"AA\".opening: there is no opening 'AA'. Did you mean 'A'?"],
    ),
    "a head line without its opening": (
        '[[head_line]]\nopenings = ["A", "W"]\nwithin = 0\n' + UNIT.format("A"),
        ["line 13, head_line[0].openings[1]: there is no opening 'W'. Known here: A."],
    ),
    "a head line without units": (
        '[[head_line]]\nopenings = ["A", "A"]\nwithin = 0\n',
        [
            "line 13, head_line[0].openings[0]: no unit is to be set in opening 'A'. "
            "Add its [[unit]], or take it off the head line.",
            "line 13, head_line[0].openings[1]: opening 'A' is in this head line already. Name it once.",
        ],
    ),
    "an opening in two rows": (
        '[[row]]\nopenings = ["A"]\n' * 2,
        [
            "line 15, row[1].openings[0]: opening 'A' is in a row already. "
            "An opening has one sill line; name it once."
        ],
    ),
    "a shot on no opening": (
        SETUP.format("{ sill = 'B', x = 1, down = 1 }, { head = 'a', x = 1, down = 1 }"),
        [
            "line 15, setup[0] \"s\".series[0].sill: there is no opening 'B'. Known here: A.",
            "line 15, setup[0] \"s\".series[1].head: there is no opening 'a'. Did you mean 'A'?",
        ],
    ),
    "a mark nowhere": (
        SETUP.format("{ mark = 'M1', down = 1 }"),
        [
            "line 15, setup[0] \"s\".series[0].mark: nothing says where mark 'M1' is. "
            "Add x here, or a [[mark]] of that name with its x."
        ],
    ),
    "a mark misspelt": (
        '[[mark]]\nname = "nail"\nx = 1\n' + SETUP.format("{ mark = 'nial', down = 1 }"),
        ["line 18, setup[0] \"s\".series[0].mark: nothing says where mark 'nial' is. Did you mean 'nail'?"],
    ),
    "a mark with its x": (SETUP.format("{ mark = 'M1', x = 3, down = 1 }"), []),
    "an unknown instrument": (
        '[[instrument]]\nname = "red laser"\nkind = "laser"\n'
        + SETUP.format("{ point = 'floor', down = [{ value = 1, instrument = 'red lazer' }] }"),
        [
            "line 18, setup[0] \"s\".series[0].down[0].instrument: there is no instrument 'red lazer'. "
            "Did you mean 'red laser'?"
        ],
    ),
    "no instrument at all": (
        "height.left = { value = 1, instrument = 'tape' }\n",
        [
            "line 12, opening[0] \"A\".height.left.instrument: there is no instrument 'tape'. "
            "Add an [[instrument]] of that name."
        ],
    ),
}


@pytest.mark.parametrize("name", CASES)
def test_names_agree_across_the_file(name: str) -> None:
    tail, expected = CASES[name]
    assert messages(SMALL + tail) == expected


def test_wrong_names_are_told_together_with_wrong_values() -> None:
    told = messages(SMALL + UNIT.format("B").replace("35", '"35 1/3"'))
    assert [message.split(":")[0] for message in told] == [
        'line 13, unit[0] "B".opening',
        'line 15, unit[0] "B".frame_width',
    ]
