"""A number before a noun: bags, courses, rolls, joints, walls, ends and the like."""

from __future__ import annotations

from typing import Any

from bot.reading.items import Item
from bot.reading.scene import Scene, plain
from bot.reading.slots.bags import counted_of
from bot.reading.slots.beside import Beside
from bot.reading.slots.opening_sizes import KINDS, kind_of_raw
from bot.reading.slots.put import put
from bot.reading.units import candidates

ENDS = {1, 2}

BOTH = 2  # leaves of a cavity wall


def before_noun(at: Beside) -> bool:
    """Settle the number by the noun behind it."""
    if at.near is None:
        return False
    return _amount(at, at.near) or _joint(at, at.near) or _wall(at, at.near) or _other(at, at.near)


def _amount(at: Beside, near: Item) -> bool:
    size, scene = at.size, at.scene
    ties = "ties" in scene.in_force or "joints" not in scene.topics
    if near.says("joints.gap") and ties and _hollow(scene):
        found = candidates(scene, size, "cavity")
        return len(found) == 1 and at.claim("cavity", found[0])
    if near.says("joints.gap") and size.value <= scene.sense.gap_widest and "joints" in scene.topics:
        return at.aside("the width that was asked about")
    if near.tagged("noun", "bag") and (size.whole or size.decimal):
        counted_of(scene, at.i, at.behind or at.i, "bags", at.item)
        return True
    if near.says("leaf.leaves") and size.value == BOTH:
        return at.aside("the leaves of the wall: each is counted by itself")
    if near.says("bucket.shovel"):
        return at.aside("shovels differ: gauge by the bucket")
    if near.tagged("noun", "bucket"):
        counted_of(scene, at.i, at.behind or at.i, "buckets", at.item)
        return True
    high = scene.at((at.behind or at.i) + 1)
    if near.tagged("noun", "block") and size.whole and high is not None and high.tagged("dim", "height"):
        return at.claim("courses", int(size.value))
    steel = "reinforcement" in (*scene.topics, *scene.in_force)
    beside = steel and high is not None and high.tagged("hedge")
    few = steel and size.value <= scene.sense.courses_beside
    if near.tagged("noun", "course") and scene.topics == ["crack"]:
        return at.aside("where the crack is")
    if near.tagged("noun", "course") and (beside or few):
        return at.aside("the courses beside the opening")
    if near.says("course.of_brick") or (near.tagged("noun", "course") and _of_other_units(scene, at.behind)):
        return at.aside("courses of other units: they are not taken off")
    if near.tagged("noun", "course") and size.value > scene.sense.courses_most:
        return False  # '225 courses': of 225 mm, and not so many
    if near.tagged("noun", "course") and size.whole and not near.tagged("noun", "mortar_joint"):
        if any(x is not None and x.says("block.more_courses") for x in (high, scene.at(at.i + 1))):
            scene.heard.marks.add("courses more")
        return at.claim("courses", int(size.value))
    if near.tagged("noun", "roll") and (size.whole or size.decimal):
        return at.claim("rolls", size.value)
    if near.tagged("noun", "cavity") and size.value >= scene.sense.cavity_least:
        return at.claim("cavity", plain(size, "mm"))
    thin, thick = scene.sense.coat_bare
    air = "weather" in scene.topics
    if near.tagged("noun", "coat") and not air and thin <= size.value <= thick and near.low != "coats":
        after = scene.at(at.i + 1)
        if not (after is not None and after.tagged("connect")):
            return at.claim("coat_thickness", plain(size, "mm"))
    cracks = near.tagged("noun", "crack") and near.low.endswith("s") and "crack" in scene.topics
    if cracks and size.whole and size.value <= scene.sense.cracks_most:
        put(scene, "crack", "count", int(size.value), at.item)
        return True
    return False


def _hollow(scene: Scene) -> bool:
    """Whether a cavity wall is spoken of."""
    return "ties" in (*scene.topics, *scene.in_force) or scene.tagged("slot", "leaf", "cavity")


