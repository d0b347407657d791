"""What a module does, as a digest: comments and layout do not count, docstrings do.

The syntax tree is written out in a form of our own, because ``ast.dump`` differs between
versions of Python (3.13 leaves empty lists out, 3.12 does not). What the versions 3.12 to
3.14 write differently is left out or made alike:

- empty and absent fields are left out, contexts and type comments too;
- texts are written in ASCII (``repr`` follows the version's Unicode tables);
- docstrings lose the indent that 3.13 strips when it compiles;
- neighbouring texts inside an f-string are one text, an empty format is none.

Check values are declared inside the decorator of a calculator. They are told apart from its
code, so they are taken out of the tree here and have a digest of their own.
"""

from __future__ import annotations

import ast
import inspect
import json
from collections.abc import Iterator
from functools import lru_cache
from typing import Any

from witnessmark.signoff.digests import text_digest

CHECK_VALUES = "check_values"
_UNSEEN = frozenset({"ctx", "kind", "type_comment", "type_ignores"})
_WITH_DOCSTRING = (ast.Module, ast.ClassDef, ast.FunctionDef, ast.AsyncFunctionDef)


@lru_cache(maxsize=4096)
def code_digest(source: str) -> str:
    """The digest of a module's source, without its check values.

    Raises SyntaxError when the source is not Python.
    """
    tree = ast.parse(source.removeprefix("\ufeff"))
    _take_out_check_values(tree)
    return text_digest("".join(_written(tree)))


def _take_out_check_values(tree: ast.Module) -> None:
    """Remove ``check_values=…`` of every calculator, and a constant that only serves there."""
    names: set[str] = set()
    for node in ast.walk(tree):
        for decorator in getattr(node, "decorator_list", ()):
            if isinstance(decorator, ast.Call) and _name_of(decorator.func) == "calculator":
                for keyword in decorator.keywords:
                    if keyword.arg == CHECK_VALUES and isinstance(keyword.value, ast.Name):
                        names.add(keyword.value.id)
                decorator.keywords = [k for k in decorator.keywords if k.arg != CHECK_VALUES]
    for name in names:
        used = any(
            isinstance(node, ast.Name) and node.id == name and isinstance(node.ctx, ast.Load)
            for node in ast.walk(tree)
        )
        if not used:
            tree.body = [each for each in tree.body if _assigned(each) != name]


def _name_of(function: ast.expr) -> str:
    if isinstance(function, ast.Attribute):
        return function.attr
    return function.id if isinstance(function, ast.Name) else ""


def _assigned(statement: ast.stmt) -> str:
    """The one plain name that a statement gives a value, or an empty text."""
    targets: list[ast.expr] = []
    if isinstance(statement, ast.Assign):
        targets = statement.targets
    elif isinstance(statement, ast.AnnAssign):
        targets = [statement.target]
    return targets[0].id if len(targets) == 1 and isinstance(targets[0], ast.Name) else ""


def _written(node: Any) -> Iterator[str]:
    """The pieces of the text that stands for a node."""
    if isinstance(node, ast.Constant):
        yield _constant(node.value)
    elif isinstance(node, ast.AST):
        yield f"({type(node).__name__}"
        for name in sorted(node._fields):
            value = _value(node, name)
            if name not in _UNSEEN and value is not None and value != []:
                yield f" {name}="
                yield from _written(value)
        yield ")"
    elif isinstance(node, list):
        yield "["
        for each in node:
            yield from _written(each)
            yield ","
        yield "]"
    else:
        yield _constant(node)


def _value(node: ast.AST, name: str) -> Any:
    """A field of a node, with docstrings and f-strings made alike."""
    value = getattr(node, name, None)
    if name == "body" and isinstance(node, _WITH_DOCSTRING) and value:
        first = value[0]
        if (
            isinstance(first, ast.Expr)
            and isinstance(first.value, ast.Constant)
            and isinstance(first.value.value, str)
        ):
            return [ast.Expr(ast.Constant(inspect.cleandoc(first.value.value))), *value[1:]]
    if name == "values" and isinstance(node, ast.JoinedStr):
        return _joined(node)
    if name == "format_spec" and isinstance(value, ast.JoinedStr) and not _joined(value):
        return None
    return value


def _joined(text: ast.JoinedStr) -> list[ast.expr]:
    """The parts of an f-string, neighbouring texts as one and empty ones left out."""
    parts: list[ast.expr] = []
    for part in text.values:
        if isinstance(part, ast.Constant) and isinstance(part.value, str):
            before = parts[-1] if parts else None
            if isinstance(before, ast.Constant) and isinstance(before.value, str):
                parts[-1] = ast.Constant(before.value + part.value)
            elif part.value:
                parts.append(part)
        else:
            parts.append(part)
    return parts


def _constant(value: Any) -> str:
    if isinstance(value, str):
        return json.dumps(value)
    if isinstance(value, bytes):
        return f"b{value.hex()!r}"
    return f"{type(value).__name__}:{value!r}"
