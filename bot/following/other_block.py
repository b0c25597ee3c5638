"""'and block' after a brick wall: the wall of blocks, and no longer of bricks."""

from __future__ import annotations

from typing import Any

from bot.reading.heard import Heard

Plain = dict[str, Any]
BRICKS = {"clay_brick", "calcium_silicate"}
SHORT = 5  # words


def other_block(heard: Heard, before: Plain, on: tuple[str, ...], words: tuple[str, ...]) -> None:
    """What the wall was of is denied, where blocks are named and nothing else is told."""
    material = (before.get("block") or {}).get("material")
    if material not in BRICKS or "blocks" in on or not on or heard.slots or heard.doubts or heard.walls:
        return
    said = heard.text.lower().strip(" .?!").split()
    if (
        len(said) <= SHORT
        and any(word in said for word in words)
        and {t for t, _ in heard.topics} <= {"blocks"}
    ):
        heard.negated.append(("material", material))
        heard.weak = True
