"""Openings in a conversation: one more, one less, another size."""

from __future__ import annotations

from typing import Any

from bot.following.follow import ENDS
from bot.following.joint_moved import PLACES
from bot.following.swapped import swapped
from bot.reading.heard import Doubt, Heard
from bot.reading.scene import same, show

Plain = dict[str, Any]
NTH = {"first_one": 0, "second_one": 1, "third_one": 2}


def openings(had: list[Plain] | None, said: list[Plain], heard: Heard) -> list[Plain]:
    """Openings after 'add a door', 'lose the other window', 'one of the windows is now a door'."""
    if "all openings" in heard.marks:
        return said
    had = [dict(o) for o in had or []]
    denied = [k for s, k in heard.negated if s == "openings"]
    counted = "counted off" in heard.marks and len(denied)
    like = [o for o in had if denied and (o["kind"] == denied[0] or denied[0] == "opening")]
    if counted and not like:  # 'take off 2 doors', where none was told
        return [*had, {"kind": denied[0], "count": counted}]
    if counted and counted < len(like) and any(o != like[0] for o in like):
        heard.doubts.append(Doubt("openings", "Which of them go?"))
        return had
    for kind in denied:
        if len(denied) == 1 and _take_nth(had, kind, heard):
            continue
        _take_out(had, kind, all_of="one_of" not in heard.changes and "counted off" not in heard.marks)
    if not said:
        return had if denied else []
    if not had:
        return said
    if heard.swap is not None and len(said) == 1:
        ways = swapped(had, said[0], heard.swap)
        if len(ways) == 1:
            return ways[0]
        _ask_which(f"Which becomes the {said[0]['kind']}?", had, ways, heard)
        return had
    if _a_second(had, said, heard):
        return _added(had, said, heard)
    nth = _nth(had, said, heard)
    if nth is not None:
        return [_with(o, said[0]) if o is nth else o for o in had]
    one_of = "one_of" in heard.changes and "swap" in heard.changes
    if "becomes" in heard.changes and not one_of and len(said) == 1 and "wall" not in heard.marks:
        return [*had[:-1], _another_kind(had[-1], said[0])]
    if "swap" in heard.changes:
        return _swapped(had, said, heard)
    each = _each_told(had, said) if len(said) > 1 else None
    if each is not None and ("more" not in heard.changes or not any("width" in o for o in said)):
        return each
    if "more" in heard.changes or _and_another(had, said, heard):
        return _added(had, said, heard)
    kinds = {o["kind"] for o in said}
    kept = [o for o in had if o["kind"] not in kinds]
    like = [o for o in had if o["kind"] in kinds] or [o for o in had if o["kind"] == "opening"]
    if len(said) == 1 and like and all(_elsewhere(o, said[0], heard) for o in like):
        return had + said
    if len(like) > 1 and _one_of_these(like, said, heard):
        after = [[_with(o, said[0]) if o is one else o for o in had] for one in like]
        _ask_which(f"Which {said[0]['kind']} is that?", like, after, heard)
        return had
    if len(said) == 1 and len(like) == 1:
        return [_with(o, said[0]) if o is like[0] else o for o in had]
    return kept + said


def _a_second(had: list[Plain], said: list[Plain], heard: Heard) -> bool:
    """'2nd door same' where there is one door: one more."""
    like = [o for o in had if len(said) == 1 and o["kind"] == said[0]["kind"]]
    one = len(like) == 1 and like[0].get("count", 1) == 1
    return one and "second_one" in heard.changes and ("same" in heard.changes or "width" in said[0])


def _and_another(had: list[Plain], said: list[Plain], heard: Heard) -> bool:
    """'door 2.3 x 2.1', then 'and side door 900 x 2000': told with its size beside one that has its own."""
    if (
        "begins_and" not in heard.changes
        or {"the_one", "becomes"} & heard.changes
        or "correct" in heard.marks
    ):
        return False
    kinds = {o["kind"] for o in had if {"width", "height"} <= set(o)}
    return all({"width", "height"} <= set(o) and o["kind"] in kinds for o in said)


def _each_told(had: list[Plain], said: list[Plain]) -> list[Plain] | None:
    """'window at 1.1, door at 5.1', 'left one at 1.1, right at 5.1': what is told of each that there is."""
    single = [{**o, "count": 1} for o in had for _ in range(o.get("count", 1))]
    kinds = {o["kind"] for o in said}
    for kind in kinds:
        if sum(o["kind"] == kind for o in single) != sum(
            o.get("count", 1) for o in said if o["kind"] == kind
        ):
            return None
    if any(o.get("count", 1) > 1 for o in said):
        return None
    told = {kind: [o for o in said if o["kind"] == kind] for kind in kinds}
    return [_with(o, told[o["kind"]].pop(0)) if told.get(o["kind"]) else o for o in single]


def _one_of_these(like: list[Plain], said: list[Plain], heard: Heard) -> bool:
    """'the door is 1000 x 2000' where there are two doors, each told by itself."""
    one = len(said) == 1 and said[0].get("count", 1) == 1 and len(said[0]) > 2
    return one and "the_one" in heard.changes and all(o.get("count", 1) == 1 for o in like)


