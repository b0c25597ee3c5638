"""Wall ties: what is counted is said, and so is what is not."""

from __future__ import annotations

from math import ceil, hypot
from typing import Any

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from knowledge.answering import answer
from knowledge.answers import Answer, Decline, Finding, Need
from knowledge.questions import Question
from knowledge.rulebook import book

BOOK = book("GB")


def q(value: float, unit: str = "m") -> dict[str, Any]:
    return {"value": value, "unit": unit}


def find(*wants: str, **reading: Any) -> list[Finding]:
    return answer(Question.model_validate({"topic": "ties", "reading": reading, "wants": wants}), BOOK)


def told(*wants: str, **reading: Any) -> Answer:
    found = find(*wants, **reading)[0]
    assert isinstance(found, Answer), found
    return found


@settings(deadline=None)
@given(st.floats(1, 30), st.floats(0.5, 5.9), st.floats(0, 5))
def test_a_longer_wall_never_takes_fewer(length: float, height: float, more: float) -> None:
    def count(long: float) -> int:
        return int(told(length=q(long), height=q(height)).results["tie_count"])

    assert count(length + more) >= count(length)


@settings(deadline=None)
@given(st.floats(0.1, 1900))
def test_the_field_keeps_900_by_450(area: float) -> None:
    """NHBC 6.1.18 table 10: no tie stands for more than 0.9 × 0.45 m."""
    count = told(area=q(area, "m²")).results["tie_count"]
    assert count * 0.405 >= area - 1e-6
    assert (count - 1) * 0.405 < area


@settings(deadline=None)
@given(st.floats(3, 20), st.floats(2.2, 4), st.floats(0.6, 2.1), st.integers(1, 2))
def test_the_parts_make_the_count(length: float, height: float, tall: float, doors: int) -> None:
    """NHBC 6.1.18: at most 300 mm up each jamb; ends counted."""
    hole = {"kind": "door", "count": doors, "width": q(0.9), "height": q(tall)}
    found = told(length=q(length), height=q(height), openings=[hole], joint_count=1)
    jamb, joint = ceil(tall / 0.3 - 1e-9) + 1, ceil(height / 0.3 - 1e-9) + 1
    field = ceil((length * height - 0.9 * tall * doors) / 0.405 - 1e-9)
    results = found.results
    assert results["reveal_ties"] == 2 * jamb * doors
    assert results["joint_ties"] == 2 * joint
    assert results["tie_count"] == field + results["reveal_ties"] + results["joint_ties"]
    assert len(found.notes) <= 3


def test_a_gable_has_ties_along_its_verges() -> None:
    """NHBC 6.1.18: at most 300 mm along the verge; slope by Pythagoras."""
    found = told(length=q(8), height=q(3), shape="triangle")
    assert found.results["verge_ties"] == 2 * (ceil(hypot(4, 3) / 0.3) + 1)
    assert found.results["field_ties"] == ceil(12 / 0.405)
    assert any("verges" in note for note in found.notes)


def test_openings_without_sizes_are_neither_taken_off_nor_tied() -> None:
    plain = told(area=q(38, "m²"))
    doors = told(area=q(38, "m²"), openings=[{"kind": "door", "count": 3}])
    assert doors.results["tie_count"] == plain.results["tie_count"] == 94
    assert any("3 openings" in note for note in doors.notes)
    assert any("No extra ties" in note for note in doors.notes)


def test_a_question_about_the_rule_needs_no_wall() -> None:
    for wants in (("ties_per_area",), ("spacing",), ("embedment",), ("slip",), ()):
        found = told(*wants)
        assert "tie_count" not in found.results
        assert found.cautions
        if wants and wants[0] in found.results:
            assert found.lead[0] == wants[0]


