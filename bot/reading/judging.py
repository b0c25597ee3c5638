"""Whether a message is small talk, not ours, or a question."""

from __future__ import annotations

from bot.reading.items import Item
from bot.reading.scene import Scene

OURS = ("wall", "block", "window", "door", "opening", "mortar_joint", "cavity")
TOLD = ("material", "place", "leaf", "finish")
DANGERS = {"hostile", "injury", "fall", "services", "removal", "trench"}
SHORT = 4  # items
MOSTLY = 0.6  # of a message that is small talk


def never_answered(items: list[Item]) -> str | None:
    """Hostile talk and injuries: known before anything is read."""
    refused = (tag[1] for item in items for tag in item.tags if tag[0] == "off")
    return next((why for why in refused if why in DANGERS), None)


def judge(scene: Scene, named: list[str], in_force: bool) -> None:
    """Set the kind of what was heard, and why, where it is no question of ours."""
    heard = scene.heard
    items = [x for x in scene.items if x.kind != "mark" or x.tags]
    off = list(dict.fromkeys(tag[1] for item in items for tag in item.tags if tag[0] == "off"))
    why = _refused(scene, items, off, named)
    if why is not None:
        heard.kind, heard.why = "off", why
    elif named:
        return
    elif _begins_anew(items):
        heard.kind, heard.why = "chatter", "anew"
    elif (talk := _all_small_talk(items)) is not None and not _a_class(scene, items):
        heard.kind, heard.why = "chatter", talk
    elif (not off and _of_a_wall(scene, items, in_force) and _read_something(scene)) or (
        not off
        and scene.heard.kind == "asked"
        and any(x.tagged("noun", "wall") or x.says("walls.of_blocks") for x in items)
        and (_asks(items) or _names_a_wall(items))
    ):
        return
    elif not (off and _of_a_wall(scene, items, in_force)) and (talk := _small_talk(scene, items, off)):
        heard.kind, heard.why = "chatter", talk
    elif not off and any(x.tagged("ask", "source") for x in items):
        heard.kind, heard.why = "chatter", "source"
    else:
        heard.kind, heard.why = "off", next(iter(off), "other")


def _refused(scene: Scene, items: list[Item], off: list[str], named: list[str]) -> str | None:
    """Designs, other trades, prices, certificates."""
    slots = scene.heard.slots
    if {"{", "}"} <= set(scene.heard.text):  # a machine's text, no talk of a site
        return "other"
    if "design" in off or _how_high_it_may_stand(scene) or _size_of_a_footing(scene, items):
        return "design"
    if "premix" in off and named == ["render"] and scene.amounts:
        return "premix"
    if named == ["boards"] and scene.says("boards.ceiling") and not scene.tagged("noun", "wall"):
        return "trade"  # dabs hold no ceiling
    stuff = {"cement", "lime", "sand", "bag"} & scene.nouns and "block" not in scene.nouns
    if named == ["safety"] and stuff and scene.tagged("wants", "safety", "lifting"):
        return "other"  # 'what does a bag of lime weigh'
    if _a_pier(scene, items, named):
        return "pier"
    if "never" in off and not any(x.tagged("noun", "wall") for x in items):
        return "trade"
    if "trade" in off and not named:
        return "trade"
    if "price" in off and not (named and "length" in slots):
        strong = any(x.tagged("topic", topic, "strong") for topic in named for x in items)
        sized = any(x.kind in {"dims", "measure"} and x.used != "aside" for x in items)
        if not (strong and sized):
            return "price"
    return "certify" if named and "certify" in off else None


def _how_high_it_may_stand(scene: Scene) -> bool:
    """'freestanding wall how high can i go': no lift of a day."""
    stands = scene.heard.slots.get("place") == "freestanding" and scene.tagged("wants", "safety", "day_lift")
    return stands and not scene.tagged("noun", "time") and scene.topics == ["safety"]


def _size_of_a_footing(scene: Scene, items: list[Item]) -> bool:
    """'how deep should the footing be': the ground is no wall."""
    if not scene.says("parts.footing") or any(x.kind in {"measure", "dims"} for x in items):
        return False
    sides = ("depth", "width", "thickness", "length", "height")
    for i, item in enumerate(items[:-1]):
        side = next((x for x in items[i + 1 : i + 2] if any(x.tagged("dim", s) for s in sides)), None)
        if side is not None and (item.tagged("ask", "how") or item.tagged("ask", "what")):
            return True
    return False


