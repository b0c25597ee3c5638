"""Return, free or column at each end."""

from __future__ import annotations

import re
from typing import Any

from bot.reading.items import Item, Tag
from bot.reading.scene import Scene
from bot.reading.slots.sides import corner_to_corner, other_sense, side_of

OF_ENDS = {"joints", "wall", "ties", "reinforcement"}
OF_A_WALL = {"blocks", "mortar", "render", "mesh", "boards"}
ENDS = re.compile(r"\bends?\b")


def take_ends(scene: Scene) -> None:
    """Return, free or column at each end; null where only one end was said."""
    if scene.topics and not (OF_ENDS & set(scene.topics) or _named_as_ends(scene)):
        return
    if not (scene.tagged("slot", "ends") or scene.tagged("side") or scene.says("ends.steel")):
        return
    items = scene.items
    ends: list[str | None] = [None, None]
    sources: list[Item] = []
    taken_sides: set[int] = set()
    mentions = [
        (i, x, x.tag("slot", "ends"))
        for i, x in enumerate(items)
        if x.tagged("slot", "ends") and not x.tagged("dim") and not x.tagged("wants")
    ]
    mentions = mentions or _of_steel(scene)
    mentions = [(i, x, tag) for i, x, tag in mentions if not other_sense(scene, i, x)]
    mentions = [(i, x, tag) for i, x, tag in mentions if not _along_the_wall(scene, i, x)]
    mentions = [(i, x, tag) for i, x, tag in mentions if not _said_again(scene, i, x)]
    before = _sides_first(scene, mentions)
    for n, (i, item, tag) in enumerate(mentions):
        value = tag[2] if tag else "return"
        if scene.negated(i) and value == "return":
            value = "free"
        elif scene.negated(i):  # 'free, not a column'
            continue
        low = mentions[n - 1][0] if n else -1
        high = mentions[n + 1][0] if n + 1 < len(mentions) else len(items)
        side, at = side_of(scene, i, low, i + 1 if before else high, taken_sides)
        text = item.low
        if at is not None:
            taken_sides.add(at)
        if side is None and text.startswith(scene.words.cue["ends.between_begins"]):
            side = "both"
        if (
            side is None
            and (text.endswith(scene.words.cue["ends.many_ends"]) or "two ends" in scene.heard.marks)
            and len(mentions) == 1
        ):
            side = "both"
        if side is None and len(mentions) == 2 and n == 1 and None in ends and any(ends):
            side = "other"
        if side is None and len(mentions) == 1 and corner_to_corner(scene, i):
            side = "both"
        if side == "both":
            ends = [value if e is None else e for e in ends]
        elif side in {"left", "right"}:
            at_end = 0 if side == "left" else 1
            if ends[at_end] not in {None, value} and not any(x.says("ends.corrected") for x in items[:i]):
                two_of_them(scene, ends, at_end, value, item)
                return
            ends[at_end] = value
        elif side == "other":
            if not any(ends):
                scene.heard.marks.add("other end")
            ends[1 if ends[0] is not None else 0] = value
        elif side == "one" or (side is None and len(mentions) <= 2):
            if side is None and item.says("ends.not_alone") and len(mentions) == 1:
                continue
            ends[0 if ends[0] is None else 1] = value
            if side is None:
                scene.heard.marks.add("an end")
        else:
            continue
        sources.append(item)
    if None in ends and any(ends):
        _other_end(scene, ends)
    if _untold_side(scene, ends, taken_sides):
        return
    if any(ends):
        scene.claim("ends", ends, *sources)


def _named_as_ends(scene: Scene) -> bool:
    """'both ends free how many blocks': kept for the joints that are asked later."""
    if not set(scene.topics) <= OF_A_WALL:
        return False
    return any(x.says("ends.end") or ENDS.search(x.low) for x in scene.items if x.kind != "measure")


def _of_steel(scene: Scene) -> list[tuple[int, Item, Tag | None]]:
    """'ends abut steel', 'steel at both ends': a column, where ends are spoken of."""
    sided = scene.says("ends.end") or scene.tagged("side", "left") or scene.tagged("side", "right")
    if not sided or "joints" not in scene.topics:
        return []
    column: Tag = ("slot", "ends", "column")
    found: list[tuple[int, Item, Tag | None]] = []
    found += [(i, x, column) for i, x in enumerate(scene.items) if x.says("ends.steel")][:1]
    return found


