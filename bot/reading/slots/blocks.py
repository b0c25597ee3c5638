"""A number at blocks: a thickness or a count."""

from __future__ import annotations

from bot.reading.items import Item
from bot.reading.scene import Scene, plain
from bot.reading.slots.put import put
from bot.reading.units import candidates


def block_number(scene: Scene, i: int, item: Item, near: Item) -> bool:
    """'100 aircrete' is a thickness, '60 blocks left' a count; '100 blocks' by what is said around it."""
    size = item.size
    text = near.low
    plural = (
        text.endswith(("s", "bricks", "blocks"))
        and near.tagged("noun", "block") is True
        and not near.says("block.no_plural")
    )
    strong_count = size.whole and (
        item.tagged("count") or size.value not in scene.region.known.get("thickness", ())
    )
    if (
        any(scene.items[k].tagged("ask") for k in range(max(0, i - 1), i))
        and plural
        and size.value not in scene.region.known.get("thickness", ())
    ):
        return False
    if (
        size.whole
        and not plural
        and size.value not in scene.region.known.get("thickness", ())
        and size.value >= 10
        and near.tagged("noun", "block")
        and near.says("block.single")
    ):
        scene.claim("block_count", int(size.value), item)
        return True
    if plural and size.whole:
        handy = any(x.says("block.count_before") for x in scene.items[max(0, i - 3) : i])
        left = any(x.says("block.count_behind") for x in scene.items[i + 1 : i + 6])
        if strong_count or handy or left:
            scene.claim("block_count", int(size.value), item)
            return True
        if (
            size.value in scene.region.known.get("thickness", ())
            and ("blocks" in scene.topics or "mortar" in scene.topics)
            and not any(
                x.kind == "dims"
                or (x.kind == "measure" and x is not item and x.size.unit in {"m", "m²", "ft"})
                for x in scene.items
            )
        ):
            scene.claim("block_count", int(size.value), item)
            return True
    if scene.at(i + 1) is not None and scene.items[i + 1].low == "of":
        return False
    if size.value in scene.region.known.get("thickness", ()) or (size.decimal and size.value < 0.5):
        found = list(candidates(scene, size, "unit"))
        if len(found) == 1:
            tall = near.says("block.block_or_brick") and any(
                x.tagged("wants", "blocks", "course_count") for x in scene.items
            )
            put(scene, "block", "height" if tall else "thickness", found[0], item)
            return True
    if scene.feet and size.value in {4, 6, 8, 10, 12}:
        put(scene, "block", "thickness", plain(size, "in"), item)
        scene.assume("block", "in", f"'{item.text}' was taken as inches.")
        return True
    return False
