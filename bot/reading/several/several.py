"""Several walls in one message: one reading each."""

from __future__ import annotations

from collections.abc import Callable
from typing import Any

from bot.reading.heard import Doubt, Heard, Wall
from bot.reading.items import Item
from bot.reading.scene import Scene
from bot.reading.several.parts import split_items


def read_parts(scene: Scene, fill: Callable[[Scene], None]) -> bool:
    """Read each wall on its own; True where the message names several."""
    found = split_items(scene)
    if found is None:
        return False
    parts, head, tail = found
    whole = scene.items
    walls: list[Wall] = []
    doubts: list[Doubt] = []
    heard = scene.heard
    used: set[int] = set()
    for part in parts:
        own = [*head, *whole[part.first : part.last], *tail]
        state = [(x, x.used) for x in own]
        sub = Heard(text=heard.text)
        inner = Scene(own, sub, scene.region, scene.words)
        inner.topics, inner.feet = scene.topics, scene.feet
        fill(inner)
        used |= {id(x) for x in own if x.used}
        for item, before in state:
            if item in head or item in tail:
                item.used = before
        if not {"length", "area"} & set(sub.slots):
            return False
        if sub.slots.get("walls") == len(parts) and not any(
            x.used == "walls" for x in whole[part.first : part.last]
        ):
            del sub.slots["walls"]
        walls.append(Wall(part.label, sub.slots, sub.evidence))
        doubts += [d for d in sub.doubts if d.slot not in {x.slot for x in doubts}]
        heard.assumed += [a for a in sub.assumed if a not in heard.assumed]
        heard.set_aside += [a for a in sub.set_aside if a not in heard.set_aside]
        heard.marks |= sub.marks
    for item in whole:
        if id(item) in used and not item.used:
            item.used = "walls"
    _share(walls, heard)
    heard.walls, heard.doubts = walls, heard.doubts + doubts
    shared = set.intersection(*(set(w.slots) for w in walls))
    heard.slots.update(
        {k: walls[0].slots[k] for k in shared if all(w.slots[k] == walls[0].slots[k] for w in walls)}
    )
    return True


def _share(walls: list[Wall], heard: Heard) -> None:
    """'A 6.2 / B 11.4, 2.4 high': what only the last was given holds for all, and is said."""
    for slot in ("height", "thickness", "block", "place", "leaf", "finish"):
        if slot in walls[-1].slots and not any(slot in wall.slots for wall in walls[:-1]):
            for wall in walls[:-1]:
                wall.slots[slot] = walls[-1].slots[slot]
                wall.evidence[slot] = walls[-1].evidence.get(slot, [])
            because = f"'{slot}' was said once and taken for all the walls."
            heard.assumed.append({"slot": slot, "value": walls[-1].slots[slot], "because": because})


def split_walls(scene: Scene) -> None:
    """Totals over walls, equal lengths, plan sizes, two mixes or two leaves."""
    if scene.heard.walls:
        return
    _total(scene)
    _plan(scene)
    _leaves(scene)
    _places(scene)


def _total(scene: Scene) -> None:
    """'3 walls total 24m': the length is of all together; 'in 4 equal lengths' shares it out."""
    heard = scene.heard
    slots = heard.slots
    if "length" not in slots:
        return
    together = any(x.says("walls.in_total") for x in scene.items) and not _total_is_asked(scene)
    if together and slots.get("walls", 1) > 1 and not any(x.says("walls.each") for x in scene.items):
        slots.pop("walls")
        start, end = heard.evidence.pop("walls", [(0, 0)])[0]
        why = "the length was given for all walls together"
        heard.set_aside.append({"text": heard.text[start:end], "span": [start, end], "why": why})
    for i, item in enumerate(scene.items):
        if (
            item.kind == "measure"
            and item.size.whole
            and item.size.value > 1
            and any(x.says("walls.equal") for x in scene.items[i + 1 : i + 3])
        ):
            n = int(item.size.value)
            length = dict(slots["length"])
            length["value"] = round(length["value"] / n, 6)
            slots["length"] = length
            heard.doubts = [d for d in heard.doubts if d.slot != "number"]
            scene.claim("walls", n, item)


