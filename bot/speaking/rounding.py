"""Results as the trade measures: to the quarter inch, to the millimetre; a limit never past itself."""

from __future__ import annotations

from math import ceil, floor
from typing import Any

from bot.speaking.numerals import BOUND, quantity
from knowledge import tape
from knowledge.tape import Way

Plain = dict[str, Any]
MOST = {"max_spacing", "end_panel_max", "tie_spacing", "spacing", "edge_spacing", "limit"}
LEAST = {
    *("sealant_depth", "tie_length", "lap", "cover", "projection", "embedment", "filler_length"),
    *("sealant_length", "total_length", "order_area", "order_volume"),
}
_FEW = 5  # millimetres: below so many a part of one counts


def way(name: str) -> Way:
    """Which way a result may be rounded: a most down, a least and an order up."""
    return "down" if name in MOST else "up" if name in LEAST else "near"


def sized(value: Plain, way: Way = "near") -> str:
    """A result or a range of it with its unit."""
    unit = value.get("unit", "")
    if unit in {"ft", "in"} and "min" in value and value["min"] != value["max"]:
        least, most = (_taped({"value": value[end], "unit": unit}, way) for end in ("min", "max"))
        return f"{least.removesuffix(' in')} to {most}" if unit == "in" else f"{least} to {most}"
    if unit in {"ft", "in"}:
        return _taped({**value, "value": value["min"]} if "min" in value else value, way)
    if unit == "mm":
        rounded: Plain = {n: _millimetres(value[n], way) for n in ("value", "min", "max") if n in value}
        return quantity({**value, **rounded})
    return quantity(value)


def _taped(value: Plain, way: Way) -> str:
    bound = BOUND.get(value.get("bound", ""), "")
    if value["unit"] == "ft":
        return bound + tape.feet(value["value"], way)
    return bound + (tape.inches(value["value"], way) or f"{value['value']:.2g} in")


def _millimetres(value: float, way: Way) -> float:
    if abs(value) < _FEW:
        return value
    if way == "near":
        return round(value)
    return floor(value + 1e-6) if way == "down" else ceil(value - 1e-6)
