"""No figure of the trade stands in Python: numbers are counts, scales, tolerances, or have a reason."""

from __future__ import annotations

import ast
from math import log10
from pathlib import Path

import pytest

from tests.architecture.tree import ROOT, code

SMALL = {0, 1, 2, 3, 4, 0.5}  # sides, ends, halves
PICTURES = {"figure.py", "placing.py"}  # proportions of a drawing, not of a wall
REASONS = {
    ("beside.py", 6): "how many openings are tried on both sides",
    ("bearings.py", 180): "degrees in half a turn",
    ("rulebook.py", 1024): "how many look-ups are kept",
    ("faces.py", 0.02): "how far an area that was said may be off length times height before it is asked",
    ("_joints_words.py", 0.05): "how far off a length said with 'about' may be",
    ("tape.py", 12): "inches in a foot",
    ("tape.py", 16): "marks to the inch on a tape",
    ("tape.py", 0.06): "how far a small size may be rounded off before it is said in decimals",
    ("tape.py", 0.12): "how far a limit may be rounded off to its safe side",
    ("safety.py", 6): "how many measures fit on a phone",
}
DIGITS = {"round", "quantity", "isclose"}  # what these are given are digits and tolerances


def numbers(tree: ast.AST) -> list[tuple[int, float]]:
    """Numbers of a file with their lines; not those that say how closely to round or compare."""
    left_out: set[int] = set()
    for node in ast.walk(tree):
        if isinstance(node, ast.Call) and isinstance(node.func, ast.Name) and node.func.id in DIGITS:
            given = [*node.args[1:], *(word.value for word in node.keywords)]
            left_out |= {id(inner) for one in given for inner in ast.walk(one)}
        elif isinstance(node, ast.FormattedValue) and node.format_spec is not None:
            left_out |= {id(inner) for inner in ast.walk(node.format_spec)}
        elif isinstance(node, ast.arguments):
            names = [word.arg for word in node.args][len(node.args) - len(node.defaults) :]
            left_out |= {id(d) for name, d in zip(names, node.defaults, strict=True) if name == "digits"}
    return [
        (node.lineno, node.value)
        for node in ast.walk(tree)
        if isinstance(node, ast.Constant)
        and isinstance(node.value, (int, float))
        and not isinstance(node.value, bool)
        and id(node) not in left_out
    ]


def a_scale(value: float) -> bool:
    """A power of ten: a change of unit or a tolerance."""
    return value > 0 and abs(log10(value) - round(log10(value))) < 1e-12


@pytest.mark.parametrize("path", code("knowledge"), ids=lambda path: str(path.relative_to(ROOT)))
def test_numbers_in_code_are_no_figures_of_the_trade(path: Path) -> None:
    if path.name in PICTURES:
        return
    found = [
        f"line {line}: {value}"
        for line, value in numbers(ast.parse(path.read_text(encoding="utf-8")))
        if value not in SMALL and not a_scale(value) and (path.name, value) not in REASONS
    ]
    assert found == []


def test_a_figure_is_seen() -> None:
    """The test above can fail."""
    tree = ast.parse("spacing = 6.0\nx = round(y, 7)\nz = f'{y:.3f}'\nheight = courses * 225\nmm = 1000 * m")
    assert [v for _, v in numbers(tree) if v not in SMALL and not a_scale(v)] == [6.0, 225]
