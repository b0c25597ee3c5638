"""A number at blocks: a thickness or a count."""

from __future__ import annotations

from typing import Any

from bot.reading.items import Item
from bot.reading.scene import Scene, plain
from bot.reading.slots.put import put
from bot.reading.slots.word_order import names_behind
from bot.reading.units import candidates

IN_INCHES = {4, 6, 8, 10, 12}  # thicknesses where feet are spoken


def block_number(scene: Scene, i: int, item: Item, near: Item) -> bool:
    """'100 aircrete' is a thickness, '60 blocks left' a count; '100 blocks' by what is said around it."""
    thick = item.size.value in scene.region.known.get("thickness", ())
    rate = any(x.says("block.rate") for x in scene.items[i + 1 : i + 5])
    one = thick and near.says("block.single")  # 'how high can i lift 140 block in a day'
    if rate and not one and scene.tagged("wants", "blocks", "area") and item.size.whole:
        scene.claim("block_count", int(item.size.value), item)  # 'got 200 blocks, how many m2 is that'
        return True
    if rate and not one:
        scene.aside(item, "a rate of work")
        return True
    crossed = scene.at(i - 1)
    if crossed is not None and crossed.low == "x" and crossed.end == item.start and item.size.whole:
        many = int(item.size.value)  # '4.5 m x3 blocks'
        choices: list[tuple[str, dict[str, Any]]] = [(f"{many} walls like that", {"walls": many})]
        choices.append((f"{many} blocks in hand", {"block_count": many}))
        scene.doubt("walls", f"x{many}: so many walls, or so many blocks?", choices, item)
        return True
    if near.tagged("wants", "blocks", "shortfall") and item.size.whole:  # 'is 300 blocks enough'
        scene.claim("block_count", int(item.size.value), item)
        return True
    plural = (
        (
            any(word.endswith("s") for word in (near.low, near.low.split()[0]))
            or near.says("block.also_plural")
        )
        and near.tagged("noun", "block")
        and not near.says("block.no_plural")
    )
    before = scene.at(i - 1)
    asked = before is not None and before.tagged("ask")
    if plural and not thick and item.size.value in {f[0] for f in scene.region.known.get("face", ())}:
        two = scene.at(i - 2)
        of_area = before is not None and before.says("walls.number_of") and two is not None
        if asked or (
            of_area and two is not None and two.kind == "measure" and two.size.unit in {"m²", "ft²"}
        ):
            put(scene, "block", "length", plain(item.size, "mm"), item)
            scene.assume("block", "mm", f"'{item.text}' was taken as the length of the block.")
            return True
        weak = before is not None and before.says("block.count_weak")  # '10 m with 440 blocks'
        weak = weak and not any(x.says("block.count_behind") for x in scene.items[i + 1 : i + 6])
        if _sized(scene, item) and not item.tagged("count") and (weak or not _counted(scene, i)):
            _count_or_length(scene, item)
            return True
    if plural and not thick and asked and not (before and before.tagged("ask", "can")):
        return False
    if item.size.whole and _is_count(scene, i, near, plural, thick):
        scene.claim("block_count", int(item.size.value), item)
        return True
    after = scene.at(i + 1)
    if after is not None and after.low == "of":
        return False
    return _thickness(scene, item, near, thick)


def _is_count(scene: Scene, i: int, near: Item, plural: bool, thick: bool) -> bool:
    item = scene.items[i]
    if item.tagged("count") and near.tagged("noun", "block"):  # '500 nos. AAC'
        return True
    if i and names_behind(scene, i - 1):  # 'height 2.4 length 6 blocks'
        return False
    if not plural:
        return (
            not thick
            and item.size.value >= scene.sense.blocks_fewest
            and near.tagged("noun", "block")
            and near.says("block.single")
        )
    if item.tagged("count") or not thick:
        return True
    if any(x.why == "a price" for x in scene.items[i + 1 : i + 4]):  # '300 blocks cost £540'
        return True
    of_size = _sized(scene, item) and i > 0 and scene.items[i - 1].says("walls.number_of")
    if of_size:  # '10 m² of 140 blocks'
        return False
    before = scene.at(i - 1)
    heap = scene.tagged("wants", "blocks", "length")  # 'how long is a wall with 230 blocks'
    weak = before is not None and before.says("block.laid_with") and not heap
    if weak and scene.in_force and not any(x.says("block.count_behind") for x in scene.items[i + 1 : i + 6]):
        return False
    if _counted(scene, i) or _triple(scene):
        return True
    if before is not None and before.tagged("ask", "can") and i == 1:
        return True  # 'is 250 blocks ...': asked whether they are enough
    if before is not None and before.says("block.told_before"):
        return False  # 'its 140 dense blocks': what they are
    return ("blocks" in scene.topics or "mortar" in scene.topics) and not _sized(scene, item)


def _counted(scene: Scene, i: int) -> bool:
    """Whether words near the number say that it counts: 'got 60 blocks', '60 blocks left'."""
    before, behind = scene.items[max(0, i - 3) : i], scene.items[i + 1 : i + 6]
    return any(x.says("block.count_before") for x in before) or any(
        x.says("block.count_behind") for x in behind
    )


def _triple(scene: Scene) -> bool:
    """Whether the block is told by three sizes, so that one more number counts."""
    return any(x.kind == "dims" and len(x.sizes) == 3 for x in scene.items)


def _sized(scene: Scene, item: Item) -> bool:
    """Whether a wall has its own size in the message."""
    return any(
        x.kind == "dims"
        or (
            x.kind == "measure"
            and x is not item
            and (x.size.unit in {"m", "m²", "ft"} or (x.size.decimal and not x.size.unit))
        )
        for x in scene.items
    )


def _count_or_length(scene: Scene, item: Item) -> None:
    """'440 blocks in 12 m': their number, or the size that they are called by?"""
    length = plain(item.size, "mm")
    choices: list[tuple[str, dict[str, Any]]] = [
        (
            f"Blocks {length['value']:g} mm long",
            {"block": {**scene.heard.slots.get("block", {}), "length": length}},
        ),
        (f"{item.text} of them", {"block_count": int(item.size.value)}),
    ]
    scene.doubt("block_count", f"Is {item.text} the length of the blocks, or how many?", choices, item)


def _thickness(scene: Scene, item: Item, near: Item, thick: bool) -> bool:
    """A thickness; the height of a block where courses are asked."""
    size = item.size
    if thick or (size.decimal and size.value < 0.5):
        found = candidates(scene, size, "unit")
        if len(found) == 1:
            courses = scene.tagged("wants", "blocks", "course_count")
            tall = courses and near.says("block.block_or_brick")
            put(scene, "block", "height" if tall else "thickness", found[0], item)
            return True
    if (scene.feet or scene.inches) and size.value in IN_INCHES:
        put(scene, "block", "thickness", plain(size, "in"), item)
        scene.assume("block", "in", f"'{item.text}' was taken as inches.")
        return True
    return False
