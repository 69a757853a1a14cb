"""The written forms of a length: characters, words and the one pattern that reads them.

Every part of the pattern may be absent, so `match` always succeeds and stops at the first character that
cannot go on: that place is what a message points at.
"""

from __future__ import annotations

import re

VULGAR = {"½": (1, 2), "¼": (1, 4), "¾": (3, 4), "⅛": (1, 8), "⅜": (3, 8), "⅝": (5, 8), "⅞": (7, 8)}
"""Fractions that have a character of their own and stand on a tape."""

NOT_ON_A_TAPE = {
    "⅓": 1 / 3,
    "⅔": 2 / 3,
    "⅕": 1 / 5,
    "⅖": 2 / 5,
    "⅗": 3 / 5,
    "⅘": 4 / 5,
    "⅙": 1 / 6,
    "⅚": 5 / 6,
}
"""Fractions that have a character of their own but that no tape shows."""

STRONG = ("strong", "full", "heavy", "just over", "+")
SHY = ("shy", "scant", "light", "just under", "-")
DIRECTION = dict.fromkeys(STRONG, 1) | dict.fromkeys(SHY, -1)
"""Word or sign after a reading: on which side of the mark it lies."""

MARKS = {
    "": "", '"': "in", "''": "in", "in": "in", "in.": "in", "inch": "in", "inches": "in",
    "mm": "mm", "cm": "cm", "m": "m",
}  # fmt: skip
"""Unit as written, and what it means; none: the job's unit."""

SUPERSCRIPT = "⁰¹²³⁴⁵⁶⁷⁸⁹"
SUBSCRIPT = "₀₁₂₃₄₅₆₇₈₉"
FRACTION_SLASH = "\u2044"
TO_DIGITS = str.maketrans(SUPERSCRIPT + SUBSCRIPT, "0123456789" * 2)

# One character for one, so that a place in the plain text is the same place in what was typed.
_PLAIN = str.maketrans(
    {
        **dict.fromkeys("\u2018\u2019\u201b\u2032\u00b4`", "'"),  # quotes and primes that stand for feet
        **dict.fromkeys("\u201c\u201d\u201f\u2033", '"'),  # and for inches
        **dict.fromkeys("\u2010\u2011\u2012\u2013\u2014\u2212\ufe63\uff0d", "-"),  # hyphens, dashes, minus
        **dict.fromkeys("\u2044\u2215", "/"),  # fraction slash, division slash
        **dict.fromkeys("\u00a0\u2007\u2009\u200a\u202f\u2002\u2003", " "),  # no-break and thin spaces
    }
)

_FRACTION_SIGNS = "".join([*VULGAR, *NOT_ON_A_TAPE])
_WORDS = r"strong|full|heavy|shy|scant|light|just\s+over|just\s+under"

READING = re.compile(
    rf"""
    \s* (?: (?P<before> {_WORDS} ) (?![a-z]) \s* )?
    (?P<sign> [+-] )? \s*
    (?: (?P<feet> [0-9]* [.,] [0-9]+ | [0-9]+ ) \s* (?: '(?!') | (?: ft\.? | feet | foot ) (?![a-z]) )
        (?: \s* -? \s* (?= [0-9.,{_FRACTION_SIGNS}{SUPERSCRIPT}] ) )?
    )?
    (?: (?P<decimal> [0-9]* [.,] [0-9]+ )
      | (?P<whole> [0-9]+ (?! [0-9/] | [.,][0-9] ) )?
        (?: (?(whole) (?: \s+ | - )? )
            (?: (?P<vulgar> [{_FRACTION_SIGNS}] )
              | (?P<top> [0-9]+ | [{SUPERSCRIPT}]+ ) / (?P<bottom> [0-9]+ | [{SUBSCRIPT}]+ ) )
        )?
    )
    (?: \s* (?P<mark> "|''|in\.(?![a-z])|(?:inches|inch|in|mm|cm|m)(?![a-z]) ) )?
    (?: \s* (?P<after> [+-] | (?:{_WORDS}) (?![a-z]) ) )?
    \s*
    """,
    re.VERBOSE | re.ASCII | re.IGNORECASE,
)


def plain(text: str) -> str:
    """Return the text with typographic quotes, dashes, slashes and spaces made plain, place for place."""
    return text if text.isascii() else text.translate(_PLAIN)
