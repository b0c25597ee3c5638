"""Sizes that their unit settles: strength, area, volume, mass, load, temperature."""

from __future__ import annotations

from bot.reading.items import Item, Measure
from bot.reading.scene import Scene, plain, show
from bot.reading.slots.bags import OF, counted_of
from bot.reading.slots.beside import spaced
from bot.reading.slots.opening_sizes import kind_of_raw
from bot.reading.slots.put import put
from bot.reading.units import LENGTH, believable
from knowledge.units import convert, kind

OF_BLOCKS = {"blocks", "mortar"}  # talk in which a small joint is one of mortar
AREA, VOLUME, MASS, STRESS, FORCE, TEMPERATURE = (kind(u) for u in ("m²", "m³", "kg", "N/mm²", "kN", "°C"))


DENSITY = kind("kg/m³")


def by_unit(scene: Scene, i: int, item: Item) -> None:
    """Settle a size by the kind of its unit."""
    size, unit = item.size, item.size.unit
    what = kind(unit)
    topics = scene.topics
    if what == STRESS:
        block = dict(scene.heard.slots.get("block", {}))
        if "strength" in block and block["strength"]["value"] != size.value:
            scene.doubt(
                "block",
                "I read two block strengths. Which one?",
                [
                    (f"{v:g} N/mm²", {"block": {**block, "strength": {"value": v, "unit": unit}}})
                    for v in (block["strength"]["value"], size.value)
                ],
                item,
            )
            return
        put(scene, "block", "strength", plain(size, unit), item)
    elif what == AREA:
        near = scene.at(i + 1)
        taken = scene.in_force and scene.says("relative.taken") and len(scene.sizes()) == 1
        if near is not None and near.tagged("noun", "window") and not taken:
            return
        before, behind = scene.at(i - 1), scene.at(scene.right(i))
        if any(x is not None and kind_of_raw(x) for x in (before, behind)):
            _of_opening(scene, item)
            return
        if _of_a_floor(scene, i) and not {"render", "mesh"} & set(topics):
            face = {"area": plain(size, unit)}
            ask = f"Is {item.text} the floor of the building? Then tell me its walls: length and height."
            scene.doubt("area", ask, [(f"It is {item.text} of wall", face)], item)
            return
        scene.claim("area", plain(size, unit), item)
    elif what == VOLUME and (stuff := next((o for o in OF if noun_at(scene, i, o)), None)):
        scene.aside(item, f"a volume of {stuff}; I gauge by bags, buckets or parts")
    elif what == VOLUME and unit != "l" and _of_wall(scene, i):
        scene.claim("wall_volume", plain(size, unit), item)
    elif what == VOLUME and unit != "l" and _of_either(scene):
        ask = f"Is {item.text} the volume of the wall or of the mortar?"
        value = plain(size, unit)
        choices = [
            (f"{item.text} of wall", {"wall_volume": value}),
            (f"{item.text} of mortar", {"mortar_volume": value}),
        ]
        scene.doubt("mortar_volume", ask, choices, item)
    elif what == VOLUME:
        small = unit == "l" and "mortar" in topics and size.value <= scene.sense.bucket_most
        spoken = scene.tagged("noun", "bucket") or ("mortar" in scene.in_force and _alone(scene, item))
        if noun_at(scene, i, "bucket") or (small and spoken):
            scene.claim("bucket_size", plain(size, unit), item)
        elif (
            (unit == "l" and size.value > scene.sense.mortar_litres_from)
            or unit != "l"
            or scene.tagged("noun", "mortar")
        ):
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
        _length_of(scene, i, item)


def _of_a_floor(scene: Scene, i: int) -> bool:
    """'1200 sq ft house': the area of a building is that of its floor."""
    j = scene.right(i)
    behind, further = scene.at(j), scene.at(scene.right(j)) if j is not None else None
    walled = further is not None and further.tagged("noun", "wall")  # '45 m² garage wall'
    return behind is not None and behind.says("walls.building") and not walled


def _of_opening(scene: Scene, item: Item) -> None:
    """'a window 1 m sq': the area of the opening named before it, no wall's."""
    found = scene.heard.slots.get("openings") or []
    behind = scene.at(scene.right(scene.items.index(item)))
    if not found and behind is not None and behind.says("openings.many"):  # '8.5 m² of openings'
        opening = {"kind": "opening", "count": 1, "area": plain(item.size, item.size.unit)}
        scene.claim("openings", [opening], item)
        return
    if len(found) == 1 and not {"width", "height", "area"} & set(found[0]):
        scene.heard.slots["openings"] = [{**found[0], "area": plain(item.size, item.size.unit)}]
        scene.heard.evidence["openings"].append((item.start, item.end))
        item.used = "openings"
        return
    scene.doubt("openings", f"Is {item.text} the opening, or the wall?", [], item)


