"""Turns of speech that can be taken two ways: asked, where the sum would come out different."""

from __future__ import annotations

from collections.abc import Callable
from typing import Any

from bot.reading.items import Item
from bot.reading.scene import Scene, show
from bot.reading.slots.by_course import by_course
from bot.reading.slots.gable_wall import gable_wall
from bot.reading.slots.ground_plan import ground_plan
from bot.reading.slots.heights_asked import OF_HEIGHTS
from bot.reading.slots.joint_places import joints_apart
from bot.reading.units import believable
from knowledge.units import convert

AMOUNTS = {"blocks", "render", "mesh", "boards", "wall"}
PARTLY = {*AMOUNTS, "ties", "mortar", "reinforcement"}


def ask_back(scene: Scene) -> None:
    """Put a question in place of a reading that may be the other one."""
    for check in CHECKS:
        check(scene)


def _each_coat(scene: Scene) -> None:
    """'2 coats of 10 mm': 10 mm each, or in all?"""
    thick = scene.heard.slots.get("coat_thickness")
    told = scene.heard.evidence.get("coat_thickness", [])
    if thick is None or "render" not in scene.topics or len(told) > 1:  # each was told its own
        return
    most = scene.sense.coats_most
    for i, item in enumerate(scene.items):
        near, after = scene.at(scene.right(i)), scene.at(i + 2)
        of = after is not None and (
            after.says("coats.of")
            or (
                after.kind == "measure"
                and after.used == "coat_thickness"
                and near is not None
                and near.low == "coats"
            )
        )
        counted = (
            item.kind == "measure" and item.size.whole and not item.size.unit and 2 <= item.size.value <= most
        )
        if not counted or not of or near is None or not near.says("coats.many"):
            continue
        if scene.says("coats.in_all"):
            return
        n = int(item.size.value)
        all_of_it = {**thick, "value": round(thick["value"] * n, 6)}
        choices = [
            (f"{show(thick)} each, {show(all_of_it)} in all", {"coat_thickness": all_of_it}),
            (f"{show(thick)} in all", {"coat_thickness": thick}),
        ]
        scene.doubt("coat_thickness", f"Is {show(thick)} each coat, or all of them?", choices, item)


def _by_the_course(scene: Scene) -> None:
    """'every 3 courses', 'each course': a spacing that hangs on the height of a course."""
    if by_course(scene) or not scene.says("spacing.every"):
        return
    for i, item in enumerate(scene.items):
        if not item.says("spacing.every") or not set(scene.topics) & {"reinforcement", "ties", "joints"}:
            continue
        ahead = scene.items[i + 1 : i + 3]
        if any(x.used == "bed_reinforcement" for x in scene.items) and "reinforcement" not in scene.topics:
            continue
        if not any(x.kind == "measure" for x in ahead) and "joints" in scene.topics:
            continue
        course = next((x for x in ahead if x.tagged("noun", "course") or x.says("spacing.course")), None)
        if course is None:
            continue
        scene.heard.slots.pop("courses", None)
        scene.doubt(
            "spacing",
            f"How far apart is that up the wall, in {'inches' if scene.feet else 'mm'}?",
            [],
            *[x for x in ahead if x.kind == "measure"],
        )


def _laid_flat(scene: Scene) -> None:
    """'laid flat 215 wall': the wall is as thick as a block is high; or is it the block?"""
    block = scene.heard.slots.get("block") or {}
    thick = block.get("thickness")
    high = {face[1] for face in scene.region.known.get("face", ())}
    if block.get("laid") != "flat" or thick is None or thick["unit"] != "mm" or thick["value"] not in high:
        return
    usual = {part: value for part, value in block.items() if part != "thickness"}
    choices: list[tuple[str, dict[str, Any]]] = [
        (f"The wall is {show(thick)} thick", {"block": {**usual, "height": thick}}),
        (f"The block is {show(thick)} thick", {"block": block}),
    ]
    scene.heard.slots.pop("block")
    scene.doubt("block", f"Is {show(thick)} the wall, or the block that is laid flat?", choices)


