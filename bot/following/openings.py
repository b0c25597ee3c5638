"""Openings in a conversation: one more, one less, another size."""

from __future__ import annotations

from typing import Any

from bot.reading.heard import Heard

Plain = dict[str, Any]


def openings(had: list[Plain] | None, said: list[Plain], heard: Heard) -> list[Plain]:
    """Openings after 'add a door', 'lose the other window', 'one of the windows is now a door'."""
    if "all openings" in heard.marks:
        return said
    had = [dict(o) for o in had or []]
    denied = [k for s, k in heard.negated if s == "openings"]
    for kind in denied:
        _take_out(had, kind, all_of="one_of" not in heard.changes)
    if not said:
        return had if denied else []
    if not had:
        return said
    if "swap" in heard.changes:
        return _swapped(had, said, heard)
    if "more" in heard.changes:
        return _added(had, said, heard)
    kinds = {o["kind"] for o in said}
    kept = [o for o in had if o["kind"] not in kinds]
    like = [o for o in had if o["kind"] in kinds] or [o for o in had if o["kind"] == "opening"]
    if len(said) == 1 and len(like) == 1:
        refined = set(said[0]) > {"kind", "count"} and said[0].get("count", 1) == 1
        new = {k: v for k, v in said[0].items() if k != "count"} if refined else said[0]
        return [{**o, **new} if o is like[0] else o for o in had]
    return kept + said


def _swapped(had: list[Plain], said: list[Plain], heard: Heard) -> list[Plain]:
    """One of several becomes another opening."""
    swapped = next((o["kind"] for o in had if f"swap {o['kind']}" in heard.changes), None)
    if swapped:
        _take_out(had, swapped, all_of=False)
    return had + ([o for o in said if set(o) - {"kind", "count"}] or said)


def _added(had: list[Plain], said: list[Plain], heard: Heard) -> list[Plain]:
    """One more; without a size of its own it is like the last of its kind."""
    for opening in said:
        if not set(opening) - {"kind", "count", "from_left", "from_right"} or "same" in heard.changes:
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
