"""Sizes whose unit or noun says what they are."""

from __future__ import annotations

from bot.reading.items import Item
from bot.reading.scene import Scene, plain, show
from bot.reading.slots.bags import ONE_BAG
from bot.reading.slots.block_sizes import three_in_a_row
from bot.reading.slots.bricks import bricks_high, bricks_thick
from bot.reading.slots.by_noun import by_noun
from bot.reading.slots.by_unit import by_unit
from bot.reading.slots.coats import take_coats
from bot.reading.slots.cracks import as_it_was
from bot.reading.slots.of_the_air import as_it_is
from bot.reading.slots.packs import take_packs
from bot.reading.slots.pieces import of_a_roll, take_pieces, wide_board

WASTED = {"blocks", "render", "mesh", "boards", "reinforcement", "mortar", "ties", "wall"}


def take_typed(scene: Scene) -> None:
    """Every size that its unit or its noun settles."""
    take_packs(scene)
    take_coats(scene)
    three_in_a_row(scene)
    bricks_thick(scene)
    bricks_high(scene)
    as_it_was(scene)
    as_it_is(scene)
    for i, item in enumerate(scene.items):
        if item.used or item.kind not in {"measure", "range", "dims"}:
            continue
        if item.kind == "measure" and (wide_board(scene, i, item) or of_a_roll(scene, i, item)):
            continue
        if item.kind == "dims":
            take_pieces(scene, i, item)
        elif item.kind == "range":
            continue
        elif item.size.unit and item.size.unit != "%":
            by_unit(scene, i, item)
        elif item.size.unit == "%" and WASTED & set(scene.topics):
            _share(scene, i, item)
        elif item.size.unit == "%":
            scene.aside(item, "a share of nothing asked about")
        else:
            by_noun(scene, i, item)
    if scene.says("waste.none") and "waste" not in scene.heard.slots:
        none = next(x for x in scene.items if x.says("waste.none"))
        scene.claim("waste", {"value": 0, "unit": "%"}, none)
    _per_bag(scene)
    _in_hand(scene)
    _thin(scene)


def _share(scene: Scene, i: int, item: Item) -> None:
    """'10 % waste', 'plus 5 %': waste, unless it is a share of something else."""
    behind, before = scene.at(i + 1), scene.at(i - 1)
    beside = [x for x in (scene.at(scene.right(i)), scene.at(scene.left(i))) if x is not None]
    other = behind is not None and (behind.says("waste.share_of") or any(x.tagged("noun") for x in beside))
    taken = before is not None and before.says("waste.taken_off")
    if (other or taken) and not any(x.says("waste.word") for x in beside):
        scene.doubt(
            "waste", f"What is {item.text} in this?", [("Waste", {"waste": plain(item.size, "%")})], item
        )
        return
    scene.claim("waste", plain(item.size, "%"), item)


def _per_bag(scene: Scene) -> None:
    """'how many buckets to a bag': one bag is what is gauged for."""
    if "bags" in scene.heard.slots or not ({"mortar", "render"} & set(scene.topics)):
        return
    found = ONE_BAG.search(scene.heard.text)
    if found and ("mix" in scene.heard.slots or scene.tagged("wants", "mortar", "batch")):
        scene.heard.slots["bags"] = {"count": 1.0, "of": "cement"}
        scene.heard.evidence["bags"] = [found.span()]


def _in_hand(scene: Scene) -> None:
    """'got 8 left', '130 on site': blocks in hand where blocks are the topic."""
    if "blocks" not in scene.topics or "block_count" in scene.heard.slots:
        return
    items = scene.items
    for i, item in enumerate(items):
        if item.kind == "measure" and not item.used and item.size.whole:
            j = scene.right(i)
            near = scene.at(j)
            if near is not None and near.says("block.in_hand"):
                place = scene.at(scene.right(j or 0))
                if near.low in {"on", "in"} and (place is None or not place.says("block.site")):
                    continue
                if near.low == "over" and place is not None and place.kind in {"measure", "dims"}:
                    continue  # 'raise by 600 over 5 m'
                if (
                    near.low == "spare"
                    and i
                    and items[i - 1].says("list.and")
                    and not any(x.used for x in items)
                ):
                    scene.aside(item, "spare ones: add them to the order")
                    return
                scene.claim("block_count", int(item.size.value), item)
                return


def _thin(scene: Scene) -> None:
    """'thin joint' without a number is taken as the region's thin joint, and said."""
    if "joint_thickness" not in scene.told or "joint_thickness" in scene.heard.slots:
        return
    if scene.region.thin_joint is None:
        return
    item = scene.told["joint_thickness"][0][1]
    thin = dict(scene.region.thin_joint)
    scene.claim("joint_thickness", thin, item)
    scene.assume("joint_thickness", dict(thin), f"'{item.text}' was taken as {show(thin)} joints.")
