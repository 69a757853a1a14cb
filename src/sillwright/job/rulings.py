"""What a job is judged by, and what people have answered to its findings."""

from __future__ import annotations

import datetime
from typing import Annotated, Literal

from pydantic import Field, Strict

from sillwright.job.values import Model


class Code(Model):
    """What the wall is judged by; the building department says which."""

    edition: Literal["2018", "2021"] = "2018"
    """Edition of the model residential code."""
    place: Literal["us-model-code", "florida", "canada-ontario"] = "us-model-code"
    """Whose water requirements count."""
    amendments: str = ""
    """File of local amendments, beside the job file; docs/rules.md tells its form."""


class Answer(Model):
    """One answer to one finding, kept with the job."""

    finding: str = Field(min_length=1)
    """Id of the finding, as it stands in brackets."""
    by: str = Field(min_length=1)
    """Who or what settles it: maker's label, engineer's letter, inspector by name."""
    date: Annotated[datetime.date, Strict()]
    """When, written 2026-03-14 without quotes."""
    note: str = ""
    """Anything worth keeping beside it."""
    value: str = ""
    """The finding's value that it was given for; without it, whatever the value becomes."""
