"""Sizes whose unit or noun says what they are: strength, area, bags, cavity, roll, temperature, load ..."""

from __future__ import annotations

import re
from typing import Any

from bot.reading.items import Item
from bot.reading.scene import Scene, plain
from bot.reading.units import LENGTH, candidates, pair
from knowledge.units import kind

AREA, VOLUME, MASS, STRESS, FORCE, TEMPERATURE = (kind(u) for u in ("m²", "m³", "kg", "N/mm²", "kN", "°C"))
DENSITY = kind("kg/m³")
_ONE_BAG = re.compile(r"\b(?:per|to an?|for an?|to each|for each|to one|for one|with an?|one) bag\b", re.IGNORECASE)
OF = ("cement", "lime", "sand", "adhesive")


def take_typed(scene: Scene) -> None:
    """Every size that its unit or its noun settles."""
    _packs(scene)
    for i, item in enumerate(scene.items):
        if item.used or item.kind not in {"measure", "range", "dims"}:
            continue
        if item.kind == "dims":
            _sizes(scene, i, item)
        elif item.kind == "range":
            continue
        elif item.size.unit and item.size.unit != "%":
            _by_unit(scene, i, item)
        elif item.size.unit == "%":
            scene.claim("waste", plain(item.size, "%"), item)
        else:
            _by_noun(scene, i, item)
    _per_bag(scene)
    _in_hand(scene)
    _thin(scene)


def _per_bag(scene: Scene) -> None:
    """'how many buckets to a bag': one bag is what is gauged for."""
    if "bags" in scene.heard.slots or not ({"mortar", "render"} & set(scene.topics)):
        return
    found = _ONE_BAG.search(scene.heard.text)
    if found and ("mix" in scene.heard.slots or any(x.tagged("wants", "mortar", "batch") for x in scene.items)):
        scene.heard.slots["bags"] = {"count": 1.0, "of": "cement"}
        scene.heard.evidence["bags"] = [found.span()]


def _in_hand(scene: Scene) -> None:
    """'got 8 left', '130 on site': blocks in hand where blocks are the topic."""
    if "blocks" not in scene.topics or "block_count" in scene.heard.slots:
        return
    for i, item in enumerate(scene.items):
        if item.kind == "measure" and not item.used and item.size.whole:
            j = scene.right(i)
            near = scene.at(j) if j is not None else None
            if near is not None and near.text.lower() in {"left", "spare", "on site", "in hand", "here", "delivered", "in stock", "over", "left over", "leftover", "already", "on", "behind", "sat", "on the pallet"}:
                if near.text.lower() == "on" and (scene.at((j or 0) + 1) is None or scene.items[(j or 0) + 1].text.lower() not in {"site", "hand"}):
                    continue
                scene.claim("block_count", int(item.size.value), item)
                return


def _thin(scene: Scene) -> None:
    """'thin joint' without a number is taken as the region's thin joint, and said."""
    item = next((x for x in scene.items if x.tagged("slot", "joint_thickness")), None)
    if item is None or "joint_thickness" in scene.heard.slots or scene.region.thin_joint is None:
        return
    scene.claim("joint_thickness", dict(scene.region.thin_joint), item)
    scene.assume("joint_thickness", dict(scene.region.thin_joint), f"'{item.text}' was taken as {scene.region.thin_joint['value']:g} {scene.region.thin_joint['unit']} joints.")


def _noun(scene: Scene, i: int, *names: str, over: tuple[str, ...] = ()) -> bool:
    """Whether one of these nouns stands directly behind item i, or before it with ':' or nothing between."""
    j = scene.right(i, over=over)
    near = scene.at(j) if j is not None else None
    return near is not None and any(near.tagged("noun", n) for n in names)


