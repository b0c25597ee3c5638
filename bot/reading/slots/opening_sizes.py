"""Sizes and places of an opening."""

from __future__ import annotations

from typing import Any

from bot.reading.items import Item
from bot.reading.scene import Scene
from bot.reading.units import LENGTH, believable, candidates, pair
from knowledge.units import kind

KINDS = ("window", "door", "opening")
BROAD = ("wall", "block", "board", "roll")  # things told by two sides
REACH = 6  # items between the noun of an opening and its size: 'at the left hand end'
THIN = ("coat", "cavity", "joint", "course")  # and those told by one


def kind_of(item: Item | None) -> str | None:
    """window, door or opening, where the item names one."""
    if item is None or item.used or not item.tagged("noun"):
        return None
    return next((k for k in KINDS if item.tagged("noun", k)), None)


def kind_of_raw(item: Item) -> bool:
    """Whether the item is an opening noun, used or not."""
    return any(item.tagged("noun", k) for k in KINDS)


def stays(scene: Scene, i: int) -> bool:
    """'W1 stays': nothing of it changes."""
    after = scene.at(i + 1)
    return after is not None and after.says("openings.stays")


def fits(scene: Scene, item: Item) -> bool:
    """Whether a pair can be an opening."""
    return any(
        all(believable(scene, part, "opening") for part in reading) and len(reading) == 2
        for reading in pair(scene, item.sizes, "opening")
    )


def fits_wall(scene: Scene, item: Item) -> bool:
    return any(len(reading) == 2 and reading[0]["value"] > 6 for reading in pair(scene, item.sizes, "wall"))


def fits_one(scene: Scene, item: Item) -> bool:
    return any(believable(scene, one, "opening") for one in candidates(scene, item.size, "opening"))


def set_pair(scene: Scene, item: Item, opening: dict[str, Any], spans: list[Item], sizes: list[Any]) -> bool:
    if len(sizes) != 2 or "width" in opening:
        return False
    options = [
        r for r in pair(scene, sizes, "opening") if all(believable(scene, part, "opening") for part in r)
    ]
    item.used = "openings"
    spans.append(item)
    if len(options) == 1:
        width, height = options[0]
        opening["width"], opening["height"] = width, height
        return True
    scene.doubt(
        "openings",
        f"What unit is the opening {item.text} in?",
        [
            (
                f"{w['value']:g} {w['unit']} × {h['value']:g} {h['unit']}",
                {"openings": [{**opening, "width": w, "height": h}]},
            )
            for w, h in options
        ],
        item,
    )
    return False


def set_one(
    scene: Scene, item: Item, opening: dict[str, Any], spans: list[Item], slot: str, size: Any
) -> bool:
    use = "opening"
    options = [
        c
        for c in candidates(scene, size, use)
        if slot in {"from_left", "from_right", "sill"} or believable(scene, c, use)
    ]
    if slot in {"from_left", "from_right"}:
        options = candidates(scene, size, "wall")
    elif slot == "sill":
        options = candidates(scene, size, "opening")
    item.used = "openings"
    spans.append(item)
    if len(options) != 1 or slot in opening:
        choices = [(f"{o['value']:g} {o['unit']}", {"openings": [{**opening, slot: o}]}) for o in options]
        scene.doubt("openings", f"How should I read {item.text} at the {opening['kind']}?", choices, item)
        return False
    opening[slot] = options[0]
    return True


def place_behind(scene: Scene, j: int) -> str | None:
    """'2 from the left', '1.5 off LH end', '2m in from the right': which end a size is measured from."""
    items = scene.items
    k = j + 1
    way = False
    while k < len(items) and k <= j + 4:
        item = items[k]
        if item.tagged("dim", "from_left"):
            return "from_left"
        if item.tagged("dim", "from_right"):
            return "from_right"
        if item.says("openings.way"):
            way = True
        elif item.tagged("dim", "from_end") and not item.says("openings.in"):
            side = _side_near(scene, k - 1, len(items))
            return "from_right" if side == "right" else "from_left"
        elif way and item.tagged("side", "left"):
            return "from_left"
        elif way and item.tagged("side", "right"):
            return "from_right"
        elif not item.says("openings.small"):
            break
        k += 1
    behind, further = scene.at(j + 1), scene.at(j + 2)
    if behind is None:
        return None
    sided = further is not None and further.kind == "measure" and _wide_or_high(scene.at(j + 3))
    last = (
        further is None or further.kind == "mark" or sided
    )  # 'door 2m in, 9m wall', 'window 2m in 1.8 wide'
    last = last and behind.says("openings.in")
    return "from_left" if last or behind.says("openings.along") else None


