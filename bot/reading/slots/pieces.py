"""Pairs and triples that belong to a roll, a board, a padstone or a block."""

from __future__ import annotations

from typing import Any

from bot.reading.items import Item
from bot.reading.scene import Scene, plain, show
from bot.reading.slots.block_sizes import block_sizes, is_face, wallish
from bot.reading.slots.put import put
from bot.reading.units import LENGTH, believable, pair
from knowledge.units import convert, kind

REACH = 5  # items from a thing to the size that is told of it
BOARD_SIDE = {"width": "width", "length": "height", "height": "height"}


def take_pieces(scene: Scene, i: int, item: Item) -> None:
    """Each kind of piece in turn, by the noun behind or before."""
    behind = scene.right(i, over="over.before_block")
    near = scene.at(behind)
    while near is not None and near.kind == "measure" and near.size.unit == "N/mm²" and behind is not None:
        behind = scene.right(behind)
        near = scene.at(behind)
    before = scene.at(scene.left(i, over="over.behind_block"))
    beside = [x for x in (near, before) if x is not None]
    sizes = item.sizes
    if len(sizes) == 2 and sizes[0].whole and sizes[0].value <= 20 and sizes[1].unit == "m²":
        return
    if "bearing" in scene.topics and before is not None and before.says("bearing.beam") and len(sizes) == 2:
        scene.aside(item, "the section of the beam")
        return
    if _roll(scene, item, beside) or _board_of_topic(scene, item) or _board(scene, item, beside, before):
        return
    walled = near is not None and near.tagged("noun", "wall") and not near.tagged("noun", "block")
    if _padstone(scene, item, beside) or (not walled and _of_ties(scene, item)):
        return
    block = any(x.tagged("noun", "block") or x.tagged("slot", "material") for x in beside)
    if block or len(sizes) == 3 or (is_face(scene, item) and not walled):
        block_sizes(scene, item)
        if item.used:  # '14 6 by 8 ft blocks': no face of a block, and no 14 of them
            _count(scene, i, near)


def _count(scene: Scene, i: int, near: Item | None) -> None:
    """'100 8x8x16 block': how many of them."""
    before = scene.at(scene.left(i, over="touching.count"))
    counted = before is not None and before.kind == "measure" and before.size.whole and not before.used
    if (
        counted
        and before is not None
        and before.size.value >= scene.sense.blocks_fewest
        and near is not None
        and near.tagged("noun", "block")
    ):
        scene.claim("block_count", int(before.size.value), before)


def wide_board(scene: Scene, i: int, item: Item) -> bool:
    """'900 wide boards', '2.4 m long boards': one side of the board, where a board is as wide or as long."""
    if not scene.tagged("noun", "board") and "boards" not in scene.in_force:
        return False
    dim, board = scene.at(i + 1), scene.at(i + 2)
    side = next((s for d, s in BOARD_SIDE.items() if dim is not None and dim.tagged("dim", d)), None)
    ones = "boards" in scene.in_force and board is not None and board.says("again.ones")
    if side is None or board is None or not (ones or board.tagged("noun", "board")):
        return False
    size = plain(item.size, item.size.unit or "mm")
    if not believable(scene, size, "board"):
        return False
    put(scene, "board", side, size, item)
    return True


def of_a_roll(scene: Scene, i: int, item: Item) -> bool:
    """'rolls here are 50m', 'rolls are only 25m long', 'rolls 1.2 wide': a side of the roll."""
    if not scene.tagged("noun", "roll") or (item.size.unit and kind(item.size.unit) != LENGTH):
        return False
    ahead = scene.items[max(0, i - REACH) : i]
    at = next((n for n, x in enumerate(ahead) if x.tagged("noun", "roll")), None)
    behind = scene.at(i + 1)
    if at is None and item.size.unit and behind is not None and behind.tagged("noun", "roll"):
        return _wide_rolls(scene, item)
    if at is None or any(x.kind != "word" and not _joins(x) for x in ahead[at + 1 :]):
        return False
    dim, unit = scene.at(i + 1), item.size.unit or "m"
    wide = dim is not None and dim.tagged("dim", "width")
    long = dim is not None and dim.tagged("dim", "length")
    narrow, widest = scene.sense.roll_width
    metres = convert(item.size.value, unit, "m")
    if long or (not wide and metres >= scene.sense.roll_longest_from):
        put(scene, "roll", "length", plain(item.size, unit), item)
    elif narrow <= metres <= widest:
        put(scene, "roll", "width", plain(item.size, unit), item)
    else:
        return False
    return True


def _wide_rolls(scene: Scene, item: Item) -> bool:
    """'1m rolls of 50': so wide, where no roll is so short."""
    narrow, widest = scene.sense.roll_width
    if "mesh" not in scene.topics or not narrow <= convert(item.size.value, item.size.unit, "m") <= widest:
        return False
    put(scene, "roll", "width", plain(item.size, item.size.unit), item)
    return True


def _joins(item: Item) -> bool:
    """'are', 'only', 'at': what may stand between a thing and its size."""
    return item.kind == "phrase" and not item.tagged("noun") and not item.tagged("dim", "total")


