"""Length by height."""

from __future__ import annotations

from typing import Any

from bot.reading.items import Item, Measure
from bot.reading.scene import Scene, plain, show
from bot.reading.slots.put import put
from bot.reading.slots.settling import as_well_in_feet, settle
from bot.reading.units import LENGTH, believable, candidates, pair
from knowledge.units import convert, kind


def pairs(scene: Scene) -> None:
    """'10 x 2.4': length first, then height; a third is the thickness."""
    for i in scene.sizes():
        item = scene.items[i]
        if item.kind != "dims" or item.used:
            continue
        if len(item.sizes) > 3:
            continue
        if _by_a_coat(scene, item) or any(s.unit and kind(s.unit) != LENGTH for s in item.sizes):
            continue
        first = item.sizes[0]
        if (
            len(item.sizes) == 2
            and first.whole
            and item.sizes[1].unit in {"m", "ft", "mm"}
            and not first.unit
            and _walls_behind(scene, i, item)
        ):
            scene.claim("walls", int(first.value), item)
            item.used = ""
            item.kind, item.sizes = "measure", item.sizes[1:]
            settle(scene, "length", item, "wall")
            continue
        behind = scene.at(i + 1)
        if (
            len(item.sizes) == 2
            and item.sizes[1].whole
            and behind is not None
            and behind.tagged("noun", "course")
        ):
            scene.claim("courses", int(item.sizes[1].value), item)
            item.used = ""
            item.kind, item.sizes = "measure", item.sizes[:1]
            settle(scene, "length", item, "wall")
            continue
        if behind is not None and behind.tagged("wants", "mesh", "corner_patches"):
            scene.aside(item, "the size of a patch")
            continue
        third = item.sizes[2] if len(item.sizes) == 3 else None
        sizes = item.sizes[:2]
        bare = all(not s.unit for s in sizes)
        readings = pair(scene, sizes, "wall")
        readings = [r for r in readings if len(r) == 2]
        if len(readings) > 1:
            kept = [r for r in readings if believable(scene, r[1], "height")]
            readings = kept or readings
        whole = all(not s.decimal for s in sizes)
        if (
            bare
            and whole
            and readings
            and readings[0][0]["unit"] == "m"
            and not scene.feet
            and as_well_in_feet(scene, readings[0][1])
        ):
            readings = []
        if not readings and bare:
            a, b = sizes
            if max(a.value, b.value) < scene.sense.millimetres_from:
                _ask_pair(scene, item, [tuple(plain(s, u) for s in sizes) for u in ("m", "ft")])
                continue
        if len(readings) != 1:
            if readings:
                _ask_pair(scene, item, readings)
            continue
        length, height = readings[0]
        if _of_the_block(scene, i, sizes):
            scene.claim("length", length, item)
            item.used = ""
            put(scene, "block", "thickness", plain(sizes[1], "mm"), item)
            scene.assume(
                "block", "mm", f"'{item.text}' was taken as {show(length)} of {sizes[1].value:g} mm block."
            )
            continue
        if "length" in scene.heard.slots and "height" in scene.heard.slots:
            continue
        if (
            convert(height["value"], height["unit"], "m") > convert(length["value"], length["unit"], "m")
            and believable(scene, length, "height")
            and convert(height["value"], height["unit"], "m") > scene.sense.wall_highest
        ):
            length, height = height, length
            scene.assume("height", height, f"In '{item.text}' the smaller number was taken as the height.")
        if any(not s.unit or s.lent for s in sizes) or any(s.comma for s in sizes):
            scene.assume(
                "length",
                f"{show(length)} × {show(height)}",
                f"'{item.text}' was taken as {show(length)} long and {show(height)} high.",
            )
        scene.claim("length", length, item)
        item.used = ""
        scene.claim("height", height, item)
        after = scene.at(i + 1)
        if third is not None and after is not None and after.says("walls.plural") and third.whole:
            scene.assume(
                "walls", f"{int(third.value)} walls", f"The last number of '{item.text}' counts walls."
            )
            item.used = ""
            scene.claim("walls", int(third.value), item)
        elif third is not None:
            options = [c for c in candidates(scene, third, "unit") if believable(scene, c, "unit")]
            if len(options) == 1:
                scene.claim("thickness", options[0], item)
            else:
                for side in ("length", "height"):  # nor are the others certain
                    scene.heard.slots.pop(side, None)
                    scene.heard.evidence.pop(side, None)
                scene.doubt(
                    "thickness",
                    f"How should I read the last number of {item.text}?",
                    [(show(o), {"thickness": o}) for o in options],
                    item,
                )


def _of_the_block(scene: Scene, i: int, sizes: list[Measure]) -> bool:
    """'10m x 100 block': so long, and so thick a block, where no wall is so high."""
    long, thick = sizes[0], sizes[-1]
    behind = scene.at(i + 1)
    bare = not thick.unit or thick.lent
    known = len(sizes) == 2 and bare and thick.value in scene.region.known.get("thickness", ())
    named = behind is not None and (behind.tagged("noun", "block") or behind.tagged("slot", "material"))
    return known and named and long.unit in {"m", "ft"} and thick.value > scene.sense.metres_most


def _by_a_coat(scene: Scene, item: Item) -> bool:
    """'3 m x 12 mm': the second is the thickness of a coat, or a question; it is no height."""
    last = item.sizes[-1]
    if len(item.sizes) != 2 or last.unit not in {"mm", "cm", "in"}:
        return False
    if not 0 < convert(max(last.values), last.unit, "mm") < scene.sense.wall_lowest:
        return False
    first = item.sizes[0]
    unit = first.unit if not first.lent else ""
    if "render" in scene.topics and unit and unit not in {"mm", "cm", "in"}:
        scene.claim("length" if kind(unit) == LENGTH else "area", plain(first, unit), item)
        item.used = ""
        scene.claim("coat_thickness", plain(last, last.unit), item)
        scene.assume("coat_thickness", show(plain(last, last.unit)), f"{item.text}: the second is the coat.")
    return True


def _walls_behind(scene: Scene, i: int, item: Item) -> bool:
    """'3 x 6m walls'; '2 x 6m wall' too, where 6 m is no height beside 2."""
    j = scene.right(i, over="over.before_walls")
    near = scene.at(j)
    count, size = item.sizes
    alone = count.value > 1 and size.unit == "m" and size.value > max(count.value, scene.sense.storey)
    return near is not None and near.tagged("noun", "wall") and (near.low.endswith("s") or alone)


def _ask_pair(scene: Scene, item: Item, readings: list[tuple[dict[str, Any], ...]]) -> None:
    choices = [(f"{show(a)} × {show(b)}", {"length": a, "height": b}) for a, b in readings]
    for slot in ("length", "height"):
        scene.doubt(slot, f"Is {item.text} in metres or feet?", choices, item)