def _ask_which(question: str, like: list[Plain], after: list[list[Plain]], heard: Heard) -> None:
    """Which of those alike is spoken of; `after` holds the openings as each choice leaves them."""
    if any(d.slot == "openings" for d in heard.doubts):
        return
    choices: list[tuple[str, Plain]] = [
        (_called(one), {"openings": left}) for one, left in zip(like, after, strict=False)
    ]
    spans = heard.evidence.get("openings", [])
    heard.doubts.append(Doubt("openings", question, choices, spans=spans))


def _called(one: Plain) -> str:
    """'The door 900 mm × 2 m, 1 m from the left': an opening by what is known of it."""
    sizes = " × ".join(show(one[side]) for side in ("width", "height") if side in one)
    ends = [f", {show(one[end])} from the {end.removeprefix('from_')}" for end in ENDS if end in one]
    return f"The {one['kind']} {sizes}".strip() + "".join(ends)


def _another_kind(one: Plain, new: Plain) -> Plain:
    """'its a door now': in the place of what was there, as many, and no longer of its size."""
    if one["kind"] == new["kind"]:
        return _with(one, new)
    kept = [] if {"from_left", "from_right"} & set(new) else ["from_left", "from_right"]
    stands = {k: one[k] for k in (*kept, "count") if k in one}
    return {**new, **stands}


def _with(one: Plain, new: Plain) -> Plain:
    """An opening with what is told of it now; a place from the other end comes in the place of the first."""
    told = [end for end in ENDS if end in new]
    other = set(ENDS) - set(told) if len(told) == 1 and "width" in one else set()
    return {**{k: v for k, v in one.items() if k not in other}, **_told(new)}


def _told(new: Plain) -> Plain:
    """What is told of one opening; that it is one is told only where nothing else is."""
    refined = set(new) > {"kind", "count"} and new.get("count", 1) == 1
    return {k: v for k, v in new.items() if k != "count"} if refined else new


def _nth(had: list[Plain], said: list[Plain], heard: Heard) -> Plain | None:
    """'the first window': the one that is meant, where there are several."""
    if len(said) != 1:
        return None
    like = [o for o in had if o["kind"] == said[0]["kind"]]
    if len(like) < 2 or any(o.get("count", 1) > 1 for o in like):
        return None
    places = [n for turn, n in NTH.items() if turn in heard.changes and n < len(like)]
    return like[places[0]] if len(places) == 1 else None


def _elsewhere(one: Plain, new: Plain, heard: Heard) -> bool:
    """Whether one told with its own width and another place is another opening, not the same one moved."""
    if "width" not in new or "correct" in heard.marks or "the_one" in heard.changes:
        return False
    ends = [end for end in ("from_left", "from_right") if end in new]
    return any(end in one and not same(one[end], new[end]) for end in ends)


def _swapped(had: list[Plain], said: list[Plain], heard: Heard) -> list[Plain]:
    """One of several becomes another opening."""
    swapped = next((o["kind"] for o in had if f"swap {o['kind']}" in heard.changes), None)
    if swapped:
        _take_out(had, swapped, all_of=False)
    return had + ([o for o in said if set(o) - {"kind", "count"}] or said)


def _added(had: list[Plain], said: list[Plain], heard: Heard) -> list[Plain]:
    """One more; without a size of its own it is like the last of its kind, where there is one."""
    for opening in said:
        if not set(opening) - {"kind", "count", "from_left", "from_right"} or "same" in heard.changes:
            named = (o for o in reversed(had) if o["kind"] == opening["kind"])
            like = next(named, had[-1] if opening["kind"] == "opening" else {"kind": opening["kind"]})
            size = {k: v for k, v in like.items() if k not in {"from_left", "from_right", "count"}}
            opening = {**size, **opening, "kind": like["kind"]}
        had.append(opening)
    return had


def _take_nth(had: list[Plain], kind: str, heard: Heard) -> bool:
    """'drop the second window', 'lose the middle one': of several that stand by themselves, that one."""
    like = [o for o in had if o["kind"] == kind] or (list(had) if kind == "opening" else [])
    places = {n for table in (PLACES, NTH) for turn, n in table.items() if turn in heard.changes}
    if "middle_one" in heard.changes and len(like) % 2:
        places = {len(like) // 2}
    if len(like) < 2 or any(o.get("count", 1) > 1 for o in like):
        return False
    if not places and "one_of" in heard.changes and any(o != like[0] for o in like):
        _ask_which("Which of them goes?", like, [[o for o in had if o is not one] for one in like], heard)
        return True
    if len(places) != 1:
        return False
    place = places.pop()
    if place < len(like):
        gone = like[place]
        had[:] = [o for o in had if o is not gone]
    return True


def _take_out(had: list[Plain], kind: str, all_of: bool) -> None:
    for opening in [o for o in had if kind in {o["kind"], "opening"}]:
        if all_of or opening.get("count", 1) == 1:
            had.remove(opening)
        else:
            opening["count"] -= 1
        if not all_of:
            return