def _by_unit(scene: Scene, i: int, item: Item) -> None:
    size, unit = item.size, item.size.unit
    what = kind(unit)
    topics = scene.topics
    if what == STRESS:
        block = dict(scene.heard.slots.get("block", {}))
        if "strength" in block and block["strength"]["value"] != size.value:
            scene.doubt("block", "I read two block strengths. Which one?",
                        [(f"{v:g} N/mm²", {"block": {**block, "strength": {"value": v, "unit": unit}}}) for v in (block["strength"]["value"], size.value)], item)
            return
        put(scene, "block", "strength", plain(size, unit), item)
    elif what == AREA:
        near = scene.at(i + 1)
        if near is not None and near.tagged("noun", "window"):
            return
        scene.claim("area", plain(size, unit), item)
    elif what == VOLUME:
        bucket = _noun(scene, i, "bucket")
        if bucket or unit == "l" and "mortar" in topics and size.value <= 30 and any(x.tagged("noun", "bucket") for x in scene.items):
            scene.claim("bucket_size", plain(size, unit), item)
        elif unit == "l" and size.value > 40 or unit != "l" or any(x.tagged("noun", "mortar") for x in scene.items):
            scene.claim("mortar_volume", plain(size, unit), item)
        else:
            scene.aside(item, "a volume that no slot of the wall takes")
    elif what == TEMPERATURE:
        scene.claim("temperature", plain(size, unit), item)
    elif what == FORCE or unit == "kN/m":
        scene.claim("load", plain(size, unit), item)
    elif what == DENSITY:
        put(scene, "block", "density", plain(size, unit), item)
    elif what == MASS:
        _mass(scene, i, item)
    elif what == LENGTH:
        _length(scene, i, item)


def _mass(scene: Scene, i: int, item: Item) -> None:
    size = item.size
    if _noun(scene, i, "bag"):
        scene.claim("bag_size", plain(size, size.unit), item)
        before = scene.at(i - 1)
        if before is not None and before.kind == "measure" and before.size.whole and not before.used:
            _counted_of(scene, i - 1, scene.right(i) or i, "bags", before)
    elif _noun(scene, i, "block", over=("concrete", "dense", "solid")) or "safety" in scene.topics:
        put(scene, "block", "mass", plain(size, size.unit), item)
    elif "bearing" in scene.topics or _noun(scene, i, "load") or any(x.tagged("noun", "load") for x in scene.items):
        scene.claim("load", plain(size, size.unit), item)
    elif _noun(scene, i, "sand", "cement", "lime"):
        of = next(o for o in OF if scene.items[scene.right(i) or i].tagged("noun", o))
        scene.heard.marks.add("mass")
        scene.aside(item, f"a mass of {of}; I gauge by bags, buckets or parts")
    elif any(x.tagged("noun", "bag") for x in scene.items):
        scene.claim("bag_size", plain(size, size.unit), item)


def _length(scene: Scene, i: int, item: Item) -> None:
    """Lengths that a noun settles; the wall's own come later."""
    size = item.size
    behind = scene.right(i, over=("thick", "wide", "deep", "full", "clear", "coat of", "minimum"))
    near = scene.at(behind) if behind is not None else None
    small = size.unit in {"mm", "in", "cm"}
    before_at = scene.left(i, over=("width", "depth", "thickness", "thick", "wide", ",", "about"))
    before = scene.at(before_at) if before_at is not None else None
    beside = [x for x in (near, before) if x is not None]
    if any(x.tagged("noun", "crack") for x in beside) and small:
        put(scene, "crack", "width", plain(size, size.unit), item)
    elif near is not None and near.tagged("noun", "cavity") or before is not None and before.tagged("noun", "cavity") and small:
        scene.claim("cavity", plain(size, size.unit), item)
    elif near is not None and near.tagged("noun", "mortar_joint") or (before is not None and before.tagged("noun", "mortar_joint") and small and size.to_mm() <= 30) or (near is not None and near.tagged("noun", "joint") and small and "joints" not in scene.topics):
        scene.claim("joint_thickness", plain(size, size.unit), item)
    elif small and ((near is not None and near.tagged("noun", "coat")) or (before is not None and before.tagged("noun", "coat") and "render" in scene.topics)):
        if size.to_mm() <= 80:
            scene.claim("coat_thickness", plain(size, size.unit), item)
    elif near is not None and near.tagged("wants", "mesh", "lap"):
        scene.claim("lap", plain(size, size.unit), item)
    elif _spaced(scene, i):
        scene.claim("spacing", plain(size, size.unit), item)
    elif "crack" in scene.topics and size.unit == "mm" and size.value <= 60:
        put(scene, "crack", "width", plain(size, size.unit), item)


