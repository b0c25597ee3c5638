"""A size in a conversation that changes the wall: only where nothing says that it is of something else."""

from __future__ import annotations

from typing import Any

from bot.following.place import alike
from bot.reading.heard import Doubt, Heard
from bot.reading.scene import show
from knowledge.senses import Sense
from knowledge.units import convert

Plain = dict[str, Any]
FAR = 3  # times: what a side becomes at most that is told in another unit than before


def of_the_wall(heard: Heard, before: Plain, topics: tuple[str, ...], sense: Sense) -> None:
    """'put one at 3 m' after a wall of 9 m: its length does not change in silence; what is the 3 m?"""
    _far_from_it(heard, before, topics, sense)
    hinted = heard.weak and heard.lone is not None and "new" not in heard.marks  # 'packs are 5'
    begun = "new" in heard.marks and {"length", "height"} <= set(
        heard.slots
    )  # 'new wall, 24 ft x 8 ft blocks'
    if (heard.topics and not hinted) or heard.walls or "wall" in heard.marks or begun:
        return
    if any(doubt.slot == "number" for doubt in heard.doubts):
        for slot in {"length", "height"} - heard.named:
            if slot in before and heard.slots.pop(slot, None) is not None:
                heard.evidence.pop(slot, None)
                heard.assumed = [a for a in heard.assumed if a["slot"] != slot]
        return
    if not heard.stray:
        return
    if heard.denied or "correct" in heard.marks:
        return
    for slot in ("length", "height"):
        size, had = heard.slots.get(slot), before.get(slot)
        if slot in heard.named or not isinstance(had, dict) or not isinstance(size, dict) or size == had:
            continue
        spans = heard.evidence.get(slot, [])
        if "openings" in heard.slots and spans and not heard.text[: spans[0][0]].strip():
            continue  # '7 m with a door in the middle'
        heard.evidence.pop(slot, None)
        del heard.slots[slot]
        heard.assumed = [a for a in heard.assumed if a["slot"] != slot]
        choices: list[tuple[str, Plain]] = [(f"The wall is {show(size)} {_WAY[slot]}", {slot: size})]
        if "joints" in topics:
            choices.insert(0, (f"A joint at {show(size)}", {"joint_at": [size]}))
        said = " ".join(heard.text[a:b] for a, b in spans) or show(size)
        heard.doubts.append(Doubt("number", f"What is {said} in this?", choices, spans=spans))


_WAY = {"length": "long", "height": "high"}


def _far_from_it(heard: Heard, before: Plain, topics: tuple[str, ...], sense: Sense) -> None:
    """'theyre 620 long' after a wall of 10 m: named so, and still rather the blocks'."""
    if heard.walls or "wall" in heard.marks or "new" in heard.marks or (heard.topics and not heard.weak):
        return
    for slot in ("length", "height"):
        size, had = heard.slots.get(slot), before.get(slot)
        named = slot in heard.named or (slot == "length" and "width" in heard.named)  # '900 wide'
        if not named or not isinstance(had, dict) or not isinstance(size, dict):
            continue
        if "they" not in heard.marks and _may_become(size, had, sense):
            continue
        spans = heard.evidence.pop(slot, [])
        del heard.slots[slot]
        heard.assumed = [a for a in heard.assumed if a["slot"] != slot]
        choices: list[tuple[str, Plain]] = [(f"The wall is {show(size)} {_WAY[slot]}", {slot: size})]
        if "blocks" in topics and alike(size["unit"], "m") and size["unit"] not in {"m", "ft"}:
            block = {**before.get("block", {}), slot: size}
            choices.insert(0, (f"Blocks {show(size)} {_WAY[slot]}", {"block": block}))
        said = " ".join(heard.text[a:b] for a, b in spans) or show(size)
        heard.doubts.append(Doubt("number", f"What is {said} in this?", choices, spans=spans))


def _may_become(size: Plain, had: Plain, sense: Sense) -> bool:
    """Whether a side of the wall may change to this without a question."""
    if not alike(size["unit"], had["unit"]) or min(size["value"], had["value"]) <= 0:
        return True
    least, most = sense.changed if size["unit"] == had["unit"] else (1 / FAR, FAR)
    return bool(least <= convert(size["value"], size["unit"], had["unit"]) / had["value"] <= most)
