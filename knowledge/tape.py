"""Feet and inches as they stand on a tape: whole inches and sixteenths."""

from __future__ import annotations

from math import ceil, floor
from typing import Literal

Way = Literal["near", "down", "up"]
"""Which way a size may be rounded: a most goes down, a least and an order go up."""
_EIGHTHS = ("", "⅛", "¼", "⅜", "½", "⅝", "¾", "⅞")
_INCH = 16
_QUARTER, _FOOT = 4, 12 * _INCH
_HAIR = 1e-4  # of a sixteenth: what binary fractions and six figures leave
_NEAR, _AWAY = 0.06, 0.12  # of a small size: rounded off more than this, it is said in decimals


def exact(feet: float) -> str | None:
    """A size in feet, where a tape shows it; None where it falls between the marks."""
    marks = feet * _FOOT
    return _feet(round(marks)) if abs(marks - round(marks)) < _HAIR * 10 else None


def feet(value: float, way: Way = "near") -> str:
    """A size of wall to the quarter inch."""
    return _feet(_to(value * _FOOT / _QUARTER, way) * _QUARTER)


def inches(value: float, way: Way = "near") -> str | None:
    """A small size to the sixteenth; None where that would say another size."""
    marks = _to(value * _INCH, way)
    off = abs(marks / _INCH - value)
    return (
        f"{_inches(marks)} in" if marks and off <= abs(value) * (_NEAR if way == "near" else _AWAY) else None
    )


def exact_inches(value: float) -> str | None:
    """A size in inches, where a tape shows it."""
    marks = value * _INCH
    return f"{_inches(round(marks))} in" if abs(marks - round(marks)) < _HAIR * 10 else None


def _to(marks: float, way: Way) -> int:
    if way == "near":
        return round(marks)
    return floor(marks + _HAIR) if way == "down" else ceil(marks - _HAIR)


def _feet(marks: int) -> str:
    sign, marks = ("−" if marks < 0 else ""), abs(marks)
    whole, rest = divmod(marks, _FOOT)
    if whole and not rest:
        return f"{sign}{whole} ft"
    return f"{sign}{f'{whole} ft ' if whole else ''}{_inches(rest)} in"


def _inches(marks: int) -> str:
    whole, part = divmod(marks, _INCH)
    if not part:
        return str(whole)
    eighths, odd = divmod(part, 2)
    if not odd:
        return f"{whole or ''}{_EIGHTHS[eighths]}"
    return f"{whole} {part}/{_INCH}" if whole else f"{part}/{_INCH}"
