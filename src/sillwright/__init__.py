"""Sillwright: from tape and laser readings to level, dry, safe windows and doors in old walls."""

__version__ = "0.1.0"
