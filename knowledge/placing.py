"""Where openings, reinforcement, patches and ties stand on an elevation, in millimetres."""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from dataclasses import dataclass
from typing import Literal

from knowledge.answers import Assumed
from knowledge.cutting import parted
from knowledge.questions import Opening, Reading
from knowledge.shapes import Outline, Point, clip, rise, span, strip

EPS = 1e-6
HAIR = 1.0  # what a place that was rounded may be off


@dataclass(frozen=True)
class Hole:
    """An opening at its place. `guessed` names the sizes that were not said and are drawn by habit."""

    kind: str
    left: float
    bottom: float
    right: float
    top: float
    guessed: tuple[str, ...] = ()

    @property
    def width(self) -> float:
        return self.right - self.left

    @property
    def height(self) -> float:
        return self.top - self.bottom


@dataclass(frozen=True)
class Strand:
    """A run of bed joint reinforcement."""

    where: str
    at: float
    left: float
    right: float


@dataclass(frozen=True)
class Patch:
    """A piece of mesh across a corner, cut off where the wall ends or an opening begins."""

    corner: Point
    outline: Outline


@dataclass(frozen=True)
class Tie:
    """`slip` across a movement joint, `cavity` between leaves."""

    kind: Literal["slip", "cavity"]
    x: float
    y: float


def openings(
    reading: Reading, assumed: Iterable[Assumed], length: float, height: float
) -> tuple[tuple[Hole, ...], tuple[str, ...]]:
    """Openings that have a place, and what is said of those that have none."""
    usual = {entry.slot: entry.value for entry in assumed}
    holes: list[Hole] = []
    lost = 0
    for hole in reading.openings or ():
        placed = _place(hole, usual, length)
        if placed is None:
            lost += hole.count
            continue
        lost += hole.count - 1
        bottom, top, guessed = _levels(hole, reading.openings or (), height)
        if placed[1] > placed[0] and top > bottom:
            holes.append(Hole(hole.kind, placed[0], bottom, placed[1], top, guessed))
    remarks = []
    if lost:
        those = "1 opening is" if lost == 1 else f"{lost} openings are"
        remarks.append(f"{those} not drawn: the place from the left end was not said.")
    if any("level" in hole.guessed for hole in holes):
        remarks.append("Sill heights that were not said are drawn by eye.")
    if any("height" in hole.guessed for hole in holes):
        remarks.append("Opening heights that were not said are drawn by eye.")
    return tuple(holes), tuple(remarks)


def _place(hole: Opening, usual: dict[str, object], length: float) -> tuple[float, float] | None:
    """Left and right edge."""
    left = hole.from_left.to("mm") if hole.from_left is not None else None
    right = length - hole.from_right.to("mm") if hole.from_right is not None else None
    wide = hole.width.to("mm") if hole.width is not None else None
    if wide is None and left is not None and right is not None:
        wide = right - left
    taken = usual.get(f"{hole.kind}_width")
    if wide is None and isinstance(taken, dict) and taken.get("unit") == "mm":
        wide = float(taken["value"])
    if wide is None or (left is None and right is None):
        return None
    if left is None:
        left = (right or 0.0) - wide
    left = max(0.0, left)
    return left, min(length, left + wide)


def _levels(hole: Opening, others: Sequence[Opening], height: float) -> tuple[float, float, tuple[str, ...]]:
    """Sill and head. A head that is not known lines up with one that is; a door stands on the floor."""
    tall = hole.height.to("mm") if hole.height is not None else None
    sill = hole.sill.to("mm") if hole.sill is not None else 0.0 if hole.kind == "door" else None
    guessed = []
    heads = [
        other.height.to("mm") + (other.sill.to("mm") if other.sill is not None else 0.0)
        for other in others
        if other.height is not None and (other.sill is not None or other.kind == "door")
    ]
    head = min([*heads, height * 0.88])
    if tall is None:
        guessed.append("height")
        tall = max(head - (sill or 0.0), height * 0.1) if sill is not None else height * 0.4
    if sill is None:
        guessed.append("level")
        sill = max(0.0, (max(heads) if heads and max(heads) - tall > EPS else height * 0.88) - tall)
    sill = min(sill, height)
    return sill, min(height, sill + tall), tuple(guessed)


def gaps(holes: Sequence[Hole], left: float, right: float, at: float) -> list[tuple[float, float]]:
    """What is left of a level line beside the openings that it meets."""
    found, start = [], left
    for hole in sorted(holes, key=lambda hole: hole.left):
        if hole.bottom + EPS < at < hole.top - EPS and hole.right > start:
            if hole.left > start + EPS:
                found.append((start, min(hole.left, right)))
            start = max(start, hole.right)
    if right > start + EPS:
        found.append((start, right))
    return found


