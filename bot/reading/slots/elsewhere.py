"""Sizes that are of something else than the wall, by what stands around them."""

from __future__ import annotations

from bot.reading.items import Item
from bot.reading.scene import Scene


def elsewhere(scene: Scene, i: int) -> bool:
    """'pier at 4m', 'spacing 4 m', 'first 3 m from the corner', '7 coats': a size of something else."""
    before, after = scene.at(scene.left(i)), scene.at(i + 1)
    touching = scene.at(i - 1)
    wall = scene.at(scene.right(i)) if scene.items[i].size.unit in {"m", "ft"} else after
    if wall is not None and wall.tagged("noun", "wall"):
        return False  # 'render 28 m of wall'
    if after is not None and after.says("walls.away") and _from_a_thing(scene, i + 2):
        return True
    unit, thick = scene.items[i].size.unit, scene.region.known.get("thickness", ())
    laid_with = scene.in_force and touching is not None and touching.says("block.laid_with")
    if laid_with and not unit and scene.items[i].size.value in thick:
        return False  # 'with 140'
    if after is not None and after.tagged("noun", "block") and unit in {"mm", "in", "cm"}:
        return False  # 'with 4 inch block'
    if (
        before is not None
        and before.tagged("noun", "wall")
        and not (after is not None and after.says("walls.radius"))
    ):
        return False
    if (
        before is not None
        and before.used == "length"
        and touching is not None
        and touching.tagged("dim", "at")
    ):
        return False
    known, size = scene.heard.slots.get("length"), scene.items[i].size
    if known and size.unit == known.get("unit") and size.value == known.get("value"):
        scene.items[i].used = "length"  # said once more
        return True
    if any(
        x is not None and (x.tagged("dim", "at") or x.says("walls.elsewhere")) for x in (before, touching)
    ):
        return True
    courses = before is not None and before.tagged("noun", "course") and unit in {"m", "ft"}
    if before is not None and _other_thing(before) and not (before.tagged("topic", "joints") or courses):
        return True
    if after is not None and any(
        after.tagged("dim", d) for d in ("from_left", "from_right", "sill", "spacing")
    ):
        return True
    if after is not None and after.tagged("dim", "from_end") and not after.says("walls.along"):
        return True
    if after is not None and after.says("bearing.lintel"):
        return True  # 'over a 2.1 m lintel'
    if after is not None and not size.unit and _other_thing(after) and not after.tagged("noun", "joint"):
        return True
    if after is None or not after.says("walls.elsewhere_behind"):
        return False
    side = scene.at(i + 2)  # '12.2 m return both ends': the ends of the wall
    return not (after.tagged("slot", "ends") and side is not None and side.tagged("side"))


def _from_a_thing(scene: Scene, i: int) -> bool:
    """'2 m from the hedge', '3 m off the kerb': a distance, where no end, number or opening follows."""
    j = i
    while (item := scene.at(j)) is not None and item.says("walls.belonging"):
        j += 1
    thing = scene.at(j)
    further = scene.at(j + 1)
    to = further is not None and further.tagged("connect", "to")  # 'from floor to ceiling'
    if thing is None or to or (j == i and thing.kind != "word"):
        return False
    return thing.kind == "word" or (
        thing.kind == "phrase" and not thing.tagged("dim") and not thing.tagged("side")
    )


def _other_thing(item: Item) -> bool:
    """A noun that is no wall, block or joint."""
    noun = item.tag("noun")
    return (
        noun is not None
        and not item.tagged("dim")
        and noun[1] not in {"wall", "block", "joint", "mortar", "storey", "cement", "layer"}
    )


def follows_length(scene: Scene, i: int) -> bool:
    """Only the wall and small words stand between the length and this size: '10m wall, 2.4m'."""
    for j in range(i - 1, -1, -1):
        item = scene.items[j]
        if item.used == "length":
            return True
        small = item.text in {",", "x", "-"} or item.says("small.word") or item.tagged("noun", "wall")
        along = any(item.tagged("dim", d) for d in ("length", "width", "at"))
        joined = any(item.tagged("connect", c) for c in ("of", "and", "by"))
        told = any(item.tagged("slot", s) for s in ("material", "shape")) or item.tagged("noun", "block")
        if not (small or along or joined or told or item.used == "aside" or item.tagged("not")):
            return False
    return False


def of_a_unit(scene: Scene, i: int, item: Item) -> bool:
    """A small size is the thickness where the region knows it as one, or a unit or wall stands at it."""
    mm = item.size.to_mm() if item.size.unit else item.size.value
    known = round(mm, 3) in scene.region.known.get("thickness", ()) or item.size.unit == "in"
    near = [x for x in (scene.at(scene.right(i)), scene.at(scene.left(i))) if x is not None]
    at_unit = any(
        x.tagged("noun", "wall")
        or x.tagged("noun", "block")
        or x.tagged("slot", "material")
        or x.tagged("slot", "leaf")
        for x in near
    )
    strange = any(x.text in {"±", "+"} for x in (scene.at(i - 1), scene.at(i - 2)) if x is not None)
    return (known or at_unit) and not strange


def told_thick(scene: Scene, before: Item | None, near: Item | None) -> bool:
    """'both leaves 100', '215 solid', 'in 140' of the wall in force: words that say how thick."""
    leaf = any(x is not None and x.tagged("slot", "leaf") for x in (before, near))
    walled = not scene.feet and near is not None and near.tagged("noun", "wall")
    laid_with = bool(scene.in_force) and before is not None and before.says("block.laid_with")
    if laid_with:
        scene.heard.marks.add("laid with")
    return leaf or walled or laid_with
