"""What goes over the wire besides screens: requests as they must be, answers as they are."""

from __future__ import annotations

from typing import Annotated, Any, Literal

from pydantic import BaseModel, ConfigDict, Field, StringConstraints

from sillwright.web.faults import ToldFault

Ident = Annotated[str, StringConstraints(pattern=r"^[0-9a-f]{32}$")]
Name = Annotated[str, StringConstraints(min_length=1, max_length=60, strip_whitespace=True)]


class Asked(BaseModel):
    """A request's body: closed to unknown keys."""

    model_config = ConfigDict(extra="forbid")


class PairAsked(Asked):
    """A phone that wants in."""

    code: Annotated[str, StringConstraints(max_length=40)]
    name: Annotated[str, StringConstraints(max_length=60)]


class Paired(BaseModel):
    """A phone that was let in."""

    device: str
    name: str


class Me(BaseModel):
    """Who asks, and whom."""

    device: str
    name: str
    trusted: bool
    version: str


class DeviceLine(BaseModel):
    """One device."""

    device: str
    name: str
    paired_at: str
    seen_at: str
    revoked_at: str | None
    this: bool


class DeviceList(BaseModel):
    """Every device that was ever let in."""

    devices: list[DeviceLine]


class Counts(BaseModel):
    """Open findings of a plan."""

    stop: int
    fix: int
    watch: int


class JobLine(BaseModel):
    """One job in the list."""

    job: str
    title: str
    seq: int
    changed_at: str
    units: str
    invented: bool
    findings: Counts | None


class JobList(BaseModel):
    """All jobs."""

    jobs: list[JobLine]


class Starter(BaseModel):
    """A way to start a job."""

    starter: str
    title: str
    what: str


class StarterList(BaseModel):
    """The ways to start a job."""

    starters: list[Starter]


class JobAsked(Asked):
    """A new job: a whole job file, or a starter."""

    job: Ident | None = None
    text: Annotated[str, StringConstraints(min_length=1, max_length=200_000)] | None = None
    starter: Literal["blank", "example"] | None = None
    units: Literal["in", "mm"] = "in"
    title: Annotated[str, StringConstraints(max_length=200)] = ""
    openings: Annotated[list[Annotated[str, StringConstraints(max_length=40)]], Field(max_length=40)] = Field(
        default_factory=list
    )


class JobMade(BaseModel):
    """A job that was started."""

    job: str
    seq: int


class ReadingLine(BaseModel):
    """One reading that stands in the job file."""

    reading_id: str
    table: str
    values: dict[str, str]
    path: str
    label: str
    event: str
    head: list[str]
    by_device: str
    made_at: str
    state: Literal["ok", "conflict"]


class JobNow(BaseModel):
    """A job as it stands."""

    job: str
    seq: int
    title: str
    units: str
    text_sha256: str
    document: dict[str, Any]
    readings: list[ReadingLine]
    folded: dict[str, Any]


class EventsAsked(Asked):
    """Events to be taken in; each is checked by itself."""

    events: list[Any]


class RefusedEvent(BaseModel):
    """An event that was not taken, and why."""

    id: str
    faults: list[ToldFault]


class EventsTaken(BaseModel):
    """What became of the events that were sent."""

    seq: int
    taken: list[str]
    had: list[str]
    refused: list[RefusedEvent]


class EventLine(BaseModel):
    """One event of the record."""

    job: str
    seq: int
    id: str
    kind: str
    made_at: str
    received_at: str
    device: str
    payload: dict[str, Any]
    noted: dict[str, Any]
    prev_hash: str
    hash: str


class EventList(BaseModel):
    """Events of a job, in order."""

    seq: int
    events: list[EventLine]


class ScreenName(BaseModel):
    """One screen."""

    screen: str
    title: str


class ScreenList(BaseModel):
    """The screens, in the order of the work."""

    screens: list[ScreenName]


class GivenLine(BaseModel):
    """One input of a formula."""

    name: str
    value: str
    why: str


class Why(BaseModel):
    """Why a number is what it is."""

    id: str
    title: str
    lines: list[str]
    formula: str
    given: list[GivenLine]
    source: str
    see: list[str]


class Whys(BaseModel):
    """Every answer of a plan."""

    plan: str | None
    whys: dict[str, Why]


class PhotoKept(BaseModel):
    """A photo that was kept."""

    photo: str
    width: int
    height: int
    bytes: int
    sha256: str


class WorkAsked(Asked):
    """Long work to be started."""

    kind: Annotated[str, StringConstraints(max_length=20)]


class WorkStarted(BaseModel):
    """Long work that was started."""

    work: str


class WorkFile(BaseModel):
    """The file that work made."""

    name: str
    bytes: int


class WorkNow(BaseModel):
    """How far work is."""

    work: str
    kind: str
    state: Literal["waiting", "running", "done", "failed", "cancelled"]
    done: int
    of: int
    step: str
    faults: list[ToldFault]
    file: WorkFile | None
