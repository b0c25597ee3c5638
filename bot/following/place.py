"""The slot that a number said alone speaks of."""

from __future__ import annotations

from math import log
from typing import Any

from bot.reading.heard import Heard
from knowledge.units import UnitFault, convert, kind

Plain = dict[str, Any]
NUMBERS = (
    *("length", "height", "thickness", "block.thickness", "coat_thickness", "cavity", "area", "temperature"),
    *("block.length", "block.height", "block.strength", "crack.width", "spacing", "load", "joint_thickness"),
    *("roll.width", "roll.length", "board.width", "board.height"),
)
OF_THE_WALL = {"length", "height", "thickness", "block.thickness", "area"}

FEW = 2  # joints more or less that a number alone may mean
FAR = log(1.4)  # how far it must be from the sides of the wall
MANY = 9  # so many of them are rather blocks than anything else that is counted
COUNTS = {"walls": 60, "courses": 60, "block_count": 40_000}  # and the most of each that is not asked about


def place(heard: Heard, before: Plain, last: list[str]) -> str | None:
    """The one that holds the value denied, else of those said last the one nearest in size."""
    size = heard.lone
    known = [slot for slot in NUMBERS if get(before, slot) is not None]
    if "wall" in heard.marks:  # '20m wall' after a spacing
        known = [slot for slot in known if slot in OF_THE_WALL]
    for slot in known:
        if any(abs(get(before, slot)["value"] - v) < 1e-9 for v in heard.denied):
            return slot
    if "of them" in heard.marks and "block_count" in before and size.whole and size.value > MANY:
        return "block_count"  # 'only 480 of them'
    twin = [slot for slot in known if abs(get(before, slot)["value"] - size.value) < 1e-9]
    if (
        size.unit
        and "correct" in heard.marks
        and len(twin) == 1
        and alike(size.unit, get(before, twin[0])["unit"])
    ):
        return twin[0]
    if not size.unit and size.whole and size.value >= 1:
        for count, most in COUNTS.items():
            if count in last and count in before and size.value <= most:
                return count
        if _near_count(size, before):
            return "joint_count"  # '3 joints ok?', then 'what if only 2'
    fits = [slot for slot in last if slot in known] or (["length"] if "length" in known else known[:1])
    if size.unit:
        fits = [slot for slot in fits if alike(size.unit, get(before, slot)["unit"])] or [
            slot for slot in known if alike(size.unit, get(before, slot)["unit"])
        ][:1]
    return min(fits, key=lambda slot: apart(size, get(before, slot))) if fits else None


def _near_count(size: Any, before: Plain) -> bool:
    """Whether a number is nearer to the joints that were told than to any side of the wall."""
    had = before.get("joint_count")
    sides = [before[side] for side in ("length", "height") if isinstance(before.get(side), dict)]
    return had is not None and abs(size.value - had) <= FEW and all(apart(size, side) > FAR for side in sides)


def apart(size: Any, had: Plain) -> float:
    """How far two sizes are from each other, by their ratio."""
    one, two = convert(size.value, size.unit, had["unit"]) if size.unit else size.value, had["value"]
    return abs(log(one / two)) if one > 0 and two > 0 else 99.0


def get(before: Plain, slot: str) -> Any:
    """What stands in a slot, or in a part of one: 'block.thickness'."""
    head, _, part = slot.partition(".")
    value = before.get(head)
    return value.get(part) if part and isinstance(value, dict) else value


def alike(one: str, other: str) -> bool:
    """Whether two units measure the same: metres and feet, not metres and degrees."""
    try:
        return kind(one) == kind(other)
    except UnitFault:
        return False


def filled(heard: Heard) -> list[str]:
    """The slots that a message filled, in order, for what follows on from it."""
    found = []
    for slot, value in heard.slots.items():
        if slot in {"block", "crack", "padstone", "board", "roll"} and isinstance(value, dict):
            found += [f"{slot}.{part}" for part in value]
        else:
            found.append(slot)
    return found
