"""What is asked of movement joints: a number, a place, a width, or the rule."""

from __future__ import annotations

from bot.reading.scene import Scene

GENERAL = {"joint_count", "verdict", "why"}
OF_THE_GAP = {"joint_width", "filler", "sealant_depth", "expected_movement"}
PROPOSED = ("joint_at", "joint_count", "spacing")
TOLD = ("place", "leaf", "finish")
LONG_QUESTION, LONGER_QUESTION = 5, 7  # items


def joint_wants(scene: Scene, wants: list[str]) -> list[str]:
    """Wishes about joints in force."""
    slots = scene.heard.slots
    quantity = scene.tagged("ask", "quantity")
    if {"length", "spacing"} <= set(slots):  # 'every 5 m' names one, and asks for none
        wants = [w for w in wants if w != "max_spacing"]
    particular = [w for w in wants if w not in GENERAL]
    if {"max_spacing", "end_panel_max"} <= set(particular):
        particular.remove("max_spacing")
    if "tie_count" in particular:
        wants = ["tie_count", *(w for w in wants if w == "joint_positions")]
    elif OF_THE_GAP & set(particular):
        wants = particular
    elif particular and "length" not in slots:
        counted = quantity and "joint_count" in wants and particular == ["joint_positions"]
        wants = [*particular, "joint_count"] if counted else particular
    if "verdict" in wants and not any(slot in slots for slot in PROPOSED):
        wants = ["joint_count" if w == "verdict" else w for w in wants]
    if "length" in slots and not wants:
        wants = ["joint_count"]
    plain = set(wants) <= GENERAL | {"joint_positions"}
    if plain and "length" not in slots and not quantity and not scene.heard.doubts and not _own_wall(scene):
        return ["max_spacing"] if _rule_asked(scene, wants) else wants
    return wants


def _own_wall(scene: Scene) -> bool:
    """'my wall', 'the back wall': a wall that stands, whose length was not said."""
    if {"joint_at", "joint_count"} & set(scene.heard.slots) or scene.says("walls.mine"):
        return True
    for i, item in enumerate(scene.items):
        before = scene.at(i - 1)
        if item.tagged("noun", "wall") and before is not None and before.says("walls.which"):
            return True
    return False


def _rule_asked(scene: Scene, wants: list[str]) -> bool:
    """'do inside walls need joints': asked of walls in general."""
    items = scene.items
    told = any(slot in scene.heard.slots for slot in (*TOLD, "bed_reinforcement")) or any(
        x.tagged("slot", slot) for x in items for slot in (*TOLD, "material")
    )
    needed = scene.tagged("wants", "joints", "joint_count")
    begun = items[0].tagged("ask") or any(x.tagged("ask", "can") for x in items[:3])
    asking = begun and len(items) >= LONG_QUESTION
    return (told and needed) or (asking and (not needed or len(items) >= LONGER_QUESTION)) or "why" in wants