def _spaced(scene: Scene, i: int) -> bool:
    """'every 6m', '600 c/c', '@ 900 centres'."""
    after, before = scene.at(i + 1), scene.at(i - 1)
    return (after is not None and after.tagged("dim", "spacing")) or (
        before is not None and before.text.lower() in {"every", "each"} and before.tagged("wants")
    )  # fmt: skip


def _by_noun(scene: Scene, i: int, item: Item) -> None:
    """Whole or decimal numbers without a unit, settled by the noun behind or before them."""
    size = item.size
    behind = scene.right(i, over=("vertical", "horizontal", "stepped", "diagonal", "hairline", "x", "of", "full", "more", "half", "small", "big", "large", "bulk", "spare", "like", "or"))
    near = scene.at(behind) if behind is not None else None
    while near is not None and near.kind == "measure" and near.size.unit == "N/mm²" and behind is not None:
        behind = scene.right(behind)
        near = scene.at(behind) if behind is not None else None
    before_at = scene.left(i)
    before = scene.at(before_at) if before_at is not None else None
    if size.negative:
        after = scene.at(i + 1)
        if "weather" in scene.topics and (after is None or not after.tagged("dim")):
            scene.claim("temperature", plain(size, "°C"), item)
        return
    if before is not None and before.text.lower() in {"temperature", "temp", "temperatures"} and abs(size.value) <= 45:
        scene.claim("temperature", plain(size, "°C"), item)
        return
    if before is not None and (before.tagged("slot", "material") or before.tagged("noun", "block")) and before_at == i - 1 and size.value in scene.region.known.get("thickness", ()) and not (near is not None and (near.tagged("dim") or near.tagged("noun"))):
        put(scene, "block", "thickness", plain(size, "mm"), item)
        scene.assume("block", "mm", f"'{item.text}' was taken as a thickness of {size.value:g} mm.")
        return
    if _spaced(scene, i):
        alternative = scene.at(i + 1)
        if alternative is not None and alternative.tagged("connect", "or"):
            _either(scene, i)
            return
        found = candidates(scene, size, "wall" if size.value <= 30 else "wall")
        if len(found) == 1:
            scene.claim("spacing", found[0], item)
            return
    if before is not None and size.value in scene.region.known.get("strength", ()) and size.decimal and before.tagged("noun", "block") and not (near is not None and (near.tagged("dim") or near.tagged("noun", "wall"))):
        put(scene, "block", "strength", plain(size, "N/mm²"), item)
        scene.assume("block", "N/mm²", f"'{item.text}' was taken as the block strength in N/mm².")
        return
    if near is not None and near.text.lower() in {"gap", "gaps"} and size.value <= 50 and "joints" in scene.topics:
        scene.aside(item, "the width that was asked about")
        return
    if near is not None:
        if near.tagged("noun", "bag") and (size.whole or size.decimal):
            _counted_of(scene, i, behind or i, "bags", item)
            return
        if near.tagged("noun", "bucket"):
            _counted_of(scene, i, behind or i, "buckets", item)
            return
        if near.tagged("noun", "course") and size.whole and behind is not None and not scene.items[behind].tagged("noun", "mortar_joint"):
            scene.claim("courses", int(size.value), item)
            return
        if near.tagged("noun", "roll") and (size.whole or size.decimal):
            scene.claim("rolls", size.value, item)
            return
        if near.tagged("noun", "cavity") and size.value >= 10:
            scene.claim("cavity", plain(size, "mm"), item)
            return
        if near.tagged("noun", "coat") and 3 <= size.value <= 60 and _coat_size(scene, i, near):
            scene.claim("coat_thickness", plain(size, "mm"), item)
            return
        if near.tagged("noun", "crack") and size.whole and size.value <= 20 and "crack" in scene.topics and near.text.lower().endswith("s"):
            put(scene, "crack", "count", int(size.value), item)
            return
        if near.tagged("noun", "mortar_joint") and 1 <= size.value <= 30 and near.text.lower() not in {"beds", "bed"}:
            scene.claim("joint_thickness", plain(size, "mm"), item)
            return
        if near.tagged("noun", "joint") and not near.tagged("noun", "mortar_joint") and size.whole and size.value <= 20:
            if "joints" in scene.topics or near.tagged("topic", "joints"):
                if size.value in {8, 10, 12, 15, 20} and near.text.lower() in {"joint", "jt"}:
                    scene.aside(item, "the width that was asked about")
                else:
                    scene.claim("joint_count", int(size.value), item)
            else:
                scene.claim("joint_thickness", plain(size, "mm"), item)
            return
        if near.text.lower() in {"identical", "equal", "same", "similar", "separate", "matching", "more"}:
            further = scene.right(behind or i)
            near = scene.at(further) if further is not None and scene.items[further].tagged("noun", "wall") else near
        if near.tagged("noun", "wall") and not near.tagged("noun", "block") and size.whole and 1 < size.value <= 60 and near.text.lower().endswith(("s", "run of wall")) or (
            near.tagged("noun", "wall") and item.tagged("count")):
            if size.value >= 1:
                if int(size.value) > 1:
                    scene.claim("walls", int(size.value), item)
                else:
                    item.used = "walls"
            return
        if near.tagged("noun", "pack") and size.whole:
            return  # packs are settled together
        if near.tagged("slot", "faces") or near.text.lower() in {"sides", "faces"}:
            if size.value in {1, 2}:
                scene.claim("faces", int(size.value), item)
                return
        if near.tagged("noun", "tie") and size.whole:
            scene.aside(item, "a number of ties named")
            return
        if near.tagged("noun", "board") and size.whole and not near.tagged("noun", "coat") and "boards" in scene.topics and size.value < 100:
            scene.aside(item, "boards in hand")
            return
        if near.tagged("slot", "ends") and size.whole and size.value in {1, 2}:
            scene.heard.marks.add("two ends" if size.value == 2 else "one end")
            item.used = "ends"
            return
        if near.tagged("connect", "of_them") and size.whole and 1 < size.value <= 40:
            scene.claim("walls", int(size.value), item)
            return
        if near.tagged("side", "both") or near.text.lower() in {"end", "ends"}:
            item.used = "ends"
            return
        if near.text.lower() in {"coats", "coat"} and size.value <= 4:
            scene.aside(item, "the number of coats named")
            return
    if near is not None and size.value in scene.region.known.get("strength", ()) and size.decimal and (near.tagged("noun", "block") or near.tagged("slot", "material")):
        put(scene, "block", "strength", plain(size, "N/mm²"), item)
        scene.assume("block", "N/mm²", f"'{item.text}' was taken as the block strength in N/mm².")
        return
    if near is not None and near.tagged("noun", "block") or (near is not None and near.tagged("slot", "material")):
        if _block_number(scene, i, item, near):
            return
    touching = scene.at(i - 1)
    if touching is not None and touching.kind == "measure" and touching.size.unit == "N/mm²" and size.value in scene.region.known.get("thickness", ()):
        put(scene, "block", "thickness", plain(size, "mm"), item)
        scene.assume("block", "mm", f"'{item.text}' was taken as a thickness of {size.value:g} mm.")
        return
    if before is not None and before.tagged("noun", "cavity") and size.value >= 25:
        scene.claim("cavity", plain(size, "mm"), item)
        return
    if before is not None and before.tagged("noun", "crack") and size.value <= 60 and "crack" in scene.topics:
        put(scene, "crack", "width", plain(size, "mm"), item)
        scene.assume("crack", "mm", "A crack width without a unit was taken as millimetres.")
        return
    if before is not None and before.tagged("noun", "coat") and "render" in scene.topics and 3 <= size.value <= 40 and before_at == i - 1:
        after = scene.at(i + 1)
        if after is not None and (after.tagged("dim", "thickness")):
            scene.claim("coat_thickness", plain(size, "mm"), item)


