"""Mesh: laps never lose area, rolls always hold the order, and no joint is bridged."""

from __future__ import annotations

from typing import Any

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from knowledge import strips
from knowledge.answering import answer
from knowledge.answers import Answer, Finding, Need
from knowledge.questions import Question
from knowledge.rulebook import book

BOOK = book("GB")
GENERAL = ("lap", "roll", "patch_size", "bed", "waiting", "corner_patches", "mass", "full_area")
WIDTH = st.floats(0.5, 2)
LAP = st.floats(0, 0.3)


def q(value: float, unit: str = "m") -> dict[str, Any]:
    return {"value": value, "unit": unit}


def find(*wants: str, **reading: Any) -> Finding:
    return answer(Question.model_validate({"topic": "mesh", "reading": reading, "wants": wants}), BOOK)[0]


def get(*wants: str, **reading: Any) -> Answer:
    found = find(*wants, **reading)
    assert isinstance(found, Answer), found
    return found


@given(st.floats(0.1, 500), WIDTH, LAP)
def test_laps_only_add(net: float, width: float, lap: float) -> None:
    assert strips.with_laps(net, width, lap) >= net


@given(st.floats(0.2, 60), WIDTH, LAP)
def test_strips_cover_the_breadth_and_one_fewer_would_not(across: float, width: float, lap: float) -> None:
    count = strips.strips(across, width, lap)
    assert count * width - (count - 1) * lap >= across - 1e-6
    if count > 1:
        assert (count - 1) * width - (count - 2) * lap < across


@settings(deadline=None)
@given(st.floats(0.1, 1500), st.floats(0, 300))
def test_more_wall_never_takes_fewer_rolls(area: float, more: float) -> None:
    less, most = (get(area=q(a, "m²")).results for a in (area, area + more))
    assert most["rolls"] >= less["rolls"]
    assert less["rolls"] * 50 >= less["order_area"].value - 1e-6


@settings(deadline=None)
@given(st.floats(1, 25), st.floats(0.5, 5.5), st.integers(0, 9))
def test_in_hand_and_short_make_enough(length: float, height: float, hand: int) -> None:
    found = get(length=q(length), height=q(height), rolls=hand).results
    assert found["enough"] is (found["shortfall"] == 0)
    assert hand + found["shortfall"] >= found["rolls"]


@settings(deadline=None)
@given(st.floats(1, 25), st.floats(0.5, 5.5))
def test_the_rolls_hold_the_strips_of_a_plain_wall(length: float, height: float) -> None:
    found = get(length=q(length), height=q(height)).results
    laid = found["strips"]
    assert found["rolls"] * 50 >= laid["count"] * laid["length"].value - 1e-4


def test_a_wider_lap_never_orders_less() -> None:
    areas = [get(area=q(45, "m²"), lap=q(lap, "mm")).results["order_area"].value for lap in (0, 60, 100, 150)]
    assert areas == sorted(areas)
    assert areas[0] == pytest.approx(45)


def test_lap_and_roll_are_said_where_they_were_taken() -> None:
    assert {a.slot for a in get(area=q(45, "m²")).assumed} == {"roll", "lap"}
    said = get(area=q(45, "m²"), lap=q(100, "mm"), roll={"width": q(1), "length": q(50)})
    assert said.assumed == ()


def test_never_across_a_movement_joint() -> None:
    """NHBC 6.11.5: the joint in the background goes on through the render."""
    for found in (get(area=q(45, "m²")), get("lap")):
        assert any("movement joint" in caution for caution in found.cautions)


def test_four_corners_a_window_and_two_a_door() -> None:
    found = get("corner_patches", openings=[{"kind": "window", "count": 2}, {"kind": "door"}])
    assert found.results["corner_patches"] == 10
    each = get("corner_patches")
    assert each.results["patches_each"] == {"window": 4, "door": 2}
    assert get(area=q(9, "m²"), openings=[]).results["corner_patches"] == 0


def test_a_house_without_sizes_is_asked() -> None:
    found = find(openings=[{"kind": "window", "count": 4}, {"kind": "door", "count": 1}])
    assert isinstance(found, Need)
    assert (found.slot, found.others) == ("area", ("length", "height"))


def test_a_lap_as_wide_as_the_roll_is_asked() -> None:
    found = find(area=q(9, "m²"), lap=q(1), roll={"width": q(1), "length": q(50)})
    assert isinstance(found, Need)
    assert found.slot == "lap"


def test_a_sized_wall_gets_its_rolls_whatever_else_was_asked() -> None:
    found = get("lap", "shortfall", area=q(45, "m²"), roll={"width": q(1), "length": q(50)})
    assert found.results["lap"].value == 100
    assert found.results["enough"] is True
    assert "rolls" in {a.slot for a in found.assumed}


@pytest.mark.parametrize("want", GENERAL)
def test_general_questions_need_no_wall(want: str) -> None:
    assert get(want).results


def test_every_default_record_is_cited_by_some_question() -> None:
    asked = [get(want) for want in GENERAL]
    asked.append(get(area=q(45, "m²"), openings=[{"kind": "window"}]))
    cited = {rule.id for found in asked for rule in found.rules}
    cautions = {caution for found in asked for caution in found.cautions}
    for rule in BOOK.every():
        if rule.id.startswith("mesh."):
            assert rule.id in cited or rule.statement in cautions, rule.id
