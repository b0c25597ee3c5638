"""The size of a lintel, a sill or a pier, told after the wall: it never becomes the wall's, and is asked."""

from __future__ import annotations

from typing import Any

from bot.reading.heard import Doubt, Heard
from bot.reading.scene import show

Plain = dict[str, Any]
FACE = {"length", "height", "area"}
OF_THE_WALL = {"length": "The wall is {} long", "height": "The wall is {} high", "area": "{} of wall"}


def other_parts(heard: Heard, before: Plain) -> None:
    """'lintel 1.5m' after a wall of 9 m by 2.4: what stands beside a part of something else is no wall's."""
    named = bool(heard.topics) and not heard.weak
    if not heard.of_parts or named or heard.walls or not FACE & set(before):
        return
    if heard.denied or {"new", "correct"} & heard.marks:
        return
    for slot in (*OF_THE_WALL, "thickness", "block", "walls", "cavity"):
        value, spans = heard.slots.get(slot), heard.evidence.get(slot, [])
        mine = [span for span in spans if any(a < span[1] and span[0] < b for a, b in heard.of_parts)]
        if value is None or not mine:
            continue
        del heard.slots[slot], heard.evidence[slot]
        heard.assumed = [a for a in heard.assumed if a["slot"] != slot]
        if not any(span in d.spans for span in mine for d in heard.doubts if d.slot == "number"):
            said = " ".join(heard.text[a:b] for a, b in mine)
            choices = [(OF_THE_WALL[slot].format(show(value)), {slot: value})] if slot in OF_THE_WALL else []
            heard.doubts.append(Doubt("number", f"What is {said} in this?", choices, spans=mine))
    _leave(heard)


def _leave(heard: Heard) -> None:
    """A number alone that found no slot yet finds none: it is asked about."""
    lone = heard.lone
    if lone is None or (span := (lone.start, lone.end)) not in heard.of_parts:
        return
    heard.lone = None
    told = [at for found in heard.evidence.values() for at in found] + [
        at for d in heard.doubts for at in d.spans
    ]
    if span not in told:
        heard.doubts.append(Doubt("number", f"What is {heard.text[slice(*span)]} in this?", spans=[span]))
