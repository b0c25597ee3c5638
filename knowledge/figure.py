"""The elevation of a wall as pure geometry: millimetres from its left end and its foot.

Every size comes from the question or from the answer; what is drawn by convention alone says so in `remarks`.
"""

from __future__ import annotations

from dataclasses import dataclass, replace
from typing import Any

from knowledge import placing
from knowledge.answers import Answer
from knowledge.placing import Hole, Patch, Strand, Tie
from knowledge.questions import Quantity, Question, Reading
from knowledge.shapes import Outline, box, rise, span


@dataclass(frozen=True)
class Joint:
    """A movement joint on its centre line."""

    at: float
    bottom: float
    top: float
    width: float


@dataclass(frozen=True)
class Figure:
    """All of one wall. `sized` is false where the height was not said and the drawing shows a usual shape."""

    length: float
    height: float
    outline: Outline
    sized: bool = True
    triangle: bool = False
    ends: tuple[str, str] = ("return", "return")
    beds: tuple[tuple[float, float, float], ...] = ()  # height, from, to
    perpends: tuple[tuple[float, float, float], ...] = ()  # place, from, to
    holes: tuple[Hole, ...] = ()
    joints: tuple[Joint, ...] = ()
    strands: tuple[Strand, ...] = ()
    patches: tuple[Patch, ...] = ()
    ties: tuple[Tie, ...] = ()
    feet: bool = False
    walls: int = 1
    remarks: tuple[str, ...] = ()


_UNSIZED = 0.3  # of the length: how high a wall of no said height is drawn, up to a storey or so
_MOST_BEDS = 400  # more than that is no drawing


def figure(question: Question, answer: Answer) -> Figure | None:
    """The elevation for an answer about a whole wall, or about one topic of it; None without a length."""
    reading = question.reading
    if reading.length is None or reading.length.value <= 0:
        return None
    results = answer.results if answer.topic == "wall" else {answer.topic: answer.results}
    drawn = results.get("drawn", {})
    length = reading.length.to("mm")
    course = _mm(drawn.get("course"))
    height = reading.height.to("mm") if reading.height is not None else None
    if height is None and reading.courses and course:
        height = reading.courses * course
    tall = height if height is not None else length * _UNSIZED
    triangle = reading.shape == "triangle"
    outline = ((0.0, 0.0), (length, 0.0), (length / 2, tall)) if triangle else box(0.0, 0.0, length, tall)
    wall = Figure(
        length, tall, outline, height is not None, triangle, _ends(reading, answer), feet=_feet(question),
        walls=reading.walls or 1, remarks=_remarks(height is not None, triangle, reading.walls or 1),
    )  # fmt: skip
    holes, remarks = placing.openings(reading, answer.assumed, length, tall)
    wall = replace(wall, holes=holes, remarks=(*wall.remarks, *remarks))
    return _fill(wall, results, drawn, course)


