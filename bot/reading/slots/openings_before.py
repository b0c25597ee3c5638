"""Count and sizes that stand before the noun of an opening."""

from __future__ import annotations

from typing import Any

from bot.reading.items import Item
from bot.reading.scene import Scene
from bot.reading.slots.opening_sizes import (
    fits,
    fits_one,
    fits_wall,
    kind_of,
    place_behind,
    set_one,
    set_pair,
)
from knowledge.units import convert


def _adjective(item: Item) -> bool:
    """What may stand between a size and its noun: '1200 wide window', '900 fire door', 'big timber door'."""
    if item.kind == "mark":
        return item.text in {"-", "'"}
    if item.says("openings.away"):
        return False  # '600 from window': no width of it
    if item.kind == "word":
        return not item.says("openings.breaks")
    return (
        item.kind == "phrase"
        and not item.tagged("connect", "and")
        and not item.tagged("topic")
        and not item.tagged("not")
        and not item.tagged("noun", "wall")
        and not item.says("openings.breaks")
        and not item.tagged("dim", "at")
        and not item.tagged("correct")
        and not item.tagged("slot")
        and not item.tagged("ask")
    ) or item.tagged("dim", "square")


def sizes_before(scene: Scene, i: int, floor: int, opening: dict[str, Any], spans: list[Item]) -> bool:
    """Count and sizes that stand before the noun. True where a size was said."""
    items, bare = scene.items, scene.sense.millimetres_from
    j = i - 1
    sized = False
    word: str | None = None
    right = _sized_right(scene, i)
    crossed = False
    while j >= floor:
        item = items[j]
        if scene.owners.get(j, i) != i:
            return sized
        if item.kind in {"measure", "dims"} and not item.used:
            if item.kind == "dims":
                sizes = item.sizes
                if (
                    len(sizes) in {2, 3}
                    and sizes[0].whole
                    and sizes[0].value <= scene.sense.openings_crossed_most
                    and not sizes[0].unit
                    and (
                        len(sizes) == 3
                        or ((not right and any(v >= bare for v in sizes[1].values)) or sizes[1].unit)
                    )
                    and not crossed
                ):  # 2 x 1200 x 1050 windows, 3 x 900 doors
                    opening["count"] = int(sizes[0].value)
                    if len(sizes) == 3:
                        set_pair(scene, item, opening, spans, item.sizes[1:])
                    else:
                        set_one(scene, item, opening, spans, "width", item.sizes[1])
                    return True
                if right or sized or crossed or len(sizes) != 2:
                    return sized
                if not fits(scene, item):
                    return sized
                set_pair(scene, item, opening, spans, item.sizes)
                sized = True
            elif (
                item.size.whole
                and item.size.value < scene.sense.openings_most
                and (item.tagged("count") or j == i - 1 or sized or crossed or word is None)
                and _count_here(scene, j, i)
            ):
                opening["count"] = int(item.size.value)
                item.used = "openings"
                spans.append(item)
                return True if sized else sized
            elif (
                not sized
                and (not right or _other_side_right(scene, i, word))
                and not crossed
                and (word is not None or item.size.unit or item.size.value >= bare or item.size.decimal)
            ):
                if not fits_one(scene, item) or (word == "height" and _height_of_wall(scene, j, i)):
                    return sized
                if any(x.tagged("dim", "square") for x in items[j + 1 : i]):
                    both = set_one(scene, item, opening, spans, "width", item.size)
                    if both:
                        opening["height"] = dict(opening["width"])
                elif items[j + 1 : i] and word == "sill":
                    return sized
                else:
                    set_one(
                        scene,
                        item,
                        opening,
                        spans,
                        word if word in {"width", "height"} else "width",
                        item.size,
                    )
                sized = True
                word = None
            else:
                return sized
            j -= 1
            continue
        if item.says("openings.one"):
            return sized
        dim = item.tag("dim")
        if (
            dim
            and dim[1] in {"width", "height"}
            and item.kind == "phrase"
            and not item.says("openings.letter")
        ):
            word = dim[1]
            nxt = scene.at(j - 1)
            if nxt is None or nxt.kind != "measure":
                return sized
            if sized:
                if nxt.used or word in opening or right:
                    return sized
                if word == "height" and _height_of_wall(scene, j - 1, i):
                    return sized
                set_one(scene, nxt, opening, spans, word, nxt.size)
                word, j = None, j - 2
                continue
        elif item.low == "x" or (item.kind == "mark" and item.text in {"*", "."}):
            crossed = crossed or item.low == "x"
        elif not _adjective(item):
            return sized
        j -= 1
    return sized