def _said_again(scene: Scene, i: int, item: Item) -> bool:
    """'butts a column' is a column; 'no return on that one' is of the end that was just spoken of."""
    behind = scene.items[i + 1 : i + 4]
    if item.says("ends.butts") and any(x.tagged("slot", "ends", "column") for x in behind):
        return True
    again = any(x.says("ends.that_one") for x in behind)
    return again and any(x.tagged("side") for x in scene.items[:i])


def _along_the_wall(scene: Scene, i: int, item: Item) -> bool:
    """'piers every 3 m', '2 columns in it': between the ends, not at them."""
    if not item.tagged("slot", "ends", "column"):
        return False
    after = scene.at(i + 1)
    return after is not None and (after.says("spacing.every") or after.says("ends.within"))


def two_of_them(scene: Scene, ends: list[str | None], at: int, value: str, item: Item) -> None:
    """One end was told twice, and not the same: asked."""
    named = {"return": "A return, bonded in", "free": "Free", "column": "A column"}
    choices = []
    for kind in (ends[at], value):
        told: list[str | None] = [kind if n == at else end for n, end in enumerate(ends)]
        choices.append((named.get(kind or "", "Free"), {"ends": told}))
    scene.doubt("ends", f"What is at the {('left', 'right')[at]} end?", choices, item)


def _untold_side(scene: Scene, ends: list[str | None], taken: set[int]) -> bool:
    """A side that was spoken of and not understood is asked, never taken as a return."""
    if "joints" not in scene.topics:
        return False
    for j, item in enumerate(scene.items):
        side = item.tag("side")
        text = item.low
        if (
            side is None
            or j in taken
            or item.says("ends.side_alone")
            or item.tagged("slot", "faces")
            or "side" in text
        ):
            continue
        if (
            (side[1] == "both" and all(ends))
            or (side[1] == "left" and ends[0])
            or (side[1] == "right" and ends[1])
            or (side[1] in {"one", "other"} and all(ends))
        ):
            continue
        if any(x.tagged("slot", "ends") for x in scene.items[max(0, j - 3) : j + 4]) and side[1] not in {
            "left",
            "right",
        }:
            continue
        before, after = scene.at(j - 1), scene.at(j + 1)
        if (
            (before is not None and before.kind == "measure")
            or (before is not None and before.says("ends.from"))
            or text.startswith("from")
        ):
            continue
        if after is not None and after.kind in {"measure", "dims"}:
            continue
        if side[1] == "other" and scene.says("again.second"):
            continue  # 'and another at the other end': a door
        where = {"both": "both ends", "left": "the left end", "right": "the right end"}.get(
            side[1], "that end"
        )
        choices = []
        for label, value in (("A return, bonded in", "return"), ("Free", "free")):
            both = (
                [value, value]
                if side[1] == "both"
                else [
                    value if side[1] != "right" and ends[0] is None else ends[0],
                    value if side[1] == "right" or (ends[0] is not None and ends[1] is None) else ends[1],
                ]
            )
            choices.append((label, {"ends": both}))
        scene.doubt("ends", f"What is at {where}: a return, or is it free?", choices)
        return True
    return False


def _other_end(scene: Scene, ends: list[str | None]) -> None:
    """'a corner on one end only', 'no return on the left but there is one on the right'."""
    texts = [x.low for x in scene.items]
    known = next(e for e in ends if e)
    only = "only" in texts and any(x.tagged("side", s) for x in scene.items for s in ("one", "left", "right"))
    if only and known == "return":
        ends[ends.index(None)] = "free"
    elif known == "free" and any(
        scene.items[k].low == "one" and scene.items[k + 1].says("ends.on") for k in range(len(texts) - 1)
    ):
        ends[ends.index(None)] = "return"


def _sides_first(scene: Scene, mentions: list[Any]) -> bool:
    """'LH return RH free': sides named before their ends, in turn."""
    order = ""
    ends = {i for i, _, _ in mentions}
    for i, item in enumerate(scene.items):
        if i in ends:
            order += "E"
        elif item.tagged("side", "left") or item.tagged("side", "right"):
            order += "S"
    return order.startswith("SESE")
