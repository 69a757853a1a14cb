"""From loads and spans to sizes, spacing and every fastener of a ledger, deck or header.

Answers: how far apart ledger fasteners may stand and where each goes on this wall; what a ledger may not
hang on; which joist, beam, decking, post, footing or header of the code tables works; and, marked for your
engineer, what a connection or member carries by the yield-limit and bending equations, with what governs.
From plain numbers to frozen results with their sources; outside a table or formula it refuses and names the
bound that was passed. Knows nothing of water, of the wall's readings or of drawing.
"""

from sillwright.structure.backing import (
    GUARD_SOURCE,
    Attachment,
    attachment_findings,
    guard_finding,
    guard_words,
)
from sillwright.structure.columns import Column, Footing, footing, post_capacity
from sillwright.structure.connection_factors import (
    FastenerRow,
    adjusted_lateral,
    edge_distance,
    geometry_factor,
    group_action,
)
from sillwright.structure.deck_sheet import DeckCase, deck_sheets
from sillwright.structure.dowels import (
    Dowel,
    Side,
    bearing_strength,
    bolt,
    common_nail,
    gravity,
    lag_length,
    lag_screw,
    thread_length,
    wood_screw,
)
from sillwright.structure.header import HeaderLoads, HeaderResult, header, header_loads
from sillwright.structure.header_sheet import HeaderCase, header_sheet
from sillwright.structure.header_table import (
    BookHeader,
    HeaderLoad,
    HeaderSpan,
    header_sizes,
    header_span,
    header_spans,
    least_header,
    single_header_span,
)
from sillwright.structure.layout import Fastener, Layout, LayoutRequest, Obstacle, hangers, layout
from sillwright.structure.ledger import Distances, LedgerLoad, distances, fastener_spacing, lateral_ties
from sillwright.structure.ledger_joint import JointValue, LedgerJoint, joint_spacing, joint_value
from sillwright.structure.ledger_sheet import (
    LedgerCase,
    LedgerPlaces,
    laid_places,
    least_places,
    ledger_sheet,
    ledger_sheets,
    penetration,
)
from sillwright.structure.members import Check, LineLoad, MemberResult, overhang, simple_span, span_limits
from sillwright.structure.spans import (
    beam_cantilever,
    beam_span,
    decking_joist_spacing,
    footing_by_area,
    footing_by_spans,
    joist_cantilever,
    joist_span,
    least_beam,
    least_joist,
    least_post,
    post_height,
    post_height_by_area,
)
from sillwright.structure.tables import Cell, Suggestion, Table, load_table
from sillwright.structure.timber import Section, Service, Strength, adjusted, section
from sillwright.structure.withdrawal import combined, withdrawal, withdrawal_per_inch
from sillwright.structure.worked import NOTE, Input, Sheet, Worked
from sillwright.structure.yield_limit import (
    Lateral,
    double_shear,
    ledger_line_load,
    single_shear,
)
from sillwright.structure.yield_limit import fastener_spacing as spacing_by_calculation
from sillwright.structure.zones import BandAt, Ledger, StepRange, failing, step_range, zones

__all__ = [
    "GUARD_SOURCE",
    "NOTE",
    "Attachment",
    "BandAt",
    "BookHeader",
    "Cell",
    "Check",
    "Column",
    "DeckCase",
    "Distances",
    "Dowel",
    "Fastener",
    "FastenerRow",
    "Footing",
    "HeaderCase",
    "HeaderLoad",
    "HeaderLoads",
    "HeaderResult",
    "HeaderSpan",
    "Input",
    "JointValue",
    "Lateral",
    "Layout",
    "LayoutRequest",
    "Ledger",
    "LedgerCase",
    "LedgerJoint",
    "LedgerLoad",
    "LedgerPlaces",
    "LineLoad",
    "MemberResult",
    "Obstacle",
    "Section",
    "Service",
    "Sheet",
    "Side",
    "StepRange",
    "Strength",
    "Suggestion",
    "Table",
    "Worked",
    "adjusted",
    "adjusted_lateral",
    "attachment_findings",
    "beam_cantilever",
    "beam_span",
    "bearing_strength",
    "bolt",
    "combined",
    "common_nail",
    "deck_sheets",
    "decking_joist_spacing",
    "distances",
    "double_shear",
    "edge_distance",
    "failing",
    "fastener_spacing",
    "footing",
    "footing_by_area",
    "footing_by_spans",
    "geometry_factor",
    "gravity",
    "group_action",
    "guard_finding",
    "guard_words",
    "hangers",
    "header",
    "header_loads",
    "header_sheet",
    "header_sizes",
    "header_span",
    "header_spans",
    "joint_spacing",
    "joint_value",
    "joist_cantilever",
    "joist_span",
    "lag_length",
    "lag_screw",
    "laid_places",
    "lateral_ties",
    "layout",
    "least_beam",
    "least_header",
    "least_joist",
    "least_places",
    "least_post",
    "ledger_line_load",
    "ledger_sheet",
    "ledger_sheets",
    "load_table",
    "overhang",
    "penetration",
    "post_capacity",
    "post_height",
    "post_height_by_area",
    "section",
    "simple_span",
    "single_header_span",
    "single_shear",
    "spacing_by_calculation",
    "span_limits",
    "step_range",
    "thread_length",
    "withdrawal",
    "withdrawal_per_inch",
    "wood_screw",
    "zones",
]
