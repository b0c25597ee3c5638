"""Sizes and places that stand behind the noun of an opening."""

from __future__ import annotations

from typing import Any

from bot.reading.items import Item
from bot.reading.scene import Scene
from bot.reading.slots.opening_edges import edge_told, from_to
from bot.reading.slots.opening_sizes import (
    fits,
    fits_one,
    kind_of_raw,
    owner_right,
    place_behind,
    reaches_past,
    set_one,
    set_pair,
)
from bot.reading.slots.word_order import names_behind
from knowledge.units import kind


def sizes_behind(
    scene: Scene, i: int, stop: int, opening: dict[str, Any], spans: list[Item], sized: bool
) -> None:
    """Attributes behind the noun, up to the next thing spoken of."""
    items = scene.items
    j = i + 1
    comma = False
    while j < stop:
        item = items[j]
        if item.kind == "mark" and item.text in {".", "?", ";", "\n", "!"}:
            nxt = scene.at(j + 1)
            sizes = nxt is not None and nxt.kind == "dims" and not sized and fits(scene, nxt)
            if item.text == "." and sizes:
                j += 1
                continue
            return
        if item.kind == "mark" and item.text == ",":
            comma = True
        if item.tagged("noun", "wall") and item.kind == "phrase" and not item.tagged("dim"):
            return
        if (
            item.tagged("topic")
            and item.kind == "phrase"
            and not item.tagged("wants")
            and any(items[k].kind in {"measure", "dims"} and not items[k].used for k in range(j, stop))
        ) and not item.tagged("dim"):
            return
        if (
            item.tagged("noun", "block")
            or item.tagged("noun", "board")
            or item.tagged("noun", "roll")
            or item.tagged("noun", "coat")
            or item.tagged("noun", "crack")
        ):
            return
        if item.kind == "range" and not item.used:
            if not from_to(scene, j, opening, spans):
                return
            sized = True
        if item.kind in {"measure", "dims"} and not item.used:
            took = _attribute(scene, j, opening, spans, sized, comma)
            if took is None:
                return
            sized = sized or took == "size"
        j += 1


NAMES = {
    "width": "width",
    "length": "width",
    "height": "height",
    "sill": "sill",
    "from_left": "from_left",
    "from_right": "from_right",
    "depth": "height",
}


def _named_before(scene: Scene, j: int) -> str:
    """'width 1.2 height 1': what the word before the size at j says that it is."""
    item, dim = scene.items[j], scene.items[j - 1].tag("dim") if j else None
    if dim is None or dim[1] not in {"width", "height", "sill"} or not names_behind(scene, j - 1):
        return ""
    if item.kind != "measure" or (dim[1] != "sill" and not fits_one(scene, item)):
        return ""
    return NAMES[dim[1]]


def _right_behind(scene: Scene, j: int) -> bool:
    """Whether the noun of the opening stands right before, or before an 'are'."""
    before, ahead = scene.at(j - 1), scene.at(j - 2)
    if before is not None and before.says("openings.are"):
        before = ahead
    return before is not None and kind_of_raw(before)


def _sized(item: Item | None) -> bool:
    return item is not None and item.kind in {"dims", "measure"}


def _placed_at(scene: Scene, j: int) -> bool:
    """'window at 1.1 door at 5.1': the place stands behind its own noun."""
    return j > 1 and scene.items[j - 1].tagged("dim", "at") and kind_of_raw(scene.items[j - 2])


def _height_too(scene: Scene, j: int) -> bool:
    """'1.2 wide 1.05 high' of a window, where the wall has a height of its own."""
    items = scene.items
    wide = j > 1 and items[j - 1].tagged("dim", "width") and items[j - 2].used == "openings"
    return wide and (
        any(x.kind == "dims" for x in items) or sum(x.tagged("dim", "height") for x in items) > 1
    )


