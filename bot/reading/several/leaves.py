"""The two leaves of one wall, each with its block, mix or joints."""

from __future__ import annotations

from typing import Any

from bot.reading.heard import Wall
from bot.reading.items import Item
from bot.reading.scene import Scene


def _named_leaves(scene: Scene) -> bool:
    """'inner leaf on 1:1:6, outer leaf brick on 1:½:4½': each leaf has what stands behind its name."""
    heard, items = scene.heard, scene.items
    if not scene.tagged("slot", "leaf"):
        return False
    names = [(i, x.tag("slot")) for i, x in enumerate(items) if _leaf(x) is not None]
    leaves = [_leaf(items[i]) for i, _ in names]
    if sorted(str(leaf) for leaf in leaves) != ["inner", "outer"] or not {"joints", "mortar"} & set(
        scene.topics
    ):
        return False
    mixes = next((b for b in heard.bare if isinstance(b, list)), [])
    shared = {k: v for k, v in heard.slots.items() if k not in {"leaf", "block", "place", "mix"}}
    walls = []
    ahead = scene.at(names[0][0] - 1)
    told_ahead = ahead is not None and ahead.tagged("slot", "material")  # 'brick outer, aircrete inner'
    for n, (i, _) in enumerate(names):
        last = names[n + 1][0] if n + 1 < len(names) else len(items)
        own = items[i:last]
        if told_ahead:
            own = items[names[n - 1][0] + 1 if n else 0 : i + 1]
        slots: dict[str, Any] = {**shared, "leaf": leaves[n]}
        block: dict[str, Any] = {}
        for item in own:
            tag = item.tag("slot")
            if item.tagged("slot", "material") and tag is not None:
                block["material"] = tag[2]
            if item.used == "block" and item.kind == "measure":
                thickness = heard.slots.get("block", {}).get("thickness")
                block.update({"thickness": thickness} if thickness else {})
        if block:
            slots["block"] = block
        mix = next((mix for item, mix in mixes if any(item is x for x in own)), None)
        if mix is None and any(x.used == "mix" for x in own):
            mix = heard.slots.get("mix")
        if mix is not None:
            slots["mix"] = mix
        told = [(x.start, x.end) for x in own if x.used == "mix"]
        walls.append(Wall(str(leaves[n]), slots, {**heard.evidence, **({"mix": told} if told else {})}))
    asked = _for_each(scene)
    if not (
        all("mix" in wall.slots for wall in walls) or all("block" in wall.slots for wall in walls) or asked
    ):
        return False
    heard.walls = walls
    heard.slots.pop("block", None)
    heard.bare = [b for b in heard.bare if not isinstance(b, (list, dict))]
    heard.slots["leaf"] = "cavity"
    return True


def _for_each(scene: Scene) -> bool:
    """'the mix for each', and not 'the same for both'."""
    return scene.says("walls.for_each") and not scene.says("walls.same")


def _leaf(item: Item) -> str | None:
    """inner or outer, where the item names that leaf."""
    return next((leaf for leaf in ("inner", "outer") if item.tagged("slot", "leaf", leaf)), None)


def take_leaves(scene: Scene) -> None:
    """Brick outside, aircrete inside: a reading for each leaf, where joints or mortar are asked."""
    heard = scene.heard
    if _named_leaves(scene):
        return
    two = next((b["materials"] for b in heard.bare if isinstance(b, dict) and "materials" in b), None)
    heard.bare = [b for b in heard.bare if not (isinstance(b, dict) and "materials" in b)]
    if (
        two is None
        or len(two) != 2
        or "clay_brick" not in two
        or not ({"joints", "mortar"} & set(scene.topics))
    ):
        return
    mixes = next((b for b in heard.bare if isinstance(b, list)), [])
    if (mixes and len(mixes) != 2) or (
        not mixes
        and scene.topics == ["mortar"]
        and scene.tagged("slot", "leaf", "cavity")
        and not _for_each(scene)
    ):
        return
    if mixes:
        heard.bare.remove(mixes)
    heard.bare = [b for b in heard.bare if not (isinstance(b, dict) and "place" in b)]
    shared = {k: v for k, v in heard.slots.items() if k not in {"leaf", "block", "place", "mix"}}
    block = {k: v for k, v in heard.slots.get("block", {}).items() if k != "material"}
    inner = next(m for m in two if m != "clay_brick")
    walls = []
    for leaf, material in (("inner", inner), ("outer", "clay_brick")):
        slots = {
            **shared,
            "leaf": leaf,
            "block": {**(block if leaf == "inner" else {}), "material": material},
        }
        if mixes:
            near = min(mixes, key=lambda entry: abs(entry[0].start - two[material][1]))
            slots["mix"] = near[1]
        walls.append(Wall(leaf, slots, {**heard.evidence, "block": [two[material]]}))
    heard.walls = walls
    heard.slots.pop("leaf", None)
    if scene.says("walls.side_of_wall"):
        heard.slots.pop("place", None)
    heard.slots["leaf"] = "cavity"
