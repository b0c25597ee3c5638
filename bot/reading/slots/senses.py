"""Words with two senses: inside, solid, gable, plasticiser."""

from __future__ import annotations

from bot.reading.items import Item
from bot.reading.scene import Scene


def inside_of(scene: Scene, i: int) -> bool:
    """'inside the gap' is no place of a wall."""
    j = scene.right(i)
    near = scene.at(j)
    return near is not None and (
        near.tagged("noun", "joint") or near.tagged("noun", "cavity") or near.says("place.no_place_inside")
    )


def leafy(scene: Scene, i: int) -> bool:
    """'inside leaf' is no place of a wall."""
    near = scene.at(i + 1)
    return near is not None and near.tagged("slot", "leaf")


def solid_wall(scene: Scene, i: int) -> bool:
    """'a solid 8m of wall' and 'solid blocks' are no single leaf."""
    j = i + 1
    while (item := scene.at(j)) is not None and j < i + 5:
        if item.kind == "measure" and (
            item.size.unit == "mm"
            or (not item.size.unit and item.size.value >= scene.sense.block_thickness_told)
        ):
            j += 1
            continue
        if item.tagged("slot", "material") and not item.low.endswith(("blocks", "block", "bricks")):
            j += 1
            continue
        if item.tagged("noun", "wall") or item.tagged("slot", "place"):
            return True
        if item.kind != "phrase" or item.says("block.block"):
            return False
        j += 1
    return False


def is_triangle(scene: Scene, item: Item) -> bool:
    """A gable is a triangle where amounts are asked and nothing says it has an eaves height."""
    if item.tagged("slot", "place") and item.low == "gable end":
        return False
    return bool(scene.says("shape.triangle"))


def said_used(scene: Scene, i: int) -> bool:
    """'6:1 with plasticiser' says it; 'do I need plasticiser' asks it."""
    if scene.negated(i):
        return True
    if "mix" in scene.heard.slots and not scene.says("plasticiser.asked"):
        return True
    item, before, two = scene.items[i], scene.at(i - 1), scene.at(i - 2)
    if item.says("plasticiser.said"):
        return True
    added = any(x is not None and x.says("plasticiser.added") for x in (before, two))
    return added and "mix" in scene.heard.slots


def has_outer(scene: Scene) -> bool:
    """Whether an outer leaf or a cavity is spoken of."""
    return scene.tagged("slot", "leaf", "outer") or scene.tagged("slot", "leaf", "cavity")
