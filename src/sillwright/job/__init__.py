"""The job document: what was asked, measured and chosen, as one text file.

Takes TOML (or readings as CSV), gives a frozen `Job` in inches, or every fault of the file at once with
line, key and advice. Knows nothing of numerics: what readings mean for the wall is `survey`'s business.
"""

from sillwright.job.document import Document, read_document, read_job
from sillwright.job.files import load_job, load_text
from sillwright.job.model import VERSION, Job, Opening, Reading, Readings, Row, SetUp, Shot, UnitToSet

__all__ = [
    "VERSION",
    "Document",
    "Job",
    "Opening",
    "Reading",
    "Readings",
    "Row",
    "SetUp",
    "Shot",
    "UnitToSet",
    "load_job",
    "load_text",
    "read_document",
    "read_job",
]
