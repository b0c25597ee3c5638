"""The elevation as numbers: every place in millimetres, worked by hand or by plain geometry."""

from __future__ import annotations

from itertools import pairwise
from math import hypot, sqrt
from typing import Any

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from knowledge.answering import answer
from knowledge.answers import Answer
from knowledge.figure import Figure, figure
from knowledge.placing import cavity_ties, gaps, slip_ties
from knowledge.questions import Question, Reading
from knowledge.rulebook import book
from knowledge.shapes import area, box, clip, rise, span, strip


def m(value: float) -> dict[str, Any]:
    return {"value": value, "unit": "m"}


def mm(value: float) -> dict[str, Any]:
    return {"value": value, "unit": "mm"}


WINDOW = {"kind": "window", "width": mm(1800), "height": mm(1200), "from_left": m(3.1), "sill": mm(900)}
DOOR = {"kind": "door", "width": mm(900), "height": mm(2100), "from_left": m(7.4)}
RENDERED = {
    "length": m(10.2), "height": m(2.6), "finish": "render", "ends": ["return", "free"],
    "openings": [WINDOW, DOOR], "block": {"material": "aac"},
}  # fmt: skip


def draw(reading: dict[str, Any], topic: str = "wall", **more: Any) -> tuple[Figure, Answer]:
    question = Question(topic=topic, reading=Reading.model_validate({**reading, **more}))
    found = answer(question, book("GB"))[0]
    assert isinstance(found, Answer), found
    drawn = figure(question, found)
    assert drawn is not None
    return drawn, found


def test_outline_is_the_wall() -> None:
    drawn, _ = draw(RENDERED)
    assert drawn.outline == ((0, 0), (10200, 0), (10200, 2600), (0, 2600))
    assert drawn.ends == ("return", "free")


def test_openings_stand_where_they_were_said() -> None:
    """3.1 m + 1800 is 4.9 m; sill 900 + 1200 is 2100; a door stands on the floor."""
    drawn, _ = draw(RENDERED)
    assert [(h.left, h.bottom, h.right, h.top) for h in drawn.holes] == [
        (3100, 900, 4900, 2100), (7400, 0, 8300, 2100),
    ]  # fmt: skip
    assert not any(hole.guessed for hole in drawn.holes)


def test_from_right_is_measured_from_the_right() -> None:
    """A 900 door whose near side is 0.6 m from the right end of 10.2 m: from 8.7 to 9.6 m."""
    hole = {"kind": "door", "width": mm(900), "height": mm(2100), "from_right": m(0.6)}
    drawn, _ = draw(RENDERED, openings=[hole])
    assert (drawn.holes[0].left, drawn.holes[0].right) == (8700, 9600)


def test_a_sill_that_was_not_said_is_a_guess_and_lines_up_with_the_door() -> None:
    bare = {key: value for key, value in WINDOW.items() if key != "sill"}
    drawn, _ = draw(RENDERED, openings=[bare, DOOR])
    assert drawn.holes[0].top == drawn.holes[1].top == 2100
    assert drawn.holes[0].guessed == ("level",)
    assert any("by eye" in remark for remark in drawn.remarks)


def test_openings_without_a_place_are_not_drawn_and_that_is_said() -> None:
    lost = {"kind": "window", "count": 3, "width": mm(900), "height": mm(1200)}
    drawn, _ = draw(RENDERED, openings=[lost])
    assert drawn.holes == ()
    assert any(remark.startswith("3 openings are not drawn") for remark in drawn.remarks)


def test_joints_stand_where_the_answer_says() -> None:
    drawn, found = draw(RENDERED)
    said = [place.to("mm") for place in found.results["joints"]["joint_positions"]]
    assert [joint.at for joint in drawn.joints] == said
    assert {(joint.bottom, joint.top, joint.width) for joint in drawn.joints} == {(0, 2600, 10)}


def test_beds_are_courses_of_225() -> None:
    """215 mm block and 10 mm joint: 2.6 m holds beds at 225 to 2475; the window takes out 3.1 to 4.9 m."""
    drawn, _ = draw(RENDERED)
    assert sorted({bed[0] for bed in drawn.beds}) == [225 * n for n in range(1, 12)]
    assert [(a, b) for at, a, b in drawn.beds if at == 1125] == [(0, 3100), (4900, 7400), (8300, 10200)]


def test_perpends_are_in_half_bond() -> None:
    drawn, _ = draw(RENDERED, openings=[])
    rows: dict[float, list[float]] = {}
    for at, low, _ in drawn.perpends:
        rows.setdefault(low, []).append(at)
    assert rows[0][:3] == [450, 900, 1350]
    assert rows[225][:3] == [225, 675, 1125]
    for low, high in pairwise(sorted(rows)):
        assert not set(rows[low]) & set(rows[high])


