"""'less 2 doors' of several walls, then '838 x 1981': the size of the openings whose wall is still asked."""

from __future__ import annotations

from bot.following.for_the_opening import can_be_one
from bot.reading.heard import Doubt, Heard, Wall
from bot.reading.several.several import WHICH
from bot.talking.of_one_wall import in_force
from bot.talking.state import State
from knowledge.senses import Sense


def openings_sized(state: State, heard: Heard, sense: Sense) -> Heard | None:
    """The question once more, its openings with their size; None where the message is another one."""
    if state.asked != "openings" or not state.walls or heard.topics or heard.walls:
        return None
    width, height = (heard.slots.get(slot) for slot in ("length", "height"))
    spans = heard.evidence.get("length", [])
    if (
        width is None
        or height is None
        or spans != heard.evidence.get("height")
        or not can_be_one(sense, width, height)
    ):
        return None
    choices = []
    for choice in state.pending:
        openings = [{**one, "width": width, "height": height} for one in choice.slots.get("openings", ())]
        if not openings:
            return None
        choices.append(
            (choice.label, {"openings": openings, **({"wall": choice.wall} if choice.wall else {})})
        )
    walls = [Wall(label, slots) for label, slots in in_force(state).items()]
    return Heard(text=heard.text, walls=walls, doubts=[Doubt("openings", WHICH, choices, spans=spans)])
