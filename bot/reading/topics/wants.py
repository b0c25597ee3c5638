"""Which results of a topic are asked; generic wishes give way to the particular ones."""

from __future__ import annotations

from itertools import pairwise

from bot.reading.scene import Scene
from bot.reading.topics.joint_wants import joint_wants
from bot.reading.topics.mix_wants import mortar_wants, render_wants

EVEN_DENIED = {"verdict", "new_wall"}  # 'how high with no bracing' asks of it all the same


def _asked_of(scene: Scene) -> bool:
    """Whether a mix, a joint or another thing stands there to be judged."""
    return any(x.kind in {"ratio", "measure", "dims", "code"} for x in scene.items) or len(scene.items) < 3


def find_wants(scene: Scene, topic: str) -> tuple[str, ...]:
    """Names of the results asked of a topic, in the order in which they were asked."""
    found: dict[str, None] = {}
    for i, item in enumerate(scene.items if scene.tagged("wants", topic) else ()):
        if item.tagged("slot", "ends"):
            continue  # 'ties into a return'
        for tag in item.tags:
            if tag[2:] == ("verdict",) and i == 0 and item.tagged("chatter") and not _asked_of(scene):
                continue  # 'ok and mortar': a word of assent
            if tag[:2] == ("wants", topic) and (tag[2] in EVEN_DENIED or not scene.negated(i)):
                found.setdefault(tag[2])
    tidy = {
        "joints": joint_wants,
        "mortar": mortar_wants,
        "render": render_wants,
        "blocks": _blocks,
        "bearing": _bearing,
        "weather": _weather,
        "mesh": _mesh,
    }.get(topic)
    return tuple(tidy(scene, list(found)) if tidy else _one_rule(scene, topic, list(found)))


# A rule of the trade that is asked on its own, unless one of these slots tells that an amount is meant.
RULE = {
    "mesh": ("lap", ("area", "length", "roll", "rolls")),
    "boards": ("dab_rows", ("length", "area")),
    "ties": ("ties_per_area", ("length", "area")),
    "reinforcement": ("spacing", ("length", "area", "openings", "spacing")),
}


TOLD = {"mesh": "lap", "reinforcement": "spacing"}


def _one_rule(scene: Scene, topic: str, wants: list[str]) -> list[str]:
    told = TOLD.get(topic, "")
    if told in scene.heard.slots and len(scene.heard.slots) + len(scene.in_force) > 1:
        wants = [want for want in wants if want != told]  # '150 lap', 'every 600': told, and not asked for
    rule, amounts = RULE.get(topic, ("", ()))
    if rule in wants and not any(slot in scene.heard.slots for slot in amounts):
        return [rule]
    return wants


def _mesh(scene: Scene, wants: list[str]) -> list[str]:
    """'does it need mesh' asks whether; 'need mesh for 48 m²' asks how much."""
    whether = scene.tagged("ask", "can") or not any(
        x.tagged("ask", "need") and x.tagged("wants", "mesh", "full_area") for x in scene.items
    )
    others = [want for want in wants if want != "full_area"]
    if not wants and scene.says("ends.corner"):
        return ["corner_patches"]  # 'corners?' in talk of mesh
    return _one_rule(scene, "mesh", wants if whether and not scene.amounts else others)


def _weather(scene: Scene, wants: list[str]) -> list[str]:
    """'is it too hot, 34 degrees': whether it is, and no limits."""
    told = "temperature" in scene.heard.slots or "weather" in scene.in_force
    judged = told and any(x.says("weather.too") for x in scene.items)
    return [want for want in wants if want != "limit"] if judged else wants


def _bearing(scene: Scene, wants: list[str]) -> list[str]:
    """'lintel 2.1 m opening what bearing': the words of one wish, with others between them."""
    lintel, bearing = scene.says("bearing.lintel"), scene.says("bearing.bearing")
    long = "bearing" in scene.in_force and scene.tagged("dim", "length")  # 'bearing length'
    return [*wants, "lintel_bearing"] if (lintel or long) and bearing and not wants else wants


def _blocks(scene: Scene, wants: list[str]) -> list[str]:
    slots = scene.heard.slots
    if "courses" in slots and "course_count" in wants:
        wants.remove("course_count")
    if "course_count" in wants and "length" not in slots and "area" not in slots:
        wants = ["course_count"]
    if "blocks_per_area" in wants and {"length", "height"} <= set(slots) and len(wants) > 1:
        wants.remove("blocks_per_area")  # 'how many blocks for a wall a metre high and 6 m long'
    if "blocks_per_area" in wants:
        wants = ["blocks_per_area"]
    if "waste" in wants and not {"length", "area", "block_count"} & set(slots):
        wants = ["waste"]
    begins = scene.words.cue["block.area_begins"]
    unit = any(
        one.tagged("wants", "blocks", "area") and x.says("block.rate") for one, x in pairwise(scene.items)
    )
    unit = unit or ("block_count" in slots and scene.tagged("dim", "area"))  # '240 blocks cover what area'
    if "area" in wants and not unit and not any(x.low.startswith(begins) for x in scene.items):
        wants.remove("area")
    if "blocks_per_course" in wants:
        wants = [want for want in wants if want != "block_count"]
    return wants
