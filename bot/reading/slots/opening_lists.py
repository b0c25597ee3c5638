"""Several openings in one list: 'windows 1.8 wide at 2.2 and 9.4', 'openings 2.4 x 2.1 and 0.9 x 2.1'."""

from __future__ import annotations

from typing import Any

from bot.reading.items import Item
from bot.reading.scene import Scene, plain
from bot.reading.slots.opening_sizes import fits, owner_right, set_one, set_pair
from bot.reading.units import LENGTH, candidates
from knowledge.units import convert, kind

STEPS = 5  # items from the first place to how far apart the others are


def further_places(
    scene: Scene, opening: dict[str, Any], stop: int, sources: list[Item]
) -> list[dict[str, Any]]:
    """'windows 1.8 wide at 2.2 and 9.4': one opening at each place."""
    if "from_left" not in opening:
        return []
    last = max(
        (k for k in range(stop) if scene.items[k] in sources and scene.items[k].kind == "measure"),
        default=None,
    )
    more: list[dict[str, Any]] = []
    k = (last or 0) + 1
    while last is not None and k + 1 < len(scene.items):
        bare = _runs_on(scene, k, opening["count"] - 1 - len(more))
        if bare:
            k -= 1  # 'at 1.5 4.5 and 8': as though a comma stood there
        again = scene.at(k + 1)
        if scene.items[k].says("list.then") and again is not None and again.tagged("dim", "at"):
            k += 1  # 'at 4 and at 10'
        if (
            not (scene.items[k].says("list.then") or scene.items[k].tagged("dim", "at") or bare)
            or not scene.free(k + 1)
            or scene.items[k + 1].kind != "measure"
        ):
            break
        options = candidates(scene, scene.items[k + 1].size, "wall")
        behind = scene.at(k + 2)
        if behind is not None and any(
            behind.tagged("dim", d) for d in ("width", "height", "length", "spacing")
        ):
            break
        uncounted = opening["count"] == 1  # 'windows at 2.4 and 8.4 joints'
        final = uncounted or opening["count"] == len(more) + 2
        final = final and behind is not None and behind.tagged("noun", "joint")
        if len(options) != 1 or (owner_right(scene, k + 1) and not final):  # '2 windows at 2 and 7 joints'
            break
        scene.items[k + 1].used = "openings"
        sources.append(scene.items[k + 1])
        more.append({**opening, "from_left": options[0], "count": 1})
        k += 2
    if more:
        _each_as_wide(scene, k, [opening, *more], sources)
    return more


def so_far_apart(scene: Scene, opening: dict[str, Any], sources: list[Item]) -> list[dict[str, Any]]:
    """'3 windows, first at 2.4 then every 6 m', 'then at 6 m centres': a place for each of them."""
    many, first = opening["count"], opening.get("from_left")
    if many < 2 or first is None:
        return []
    last = max((k for k, x in enumerate(scene.items) if x in sources and x.kind == "measure"), default=None)
    if last is None:
        return []
    for k in range(last + 1, min(last + STEPS, len(scene.items))):
        item, ahead, behind = scene.items[k], scene.at(k - 1), scene.at(k + 1)
        if item.kind != "measure":
            continue
        every = ahead is not None and ahead.says("spacing.every")
        if not scene.free(k) or not (every or (behind is not None and behind.tagged("dim", "spacing"))):
            break
        options = candidates(scene, item.size, "wall")
        if len(options) != 1:
            break
        step = convert(options[0]["value"], options[0]["unit"], first["unit"])
        item.used = "openings"
        sources.append(item)
        places = [round(first["value"] + n * step, 6) for n in range(1, many)]
        return [{**opening, "from_left": {**first, "value": at}, "count": 1} for at in places]
    return []


def _runs_on(scene: Scene, k: int, left: int) -> bool:
    """Whether just as many sizes stand in a row from item k on as there are openings left to place."""
    run = 0
    for item in scene.items[k:]:
        if item.kind == "measure" and not item.used:
            run += 1
        elif not item.says("list.then"):
            break
    return scene.items[k].kind == "measure" and run == left > 0


def _each_as_wide(scene: Scene, k: int, openings: list[dict[str, Any]], sources: list[Item]) -> None:
    """'at 4 m and 15 m, each 1 m wide': the width of them all."""
    items = scene.items
    while k < len(items) and items[k].text in {",", "("}:
        k += 1
    size, named = scene.at(k + 1), scene.at(k + 2)
    if k >= len(items) or not items[k].says("walls.all") or size is None or not scene.free(k + 1):
        return
    if (
        size.kind != "measure"
        or "width" in openings[0]
        or (named is not None and named.tagged("dim", "height"))
    ):
        return
    if named is None or not named.tagged("dim", "width"):
        scene.doubt("openings", f"Is {size.text} the width of each {openings[0]['kind']}?", [], size)
        return
    if set_one(scene, size, openings[0], sources, "width", size.size):
        for opening in openings[1:]:
            opening["width"] = dict(openings[0]["width"])