def _coat_size(scene: Scene, i: int, near: Item) -> bool:
    after = scene.at(i + 1)
    return near.text.lower() not in {"coats"} and (scene.items[i].size.value >= 5) and not (after is not None and after.tagged("connect"))


def _either(scene: Scene, i: int) -> None:
    """'every 6 or every 9': two spacings to choose from are a question, not a reading."""
    for j in range(i, min(len(scene.items), i + 5)):
        if scene.items[j].kind == "measure" and not scene.items[j].used:
            scene.aside(scene.items[j], "one of the two that were asked about")


def _counted_of(scene: Scene, i: int, behind: int, slot: str, item: Item) -> None:
    of = next((o for o in OF if scene.items[behind].tagged("noun", o)), None)
    j = scene.right(behind)
    near = scene.at(j) if j is not None else None
    if near is not None and of is None:
        of = next((o for o in OF if near.tagged("noun", o)), None)
    if of is None:
        before = scene.at(scene.left(i) if scene.left(i) is not None else -1)
        if before is not None:
            of = next((o for o in OF if before.tagged("noun", o)), None)
    text = scene.items[behind].text.lower()
    if text.startswith(("gauge", "shovel", "spade", "barrow")):
        scene.heard.marks.add("measure:" + text)
    scene.claim(slot, {"count": item.size.value, "of": of or "cement"}, item)
    if of is None:
        scene.assume(slot, "cement", f"'{item.text} {scene.items[behind].text}' was taken as cement.")




