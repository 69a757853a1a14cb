"""From a plan to its printed packet."""

from __future__ import annotations

from sillwright.drawing import Figures, plan_drawings
from sillwright.job import Job
from sillwright.lengths import Unit
from sillwright.packet.blocks import Page
from sillwright.packet.choice_pages import option_page, order_pages
from sillwright.packet.compose import Packet, Paper, to_images, to_pdf
from sillwright.packet.cover import cover
from sillwright.packet.cutting_pages import cutting_pages, template_pages
from sillwright.packet.deck_pages import deck_pages
from sillwright.packet.engineer_pages import engineer_page
from sillwright.packet.forms import form_pages, reshoot_page
from sillwright.packet.inspection_pages import findings_sheet
from sillwright.packet.pad_pages import cut_page, schedule_page
from sillwright.packet.pole_pages import pole_pages
from sillwright.packet.reading_pages import again_page, reading_page
from sillwright.packet.sheets import Sheets, listed
from sillwright.packet.unit_pages import plane_pages, position_page
from sillwright.packet.wall_pages import elevation_pages, sill_pages
from sillwright.packet.water_pages import water_pages
from sillwright.plan import Plan

USUAL_PAPER: dict[Unit, Paper] = {"in": "letter", "mm": "a4"}
_UNTITLED = "Readings to take"


def packet_pdf(job: Job, plan: Plan, *, paper: Paper | None = None) -> bytes:
    """Return the packet of a plan as PDF; the same plan gives the same bytes.

    Args:    paper: letter for a job in inches, A4 for one in millimetres, unless said
    Raises:  OutputError: the pages could not be set
    """
    return to_pdf(plan_packet(job, plan, paper=paper))


def page_images(job: Job, plan: Plan, *, paper: Paper | None = None, ppi: float = 80.0) -> tuple[bytes, ...]:
    """Return every page of a plan's packet as PNG, to look at.

    Raises:  OutputError: the pages could not be set
    """
    return to_images(plan_packet(job, plan, paper=paper), ppi=ppi)


def reading_form_pdf(
    job: Job | None = None, *, units: Unit | None = None, paper: Paper | None = None
) -> bytes:
    """Return the blank reading form as PDF, with a job's openings and marks on it where there is a job.

    Args:    units: the job's unless said, inches without a job; paper: by the unit unless said
    Raises:  OutputError: the pages could not be set
    """
    return to_pdf(form_packet(job, units=units, paper=paper))


def plan_packet(job: Job, plan: Plan, *, paper: Paper | None = None) -> Packet:
    """Return the packet's pages before they are set."""
    chosen = paper or USUAL_PAPER[plan.units]
    sheets = Sheets(
        job=job, plan=plan, paper=chosen, figures=Figures(plan.units), drawings=plan_drawings(job, plan)
    )
    return Packet(
        title=plan.title,
        wall=_wall(job),
        fingerprint=plan.fingerprint,
        invented=plan.invented,
        paper=chosen,
        pages=_pages(sheets),
    )


def _pages(sheets: Sheets) -> tuple[Page, ...]:
    single = (cut_page(sheets), position_page(sheets))
    end = (reading_page(sheets), again_page(sheets))
    pages: list[Page | None] = [
        cover(sheets),
        *elevation_pages(sheets),
        *sill_pages(sheets),
        schedule_page(sheets),
        *single,
        *plane_pages(sheets),
        option_page(sheets),
        *order_pages(sheets),
        *water_pages(sheets),
        *cutting_pages(sheets),
        *deck_pages(sheets),
        findings_sheet(sheets),
        engineer_page(sheets),
        *end,
        *pole_pages(sheets),
        *template_pages(sheets),
        reshoot_page(sheets),
    ]
    return tuple(page for page in pages if page is not None)


def form_packet(job: Job | None, *, units: Unit | None = None, paper: Paper | None = None) -> Packet:
    """Return the reading form's pages before they are set."""
    unit: Unit = units or (job.units if job is not None else "in")
    chosen = paper or USUAL_PAPER[unit]
    return Packet(
        title=job.title if job is not None else _UNTITLED,
        wall=_wall(job) if job is not None else "Wall: ______________________________",
        fingerprint="not planned yet",
        invented=job.invented if job is not None else False,
        paper=chosen,
        pages=form_pages(job, unit, chosen),
    )


def _wall(job: Job) -> str:
    names = tuple(opening.name for opening in job.opening)
    wall = (
        f"Wall with {'opening' if len(names) == 1 else 'openings'} {listed(names)}"
        if names
        else "Wall without openings"
    )
    return f"{wall}, seen from outside"
