"""'one is 5 m' after three like walls: the others keep their size, so it is asked, never taken for all."""

from __future__ import annotations

from typing import Any

from bot.reading.heard import Doubt, Heard
from bot.reading.scene import show

WAY = {"length": "long", "height": "high"}


def one_of_them(heard: Heard, before: dict[str, Any]) -> None:
    """A length or height said of one of several like walls."""
    count = before.get("walls", 1)
    if (
        count < 2
        or not {"of_several", "of_a_number"} & heard.changes
        or heard.walls
        or "walls" in heard.slots
    ):
        return
    if "openings" in heard.slots:
        return
    for slot in [slot for slot in WAY if slot in heard.slots and slot in before]:
        size, spans = heard.slots.pop(slot), heard.evidence.pop(slot, [])
        heard.assumed = [a for a in heard.assumed if a["slot"] != slot]
        heard.lone = None
        ask = f"Is only one of the {count} walls {show(size)} {WAY[slot]}? Then tell me each wall by itself."
        choices = [(f"All {count} are {show(size)} {WAY[slot]}", {slot: size})]
        heard.doubts.append(Doubt("number", ask, choices, spans=spans))