def test_what_is_missing_is_asked() -> None:
    (area,) = find("tie_count")
    assert isinstance(area, Need)
    assert (area.slot, area.others) == ("area", ("length", "height"))
    (height,) = find("tie_count", length=q(6))
    assert isinstance(height, Need)
    assert height.slot == "height"
    (cavity,) = find("tie_length")
    assert isinstance(cavity, Need)
    assert cavity.slot == "cavity"
    counted, cavity = find("tie_count", "tie_length", area=q(10, "m²"))
    assert isinstance(counted, Answer)
    assert isinstance(cavity, Need)


def test_a_solid_wall_has_no_cavity_ties() -> None:
    assert isinstance(find("tie_count", leaf="solid", area=q(10, "m²"))[0], Decline)
    assert isinstance(find("tie_length", cavity=q(0, "mm"))[0], Decline)


@given(st.floats(50, 175))
def test_a_tie_reaches_50_into_each_leaf(cavity: float) -> None:
    """NHBC 6.1.18 and LABC: at least 50 mm each side."""
    found = told("tie_length", cavity=q(cavity, "mm")).results
    assert found["tie_length"].value >= cavity + 100 - 1e-6
    assert found["least_length"].value == pytest.approx(cavity + 100, abs=0.001)


def test_wide_and_narrow_cavities_are_pointed_out() -> None:
    wide = told("tie_length", cavity=q(200, "mm"))
    assert "tie_length" not in wide.results
    assert any("designed" in note for note in wide.notes)
    assert any("at least 50 mm" in note for note in told("tie_length", cavity=q(25, "mm")).notes)


def test_a_spacing_that_was_named_is_judged() -> None:
    """NHBC 6.1.18: 900 × 450 mm."""
    assert told(spacing=q(1000, "mm"), area=q(10, "m²")).results["verdict"] == "too far apart"
    closer = told(spacing=q(600, "mm"), area=q(10, "m²"))
    assert closer.results["verdict"] == "enough"
    assert closer.results["tie_count"] == ceil(10 / (0.6 * 0.45))
    assert told(spacing=q(450, "mm"), area=q(10, "m²")).results["tie_count"] == 25


def test_feet_in_feet_out() -> None:
    found = told(length=q(20, "ft"), height=q(8, "ft"))
    assert found.results["ties_per_area"].unit == "1/ft²"
    assert found.results["net_area"].unit == "ft²"
    assert found.results["spacing"]["horizontal"].unit == "in"
    assert found.results["tie_count"] == ceil(20 * 8 * 0.3048**2 / 0.405)


def test_several_like_walls_make_one_total() -> None:
    window = {"kind": "window", "width": q(1.2), "height": q(1.2)}
    one = told(length=q(6), height=q(2.4), openings=[window]).results
    three = told(length=q(6), height=q(2.4), openings=[window], walls=3).results
    assert three["reveal_ties"] == 3 * one["reveal_ties"]
    assert three["field_ties"] <= 3 * one["field_ties"]


def test_what_is_assumed_of_the_leaf_is_said() -> None:
    assert "block_thickness" in {one.slot for one in told(area=q(10, "m²")).assumed}
    assert "block_thickness" not in {
        one.slot for one in told(area=q(10, "m²"), thickness=q(100, "mm")).assumed
    }


def test_every_rule_on_ties_can_be_met() -> None:
    """A rule that no answer shows is dead."""
    met: set[str] = set()
    for wants, reading in (
        ((), {"length": q(8), "height": q(3), "shape": "triangle"}),
        ((), {"length": q(8), "height": q(3), "joint_count": 1}),
        ((), {"block": {"thickness": q(75, "mm")}}),
        (("tie_length",), {"cavity": q(90, "mm")}), (("tie_length",), {"cavity": q(25, "mm")}),
        (("tie_length",), {"cavity": q(200, "mm")}), (("timber_frame",), {}), (("slip",), {}),
        (("embedment",), {}),
    ):  # fmt: skip
        met |= {rule.id for rule in told(*wants, **reading).rules}
    unseen = {rule.id for rule in BOOK.every() if rule.id.startswith("ties.")} - met
    assert {one for one in unseen if ".caution." not in one} == set()
