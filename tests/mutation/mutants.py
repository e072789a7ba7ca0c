"""Mutants of a rule's file: a comparison turned, a condition dropped, a limit moved.

Only what decides a verdict is changed: the functions that `check` and the record's subjects lead
to. What makes fixes is proved by the fixes' own tests.
"""

from __future__ import annotations

import ast
import copy
from collections.abc import Callable, Iterator
from dataclasses import dataclass
from functools import partial
from pathlib import Path
from types import ModuleType
from typing import Any

import rules
from rules.book import BookRule

FOLDER = Path(rules.__file__).parent
TURNED: dict[type[ast.cmpop], type[ast.cmpop]] = {
    ast.Lt: ast.LtE, ast.LtE: ast.Lt, ast.Gt: ast.GtE, ast.GtE: ast.Gt, ast.Eq: ast.NotEq,
    ast.NotEq: ast.Eq, ast.In: ast.NotIn, ast.NotIn: ast.In, ast.Is: ast.IsNot,
    ast.IsNot: ast.Is,
}  # fmt: skip
BY = (0.9, 1.1)  # of a limit


@dataclass(frozen=True)
class Mutant:
    """A changed rule. `name` says where and what: "check: amps > limit: > to >="."""

    name: str
    rule: BookRule
    moved: tuple[str, float] | None = None
    """A profile's figure with the factor it is moved by; the rule's file is as it was then."""


def mutants(rule: BookRule) -> Iterator[Mutant]:
    """Yield every mutant of a rule."""
    for figure in rule.record.figures:
        for factor in BY:
            yield Mutant(f"figure {figure}: times {factor:g}", rule, (figure, factor))
    path = FOLDER / rule.record.topic / f"{rule.record.slug}.py"
    tree = ast.parse(path.read_text(encoding="utf-8"))
    deciding = _deciding(tree)
    for function in tree.body:
        if isinstance(function, ast.FunctionDef) and function.name in deciding:
            yield from _of_function(rule, tree, function, path)


def _deciding(tree: ast.Module) -> set[str]:
    """Return the functions that `check` and the record lead to."""
    named = {node.name: node for node in tree.body if isinstance(node, ast.FunctionDef)}
    record = next(node for node in tree.body if isinstance(node, ast.Assign)
                  and isinstance(node.targets[0], ast.Name) and node.targets[0].id == "RULE")
    found: set[str] = set()
    stack: list[ast.AST] = [named["check"], record]
    while stack:
        for node in ast.walk(stack.pop()):
            if isinstance(node, ast.Name) and node.id in named and node.id not in found:
                found.add(node.id)
                stack.append(named[node.id])
    return found | {"check"}


def _of_function(
    rule: BookRule, tree: ast.Module, function: ast.FunctionDef, path: Path
) -> Iterator[Mutant]:
    for number, node in enumerate(ast.walk(function)):
        for what, change in _changes(node):
            changed = copy.deepcopy(tree)
            twin = next(n for n in changed.body
                        if isinstance(n, ast.FunctionDef) and n.name == function.name)
            place = list(ast.walk(twin))[number]
            change(place)
            name = f"{function.name}: {ast.unparse(node)[:90]}: {what}"
            yield Mutant(name, _made(rule, changed, path))


Change = Callable[[Any], None]


def _changes(node: ast.AST) -> Iterator[tuple[str, Change]]:
    if isinstance(node, ast.Compare):
        for place, operator in enumerate(node.ops):
            turned = TURNED[type(operator)]

            def turn(twin: ast.Compare, place: int = place, to: type = turned) -> None:
                twin.ops[place] = to()

            yield f"{type(operator).__name__} to {turned.__name__}", turn
    elif isinstance(node, ast.BoolOp):
        for place in range(len(node.values)):
            yield f"without its condition {place + 1}", partial(_drop, place)
    elif isinstance(node, ast.UnaryOp) and isinstance(node.op, ast.Not):
        yield "without not", _double
    elif isinstance(node, ast.If):
        yield "never", lambda twin: setattr(twin, "test", ast.Constant(False))


def _drop(place: int, twin: ast.BoolOp) -> None:
    """Let one condition of several have no say."""
    twin.values[place] = ast.Constant(isinstance(twin.op, ast.And))


def _double(twin: ast.UnaryOp) -> None:
    """Turn "not x" into "not not x"."""
    twin.operand = ast.UnaryOp(ast.Not(), twin.operand)


def _made(rule: BookRule, tree: ast.Module, path: Path) -> BookRule:
    module = ModuleType(f"rules.{rule.record.topic}.{rule.record.slug}")
    module.__file__ = str(path)
    code = compile(ast.fix_missing_locations(tree), str(path), "exec")
    exec(code, module.__dict__)  # our own file, changed by a little
    return BookRule(module.RULE, module.check, rule.text, rule.fixes)
