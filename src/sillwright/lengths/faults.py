"""What to say when a length cannot be read: where, what, what to do."""

from __future__ import annotations

from typing import NoReturn

from sillwright.errors import BadInput, Fault

TAPE_DIVISIONS = (2, 4, 8, 16, 32, 64)
LONGEST_QUOTE = 40


def refuse(text: str, *, at: int, part: str, advice: str) -> NoReturn:
    """Raise the error of a reading that cannot be used.

    Args:    text: as typed; at: index of the offending part; part: its characters; advice: what to do
    Raises:  BadInput: always
    """
    place = f"at character {at + 1}, '{shorten(part)}'" if part else "at the end"
    raise BadInput(Fault("reading", f"'{shorten(text)}' is not a tape reading: {place}.", advice))


def refuse_value(value: object, what: str, advice: str) -> NoReturn:
    """Raise the error of a value that is no length at all; the fault lies in no single character."""
    raise BadInput(Fault("reading", f"'{shorten(str(value))}' {what}.", advice))


def refuse_size(text: str) -> NoReturn:
    """Raise the error of a number too large, or not finite."""
    advice = "Lengths go up to 10 000 ft; check the unit and the digits."
    refuse_value(text, "is no length on a house", advice)


def shorten(text: str) -> str:
    """Return the text short enough to quote in a message, on one line."""
    shown = text
    if not text.isprintable():
        shown = "".join(character if character.isprintable() else "\ufffd" for character in text)
    return shown if len(shown) <= LONGEST_QUOTE else shown[: LONGEST_QUOTE - 1] + "\u2026"


def mixed(whole: int, top: int, bottom: int) -> str:
    """Return whole and fraction in lowest terms, as a person writes them: 28 1/8."""
    whole, top = whole + top // bottom, top % bottom
    while top and top % 2 == 0 and bottom % 2 == 0:
        top, bottom = top // 2, bottom // 2
    if not top:
        return str(whole)
    return f"{whole} {top}/{bottom}" if whole else f"{top}/{bottom}"


def nearest_on_tape(whole: int, top: int, bottom: int) -> str:
    """Return the tape reading most likely meant by a fraction that no tape shows; empty if none is near.

    A denominator within 2 of a tape's own is taken as a slip of the hand (7/17: 7/16); any other fraction
    is taken at its value to the nearest 1/16.
    """
    if not 0 < top < bottom:
        return ""
    for division in (16, 32, 64):
        if abs(division - bottom) <= 2 and top < division:
            return mixed(whole, top, division)
    sixteenths = round(16 * top / bottom)
    return mixed(whole, sixteenths, 16) if sixteenths else ""
