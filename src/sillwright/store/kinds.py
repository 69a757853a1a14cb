"""What may stand in the record: each kind of event with its payload, checked before anything is stored."""

from __future__ import annotations

import datetime
from collections.abc import Mapping
from dataclasses import dataclass
from typing import Annotated, Any, TypeVar

from pydantic import BaseModel, ConfigDict, Field, StringConstraints, TypeAdapter, ValidationError
from pydantic_core import ErrorDetails

from sillwright.errors import BadInput, Fault, OutOfRange
from sillwright.store.canonical import canonical
from sillwright.wording import fault

LARGEST = 200_000
"""Characters of one payload: a job file of the largest example is 9,000."""

Ident = Annotated[str, StringConstraints(pattern=r"^[0-9a-f]{32}$")]
"""128 bits made by whoever made the thing, in hexadecimal."""
Line = Annotated[str, StringConstraints(max_length=300)]
Said = Annotated[str, StringConstraints(min_length=1, max_length=300, strip_whitespace=True)]
Paragraph = Annotated[str, StringConstraints(min_length=1, max_length=4000, strip_whitespace=True)]
ReadingId = Annotated[str, StringConstraints(min_length=1, max_length=200)]
Cells = dict[Annotated[str, StringConstraints(max_length=20)], Line]
Model = TypeVar("Model", bound=BaseModel)
Base = Ident | Annotated[list[Ident], Field(min_length=1, max_length=20)]


class Payload(BaseModel):
    """Frozen, closed to unknown keys."""

    model_config = ConfigDict(frozen=True, extra="forbid", strict=True)


class JobFile(Payload):
    """The whole text of a job file, new or imported."""

    text: Annotated[str, StringConstraints(min_length=1, max_length=LARGEST)]


class ReadingAdd(Payload):
    """One more reading."""

    reading_id: ReadingId
    table: Line
    values: Cells


class ReadingChange(Payload):
    """Other words for a reading, said on the strength of a version of it."""

    reading_id: ReadingId
    base: Base
    values: Cells


class ReadingDrop(Payload):
    """A reading taken out, on the strength of a version of it."""

    reading_id: ReadingId
    base: Base


class JobSet(Payload):
    """One value of the job file that is no reading."""

    path: Said
    value: Any


class JobDrop(Payload):
    """One entry of a list, or one key, that goes from the job file."""

    path: Said


class AnswerAdd(Payload):
    """A finding answered."""

    finding: Said
    by: Said
    date: Annotated[str, StringConstraints(pattern=r"^\d{4}-\d{2}-\d{2}$")]
    note: Line = ""
    value: Line = ""


class AmendFile(Payload):
    """Local amendments that the job file names."""

    name: Said
    text: Annotated[str, StringConstraints(min_length=1, max_length=LARGEST)]


class ActDone(Payload):
    """Something done at the wall; `text` is what the screen said when it was."""

    act: Said
    text: Line = ""


class ActUndone(Payload):
    """The same, taken back."""

    act: Said


class NoteAdd(Payload):
    """A note on a place, or on the job."""

    place: Line = ""
    text: Paragraph


class PhotoAdd(Payload):
    """A photo that was sent before."""

    photo: Ident
    place: Line = ""
    step: Line = ""


class HoldTick(Payload):
    """A hold point that was met."""

    hold: Said
    photo: Ident | None = None


class HoldOverride(Payload):
    """A hold point passed without being met, and why."""

    hold: Said
    reason: Paragraph


class HoldUndo(Payload):
    """A hold point that is open again."""

    hold: Said


class Sign(Payload):
    """A name under something."""

    name: Said
    role: Said
    what: Said


class WeatherNote(Payload):
    """What the weather did."""

    text: Paragraph
    day: Line = ""


KINDS: dict[str, type[Payload]] = {
    "job.file": JobFile,
    "reading.add": ReadingAdd,
    "reading.change": ReadingChange,
    "reading.drop": ReadingDrop,
    "job.set": JobSet,
    "job.add": JobSet,
    "job.drop": JobDrop,
    "answer.add": AnswerAdd,
    "amend.file": AmendFile,
    "act.done": ActDone,
    "act.undone": ActUndone,
    "note.add": NoteAdd,
    "photo.add": PhotoAdd,
    "hold.tick": HoldTick,
    "hold.override": HoldOverride,
    "hold.undo": HoldUndo,
    "sign": Sign,
    "weather.note": WeatherNote,
}


@dataclass(frozen=True, slots=True, kw_only=True)
class NewEvent:
    """An event as a client made it, checked."""

    id: str
    kind: str
    made_at: str
    payload: Mapping[str, Any]


class _Envelope(Payload):
    id: Ident
    kind: Line
    made_at: Line
    payload: dict[str, Any]


def read_event(raw: object) -> NewEvent:
    """Return an event out of plain data.

    Raises:  BadInput: every fault of its form
    """
    envelope = checked(_Envelope, raw)
    if envelope.kind not in KINDS:
        raise BadInput(fault("event.unknown_kind", "kind", kind=envelope.kind[:40], known=", ".join(KINDS)))
    payload = checked(KINDS[envelope.kind], envelope.payload, around="payload")
    plain = payload.model_dump()
    try:
        size = len(canonical(plain))
    except (OutOfRange, RecursionError) as error:
        raise BadInput(fault("event.not_plain", "payload", reason=error)) from None
    if size > 2 * LARGEST:
        raise BadInput(fault("event.too_large", "payload"))
    if "\0" in canonical_text(plain):
        raise BadInput(fault("event.control", "payload"))
    return NewEvent(id=envelope.id, kind=envelope.kind, made_at=_time(envelope.made_at), payload=plain)


def canonical_text(value: Any) -> str:
    """Return all texts in plain data, run together."""
    if isinstance(value, Mapping):
        return "".join(f"{key}{canonical_text(each)}" for key, each in value.items())
    if isinstance(value, list | tuple):
        return "".join(canonical_text(each) for each in value)
    return value if isinstance(value, str) else ""


def _time(text: str) -> str:
    try:
        read = datetime.datetime.fromisoformat(text)
    except ValueError:
        read = None
    if read is None or read.tzinfo is None:
        raise BadInput(fault("event.time", "made_at", time=text[:40]))
    return text


def checked(model: type[Model], raw: object, *, around: str = "") -> Model:
    """Return checked data.

    Raises:  BadInput: every fault, its place under `around`
    """
    try:
        return TypeAdapter(model).validate_python(raw)
    except ValidationError as error:
        raise BadInput(*(_fault(each, around) for each in error.errors())) from None


def _fault(error: ErrorDetails, around: str) -> Fault:
    place = ".".join(str(step) for step in ((around,) if around else ()) + error["loc"])
    name = {
        "missing": "event.missing",
        "extra_forbidden": "event.unknown_key",
        "string_too_long": "event.too_long",
        "string_too_short": "event.empty",
        "string_pattern_mismatch": "event.pattern",
    }.get(error["type"], "event.other")
    given = error.get("ctx", {})
    most = given.get("max_length", "")
    return fault(name, place, most=most, pattern=given.get("pattern", ""), reason=error["msg"])
