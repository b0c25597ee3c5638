"""Where an opening begins, told by its centre, its far edge or both its edges."""

from __future__ import annotations

from typing import Any

from rapidfuzz import fuzz

from bot.reading.items import Item
from bot.reading.scene import Scene, show
from bot.reading.slots.opening_sizes import place_behind, set_one
from bot.reading.units import LENGTH, candidates
from knowledge.units import convert, kind

NEAR = 70  # of 100: a word this like 'centre' or 'ends' is asked about


def edge_told(scene: Scene, j: int, opening: dict[str, Any], spans: list[Item]) -> bool:
    """'centre at 6.5', 'ends 5 m from left': takes the size as a place and keeps which edge it is of."""
    item = scene.items[j]
    if item.kind != "measure" or {"edge", "from_left", "from_right"} & set(opening):
        return False
    if item.size.unit and kind(item.size.unit) != LENGTH:
        return False
    k = j - 1
    while k >= 0 and scene.items[k].says("openings.centre_way"):
        k -= 1
    word = scene.at(k)
    if word is None or k < 0:
        return False
    if _slip(scene, word):
        scene.doubt(
            "openings", f"Where does the {opening['kind']} begin? I do not know '{word.text}'.", [], item
        )
        return True
    side = place_behind(scene, j) or "from_left"
    if word.says("openings.centre"):
        edge = "centre"
    elif word.says("openings.ends_at") and side == "from_left":
        edge = "end"
    else:
        return False
    if set_one(scene, item, opening, spans, side, item.size):
        opening["edge"] = edge
    return True


def place_ahead(scene: Scene, i: int, floor: int, opening: dict[str, Any], spans: list[Item]) -> bool:
    """'3 m from left theres a window': a place that stands before the noun which it is of."""
    j = _place_of(scene, i, floor)
    if j is None or scene.items[j].used:
        return False
    joint = False
    for x in scene.items[floor:j]:
        joint = (joint or x.tagged("noun", "joint")) and x.kind != "mark"
    item, side = scene.items[j], place_behind(scene, j)
    return side is not None and not joint and set_one(scene, item, opening, spans, side, item.size)


def next_place(scene: Scene, i: int, after: int | None, ahead: bool) -> int | None:
    """Where the place of the next noun begins: so it is behind 'and', or where the last stood so as well."""
    j = _place_of(scene, after, i + 1) if after is not None else None
    return j if j is not None and (ahead or any(_parts(x) for x in scene.items[j - 1 : j])) else None


def _place_of(scene: Scene, i: int, floor: int) -> int | None:
    """Where the size of a place stands that leads to the noun at i."""
    j = i - 1
    while j >= floor and _leads(scene.items[j]):
        j -= 1
    while j >= floor and scene.items[j].kind != "measure" and not _breaks(scene.items[j]):
        j -= 1
    if j < floor or j == i - 1 or scene.items[j].kind != "measure":
        return None
    size = scene.items[j].size
    placed = place_behind(scene, j) is not None and not (size.unit and kind(size.unit) != LENGTH)
    return j if placed else None


def _leads(item: Item) -> bool:
    """'is a', 'theres', 'we have a': nothing that says more of the place."""
    return item.says("small.word") or item.says("openings.one_of_them")


def _parts(item: Item) -> bool:
    return item.kind == "mark" or item.says("list.and")


def _breaks(item: Item) -> bool:
    return _parts(item) or (item.tagged("noun") and not item.tagged("side"))


def _slip(scene: Scene, word: Item) -> bool:
    """Whether a word that is none of ours may be one that names an edge."""
    if word.kind != "word" or len(word.low) < 4 or word.cues:
        return False
    edges = (*scene.words.cue["openings.centre"], *scene.words.cue["openings.ends_at"])
    return any(fuzz.ratio(word.low, edge) >= NEAR for edge in edges)


def reckon_edge(scene: Scene, opening: dict[str, Any], spans: list[Item]) -> None:
    """The near edge from the centre or the far one; asked where the width is not known."""
    edge = opening.pop("edge", None)
    side = next((s for s in ("from_left", "from_right") if s in opening), None)
    if edge is None or side is None:
        return
    place, what = opening[side], opening["kind"]
    if "width" not in opening:
        ask = f"How wide is the {what}? Its {edge} is at {show(place)}, and the answer goes by its near edge."
        scene.doubt("openings", ask, [], *[x for x in spans if x.kind == "measure"])
        return
    wide = convert(opening["width"]["value"], opening["width"]["unit"], place["unit"])
    begins = round(place["value"] - (wide / 2 if edge == "centre" else wide), 6)
    if begins < 0:
        ask = f"The {what} would begin beyond the end of the wall. Where does it begin?"
        scene.doubt("openings", ask, [], *[x for x in spans if x.kind == "measure"])
        return
    opening[side] = {**place, "value": begins}
    from_ = "left" if side == "from_left" else "right"
    because = f"With its {edge} at {show(place)}, the {what} begins {show(opening[side])} from the {from_}."
    scene.assume("openings", show(opening[side]), because)


def from_to(scene: Scene, j: int, opening: dict[str, Any], spans: list[Item]) -> bool:
    """'window from 3.2 to 5.0': both edges, and the width between them."""
    item, before = scene.items[j], scene.at(j - 1)
    if {"width", "from_left", "from_right"} & set(opening) or len(item.sizes) != 2:
        return False
    said = item.low.startswith("from") or (before is not None and before.says("range.from"))
    after = scene.at(j + 1)
    if not said or (after is not None and after.tagged("dim") and not after.tagged("dim", "from_left")):
        return False
    ends = [candidates(scene, size, "wall") for size in item.sizes]
    if any(len(options) != 1 for options in ends):
        return False
    near, far = ends[0][0], ends[1][0]
    width = round(convert(far["value"], far["unit"], near["unit"]) - near["value"], 6)
    if width <= 0:
        return False
    opening["from_left"], opening["width"] = near, {"value": width, "unit": near["unit"]}
    item.used = "openings"
    spans.append(item)
    scene.assume("openings", show(opening["width"]), f"From {show(near)} to {show(far)} of the left end.")
    return True
