"""Bags and buckets of what."""

from __future__ import annotations

import re

from bot.reading.items import Item
from bot.reading.scene import Scene

OF = ("cement", "lime", "sand", "adhesive")


def counted_of(scene: Scene, i: int, behind: int, slot: str, item: Item) -> None:
    """Bags or buckets, of what is named behind or before them; of cement where nothing is."""
    if scene.items[behind].low.startswith(scene.words.cue["pack.large_begins"]):
        scene.aside(item, "large bags, and not how much is in one")
        return
    of = next((o for o in OF if scene.items[behind].tagged("noun", o)), None)
    ahead = scene.at(i - 1)
    if of is None and ahead is not None and ahead.says("mix.glue"):  # 'glue 50 bags'
        scene.aside(item, "bags of adhesive: the bag says how much wall each covers")
        return
    j = scene.right(behind)
    near = scene.at(j)
    if near is not None and near.tagged("noun", "coat") and j == behind + 1:  # '60 bags render'
        scene.aside(item, "bags of ready-mixed render: I count those of cement and lime")
        return
    if near is not None and of is None:
        of = next((o for o in OF if near.tagged("noun", o)), None)
    if of is None:
        before = scene.at(scene.left(i))
        if before is not None:
            of = next((o for o in OF if before.tagged("noun", o)), None)
    scene.claim(slot, {"count": item.size.value, "of": of or "cement"}, item)
    if of is None:
        scene.assume(slot, "cement", f"'{item.text} {scene.items[behind].text}' was taken as cement.")


ONE_BAG = re.compile(
    r"\b(?:per|to an?|for an?|to each|for each|to one|for one|with an?|one) bag\b", re.IGNORECASE
)
