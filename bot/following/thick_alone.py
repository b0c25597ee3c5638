"""How thick the blocks are, said alone where no wall is spoken of."""

from __future__ import annotations

from typing import Any

from bot.following.doubtful import alone
from bot.reading.heard import Heard
from knowledge.region import Region

OF_A_WALL = {"length", "height", "area", "thickness", "block_count"}


def thick_alone(heard: Heard, before: dict[str, Any], topics: tuple[str, ...], region: Region) -> bool:
    """'140', after blocks to the square metre of no wall. True where it was so."""
    size = heard.lone
    if topics != ("blocks",) or heard.topics or not alone(heard) or OF_A_WALL & set(before):
        return False
    if size.unit or size.value not in region.known.get("thickness", ()):
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