def test_reinforcement_is_in_the_two_beds_next_over_and_under_and_600_past() -> None:
    """NHBC Standards 6.11.5: first two courses above and below an opening, 600 mm past it where possible."""
    drawn, _ = draw(RENDERED)
    window = [(s.where, s.at, s.left, s.right) for s in drawn.strands if "window" in s.where]
    assert window == [
        ("over window", 2250, 2500, 5500), ("over window", 2475, 2500, 5500),
        ("under window", 675, 2500, 5500), ("under window", 450, 2500, 5500),
    ]  # fmt: skip
    assert {s.where for s in drawn.strands if "door" in s.where} == {"over door"}


def test_drawn_reinforcement_is_as_long_as_the_answer_says() -> None:
    """With beds to spare over and under every opening, what is drawn adds up to what is ordered."""
    drawn, found = draw(RENDERED)
    total = sum(strand.right - strand.left for strand in drawn.strands)
    assert total == pytest.approx(found.results["reinforcement"]["total_length"].to("mm"), abs=1)


@pytest.mark.parametrize("length", [6.3, 8.0, 10.2, 14.0])
def test_nothing_crosses_a_movement_joint(length: float) -> None:
    """Reinforcement and mesh stop at a movement joint (NHBC 6.11.5, render in masonry)."""
    hole = {**WINDOW, "from_left": m(2.2), "width": mm(900)}
    drawn, _ = draw(RENDERED, length=m(length), openings=[hole])
    assert drawn.joints
    for joint in drawn.joints:
        assert not [s for s in drawn.strands if s.left + 1 < joint.at < s.right - 1]
        assert not [h for h in drawn.holes if h.left < joint.at < h.right]


def test_patches_lie_across_the_corners() -> None:
    """45°, outside the opening, its long edge touching the corner: four at a window, two at a door."""
    drawn, found = draw(RENDERED)
    assert len(drawn.patches) == found.results["mesh"]["corner_patches"] == 6
    for patch in drawn.patches:
        first, second, third, _ = patch.outline
        sides = sorted(
            (
                hypot(second[0] - first[0], second[1] - first[1]),
                hypot(third[0] - second[0], third[1] - second[1]),
            )
        )
        assert sides == pytest.approx([300, 500])
        assert abs(second[0] - first[0]) == pytest.approx(abs(second[1] - first[1]))
        for hole in drawn.holes:
            inside = clip(patch.outline, box(hole.left, hole.bottom, hole.right, hole.top))
            # A strip across the outside of a corner leaves the opening alone but for two small triangles.
            assert not inside or area(inside) < 500 * 300 / 2


def test_slip_ties_are_as_many_as_the_answer_says() -> None:
    drawn, found = draw(RENDERED)
    ties = [tie for tie in drawn.ties if tie.kind == "slip"]
    assert len(ties) == found.results["joints"]["tie_count"]
    assert {tie.x for tie in ties} == {joint.at for joint in drawn.joints}


def test_gable_is_a_triangle_and_holds_everything() -> None:
    """8 m wide, 3 m to the apex: at 1.5 m the rake is at 2 and 6 m, at 2 m from the end it is 1.5 m high."""
    drawn, _ = draw(
        {"length": m(8), "height": m(3), "shape": "triangle", "block": {"material": "aac"}, "openings": []}
    )
    assert drawn.outline == ((0, 0), (8000, 0), (4000, 3000))
    assert span(drawn.outline, 1500) == (2000, 6000)
    assert rise(drawn.outline, 2000) == (0, 1500)
    for at, left, right in drawn.beds:
        edges = span(drawn.outline, at)
        assert edges is not None
        assert (left, right) == pytest.approx(edges)
    for joint in drawn.joints:
        assert joint.top == pytest.approx(min(joint.at, 8000 - joint.at) * 0.75)


def test_joints_alone_can_be_drawn_without_a_height() -> None:
    drawn, _ = draw({"length": m(10), "openings": []}, topic="joints")
    assert not drawn.sized
    assert [joint.at for joint in drawn.joints] == [2500, 7500]
    assert any("height was not said" in remark for remark in drawn.remarks)


def test_no_length_no_figure() -> None:
    question = Question(topic="blocks", reading=Reading.model_validate({"area": {"value": 20, "unit": "m²"}}))
    found = answer(question, book("GB"))[0]
    assert isinstance(found, Answer)
    assert figure(question, found) is None


def test_feet_are_drawn_to_the_same_millimetre() -> None:
    """12 ft × 8 ft is 3657.6 × 2438.4 mm."""
    feet = {"length": {"value": 12, "unit": "ft"}, "height": {"value": 8, "unit": "ft"}, "openings": []}
    drawn, _ = draw(feet)
    assert drawn.outline[2] == pytest.approx((3657.6, 2438.4))
    assert drawn.feet


