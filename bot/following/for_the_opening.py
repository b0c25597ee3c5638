"""A size said after an opening: it is the opening's, not the wall's."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass
from typing import Any

from bot.reading.heard import Heard
from bot.reading.items import Item, Measure
from knowledge.senses import Sense
from knowledge.units import UnitFault, convert

Plain = dict[str, Any]
ENDS = ("from_left", "from_right")
OF_A_WALL = ("length", "height", "number")  # what a size was taken for while it stood alone


@dataclass(frozen=True)
class Follow:
    """A message that names no opening, after a wall whose openings are in force."""

    heard: Heard
    openings: list[Plain]
    wall: Plain
    sense: Sense

    @property
    def last(self) -> Plain:
        """The opening last spoken of."""
        return self.openings[-1]

    def placed(self) -> list[tuple[int, str]]:
        """The openings whose place was said, each with the end that it is measured from."""
        return [(n, end) for n, o in enumerate(self.openings) for end in ENDS if end in o]

    def put(self, openings: list[Plain], spans: list[tuple[int, int]], value: Plain, because: str) -> bool:
        """The openings as they are now; what was read of the wall for it is let go. Always True."""
        heard = self.heard
        for slot in OF_A_WALL:
            heard.slots.pop(slot, None)
            heard.evidence.pop(slot, None)
        of_wall = {"length", "height"}
        heard.doubts = [
            d for d in heard.doubts if d.slot not in of_wall and not (d.spans and set(d.spans) <= set(spans))
        ]
        heard.assumed = [a for a in heard.assumed if a["slot"] not in OF_A_WALL]
        heard.slots["openings"] = openings
        heard.evidence["openings"] = spans
        heard.marks.add("all openings")
        heard.lone = None
        heard.assumed.append({"slot": "openings", "value": value, "because": because})
        return True


def for_the_opening(heard: Heard, before: Plain, sense: Sense) -> None:
    """'less 2 doors', then '900x2000'; 'make it 1010 wide'; 'move it to 5 m': of an opening in force."""
    openings = before.get("openings") or []
    if not openings or "openings" in heard.slots or heard.walls or "wall" in heard.marks or heard.negated:
        return
    follow = Follow(heard, openings, before, sense)
    next((rule for rule in RULES if rule(follow)), None)


def _moved(follow: Follow) -> bool:
    """'move it to 5 m': the one opening whose place was said stands there now, from the same end."""
    size = follow.heard.lone
    if "by moved" not in follow.heard.marks or size is None:
        return False
    placed = follow.placed()
    if len(placed) != 1:
        return True  # which of them is not known: nothing moves
    n, end = placed[0]
    place = {"value": size.value, "unit": size.unit or follow.openings[n][end]["unit"]}
    moved = [{**o, end: place} if k == n else o for k, o in enumerate(follow.openings)]
    because = f"The {follow.openings[n]['kind']} was moved, from the same end."
    return follow.put(moved, [(size.start, size.end)], place, because)


def _placed_now(follow: Follow) -> bool:
    """'its 2 m from the left': the place of the opening last spoken of."""
    heard, size = follow.heard, _only_size(follow.heard)
    ends = [end for end in ENDS if f"by {end}" in heard.marks]
    if len(ends) != 1 or size is None or heard.stray or heard.topics or follow.last.get("count", 1) > 1:
        return False
    unit = size.unit or ("mm" if size.value >= follow.sense.millimetres_from else "m")
    place = {"value": size.value, "unit": unit}
    one = {**{k: v for k, v in follow.last.items() if k not in ENDS}, ends[0]: place}
    because = f"The place was taken for the {one['kind']}."
    return follow.put([*follow.openings[:-1], one], [(size.start, size.end)], place, because)


def _only_size(heard: Heard) -> Measure | None:
    """The one size of a message in which nothing else was read."""
    bare = [x for x in heard.bare if isinstance(x, Item)]
    if heard.slots or len(bare) != 1 or bare[0].kind != "measure" or len(bare[0].size.values) != 1:
        return None
    return bare[0].size


def _other_end(follow: Follow) -> bool:
    """'no, from the right': the one opening with a place is measured from the other end."""
    heard, placed = follow.heard, follow.placed()
    ends = [end for end in ENDS if f"by {end}" in heard.marks]
    if heard.slots or heard.doubts or heard.set_aside or len(ends) != 1 or len(placed) != 1:
        return False
    n, end = placed[0]
    if end == ends[0]:
        return False
    one = dict(follow.openings[n])
    place = one[ends[0]] = one.pop(end)
    turned = [one if k == n else o for k, o in enumerate(follow.openings)]
    because = f"The {one['kind']} is measured from the other end now."
    return follow.put(turned, [(0, len(heard.text))], place, because)


def _one_of_several(follow: Follow) -> bool:
    """'one of them is 1.8 x 1.2', 'one is 1.8 wide': one of those told together is of another size."""
    heard, last = follow.heard, follow.last
    if "of_several" not in heard.changes or last.get("count", 1) < 2:
        return False
    width, height = heard.slots.get("length"), heard.slots.get("height")
    if width is None or not (_a_pair(heard) if height is not None else "by wide" in heard.marks):
        return False
    one = {**last, "width": width, **({"height": height} if height is not None else {}), "count": 1}
    others = {**last, "count": last["count"] - 1}
    because = f"The size was taken for one {last['kind']} of {last['count']}."
    spans = heard.evidence.get("length", [])
    return follow.put([*follow.openings[:-1], others, one], spans, one, because)


def _as_wide(follow: Follow) -> bool:
    """'make it 1010 wide' after a door: its width, where the wall would be far too short."""
    heard, wall = follow.heard, follow.wall.get("length")
    if "by wide" not in heard.marks or "length" not in heard.slots or "height" in heard.slots:
        return False
    if heard.stray:  # 'boards are 900 wide': of something else
        return True
    wide, widest = heard.slots["length"], follow.sense.opening_widest
    try:
        metres = convert(wide["value"], wide["unit"], "m")
        limit = convert(wall["value"], wall["unit"], "m") / 2 if wall else widest
    except UnitFault:
        return True
    if metres > min(limit, widest):
        return True
    filled = _still_in_the_middle(follow.last, {**follow.last, "width": wide}, wall)
    because = f"The width was taken for the {filled['kind']}."
    return follow.put([*follow.openings[:-1], filled], heard.evidence.get("length", []), filled, because)


def _still_in_the_middle(one: Plain, new: Plain, wall: Plain | None) -> Plain:
    """What stood in the middle of the wall stands there with its new width."""
    if wall is None or "from_left" not in one or "width" not in one:
        return new
    unit = wall["unit"]
    was, wide, place = (
        convert(s["value"], s["unit"], unit) for s in (one["width"], new["width"], one["from_left"])
    )
    if abs(place - (wall["value"] - was) / 2) > 1e-6:
        return new
    return {**new, "from_left": {"value": round((wall["value"] - wide) / 2, 6), "unit": unit}}


def _size_of_the_last(follow: Follow) -> bool:
    """'less 2 doors', then '900x2000': a pair that could be an opening, where the last one has no size."""
    heard, last = follow.heard, follow.last
    width, height = (heard.slots.get(slot) for slot in ("length", "height"))
    if {"width", "height"} & set(last) or not (isinstance(width, dict) and isinstance(height, dict)):
        return False
    if not _a_pair(heard) or not _can_be_one(follow.sense, width, height):
        return False
    filled = {**last, "width": width, "height": height}
    because = f"The size was taken for the {last['kind']}, which had none."
    return follow.put([*follow.openings[:-1], filled], heard.evidence["length"], filled, because)


def _a_pair(heard: Heard) -> bool:
    """Whether both sizes were said as one."""
    return heard.evidence.get("length") == heard.evidence.get("height")


def _can_be_one(sense: Sense, width: Plain, height: Plain) -> bool:
    try:
        wide, high = (convert(size["value"], size["unit"], "m") for size in (width, height))
    except UnitFault:
        return False
    return wide <= sense.opening_widest and high <= sense.opening_highest


RULES: tuple[Callable[[Follow], bool], ...] = (  # the first that is True has settled it
    _moved,
    _placed_now,
    _other_end,
    _one_of_several,
    _as_wide,
    _size_of_the_last,
)
