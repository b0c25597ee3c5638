"""Numbers as they are written back: a leading zero, no trailing zeros, a space before the unit."""

from __future__ import annotations

from types import NoneType
from typing import Any

from knowledge import tape
from knowledge.questions import Quantity

SAID = {"ft²": "sq ft", "in²": "sq in", "yd²": "sq yd", "ft³": "cu ft", "yd³": "cu yd"}
BOUND = {"over": "over ", "under": "under ", "about": "about "}
_FRACTION = {0.25: "¼", 0.5: "½", 0.75: "¾"}


def tidy(value: Any) -> Any:
    """Whole numbers without '.0', dust of binary fractions swept off; models as plain data."""
    kind = type(value)
    if kind is float:
        return _swept(value)
    if kind in _TIDY:
        return value
    if kind is Quantity:
        size = {"value": _swept(value.value), "unit": value.unit}
        if value.bound is not None:
            size["bound"] = value.bound
        return size
    if kind is list or kind is tuple:
        return [v if type(v) in _TIDY else tidy(v) for v in value]
    fields = value if kind is dict else vars(value)
    return {k: v if type(v) in _TIDY else tidy(v) for k, v in fields.items() if v is not None}


_TIDY = frozenset({str, int, bool, NoneType})


def _swept(value: float) -> float:
    whole = int(value)
    if whole == value:
        return whole
    value = round(value, 6)
    whole = int(value)
    return whole if whole == value else value


def number(value: float, digits: int = 3) -> str:
    """1234.5 → 1,234.5; no trailing zeros; a whole number stays whole."""
    if value == int(value):
        return f"{int(value):,}" if abs(value) >= 10_000 else str(int(value))
    text = f"{value:.{digits}f}"
    if digits:  # the noughts of 2260 are its own
        text = text.rstrip("0").rstrip(".")
    return text if text not in {"0", "-0"} else f"{value:.2g}"


_FINE = {"m", "mm", "cm", "in", "ft", "°C", "°F", "%", ""}


def _measured(value: float, unit: str) -> str:
    """Lengths to the millimetre; masses, areas, volumes and forces to three or four figures."""
    if unit in _FINE or value == int(value):
        return number(value)
    return number(value, 0 if abs(value) >= 100 else 1 if abs(value) >= 10 else 2 if abs(value) >= 1 else 3)


def quantity(value: dict[str, Any]) -> str:
    """A quantity or range with its unit, as it was said; feet as feet and inches where a tape shows them."""
    unit = value.get("unit", "")
    if "min" in value:
        least, most = _measured(value["min"], unit), _measured(value["max"], unit)
        return (
            f"{least} {unit}".strip() if value["min"] == value["max"] else f"{least} to {most} {unit}".strip()
        )
    bound, size = BOUND.get(value.get("bound", ""), ""), value["value"]
    if unit in {"ft", "in"}:
        marked = tape.exact(size) if unit == "ft" else tape.exact_inches(size)
        if marked is not None and size > 0:
            return bound + marked
    mark = "" if unit in {"°C", "°F", "%"} else " "
    shown = f"{unit}s" if unit in {"bag", "bucket"} and size != 1 else SAID.get(unit, unit)
    return f"{bound}{_measured(size, unit)}{mark}{shown}".strip()


def mix(parts: dict[str, Any]) -> str:
    """A mix in words, cement first."""
    lime = f"{part(parts['lime'])} lime : " if parts.get("lime") else ""
    return f"{part(parts.get('cement', 0))} cement : {lime}{part(parts.get('sand', 0))} sand"


def part(value: float) -> str:
    """A part of a mix: ½, 4½, 6."""
    whole, rest = divmod(float(value), 1)
    if round(rest, 3) in _FRACTION:
        return f"{int(whole) if whole else ''}{_FRACTION[round(rest, 3)]}"
    return number(float(value), 2)
