"""The packet read back: words, sizes, order, and the same bytes every time."""

from __future__ import annotations

import io
import re
from dataclasses import replace
from functools import cache

import pypdf
import pytest
import typst
from pypdf.generic import ContentStream
from tests.planned_jobs import conflicting, example, long_job, planned, trimmed

from sillwright.errors import OutputError
from sillwright.job import Job
from sillwright.packet import packet_pdf, page_images, plan_packet, reading_form_pdf
from sillwright.packet.blocks import Figure, Page, Side, Table, unbroken
from sillwright.packet.compose import PAPER_SIZES, Packet, to_pdf
from sillwright.packet.sheets import room
from sillwright.plan import Plan

EXAMPLES = ("farmhouse", "villa")  # one in inches, one in millimetres; planned examples below


@cache
def made(name: str) -> tuple[Job, Plan, bytes]:
    job = example(name)
    plan = planned(job)
    return job, plan, packet_pdf(job, plan)


@cache
def pages_of(pdf: bytes) -> tuple[str, ...]:
    """Return every page's words on one line, without the breaks that only help the eye."""
    texts = [page.extract_text() for page in pypdf.PdfReader(io.BytesIO(pdf)).pages]
    return tuple(re.sub(r"\s+", " ", text.replace("\u200b", "").replace("\xa0", " ")) for text in texts)


def page_with(pages: tuple[str, ...], title: str) -> str:
    return next(page for page in pages if page.startswith(title))


@pytest.mark.parametrize("name", EXAMPLES)
def test_inch_jobs_come_on_letter_and_metric_ones_on_a4(name: str) -> None:
    job, _, pdf = made(name)
    wanted = PAPER_SIZES["letter" if job.units == "in" else "a4"]
    for page in pypdf.PdfReader(io.BytesIO(pdf)).pages:
        size = sorted(float(side) / 72 for side in (page.mediabox.width, page.mediabox.height))
        assert size == pytest.approx(wanted, abs=0.01)


@pytest.mark.parametrize("name", EXAMPLES)
def test_every_page_carries_the_plan_the_count_and_that_it_is_invented(name: str) -> None:
    _, plan, pdf = made(name)
    pages = pages_of(pdf)
    for number, text in enumerate(pages, start=1):
        assert plan.fingerprint in text
        assert "invented data" in text
        assert "± at 95 % (1.96" in text
        assert f"{number} of {len(pages)}" in text


def test_a_real_job_is_not_called_invented() -> None:
    job = example("farmhouse")
    pages = pages_of(packet_pdf(job, replace(planned(job), invented=False)))
    assert not any("invented" in page.lower() or "made up" in page for page in pages)
    assert all("± at 95 % (1.96 sd)" in page for page in pages)


@pytest.mark.parametrize("name", EXAMPLES)
def test_page_one_names_every_suspect_with_its_place_and_what_it_would_be(name: str) -> None:
    _, plan, pdf = made(name)
    first = pages_of(pdf)[0]
    for suspect in plan.survey.suspects:
        assert suspect.label in first
        assert suspect.path in first
        assert "it would be" in first
        assert all(other in first for other in suspect.cannot_tell_from)
    for knock in plan.survey.disturbed:
        assert knock.after_path in first
        assert knock.before_path in first


def test_page_one_says_what_conflicts_and_what_would_cure_it() -> None:
    job = conflicting()
    plan = planned(job)
    first = pages_of(packet_pdf(job, plan))[0]
    assert (
        plan.setting.conflicts[0].cure.rstrip(".") in first.replace("\u2044", "/")
        or "order the first unit" in first
    )
    assert "No plan meets every demand" in first


def test_suspects_come_before_what_to_do() -> None:
    first = pages_of(made("villa")[2])[0]
    assert first.index("Take again:") < first.index("What to do") < first.index("Cautions")


@pytest.mark.parametrize("name", EXAMPLES)
def test_every_pad_is_in_the_schedule_and_on_the_reshoot_form(name: str) -> None:
    job, plan, _ = made(name)
    packet = plan_packet(job, plan)
    for title in ("Shim schedule", "Shoot the pads again"):
        (page,) = (page for page in packet.pages if page.title == title)
        table = max((b for b in page.blocks if isinstance(b, Table)), key=lambda table: len(table.rows))
        assert [int(row[0]) for row in table.rows] == [pad.number for pad in plan.setting.pads]


