"""Every reading against the adjusted wall, what to measure next, and the verdict on pads shot again."""

from __future__ import annotations

from sillwright.packet.blocks import Block, Heading, Page, Stamp, StampWord, Step, Steps, Table, Words
from sillwright.packet.sheets import Sheets, left, listed, right, ring, sentence
from sillwright.survey.model import ReadingResult


def reading_page(sheets: Sheets) -> Page | None:
    """Return the reading sheet; None when nothing was read."""
    survey = sheets.plan.survey
    if not survey.readings:
        return None
    columns = (
        left("reading", width=1),
        left("in the job file", style="path", width=0.8),
        right("read"),
        right("adjusted"),
        right("off by"),
        right("sd"),
        right("w"),
        right("shows from"),
        left("status"),
    )
    rows = tuple(_row(sheets, reading) for reading in survey.readings)
    marked = frozenset(n for n, reading in enumerate(survey.readings) if reading.status != "used")
    blocks: list[Block] = [
        Words(text=_test_words(sheets)),
        Table(columns=columns, rows=rows, marked=marked, size=8, pad=2.4, note=_NOTE),
    ]
    if survey.not_determined:
        text = f"Not determined by these readings: {listed(survey.not_determined)}."
        blocks.append(Words(text=text))
    subtitle = f"{sheets.units_note} off by, sd and shows from: decimals of the {_ONE[sheets.plan.units]}."
    return Page(title="Reading sheet", subtitle=subtitle, blocks=(*blocks, *_next(sheets)))


_ONE = {"in": "inch", "mm": "millimetre"}
_NOTE = (
    "off by: adjusted less read. sd: one standard deviation of the reading. w: off by, in "
    "its own standard deviations; "
    "shows from: least error that the others would show; – : nothing checks this reading."
)


def _row(sheets: Sheets, reading: ReadingResult) -> tuple[str, ...]:
    figures = sheets.figures
    return (
        reading.label,
        reading.path,
        figures.fine(reading.observed),
        figures.fine(reading.adjusted),
        figures.decimal(reading.residual),
        figures.decimal(reading.sd),
        "–" if reading.w is None else f"{reading.w:.1f}".replace("-0.0", "0.0"),
        "–" if reading.detectable is None else figures.decimal(reading.detectable),
        {"used": "", "doubtful": "doubtful", "set aside": "set aside"}[reading.status],
    )


def _test_words(sheets: Sheets) -> str:
    survey = sheets.plan.survey
    limit = f"A reading is suspect when w is beyond {survey.critical_w:.2f}."
    test = survey.global_test
    if test is None:
        return f"There are no more readings than unknowns: nothing checks them as a whole. {limit}"
    verdict = "fit together" if test.passed else "do not fit together"
    numbers = f"{test.statistic:.1f} against a limit of {test.limit:.1f} at {test.dof:.0f} degrees of freedom"
    return f"The readings kept {verdict} as well as their standard deviations say: {numbers}. {limit}"


def _next(sheets: Sheets) -> list[Block]:
    """Return what to measure next."""
    plan = sheets.plan
    if not plan.measure_next:
        return []
    steps = tuple(
        Step(number=str(n), text=_next_words(sheets, n - 1), ring=False)
        for n, _ in enumerate(plan.measure_next, start=1)
    )
    lead = "Readings not yet taken that would settle most, the best first:"
    return [Heading(text="Measure next"), Words(text=lead), Steps(steps=steps)]


def again_page(sheets: Sheets) -> Page | None:
    """Return the verdict on pads shot again; None where none were."""
    blocks = _reshoot(sheets)
    if not blocks:
        return None
    return Page(title="Pads shot again", subtitle=sheets.units_note, blocks=tuple(blocks))


def _next_words(sheets: Sheets, index: int) -> str:
    one = sheets.plan.measure_next[index]
    figures = sheets.figures
    now, then = figures.close_band(one.sd_now), figures.close_band(one.sd_then)
    less = f"{now} now, {then} with it, {100 * one.reduction:.0f} % less"
    return f"{sentence(one.label)} It bears on: {one.decision.rstrip('.?')} ({less})."


def _reshoot(sheets: Sheets) -> list[Block]:
    reshoot = sheets.plan.setting.reshoot
    if reshoot is None:
        return []
    figures = sheets.figures
    columns = (
        ring("pad"),
        left("edge"),
        right("off the line"),
        right("±"),
        left("what to do", width=1),
        left("in the job file", style="path", width=1),
    )
    rows = tuple(
        (
            str(pad.number),
            pad.edge,
            figures.signed(pad.off),
            figures.band(pad.sd),
            sentence(pad.correction) or "Leave it.",
            pad.path,
        )
        for pad in reshoot.pads
    )
    marked = frozenset(n for n, pad in enumerate(reshoot.pads) if pad.correction)
    if reshoot.verdict == "accept":
        said: Block = Words(text=f"Accept. {sentence(reshoot.sentence)}", style="lead")
    else:
        word: StampWord = "FIX" if reshoot.verdict == "correct" else "STOP"
        said = Stamp(word=word, text=sentence(reshoot.verdict), more=(sentence(reshoot.sentence),))
    return [said, Table(columns=columns, rows=rows, marked=marked)]
