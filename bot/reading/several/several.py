"""Several walls in one message: one reading each."""

from __future__ import annotations

from collections.abc import Callable
from itertools import pairwise

from bot.reading.heard import Doubt, Heard, Wall
from bot.reading.items import Item
from bot.reading.scene import Scene, show
from bot.reading.several.in_a_row import Part
from bot.reading.several.leaves import take_leaves
from bot.reading.several.parts import split_items
from bot.reading.several.plans import take_plan, take_total

WHICH = "Which wall are the openings in?"


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
    named = _named_by_size(parts, whole, tail)
    for part in parts:
        own = [*head, *whole[part.first : part.last], *tail]
        state = [(x, x.used) for x in own]
        sub = Heard(text=heard.text)
        inner = Scene(own, sub, scene.region, scene.words)
        inner.topics, inner.feet, inner.in_force = scene.topics, scene.feet, scene.in_force
        if part.count is not None:
            part.count.used = "label"
            if part.count.size.value > 1:
                inner.claim("walls", int(part.count.size.value), part.count)
        fill(inner)
        if part.pair and "walls" not in sub.slots:
            inner.claim("walls", 2)
            inner.assume("walls", 2, f"'{part.label}' was taken as two walls of that size.")
        used |= {id(x) for x in own if x.used}
        for item, before in state:
            if item in head or item in tail:
                item.used = before
        if not {"length", "area"} & set(sub.slots):
            return False
        if (
            not part.pair
            and sub.slots.get("walls") == len(parts)
            and not any(x.used == "walls" for x in whole[part.first : part.last])
        ):
            del sub.slots["walls"]
        told = sub.evidence.setdefault("length" if "length" in sub.slots else "area", [])
        told += [(x.start, x.end) for x in own if x.used == "label" and x.kind == "measure"]
        walls.append(Wall(part.label, sub.slots, sub.evidence))
        doubts += [_of_wall(d, part, whole) for d in sub.doubts if d.slot not in {x.slot for x in doubts}]
        heard.assumed += [a for a in sub.assumed if a not in heard.assumed]
        heard.set_aside += [a for a in sub.set_aside if a not in heard.set_aside]
        heard.marks |= sub.marks
    for item in whole:
        if id(item) in used and not item.used:
            item.used = "walls"
    _share(walls, heard)
    _which_wall(walls, [*head, *tail], doubts, named)
    heard.walls, heard.doubts = walls, heard.doubts + doubts
    shared = set.intersection(*(set(w.slots) for w in walls))
    heard.slots.update(
        {k: walls[0].slots[k] for k in shared if all(w.slots[k] == walls[0].slots[k] for w in walls)}
    )
    return True


def _of_wall(doubt: Doubt, part: Part, whole: list[Item]) -> Doubt:
    """A doubt about what was said of one wall alone is settled for that wall alone."""
    start, end = whole[part.first].start, whole[part.last - 1].end
    if doubt.spans and all(start <= a and b <= end for a, b in doubt.spans):
        doubt.choices = [(label, {**settles, "wall": part.label}) for label, settles in doubt.choices]
    return doubt


def _named_by_size(parts: list[Part], whole: list[Item], tail: list[Item]) -> list[int]:
    """'2 windows in the 6 m one': the walls that are named again by their length."""
    found = []
    for before, item in pairwise(tail):
        if item.kind != "measure" or not item.size.unit or not before.says("walls.which"):
            continue
        of = [
            n
            for n, part in enumerate(parts)
            for x in whole[part.first : part.last]
            if x.kind == "measure" and (x.size.values, x.size.unit) == (item.size.values, item.size.unit)
        ]
        if len(of) == 1:
            item.used = "label"
            found += of
    return found


def _which_wall(walls: list[Wall], shared: list[Item], doubts: list[Doubt], named: list[int]) -> None:
    """'4.2 x 2.4 and 6.6 x 2.4, 2 windows': openings that were told of no wall are those of one; which?"""
    openings = walls[0].slots.get("openings")
    if not openings or any(wall.slots.get("openings") != openings for wall in walls):
        return
    spans = {(x.start, x.end) for x in shared}
    told_at = walls[0].evidence.get("openings", [])
    if not told_at or not set(told_at) <= spans:
        return
    places = [n for n, x in enumerate(shared) if (x.start, x.end) in told_at]
    labels = {str(wall.label): n for n, wall in enumerate(walls) if not str(wall.label).isdigit()}
    near = shared[max(0, min(places) - 3) : max(places) + 4]
    named = named or [labels[x.text] for x in near if x.text in labels]
    if any(x.says("walls.all") for x in near) and not named:
        return
    told = named or [n for n in range(len(walls)) if any(x.says(f"walls.nth_{n + 1}") for x in shared)]
    for wall in walls:
        del wall.slots["openings"]
    if len(told) == 1:
        walls[told[0]].slots["openings"] = openings
        return
    choices = [
        (f"In the {show(wall.slots[size])} wall", {"openings": openings, "wall": wall.label})
        for wall in walls[:3]
        for size in ("length", "area")
        if size in wall.slots
    ]
    choices.append(("In each of them", {"openings": openings}))
    doubts.append(Doubt("openings", WHICH, choices))


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
    take_total(scene)
    take_plan(scene)
    take_leaves(scene)
    _places(scene)


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