def _a_pier(scene: Scene, items: list[Item], named: list[str]) -> bool:
    """'18 inch pier 7 ft tall': blocks of a pier, and of no wall."""
    going_on = scene.in_force and not scene.tagged("connect", "new")
    if named != ["blocks"] or scene.tagged("noun", "wall") or going_on:
        return False
    pier = next((i for i, x in enumerate(items) if x.says("parts.pier")), None)
    if pier is None:
        return False
    beside = items[max(0, pier - 2) : pier + 2]
    return any(x.kind in {"measure", "dims"} and (x.kind == "dims" or x.size.unit) for x in beside)


def _of_a_wall(scene: Scene, items: list[Item], in_force: bool) -> bool:
    """Whether a wall is spoken of, or one in force, and something was read of it."""
    if in_force or _only_sizes(items):
        return True
    heard = scene.heard
    named = {tag[1] for x in items for tag in x.tags if tag[0] == "dim" and x.kind == "phrase"}
    if {"length", "height"} & named & set(heard.slots):
        return True
    return bool(heard.slots or any(doubt.slot != "number" for doubt in heard.doubts)) and any(
        x.kind == "dims"
        or any(x.tagged("noun", noun) for noun in OURS)
        or any(x.tagged("slot", slot) for slot in TOLD)
        for x in items
    )


def _only_sizes(items: list[Item]) -> bool:
    """'15 m', 'and 10 x 2.4?': sizes and what joins them, and not one word of another thing."""
    sized = False
    for item in items:
        if item.kind in {"dims", "measure"} and item.used != "aside":
            sized = sized or bool(item.size.unit)
        elif not item.tagged("connect") and not item.tagged("ask", "question"):
            return False
    return sized


def _names_a_wall(items: list[Item]) -> bool:
    """'block wall', 'garden wall in aircrete': a wall and what it is of, and nothing else."""
    ours = ("block", "wall")
    return (len(items) > 1 or " " in items[0].low) and all(
        x.says("small.word")
        or x.tagged("connect")
        or any(x.tagged("noun", noun) for noun in ours)
        or any(x.tagged("slot", slot) for slot in TOLD)
        for x in items
    )


def _asks(items: list[Item]) -> bool:
    return any(x.says("chat.asking") for x in items)


def _read_something(scene: Scene) -> bool:
    heard = scene.heard
    wished = any(heard.wants.values()) and not _another_part(scene)
    return bool(heard.slots or heard.doubts or heard.negated or wished or heard.lone)


def _another_part(scene: Scene) -> bool:
    """'dpc needed?' in talk of joints: a part of the work that is none of what is asked about."""
    first = scene.items[0]
    apart = len(scene.items) <= SHORT and first.says("parts.apart") and not first.tags
    if apart:
        scene.heard.marks.add("another part")
    return apart


def _chat(items: list[Item]) -> list[Item]:
    return [x for x in items if x.tagged("chatter") or x.tagged("connect") or x.says("chat.small")]


def _begins_anew(items: list[Item]) -> bool:
    """'new wall', 'scrap that', and no other thing in it."""
    said = [x for x in items if x.kind != "mark"]
    small = (
        x.says("chat.anew") or x.says("chat.small") or x.tagged("chatter") or x.tagged("correct")
        for x in said
    )
    return any(x.says("chat.anew") for x in said) and all(small)


def _kind_of_talk(items: list[Item]) -> str | None:
    """thanks, hello or bye; None where there is no small talk."""
    kinds = [tag[1] for x in items for tag in x.tags if tag[0] == "chatter"]
    return next((kind for kind in kinds if kind != "mate"), "bye") if kinds else None


def _all_small_talk(items: list[Item]) -> str | None:
    return _kind_of_talk(items) if len(_chat(items)) == len(items) else None


def _a_class(scene: Scene, items: list[Item]) -> bool:
    """'class' in talk of mortar: which one."""
    return "mortar" in scene.in_force and any(x.tagged("wants", "mortar", "mortar_class") for x in items)


def _small_talk(scene: Scene, items: list[Item], off: list[str]) -> str | None:
    """What kind of small talk it mostly is."""
    asked = any(x.tagged("ask", "quantity") or x.kind == "measure" for x in items)
    thanked = any(x.tagged("chatter", "thanks") for x in items)
    if thanked and not off and not asked and "?" not in scene.heard.text:
        return "thanks"
    said = len([x for x in items if x.kind != "aside"])
    mostly = len(_chat(items)) >= said * MOSTLY and set(off) <= {"talk"}
    return _kind_of_talk(items) if mostly else None
