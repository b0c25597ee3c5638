"""A size said after an opening: it is the opening's, not the wall's."""

from __future__ import annotations

from collections.abc import Callable

from bot.following.doubtful import alone
from bot.following.follow import (
    ENDS,
    Follow,
    Plain,
    a_pair,
    as_high,
    higher_or_lower,
    instead,
    one_so,
    so_many_or_so_wide,
    them_all,
)
from bot.following.joint_moved import PLACES
from bot.following.openings import NTH
from bot.reading.heard import Heard
from knowledge.senses import Sense
from knowledge.units import UnitFault, convert


def for_the_opening(heard: Heard, before: Plain, sense: Sense, last: list[str]) -> None:
    """'less 2 doors', then '900x2000'; 'make it 1010 wide'; 'move it to 5 m': of an opening in force."""
    openings = before.get("openings") or []
    if not openings or heard.walls or heard.swap or "wall" in heard.marks or heard.negated:
        return
    n = _spoken_of(heard, openings)
    if n is not None:
        follow = Follow(heard, openings, before, sense, n, last == ["openings"])
        next((rule for rule in RULES if rule(follow)), None)


def _spoken_of(heard: Heard, openings: list[Plain]) -> int | None:
    """The place of the opening that is named, and nothing told of it, or of the last; None for neither."""
    said = heard.slots.get("openings")
    if said is None:
        return len(openings) - 1
    if len(said) != 1 or set(said[0]) != {"kind", "count"} or said[0]["count"] != 1:
        return None
    like = [n for n, o in enumerate(openings) if o["kind"] == said[0]["kind"]]
    nth = [n for turn, n in NTH.items() if turn in heard.changes and n < len(like)]
    if len(nth) == 1:
        return like[nth[0]]
    return like[0] if len(like) == 1 else None


def _moved(follow: Follow) -> bool:
    """'move it to 5 m', 'the door shifts 600 to the right': where it stands now, from the same end."""
    heard, size = follow.heard, follow.size()
    if "by moved" not in heard.marks or size is None or "joint" in heard.marks:
        return False
    placed = [at for at in follow.placed() if "openings" not in heard.slots or at[0] == follow.n]
    placed = _nth_from_the_left(follow, placed) or placed
    if len(placed) != 1:
        return True  # which of them is not known: nothing moves
    n, end = placed[0]
    had = follow.openings[n][end]
    place = {"value": size.value, "unit": size.unit or had["unit"]}
    ways = [way for way in ("to_the_left", "to_the_right") if way in heard.changes]
    if ways:
        sign = 1 if ways == ["to_the_right" if end == "from_left" else "to_the_left"] else -1
        by = follow.metric(size)
        apart = sign * convert(by["value"], by["unit"], had["unit"])
        place = {**had, "value": round(had["value"] + apart, 6)}
        if had["value"] + apart < 0:
            return True
    moved = [{**o, end: place} if k == n else o for k, o in enumerate(follow.openings)]
    because = f"The {follow.openings[n]['kind']} was moved, from the same end."
    return follow.put(moved, [(size.start, size.end)], place, because)