def _attribute(
    scene: Scene, j: int, opening: dict[str, Any], spans: list[Item], sized: bool, comma: bool
) -> str | None:
    """Take the size at j as an attribute; None where it belongs to something else."""
    items = scene.items
    item = items[j]
    if item.kind == "measure" and item.size.unit and kind(item.size.unit) == kind("m²"):
        if (
            "area" in opening
            or "width" in opening
            or not any(
                x.says("openings.total") or x.tagged("dim", "total") or x.tagged("dim", "area")
                for x in items[max(0, j - 2) : j]
            )
        ):
            return None
        opening["area"] = {"value": item.size.value, "unit": item.size.unit}
        item.used = "openings"
        spans.append(item)
        return "size"
    named = _named_before(scene, j)
    if named and named not in opening:
        set_one(scene, item, opening, spans, named, item.size)
        return "size" if named in {"width", "height"} else "place"
    own = _height_too(scene, j) or _placed_at(scene, j)
    if owner_right(scene, j) and not own:
        return None
    if edge_told(scene, j, opening, spans):
        return "place"
    before, after = scene.at(j - 1), scene.at(j + 1)
    after_dim = after.tag("dim") if after is not None and after.kind == "phrase" else None
    if after_dim and after_dim[1] == "at" and after is not None and after.tagged("dim", "from_end"):
        after_dim = ("dim", "from_end")
    before_dim = before.tag("dim") if before is not None and before.kind == "phrase" else None
    if before is not None and before.tagged("dim", "at"):
        before_dim = ("dim", "at")
    if item.kind == "dims":
        if before is not None and before.low in {"x", "*"} and sized:
            return None
        if (
            len(item.sizes) == 3
            and item.sizes[0].whole
            and item.sizes[0].value <= scene.sense.openings_crossed_most
            and not item.sizes[0].unit
        ):
            opening["count"] = int(item.sizes[0].value)
            return "size" if set_pair(scene, item, opening, spans, item.sizes[1:]) else None
        if sized or len(item.sizes) != 2 or not fits(scene, item):
            return None
        set_pair(scene, item, opening, spans, item.sizes)
        return "size"
    if after is not None and after.tagged("dim", "square") and not sized:
        if set_one(scene, item, opening, spans, "width", item.size):
            opening["height"] = dict(opening["width"])
        return "size"
    if after_dim and after_dim[1] in NAMES and after is not None and (own or not reaches_past(scene, j)):
        slot = NAMES[after_dim[1]]
        if after.says("openings.up"):
            slot = "sill"
        if (
            slot in opening
            or (slot in {"width", "height"} and not fits_one(scene, item))
            or after_dim[1] == "length"
        ):
            return None
        set_one(scene, item, opening, spans, slot, item.size)
        return "size" if slot in {"width", "height"} else "place"
    behind = place_behind(scene, j)
    if behind and behind not in opening:
        set_one(scene, item, opening, spans, behind, item.size)
        return "place"
    if before_dim and before_dim[1] in {"width", "height", "sill"} and NAMES[before_dim[1]] not in opening:
        set_one(scene, item, opening, spans, NAMES[before_dim[1]], item.size)
        return "size"
    if before_dim and before_dim[1] in {"from_left", "from_right"} and before_dim[1] not in opening:
        set_one(scene, item, opening, spans, before_dim[1], item.size)
        return "place"
    if before_dim and before_dim[1] == "at" and j > 1 and items[j - 2].says("openings.head"):
        if opening["kind"] == "door" and "height" not in opening and fits_one(scene, item):
            set_one(scene, item, opening, spans, "height", item.size)
            return "size"
        scene.aside(item, "where the head of the opening is")
        return "place"
    if before_dim and before_dim[1] == "at" and "from_left" not in opening:
        side = after_dim[1] if after_dim and after_dim[1] in {"from_left", "from_right"} else "from_left"
        set_one(scene, item, opening, spans, side, item.size)
        return "place"
    most = scene.sense.openings_behind_most
    if before is not None and before.low in {"x", "*"} and item.size.whole and item.size.value <= most:
        opening["count"] = int(item.size.value)
        item.used = "openings"
        spans.append(item)
        return "count"
    sized_next = scene.at(j + 2)
    counts = (
        item.size.whole and after is not None and after.says("walls.number_of") and sized_next is not None
        and sized_next.kind in {"dims", "measure"}
    )  # fmt: skip
    if counts and not item.tagged("count"):
        opening["count"] = int(item.size.value)
        item.used = "openings"
        spans.append(item)
        return "count"
    if item.tagged("count") and item.size.whole:
        if not _right_behind(scene, j) or (_sized(after) and owner_right(scene, j + 1)):
            return None
        opening["count"] = int(item.size.value)
        item.used = "openings"
        spans.append(item)
        return "count"
    if (
        sized
        or comma
        or (not item.size.unit and not item.size.decimal and item.size.value < scene.sense.millimetres_from)
    ):
        return None
    if not fits_one(scene, item) or (item.size.unit == "m" and item.size.value > scene.sense.opening_widest):
        return None
    over = items[j - 1].low == "of" or items[j - 1].says("walls.equals")  # 'window is 1.2 at 4 m'
    over = over or items[j - 1].tagged("middle")  # 'window in the middle 1.8'
    k = j - 1
    while k > 0 and items[k].says("openings.are"):  # "door's now 1000"
        k -= 1
    over = over or k < j - 1
    if kind_of_raw(items[j - 1]) or (
        over and j >= 2 and (kind_of_raw(items[j - 2]) or kind_of_raw(items[k]))
    ):
        set_one(scene, item, opening, spans, "width", item.size)
        return "size"
    return None
