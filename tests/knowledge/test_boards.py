"""Boards: the cut pattern covers the wall, openings save only what they surely save, and what is said."""

from __future__ import annotations

from typing import Any

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from knowledge.answering import answer
from knowledge.answers import Answer, Decline, Finding, Need
from knowledge.boarding import Gap, boards, columns, saved
from knowledge.questions import Question
from knowledge.rulebook import book

BOOK = book("GB")
LENGTH = st.floats(0.3, 30)
HEIGHT = st.floats(0.3, 5)


def q(value: float, unit: str = "m") -> dict[str, Any]:
    return {"value": value, "unit": unit}


def find(wants: tuple[str, ...] = (), **reading: Any) -> Finding:
    return answer(Question.model_validate({"topic": "boards", "reading": reading, "wants": wants}), BOOK)[0]


def got(wants: tuple[str, ...] = (), **reading: Any) -> Answer:
    found = find(wants, **reading)
    assert isinstance(found, Answer), found
    return found


@given(LENGTH, HEIGHT, st.integers(1, 4))
def test_boards_cover_the_wall(length: float, height: float, walls: int) -> None:
    count = boards(length, height, 1.2, 2.4, walls=walls)
    assert count * 1.2 * 2.4 >= walls * length * height - 1e-6
    assert count <= walls * (length // 1.2 + 1) * (height // 2.4 + 1)


@given(LENGTH, HEIGHT)
def test_columns_make_the_length(length: float, height: float) -> None:
    assert sum(width for width, _ in columns(length, height, 1.2)) == pytest.approx(length)


@given(st.floats(4, 30), st.floats(0.3, 3.9), st.floats(0.3, 2.4))
def test_an_opening_never_takes_more_boards_and_never_too_many_off(
    length: float, width: float, height: float
) -> None:
    plain = boards(length, 2.4, 1.2, 2.4)
    cut = boards(length, 2.4, 1.2, 2.4, gaps=(Gap(width, height),))
    assert cut <= plain
    assert cut * 1.2 * 2.4 >= length * 2.4 - width * height - 1e-6


@given(st.floats(0, 20), st.floats(0.3, 8))
def test_a_known_place_saves_no_less_than_an_unknown_one(left: float, width: float) -> None:
    assert saved(Gap(width, 2.1, left), 1.2) >= saved(Gap(width, 2.1), 1.2)


@given(LENGTH, HEIGHT)
def test_a_gable_takes_no_more_than_the_square_wall_and_covers_itself(length: float, height: float) -> None:
    gable = boards(length, height, 1.2, 2.4, triangle=True)
    assert gable <= boards(length, height, 1.2, 2.4)
    assert gable * 1.2 * 2.4 >= length * height / 2 - 1e-6


def test_a_wide_opening_at_a_known_place() -> None:
    """2.4 m wide from 1.2 m on: two whole columns in it; 0.3 m over it comes of one board: 5 − 2 + 1."""
    reading: dict[str, Any] = {"length": q(6), "height": q(2.4)}
    hole = {"kind": "door", "width": q(2.4), "height": q(2.1)}
    assert got(**reading, openings=[{**hole, "from_left": q(1.2)}]).results["board_count"] == 4
    assert got(**reading, openings=[{**hole, "from_right": q(2.4)}]).results["board_count"] == 4
    assert got(**reading, openings=[hole]).results["board_count"] == 5


def test_small_openings_save_none_and_it_is_said() -> None:
    hole = {"kind": "window", "width": q(0.9), "height": q(1.2), "sill": q(0.9)}
    found = got(length=q(8), height=q(2.4), openings=[hole])
    assert found.results["board_count"] == 7
    assert any("save none" in note for note in found.notes)
    assert got(length=q(8), height=q(2.4), openings=[{"kind": "door"}]).results["board_count"] == 7


def test_the_board_is_said_or_taken_aloud() -> None:
    assert {"board_width", "board_height"} <= {a.slot for a in got(length=q(8), height=q(2.4)).assumed}
    wide = {"width": q(2400, "mm"), "height": q(1200, "mm")}
    found = got(length=q(8), height=q(2.4), board=wide)
    assert found.results["board_count"] == 7
    assert not {"board_width", "board_height"} & {a.slot for a in found.assumed}
    assert isinstance(find(length=q(8), height=q(2.4), board={"width": q(0, "mm")}), Decline)


def test_area_alone_and_nothing_at_all() -> None:
    found = got(area=q(30, "m²"))
    assert found.results["board_count"] == 11
    assert any("by area" in note for note in found.notes)
    lacking = find()
    assert isinstance(lacking, Need)
    assert (lacking.slot, lacking.others) == ("area", ("length", "height"))


def test_both_sides_waste_packs_and_bags() -> None:
    found = got(length=q(6), height=q(2.4), faces=2, waste=q(10, "%"), pack_size=4, bag_size=q(20, "kg"))
    assert found.results["board_count"] == 10
    assert found.results["order_count"] == 11
    assert found.results["packs"] == 3
    assert found.results["adhesive_bags"] == 8
    assert found.results["adhesive_mass"].value == pytest.approx(144)


def test_tall_walls_and_gables_are_told() -> None:
    assert any("taller" in note for note in got(length=q(6), height=q(2.7)).notes)
    assert any("gable" in note for note in got(length=q(6), height=q(3), shape="triangle").notes)


def test_feet_boards_and_boards_without_a_rule() -> None:
    found = got(length=q(20, "ft"), height=q(8, "ft"), board={"width": q(4, "ft"), "height": q(8, "ft")})
    assert found.results["board_count"] == 5
    assert found.results["net_area"].unit == "ft²"
    thick = got(length=q(6), height=q(2.4), board={"thickness": q(25, "mm")})
    assert "dab_rows" not in thick.results
    assert any("maker" in note for note in thick.notes)


def test_a_joint_behind_shows_both_ways() -> None:
    for found in (got(("at_joint",)), got(length=q(8), height=q(2.4), joint_at=[q(4)])):
        assert found.results["at_joint"] == "board and dabs break at the joint"
        assert any("habit" in note for note in found.notes)
        assert "boards.at_joint.duty" in {rule.id for rule in found.rules}


@settings(deadline=None)
@given(LENGTH, HEIGHT)
def test_more_wall_never_takes_less(length: float, height: float) -> None:
    assert boards(length + 1.2, height, 1.2, 2.4) >= boards(length, height, 1.2, 2.4)


def test_every_rule_is_cited_by_some_question() -> None:
    def board(width: float, thickness: float) -> dict[str, Any]:
        return {"width": q(width, "mm"), "height": q(2400, "mm"), "thickness": q(thickness, "mm")}

    asked = [
        got((name,)) for name in ("dab_length", "dab_width", "edge_distance", "dab_thickness", "at_joint")
    ]
    asked += [got(("tiling_wait",)), got(length=q(8), height=q(2.4))]
    asked += [got(("dab_rows",), board=board(w, t)) for w in (900, 1200) for t in (9.5, 12.5)]
    cited = {rule.id for found in asked for rule in found.rules}
    warned = {caution for found in asked for caution in found.cautions}
    for rule in BOOK.every():
        if rule.id.startswith("boards."):
            assert rule.id in cited or rule.statement in warned, rule.id
