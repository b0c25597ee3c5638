"""The face of a wall: plain geometry, openings, and what is missing."""

from __future__ import annotations

from typing import Any

import pytest
from hypothesis import given
from hypothesis import strategies as st

from knowledge.answers import Decline, Need
from knowledge.faces import Face, measure
from knowledge.ledger import Ledger
from knowledge.pieces import Piece, piece
from knowledge.questions import Question
from knowledge.rulebook import book

BOOK = book("GB")


def q(value: float, unit: str = "m") -> dict[str, Any]:
    return {"value": value, "unit": unit}


def ledger(**reading: Any) -> Ledger:
    return Ledger(Question.model_validate({"topic": "blocks", "reading": reading}), BOOK)


def face(sides: bool = False, **reading: Any) -> Face:
    found = measure(ledger(**reading), sides=sides)
    assert isinstance(found, Face), found
    return found


@pytest.mark.parametrize(
    ("reading", "gross", "net"),
    [
        ({"length": q(8), "height": q(2.4)}, 19.2, 19.2),
        ({"length": q(7), "height": q(3.2), "shape": "triangle"}, 11.2, 11.2),
        ({"area": q(45, "m²")}, 45, 45),
        ({"length": q(5), "height": q(2), "walls": 3}, 30, 30),
        ({"length": q(10.5), "height": q(2.4), "openings": [
            {"kind": "window", "count": 2, "width": q(1.2), "height": q(1.2)}]}, 25.2, 22.32),
        ({"length": q(5), "height": q(2.2), "walls": 2, "openings": [
            {"kind": "door", "width": q(90, "cm"), "height": q(210, "cm")}]}, 22, 22 - 2 * 1.89),
        ({"length": q(5), "height": q(3), "openings": [{"kind": "opening", "area": q(2, "m²")}]}, 15, 13),
        # 11 courses of 225 mm
        ({"length": q(4), "courses": 11}, 9.9, 9.9),
    ],
)  # fmt: skip
def test_geometry(reading: dict[str, Any], gross: float, net: float) -> None:
    found = face(**reading)
    assert found.gross == pytest.approx(gross)
    assert found.net == pytest.approx(net)


def test_both_sides_count_only_where_asked_for() -> None:
    both = {"length": q(4), "height": q(2), "faces": 2}
    assert face(sides=True, **both).net == pytest.approx(16)
    assert face(**both).net == pytest.approx(8)


def test_one_side_is_assumed_aloud() -> None:
    made = ledger(length=q(4), height=q(2))
    measure(made, sides=True)
    assert [a.slot for a in made.answer().assumed] == ["faces"]


def test_an_opening_without_size_deducts_nothing_and_is_said() -> None:
    made = ledger(length=q(6), height=q(2.4), openings=[{"kind": "window", "count": 3}])
    found = measure(made)
    assert isinstance(found, Face)
    assert found.net == pytest.approx(14.4)
    assert found.unsized == 3
    closed = made.answer()
    assert "3 openings without a size" in closed.notes[0]
    assert closed.assumed[0].slot == "opening_area"


@pytest.mark.parametrize(
    ("reading", "slot", "others"),
    [
        ({}, "area", ("length", "height")),
        ({"walls": 3}, "area", ("length", "height")),
        ({"length": q(9)}, "height", ()),
        ({"height": q(2.4)}, "length", ()),
    ],
)
def test_what_is_missing_is_asked(reading: dict[str, Any], slot: str, others: tuple[str, ...]) -> None:
    found = measure(ledger(**reading))
    assert isinstance(found, Need)
    assert (found.slot, found.others) == (slot, others)


def test_an_area_against_length_and_height_is_asked() -> None:
    found = measure(ledger(length=q(8), height=q(2.4), area=q(30, "m²")))
    assert isinstance(found, Need)
    assert [option.label for option in found.options] == ["30 m²", "19.2 m²"]


@pytest.mark.parametrize(
    "openings",
    [
        [{"kind": "door", "width": q(5), "height": q(2)}],
        [{"kind": "door", "width": q(1), "height": q(3)}],
        [{"kind": "window", "count": 9, "width": q(1), "height": q(1.2)}],
    ],
)
def test_openings_that_cannot_be_are_declined(openings: list[dict[str, Any]]) -> None:
    assert isinstance(measure(ledger(length=q(4), height=q(2.4), openings=openings)), Decline)


def test_feet_stay_feet() -> None:
    made = ledger(length=q(20.5, "ft"), height=q(8, "ft"))
    assert measure(made).feet  # type: ignore[union-attr]
    assert made.answer().working[0].value.unit == "ft²"


@pytest.mark.parametrize(
    ("block", "joint", "per_area"),
    [
        ({"material": "aac"}, None, 9.877),  # 440 × 215, 10 mm
        ({"material": "clay_brick"}, None, 59.26),  # 215 × 65, 10 mm
        ({"length": q(16, "in"), "height": q(8, "in")}, None, 1.125 / 0.3048**2),  # nominal: 1.125 to the ft²
        ({"length": q(15.625, "in"), "height": q(7.625, "in")}, None, 1.125 / 0.3048**2),  # the thing itself
        ({"material": "aggregate", "thickness": q(8, "in")}, None, 1.125 / 0.3048**2),
        ({"material": "aac"}, q(3, "mm"), 10.355),
    ],
)
def test_pieces_to_the_area(block: dict[str, Any], joint: Any, per_area: float) -> None:
    found = piece(ledger(block=block, joint_thickness=joint))
    assert isinstance(found, Piece)
    assert found.per_area == pytest.approx(per_area, rel=1e-3)


def test_a_one_brick_wall_has_two_bricks_side_by_side() -> None:
    """60 and 120 to the m²: UK bricklaying handbook, calculating materials by weight."""
    for thickness, per_area in ((102.5, 60), (215, 120)):
        found = piece(ledger(block={"material": "clay_brick"}, thickness=q(thickness, "mm")))
        assert isinstance(found, Piece)
        assert found.per_area == pytest.approx(per_area, rel=0.02)


def test_a_thickness_that_was_said_replaces_the_hundred() -> None:
    found = piece(ledger(thickness=q(215, "mm")))
    assert isinstance(found, Piece)
    assert (found.leaves, found.wall) == (1, pytest.approx(0.215))


def test_stones_have_no_size_to_assume() -> None:
    found = piece(ledger(block={"material": "stone"}))
    assert isinstance(found, Need)
    assert found.slot == "block"


SIZE = st.floats(0.5, 30, allow_nan=False)


@given(SIZE, SIZE)
def test_a_triangle_is_half_its_rectangle(length: float, height: float) -> None:
    both = {"length": q(length), "height": q(height)}
    assert face(**both, shape="triangle").net == pytest.approx(face(**both).net / 2)


@given(SIZE, SIZE, st.floats(0.01, 0.4), st.floats(0.01, 0.4))
def test_an_opening_never_adds(length: float, height: float, wide: float, tall: float) -> None:
    hole = [{"width": q(length * wide), "height": q(height * tall)}]
    found = face(length=q(length), height=q(height), openings=hole)
    assert 0 < found.net < found.gross