def _of_either(scene: Scene) -> bool:
    """Whether masonry is spoken of and no mortar: a volume in cubic metres may be of either."""
    walled = scene.tagged("noun", "wall") or scene.tagged("noun", "block")
    return walled and not scene.tagged("noun", "mortar")


def _of_wall(scene: Scene, i: int) -> bool:
    """'10 cum brickwork', 'brickwork 12 m³', 'bricks in 1 cum': a volume of wall, none of mortar."""
    before = scene.at(scene.left(i))
    if any(x.tagged("noun", "mortar") for x in (scene.at(scene.right(i)), before) if x is not None):
        return False
    if noun_at(scene, i, "wall", "block") or scene.topics == ["blocks"]:
        return True
    return before is not None and (before.tagged("noun", "wall") or before.tagged("noun", "block"))


def _mass(scene: Scene, i: int, item: Item) -> None:
    size = item.size
    least, most = scene.sense.bag_bulk
    bulk = least <= convert(size.value, size.unit, "kg") <= most
    if bulk and scene.tagged("noun", "bag"):
        scene.aside(item, "a bulk bag: I give sand by its mass")
    elif noun_at(scene, i, "bag"):
        scene.claim("bag_size", plain(size, size.unit), item)
        before = scene.at(i - 1)
        if before is not None and before.kind == "measure" and before.size.whole and not before.used:
            counted_of(scene, i - 1, scene.right(i) or i, "bags", before)
    elif noun_at(scene, i, "block", over="over.kind_of_block") or "safety" in scene.topics:
        put(scene, "block", "mass", plain(size, size.unit), item)
    elif "bearing" in scene.topics or noun_at(scene, i, "load") or scene.tagged("noun", "load"):
        scene.claim("load", plain(size, size.unit), item)
    elif noun_at(scene, i, "sand", "cement", "lime"):
        of = next(o for o in OF if scene.items[scene.right(i) or i].tagged("noun", o))
        scene.aside(item, f"a mass of {of}; I gauge by bags, buckets or parts")
    elif scene.tagged("noun", "bag") or _of_a_bag(scene, item):
        scene.claim("bag_size", plain(size, size.unit), item)


def _of_a_bag(scene: Scene, item: Item) -> bool:
    """'20kg' and nothing else, where bags are counted."""
    least, most = scene.sense.bag_mass
    bagged = {"mortar", "render", "boards"} & set(scene.in_force)
    return (
        _alone(scene, item)
        and bool(bagged)
        and least <= convert(item.size.value, item.size.unit, "kg") <= most
    )


def _alone(scene: Scene, item: Item) -> bool:
    """'25kg?', '14 litre ones': whether the message says nothing else."""
    return all(x is item or x.kind == "mark" or x.tagged("ask") or x.says("again.ones") for x in scene.items)


def _of_lengths(scene: Scene, i: int) -> bool:
    """'lengths of 3m', '3m lengths', '2.7 m lintel': the size is that of one piece."""
    of, pieces = scene.at(i - 1), scene.at(i - 2)
    ahead = of is not None and of.says("coats.of") and pieces is not None and pieces.says("pieces.lengths")
    behind = scene.at(i + 1)
    lintel = scene.topics == ["bearing"] and behind is not None and behind.says("bearing.lintel")
    return lintel or (ahead and "reinforcement" in (*scene.topics, *scene.in_force))


