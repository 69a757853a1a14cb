"""The printed packet: pages to work from, made of a plan's drawings and tables.

`packet_pdf` gives cover, elevation, sill lines, shim schedule, cut list, unit positions, other ways, order
sizes, water, deck, findings for the inspector, readings, what to measure next, story pole and a re-shoot
form; `reading_form_pdf` gives blank sheets to take to the site; `page_images` the same pages as pictures.
Pages are lists of blocks, set by one template with one font. Nothing is computed here; the same plan gives
the same bytes. Knows nothing of files, commands or how a plan came about.
"""

from sillwright.packet.blocks import (
    STAMPS,
    Block,
    Column,
    Fact,
    Facts,
    Figure,
    Heading,
    Page,
    Picture,
    Side,
    Stamp,
    Step,
    Steps,
    Table,
    Words,
)
from sillwright.packet.compose import Packet, Paper, to_images, to_pdf
from sillwright.packet.inspection_pages import source_words
from sillwright.packet.packet import (
    USUAL_PAPER,
    form_packet,
    packet_pdf,
    page_images,
    plan_packet,
    reading_form_pdf,
)

__all__ = [
    "STAMPS",
    "USUAL_PAPER",
    "Block",
    "Column",
    "Fact",
    "Facts",
    "Figure",
    "Heading",
    "Packet",
    "Page",
    "Paper",
    "Picture",
    "Side",
    "Stamp",
    "Step",
    "Steps",
    "Table",
    "Words",
    "form_packet",
    "packet_pdf",
    "page_images",
    "plan_packet",
    "reading_form_pdf",
    "source_words",
    "to_images",
    "to_pdf",
]
