"""Slots that words fill: place, leaf, finish, shape, weather and the like."""

from __future__ import annotations

from bot.reading.items import Item
from bot.reading.scene import Scene
from bot.reading.slots.cracks import take_crack
from bot.reading.slots.ends import take_ends
from bot.reading.slots.materials import take_materials
from bot.reading.slots.senses import inside_of, is_triangle, leafy, said_used, solid_wall


def take_kinds(scene: Scene) -> None:
    """All of them."""
    take_materials(scene)
    told = scene.told
    for slot in ONE_WORD:
        if slot in told or slot == "work":  # the work of a day follows from what it is done with
            _one(scene, slot)
    for slot in FLAGS:
        if slot in told:
            _flag(scene, slot)
    if "faces" in told:
        _faces(scene)
    take_ends(scene)
    take_crack(scene)
    for i, item in enumerate(scene.items if scene.tagged("topic", "render") else ()):
        if item.tagged("topic", "render") and scene.negated(i):
            scene.heard.negated.append(("finish", "plaster" if "plaster" in item.low else "render"))


ONE_WORD = ("place", "leaf", "finish", "shape", "trend", "work", "frost")


FLAGS = ("bed_reinforcement", "plasticiser", "severe", "rain", "wind")


def _one(scene: Scene, slot: str) -> None:
    values: dict[str, Item] = {}
    for i, item, value in scene.told.get(slot, []):
        if scene.negated(i):
            scene.heard.negated.append((slot, value))
            continue
        if (
            slot == "finish"
            and item.tagged("topic", "render")
            and item.tagged("topic", "render", "strong")
            and value == "render"
            and "render" in scene.topics
        ):
            continue
        if slot == "finish" and "boards" in scene.topics and value in {"boards", "plaster"}:
            continue
        if slot == "place" and item.says("place.inside") and leafy(scene, i):
            continue
        if slot == "place" and item.low == "inside" and inside_of(scene, i):
            continue
        if slot == "finish" and scene.topics == ["weather"] and item.tagged("topic", "render"):
            continue  # what is done, not what the wall has
        if slot == "work" and "weather" not in scene.topics:
            continue
        if slot in {"trend", "frost"} and "weather" not in scene.topics:
            continue
        if (
            slot == "leaf"
            and item.low == "cavity"
            and "cavity" in scene.heard.slots
            and any(
                spans and spans[0][1] >= item.start - 2 for spans in [scene.heard.evidence.get("cavity", [])]
            )
        ):
            continue
        if slot == "leaf" and item.low == "solid" and not solid_wall(scene, i):
            continue
        if slot == "shape" and item.says("shape.gable") and not is_triangle(scene, item):
            continue
        values.setdefault(value, item)
    if slot == "leaf" and {"inner", "outer"} <= set(values):
        values = {"cavity": values["outer"]}
    if slot == "leaf" and len(values) > 1 and "cavity" in values:
        other = next(v for v in values if v != "cavity")
        values = (
            {other: values[other]}
            if (other in {"inner", "outer"} and "brick outer" not in scene.heard.marks and other == "inner")
            or other == "outer"
            else {"cavity": values["cavity"]}
        )
    if slot == "place" and len(values) == 2 and values.get("below_dpc", item).says("place.of_the_ground"):
        values.pop("below_dpc")  # 'boundary wall, MJs & foundations'
    if slot == "place" and len(values) > 1:
        for special in ("parapet", "below_dpc", "freestanding"):
            if special in values and not (set(values) - {special, "external"}):
                values = {special: values[special]}
                break
    if slot == "finish" and (
        set(values) == {"render", "plaster"} or ("boards" in values and len(values) > 1)
    ):
        keep = "render" if "render" in values else next(iter(values))
        values = {keep: values[keep]}
    if slot == "frost" and len(values) > 1:
        values = {"frozen": values["frozen"]}
    if slot == "work" and len(values) > 1:
        values = {"render": values["render"]}
    if slot == "work" and not values and "weather" in scene.topics:
        coat = next(
            (x for i, x in enumerate(scene.items) if x.tagged("topic", "render") and not scene.negated(i)),
            None,
        )
        if coat is not None:
            values = {"render": coat}
    if len(values) == 1:
        value, item = next(iter(values.items()))
        scene.claim(slot, value, item)
    elif len(values) > 1:
        scene.heard.bare.append({slot: {v: (x.start, x.end) for v, x in values.items()}})


def _flag(scene: Scene, slot: str) -> None:
    for i, item, value in scene.told.get(slot, []):
        if slot in {"rain", "wind"} and not {"weather", "safety"} & set(scene.topics):
            continue
        if slot == "bed_reinforcement" and "reinforcement" in scene.topics and "joints" not in scene.topics:
            continue
        if slot == "plasticiser" and not said_used(scene, i):
            continue
        yes = (value == "true") != scene.negated(i)
        scene.claim(slot, yes, item, soft=True)


def _faces(scene: Scene) -> None:
    near_ends = scene.tagged("slot", "ends")
    for _, item, value in scene.told.get("faces", []):
        if (
            near_ends
            and {"joints", "wall"} & set(scene.topics)
            and not any("render" in x.low or "plaster" in x.low for x in scene.items)
        ):
            continue
        scene.claim("faces", 2 if value == "two" else 1, item, soft=True)
