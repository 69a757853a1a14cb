"""The rules: a store of tables, and an engine that runs checks and says what each came to.

From checks (data and one small function each), facts (None is unknown) and the rule book of an edition to
findings with value, limit and source. A fact that is missing gives "not checked: it needs ..."; a lookup
beyond its table gives a stop that names the bound. Local amendments are laid over the book and named in
every source they touch; answers are kept beside the findings they settle. Knows nothing of walls, openings
or drawings: the checks of a subject live with the subject.
"""

from sillwright.rules.amend import amended, read_amendment
from sillwright.rules.answers import Answer, apply_answers
from sillwright.rules.book import EDITIONS, PLACE, PLACES, Limit, RuleBook, load_table, rule_book
from sillwright.rules.case import Case, FactMissing, in_inches
from sillwright.rules.engine import catalogue, examine, gathered, run
from sillwright.rules.model import PRACTICE, Check, CodePlace, Edition, Listed, Result, Source, Verdict
from sillwright.rules.stated import check_stated, said
from sillwright.rules.table import OutsideTable, Row, Table, TableFault, read_table

__all__ = [
    "EDITIONS",
    "PLACE",
    "PLACES",
    "PRACTICE",
    "Answer",
    "Case",
    "Check",
    "CodePlace",
    "Edition",
    "FactMissing",
    "Limit",
    "Listed",
    "OutsideTable",
    "Result",
    "Row",
    "RuleBook",
    "Source",
    "Table",
    "TableFault",
    "Verdict",
    "amended",
    "apply_answers",
    "catalogue",
    "check_stated",
    "examine",
    "gathered",
    "in_inches",
    "load_table",
    "read_amendment",
    "read_table",
    "rule_book",
    "run",
    "said",
]