@pytest.mark.parametrize("name", EXAMPLES)
def test_every_reading_stands_on_the_reading_sheet(name: str) -> None:
    _, plan, pdf = made(name)
    text = "".join(pages_of(pdf)).replace(" ", "")  # long places wrap inside their column
    assert all(reading.path in text for reading in plan.survey.readings)


@pytest.mark.parametrize("name", EXAMPLES)
def test_no_drawing_is_wider_than_its_page(name: str) -> None:
    job, plan, _ = made(name)
    for paper in ("letter", "a4"):
        packet = plan_packet(job, plan, paper=paper)
        for page in packet.pages:
            wide, _ = room(packet.paper, landscape=page.landscape)
            for block in page.blocks:
                if isinstance(block, Figure):
                    assert block.indent + block.width <= wide + 1e-6, page.title
                if isinstance(block, Side):
                    widths = [
                        figure.width
                        for column in block.columns
                        for figure in column
                        if isinstance(figure, Figure)
                    ]
                    assert sum(widths) + block.gap / 72 * (len(widths) - 1) <= wide, page.title


@pytest.mark.parametrize(("name", "inches"), [("farmhouse", 4.0), ("villa", 100 / 25.4)])
def test_the_checking_ruler_has_its_true_length_on_paper(name: str, inches: float) -> None:
    job, plan, _ = made(name)
    packet = plan_packet(job, plan)
    pole = next(page for page in packet.pages if page.title == "Story pole")
    alone = Packet(
        title="ruler",
        wall="",
        fingerprint="",
        invented=False,
        paper=packet.paper,
        pages=(Page(title="Ruler", blocks=pole.blocks[:1]),),
    )
    lengths = level_lines(to_pdf(alone))
    assert min(abs(length - inches) for length in lengths) < 0.002


def level_lines(pdf: bytes) -> list[float]:
    """Return the lengths of all level lines drawn on the first page [in], by running its drawing commands."""
    page = pypdf.PdfReader(io.BytesIO(pdf)).pages[0]
    found: list[float] = []
    _run(page.get_contents(), page["/Resources"], 1.0, page.pdf, found)
    return found


def _run(content: object, resources: object, scale: float, reader: object, found: list[float]) -> None:
    stack, start = [], (0.0, 0.0)
    for operands, operator in ContentStream(content, reader).operations:
        match operator:
            case b"q":
                stack.append(scale)
            case b"Q":
                scale = stack.pop()
            case b"cm":
                scale *= abs(float(operands[0]))
            case b"m":
                start = (float(operands[0]), float(operands[1]))
            case b"l":
                end = (float(operands[0]), float(operands[1]))
                if abs(end[1] - start[1]) < 1e-6:
                    found.append(abs(end[0] - start[0]) * scale / 72)
                start = end
            case b"Do":
                form = resources["/XObject"][operands[0]].get_object()  # type: ignore[index]
                if form["/Subtype"] == "/Form":
                    matrix = [float(n) for n in form.get("/Matrix", [1, 0, 0, 1, 0, 0])]
                    inner = form.get("/Resources", resources)
                    _run(form, inner.get_object(), scale * abs(matrix[0]), reader, found)


def test_the_same_plan_gives_the_same_bytes() -> None:
    job, plan, pdf = made("villa")
    assert packet_pdf(job, plan) == pdf


def test_a_plan_on_the_other_paper_has_the_same_subjects() -> None:
    job, plan, _ = made("villa")
    titles = {
        paper: [page.title.partition(", sheet ")[0] for page in plan_packet(job, plan, paper=paper).pages]
        for paper in ("letter", "a4")
    }
    one, other = (list(dict.fromkeys(each)) for each in titles.values())
    assert one == other


def test_subjects_come_in_the_order_of_the_work() -> None:
    job, plan, _ = made("farmhouse")
    pages = plan_packet(job, plan).pages
    titles = list(dict.fromkeys(page.title.partition(", sheet ")[0] for page in pages))
    assert titles == [
        job.title,
        "The wall from outside",
        "Sill line of A, B, C",
        "Shim schedule",
        "Cut list",
        "Where the units go",
        "The units' plane against the wall",
        "Other ways to set it",
        "What size to order for A, B and C",
        "Keep it dry: order of work",
        "Sections, layer by layer",
        "Where water can get",
        "Where water can get, laid flat",
        "Cut and lap for the water",
        "Cutting patterns",
        "Findings for the inspector",
        "Reading sheet",
        "Story pole",
        "Slits at full size",
        "Corner patches at full size",
        "Shoot the pads again",
    ]