def further_sizes(
    scene: Scene, opening: dict[str, Any], spans: list[Item], stop: int, sources: list[Item]
) -> list[dict[str, Any]]:
    """A pair after a pair, behind a plural noun without a count: one opening each."""
    pairs = [k for k in range(stop) if scene.items[k] in spans and scene.items[k].kind == "dims"]
    if not pairs or opening["count"] != 1 or len(spans) != 2 or "height" not in opening:
        return []
    others = any(x.kind in {"measure", "dims"} for x in scene.items[: pairs[0]])
    if not scene.in_force and not others:
        return []  # the last of the pairs may be the wall
    more: list[dict[str, Any]] = []
    k = pairs[0] + 1
    while k + 1 < len(scene.items) and scene.items[k].says("list.then"):
        k += scene.items[k + 1].says("list.then")
        item = scene.at(k + 1)
        if item is None or not scene.free(k + 1) or item.kind != "dims" or len(item.sizes) != 2:
            break
        if not fits(scene, item) or owner_right(scene, k + 1):
            break
        one: dict[str, Any] = {"kind": opening["kind"], "count": 1}
        if not set_pair(scene, item, one, sources, item.sizes):
            break
        more.append(one)
        k += 2
    return more


def _long(item: Item) -> bool:
    """A size with its unit, or bare metres."""
    return kind(item.size.unit) == LENGTH if item.size.unit else item.size.decimal


def at_each_end(scene: Scene, i: int, opening: dict[str, Any]) -> list[dict[str, Any]]:
    """'door at each end': a second one like it, measured from the other end."""
    ahead = " ".join(x.low for x in scene.items[i + 1 : i + 5])
    apart = any(x.says("openings.each_end") for x in scene.items[i + 1 : i + 8])
    if opening["count"] == 2 and apart and "from_left" in opening:  # '2 windows each 1 m from the ends'
        opening["count"] = 1
        return [
            {**{k: v for k, v in opening.items() if k != "from_left"}, "from_right": opening["from_left"]}
        ]
    if opening["count"] != 1 or not ahead.startswith(scene.words.cue["openings.at_each_end"]):
        return []
    other = dict(opening)
    if "from_left" in other:
        other["from_right"] = other.pop("from_left")
    elif "from_right" in other:
        other["from_left"] = other.pop("from_right")
    return [other]


def each_of_them(found: list[dict[str, Any]]) -> list[dict[str, Any]]:
    """'2 windows 1.2 wide, one 1 m from left, one 1 m from right': each with the size of both."""
    for n, many in enumerate(found):
        if many["count"] < 2:
            continue
        places = [o for o in found[n + 1 :] if o["kind"] == many["kind"]]
        for side in ("width", "height"):  # 'two windows 900 wide, one at 1.2, one at 4': of both
            if places and side in places[0] and not any(side in o for o in (many, *places[1:])):
                many[side] = places[0].pop(side)
        new = [set(o) - {"kind", "count"} for o in places]
        told = all(o["count"] == 1 for o in places) and not any(keys & set(many) for keys in new)
        if len(places) == many["count"] and told:
            others = [o for o in found if o is not many and o not in places]
            return [*others, *({**many, **place} for place in places)]
    return found


def further_widths(
    scene: Scene, opening: dict[str, Any], spans: list[Item], sources: list[Item]
) -> list[dict[str, Any]]:
    """'2 windows 1.8m and 1.2m': as many widths as openings, one each."""
    many, width = opening["count"], opening.get("width")
    if many < 2 or width is None or "height" in opening:
        return []
    at = next((k for k, x in enumerate(scene.items) if x in spans and x.kind == "measure" and _long(x)), None)
    if at is None:
        return []
    found: list[Item] = []
    k = at + 1
    while k + 1 < len(scene.items) and scene.items[k].says("list.and"):
        item = scene.items[k + 1]
        if not scene.free(k + 1) or item.kind != "measure" or not _long(item):
            break
        found.append(item)
        k += 2
    behind = scene.at(k)
    if len(found) != many - 1 or (behind is not None and behind.tagged("dim")):
        return []
    sources += found
    for item in found:
        item.used = "openings"
    return [
        {"kind": opening["kind"], "count": 1, "width": plain(item.size, item.size.unit or "m")}
        for item in found
    ]
