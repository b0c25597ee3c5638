"""How thick the blocks are, said alone where no wall is spoken of."""

from __future__ import annotations

from typing import Any

from bot.following.doubtful import OTHER, alone
from bot.following.place import apart
from bot.reading.heard import Heard
from knowledge.region import Region

TOPICS = {"blocks", "joints", "mortar", "wall"}


def thick_alone(heard: Heard, before: dict[str, Any], topics: tuple[str, ...], region: Region) -> bool:
    """'140', after blocks to the square metre, or of a wall 18 m long. True where it was so."""
    size = heard.lone
    if not topics or not set(topics) <= TOPICS or heard.topics or not alone(heard):
        return False
    if {"area", "block_count", "thickness", "openings"} & set(before) or "thickness" in before.get(
        "block", {}
    ):
        return False
    if size.unit or size.value not in region.known.get("thickness", ()):
        return False
    sides = [before[side] for side in ("length", "height") if isinstance(before.get(side), dict)]
    if any(side["unit"] != "m" or apart(size, side) < OTHER for side in sides):
        return False
    if not sides and topics != ("blocks",):
        return False
    value, span = {"value": size.value, "unit": "mm"}, (size.start, size.end)
    for slot in ("length", "height", "thickness", "number"):
        heard.slots.pop(slot, None)
        heard.evidence.pop(slot, None)
    heard.doubts = [d for d in heard.doubts if span not in d.spans]
    heard.slots["block"], heard.evidence["block"] = {"thickness": value}, [span]
    because = f"'{heard.text[slice(*span)]}' was taken as a thickness of {size.value:g} mm."
    heard.assumed = [a for a in heard.assumed if a["slot"] not in {"length", "height"}]
    heard.assumed.append({"slot": "block", "value": value, "because": because})
    heard.lone = None
    return True
