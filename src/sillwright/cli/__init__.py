"""Commands: from a job file on disk to a folder of plan, drawings and packet, and to words on a terminal.

Each command parses, calls one function of the core and says what came of it. One handler (`main`) turns every
fault into a message on stderr: exit code 0 is done (findings or not), 2 is a fault in what was given, 1 is
anything else. Knows nothing of how a plan is made.
"""

from sillwright.cli.main import main

__all__ = ["main"]
