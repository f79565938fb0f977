"""Every code that a finding can have, read out of the program's text: nothing has to be run for it.

A code may be a word, one of two, a word with a part out of a table, a loop over rows, or handed
through a helper. Whatever cannot be followed is an error, so that no code gets past the manual.
"""

from __future__ import annotations

import ast
from collections.abc import Iterator
from dataclasses import dataclass
from itertools import product
from pathlib import Path

COLUMN = "[a-z]+"
"""Stands for the name of a column, after which some codes are called."""


def made_in(folder: Path) -> dict[str, str]:
    """Return the codes as patterns, each with a place where it is made.

    Raises
    ------
    ValueError
        It cannot be told what a code may be; file and line are named.
    """
    found: dict[str, str] = {}
    for path in sorted(folder.rglob("*.py")):
        tree = ast.parse(path.read_text(encoding="utf-8"))
        for function in ast.walk(tree):
            if isinstance(function, ast.FunctionDef):
                scope = _Scope(path, tree, function)
                for call in scope.calls("Finding"):
                    for pattern in scope.values(_argument(call, 0, "code")):
                        found.setdefault(pattern, f"{path}:{call.lineno}")
    return found


def _argument(call: ast.Call, at: int, name: str) -> ast.expr:
    named = [word.value for word in call.keywords if word.arg == name]
    return named[0] if named else call.args[at]


@dataclass(frozen=True)
class _Scope:
    """A function of a module, in which names have meanings."""

    path: Path
    module: ast.Module
    function: ast.FunctionDef

    def calls(self, name: str) -> Iterator[ast.Call]:
        """Yield the calls of something by its plain name."""
        for node in ast.walk(self.function):
            match node:
                case ast.Call(func=ast.Name(id=called)) if called == name:
                    yield node

    def values(self, value: ast.expr) -> set[str]:
        """Return what a text may be, as patterns."""
        match value:
            case ast.Constant(value=str(text)):
                return {text}
            case ast.IfExp(body=one, orelse=other):
                return self.values(one) | self.values(other)
            case ast.JoinedStr(values=parts):
                return {"".join(each) for each in product(*map(self.values, parts))}
            case ast.FormattedValue(value=inner):
                return self.values(inner)
            case ast.Subscript(value=ast.Name(id=table)) if words := self._table(table):
                return set().union(*map(self.values, words.values))
            case ast.Name(id=name) if meanings := self._meanings(name):
                return set().union(*meanings)
        if keys := self._keys_of_what_it_looks_up(value):
            return set().union(*map(self.values, keys))
        if any(isinstance(n, ast.Attribute) and n.attr == "field" for n in ast.walk(value)):
            return {COLUMN}
        where = f"{self.path}:{value.lineno}"
        raise ValueError(f"{where}: cannot tell what {ast.unparse(value)} may be")

    def _meanings(self, name: str) -> list[set[str]]:
        """Return what a name stands for: as assigned, in a loop, or handed in by a caller."""
        found = []
        for node in ast.walk(self.function):
            match node:
                case ast.Assign(targets=[ast.Name(id=target)], value=value) if target == name:
                    found.append(self.values(value))
                case ast.For(target=ast.Tuple(elts=names), iter=ast.Tuple(elts=rows)):
                    at = [getattr(each, "id", "") for each in names]
                    if name in at:
                        found += [self.values(row.elts[at.index(name)]) for row in rows]
        arguments = [argument.arg for argument in self.function.args.args]
        if name in arguments:
            for function in ast.walk(self.module):
                if isinstance(function, ast.FunctionDef):
                    scope = _Scope(self.path, self.module, function)
                    for call in scope.calls(self.function.name):
                        found.append(scope.values(_argument(call, arguments.index(name), name)))
        return found

    def _table(self, name: str) -> ast.Dict | None:
        for node in self.module.body:
            match node:
                case ast.Assign(targets=[ast.Name(id=target)], value=ast.Dict() as table):
                    if target == name:
                        return table
        return None

    def _keys_of_what_it_looks_up(self, value: ast.expr) -> list[ast.expr]:
        """Return the keys of a table in which the function looks something up."""
        for node in ast.walk(self.function):
            match node:
                case ast.Subscript(value=ast.Name(id=name), slice=key):
                    table = self._table(name)
                    if table and ast.dump(key) == ast.dump(value):
                        return [each for each in table.keys if each]
        return []
