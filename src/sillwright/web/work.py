"""Long work, each in a process of its own: it can be watched, and stopped at once."""

from __future__ import annotations

import contextlib
import json
import shutil
import subprocess
import sys
import tempfile
import threading
from collections import OrderedDict
from collections.abc import Mapping, Sequence
from dataclasses import dataclass, field
from pathlib import Path
from typing import Any, Literal

from sillwright.errors import Fault
from sillwright.store import Photo, new_id
from sillwright.web.faults import Refused
from sillwright.wording import fault

KINDS = ("packet", "handover", "record", "form")
AT_ONCE = 2
WAITING_MOST = 20
_KEPT = 40

WorkState = Literal["waiting", "running", "done", "failed", "cancelled"]


@dataclass(slots=True, kw_only=True)
class Work:
    """One piece of work."""

    id: str
    kind: str
    name: str
    """Of the file it makes."""
    state: WorkState = "waiting"
    done: int = 0
    of: int = 1
    step: str = ""
    faults: tuple[Fault, ...] = ()
    file: Path | None = None
    process: subprocess.Popen[str] | None = field(default=None, repr=False)


class Works:
    """All work of one server, a few at a time."""

    def __init__(self) -> None:
        self._folder = tempfile.TemporaryDirectory(prefix="sillwright-")
        self._works: OrderedDict[str, Work] = OrderedDict()
        self._turn = threading.Lock()
        self._room = threading.Semaphore(AT_ONCE)

    def close(self) -> None:
        """Stop everything and throw the files away."""
        for work in list(self._works.values()):
            self.cancel(work.id)
        self._folder.cleanup()

    def start(self, kind: str, name: str, task: Mapping[str, Any], photos: Sequence[Photo] = ()) -> Work:
        """Start a piece of work.

        Args:
            kind:   one of `KINDS`
            name:   of the file that it makes
            task:   what `worker` reads: state of the job, names of devices
            photos: to be shown on it
        Raises:  Refused: too much is under way
        """
        work = Work(id=new_id(), kind=kind, name=name)
        with self._turn:
            if sum(each.state in ("waiting", "running") for each in self._works.values()) >= WAITING_MOST:
                raise Refused(429, fault("work_fault.busy"), headers={"Retry-After": "5"})
            self._works[work.id] = work
            while len(self._works) > _KEPT:
                oldest = next(iter(self._works.values()))
                if oldest.state in ("waiting", "running"):
                    break
                self._forget(oldest)
        folder = Path(self._folder.name) / work.id
        folder.mkdir()
        shown = {photo.id: _put(folder, photo) for photo in photos}
        whole = {**task, "photos": shown, "kind": kind, "file": str(folder / "made.pdf")}
        threading.Thread(target=self._run, args=(work, whole), daemon=True).start()
        return work

    def get(self, ident: str) -> Work:
        """Return a piece of work.

        Raises:  Refused: there is none of that name
        """
        work = self._works.get(ident)
        if work is None:
            raise Refused(404, fault("work_fault.gone", ident))
        return work

    def cancel(self, ident: str) -> None:
        """Stop a piece of work; what is done stays done.

        Raises:  Refused: there is none of that name
        """
        work = self.get(ident)
        with self._turn:
            if work.state not in ("waiting", "running"):
                return
            work.state = "cancelled"
            if work.process is not None:
                work.process.kill()

    def _forget(self, work: Work) -> None:
        del self._works[work.id]
        shutil.rmtree(Path(self._folder.name) / work.id, ignore_errors=True)

    def _run(self, work: Work, task: dict[str, Any]) -> None:
        with self._room:
            file = Path(task["file"])
            with self._turn:
                if _cancelled(work):
                    return
                work.state = "running"
                process = work.process = _process()
            told = _talk(process, task, work)
            with self._turn:
                if _cancelled(work):
                    return
                if process.returncode == 0 and file.is_file():
                    work.state, work.file, work.done = "done", file, work.of
                else:
                    work.state = "failed"
                    work.faults = told or (fault("work_fault.stopped"),)


def _cancelled(work: Work) -> bool:
    return work.state == "cancelled"


def _put(folder: Path, photo: Photo) -> dict[str, Any]:
    file = folder / f"{photo.id}.webp"
    file.write_bytes(photo.data)
    return {"file": str(file), "width": photo.width, "height": photo.height}


def _process() -> subprocess.Popen[str]:
    command = [sys.executable, "-m", "sillwright.web.worker"]
    pipe = subprocess.PIPE
    return subprocess.Popen(command, stdin=pipe, stdout=pipe, text=True, encoding="utf-8")  # noqa: S603


def _talk(process: subprocess.Popen[str], task: dict[str, Any], work: Work) -> tuple[Fault, ...]:
    """Hand over the task, follow the steps; return the faults that the worker told of."""
    faults: tuple[Fault, ...] = ()
    with process, contextlib.suppress(BrokenPipeError):
        if process.stdin is not None and process.stdout is not None:
            process.stdin.write(json.dumps(task))
            process.stdin.close()
            for line in process.stdout:
                said = json.loads(line)
                if "faults" in said:
                    faults = tuple(Fault(**each) for each in said["faults"])
                else:
                    work.done, work.of, work.step = said["done"], said["of"], said["step"]
    return faults