def _block_number(scene: Scene, i: int, item: Item, near: Item) -> bool:
    """'100 aircrete' is a thickness, '60 blocks left' a count; '100 blocks' by what is said around it."""
    size = item.size
    text = near.text.lower()
    plural = text.endswith(("s", "bricks", "blocks")) and near.tagged("noun", "block") is True and text not in {"aircrete", "cmus"}
    strong_count = size.whole and (item.tagged("count") or size.value not in scene.region.known.get("thickness", ()))
    if any(scene.items[k].tagged("ask") for k in range(max(0, i - 1), i)) and plural and size.value not in scene.region.known.get("thickness", ()):
        return False
    if size.whole and not plural and size.value not in scene.region.known.get("thickness", ()) and size.value >= 10 and near.tagged("noun", "block") and text in {"block", "brick", "blk"}:
        scene.claim("block_count", int(size.value), item)
        return True
    if plural and size.whole:
        handy = any(x.text.lower() in {"i've", "ive", "i've got", "ive got", "we've", "weve", "got", "have", "left", "lay", "laying", "laid", "for", "order", "ordered", "buy", "bought", "delivered", "spare", "about", "on site", "enough", "with",
                                       "the last", "lot", "stack", "over", "need", "pallet", "used", "need mortar for", "of", "using"} for x in scene.items[max(0, i - 3) : i])
        left = any(x.text.lower() in {"left", "spare", "on site", "in hand", "delivered", "here", "enough", "over", "already", "in stock"} for x in scene.items[i + 1 : i + 6])
        if strong_count or handy or left:
            scene.claim("block_count", int(size.value), item)
            return True
        if size.value in scene.region.known.get("thickness", ()) and ("blocks" in scene.topics or "mortar" in scene.topics) and not any(
            x.kind == "dims" or (x.kind == "measure" and x is not item and x.size.unit in {"m", "m²", "ft"}) for x in scene.items
        ):
            scene.claim("block_count", int(size.value), item)
            return True
    if scene.at(i + 1) is not None and scene.items[i + 1].text.lower() == "of":
        return False
    if size.value in scene.region.known.get("thickness", ()) or (size.decimal and size.value < 0.5):
        found = [c for c in candidates(scene, size, "unit")]
        if len(found) == 1:
            tall = near.text.lower() in {"block", "blocks", "brick", "bricks"} and any(x.tagged("wants", "blocks", "course_count") for x in scene.items)
            put(scene, "block", "height" if tall else "thickness", found[0], item)
            return True
    if scene.feet and size.value in {4, 6, 8, 10, 12}:
        put(scene, "block", "thickness", plain(size, "in"), item)
        scene.assume("block", "in", f"'{item.text}' was taken as inches.")
        return True
    return False


def put(scene: Scene, slot: str, part: str, value: Any, *sources: Item) -> None:
    """Fill one part of a compound slot (block, crack, roll, board, padstone)."""
    had = scene.heard.slots.get(slot, {})
    if part in had and had[part] != value:
        scene.doubt(slot, f"I read two values for the {slot} {part}. Which one?",
                    [(str(v.get("value", v) if isinstance(v, dict) else v), {slot: {**had, part: v}}) for v in (had[part], value)], *sources)  # fmt: skip
        return
    scene.heard.slots[slot] = {**had, part: value}
    for item in sources:
        if item.kind != "phrase":
            item.used = slot
        scene.heard.evidence.setdefault(slot, []).append((item.start, item.end))