def _joint(at: Beside, near: Item) -> bool:
    size = at.size
    if near.tagged("noun", "mortar_joint"):
        thick = 1 <= size.value <= at.scene.sense.bed_thickest and not near.says("joints.bed")
        return thick and at.claim("joint_thickness", plain(size, "mm"))
    if near.tagged("noun", "joint") and size.decimal and 0 < size.value < 1 and at.scene.feet:
        return at.claim("joint_thickness", plain(size, "in"))
    if not near.tagged("noun", "joint") or not size.whole or size.value > at.scene.sense.joints_most:
        return False
    ahead = at.scene.at(at.i - 1)
    if ahead is not None and ahead.tagged("dim", "at") and not at.scene.nouns.isdisjoint(KINDS):
        return False  # 'door 0.9 at 8 joints': a place
    of_mortar = not near.tagged("topic", "joints") or at.scene.topics == ["mortar"]
    if "joints" not in at.scene.topics and of_mortar:
        return at.claim("joint_thickness", plain(size, "mm"))
    if size.value in at.scene.sense.joint_widths and near.says("joints.one"):  # '10 joint'
        return at.aside("the width that was asked about")
    return at.claim("joint_count", int(size.value))


def _wall(at: Beside, near: Item) -> bool:
    """'3 walls', '2 identical walls', '1 no. wall', '3 no. 6 m walls'."""
    of, what = at.scene.at((at.behind or at.i) + 1), at.scene.at((at.behind or at.i) + 2)
    of_what = of is not None and of.says("walls.number_of") and what is not None
    other = of_what and what is not None and not (what.tagged("noun", "wall") or what.tagged("noun", "block"))
    steel = "reinforcement" in (*at.scene.topics, *at.scene.in_force)
    if near.says("pieces.lengths") and (steel or (other and not _is_long(what))):
        return at.aside("how many lengths were named")
    if _bays(at, near):
        return True
    sized = near.kind == "dims" and len(near.sizes) == 2 and at.item.tagged("count")  # '2 no. 6 x 2.4 walls'
    alike = near.says("walls.alike") or _is_long(near) or sized
    further = at.scene.at(at.scene.right(at.behind or at.i)) if alike else None
    wall = further if further is not None and further.tagged("noun", "wall") else near
    if not wall.tagged("noun", "wall"):
        return False
    many = wall.low.endswith(at.scene.words.cue["walls.many_ends"]) and not wall.tagged("noun", "block")
    if (
        at.size.value == 1
        and len(at.size.values) == 1
        and not at.size.unit
        and not wall.tagged("noun", "block")
    ):
        only = at.scene.at(at.i - 1)
        at.item.used = "label"
        return only is not None and only.says("walls.only") and at.claim("walls", 1)
    if not at.item.tagged("count") and not (
        many and at.size.whole and 1 < at.size.value <= at.scene.sense.metres_most
    ):
        return False
    if int(at.size.value) > 1:
        return at.claim("walls", int(at.size.value))
    if not at.size.whole:
        return at.aside("no number of walls")
    if at.size.value >= 1:
        at.item.used = "walls"
    return True


def _bays(at: Beside, near: Item) -> bool:
    """'12 m in 2 bays': one wall in so many parts, or so many walls?"""
    ahead = at.scene.at(at.i - 1)
    if not near.says("walls.bays") or ahead is None or not ahead.says("walls.within") or not at.size.whole:
        return False
    many = int(at.size.value)
    choices: list[tuple[str, dict[str, Any]]] = [
        (f"One wall, in {many} parts", {"walls": 1}),
        (f"{many} walls like that", {"walls": many}),
    ]
    at.scene.doubt(
        "walls", f"{many} bays: is that one wall in {many} parts, or {many} walls?", choices, at.item
    )
    return True


