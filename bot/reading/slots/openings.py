"""Windows, doors and other openings: how many, how big, where."""

from __future__ import annotations

from typing import Any

from bot.reading.items import Item
from bot.reading.scene import Scene
from bot.reading.slots.opening_edges import next_place, place_ahead, reckon_edge
from bot.reading.slots.opening_lists import (
    at_each_end,
    each_of_them,
    further_places,
    further_sizes,
    further_widths,
    so_far_apart,
)
from bot.reading.slots.opening_order import turn_about
from bot.reading.slots.opening_sizes import KINDS, kind_of, stays
from bot.reading.slots.openings_before import sizes_before
from bot.reading.slots.openings_behind import sizes_behind

SEVERAL = 2  # openings, each told by its label


def take_openings(scene: Scene) -> None:
    """Fill `openings`; [] where the asker says there are none."""
    found: list[dict[str, Any]] = []
    sources: list[Item] = []
    denied = False
    if scene.topics and set(scene.topics) <= {"crack", "safety", "weather"}:
        return
    if scene.nouns.isdisjoint(KINDS):
        return
    noun_at = _named(scene)
    ahead = True  # whether the place of this noun stands before it
    scene.owners = turn_about(scene) if len(noun_at) > 1 else {}
    for n, i in enumerate(noun_at):
        item = scene.items[i]
        kind = kind_of(item) or "opening"
        gone = _counted_off(scene, i)
        if gone:
            denied = True
            scene.heard.negated += [("openings", kind)] * gone
            scene.heard.marks.add("counted off")
            scene.items[i - 1].used = "label"
            continue
        if scene.negated(i) and not _deducted(scene, i):
            denied = True
            scene.heard.negated.append(("openings", kind))
            continue
        if (n and noun_at[n - 1] == i - 1 and found) or stays(scene, i):
            continue
        nxt = noun_at[n + 1] if n + 1 < len(noun_at) else None
        if nxt is not None and _heads_labels(scene, i, nxt):
            continue
        if (
            nxt is not None
            and kind == "opening"
            and all(x.says("openings.for_a") or _heads(scene, i, x) for x in scene.items[i + 1 : nxt])
        ):
            continue
        opening: dict[str, Any] = {"kind": kind, "count": 1}
        spans = [item]
        double = n + 1 < len(noun_at) and noun_at[n + 1] == i + 1  # 'bifold opening', 'door opening'
        after = n + 2 if double else n + 1
        stop = noun_at[after] if after < len(noun_at) else len(scene.items)
        floor = noun_at[n - 1] + 1 if n else 0
        another = item.tagged("connect", "another")  # 'at 3 m one at 10 m': what stands before is the first's
        said_size = not another and sizes_before(scene, i, floor, opening, spans)
        ahead = ahead and place_ahead(scene, i, floor, opening, spans)
        further = next_place(scene, i, noun_at[after] if after < len(noun_at) else None, ahead)
        ahead, stop = further is not None, further or stop
        sizes_behind(scene, i + double, stop, opening, spans, said_size)
        reckon_edge(scene, opening, spans)
        if another and found and found[-1]["kind"] == kind and "width" not in opening:
            opening.update(
                {side: found[-1][side] for side in ("width", "height", "sill") if side in found[-1]}
            )
        plural = item.low.endswith(("s", "ws")) and not item.tagged("label")
        if item.says("openings.pair_of_doors") and kind == "door":
            plural = False
        mention = set(opening) == {"kind", "count"} and len(spans) == 1
        if mention and not _new_thing(scene, i) and (plural or any(o["kind"] == kind for o in found)):
            continue
        if mention and plural and opening["count"] == 1 and _general(scene, i):
            continue
        if not said_size and mention and (_general(scene, i) or _its_corners(scene, i)):
            continue
        if n and _between_two(scene, noun_at[n - 1], i, opening, spans, found):
            return
        found.append(opening)
        sources += spans
        more = further_places(scene, opening, stop, sources) if plural or opening["count"] > 1 else []
        more = more or so_far_apart(scene, opening, sources)
        if more and opening["count"] > 1 and opening["count"] != 1 + len(more):
            ask = f"{opening['count']} {kind}s, and {1 + len(more)} places: where does each stand?"
            scene.doubt("openings", ask, [], *spans)
        more = more or (further_sizes(scene, opening, spans, stop, sources) if plural else [])
        more = more or further_widths(scene, opening, spans, sources) or at_each_end(scene, i, opening)
        if not more and opening["count"] > 1 and {"from_left", "from_right"} & set(opening):
            ask = f"{opening['count']} {kind}s, and 1 place: where does each stand?"
            scene.doubt("openings", ask, [], *spans)
        if more:
            opening["count"] = 1
            found += more
    bare = [o for o in found if set(o) == {"kind", "count"} and o["count"] == 1]
    taken = {id(item) for item in sources}
    named = [i for i in noun_at if id(scene.items[i]) in taken]
    for opening in bare:
        place = named[min(found.index(opening), len(named) - 1)]
        if any(
            o is not opening and o["kind"] == opening["kind"] and "width" in o for o in found
        ) and not _new_thing(scene, place):
            found.remove(opening)
    found = each_of_them(found)
    if found:
        scene.claim("openings", found, *sources)
    elif denied:
        scene.claim("openings", [], *[scene.items[i] for i in noun_at])