def strands(
    holes: Sequence[Hole], outline: Outline, joints: Sequence[float], *, course: float, beds: int, past: float
) -> list[Strand]:
    """Runs in the beds next over and next under each opening, stopped at ends and movement joints."""
    found = []
    top = max(y for _, y in outline)
    for hole in holes:
        over = int(hole.top / course + EPS) + 1
        under = -int(-(hole.bottom / course - EPS) // 1) - 1
        levels = [(f"over {hole.kind}", (over + n) * course) for n in range(beds)]
        levels += [(f"under {hole.kind}", (under - n) * course) for n in range(beds)]
        for where, at in levels:
            edges = span(outline, at) if EPS < at < top - EPS else None
            if edges is None:
                continue
            start, end = max(edges[0], hole.left - past), min(edges[1], hole.right + past)
            inner = [place for place in joints if start + HAIR < place < end - HAIR]
            found += [
                Strand(where, at, a, b) for a, b in parted(start, end, inner)
                if b > hole.left + EPS and a < hole.right - EPS
            ]  # fmt: skip
    return found


def throughout(outline: Outline, height: float, joints: Sequence[float], every: float) -> list[Strand]:
    """Runs from end to end, bed above bed, parted at movement joints."""
    found = []
    for place in range(1, int(height / every + EPS) + 1):
        edges = span(outline, place * every) if place * every < height - EPS else None
        if edges is not None:
            found += [Strand("through the wall", place * every, a, b) for a, b in parted(*edges, joints)]
    return found


def patches(holes: Sequence[Hole], outline: Outline, length: float, width: float) -> list[Patch]:
    """Mesh across the corners of openings, square to the way a crack would run; none at a door's foot."""
    found = []
    for hole in holes:
        ups = (1,) if hole.kind == "door" or hole.bottom <= EPS else (1, -1)
        for up in ups:
            for out in (-1, 1):
                corner = (hole.left if out < 0 else hole.right, hole.top if up > 0 else hole.bottom)
                middle = (corner[0] + out * width / 2 / 2**0.5, corner[1] + up * width / 2 / 2**0.5)
                shape = clip(strip(middle, (out, -up), length, width), outline)
                if shape:
                    found.append(Patch(corner, shape))
    return found


def slip_ties(at: float, bottom: float, top: float, every: float) -> list[Tie]:
    """Ties across a joint, one in each bed that the spacing allows."""
    count = int((top - bottom) / every - EPS)
    return [Tie("slip", at, bottom + n * every) for n in range(1, count + 1)]


def cavity_ties(
    outline: Outline, height: float, holes: Sequence[Hole], joints: Sequence[float], grid: dict[str, float]
) -> list[Tie]:
    """Ties in a staggered grid, closer ones at edges; `grid`: across, up, edge, edge_up, course."""
    across, up, edge, close = grid["across"], grid["up"], grid["edge"], grid["edge_up"]
    course = grid["course"]
    found = []
    up = in_beds(up, course)
    for row in range(1, int(height / up + EPS) + 1):
        edges = span(outline, row * up) if row * up < height - EPS else None
        x = (edges[0] if edges else 0.0) + (across / 2 if row % 2 else across / 4)
        while edges and x < edges[1] - EPS:
            if all(not _in(hole, x, row * up, edge) for hole in holes) and all(
                abs(x - j) > edge for j in joints
            ):
                found.append(Tie("cavity", x, row * up))
            x += across
    near = edge * 0.95
    lines = [(h.left - near, h.bottom, h.top) for h in holes] + [
        (h.right + near, h.bottom, h.top) for h in holes
    ]
    for place in joints:
        low, high = rise(outline, place) or (0.0, 0.0)
        lines += [(place - near, low, high), (place + near, low, high)]
    step = in_beds(close, course)
    for x, low, high in lines:
        reach = rise(outline, x)
        y = (low // course + 1) * course
        while reach and y < min(high, reach[1]) - EPS:
            if y > reach[0] + EPS and all(not _in(hole, x, y, 0.0) for hole in holes):
                found.append(Tie("cavity", x, y))
            y += step
    return found


def in_beds(spacing: float, course: float) -> float:
    """A spacing up the wall as whole courses: as many as it allows, at least one."""
    return max(course, (spacing + EPS) // course * course)


def _in(hole: Hole, x: float, y: float, room: float) -> bool:
    return hole.left - room < x < hole.right + room and hole.bottom - HAIR < y < hole.top + HAIR
