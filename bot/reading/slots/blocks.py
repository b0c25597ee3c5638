"""A number at blocks: a thickness or a count."""

from __future__ import annotations

from bot.reading.items import Item
from bot.reading.scene import Scene, plain
from bot.reading.slots.put import put
from bot.reading.units import candidates

IN_INCHES = {4, 6, 8, 10, 12}  # thicknesses where feet are spoken


def block_number(scene: Scene, i: int, item: Item, near: Item) -> bool:
    """'100 aircrete' is a thickness, '60 blocks left' a count; '100 blocks' by what is said around it."""
    thick = item.size.value in scene.region.known.get("thickness", ())
    if any(x.says("block.rate") for x in scene.items[i + 1 : i + 5]):
        scene.aside(item, "a rate of work")
        return True
    plural = near.low.endswith("s") and near.tagged("noun", "block") and not near.says("block.no_plural")
    before = scene.at(i - 1)
    if plural and not thick and before is not None and before.tagged("ask"):
        faces = scene.region.known.get("face", ())
        if item.size.value in {face[0] for face in faces}:  # 'how many 440 blocks'
            put(scene, "block", "length", plain(item.size, "mm"), item)
            scene.assume("block", "mm", f"'{item.text}' was taken as the length of the block.")
            return True
        return False
    if item.size.whole and _is_count(scene, i, near, plural, thick):
        scene.claim("block_count", int(item.size.value), item)
        return True
    after = scene.at(i + 1)
    if after is not None and after.low == "of":
        return False
    return _thickness(scene, item, near, thick)


def _is_count(scene: Scene, i: int, near: Item, plural: bool, thick: bool) -> bool:
    items, item = scene.items, scene.items[i]
    if not plural:
        return (
            not thick and item.size.value >= 10 and near.tagged("noun", "block") and near.says("block.single")
        )
    if item.tagged("count") or not thick:
        return True
    if any(x.says("block.count_before") for x in items[max(0, i - 3) : i]):
        return True
    if any(x.says("block.count_behind") for x in items[i + 1 : i + 6]):
        return True
    sized = any(
        x.kind == "dims" or (x.kind == "measure" and x is not item and x.size.unit in {"m", "m²", "ft"})
        for x in items
    )
    return ("blocks" in scene.topics or "mortar" in scene.topics) and not sized


def _thickness(scene: Scene, item: Item, near: Item, thick: bool) -> bool:
    """A thickness; the height of a block where courses are asked."""
    size = item.size
    if thick or (size.decimal and size.value < 0.5):
        found = candidates(scene, size, "unit")
        if len(found) == 1:
            courses = any(x.tagged("wants", "blocks", "course_count") for x in scene.items)
            tall = courses and near.says("block.block_or_brick")
            put(scene, "block", "height" if tall else "thickness", found[0], item)
            return True
    if scene.feet and size.value in IN_INCHES:
        put(scene, "block", "thickness", plain(size, "in"), item)
        scene.assume("block", "in", f"'{item.text}' was taken as inches.")
        return True
    return False
