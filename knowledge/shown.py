"""The asker's own units: feet in, feet out; metres otherwise."""

from __future__ import annotations

from knowledge import tape
from knowledge.answers import quantity
from knowledge.questions import Quantity, Reading
from knowledge.units import convert

_FEET = frozenset({"ft", "in", "yd", "ft²", "in²", "yd²"})


def in_feet(reading: Reading) -> bool | None:
    """Whether the first size said of the wall, its openings or the job is in feet; None: none was said."""
    openings = [size for hole in reading.openings or () for size in (hole.width, hole.height, hole.area)]
    for said in (reading.length, reading.height, reading.area, *openings):
        if said is not None:
            return said.unit in _FEET
    block = reading.block
    sizes = (block.length, block.height, block.thickness) if block else ()
    said = next(
        (size for size in (*sizes, reading.thickness, reading.coat_thickness) if size is not None), None
    )
    return None if said is None else said.unit in _FEET


def length(metres: float, feet: bool) -> Quantity:
    """A length of wall."""
    return quantity(convert(metres, "m", "ft"), "ft") if feet else quantity(metres, "m")


def thickness(metres: float, feet: bool) -> Quantity:
    """A small size: of a coat or a joint."""
    return quantity(convert(metres, "m", "in"), "in", 3) if feet else quantity(metres * 1000, "mm", 3)


def area(square_metres: float, feet: bool) -> Quantity:
    """An area of wall."""
    return quantity(convert(square_metres, "m²", "ft²"), "ft²") if feet else quantity(square_metres, "m²")


def volume(cubic_metres: float, feet: bool) -> Quantity:
    """A volume of wet mortar or render."""
    return quantity(convert(cubic_metres, "m³", "ft³"), "ft³") if feet else quantity(cubic_metres, "m³")


def say(said: Quantity) -> str:
    """A quantity inside a sum: '6.2 m', '0.1013 m²'."""
    return f"{said.value:.{4 if abs(said.value) < 1000 else 7}g} {said.unit}"


def told(size: Quantity) -> str:
    """A size inside a sentence: feet and inches as on the tape."""
    if size.unit == "ft":
        return tape.feet(size.value)
    return (tape.inches(size.value) if size.unit == "in" else None) or say(size)


def whole(value: float) -> int:
    """Whole pieces, rounded up; what only binary fractions add is no piece."""
    return -int(-(value - 1e-9) // 1)