def _count_here(scene: Scene, j: int, i: int) -> bool:
    """Whether the whole number at j counts the noun at i: only its own size and adjectives stand between."""
    before = scene.at(j - 1)
    if before is not None and before.tagged("aside", "before") and scene.items[j].size.value > 20:
        return False
    return all(
        not x.tagged("noun", "wall") and not (x.kind == "mark" and x.text in STOPS_HERE)
        for x in scene.items[j + 1 : i]
    )


def _height_of_wall(scene: Scene, j: int, i: int) -> bool:
    """'6 m wall 2.4 high window in the middle': right behind the wall's length, with nothing to part it."""
    ahead, further = scene.at(j - 1), scene.at(j - 2)
    if ahead is None or sum(x.tagged("dim", "height") for x in scene.items) > 1:
        return False
    if ahead.tagged("noun", "wall") or ahead.tagged("dim", "length"):
        ahead = further
    if ahead is None or ahead.kind != "measure" or scene.items[j].before:
        return False
    size = scene.items[j].size
    metres = convert(size.value, size.unit or "m", "m")
    return (
        _sized_right(scene, i) or metres > scene.sense.door_mostly_high or kind_of(scene.items[i]) != "door"
    )


def _other_side_right(scene: Scene, i: int, word: str | None) -> bool:
    """'with a 1.2 high window 1.8 wide': one side stands before the noun, the other behind it."""
    size, side = scene.at(i + 1), scene.at(i + 2)
    if size is None or side is None or size.kind != "measure" or word not in {"width", "height", None}:
        return False
    if word is None:  # '1010 door 2100 high'
        return side.tagged("dim", "height") and not any(x.tagged("dim", "width") for x in scene.items[i:])
    if any(x.tagged("dim", word) for x in scene.items[i + 1 : i + 6]):
        return False  # 'window 1.2 wide 1.05 high': both stand behind it
    return side.tagged("dim", "width" if word == "height" else "height")


def _sized_right(scene: Scene, i: int) -> bool:
    """Whether a size stands directly behind the noun and belongs to it."""
    items = scene.items
    if i in scene.owners.values():
        return any(size > i for size, noun in scene.owners.items() if noun == i)
    j = scene.right(i, over="over.before_size")
    behind = scene.at(i + 1)
    if behind is not None and behind.tagged("dim", "at"):
        return False  # '2.4 window at 3m': a place
    if j is None or items[j].kind not in {"dims", "measure"} or items[j].used:
        return False
    if (
        items[j].kind == "measure"
        and items[j].size.whole
        and items[j].size.value < scene.sense.openings_most
        and not items[j].size.unit
    ):
        nxt = scene.at(j + 1)
        return nxt is not None and nxt.tagged("dim")
    k = scene.right(j)
    if k is not None and (items[k].tagged("noun", "wall") or kind_of(items[k])) and items[j].kind == "dims":
        return False
    if items[j].kind == "measure":
        return (k is None or not items[k].tagged("noun", "wall")) and place_behind(scene, j) is None
    return fits(scene, items[j]) or not fits_wall(scene, items[j])


STOPS_HERE = {",", ".", "?", ";", "/"}
