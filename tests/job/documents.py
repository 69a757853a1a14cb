"""Job files to test with: the examples, a small one, and ones that Hypothesis makes up."""

from __future__ import annotations

import datetime
from collections.abc import Iterator
from pathlib import Path
from typing import Any

from hypothesis import strategies as st

from sillwright.errors import BadInput
from sillwright.job import read_job

ROOT = Path(__file__).parents[2]
EXAMPLES = sorted((ROOT / "examples").glob("*.toml"))

SMALL = """\
sillwright = 1
title = "Back wall"  # a title

[kit]
shims = ["1/8"]
shim_width = "1 1/2"

# the only opening
[[opening]]
name = "A"
width = { middle = "36 3/16" }  # read in the rain
"""


def text_of(path: Path) -> str:
    return path.read_text(encoding="utf-8")


def messages(text: str) -> list[str]:
    """Return the faults of a job file, as they are told; none if it has none."""
    try:
        read_job(text)
    except BadInput as error:
        return [str(fault) for fault in error.faults]
    return []


def leaves(data: Any, path: tuple[str | int, ...] = ()) -> Iterator[tuple[str | int, ...]]:
    """Yield the path of every value, and of every empty table and list."""
    inside = data.items() if isinstance(data, dict) else enumerate(data) if isinstance(data, list) else None
    if inside is None or not data:
        yield path
        return
    for key, value in inside:
        yield from leaves(value, (*path, key))


words = st.text(st.characters(exclude_categories=["Cs"]), max_size=12)
scalars = (
    words
    | st.integers()
    | st.floats(allow_nan=False)
    | st.booleans()
    | st.dates(min_value=datetime.date(1000, 1, 1))
)
values = st.recursive(
    scalars,
    lambda inner: st.lists(inner, max_size=3) | st.dictionaries(words, inner, max_size=3),
    max_leaves=6,
)

tape = st.builds(
    lambda sign, whole, part, hair: f"{sign}{whole}{part}{hair}",
    st.sampled_from(["", "-"]),
    st.integers(0, 400),
    st.sampled_from([" in", " 1/2 in", " 3/16 in", " 31/64 in"]),
    st.sampled_from(["", " strong", " shy"]),
)
lengths = tape | st.integers(-9000, 9000) | st.floats(-900, 900).map(lambda length: round(length, 9))
said = lengths | st.fixed_dictionaries(
    {"value": lengths}, optional={"sd": st.floats(0.001, 3), "by": words, "note": words}
)
readings = said | st.lists(said, min_size=1, max_size=3)
positive = (
    st.integers(1, 9000)
    | st.floats(0.001, 900)
    | st.sampled_from(["36 3/16 in", "36 3/16 in strong", "1/64 in"])
)


@st.composite
def jobs(draw: st.DrawFn) -> dict[str, Any]:
    """Draw the data of a valid job file."""
    lean = st.fixed_dictionaries({"over_height": positive, "top_leans_in": readings})
    line = st.just({"at": [1, 2], "gap": ["1/2 in", [1, "2 in shy"]]})
    opening = st.fixed_dictionaries(
        {"name": st.just("A")},
        optional={
            "near": positive,
            "left_jack_x": readings,
            "width": st.fixed_dictionaries({}, optional={"middle": positive, "top": positive}),
            "plumb": st.fixed_dictionaries({"left": lean}),
            "plumb_line": st.fixed_dictionaries({"right": line}),
            "note": words,
        },
    )
    sill = st.fixed_dictionaries({"sill": st.just("A"), "x": lengths, "down": readings})
    edge = st.sampled_from(["inner", "outer"])
    point = st.fixed_dictionaries({"point": words, "down": readings}, optional={"edge": edge})
    series = st.lists(sill | point, min_size=1, max_size=4)
    setup = st.fixed_dictionaries({"name": st.just("s"), "x": lengths, "series": series})
    shims = positive | st.fixed_dictionaries({"thickness": positive, "count": st.integers(0, 99)})
    optional = {
        "note": st.text(st.sampled_from('ab "\\\n\t#'), max_size=300),
        "invented": st.booleans(),
        "tolerances": st.fixed_dictionaries({"pad": positive, "fit_probability": st.floats(0.51, 0.99)}),
        "site": st.fixed_dictionaries({}, optional={"ground_snow_psf": st.floats(0, 99), "place": words}),
        "setup": st.lists(setup, max_size=1),
    }
    return {
        "sillwright": 1,
        "units": draw(st.sampled_from(["in", "mm"])),
        "title": draw(words),
        "kit": {"shims": draw(st.lists(shims, min_size=1, max_size=3)), "shim_width": draw(positive)},
        "opening": [draw(opening)],
        **draw(st.fixed_dictionaries({}, optional=optional)),
    }
