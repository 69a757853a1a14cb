"""A text taken apart by the pattern, each part still knowing where it stood."""

from __future__ import annotations

from re import Match
from typing import NamedTuple, NoReturn

from sillwright.lengths.faults import refuse, refuse_value
from sillwright.lengths.notation import READING, plain

LONGEST_TEXT = 60
EXAMPLES = "Write a reading such as 27 3/8, 4' 3 1/2\" or 1302 mm."


class Typed(NamedTuple):
    """One reading as typed."""

    text: str
    """As typed, typographic signs and all."""
    found: Match[str]
    parts: dict[str, str | None]
    """By the names of the pattern's groups, in plain signs."""

    @property
    def has_fraction(self) -> bool:
        """Tell whether a fraction was typed, in digits or as one character."""
        return bool(self.parts["top"] or self.parts["vulgar"])

    @property
    def has_inches(self) -> bool:
        """Tell whether there is a number besides that of feet."""
        return bool(self.parts["decimal"] or self.parts["whole"] or self.has_fraction)

    def refuse(self, first: str, last: str = "", *, advice: str) -> NoReturn:
        """Raise BadInput at the part named first, quoting up to the end of the one named last."""
        start, end = self.found.start(first), self.found.end(last or first)
        refuse(self.text, at=start, part=self.text[start:end], advice=advice)


def take_apart(text: str) -> Typed:
    """Return the parts of a text that holds one reading and nothing else.

    Raises:  BadInput: empty, too long, no number, or something after the reading
    """
    if len(text) > LONGEST_TEXT:
        refuse_value(text, "is too long for a length", "Write one reading such as 27 3/8.")
    found = READING.match(plain(text))
    if found is None or not text.strip():  # the pattern itself matches even the empty text
        refuse_value(text, "is empty", EXAMPLES)
    typed = Typed(text, found, found.groupdict())
    end = found.end()
    if not (typed.has_inches or typed.parts["feet"]):
        refuse(text, at=end, part=_word_at(text, end), advice=EXAMPLES)
    if end < len(text):
        part = _word_at(text, end)
        refuse(text, at=end, part=part, advice=_advice_on_rest(typed, part))
    return typed


def _word_at(text: str, at: int) -> str:
    """Return the characters from a place to the next space, at least one; none at the end."""
    first = text[at : at + 1]
    return first if not first or first.isspace() else text[at:].split(maxsplit=1)[0]


def _advice_on_rest(typed: Typed, part: str) -> str:
    if typed.parts["after"] == "-":
        return "A dash joins inches and fraction without spaces: 27-3/8; write one length, not a sum."
    if typed.parts["after"]:
        return "Strong, shy, + or - comes last, after the unit."
    if part.lower().startswith(("f", "'")):
        return "Feet come first, as a whole number or a decimal: 4' 6\" or 4.5 ft."
    if part[0].isdigit() and not typed.has_fraction and typed.parts["mark"] is None:
        return "Write inches, a space and a fraction: 27 3/8."
    return "Write one length, such as 27 3/8, 4' 3 1/2\" or 1302 mm, with strong or shy after it."
