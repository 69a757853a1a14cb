"""From loads and spans to sizes, spacing and every fastener of a ledger, deck or header.

Answers: how far apart ledger fasteners may stand and where each goes on this wall; what a ledger may not
hang on; which joist, beam, decking, post, footing or header of the code tables works; and, marked for your
engineer, what a connection or member carries by the yield-limit and bending equations, with what governs.
From plain numbers to frozen results with their sources; outside a table or formula it refuses and names the
bound that was passed. Knows nothing of water, of the wall's readings or of drawing.
"""

from sillwright.structure.backing import Attachment, attachment_findings, guard_finding
from sillwright.structure.columns import Column, Footing, footing, post_capacity
from sillwright.structure.connection_factors import (
    FastenerRow,
    adjusted_lateral,
    edge_distance,
    geometry_factor,
    group_action,
)
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
from sillwright.structure.header import HeaderLoads, HeaderResult, header
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
from sillwright.structure.members import Check, LineLoad, MemberResult, overhang, simple_span, span_limits
from sillwright.structure.spans import (
    beam_span,
    decking_joist_spacing,
    footing_by_area,
    footing_by_spans,
    joist_cantilever,
    joist_span,
    least_beam,
    least_joist,
    post_height,
    post_height_by_area,
)
from sillwright.structure.tables import Cell, Suggestion, Table, load_table
from sillwright.structure.timber import Section, Service, Strength, adjusted, section
from sillwright.structure.withdrawal import combined, withdrawal, withdrawal_per_inch
from sillwright.structure.yield_limit import (
    Lateral,
    double_shear,
    ledger_line_load,
    single_shear,
)
from sillwright.structure.yield_limit import fastener_spacing as spacing_by_calculation
from sillwright.structure.zones import BandAt, Ledger, StepRange, failing, step_range, zones

__all__ = [
    "Attachment",
    "BandAt",
    "BookHeader",
    "Cell",
    "Check",
    "Column",
    "Distances",
    "Dowel",
    "Fastener",
    "FastenerRow",
    "Footing",
    "HeaderLoad",
    "HeaderLoads",
    "HeaderResult",
    "HeaderSpan",
    "JointValue",
    "Lateral",
    "Layout",
    "LayoutRequest",
    "Ledger",
    "LedgerJoint",
    "LedgerLoad",
    "LineLoad",
    "MemberResult",
    "Obstacle",
    "Section",
    "Service",
    "Side",
    "StepRange",
    "Strength",
    "Suggestion",
    "Table",
    "adjusted",
    "adjusted_lateral",
    "attachment_findings",
    "beam_span",
    "bearing_strength",
    "bolt",
    "combined",
    "common_nail",
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
    "hangers",
    "header",
    "header_sizes",
    "header_span",
    "header_spans",
    "joint_spacing",
    "joint_value",
    "joist_cantilever",
    "joist_span",
    "lag_length",
    "lag_screw",
    "lateral_ties",
    "layout",
    "least_beam",
    "least_header",
    "least_joist",
    "ledger_line_load",
    "load_table",
    "overhang",
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
