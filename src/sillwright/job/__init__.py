"""The job document: what was asked, measured and chosen, as one text file.

Takes TOML (or readings as CSV), gives a frozen `Job` in inches, or every fault of the file at once with
line, key and advice. Writes a job out again, changes a value in place, adds rows of a spreadsheet. Knows
nothing of numerics: what readings mean for the wall is `survey`'s business.
"""

from sillwright.job.csv_readings import readings_from_csv
from sillwright.job.deck import Deck
from sillwright.job.document import Document, read_document, read_job
from sillwright.job.dump import dump_job
from sillwright.job.edit import append_entry, set_value
from sillwright.job.facts import Pane, UnitFacts
from sillwright.job.files import load_job, load_text
from sillwright.job.merge import merge_csv
from sillwright.job.model import (
    VERSION,
    HeadLine,
    Job,
    Kit,
    Opening,
    Reading,
    Readings,
    Row,
    SetUp,
    Shim,
    Shot,
    Tolerances,
    UnitToSet,
)
from sillwright.job.rulings import Answer, Code
from sillwright.job.schema import job_schema
from sillwright.job.starter import starter

__all__ = [
    "VERSION",
    "Answer",
    "Code",
    "Deck",
    "Document",
    "HeadLine",
    "Job",
    "Kit",
    "Opening",
    "Pane",
    "Reading",
    "Readings",
    "Row",
    "SetUp",
    "Shim",
    "Shot",
    "Tolerances",
    "UnitFacts",
    "UnitToSet",
    "append_entry",
    "dump_job",
    "job_schema",
    "load_job",
    "load_text",
    "merge_csv",
    "read_document",
    "read_job",
    "readings_from_csv",
    "set_value",
    "starter",
]
