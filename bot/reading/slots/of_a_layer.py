"""Sizes beside the blocks: of insulation, mortar joints, a lap, a board, or what goes past an opening."""

from __future__ import annotations

from bot.reading.items import Item
from bot.reading.scene import Scene, plain
from bot.reading.slots.put import put

SMALL = {"mm", "cm", "in"}


def in_a_layer(scene: Scene, i: int, item: Item) -> bool:
    """'insulation 100mm' where no heat is asked: of the insulation, and of no block."""
    near = (scene.at(i - 1), scene.at(i + 1))
    layer = any(x is not None and x.tagged("noun", "layer") for x in near)
    if not layer or "thermal" in scene.topics or item.size.unit not in SMALL:
        return False
    scene.aside(item, "the insulation")
    return True


def bed_joint(scene: Scene, i: int, item: Item) -> bool:
    """'joints 10' where mortar is spoken of: how thick they are."""
    before, size = scene.at(i - 1), item.size
    behind = scene.at(i + 1)
    glued = scene.tagged("slot", "joint_thickness", "thin") or (
        behind is not None and behind.says("mix.glue")
    )
    thin = scene.region.thin_joint if glued else None
    if thin and size.unit == "mm" and size.value <= thin["value"]:  # 'adhesive 3 mm'
        scene.claim("joint_thickness", plain(size, "mm"), item)
        return True
    if before is None or not before.tagged("noun", "joint") or "joints" in scene.topics:
        return False
    if size.unit not in {"", "mm"} or not 1 < size.value <= scene.sense.bed_thickest:
        return False
    scene.assume("joint_thickness", "mm", f"'{item.text}' was taken as mm, of the mortar joints.")
    scene.claim("joint_thickness", plain(size, "mm"), item)
    return True


def lap(scene: Scene, i: int, item: Item) -> bool:
    """'lap 150', 'overlap of 100 mm', '150 lap' where mesh is spoken of."""
    size, beside = item.size, (scene.at(scene.left(i)), scene.at(i + 1))
    lapped = any(x and x.tagged("wants", "mesh", "lap") for x in beside)
    if (
        "reinforcement" in scene.topics
        and "mesh" not in scene.topics
        and lapped
        and size.unit in {"", *SMALL}
    ):
        scene.aside(item, "the lap of the reinforcement")
        return True
    if "mesh" not in scene.topics or not lapped:
        return False
    if size.unit not in {"", *SMALL} or (not size.unit and not size.whole):
        return False
    if not size.unit:
        scene.assume("lap", "mm", f"'{item.text}' was taken as mm.")
    scene.claim("lap", plain(size, size.unit or "mm"), item)
    return True


def past_opening(scene: Scene, i: int, item: Item) -> bool:
    """'600 past', '600 mm each side' where reinforcement is spoken of: how far it goes past the opening."""
    behind = scene.at(i + 1)
    if "reinforcement" not in scene.topics or behind is None or "length" in scene.heard.slots:
        return False
    past = behind.says("reinforcement.past") or behind.tagged("wants", "reinforcement", "projection")
    if not past or item.size.unit not in {"", *SMALL}:
        return False
    scene.aside(item, "how far it goes past the opening")
    behind.tags += (("wants", "reinforcement", "projection"),)
    scene.renew()
    return True


def board_thick(scene: Scene, _: int, item: Item) -> bool:
    """'boards 12.5mm on 38 m²': how thick the boards are."""
    mm = item.size.unit == "mm" and 0 < item.size.value <= scene.sense.board_thickest
    if scene.topics != ["boards"] or not mm or "thickness" in scene.heard.slots.get("board", {}):
        return False
    put(scene, "board", "thickness", plain(item.size, "mm"), item)
    return True


def other_coat(scene: Scene, _: int, item: Item) -> bool:
    """'12mm inside 15 outside' of plaster: as thick as a coat, beside one that was told, is no length."""
    thin, thick = scene.sense.coat_bare
    beside = "coat_thickness" in scene.heard.slots and "length" not in scene.heard.slots
    return beside and scene.topics == ["render"] and item.size.whole and thin <= item.size.value <= thick


def every_so_far(scene: Scene, i: int, item: Item) -> bool:
    """'at 600' in talk of bed reinforcement alone: how far apart it stands."""
    at, behind = scene.at(i - 1), scene.at(i + 1)
    told = item.size.whole or item.size.unit == "mm"
    if scene.in_force != ("reinforcement",) or scene.nouns or at is None or not at.tagged("dim", "at"):
        return False
    least, most = scene.sense.centres_least, 1000 * scene.sense.centres_widest
    if not told or not least <= item.size.value <= most or (behind is not None and behind.kind != "mark"):
        return False
    scene.claim("spacing", plain(item.size, "mm"), item)
    scene.assume("spacing", "mm", f"'{item.text}' was taken as mm from one to the next.")
    return True


LAYERS = (in_a_layer, bed_joint, lap, past_opening, board_thick, other_coat, every_so_far)
