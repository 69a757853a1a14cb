"""Lengths as the trade says, writes and reads them.

Answers what `27 3/8 strong`, `4' 3 1/2"` or `1302 mm` is in inches, how far it may be off, and how a length
in inches reads on a tape. Takes text or numbers, gives `Said` (inches, spread, graduation) or text; refuses
with the character at fault. Inches and millimetres meet here and nowhere else: 25.4 mm = 1 in exactly.
Strong and shy: half a graduation on an inch tape (1/32 in at a 1/16 mark), 0.25 mm on a metric one (common
practice, no source), with a rectangular spread (GUM 4.3.7). Knows nothing of jobs, walls or instruments.
"""

from sillwright.lengths.reading import Said, parse
from sillwright.lengths.showing import glyphs, show, show_feet
from sillwright.lengths.units import MM_PER_INCH, Unit, from_unit, to_unit

__all__ = ["MM_PER_INCH", "Said", "Unit", "from_unit", "glyphs", "parse", "show", "show_feet", "to_unit"]
