"""A size said after a board, a roll or a padstone: it is of that piece, not of the wall."""

from __future__ import annotations

from typing import Any

from bot.following.place import alike
from bot.reading.heard import Heard
from knowledge.units import convert

Plain = dict[str, Any]
SIDES = {
    "board": {"wide": "width", "long": "height", "high": "height"},
    "roll": {"wide": "width", "long": "length"},
    "padstone": {"wide": "width", "long": "length", "high": "height"},
}
FAR = 3  # times: a side that changes so much is rather of another thing


def of_the_piece(heard: Heard, before: Plain, last: list[str]) -> None:
    """'boards are 2400x900', then 'and if i get 1200 wide ones'; 'rolls are 50 m', then 'no 25 m long'."""
    heads = {slot.partition(".")[0] for slot in last}
    head = next(iter(heads)) if len(heads) == 1 else ""
    had = before.get(head)
    if head not in SIDES or not isinstance(had, dict) or heard.walls or "wall" in heard.marks or heard.topics:
        return
    if {"new"} & heard.marks or set(heard.slots) - {"length", "height"} or len(heard.slots) > 1:
        return
    ways = [way for way in SIDES[head] if f"by {way}" in heard.marks]
    if "length" in heard.named and not ways:
        ways = ["long"]
    side = SIDES[head].get(ways[0]) if len(ways) == 1 else None
    slot = next(iter(heard.slots), None)
    if side is None or slot is None:
        return
    size = heard.slots[slot]
    if side in had and not _near(size, had[side]):
        return
    spans = heard.evidence.pop(slot, [])
    del heard.slots[slot]
    heard.assumed = [a for a in heard.assumed if a["slot"] != slot]
    heard.doubts = [d for d in heard.doubts if d.slot not in {slot, "number"}]
    heard.slots[head], heard.evidence[head] = {side: size}, spans
    because = f"The size was taken for the {head} told right before."
    heard.assumed.append({"slot": head, "value": size, "because": because})
    heard.lone, heard.stray = None, []


def _near(size: Plain, had: Plain) -> bool:
    """Whether one may stand in the place of the other."""
    if not alike(size["unit"], had["unit"]) or had["value"] <= 0 or size["value"] <= 0:
        return False
    times = convert(size["value"], size["unit"], had["unit"]) / had["value"]
    return bool(1 / FAR <= times <= FAR)
