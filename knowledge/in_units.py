"""Results in the units that somebody wants to be answered in: metric, or feet and inches."""

from __future__ import annotations

from dataclasses import replace
from typing import Any

from knowledge.answers import Answer, Range
from knowledge.questions import Quantity, Units
from knowledge.units import convert

_TO: dict[Units, dict[str, str]] = {
    "metric": {
        "ft": "m", "yd": "m", "in": "mm", "ft²": "m²", "yd²": "m²", "in²": "mm²", "ft³": "m³", "yd³": "m³",
        "1/ft²": "1/m²", "1/yd²": "1/m²", "lb": "kg", "psi": "N/mm²", "lbf": "kN", "kip": "kN", "°F": "°C",
    },
    # Masses, litres, strengths and degrees stay as the region has them: the trade weighs and measures
    # out by bags and buckets whatever it measures walls with.
    "feet": {"m": "ft", "cm": "in", "mm": "in", "m²": "ft²", "mm²": "in²", "m³": "ft³", "1/m²": "1/ft²"},
}  # fmt: skip


def in_units(answer: Answer, units: Units) -> Answer:
    """The same answer with its results in these units; what was read and what was assumed stay as said."""
    return replace(answer, results=turned(answer.results, units))


def turned(value: Any, units: Units) -> Any:
    """Any value of a result with each quantity in it in these units."""
    if isinstance(value, Quantity):
        to = _TO[units].get(value.unit)
        return value if to is None else replace(value, value=round(value.to(to), 6), unit=to)
    if isinstance(value, Range):
        to = _TO[units].get(value.unit)
        if to is None:
            return value
        ends = (round(convert(end, value.unit, to), 6) for end in (value.min, value.max))
        return Range(min=next(ends), max=next(ends), unit=to)
    if isinstance(value, dict):
        return _plain(value, units)
    if isinstance(value, (list, tuple)):
        return type(value)(turned(part, units) for part in value)
    return value


def shows(value: Any, units: Units) -> bool:
    """Whether a result in plain data holds a size that these units are chosen for."""
    if isinstance(value, dict):
        return value.get("unit") in set(_TO[units].values()) or any(shows(x, units) for x in value.values())
    return isinstance(value, list) and any(shows(part, units) for part in value)


def _plain(value: dict[str, Any], units: Units) -> dict[str, Any]:
    """A quantity or range as plain data, or an entry whose parts are turned each on its own."""
    to = _TO[units].get(value.get("unit", "")) if isinstance(value.get("unit"), str) else None
    numbers = {"value", "min", "max"} & set(value)
    if to is None or not numbers:
        return {name: turned(part, units) for name, part in value.items()}
    told = {name: round(convert(value[name], value["unit"], to), 6) for name in numbers}
    return {**value, **told, "unit": to}
