"""A number alone in talk of blocks: how many, or how high in courses."""

from __future__ import annotations

from bot.reading.slots.lonely import Alone
from bot.reading.slots.settling import settle

SMALL = {"mm", "in", "cm"}


def laid_or_had(at: Alone) -> bool:
    """'laid 100 so far', 'got 95', 'i have 100': blocks, where blocks are asked."""
    before = at.scene.at(at.i - 1)
    told = before is not None and before.says("block.had") and at.size.whole and not at.item.before
    if (
        at.scene.topics != ["blocks"]
        or not told
        or at.size.spelt
        or at.size.value < at.scene.sense.blocks_fewest
    ):
        return False
    behind = at.scene.at(at.i + 1)
    if behind is not None and (behind.tagged("dim") or behind.kind in {"measure", "dims"}):
        return False
    at.scene.claim("block_count", int(at.size.value), at.item)
    return True


IN_HAND = {"mesh": "rolls", "boards": "boards"}


def pieces_in_hand(at: Alone) -> bool:
    """'have 2', 'enough with 2?': rolls in talk of mesh, boards in talk of boards."""
    slot = IN_HAND.get(at.scene.topics[0], "") if len(at.scene.topics) == 1 else ""
    before, few = at.scene.at(at.i - 1), at.size.value < at.scene.sense.boards_most
    if not slot or slot in at.slots or before is None or not at.size.whole or at.size.unit or not few:
        return False
    enough = before.says("walls.with") and at.scene.tagged("wants", at.scene.topics[0], "shortfall")
    if not (before.says("block.had") or enough):
        return False
    behind = at.scene.at(at.i + 1)
    if behind is not None and (behind.tagged("dim") or behind.tagged("noun") or behind.sizes):
        return False
    at.scene.claim(slot, int(at.size.value), at.item)
    return True


def in_courses(at: Alone) -> bool:
    """'how many courses to 2.4': a height."""
    if "blocks" not in at.scene.topics or {"height", "length", "courses"} & set(at.slots):
        return False
    if not any(x.tagged("wants", "blocks", "course_count") for x in at.scene.items):
        return False
    if at.size.unit in SMALL and at.near is not None and at.near.says("block.single"):
        return False  # 'courses of 8 inch block'
    settle(at.scene, "height", at.item, "height")
    return True