def _total_is_asked(scene: Scene) -> bool:
    """'total mjs', 'blocks in total': the total asked for, not the length given."""
    for i, item in enumerate(scene.items):
        if item.tagged("dim", "total") or "total" in item.low.split():
            near = [x for x in (scene.at(i - 1), scene.at(i + 1)) if x is not None]
            if any(x.kind in {"measure", "dims"} for x in near):
                return False
    return True


def _plan(scene: Scene) -> None:
    """'shed 4x3, walls 2.2 high': two walls of each length."""
    heard = scene.heard
    slots = heard.slots
    words = {word for x in scene.items for word in x.low.split()}
    doubt = next((d for d in heard.doubts if d.slot == "height"), None)
    if doubt is None or words.isdisjoint(scene.words.cue["walls.plan"]):
        return
    plan = next(
        (x for x in scene.items if x.kind == "dims" and len(x.sizes) == 2 and x.used in {"length", "height"}),
        None,
    )
    high = next(
        (
            x
            for i, x in enumerate(scene.items)
            if x.kind == "measure"
            and scene.at(i + 1) is not None
            and scene.items[i + 1].tagged("dim", "height")
        ),
        None,
    )
    if plan is None or high is None or "walls" not in words:
        return
    unit = next((s.unit for s in plan.sizes if s.unit), "m")
    height = {"value": high.size.value, "unit": high.size.unit or "m"}
    heard.doubts.remove(doubt)
    shared = {k: v for k, v in slots.items() if k not in {"length", "height", "walls"}}
    spans = {"length": [(plan.start, plan.end)], "height": [(high.start, high.end)]}
    heard.walls = [
        Wall(
            name,
            {**shared, "length": {"value": s.value, "unit": s.unit or unit}, "height": height, "walls": 2},
            {**heard.evidence, **spans},
        )
        for name, s in zip(("1", "2"), plan.sizes, strict=True)
    ]
    slots.pop("length", None)
    slots["height"] = height
    how = "two walls of each length, measured outside, corners not deducted"
    scene.assume("walls", 2, f"'{plan.text}' was taken as a plan: {how}.")


def _named_leaves(scene: Scene) -> bool:
    """'inner leaf on 1:1:6, outer leaf brick on 1:½:4½': each leaf has what stands behind its name."""
    heard, items = scene.heard, scene.items
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
    items = scene.items
    return any(x.says("walls.for_each") for x in items) and not any(x.says("walls.same") for x in items)


def _leaf(item: Item) -> str | None:
    """inner or outer, where the item names that leaf."""
    return next((leaf for leaf in ("inner", "outer") if item.tagged("slot", "leaf", leaf)), None)


def _leaves(scene: Scene) -> None:
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
        and any(x.tagged("slot", "leaf", "cavity") for x in scene.items)
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
    if any(x.says("walls.side_of_wall") for x in scene.items):
        heard.slots.pop("place", None)
    heard.slots["leaf"] = "cavity"


def _places(scene: Scene) -> None:
    """'6 to 1 on the inside 4 to 1 below dpc': each mix goes with the place nearest behind it."""
    heard = scene.heard
    mixes = next((b for b in heard.bare if isinstance(b, list)), None)
    places = next((b["place"] for b in heard.bare if isinstance(b, dict) and "place" in b), None)
    if mixes is not None:
        heard.bare.remove(mixes)
        entries = []
        for item, mix in mixes:
            slots = {k: v for k, v in heard.slots.items() if k != "mix"}
            behind = sorted((a, value) for value, (a, _) in (places or {}).items() if a >= item.end)
            before = sorted((-b, value) for value, (_, b) in (places or {}).items() if b <= item.start)
            if behind or before:
                slots["place"] = (behind or before)[0][1]
            entries.append(
                Wall(None, {**slots, "mix": mix}, {**heard.evidence, "mix": [(item.start, item.end)]})
            )
        heard.walls = heard.walls or entries
    elif places is not None and (
        "mortar" in scene.topics or ("joints" in scene.topics and "length" not in heard.slots)
    ):
        heard.walls = heard.walls or [
            Wall(None, {**heard.slots, "place": value}, {**heard.evidence, "place": [span]})
            for value, span in places.items()
        ]
    elif places is not None and len(places) > 1 and not heard.walls:
        heard.doubts.append(
            Doubt("place", "Which is it?", [(v.replace("_", " "), {"place": v}) for v in places])
        )
    heard.bare = [b for b in heard.bare if not (isinstance(b, dict) and "place" in b)]
