"""The page reads and writes lengths as `sillwright.lengths` does: same vectors, same words in refusal."""

from __future__ import annotations

import random
from fractions import Fraction
from typing import Any

import pytest
from playwright.sync_api import Page
from tests.lengths.vectors import VECTORS

from sillwright.errors import BadInput
from sillwright.lengths import Unit, from_unit, glyphs, parse, show, show_feet

UNITS: tuple[Unit, ...] = ("in", "mm")
_PARSE = """async (said) => {
  const { parse } = await import("/static/lengths.js");
  return said.map(([text, unit]) => {
    try { return parse(text, unit); } catch (error) { return { what: error.what, advice: error.advice }; }
  });
}"""


def in_browser(page: Page, said: list[tuple[str, Unit]]) -> list[dict[str, Any]]:
    answers: list[dict[str, Any]] = page.evaluate(_PARSE, [list(each) for each in said])
    return answers


def in_python(text: str, unit: Unit) -> dict[str, Any]:
    try:
        said = parse(text, unit=unit)
    except BadInput as error:
        (fault,) = error.faults
        return {"what": fault.what, "advice": fault.advice}
    return {"value": said.value, "spread": said.spread, "graduation": said.graduation}


def test_reads_every_vector_exactly(module_page: Page) -> None:
    inches = [(text, Fraction(top, bottom)) for text, top, bottom in VECTORS["inches"]]
    metric = [(text, Fraction(top, bottom) * 10 / 254) for text, top, bottom in VECTORS["millimetres"]]
    by_unit: dict[Unit, list[tuple[str, Fraction]]] = {"in": inches + metric, "mm": metric}
    for unit, vectors in by_unit.items():
        found = in_browser(module_page, [(text, unit) for text, _ in vectors])
        for (text, exact), answer in zip(vectors, found, strict=True):
            assert answer.get("value") == exact.numerator / exact.denominator, (text, answer)


def test_strong_and_shy_lie_half_a_mark_off(module_page: Page) -> None:
    said = [
        (f"{mark} {word}", Fraction(top, bottom) * side)
        for words, side in ((VECTORS["strong"], 1), (VECTORS["shy"], -1))
        for word in words
        for mark, top, bottom in VECTORS["marks"]
    ]
    found = in_browser(module_page, [(text, "in") for text, _ in said])
    for (text, off), answer in zip(said, found, strict=True):
        mark = next(
            mark for mark, *_ in sorted(VECTORS["marks"], key=lambda m: -len(m[0])) if text.startswith(mark)
        )
        assert Fraction(answer["value"]) == Fraction(parse(mark).value) + off, text
        assert answer["spread"] == in_python(text, "in")["spread"]


def test_refuses_in_the_same_words_at_the_same_character(module_page: Page) -> None:
    said: list[tuple[str, Unit]] = [(text, unit) for text, unit, *_ in VECTORS["refused"]]
    said += [(text, "in") for text, _ in VECTORS["no_lengths"]]
    for (text, unit), answer in zip(said, in_browser(module_page, said), strict=True):
        assert answer == in_python(text, unit), text


PIECES = [
    *"0123456789",
    *"'\"’”.,-−–+/⁄ ",
    *"½⅜⅞⅓⁵₁₆",
    *["3/8", "5/16", "7/17", "12", "36", " 1/2", "ft", "feet", " in", "in.", "mm", " cm", "m"],
    *[" strong", "shy", " just over", "scant", "x", "\u00a0", "\t", "🪟"],
]


def test_agrees_on_thousands_of_texts_nobody_would_write(module_page: Page) -> None:
    dice = random.Random(36)  # noqa: S311  always the same texts
    texts = ["".join(dice.choices(PIECES, k=dice.randint(1, 7))) for _ in range(6000)]
    said = [(text, dice.choice(UNITS)) for text in texts]
    for (text, unit), answer in zip(said, in_browser(module_page, said), strict=True):
        assert answer == in_python(text, unit), (text, unit)


_SHOW = """async ([inches, millimetres, feet, texts]) => {
  const { show, showFeet, glyphs } = await import("/static/lengths.js");
  const of = (unit) => ([length, graduation]) => show(length, graduation ? { unit, graduation } : { unit });
  const inFeet = feet.map((each) => showFeet(each));
  return [inches.map(of("in")), millimetres.map(of("mm")), inFeet, texts.map(glyphs)];
}"""


def test_shows_every_vector(module_page: Page) -> None:
    inches, metric = VECTORS["shown_inches"], VECTORS["shown_millimetres"]
    feet, small = VECTORS["shown_feet"], VECTORS["glyphs"]
    asked = [
        [[length, graduation] for length, graduation, _ in inches],
        [[from_unit(length, "mm"), graduation] for length, graduation, _ in metric],
        [length for length, _ in feet],
        [text for text, _ in small],
    ]
    found = module_page.evaluate(_SHOW, asked)
    assert found == [[each[-1] for each in group] for group in (inches, metric, feet, small)]


@pytest.mark.parametrize("spread", [1.0, 200.0])
def test_shows_thousands_of_lengths_alike(module_page: Page, spread: float) -> None:
    dice = random.Random(27)  # noqa: S311  always the same lengths
    lengths = [dice.uniform(-spread, spread) for _ in range(2000)]
    lengths += [(n + 0.5) / 32 for n in range(200)]  # ties
    marks = [dice.choice([1 / 16, 1 / 8, 1 / 32, 1 / 64]) for _ in lengths]
    steps = [dice.choice([1.0, 0.5, 0.1]) for _ in lengths]
    texts = [show(length) for length in lengths]
    inches, metric = list(zip(lengths, marks, strict=True)), list(zip(lengths, steps, strict=True))
    assert module_page.evaluate(_SHOW, [inches, metric, lengths, texts]) == [
        [show(length, graduation=mark) for length, mark in inches],
        [show(length, unit="mm", graduation=step) for length, step in metric],
        [show_feet(length) for length in lengths],
        [glyphs(text) for text in texts],
    ]