def _length_of(scene: Scene, i: int, item: Item) -> None:
    """Lengths that a noun settles; the wall's own come later."""
    if _of_lengths(scene, i):
        scene.aside(item, "the length of one piece")
        return
    size = item.size
    behind = scene.right(i, over="over.thick")
    near = scene.at(behind)
    small = size.unit in {"mm", "in", "cm"}
    before_at = scene.left(i, over="over.width")
    before = scene.at(before_at)
    beside = [x for x in (near, before) if x is not None]
    if "crack" in scene.topics and small and _crack_now(scene, i, item):
        return
    if any(x.says("crack.leans_by") for x in (scene.at(i - 1), scene.at(i + 1)) if x is not None):
        scene.aside(item, "how far it leans")
    elif near is not None and near.says("steel.bar") and small:
        scene.aside(item, "the size of a bar")
    elif small and (
        any(x.tagged("noun", "crack") for x in beside)
        or ("crack" in scene.topics and size.unit != "cm" and _as_a_crack(scene, size))
    ):
        put(scene, "crack", "width", plain(size, size.unit), item)
    elif (near is not None and near.tagged("noun", "cavity")) or (
        before is not None and before.tagged("noun", "cavity") and small
    ):
        scene.claim("cavity", plain(size, size.unit), item)
    elif (
        (near is not None and near.tagged("noun", "mortar_joint"))
        or (
            before is not None
            and before.tagged("noun", "mortar_joint")
            and small
            and size.to_mm() <= scene.sense.bed_thickest
        )
        or (any(x.tagged("noun", "joint") for x in beside) and _as_a_bed(scene, size))
    ):
        scene.claim("joint_thickness", plain(size, size.unit), item)
    elif small and (
        (near is not None and near.tagged("noun", "coat"))
        or (before is not None and before.tagged("noun", "coat") and "render" in scene.topics)
    ):
        if size.to_mm() <= scene.sense.coat_thickest_told:
            scene.claim("coat_thickness", plain(size, size.unit), item)
    elif near is not None and near.says("pieces.lengths"):
        scene.aside(item, "the length of one piece")
    elif (
        near is not None
        and near.tagged("noun", "board")
        and believable(scene, plain(size, size.unit), "board")
    ):
        put(scene, "board", "height", plain(size, size.unit), item)
    elif near is not None and near.tagged("wants", "mesh", "lap"):
        scene.claim("lap", plain(size, size.unit), item)
    elif spaced(scene, i):
        piers = scene.at(i - 2)
        if piers is not None and piers.tagged("slot", "ends", "column"):
            scene.aside(item, "how far apart the piers stand")
            return
        if _or_other(scene, i):
            return
        scene.claim("spacing", plain(size, size.unit), item)
    elif (
        "crack" in scene.topics
        and size.unit in {"mm", "cm", "in"}
        and size.to_mm() <= scene.sense.crack_widest
    ):
        put(scene, "crack", "width", plain(size, size.unit), item)


def _crack_now(scene: Scene, i: int, item: Item) -> bool:
    """'was 2 mm in January, now 5 mm': the width now; that it grew is told by the two."""
    crack = scene.heard.slots.get("crack") or {}
    was, before = crack.get("width"), scene.at(scene.left(i, over="walls.before_size"))
    now = any(x.says("crack.now") for x in scene.items[max(0, i - 3) : i])
    if was is None or not (now or (before is not None and before.says("crack.now"))):
        return False
    width = plain(item.size, item.size.unit)
    grew = convert(width["value"], width["unit"], was["unit"]) > was["value"]
    scene.heard.slots["crack"] = {**crack, "width": width, "growing": grew}
    scene.heard.evidence["crack"].append((item.start, item.end))
    item.used = "crack"
    scene.assume("crack", show(width), f"It was {show(was)} before; {show(width)} counts.")
    return True


def _as_a_crack(scene: Scene, size: Measure) -> bool:
    """Whether a small size is the width of the crack that is asked about, where none was said yet."""
    width = (scene.heard.slots.get("crack") or {}).get("width")
    return width is None and 0 < size.to_mm() <= scene.sense.crack_widest


def _as_a_bed(scene: Scene, size: Measure) -> bool:
    """Whether a size at 'joint' is of the mortar: small, and no movement joint is spoken of."""
    topics = set(scene.topics if scene.named_strongly or not scene.in_force else scene.in_force)
    movement = "joints" in topics and not topics & OF_BLOCKS
    found = {"value": size.value, "unit": size.unit}
    movement |= scene.says("joints.of_movement")
    return not movement and size.unit in {"mm", "in", "cm"} and believable(scene, found, "coat")


def _or_other(scene: Scene, i: int) -> bool:
    """'16 in oc or 24 in oc': two spacings that are asked about; neither is one of the wall."""
    joined = next(
        (n for n in range(i + 1, min(i + 4, len(scene.items))) if scene.items[n].tagged("connect", "or")),
        None,
    )
    other = scene.at(joined + 1) if joined is not None else None
    if other is None or other.kind != "measure" or other.size.unit != scene.items[i].size.unit:
        return False
    for item in (scene.items[i], other):
        scene.aside(item, "one of the two that were asked about")
    return True


def noun_at(scene: Scene, i: int, *names: str, over: str = "") -> bool:
    """Whether one of these nouns stands directly behind item i, or before it with ':' or nothing between."""
    j = scene.right(i, over=over)
    near = scene.at(j)
    return near is not None and any(near.tagged("noun", n) for n in names)
