"""What the model says of itself: the docstrings of its tables and of their keys."""

from __future__ import annotations

import ast
import inspect
from dataclasses import dataclass
from functools import cache

from sillwright.job import deck, facts, model, rulings, water


@dataclass(frozen=True, slots=True)
class Docs:
    """A table's docstring, and those of its keys."""

    about: str
    fields: dict[str, str]


def field_docs(name: str) -> Docs:
    """Return what is said of the model class of that name."""
    return _all_docs()[name]


@cache
def _all_docs() -> dict[str, Docs]:
    trees = [ast.parse(inspect.getsource(module)) for module in (model, deck, facts, rulings, water)]
    return {node.name: _docs(node) for tree in trees for node in tree.body if isinstance(node, ast.ClassDef)}


def _docs(node: ast.ClassDef) -> Docs:
    fields = {}
    for statement, after in zip(node.body, node.body[1:], strict=False):
        if not (isinstance(statement, ast.AnnAssign) and isinstance(statement.target, ast.Name)):
            continue
        if isinstance(after, ast.Expr) and isinstance(after.value, ast.Constant):
            fields[statement.target.id] = " ".join(str(after.value.value).split())
    return Docs(ast.get_docstring(node) or "", fields)
