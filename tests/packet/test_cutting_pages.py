"""Cutting patterns in the packet: points to mark, slits and patches at full size with their ruler."""

from __future__ import annotations

from functools import cache

import pytest
from tests.planned_jobs import example

from sillwright.drawing import Figures, sheet
from sillwright.job import Job
from sillwright.packet.blocks import Figure, Page, Side, Table
from sillwright.packet.cutting_pages import cutting_pages, template_pages
from sillwright.packet.packet import USUAL_PAPER
from sillwright.packet.sheets import Sheets, room
from sillwright.plan import Plan, plan

EXAMPLES = ("farmhouse", "bungalow", "villa")


@cache
def planned(name: str) -> tuple[Job, Plan]:
    job = example(name)
    return job, plan(job)


def sheets(name: str) -> Sheets:
    job, made = planned(name)
    return Sheets(job=job, plan=made, paper=USUAL_PAPER[made.units], figures=Figures(made.units), drawings={})


def figures(page: Page) -> list[Figure]:
    found = []
    for block in page.blocks:
        if isinstance(block, Figure):
            found.append(block)
        elif isinstance(block, Side):
            found += [each for column in block.columns for each in column if isinstance(each, Figure)]
    return found


@pytest.mark.parametrize("name", EXAMPLES)
def test_every_pattern_has_its_points_beside_it(name: str) -> None:
    pages = cutting_pages(sheets(name))
    assert pages
    for page in pages:
        tables = [block for block in page.blocks if isinstance(block, Table)]
        assert len(tables) == len(figures(page))
        for table in tables:
            numbers = [row[n] for row in table.rows for n in (0, 3, 6, 9) if row[n]]
            assert sorted(map(int, numbers)) == list(range(1, len(numbers) + 1))


@pytest.mark.parametrize("name", EXAMPLES)
def test_every_sheet_at_full_size_has_a_ruler_and_fits_the_paper(name: str) -> None:
    own = sheets(name)
    pages = template_pages(own)
    assert pages
    for page in pages:
        width, height = room(own.paper, landscape=page.landscape)
        ruler, *rest = figures(page)
        assert "if not, your printer scaled it" in ruler.scene.alt
        assert rest
        assert all(figure.scene.scale_x == figure.scene.scale_y == 1.0 for figure in rest)
        rows = [block for block in page.blocks if isinstance(block, Side)]
        tall = sheet(ruler.scene).height + (
            sum(max(sheet(each.scene).height for each in figures(_row(row))) for row in rows)
            if rows
            else sum(sheet(figure.scene).height for figure in rest)
        )
        assert tall <= height
        assert all(sheet(figure.scene).width <= width + 1e-6 for figure in rest)


def _row(row: Side) -> Page:
    return Page(title="", blocks=(row,))


def test_a_job_without_a_water_plan_has_no_patterns() -> None:
    job, made = planned("farmhouse")
    from dataclasses import replace  # noqa: PLC0415

    dry = Sheets(job=job, plan=replace(made, water=None), paper="letter", figures=Figures("in"), drawings={})
    assert cutting_pages(dry) == template_pages(dry) == []
