"""Checks of a deck where it meets the house: are fasteners and lateral ties where the code wants them.

From `LedgerFacts` (None is unknown) and a rule book to findings with value, limit and source, by the engine
of `rules`. Sizes, spacing and what a ledger may hang on are worked out in `structure`; here what is drawn or
built is held against the limits, local amendments included. Knows nothing of drawing.
"""

from sillwright.deck.ledger import CHECKS, LedgerFacts

__all__ = ["CHECKS", "LedgerFacts"]
