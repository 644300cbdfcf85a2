"""Works out the words of a sum, exactly: numbers stand where the words have `{}` or digits, everything else but `+ − ×
÷ ( )` is talk.

The tests prove with it that every explained size is the result of its own sum.
"""

from __future__ import annotations

import ast
import re
from collections.abc import Sequence
from fractions import Fraction

_TOKEN = re.compile(r"\{\}|\d+|[+−×÷()]")
_SIGNS = {"+": "+", "−": "-", "×": "*", "÷": "/", "(": "(", ")": ")"}


def evaluate(words: str, terms: Sequence[Fraction]) -> Fraction:
    """The exact result of `words`, whose `{}` are the `terms` in order.

    >>> evaluate("image {} − 2 × overlap {}", (Fraction(250), Fraction(3)))
    Fraction(244, 1)
    """
    left = iter(terms)
    values: list[Fraction] = []
    code = ""
    for token in _TOKEN.findall(words):
        if token in _SIGNS:
            code += _SIGNS[token]
        else:
            code += f"v{len(values)}"
            values.append(next(left) if token == "{}" else Fraction(token))
    if next(left, None) is not None:
        raise ValueError(f"more terms than places in {words!r}")
    return _worked_out(ast.parse(code, mode="eval").body, values)


def _worked_out(node: ast.expr, values: Sequence[Fraction]) -> Fraction:
    match node:
        case ast.Name(id=name):
            return values[int(name[1:])]
        case ast.UnaryOp(op=ast.USub(), operand=operand):
            return -_worked_out(operand, values)
        case ast.BinOp(left=left, op=op, right=right):
            a, b = _worked_out(left, values), _worked_out(right, values)
            match op:
                case ast.Add():
                    return a + b
                case ast.Sub():
                    return a - b
                case ast.Mult():
                    return a * b
                case ast.Div():
                    return a / b
    raise ValueError(f"no sum: {ast.dump(node)}")
