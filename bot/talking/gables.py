"""A gable whose two sizes come in two messages: a triangle or a rectangle is asked, as in one message."""

from __future__ import annotations

from bot.reading.heard import Doubt, Heard
from bot.reading.scene import show
from bot.talking.state import Plain, State, Topics

AMOUNTS = {"blocks", "render", "mesh", "mortar", "boards", "wall"}
SIDES = {"length", "height"}


def still_open(state: State, heard: Heard) -> bool:
    """Whether a gable is spoken of, and nobody said its shape."""
    return heard.gable == "open" or (state.gable and not heard.gable and "new" not in heard.marks)


def ask_shape(state: State, heard: Heard, slots: Plain, topics: Topics) -> None:
    """Ask it where both sizes are known now."""
    told = (
        "shape" in slots
        or heard.walls
        or "new" in heard.marks
        or any(d.slot == "shape" for d in heard.doubts)
    )
    if not state.gable or told or not slots.keys() >= SIDES or not AMOUNTS & {topic for topic, _ in topics}:
        return
    high = show(slots["height"])
    choices: list[tuple[str, Plain]] = [
        (f"Triangle, {high} to the peak", {"shape": "triangle"}),
        (f"Rectangle, {high} high", {"height": slots["height"]}),
    ]
    heard.doubts.append(Doubt("shape", "Is the gable a triangle, or a rectangle?", choices))