def test_a_job_still_to_be_ordered_has_a_sheet_of_sizes_for_each_unit() -> None:
    pages = pages_of(made("villa")[2])
    page = page_with(pages, "What size to order for P and Q")
    assert page.count("largest that fits with 99 %") == 2
    assert "To compare only" in page


def test_many_readings_repeat_the_heads_of_their_table() -> None:
    pages = pages_of(made("farmhouse")[2])
    assert sum("in the job file" in page and "shows from" in page for page in pages) >= 2


@pytest.mark.parametrize("count", [1, 7])
def test_walls_of_one_to_twelve_openings_come_out(count: int) -> None:
    job = long_job(count, metric=count == 7)
    pages = pages_of(packet_pdf(job, planned(job)))
    assert all(f"W{n + 1}" in " ".join(pages) for n in range(count))


def test_a_row_in_conflict_has_no_schedule_but_says_so() -> None:
    job = conflicting()
    pages = pages_of(packet_pdf(job, planned(job)))
    assert "No pads" in page_with(pages, "Shim schedule")
    assert not any(page.startswith("Shoot the pads again") for page in pages)


def test_a_jack_to_cut_back_and_a_pad_shot_low_are_told() -> None:
    job = trimmed()
    plan = planned(job)
    pages = pages_of(packet_pdf(job, plan))
    assert plan.setting.reshoot is not None
    assert plan.setting.reshoot.verdict == "correct"
    assert "Pads shot again: " in pages[0]
    (cut,) = (act for act in plan.setting.acts if act.kind == "trim")
    assert cut.text in " ".join(pages).replace("\u2044", "/")


def test_a_very_long_title_is_cut_in_the_title_block_but_whole_on_the_cover() -> None:
    title = "Long " * 60 + "end of it"
    job = long_job(1, title=title.strip())
    pages = pages_of(packet_pdf(job, planned(job)))
    assert "end of it" in pages[0]
    assert not any("end of it" in page for page in pages[1:])


def test_markup_in_a_job_is_printed_as_it_is() -> None:
    job = long_job(1, title="#panic() *bold* $x$ <label> @ref")
    assert "#panic() *bold* $x$ <label> @ref" in pages_of(packet_pdf(job, planned(job)))[0]


def test_the_reading_form_needs_no_job() -> None:
    pages = pages_of(reading_form_pdf())
    assert pages[0].startswith("Where to read")
    assert any(page.startswith("Laser sheet") for page in pages)


def test_the_reading_form_of_a_job_names_its_openings_and_marks() -> None:
    text = " ".join(pages_of(reading_form_pdf(example("villa"))))
    assert all(words in text for words in ("Opening P", "Opening Q", "mark M1", "millimetres"))


def test_every_page_can_be_looked_at() -> None:
    job, plan, pdf = made("villa")
    images = page_images(job, plan, ppi=20)
    assert len(images) == len(pages_of(pdf))
    assert all(image.startswith(b"\x89PNG") for image in images)


def test_a_fault_of_the_page_maker_is_told_in_our_own_words(monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setattr("sillwright.packet.compose._template", lambda: b"#panic(1)")
    with pytest.raises(OutputError, match="the pages could not be set") as caught:
        to_pdf(
            Packet(title="T", wall="", fingerprint="", invented=False, paper="a4", pages=(Page(title="x"),))
        )
    assert isinstance(caught.value.__cause__, typst.TypstError)


def test_mixed_numbers_stay_on_one_line() -> None:
    assert unbroken("Pad 27 3/8 at 12 1/2") == "Pad 27\xa03/8 at 12\xa01/2"


def test_other_ways_show_what_each_costs() -> None:
    _, plan, pdf = made("farmhouse")
    page = page_with(pages_of(pdf), "Other ways to set it")
    assert plan.setting.objective in page
    assert page.index("chosen") < page.index("Plane the back of the sill of C")
    pads = plan.setting.options[0].terms[0]
    assert f"{pads.count:g} × {pads.minutes_each:g} min = {pads.minutes:.1f} min" in page
