"""A million strings of the tape's alphabet: a length, or a refusal that points into the text."""

from __future__ import annotations

import random
import re
from concurrent.futures import ProcessPoolExecutor
from multiprocessing import get_context

from sillwright.errors import BadInput, Fault
from sillwright.lengths import Unit, parse

STRINGS = 1_000_000
SHARES = 4
PIECES = (
    *"0123456789",
    *(" ", " ", " ", "-", "+", "/", ".", ",", "'", '"'),
    *("27", "12", "100", "3/8", "15/16", "7/17", " 1/2", "4' ", " ft ", " in", " mm", " cm", " m", "strong"),
    *(" strong", " shy", "full ", "scant", "just under ", "Heavy", "light", "just", "e", "x", "in.", "''"),
    *"½¼¾⅛⅜⅝⅞⅓⅔⁄∕−–—’‘”“′″⁵₁₆²\u00a0\u2009\n\x85\u2028\u0663İſK\ud800",
)
PLACE = re.compile(r"at character (\d+), '(.*)'\.$", re.DOTALL)


def strings(count: int, *, seed: int) -> list[str]:
    """Seeded strings of one to seven pieces."""
    source = random.Random(seed)  # noqa: S311 - a test's dice, nothing to keep secret
    pieces = source.choices(PIECES, k=count * 4)
    lengths = source.choices(range(1, 8), k=count)
    result, at = [], 0
    for length in lengths:
        result.append("".join(pieces[at : at + length]))
        at = (at + length) % (len(pieces) - 8)
    return result


def read_all(seed: int) -> int:
    """Read one share of the strings in both kinds of job; return how many were lengths."""
    units: tuple[Unit, Unit] = ("in", "mm")
    read = 0
    for number, text in enumerate(strings(STRINGS // SHARES, seed=seed)):
        try:
            said = parse(text, unit=units[number % 2])
        except BadInput:
            continue
        read += 1
        if not (-120_000 <= said.value <= 120_000 and 0 <= said.spread < 0.02):
            raise AssertionError(f"{text!r} gave {said}")
    return read


def test_a_million_strings_each_give_a_length_or_bad_input() -> None:
    # In processes of their own: on two cores, and not slowed by a coverage trace.
    with ProcessPoolExecutor(max_workers=2, mp_context=get_context("spawn")) as pool:
        read = sum(pool.map(read_all, range(SHARES)))
    assert STRINGS / 20 < read < STRINGS * 19 / 20  # lengths and refusals are both well visited


def refusal(text: str) -> Fault | None:
    """What is said against the text, if anything."""
    try:
        parse(text)
    except BadInput as error:
        return error.faults[0]
    return None


def test_a_refusal_points_at_the_part_it_quotes() -> None:
    pointed = 0
    for text in strings(30_000, seed=SHARES):
        fault = refusal(text)
        if fault is None:
            continue
        assert fault.advice, text
        place = PLACE.search(fault.what)
        if place:
            pointed += 1
            shown = "".join(c if c.isprintable() else "\ufffd" for c in text)
            assert shown[int(place[1]) - 1 :].startswith(place[2]), text
    assert pointed > 5_000
