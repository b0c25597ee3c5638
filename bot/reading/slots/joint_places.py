"""Positions of joints that the asker proposes."""

from __future__ import annotations

from typing import Any

from bot.reading.items import Item
from bot.reading.scene import Scene, show
from bot.reading.slots.opening_sizes import place_behind
from bot.reading.units import LENGTH, candidates
from knowledge.units import convert, kind


def by_joint(scene: Scene) -> None:
    """'joint at 5.250', 'joints at 3 and 9': positions that the asker proposes."""
    if "joints" not in scene.topics:
        return
    items = scene.items
    _joints_from(scene)
    _with_no_noun(scene)
    if not (scene.tagged("dim", "at") or scene.says("joints.at") or scene.says("joints.proposed")):
        return
    named = scene.tagged("noun", "joint")
    for i, item in enumerate(items):
        it = not named and item.says("joints.it")
        if not (it or item.tagged("noun", "joint") or item.tagged("topic", "joints")):
            continue
        if "joint_at" in scene.heard.slots:
            return
        j = i + 1
        while j < len(items) and items[j].says("joints.before_at"):
            j += 1
        listed = (
            j < len(items)
            and items[j].kind == "measure"
            and j > i + 1
            and items[j - 1].says("joints.proposed")
        )
        if listed:
            j -= 1
        elif j >= len(items) or not (items[j].tagged("dim", "at") or items[j].says("joints.at")):
            continue
        found, used = _list_from(scene, j + 1)
        if found:
            scene.claim("joint_at", found, *used)


def joints_apart(scene: Scene) -> None:
    """'18 m, joints at 6 m': so far apart, where more than one fits; else asked which of the two is meant."""
    slots, evidence = scene.heard.slots, scene.heard.evidence
    found, length = slots.get("joint_at") or [], slots.get("length")
    if len(found) != 1 or not scene.says("joints.several") or "spacing" in slots:
        return
    if scene.tagged("dim", "from_left") or scene.tagged("dim", "from_right"):
        return
    size, span = found[0], evidence["joint_at"][0]
    if size["value"] <= 0 or (length is None and not scene.in_force):
        return
    item = next(x for x in scene.items if (x.start, x.end) == span)
    if length is not None and convert(length["value"], length["unit"], size["unit"]) > 2 * size["value"]:
        slots.pop("joint_at")
        evidence.pop("joint_at")
        scene.claim("spacing", size, item)
        scene.assume("spacing", show(size), f"'{item.text}' was taken as from joint to joint.")
        return
    choices = [
        (f"A joint every {show(size)}", {"spacing": size}),
        (f"One joint, {show(size)} from the left end", {"joint_at": [size]}),
    ]
    scene.doubt("joint_at", f"Is that a joint every {show(size)}, or one at {show(size)}?", choices, item)


def _with_no_noun(scene: Scene) -> None:
    """'two at 4 and 8', 'at 3, 6 and 9', '4.5 and 9 instead': in talk of joints, with no other thing."""
    first = 1 if scene.items[0].kind == "measure" and scene.items[0].size.whole else 0
    at = scene.at(first)
    if scene.in_force != ("joints",) or scene.nouns or at is None:
        return
    more = next((i for i, x in enumerate(scene.items[:2]) if x.says("again.second")), None)
    if more is not None and not scene.openings_told:  # 'and one more at 13.5'
        found, used = _list_from(scene, more + 1)
        if len(found) == 1:
            scene.claim("joint_at", found, *used)
            scene.items[more].cues |= {"relative.one_more_joint"}
            scene.renew()
        return
    if scene.says("joints.instead") and scene.items[0].kind == "measure":
        first = -1
    elif not at.tagged("dim", "at"):
        return
    found, used = _list_from(scene, first + 1)
    if len(found) < 2 or (first > 0 and scene.items[0].size.value != len(found)):
        return
    if first > 0:
        scene.items[0].used = "label"
    scene.claim("joint_at", found, *used)


def _list_from(scene: Scene, first: int) -> tuple[list[dict[str, Any]], list[Item]]:
    """The places that are listed from an item on."""
    found: list[dict[str, Any]] = []
    used: list[Item] = []
    for j in range(first, len(scene.items)):
        part = scene.items[j]
        joins = (
            (part.kind == "mark" and part.text in {",", "&", "/", "+"})
            or part.says("joints.list")
            or part.tagged("dim", "from_left")
            or part.tagged("dim", "at")
        )
        if joins:
            continue
        if part.kind != "measure" or part.used or (part.size.unit and kind(part.size.unit) != LENGTH):
            break
        nxt = scene.at(j + 1)
        alone = not found or scene.items[j - 1].kind == "measure"  # 'at 3 and 9 12 m wall'
        if nxt is not None and (nxt.tagged("dim", "spacing") or (nxt.tagged("noun", "wall") and alone)):
            break
        options = candidates(scene, part.size, "wall")
        if len(options) != 1:
            break
        found.append(options[0])
        used.append(part)
    return found, used


def _joints_from(scene: Scene) -> None:
    """'a joint drawn 4.5 m from the left hand corner': positions by the end that they are measured from."""
    items = scene.items
    drawn = scene.tagged("wants", "joints", "verdict") or scene.says("joints.drawn")
    if not drawn or not scene.tagged("noun", "joint"):
        return
    joint = next(i for i, x in enumerate(items) if x.tagged("noun", "joint"))
    found: list[dict[str, Any]] = []
    used: list[Item] = []
    for i in range(joint + 1, len(items)):
        part = items[i]
        if (
            part.kind == "measure"
            and not part.used
            and (not part.size.unit or kind(part.size.unit) == LENGTH)
        ):
            end = place_behind(scene, i) or ("from_left" if _from_corner(scene, i) else None)
            options = candidates(scene, part.size, "wall")
            if end == "from_left" and len(options) == 1:
                found.append(options[0])
                used.append(part)
    if found:
        scene.claim("joint_at", found, *used)


def _from_corner(scene: Scene, i: int) -> bool:
    near = scene.at(i + 1)
    return near is not None and (near.says("joints.from_corner"))