def _both_sides(scene: Scene) -> None:
    """'both sides', 'both skins' of blocks: two walls of that size, or one?"""
    slots = scene.heard.slots
    if scene.topics != ["blocks"] or {"walls", "finish"} & set(slots) or not {"length", "area"} & set(slots):
        return
    skins = next((x for x in scene.items if x.says("block.both_skins")), None)
    told = scene.heard.evidence.get("faces", []) if slots.get("faces") == 2 else []
    sides = next((x for x in scene.items if (x.start, x.end) in told), None)
    source = skins or sides
    if source is None:
        return
    if sides is not None:
        slots.pop("faces")
        scene.heard.evidence.pop("faces", None)
    two = "Two leaves of that size" if skins is not None else "Two walls of that size"
    choices: list[tuple[str, dict[str, Any]]] = [(two, {"walls": 2}), ("One", {"walls": 1})]
    scene.doubt("walls", f"'{source.text}': is that size built twice?", choices, source)


def _gable(scene: Scene) -> None:
    """'gable 8 x 3': the triangle over the eaves, or a wall that goes straight up?"""
    slots = scene.heard.slots
    peak = scene.says("shape.to_the_peak")
    if (
        "shape" in slots
        or not {"length", "height"} <= set(slots)
        or not {*AMOUNTS, "ties", "mortar"} & set(scene.topics)
    ):
        return
    gable = next(
        (x for x in scene.items if x.says("shape.gable_alone") or (peak and x.says("shape.gable"))), None
    )
    if gable is None or (not peak and scene.says("shape.upright")):
        return
    if peak:
        slots["shape"] = "triangle"
        because = f"To the peak: a triangle {show(slots['height'])} high over {show(slots['length'])}."
        scene.assume("shape", "triangle", because)
        return
    choices: list[tuple[str, dict[str, Any]]] = [
        (f"Triangle, {show(slots['height'])} to the peak", {"shape": "triangle"}),
        (f"Rectangle, {show(slots['height'])} high", {"height": slots["height"]}),
    ]
    scene.doubt("shape", "Is the gable a triangle, or a rectangle?", choices)


def _share_of_it(scene: Scene) -> None:
    """'a third of the wall is glass', 'half of 40 m²': how much of it is asked, not guessed."""
    if not PARTLY & set(scene.topics):
        return
    text = f" {scene.heard.text.lower()} "
    if any(f" {part} " in text for part in scene.words.cue["times.share"]) and "length" not in {
        d.slot for d in scene.heard.doubts
    }:
        scene.heard.slots.pop("area", None)
        scene.doubt("area", "How much wall is it then, in m²?", [])


def _already_laid(scene: Scene) -> None:
    """'done 5 courses of a 6 x 2.4 wall, how many more': the courses are no height."""
    slots = scene.heard.slots
    if {"courses", "height"} <= set(slots) and scene.says("block.done"):
        ask = f"Are {slots['courses']} courses laid already? Then send the height that is left to build."
        scene.doubt("height", ask, [])
        slots.pop("courses")


TIMES = {"times.half": 0.5, "times.twice": 2.0}


def _part_or_times(scene: Scene) -> None:
    """'half of 24 m', 'twice 6 m': of what was said, or already reckoned?"""
    length = scene.heard.slots.get("length")
    if length is None:
        return
    starts = scene.words.starts(*TIMES)
    if not any(item.low in starts for item in scene.items):
        return
    for i, item in enumerate(scene.items):
        words = " ".join(x.low for x in scene.items[i : i + 2])
        told = next(
            (t for name, t in TIMES.items() if item.says(name) or scene.words.says(words, name)),
            None,
        )
        after = scene.at(i + 2) if told == 0.5 else scene.at(i + 1)
        if told is None or length is None or (after is not None and after.says("times.as")):
            continue
        other = {**length, "value": round(length["value"] * told, 6)}
        choices = [(show(x), {"length": x}) for x in (length, other)]
        if told == 2.0:
            choices = [
                (f"{show(length)}, two walls", {"walls": 2, "length": length}),
                (f"{show(other)} in all", {"length": other}),
                choices[0],
            ]
        scene.doubt("length", "How long is it in all?", choices, item)
        return