def _fill(wall: Figure, results: dict[str, Any], drawn: dict[str, Any], course: float | None) -> Figure:
    """What goes into the outline: courses, joints, reinforcement, mesh, ties."""
    jointed = results.get("joints", {})
    places = [place.to("mm") for place in jointed.get("joint_positions", ())]
    wide = jointed.get("joint_width")
    width = _mm(wide) or (Quantity(value=wide.max, unit=wide.unit).to("mm") if hasattr(wide, "max") else 0.0)
    if jointed and "joint_count" not in jointed:
        wall = replace(wall, remarks=(*wall.remarks, "No joints drawn: none fit between these openings."))
    joints = [Joint(at, *(rise(wall.outline, at) or (0.0, wall.height)), width) for at in places]
    wall = replace(wall, joints=tuple(joints))
    if course and wall.height / course <= _MOST_BEDS and wall.sized:
        beds, perpends = _courses(wall, course, _mm(drawn.get("block")) or 0.0)
        wall = replace(wall, beds=tuple(beds), perpends=tuple(perpends))
    if course and "past" in drawn:
        past = drawn["past"].to("mm")
        strands = placing.strands(
            wall.holes, wall.outline, places, course=course, beds=drawn["beds"], past=past
        )
        runs = results.get("reinforcement", {}).get("runs", ())
        if any(run["where"].startswith("every ") for run in runs):
            strands += placing.throughout(wall.outline, wall.height, places, drawn["every"].to("mm"))
        wall = replace(wall, strands=tuple(strands))
    if "patch" in drawn:
        sizes = (drawn["patch"]["length"].to("mm"), drawn["patch"]["width"].to("mm"))
        wall = replace(wall, patches=tuple(placing.patches(wall.holes, wall.outline, *sizes)))
    ties = []
    if jointed.get("tie_count") and "tie_spacing" in jointed:
        every = jointed["tie_spacing"].to("mm")
        ties = [
            tie for joint in joints for tie in placing.slip_ties(joint.at, joint.bottom, joint.top, every)
        ]
    tied = results.get("ties", {})
    if course and "tie_edge" in drawn and "spacing" in tied:
        grid = {
            "across": tied["spacing"]["horizontal"].to("mm"), "up": tied["spacing"]["vertical"].to("mm"),
            "edge": drawn["tie_edge"].to("mm"), "edge_up": tied["edge_spacing"].to("mm"),
            "course": course,
        }  # fmt: skip
        ties += placing.cavity_ties(wall.outline, wall.height, wall.holes, places, grid)
        if abs(placing.in_beds(grid["up"], course) - grid["up"]) > placing.HAIR:
            wall = replace(
                wall, remarks=(*wall.remarks, "Cavity ties are drawn in the beds; their number is by area.")
            )
    return replace(wall, ties=tuple(ties))


def _courses(
    wall: Figure, course: float, block: float
) -> tuple[list[tuple[float, float, float]], list[tuple[float, float, float]]]:
    """Bed lines and perpends in half bond from the left end, openings left out."""
    beds, perpends = [], []
    count = int(wall.height / course + 1e-6)
    for place in range(count + 1):
        low, high = place * course, min((place + 1) * course, wall.height)
        edges = span(wall.outline, low)
        if edges and 0 < low < wall.height - 1e-6:
            beds += [(low, a, b) for a, b in placing.gaps(wall.holes, *edges, low)]
        if block <= 0 or high - low < 1e-6:
            continue
        inner = span(wall.outline, high - 1e-6) or edges
        at = block if place % 2 == 0 else block / 2
        while inner and at < wall.length - 1e-6:
            if inner[0] < at < inner[1] and not any(
                h.left < at < h.right and _meet(h, low, high) for h in wall.holes
            ):
                perpends.append((at, low, high))
            at += block
    return beds, perpends


def _meet(hole: Hole, low: float, high: float) -> bool:
    return hole.bottom < high - 1e-6 and hole.top > low + 1e-6


def _mm(size: Any) -> float | None:
    return size.to("mm") if isinstance(size, Quantity) else None


def _feet(question: Question) -> bool:
    if question.units is not None:
        return question.units == "feet"
    reading = question.reading
    return reading.length is not None and reading.length.unit in ("ft", "in", "yd")


def _ends(reading: Reading, answer: Answer) -> tuple[str, str]:
    """As said, else as the answer assumed."""
    taken = next((entry.value for entry in answer.assumed if entry.slot == "ends"), None)
    both = (taken, taken) if isinstance(taken, str) else tuple(taken or ("return", "return"))
    said = reading.ends or (None, None)
    return str(said[0] or both[0]), str(said[1] or both[1])


def _remarks(sized: bool, triangle: bool, walls: int) -> tuple[str, ...]:
    found = [] if sized else ["The height was not said: drawn to a usual shape, heights not to scale."]
    if triangle:
        found.append("Drawn with the top in the middle.")
    if walls > 1:
        found.append(f"One of {walls} walls alike.")
    return tuple(found)