def _sizes(scene: Scene, i: int, item: Item) -> None:
    """Pairs and triples that belong to a block, roll, board or padstone."""
    sizes = item.sizes
    behind = scene.right(i, over=("size", "each", "dense", "solid", "7n", "tapered", "square edge", "concrete"))
    while behind is not None and scene.items[behind].kind == "measure" and scene.items[behind].size.unit == "N/mm²":
        behind = scene.right(behind)
    near = scene.at(behind) if behind is not None else None
    before_at = scene.left(i, over=("size", "sized", "in", "(", "using"))
    before = scene.at(before_at) if before_at is not None else None
    beside = [x for x in (near, before) if x is not None]
    if len(sizes) == 2 and sizes[0].whole and sizes[0].value <= 20 and sizes[1].unit in {"m²"}:
        return
    if any(x.tagged("noun", "roll") for x in beside) and len(sizes) == 2 or ("mesh" in scene.topics and len(sizes) == 2 and any(s.value >= 25 and s.unit in {"", "m"} for s in sizes) and any(0.2 <= s.value <= 2 for s in sizes)):
        long, wide = sorted(sizes, key=lambda s: -s.value)
        unit = next((s.unit for s in sizes if s.unit), "m")
        scene.claim("roll", {"length": plain(long, long.unit or unit), "width": plain(wide, wide.unit or unit)}, item)
        return
    if "boards" in scene.topics and len(sizes) == 2 and all(s.unit in {"", "mm"} and not s.decimal and 600 <= s.value <= 3000 for s in sizes) and "board" not in scene.heard.slots and (
        "area" in scene.heard.slots or any(x is not item and (x.kind == "dims" or x.kind == "measure" and x.size.unit in {"m", "m²"}) for x in scene.items)
    ):
        two = sorted((plain(s, "mm") for s in sizes), key=lambda q: q["value"])
        thick = next((x for x in scene.items if x.kind == "measure" and not x.used and x.size.unit == "mm" and x.size.value <= 25), None)
        scene.claim("board", {"width": two[0], "height": two[1], **({"thickness": plain(thick.size, "mm")} if thick else {})}, *([item, thick] if thick else [item]))
        return
    if any(x.tagged("noun", "board") for x in beside) and len(sizes) in {2, 3} and "blocks" not in scene.topics:
        found = [r for r in pair(scene, sizes[:2], "board")]
        if sizes[0].value == 8 and sizes[1].value == 4 and not found:
            found = []
        if not sizes[0].unit and not sizes[1].unit and max(sizes[0].value, sizes[1].value) in {8, 10, 6} and min(sizes[0].value, sizes[1].value) in {4, 3}:
            found = [tuple(plain(s, "ft") for s in sizes[:2])]
            scene.assume("board", "ft", f"'{item.text}' was taken as feet.")
        if found and (not _wallish(item) or before is not None and before.tagged("noun", "board") and all(q["unit"] == "m" and q["value"] <= 3.7 for q in found[0])):
            two = sorted(found[0], key=lambda q: q["value"])
            board: dict[str, Any] = {"width": two[0], "height": two[1]}
            if len(sizes) == 3:
                board["thickness"] = plain(sizes[2], sizes[2].unit or "mm")
            scene.claim("board", board, item)
            return
    if any(x.tagged("noun", "padstone") for x in beside) or ("bearing" in scene.topics and all(not s.unit or s.unit in {"mm", "in"} for s in sizes) and not _wallish(item) and not any(x.tagged("noun", "block") for x in beside)):
        unit = next((s.unit for s in sizes if s.unit), "in" if scene.feet and max(s.value for s in sizes) < 40 else "mm")
        names = ("length", "width", "height")
        scene.claim("padstone", {n: plain(s, s.unit or unit) for n, s in zip(names, sizes, strict=False)}, item)
        return
    if any(x.tagged("noun", "block") or x.tagged("slot", "material") for x in beside) or len(sizes) == 3 or _face(scene, item):
        _block_sizes(scene, item)


def _wallish(item: Item) -> bool:
    return any(s.unit == "m" or s.decimal and not s.unit for s in item.sizes)


def _face(scene: Scene, item: Item) -> bool:
    """440x215 and its like, with no unit or mm."""
    plainly = len(item.sizes) == 2 and all(s.unit in {"", "mm"} and not s.decimal for s in item.sizes)
    return plainly and [item.sizes[0].value, item.sizes[1].value] in [list(face) for face in scene.region.known.get("face", ())]


