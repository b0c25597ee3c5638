"""A joint beside every opening that wants one, and the rest of the wall laid out round those."""

from __future__ import annotations

from collections.abc import Sequence
from itertools import pairwise, product

from knowledge.layout import EPS, Run, Zone, blocked, even, lay_out, nearest, places_for

_MOST = 6  # openings whose both sides are tried


def lay_beside(run: Run, holes: Sequence[Zone], near: float) -> list[float] | None:
    """Fewest joints, moved least, with one within `near` of a side of every hole; None where none will do.

    `holes` are the openings themselves, `run.closed` what joints keep clear of. All in metres.
    """
    plain = lay_out(run)
    if plain is not None and all(_beside(hole, plain, near) for hole in holes):
        return plain
    if len(holes) > _MOST:
        return None
    best: tuple[int, float, list[float]] | None = None
    for sides in product(*(_sides(run, hole, near) for hole in holes)):
        places = _round(run, sorted(set(sides)))
        if places is None or not all(_beside(hole, places, near) for hole in holes):
            continue
        moved = sum(abs(a - b) for a, b in zip(places, even(run, len(places)), strict=True))
        if best is None or (len(places), moved) < (best[0], best[1] - EPS):
            best = (len(places), moved, places)
    return None if best is None else best[2]


def _beside(hole: Zone, places: Sequence[float], near: float) -> bool:
    """Whether a joint stands near enough to a side of the hole."""
    return any(min(abs(place - side) for side in hole) <= near + EPS for place in places)


def _sides(run: Run, hole: Zone, near: float) -> list[float]:
    """Where a joint can stand on either side of a hole: as close as what is closed lets it."""
    found = []
    for side, way in ((hole[0], 0), (hole[1], 1)):
        zone = blocked(run.closed, side)
        place = side if zone is None else zone[way]
        if (
            EPS < place < run.length - EPS
            and abs(place - side) <= near + EPS
            and blocked(run.closed, place) is None
        ):
            found.append(place)
    return found


def _round(run: Run, fixed: list[float]) -> list[float] | None:
    """The fixed joints and those that the parts between them want."""
    edges, found = [0.0, *fixed, run.length], list(fixed)
    for place, (start, end) in enumerate(pairwise(edges)):
        part = Run(
            end - start,
            run.spacing,
            run.left if place == 0 else run.spacing,
            run.right if place == len(fixed) else run.spacing,
            tuple((low - start, high - start) for low, high in run.closed),
        )
        inner = _part(part)
        if inner is None:
            return None
        found += [start + one for one in inner]
    return sorted(found)


def _part(part: Run) -> list[float] | None:
    """The joints of one part, none where it is short enough for a single panel."""
    if part.length <= min(part.left, part.right) + EPS:
        return []
    over = part.length - part.left - part.right
    least = max(1, 1 - int(-(over - EPS) // part.spacing)) if over > EPS else 1
    for count in (least, least + 1):
        wanted = even(part, count)
        found = nearest(part, wanted, sorted({*wanted, *places_for(part, count)}))
        if found is not None:
            return found
    return None
