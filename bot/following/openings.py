"""Openings in a conversation: one more, one less, another size."""

from __future__ import annotations

from typing import Any

from bot.reading.heard import Heard

Plain = dict[str, Any]
_ONE = (" the other ", " one of ", " that ", " a ", " one ", " last ")
_MORE = (
    *(" add ", " another ", " plus ", " also ", " extra ", " second ", " and a ", " as well", " more "),
    *(" too ", " with a ", " adding ", " put a ", " put in ", " and round "),
)


def openings(had: list[Plain] | None, said: list[Plain], heard: Heard) -> list[Plain]:
    """Openings after 'add a door', 'lose the other window', 'one of the windows is now a door'."""
    if "all openings" in heard.marks:
        return said
    had = [dict(o) for o in had or []]
    text = f" {heard.text.lower()} "
    denied = [k for s, k in heard.negated if s == "openings"]
    for kind in denied:
        _take_out(had, kind, all_of=not any(w in text for w in _ONE))
    if not said:
        return had if denied else []
    if not had:
        return said
    if " one of the " in text or " one of them " in text:
        return _swapped(had, said, text)
    if any(w in text for w in _MORE):
        return _added(had, said, text)
    kinds = {o["kind"] for o in said}
    kept = [o for o in had if o["kind"] not in kinds]
    like = [o for o in had if o["kind"] in kinds] or [o for o in had if o["kind"] == "opening"]
    if len(said) == 1 and len(like) == 1:
        refined = set(said[0]) > {"kind", "count"} and said[0].get("count", 1) == 1
        new = {k: v for k, v in said[0].items() if k != "count"} if refined else said[0]
        return [{**o, **new} if o is like[0] else o for o in had]
    return kept + said


def _swapped(had: list[Plain], said: list[Plain], text: str) -> list[Plain]:
    """One of several becomes another opening."""
    named = text.split(" one of ")[1].split(" is ", maxsplit=1)[0] + " "
    swapped = next((o["kind"] for o in had if f"{o['kind']}s" in named), None)
    if swapped:
        _take_out(had, swapped, all_of=False)
    return had + ([o for o in said if set(o) - {"kind", "count"}] or said)


def _added(had: list[Plain], said: list[Plain], text: str) -> list[Plain]:
    """One more; without a size of its own it is like the last of its kind."""
    for opening in said:
        if not set(opening) - {"kind", "count", "from_left", "from_right"} or " same" in text:
            like = next((o for o in reversed(had) if o["kind"] == opening["kind"]), had[-1])
            size = {k: v for k, v in like.items() if k not in {"from_left", "from_right", "count"}}
            opening = {**size, **opening, "kind": like["kind"]}
        had.append(opening)
    return had


def _take_out(had: list[Plain], kind: str, all_of: bool) -> None:
    for opening in [o for o in had if kind in {o["kind"], "opening"}]:
        if all_of or opening.get("count", 1) == 1:
            had.remove(opening)
        else:
            opening["count"] -= 1
        if not all_of:
            return
