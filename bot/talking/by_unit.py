"""A unit said alone, where nothing was asked: the numbers of the wall that came without one are in it."""

from __future__ import annotations

import re

from bot.reading.heard import Heard
from bot.talking.picking import unit_alone
from bot.talking.state import Plain, State
from knowledge.units import kind

SIDES = ("length", "height")
_A_UNIT = re.compile(r"[a-z'\"]")


def by_unit(state: State, text: str) -> Heard | None:
    """'wall 13 long', taken as metres, then 'feet', or 'metres': None where it is no such message."""
    if state.pending or state.asked or not state.topics or state.walls:
        return None
    unit = unit_alone(state, text)
    if unit is None or kind(unit) != kind("m"):
        return None
    sizes = {side: state.slots[side] for side in SIDES if side in state.slots}
    open_ = [side for side in sizes if side in state.bare or side in state.confirmed]
    if not open_ and unit not in {size["unit"] for size in sizes.values()}:
        return None
    heard = Heard(text=text)
    for side in open_:
        heard.slots[side] = {**sizes[side], "unit": unit}
        heard.evidence[side] = [(0, len(text))]
    if any(sizes[side]["unit"] != unit for side in open_):
        heard.marks.add("correct")
    return heard


def bare(state: State, heard: Heard, slots: Plain) -> tuple[str, ...]:
    """The sides of the wall whose number stood without a unit."""
    found = []
    for side in SIDES:
        spans = heard.evidence.get(side) if side in heard.slots else None
        said = " ".join(heard.text[a:b] for a, b in spans or ()).lower()
        if _unitless(said) if any(c.isdigit() for c in said) else side in state.bare:
            found.append(side)
    return tuple(side for side in found if side in slots)


def _unitless(said: str) -> bool:
    """'13', '10x2.4', '10 by 2.4'."""
    return not _A_UNIT.search(said.replace("by", "").replace("x", ""))
