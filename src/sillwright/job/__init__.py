"""The job document: what was asked, measured and chosen, as one text file.

Takes TOML (or readings as CSV), gives a frozen `Job` in inches, or every fault of the file at once with
line, key and advice. Writes a job out again, changes a value in place, adds rows of a spreadsheet. Knows
nothing of numerics: what readings mean for the wall is `survey`'s business.
"""

from sillwright.job.csv_readings import CSV_COLUMNS, KINDS, SHOTS, readings_from_csv
from sillwright.job.deck import Deck
from sillwright.job.document import Document, read_document, read_job
from sillwright.job.dump import dump_job, job_data
from sillwright.job.edit import append_entry, append_tables, set_value
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
    SlopedStrip,
    Tolerances,
    UnitToSet,
)
from sillwright.job.readings import (
    Added,
    Edited,
    FiledReading,
    add_reading,
    add_readings,
    change_reading,
    check_reading,
    drop_reading,
    filed_at,
    filed_readings,
)
from sillwright.job.remove import remove_value
from sillwright.job.rulings import Answer, Code
from sillwright.job.schema import job_schema
from sillwright.job.starter import starter
from sillwright.job.water import FlashingFacts, PieceEdit, PiecePanel, Roll, Water, WaterSizes

__all__ = [
    "CSV_COLUMNS",
    "KINDS",
    "SHOTS",
    "VERSION",
    "Added",
    "Answer",
    "Code",
    "Deck",
    "Document",
    "Edited",
    "FiledReading",
    "FlashingFacts",
    "HeadLine",
    "Job",
    "Kit",
    "Opening",
    "Pane",
    "PieceEdit",
    "PiecePanel",
    "Reading",
    "Readings",
    "Roll",
    "Row",
    "SetUp",
    "Shim",
    "Shot",
    "SlopedStrip",
    "Tolerances",
    "UnitFacts",
    "UnitToSet",
    "Water",
    "WaterSizes",
    "add_reading",
    "add_readings",
    "append_entry",
    "append_tables",
    "change_reading",
    "check_reading",
    "drop_reading",
    "dump_job",
    "filed_at",
    "filed_readings",
    "job_data",
    "job_schema",
    "load_job",
    "load_text",
    "merge_csv",
    "read_document",
    "read_job",
    "readings_from_csv",
    "remove_value",
    "set_value",
    "starter",
]
