"""Job files on disk: the one place where their bytes are read."""

from __future__ import annotations

from pathlib import Path

from sillwright.errors import BadInput, Fault
from sillwright.job.document import Document, read_document


def load_job(path: Path | str) -> Document:
    """Return the job in a file, with its text and the line of every key.

    Raises:  BadInput: no such file, not a file, not text, or any fault of the job
    """
    return read_document(load_text(path))


def load_text(path: Path | str) -> str:
    """Return the text of a file written in UTF-8, without a byte order mark.

    Raises:  BadInput: no such file, not a file, not to be opened, or not UTF-8
    """
    name = str(path)
    try:
        data = Path(path).read_bytes()
    except FileNotFoundError:
        start = ", or start one: sillwright new" if Path(path).suffix == ".toml" else "."
        raise BadInput(Fault(name, "there is no such file.", f"Check the name{start}")) from None
    except IsADirectoryError:
        raise BadInput(Fault(name, "this is a folder.", "Name the file in it.")) from None
    except (OSError, ValueError) as error:
        reason = getattr(error, "strerror", None) or str(error)
        raise BadInput(Fault(name, f"it cannot be opened: {reason}.", "Check its name and rights.")) from None
    try:
        return data.decode("utf-8-sig")
    except UnicodeDecodeError as error:
        line = data.count(b"\n", 0, error.start) + 1
        what = "it is not text in UTF-8."
        raise BadInput(Fault(name, what, "Save it as UTF-8 in your editor, and try again.", line)) from None