def _bags_and_buckets(scene: Scene) -> None:
    """'half a bag of cement to 6 buckets of sand': two measures, no mix."""
    slots = scene.heard.slots
    if (
        {"bags", "buckets"} <= set(slots)
        and "mix" not in slots
        and slots["bags"].get("of") != slots["buckets"].get("of")
    ):
        what = {part: slots[part].get("of", "cement") for part in ("bags", "buckets")}
        ask = f"How many buckets of {what['bags']} to those of {what['buckets']}? A bag is no bucket."
        scene.doubt("mix", ask, [])


def _two_coat_mixes(scene: Scene) -> None:
    """'scratch coat 6:1 finish 4:1': one of them at a time."""
    mixes = next((b for b in scene.heard.bare if isinstance(b, list)), None)
    if mixes is None or "render" not in scene.topics or len(mixes) < 2:
        return
    scene.heard.bare.remove(mixes)
    choices = [(f"The mix {item.text}", {"mix": mix}) for item, mix in mixes]
    ask = "No coat may be stronger than the one under it. Which mix shall I check?"
    scene.doubt("mix", ask, choices, *[item for item, _ in mixes])


def _one_joint(scene: Scene, item: Item) -> bool:
    """A joint, and not several of them."""
    return item.tagged("noun", "joint") and not item.low.endswith(scene.words.cue["walls.many_ends"])


def _joint_in_the_middle(scene: Scene) -> None:
    """'one joint in the middle': at half the length."""
    slots, evidence = scene.heard.slots, scene.heard.evidence
    length = slots.get("length")
    if "joints" not in scene.topics or "joint_at" in slots or "openings" in slots:
        return
    middle = next((x for x in scene.items if x.says("openings.middle") or x.tagged("middle")), None)
    if middle is None:
        return
    if length is None or not any(_one_joint(scene, x) for x in scene.items):
        return
    place = {**length, "value": round(length["value"] / 2, 6)}
    slots["joint_at"], evidence["joint_at"] = [place], [(middle.start, middle.end)]
    scene.assume("joint_at", show(place), f"In the middle: {show(place)} from the left end.")


def _of_ties(scene: Scene) -> None:
    """'ties 900 across 450 up': centres, and no wall."""
    slots, evidence = scene.heard.slots, scene.heard.evidence
    if scene.topics != ["ties"] or not {"length", "height"} <= set(slots) or "spacing" in slots:
        return
    if any(s["unit"] != "mm" and s["unit"] != "in" for s in (slots["length"], slots["height"])):
        return
    if believable(scene, slots["height"], "height") and believable(scene, slots["length"], "wall"):
        wide = convert(slots["length"]["value"], slots["length"]["unit"], "m")
        if wide > scene.sense.centres_widest:
            return
    for slot, centres in (("length", "spacing"), ("height", "spacing_up")):
        slots[centres], evidence[centres] = slots.pop(slot), evidence.pop(slot)
    because = f"{show(slots['spacing'])} along the wall and {show(slots['spacing_up'])} up it."
    scene.assume("spacing", show(slots["spacing"]), because)


def _in_the_middle(scene: Scene) -> None:
    """'door in the middle of a 9 m wall': its place follows from the length and its width."""
    slots = scene.heard.slots
    found = slots.get("openings") or []
    length = slots.get("length")
    if len(found) != 1 or length is None or "width" not in found[0] or found[0].get("count", 1) != 1:
        return
    if {"from_left", "from_right"} & set(found[0]) or not any(
        x.says("openings.middle") or x.tagged("middle") for x in scene.items
    ):
        return
    width = convert(found[0]["width"]["value"], found[0]["width"]["unit"], length["unit"])
    place = {"value": round((length["value"] - width) / 2, 6), "unit": length["unit"]}
    if place["value"] <= 0:
        return
    slots["openings"] = [{**found[0], "from_left": place}]
    scene.assume("openings", show(place), f"In the middle: {show(place)} from the left end.")


CHECKS: tuple[Callable[[Scene], None], ...] = (
    *OF_HEIGHTS,
    _each_coat,
    _by_the_course,
    _laid_flat,
    _both_sides,
    gable_wall,
    _gable,
    ground_plan,
    _part_or_times,
    _share_of_it,
    _already_laid,
    _bags_and_buckets,
    _two_coat_mixes,
    _of_ties,
    _joint_in_the_middle,
    joints_apart,
    _in_the_middle,
)