def _is_long(item: Item | None) -> bool:
    """Whether it is a size that a wall is long by."""
    return item is not None and item.kind == "measure" and item.size.unit in {"m", "ft"} and not item.used


def _of_opening(at: Beside) -> bool:
    """'windows 1800 wide, 3 of them': of the one opening that was named before it."""
    slots, evidence = at.scene.heard.slots, at.scene.heard.evidence
    found = slots.get("openings") or []
    nouns = [x for x in at.scene.items[: at.i] if x.tagged("noun")]
    walls = bool(nouns) and not kind_of_raw(nouns[-1])
    if (
        len(found) != 1
        or found[0].get("count", 1) != 1
        or walls
        or evidence["openings"][0][0] > at.item.start
    ):
        return False
    slots["openings"] = [{**found[0], "count": int(at.size.value)}]
    evidence["openings"].append((at.item.start, at.item.end))
    at.item.used = "openings"
    return True


def _other(at: Beside, near: Item) -> bool:
    size, topics = at.size, at.scene.topics
    if near.tagged("noun", "pack") and size.whole:
        return True  # packs are settled together
    if (near.tagged("slot", "faces") or near.says("faces.sides")) and size.value in ENDS:
        return at.claim("faces", int(size.value))
    before = at.scene.at(at.scene.left(at.i))
    hollow = before is not None and before.tagged("noun", "cavity")
    if near.tagged("noun", "tie") and hollow and size.value >= at.scene.sense.cavity_least:
        return at.claim("cavity", plain(size, size.unit or "mm"))  # 'cavity 150 ties'
    if near.tagged("noun", "tie") and size.whole:
        return at.aside("a number of ties named")
    board = near.tagged("noun", "board") and not near.tagged("noun", "coat") and "boards" in topics
    least, _ = at.scene.sense.board_sides
    wide = "boards" in at.scene.in_force and least <= size.value <= at.scene.sense.board_wide
    if board and size.whole and not size.unit and wide:  # 'boards 4.8 by 2.4', then '900 boards'
        put(at.scene, "board", "width", plain(size, "mm"), at.item)
        at.scene.assume("board", "mm", f"'{at.item.text}' was taken as the width of the boards in mm.")
        return True
    if board and size.whole and size.value < at.scene.sense.boards_most:
        return at.claim("boards", int(size.value))
    if near.tagged("slot", "ends") and size.whole and size.value in ENDS:
        at.scene.heard.marks.add("two ends" if size.value == 2 else "one end")
        at.item.used = "ends"
        return True
    if near.says("ends.many_ends") and size.whole and not size.unit and at.scene.at(at.i + 1) is near:
        return at.aside("how many there are")  # 'beads for 3 corners'
    if (
        near.says("openings.pieces")
        and size.whole
        and 1 < size.value <= at.scene.sense.pieces_most
        and _of_opening(at)
    ):
        return True
    if near.tagged("connect", "of_them") and size.whole and 1 < size.value <= at.scene.sense.pieces_most:
        if "crack" in topics:
            put(at.scene, "crack", "count", int(size.value), at.item)
            return True
        if at.scene.openings_told:  # '2 of the windows are 900 x 900'
            at.scene.doubt("openings", "Which of them?", [], at.item)
            return True
        return _of_opening(at) or at.claim("walls", int(size.value))
    if near.tagged("side", "both") or near.says("ends.end"):
        at.item.used = "ends"
        return True
    return (
        near.says("coat.coat")
        and size.value <= at.scene.sense.coats_most
        and at.aside("the number of coats named")
    )


def _of_other_units(scene: Scene, course: int | None) -> bool:
    """'3 courses brick', '2 courses of coursing blocks': of units that the blocks are not."""
    if course is None:
        return False
    ahead = [scene.at(course + 1), scene.at(scene.right(course))]
    begins = scene.words.cue["course.of_others"]
    return any(x is not None and x.low.startswith(begins) for x in ahead)
