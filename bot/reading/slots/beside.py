"""A number without a unit, with what stands before and behind it."""

from __future__ import annotations

from dataclasses import dataclass
from typing import Any

from bot.reading.items import Item, Measure
from bot.reading.scene import Scene, plain
from bot.reading.slots.put import put


@dataclass(frozen=True)
class Beside:
    """`near` is the item behind it, over adjectives and strengths, `before` the one before it."""

    scene: Scene
    i: int
    item: Item
    behind: int | None
    near: Item | None
    before_at: int | None
    before: Item | None

    @property
    def size(self) -> Measure:
        """The number."""
        return self.item.size

    def known(self, what: str) -> bool:
        """Whether the region knows this number as a thickness, or a strength, of blocks."""
        known = self.size.value in self.scene.region.known.get(what, ())
        light = what == "strength" and self.near is not None and self.near.tagged("slot", "material", "aac")
        return known and not (light and self.size.value > self.scene.sense.aircrete_strongest)

    def claim(self, slot: str, value: Any) -> bool:
        """Fill a slot with it."""
        self.scene.claim(slot, value, self.item)
        return True

    def aside(self, why: str) -> bool:
        """Set it aside."""
        self.scene.aside(self.item, why)
        return True

    def thick(self) -> bool:
        """Take it as the thickness of the block, and say so."""
        put(self.scene, "block", "thickness", plain(self.size, "mm"), self.item)
        because = f"'{self.item.text}' was taken as a thickness of {self.size.value:g} mm."
        self.scene.assume("block", "mm", because)
        return True

    def strong(self) -> bool:
        """Take it as the strength of the block, and say so."""
        put(self.scene, "block", "strength", plain(self.size, "N/mm²"), self.item)
        because = f"'{self.item.text}' was taken as the block strength in N/mm²."
        self.scene.assume("block", "N/mm²", because)
        return True


def look_beside(scene: Scene, i: int, item: Item) -> Beside:
    """What stands beside the number at i."""
    behind = scene.right(i, over="over.before_noun")
    near = scene.at(behind)
    while near is not None and near.kind == "measure" and near.size.unit == "N/mm²" and behind is not None:
        behind = scene.right(behind)
        near = scene.at(behind)
    before_at = scene.left(i)
    return Beside(scene, i, item, behind, near, before_at, scene.at(before_at))


def spaced(scene: Scene, i: int) -> bool:
    """'every 6m', '600 c/c', '@ 900 centres'."""
    if scene.topics == ["boards"]:
        return False  # 'dab spacing 12.5 board'
    if not (scene.tagged("dim", "spacing") or scene.says("spacing.every") or scene.says("spacing.of")):
        return False
    after, before = scene.at(i + 1), scene.at(i - 1)
    near = scene.at(scene.right(i))
    at = i - 1
    if before is not None and before.says("spacing.between"):
        at, before = i - 2, scene.at(i - 2)
    ahead = scene.at(at - 1)
    if ahead is not None and ahead.tagged("ask"):  # 'what spacing 12 m'
        return False
    if (near is not None and near.tagged("noun", "wall")) or (
        near is not None and near.tagged("slot", "material")
    ):
        return False
    of, two = after, scene.at(i + 2)
    small = scene.items[i].size.unit in {"", "mm", "cm", "in"}
    if small and of is not None and two is not None and of.tagged("topic") and two.tagged("dim", "spacing"):
        return not (of.tagged("noun", "block") or of.tagged("noun", "coat"))  # '12" reinforcement spacing'
    return (after is not None and after.tagged("dim", "spacing")) or (
        before is not None
        and ((before.says("spacing.every") and before.tagged("wants")) or before.says("spacing.of"))
    )
