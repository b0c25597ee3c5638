"""A unit said alone, where nothing was asked: the numbers of the wall that came without one are in it."""

from __future__ import annotations

import re

from bot.reading.heard import Heard
from bot.reading.letters import tokens
from bot.reading.words import words
from bot.talking.picking import unit_alone
from bot.talking.state import Plain, State
from knowledge.questions import Units
from knowledge.units import kind

SIDES = ("length", "height")
IN: dict[str | None, Units] = {"m": "metric", "mm": "metric", "ft": "feet", "in": "feet"}
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


def answer_in(state: State, text: str) -> Units | None:
    """'in metres pls', 'whats that in feet', where the wall was told in the other: what to answer in."""
    if state.pending or state.asked or not state.topics:
        return None
    unit = unit_alone(state, text)
    wrong = words(state.language).cue["turns.taken_wrong"]
    if any(token.text in wrong for token in tokens(text.lower())):
        return None  # 'i meant feet'
    walls = [{**state.slots, **wall["slots"]} for wall in state.walls] or [state.slots]
    told = {slots[side]["unit"] for slots in walls for side in (*SIDES, "spacing") if slots.get(side)}
    bare_ = any(side in state.bare or side in state.confirmed for side in SIDES)
    if unit not in IN or not told or unit in told or bare_:
        return None
    return IN[unit]


def bare(state: State, heard: Heard, slots: Plain) -> tuple[str, ...]:
    """The sides of the wall whose number stood without a unit."""
    found = []
    for side in SIDES:
        spans = heard.evidence.get(side) if side in heard.slots else None
        said = " ".join(heard.text[a:b] for a, b in spans or ()).lower()
        if any(c.isdigit() for c in said) and not any(a["slot"] in SIDES for a in heard.assumed):
            continue  # 'wall in feet 33 x 8'
        if _unitless(said) if any(c.isdigit() for c in said) else side in state.bare:
            found.append(side)
    return tuple(side for side in found if side in slots)


def _unitless(said: str) -> bool:
    """'13', '10x2.4', '10 by 2.4'."""
    return not _A_UNIT.search(said.replace("by", "").replace("x", ""))
