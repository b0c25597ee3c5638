"""Walls told by a total, by equal lengths or by a ground plan."""

from __future__ import annotations

from bot.reading.heard import Wall
from bot.reading.scene import Scene


def take_total(scene: Scene) -> None:
    """'3 walls total 24m': the length is of all together; 'in 4 equal lengths' shares it out."""
    heard = scene.heard
    slots = heard.slots
    if "length" not in slots:
        return
    together = (
        scene.says("walls.in_total")
        and any(x.says("walls.in_total") and not _of_openings(scene, i) for i, x in enumerate(scene.items))
        and not _total_is_asked(scene)
    )
    if together and slots.get("walls", 1) > 1 and not scene.says("walls.each"):
        slots.pop("walls")
        start, end = heard.evidence.pop("walls", [(0, 0)])[0]
        why = "the length was given for all walls together"
        heard.set_aside.append({"text": heard.text[start:end], "span": [start, end], "why": why})
    for i, item in enumerate(scene.items if scene.says("walls.equal") else ()):
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


def _of_openings(scene: Scene, i: int) -> bool:
    """'one door 900 x 2100 in total': how many doors, and no length."""
    near = scene.items[max(0, i - 2) : i]
    return any(x.tagged("noun", kind) for x in near for kind in ("window", "door", "opening"))


def _total_is_asked(scene: Scene) -> bool:
    """'total mjs', 'blocks in total': the total asked for, not the length given."""
    for i, item in enumerate(scene.items):
        if item.tagged("dim", "total") or "total" in item.low.split():
            near = [x for x in (scene.at(i - 1), scene.at(i + 1)) if x is not None]
            if any(x.kind in {"measure", "dims"} for x in near):
                return False
    return True


def take_plan(scene: Scene) -> None:
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
