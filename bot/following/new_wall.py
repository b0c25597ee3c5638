"""Whether a message speaks of another wall than the one in force."""

from __future__ import annotations

from typing import Any

from bot.reading.heard import Heard

FOLLOWS = {"same", "if", "just", "correct"}


def new_wall(heard: Heard, before: dict[str, Any]) -> bool:
    """Whether the message speaks of another wall: said so, or a whole wall is described with its topic."""
    if "new" in heard.marks:
        return True
    if len(heard.walls) > 1 and heard.topics and all("length" in wall.slots for wall in heard.walls):
        return not heard.marks & FOLLOWS
    if any(entry["why"] == "denied" for entry in heard.set_aside):
        return False  # 'its 9.8 not 8.8'
    if not {"length", "area"} & set(before) or heard.marks & FOLLOWS or not heard.topics:
        return False  # what was told before a wall had sizes is of this wall
    sized = (
        "length" in heard.slots
        or "area" in heard.slots
        or any(d.slot in {"length", "area"} for d in heard.doubts)
    )
    whole = {"length", "height"} <= set(heard.slots) or "wall" in heard.marks
    return sized and whole