def _block_sizes(scene: Scene, item: Item) -> None:
    sizes = item.sizes
    values = [s.value for s in sizes]
    units = {s.unit for s in sizes if s.unit}
    inches = units == {"in"} or (not units and all(2 <= v <= 24 for v in values) and any(v in {16, 18} for v in values))
    if _wallish(item) and not units & {"mm", "cm", "in"}:
        return
    unit = "in" if inches else units.pop() if len(units) == 1 else "mm"
    if unit == "mm" and not inches and len(values) == 3 and all(5 <= v <= 70 for v in values) and max(values) >= 30 and not any(s.unit for s in sizes):
        unit = "cm"
        scene.assume("block", "cm", f"'{item.text}' was taken as centimetres.")
    if not inches and unit == "mm" and not all(40 <= v <= 700 for v in values):
        return
    if unit == "cm" and not all(4 <= v <= 70 for v in values):
        return
    if unit not in {"mm", "cm", "in"}:
        return
    names: tuple[str, ...]
    if inches and len(values) == 3:
        names = ("thickness", "height", "length") if values[2] >= values[0] else ("length", "height", "thickness")
    elif len(values) == 3:
        names = ("length", "thickness", "height") if values[1] > values[2] and values[2] <= 80 and unit == "mm" and values[1] < 130 else ("length", "height", "thickness")
        if values[0] < values[2]:
            names = ("thickness", "height", "length")
    else:
        names = ("length", "height") if values[0] >= values[1] else ("height", "length")
    for name, size in zip(names, sizes, strict=True):
        put(scene, "block", name, plain(size, unit), item)
    if inches:
        scene.assume("block", "in", f"'{item.text}' was taken as inches, thickness × height × length." if len(values) == 3 else f"'{item.text}' was taken as inches.")


def _packs(scene: Scene) -> None:
    """'8 packs, 72 to a pack': together they are the blocks in hand."""
    items = scene.items
    packs = per = None
    for i, item in enumerate(items):
        if item.used or item.kind != "measure" or not item.size.whole:
            continue
        follow = scene.at(i + 1)
        if follow is not None and follow.tagged("noun", "pack") and follow.text.lower() in {"packs", "pallets"}:
            packs = item
            each = scene.at(i + 3)
            if scene.at(i + 2) is not None and scene.items[i + 2].text.lower() in {"@", "at", "x", "of", "o", "o'"} and each is not None and each.kind == "measure" and each.size.whole and not each.used:
                per = each
                break
            continue
        j = scene.right(i, over=("to", "per", "in", "on", "each", "blocks", "block", "bricks", "full", "number", "blks", "of"))
        near = scene.at(j) if j is not None else None
        if near is None or not near.tagged("noun", "pack"):
            before_at = scene.left(i, over=("of", "are", "come in", ":"))
            before = scene.at(before_at) if before_at is not None else None
            if before is not None and before.tagged("noun", "pack") and before.text.lower() in {"packs", "packs of", "pack", "pallets", "pallet"} and items[i - 1].text.lower() == "of":
                per = item
            continue
        between = [x.text.lower() for x in items[i + 1 : (j or i) + 1]]
        if near.text.lower() in {"packs", "pallets", "pack", "pallet"} and scene.at((j or i) + 1) is not None and scene.items[(j or i) + 1].text.lower() in {"@", "at", "x", "of", "o", "o'"}:
            follow = scene.at((j or i) + 2)
            if follow is not None and follow.kind == "measure" and follow.size.whole and not follow.used:
                packs, per = item, follow
                break
        single = near.text.lower() in {"a pack", "per pack", "to a pack", "in a pack", "per pallet", "to the pack", "on a pallet", "to a pallet", "each pack"}
        if single or any(w in {"to", "per", "in", "on", "each"} for w in between) or (near.text.lower() in {"pack", "pallet"} and any(w in {"a", "per", "each", "to"} for w in between)):
            per = item
        else:
            packs = item
    if per is not None:
        scene.claim("pack_size", int(per.size.value), per)
        if packs is not None:
            scene.claim("block_count", int(packs.size.value * per.size.value), packs, per)
    elif packs is not None and ("blocks" in scene.topics or any(x.tagged("noun", "pack") for x in items)):
        scene.heard.marks.add("packs")
        scene.aside(packs, "packs, but not how many to a pack")
