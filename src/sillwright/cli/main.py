"""The one place where faults become messages and exit codes."""

from __future__ import annotations

import os
import sys
import traceback
from collections.abc import Sequence
from contextlib import suppress

from cyclopts import CycloptsError, MissingArgumentError

from sillwright.cli.commands import app
from sillwright.cli.say import printable
from sillwright.errors import BadInput, NotDetermined, OutOfRange, SillwrightError

DONE, OTHER, BAD_INPUT, INTERRUPTED = 0, 1, 2, 130
TRACE = "SILLWRIGHT_TRACE"
"""Set in the environment, an unexpected fault is shown with all that is needed to mend it."""


def main(arguments: Sequence[str] | None = None) -> int:
    """Run one command and return the exit code: 0 done, 2 a fault in what was given, 1 anything else.

    Args:    arguments: without the program's name; those of the command line by default
    """
    _never_fail_to_print()
    os.environ.setdefault("OPENBLAS_NUM_THREADS", "1")  # small matrices: the same bytes each time, and faster
    try:
        app(sys.argv[1:] if arguments is None else list(arguments))
        sys.stdout.flush()
    except BrokenPipeError:  # whoever reads has seen enough, as `head` does
        _print_no_more()
        return DONE
    except KeyboardInterrupt:
        return INTERRUPTED
    except Exception as error:  # the edge: nobody should meet a traceback
        return _told(error)
    return DONE


def _told(error: Exception) -> int:
    """Say what is wrong on stderr and return the exit code."""
    if isinstance(error, CycloptsError):
        message, code = _typed_wrong(error), BAD_INPUT
    elif isinstance(error, BadInput | NotDetermined | OutOfRange):
        message, code = str(error), BAD_INPUT
    elif isinstance(error, SillwrightError):
        message, code = str(error), OTHER
    elif isinstance(error, OSError):  # files are read and written elsewhere: this is the output
        _print_no_more()
        message, code = f"The output cannot be written: {error.strerror or error}.", OTHER
    else:
        message, code = _ours(error), OTHER
    for line in message.split("\n"):
        print(printable(line), file=sys.stderr)
    return code


def _typed_wrong(error: CycloptsError) -> str:
    command = " ".join(("sillwright", *(error.command_chain or ())))
    said = str(error)
    if isinstance(error, MissingArgumentError) and error.argument is not None and "Did you mean" not in said:
        said = f"{error.argument.name} is missing."
    return f"{said}\nHelp: {command} --help"


def _ours(error: Exception) -> str:
    if os.environ.get(TRACE):
        return "".join(traceback.format_exception(error)).rstrip()
    reason = str(error).split("\n", maxsplit=1)[0]
    return (
        f"Sillwright failed, and that is its own fault, not yours ({type(error).__name__}: {reason}).\n"
        f"Nothing was written. Please report it: set {TRACE}=1, run the command again, and send what it "
        "prints together with the job file."
    )


def _never_fail_to_print() -> None:
    """Let a terminal that lacks a sign show another one in its place."""
    for stream in (sys.stdout, sys.stderr):
        reconfigure = getattr(stream, "reconfigure", None)
        if reconfigure is not None:
            reconfigure(errors="replace")


def _print_no_more() -> None:
    """Turn standard output away, so that closing it at the end does not fail once more."""
    with suppress(OSError, ValueError):
        os.dup2(os.open(os.devnull, os.O_WRONLY), sys.stdout.fileno())