def _nth_from_the_left(follow: Follow, placed: list[tuple[int, str]]) -> list[tuple[int, str]]:
    """'move the middle one', 'the last one': the one that stands so, where all stand by themselves."""
    changes = follow.heard.changes
    told = {n for turn, n in (*PLACES.items(), *NTH.items()) if turn in changes}
    told |= {len(placed) // 2} if "middle_one" in changes and len(placed) % 2 else set()
    told |= {n for turn, n in {"left_one": 0, "right_one": -1}.items() if turn in changes}
    single = all(end == "from_left" and follow.openings[n].get("count", 1) == 1 for n, end in placed)
    if len(told) != 1 or not single or not -len(placed) <= next(iter(told)) < len(placed):
        return []
    ordered = sorted(placed, key=follow.metric_of)
    return [ordered[told.pop()]]


def _placed_now(follow: Follow) -> bool:
    """'its 2 m from the left': the place of the opening last spoken of."""
    heard, size = follow.heard, follow.size()
    ends = [end for end in ENDS if f"by {end}" in heard.marks]
    if len(ends) != 1 or size is None or heard.stray or heard.topics or follow.one.get("count", 1) > 1:
        return False
    place = follow.metric(size)
    one = {**{k: v for k, v in follow.one.items() if k not in ENDS}, ends[0]: place}
    because = f"The place was taken for the {one['kind']}."
    return follow.put(follow.with_one(one), [(size.start, size.end)], place, because)


def _sill_now(follow: Follow) -> bool:
    """'sill is 1050 above FFL, not 900': how high the opening starts."""
    heard, size = follow.heard, follow.size()
    if "by sill" not in heard.marks or heard.topics:
        return False
    if size is not None:
        sill, spans = follow.metric(size), [(size.start, size.end)]
    elif set(heard.slots) == {"length"} and heard.named == {"sill"}:  # 'cill at 900'
        sill, spans = heard.slots["length"], heard.evidence.get("length", [])
    else:
        return False
    because = f"The sill is that of the {follow.one['kind']}."
    return follow.put(follow.with_one({**follow.one, "sill": sill}), spans, sill, because)


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
    heard, last = follow.heard, follow.one
    said = "of_several" in heard.changes or "one so" in heard.marks
    if not said or last.get("count", 1) < 2:
        return False
    width, height = heard.slots.get("length"), heard.slots.get("height")
    if width is None or not (a_pair(heard) if height is not None else "by wide" in heard.marks):
        return False
    one = {**last, "width": width, **({"height": height} if height is not None else {}), "count": 1}
    others = {**last, "count": last["count"] - 1}
    because = f"The size was taken for one {last['kind']} of {last['count']}."
    spans = heard.evidence.get("length", [])
    return follow.put(follow.with_one(others, one), spans, one, because)


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
    filled = _still_in_the_middle(follow.one, {**follow.one, "width": wide}, wall)
    because = f"The width was taken for the {filled['kind']}."
    return follow.put(follow.with_one(filled), heard.evidence.get("length", []), filled, because)


def _square(follow: Follow) -> bool:
    """'a window', then '1.2 square': both sides of the opening, which had none."""
    heard, last = follow.heard, follow.one
    side = heard.slots.get("length")
    if "by square" not in heard.marks or side is None or "height" in heard.slots:
        return False
    if {"width", "height"} & set(last) or not can_be_one(follow.sense, side, side):
        return False
    filled = {**last, "width": side, "height": side}
    because = f"The size was taken for the {last['kind']}, which had none."
    return follow.put(follow.with_one(filled), heard.evidence.get("length", []), filled, because)


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
    heard, last = follow.heard, follow.one
    width, height = (heard.slots.get(slot) for slot in ("length", "height"))
    if {"width", "height"} & set(last) or not (isinstance(width, dict) and isinstance(height, dict)):
        return False
    each = {"by wide", "by high"} <= heard.marks and not heard.topics  # '1.2 wide 1 high'
    if not (a_pair(heard) or each) or not can_be_one(follow.sense, width, height):
        return False
    filled = {**last, "width": width, "height": height}
    because = f"The size was taken for the {last['kind']}, which had none."
    spans = [*heard.evidence["length"], *([] if a_pair(heard) else heard.evidence["height"])]
    return follow.put(follow.with_one(filled), spans, filled, because)


def _its_size_now(follow: Follow) -> bool:
    """'window 1800x1200', then 'make it 2.1 x 1.2': the opening told right before."""
    heard, last = follow.heard, follow.one
    width, height = (heard.slots.get(slot) for slot in ("length", "height"))
    if not follow.told or not ({"width", "height"} <= set(last)) or not a_pair(heard) or heard.topics:
        return False
    if not (isinstance(width, dict) and isinstance(height, dict)) or "new" in heard.marks:
        return False
    wall = follow.wall.get("length")
    if wall is None or not can_be_one(follow.sense, width, height):
        return False
    if convert(width["value"], width["unit"], "m") * HALF > convert(wall["value"], wall["unit"], "m"):
        return False
    filled = {**last, "width": width, "height": height}
    because = f"The size was taken for the {last['kind']} told right before."
    return follow.put(follow.with_one(filled), heard.evidence["length"], filled, because)


HALF = 2  # a wall is so many times as long as a pair that is surely not its own size
NEAR = 1.25  # times: a number so near to a size of the wall may be meant for it


def _a_side(follow: Follow) -> bool:
    """'door', then '900', then '2100': the sides that it was to be told."""
    heard, last, size = follow.heard, follow.one, follow.heard.lone
    if not follow.told or size is None or not alone(heard) or size.bound or size.value <= 0:
        return False
    side = next((side for side in ("width", "height") if side not in last), None)
    walls = [follow.wall[slot] for slot in ("length", "height") if isinstance(follow.wall.get(slot), dict)]
    if side is None or (not size.unit and any(wall["unit"] in {"ft", "in"} for wall in walls)):
        return False
    value = follow.metric(size)
    most = follow.sense.opening_widest if side == "width" else follow.sense.opening_highest
    try:
        metres = convert(value["value"], value["unit"], "m")
        of_wall = [convert(wall["value"], wall["unit"], "m") for wall in walls]
    except UnitFault:
        return False
    if metres > most or any(had / NEAR < metres < had * NEAR for had in of_wall if side == "width"):
        return False
    if any(metres > had for had in of_wall):
        return False
    filled = {**last, side: value}
    if size.whole and last.get("count", 1) > 1 and value["unit"] == "m":
        return so_many_or_so_wide(follow, filled, side)
    because = f"'{heard.text[size.start : size.end]}' was taken as the {side} of the {last['kind']}."
    return follow.put(follow.with_one(filled), [(size.start, size.end)], filled, because)


def can_be_one(sense: Sense, width: Plain, height: Plain) -> bool:
    """Whether an opening may be so wide and so high."""
    try:
        wide, high = (convert(size["value"], size["unit"], "m") for size in (width, height))
    except UnitFault:
        return False
    return wide <= sense.opening_widest and high <= sense.opening_highest


RULES: tuple[Callable[[Follow], bool], ...] = (  # the first that is True has settled it
    instead,
    _moved,
    _placed_now,
    _sill_now,
    _other_end,
    _one_of_several,
    one_so,
    them_all,
    _as_wide,
    as_high,
    higher_or_lower,
    _square,
    _size_of_the_last,
    _its_size_now,
    _a_side,
)
