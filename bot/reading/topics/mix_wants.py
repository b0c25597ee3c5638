"""What is asked of mortar and render: a mix, a verdict on one, or amounts."""

from __future__ import annotations

from bot.reading.scene import Scene
from knowledge.units import kind

AMOUNTS = {"cement_bags", "lime_bags", "sand_mass", "mortar_volume", "render_volume", "batch"}
OF_RENDER = {"cement_bags", "sand_mass", "render_volume"}
SIZED = ("length", "area", "block_count")


def mortar_wants(scene: Scene, wants: list[str]) -> list[str]:
    """Wishes about mortar in force."""
    slots = scene.heard.slots
    stuff = _stuff_alone(scene)
    if stuff is not None:
        return [stuff]
    quantity = scene.tagged("ask", "quantity")
    gauged = "bags" in slots or "buckets" in slots
    given = "mix" in slots or "mortar_class" in slots
    if "life" in wants and {"mixing_time", "mixing_order"} & set(wants):
        wants.remove("life")
    if "batch" in wants and gauged:
        wants = ["batch"]
    told_before = "mortar" in scene.in_force and "buckets" not in slots
    if ("bags" in slots or told_before) and scene.tagged("noun", "bucket") and "bucket_size" not in slots:
        return ["batch_buckets", "batch"]
    if gauged and quantity and not any(slot in slots for slot in SIZED):
        wants = ["batch", *(w for w in wants if w != "batch")]
    if "verdict" in wants and not given and len(wants) > 1:
        wants = [w for w in wants if w != "verdict"]
    if wants == ["verdict"] and not given and scene.tagged("ask", "what"):
        wants = ["mix"]
    sized = gauged or any(slot in slots for slot in (*SIZED, "height"))
    parts = any(
        entry["value"] == "bag for bag" for entry in scene.heard.assumed
    )  # '2 bags cement 12 bags sand'
    if AMOUNTS & set(wants) and not quantity and not sized and (parts or not scene.says("mortar.amount")):
        wants = [w for w in wants if w not in AMOUNTS] or ["mix"]
    if AMOUNTS & set(wants):
        what_mix = scene.says("mortar.what_mix")
        wants = [w for w in wants if w in AMOUNTS or (w == "mix" and what_mix)]
    if "plasticiser" in wants and len(wants) > 1 and slots.get("plasticiser"):
        wants.remove("plasticiser")
    if "lime" in wants and "mix" in slots and len(wants) > 1:
        wants.remove("lime")
    return wants or (["verdict"] if given else [])


STUFF = {"cement": "cement_bags", "lime": "lime_bags", "sand": "sand_mass"}


def _stuff_alone(scene: Scene) -> str | None:
    """'cement?', 'and the sand' after a wall: how much of it."""
    named = [x for x in scene.items if x.kind != "mark" and not (x.tagged("connect") or x.says("small.word"))]
    named = [x for x in named if not x.tagged("ask", "question")]
    found = [want for noun, want in STUFF.items() if len(named) == 1 and named[0].tagged("noun", noun)]
    return found[0] if found and scene.in_force else None


def render_wants(scene: Scene, wants: list[str]) -> list[str]:
    """Wishes about render in force."""
    slots = scene.heard.slots
    stuff = _stuff_alone(scene)
    if stuff is not None:
        return [stuff]
    quantity = scene.tagged("ask", "quantity")
    sized = "area" in slots or {"length", "height"} <= set(slots)
    if AMOUNTS & set(wants) and not quantity and not sized and not _counts(scene):
        wants = [w for w in wants if w not in AMOUNTS]  # 'M-sand or river sand?': no amount is asked
    if sized and "mix" in slots and "coat_thickness" in slots and not set(wants) - AMOUNTS:
        return wants or ["cement_bags", "sand_mass"]
    if AMOUNTS & set(wants) and not quantity and "mix" in slots:
        wants = [w for w in wants if w not in AMOUNTS] or ["verdict"]
    if OF_RENDER & set(wants) and quantity:
        wants = [w for w in wants if w in AMOUNTS]
    counted = scene.words.cue["topics.how_many"]
    if {"thickness", "cement_bags"} <= set(wants) and _speaks(scene, counted):
        wants.remove("thickness")
    if "verdict" in wants and "mix" not in slots and "coat_thickness" not in slots and len(wants) > 1:
        wants.remove("verdict")
    return wants


def _counts(scene: Scene) -> bool:
    """Whether a bag, a mass or another word of amount is spoken of."""
    return any(
        x.tagged("noun", "bag")
        or x.says("mortar.amount")
        or (x.kind == "measure" and x.size.unit and kind(x.size.unit) == kind("kg"))
        for x in scene.items
    )


def _speaks(scene: Scene, phrases: tuple[str, ...]) -> bool:
    text = " ".join(x.low for x in scene.items)
    return any(phrase in text for phrase in phrases)