def _roll(scene: Scene, item: Item, beside: list[Item]) -> bool:
    """'1 x 50 roll', or a pair of its shape where mesh is the topic."""
    sizes = item.sizes
    if len(sizes) != 2 or any(s.unit and kind(s.unit) != LENGTH for s in sizes):
        return False
    long = any(s.value >= scene.sense.roll_longest_from and s.unit in {"", "m"} for s in sizes)
    narrow, wide = scene.sense.roll_width
    shaped = "mesh" in scene.topics and long and any(narrow <= s.value <= wide for s in sizes)
    if not shaped and not any(x.tagged("noun", "roll") for x in beside):
        return False
    if not long and all(s.unit in {"", "m"} and s.value > wide for s in sizes):  # 'rolls of mesh 8 x 2.4'
        return False
    length, width = sorted(sizes, key=lambda s: -s.value)
    unit = next((s.unit for s in sizes if s.unit), "ft" if scene.feet else "m")
    roll = {"length": plain(length, length.unit or unit), "width": plain(width, width.unit or unit)}
    scene.claim("roll", roll, item)
    return True


def _board_of_topic(scene: Scene, item: Item) -> bool:
    """'1200x2400' where boards are the topic and the wall has sizes of its own."""
    sizes, slots = item.sizes, scene.heard.slots
    if "boards" not in scene.topics or len(sizes) != 2 or "board" in slots:
        return False
    least, most = scene.sense.board_sides
    metres = all(s.unit in {"", "m"} and s.value <= scene.sense.metres_most for s in sizes)
    wide = [1000 * s.value if metres else s.value for s in sizes]
    bare = metres or all(s.unit in {"", "mm"} and not s.decimal for s in sizes)
    if not bare or not all(least <= side <= most for side in wide):
        return False
    if metres and (scene.feet or min(wide) > scene.sense.board_wide or max(wide) < scene.sense.board_long):
        return False  # '2.4 x 1.2' is a board, '2.4 x 2.4' a wall
    others = [x for x in scene.items if x is not item]
    sized = any(x.kind == "dims" or (x.kind == "measure" and x.size.unit in {"m", "m²"}) for x in others)
    told = "boards" in scene.in_force and not scene.tagged("noun", "wall")  # the wall was told before
    if "area" not in slots and not sized and not told:
        return False
    unit = "m" if metres else "mm"
    width, height = sorted((plain(s, unit) for s in sizes), key=lambda q: q["value"])
    board = {"width": width, "height": height}
    for x in others:
        if (
            x.kind == "measure"
            and not x.used
            and x.size.unit == "mm"
            and x.size.value <= scene.sense.board_thickest
        ):
            scene.claim("board", {**board, "thickness": plain(x.size, "mm")}, item, x)
            return True
    scene.claim("board", board, item)
    return True


def _board(scene: Scene, item: Item, beside: list[Item], before: Item | None) -> bool:
    """'8x4 sheets', '1.2 x 2.4 boards'."""
    sizes = item.sizes
    if len(sizes) not in {2, 3} or "blocks" in scene.topics:
        return False
    named = any(x.tagged("noun", "board") for x in beside)
    if not named and not any(x.says("boards.behind") and x is not before for x in beside):
        return False
    found: list[tuple[dict[str, Any], ...]] = pair(scene, sizes[:2], "board")
    two = sorted(s.value for s in sizes[:2])
    by_the_foot = two[1] in scene.sense.board_feet_long and two[0] in scene.sense.board_feet_wide
    if not sizes[0].unit and not sizes[1].unit and by_the_foot:
        found = [tuple(plain(s, "ft") for s in sizes[:2])]
        scene.assume("board", "ft", f"'{item.text}' was taken as feet.")
    if not found:
        return False
    of_board = before is not None and before.tagged("noun", "board")
    metres = all(q["unit"] == "m" and q["value"] <= scene.sense.board_longest for q in found[0])
    if wallish(item) and not (of_board and metres):
        return False
    width, height = sorted(found[0], key=lambda q: q["value"])
    board = {"width": width, "height": height}
    if len(sizes) == 3:
        board["thickness"] = plain(sizes[2], sizes[2].unit or "mm")
    scene.claim("board", board, item)
    return True


def _of_ties(scene: Scene, item: Item) -> bool:
    """'ties at 900 x 450': the wider goes along the wall, and that is said."""
    sizes = item.sizes
    if "ties" not in scene.topics or len(sizes) != 2 or "spacing" in scene.heard.slots or wallish(item):
        return False
    found = [x for x in pair(scene, sizes, "plate") if len(x) == 2]
    if len(found) != 1 or any(c["unit"] not in {"mm", "cm", "in"} for c in found[0]):
        return False
    up, along = sorted(found[0], key=lambda q: q["value"])
    scene.claim("spacing", along, item)
    scene.claim("spacing_up", up, item)
    scene.assume("spacing", show(along), f"{show(along)} along the wall and {show(up)} up it.")
    return True


def _padstone(scene: Scene, item: Item, beside: list[Item]) -> bool:
    """'440 x 140 x 215 padstone', or small sizes where a bearing is the topic."""
    sizes = item.sizes
    small = all(not s.unit or s.unit in {"mm", "in"} for s in sizes) and not wallish(item)
    topic = "bearing" in scene.topics and small and not any(x.tagged("noun", "block") for x in beside)
    if not topic and not any(x.tagged("noun", "padstone") for x in beside):
        return False
    bare = (
        "in"
        if (scene.feet or scene.inches) and max(s.value for s in sizes) < scene.sense.plate_inches
        else "mm"
    )
    unit = next((s.unit for s in sizes if s.unit), bare)
    names = ("length", "width", "height")
    padstone = {name: plain(s, s.unit or unit) for name, s in zip(names, sizes, strict=False)}
    scene.claim("padstone", padstone, item)
    return True
