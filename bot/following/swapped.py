"""The openings in force, once one kind of them has taken the place of another."""

from __future__ import annotations

from typing import Any

from bot.reading.heard import Swap

Plain = dict[str, Any]
KEPT = ("from_left", "from_right")


def swapped(had: list[Plain], new: Plain, swap: Swap) -> list[list[Plain]]:
    """The openings as they are then, by each opening that may be meant: none where there is no such one."""
    fits = [n for n, o in enumerate(had) if swap.kind in {o["kind"], "opening"}]
    if swap.kind is None:
        fits = [n for n, o in enumerate(had) if o["kind"] != new["kind"]] or list(range(len(had)))
    if not fits:
        return []
    if swap.count is None:
        return [_each(had, fits, new)]
    if swap.which == "last":
        fits = fits[-1:]
    elif swap.which is not None:
        fits = _nth(had, fits, swap.which)
    if len(fits) != 1 and all(had[n] == had[fits[0]] for n in fits[1:]):
        fits = fits[:1]
    return [_some(had, n, new, swap.count) for n in fits]


def _nth(had: list[Plain], fits: list[int], which: int | str) -> list[int]:
    """The one that is so many along, where all stand by themselves."""
    if any(had[n].get("count", 1) > 1 for n in fits):
        return []
    placed = all("from_left" in had[n] for n in fits)
    order = sorted(fits, key=lambda n: float(had[n]["from_left"]["value"])) if placed else fits
    if isinstance(which, str):
        if which == "middle":
            return [order[len(order) // 2]] if len(order) % 2 else []
        return ([order[0]] if which == "left" else [order[-1]]) if placed else []
    return [order[which]] if -len(order) <= which < len(order) else []


def _in_place(one: Plain, new: Plain, count: int) -> Plain:
    """The new one where the old one stood; of the same kind, it keeps what it is not told anew."""
    kept = one if one["kind"] == new["kind"] else {k: one[k] for k in KEPT if k in one}
    if set(KEPT) & set(new):
        kept = {k: v for k, v in kept.items() if k not in KEPT}
    return {**kept, **new, "count": count}


def _each(had: list[Plain], fits: list[int], new: Plain) -> list[Plain]:
    return [_in_place(o, new, o.get("count", 1)) if n in fits else o for n, o in enumerate(had)]


def _some(had: list[Plain], n: int, new: Plain, count: int) -> list[Plain]:
    """So many of one group become another; the others stay as they are."""
    one = had[n]
    left = one.get("count", 1) - count
    if left <= 0:
        return [*had[:n], _in_place(one, new, one.get("count", 1)), *had[n + 1 :]]
    bare = {k: v for k, v in one.items() if k not in KEPT}
    return [*had[:n], {**one, "count": left}, _in_place(bare, new, count), *had[n + 1 :]]
