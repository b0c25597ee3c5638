"""A number alone that is known as the strength of blocks."""

from __future__ import annotations

from bot.reading.scene import plain
from bot.reading.slots.lonely import Alone
from bot.reading.slots.put import put


def _one_or_the_other(at: Alone) -> bool:
    """'7.3 or 3.6': two numbers that are both known as strengths."""
    known = at.scene.region.known.get("strength", ())
    beside = (at.scene.at(at.i - 2), at.scene.at(at.i + 2))
    joined = any(
        x is not None and x.says("strength.either") for x in (at.scene.at(at.i - 1), at.scene.at(at.i + 1))
    )
    other = any(
        x is not None and x.kind == "measure" and x.size.value in known and x.size.decimal for x in beside
    )
    return joined and other


def strong_alone(at: Alone) -> bool:
    """'on a 140 wall 3.6' under a load: a decimal that is known as the strength of blocks."""
    known = at.size.value in at.scene.region.known.get("strength", ())
    mortar = at.scene.topics == ["mortar"] and not at.scene.tagged("dim") and "wall" not in at.scene.nouns
    loaded = mortar or "bearing" in at.scene.topics or _one_or_the_other(at)
    if not loaded or at.size.unit or not at.size.decimal or not known:
        return False
    if at.near is not None and at.near.tagged("noun", "wall"):
        return False
    put(at.scene, "block", "strength", plain(at.size, "N/mm²"), at.item)
    because = f"'{at.item.text}' was taken as the block strength in N/mm²."
    at.scene.assume("block", "N/mm²", because)
    return True