def _named(scene: Scene) -> list[int]:
    """Where openings are named; 'opening 3 m wide for a bifold' names one, and not what comes into it."""
    found: list[int] = []
    for i in (i for i, item in enumerate(scene.items) if kind_of(item)):
        ahead = scene.at(scene.left(i))
        told = bool(found) and kind_of(scene.items[found[-1]]) == "opening" and found[-1] + 1 < i - 1
        if told and ahead is not None and ahead.low == "for":
            continue
        found.append(i)
    return found


def _between_two(
    scene: Scene,
    one: int,
    other: int,
    opening: dict[str, Any],
    spans: list[Item],
    found: list[dict[str, Any]],
) -> bool:
    """'door 900x2100 window': of the door, or of the window? Asked where nothing parts it from either."""
    pair = next((x for x in scene.items[one + 1 : other] if x.kind == "dims" and x in spans), None)
    if pair is None or not found or {"width", "height"} & set(found[-1]) or "width" not in opening:
        return False
    between = scene.items[one + 1 : other]
    if any(x.kind == "mark" or x.says("list.then") or not (x is pair or x.tagged("side")) for x in between):
        return False
    size = {side: opening[side] for side in ("width", "height") if side in opening}
    bare = {k: v for k, v in opening.items() if k not in size}
    choices = [
        (f"The {found[-1]['kind']}", {"openings": [*found[:-1], {**found[-1], **size}, bare]}),
        (f"The {opening['kind']}", {"openings": [*found, opening]}),
    ]
    scene.doubt("openings", f"Which of them is {pair.text}?", choices, *spans)
    return True


def _heads_labels(scene: Scene, i: int, nxt: int) -> bool:
    """'2no windows W1 1500x1050 W2 900x1050': each is told by its label; the count before is of them all."""
    labels = len(scene.where("label"))
    between = scene.items[i + 1 : nxt]
    if not scene.items[nxt].tagged("label") or scene.items[i].tagged("label") or labels < SEVERAL:
        return False
    if any(x.kind != "mark" and not x.says("small.word") for x in between):
        return False
    count = next((x for x in reversed(scene.items[:i]) if x.kind == "measure"), None)
    if count is not None and count.size.whole and count.size.value == labels and not count.used:
        count.used = "label"
    return True


def _heads(scene: Scene, i: int, item: Item) -> bool:
    """'openings 1 door 1 window': whether what stands between the head of a list and its first is a count."""
    many = scene.items[i].says("openings.many")
    return many and (item.text in {":", "-", "="} or (item.kind == "measure" and item.size.whole))


def _counted_off(scene: Scene, i: int) -> int:
    """'lose 2 windows' of those that were told: how many go."""
    count, ahead = scene.at(i - 1), scene.items[max(0, i - 3) : max(0, i - 1)]
    if not scene.openings_told or count is None or count.kind != "measure" or not count.size.whole:
        return 0
    off = scene.at(i + 1)
    taken = any(x.says("not.lost") or x.says("not.take_out") for x in ahead)
    taken = taken or (off is not None and off.says("not.away") and any(x.says("not.take") for x in ahead))
    sized = i + 1 < len(scene.items) and _sized(scene, i + 1)
    return (
        int(count.size.value) if taken and not sized and count.size.value < scene.sense.openings_most else 0
    )


def _deducted(scene: Scene, i: int) -> bool:
    """'take out a door 900 x 2100': one that comes off the wall's area, and not one that goes away."""
    article = scene.at(i - 1)
    size = scene.at(i + 1)
    if article is not None and article.says("not.take_out") and not scene.openings_told:
        return _sized(scene, i + 1)  # 'take out window 900x900', where none was told
    if article is not None and article.kind == "measure" and article.size.whole and not scene.openings_told:
        return scene.items[i].low.endswith("s")  # 'take 2 doors off', where none was told
    if (
        article is None
        or not article.says("openings.one_of_them")
        or size is None
        or not _sized(scene, i + 1)
    ):
        return False
    return any(x.says("not.take") or x.says("not.take_out") for x in scene.items[max(0, i - 4) : i])


def _sized(scene: Scene, i: int) -> bool:
    """'900x2100', '1200 square': both sides of an opening."""
    size, square = scene.at(i), scene.at(i + 1)
    if size is not None and size.kind == "measure":
        return square is not None and square.tagged("dim", "square")
    return size is not None and size.kind == "dims"


def _its_corners(scene: Scene, i: int) -> bool:
    """'window corners 4 windows': of the corners of all of them."""
    after = scene.at(i + 1)
    return after is not None and after.says("ends.corner") and len(scene.where("noun", "window")) > 1


def _new_thing(scene: Scene, i: int) -> bool:
    before = scene.at(i - 1)
    return before is not None and before.says("openings.one_more")


def _general(scene: Scene, i: int) -> bool:
    """'over windows', 'near a door': openings spoken of, not counted."""
    before = scene.at(i - 1)
    over = before is not None and before.says("openings.article")
    two = scene.at(i - 2) if over else before
    if two is None:
        return False
    hedged = any(two.tagged("hedge", way) for way in ("over", "under", "about"))
    return two.says("openings.near") or hedged or two.tagged("dim", "at")