def _wide_or_high(item: Item | None) -> bool:
    return item is not None and (item.tagged("dim", "width") or item.tagged("dim", "height"))


def _side_near(scene: Scene, j: int, stop: int) -> str | None:
    for k in range(j + 1, min(stop, j + 6, len(scene.items))):
        if scene.items[k].tagged("side", "right"):
            return "right"
        if scene.items[k].tagged("side", "left"):
            return "left"
    return None


def _no_block(scene: Scene, j: int) -> bool:
    """A pair too large for a block, behind the noun of an opening: 'door 36in x 80in blocks'."""
    item = scene.items[j]
    most = scene.sense.block_most
    if any(s.unit and kind(s.unit) != LENGTH for s in item.sizes):  # '1200 x 10 m²'
        return False
    large = any((s.to_mm() if s.unit else s.value) > most for s in item.sizes)
    bare = item.kind == "dims" and all(not s.unit for s in item.sizes) and not scene.feet
    large = large or (
        bare and any(s.decimal and s.value < scene.sense.opening_bare_metres for s in item.sizes)
    )
    faces = {tuple(face) for face in scene.region.known.get("face", ())}
    in_feet = item.kind == "dims" and scene.feet and tuple(s.value for s in item.sizes) not in faces
    large = large or (in_feet and fits(scene, item))  # '3 windows 4x4 block count'
    return large and _behind_its_noun(scene, j)


def _no_joint(scene: Scene, j: int) -> bool:
    """'doors 826 wide joints where': wider than any joint, right behind its noun."""
    item = scene.items[j]
    if item.kind != "measure" or (item.size.unit and kind(item.size.unit) != LENGTH):
        return False
    metres = not item.size.unit and item.size.decimal
    wide = (item.size.value * 1000 if metres else item.size.to_mm()) > scene.sense.gap_widest
    return wide and j > 0 and kind_of_raw(scene.items[j - 1])


def _behind_its_noun(scene: Scene, j: int) -> bool:
    """'door 900x2100', 'door at the left end 900x2100': nothing but a place stands between."""
    for item in reversed(scene.items[max(0, j - REACH) : j]):
        if kind_of_raw(item):
            return True
        if item.used == "openings":  # 'door 2.1 high 900 wide blocks'
            continue
        if item.kind not in {"word", "phrase"} or item.tagged("noun") or item.tagged("topic"):
            return False
        if item.tagged("connect", "and") or item.tagged("ask"):
            return False
    return False


def owner_right(scene: Scene, j: int) -> bool:
    """Whether something else directly behind the size claims it."""
    if j in scene.owners:
        return scene.owners[j] > j
    k = scene.right(j, over="over.dimension")
    nxt = scene.at(k)
    labelled = j > 0 and scene.items[j - 1].tagged("label")
    if labelled and nxt is not None and nxt.tagged("label"):
        return False  # 'W1 1500x1050 W2 900x1050'
    if nxt is None or k is None or (nxt.tagged("noun", "block") and _no_block(scene, j)):
        return False
    if kind_of(nxt) and not nxt.tagged("connect", "another"):  # 'at 3 m one at 10 m'
        between = scene.items[j + 1 : k]
        return not any(x.kind == "mark" for x in between)
    ahead = scene.at(j - 1)
    if ahead is not None and ahead.tagged("dim", "at") and nxt.tagged("noun", "joint"):
        return False  # 'door 0.9 at 8 joints'
    if nxt.tagged("noun", "joint") and _no_joint(scene, j):
        return False
    flat = () if scene.items[j].kind == "dims" else THIN  # 'window 1200 x 900 render'
    return any(nxt.tagged("noun", n) for n in (*BROAD, *flat)) or nxt.tagged("slot", "material")


def reaches_past(scene: Scene, j: int) -> bool:
    """'2.4 high wall': the dimension word is followed by another owner."""
    k = scene.right(j + 1)
    nxt = scene.at(k)
    return nxt is not None and k == j + 2 and nxt.tagged("noun", "wall")