def test_gaps_beside_openings() -> None:
    drawn, _ = draw(RENDERED)
    assert gaps(drawn.holes, 0, 10200, 900) == [(0, 7400), (8300, 10200)]  # the sill itself is no gap
    assert gaps(drawn.holes, 0, 10200, 2200) == [(0, 10200)]


def test_ties_keep_their_spacing() -> None:
    """NHBC Standards 6.1.18: 900 across and 450 up, staggered; at edges within 225 and not over 300 up."""
    wall = box(0, 0, 6000, 2700)
    grid = {"across": 900.0, "up": 450.0, "edge": 225.0, "edge_up": 300.0, "course": 225.0}
    ties = cavity_ties(wall, 2700, (), [3000.0], grid)
    beside = sorted(tie.y for tie in ties if 2775 < tie.x < 3000)
    assert max(b - a for a, b in pairwise(beside)) <= 300
    plain = cavity_ties(wall, 2700, (), [], grid)
    rows = sorted({tie.y for tie in plain})
    assert max(b - a for a, b in pairwise(rows)) <= 450
    for y in rows:
        row = sorted(tie.x for tie in plain if tie.y == y)
        assert max(b - a for a, b in pairwise(row)) <= 900 + 1e-6


def test_slip_ties_never_farther_apart_than_said() -> None:
    ties = slip_ties(2000, 0, 2600, 225)
    assert [tie.y for tie in ties] == [225 * n for n in range(1, 12)]


@given(
    x=st.floats(-5, 15),
    y=st.floats(-5, 15),
    turn=st.floats(0.1, 3),
    long=st.floats(0.5, 9),
    wide=st.floats(0.5, 9),
)
def test_clipping_keeps_what_is_inside(x: float, y: float, turn: float, long: float, wide: float) -> None:
    outline = box(0, 0, 10, 8)
    whole = strip((x, y), (1, turn), long, wide)
    assert area(whole) == pytest.approx(long * wide)
    cut = clip(whole, outline)
    assert area(cut) <= area(whole) + 1e-6 if cut else True
    for px, py in cut:
        assert -1e-6 <= px <= 10 + 1e-6
        assert -1e-6 <= py <= 8 + 1e-6


def test_clipping_by_hand() -> None:
    """A square of side √2 on its corner about the corner of a box: a quarter of it, area 0.5."""
    cut = clip(strip((0, 0), (1, 1), sqrt(2), sqrt(2)), box(0, 0, 10, 10))
    assert area(cut) == pytest.approx(0.5)


@settings(max_examples=40, deadline=None)
@given(length=st.floats(1, 40), height=st.floats(0.6, 4), at=st.floats(0, 1), wide=st.floats(0.4, 3))
def test_everything_lies_within_the_wall(length: float, height: float, at: float, wide: float) -> None:
    wide = min(wide, length * 0.8)
    hole = {
        "kind": "window",
        "width": m(wide),
        "height": m(height / 2),
        "from_left": m(at * (length - wide)),
        "sill": m(height / 4),
    }
    drawn, _ = draw(
        {
            "length": m(length),
            "height": m(height),
            "finish": "render",
            "openings": [hole],
            "block": {"material": "aac"},
        }
    )
    points = [p for patch in drawn.patches for p in patch.outline]
    points += [(s.left, s.at) for s in drawn.strands] + [(s.right, s.at) for s in drawn.strands]
    points += (
        [(t.x, t.y) for t in drawn.ties]
        + [(b[1], b[0]) for b in drawn.beds]
        + [(b[2], b[0]) for b in drawn.beds]
    )
    for x, y in points:
        assert -1e-3 <= x <= length * 1000 + 1e-3
        assert -1e-3 <= y <= height * 1000 + 1e-3


def test_cavity_ties_lie_in_beds() -> None:
    """Courses of 253 mm (250 mm block, 3 mm joint): 450 mm holds one course, two would be 506."""
    block = {"material": "aac", "length": mm(610), "height": mm(250), "thickness": mm(100)}
    reading = {"length": m(6), "height": m(2.53), "leaf": "inner", "block": block, "joint_thickness": mm(3)}
    drawn, _ = draw({**reading, "openings": []})
    ups = sorted({round(tie.y, 3) for tie in drawn.ties if tie.kind == "cavity"})
    assert ups == [pytest.approx(253 * n) for n in range(1, 10)]
    assert any("by area" in remark for remark in drawn.remarks)


def test_where_no_joint_fits_the_drawing_says_so() -> None:
    """Windows from 0.2 to 3.3 m, 0.2 m apart: no joint can stand within 3 m of the corner."""
    holes = [{**WINDOW, "width": mm(500), "from_left": m(0.2 + 0.7 * n)} for n in range(5)]
    drawn, found = draw({**RENDERED, "ends": ["return", "return"]}, length=m(20), openings=holes)
    assert "joint_count" not in found.results["joints"]
    assert any(remark.startswith("No joints drawn") for remark in drawn.remarks)
