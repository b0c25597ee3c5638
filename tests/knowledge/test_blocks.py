"""Blocks: what holds for every wall, and what the answer says."""

from __future__ import annotations

from typing import Any

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from knowledge.answering import answer
from knowledge.answers import Answer, Finding, Need
from knowledge.questions import Question
from knowledge.rulebook import book

BOOK = book("GB")
LENGTH = st.floats(0.5, 30)
HEIGHT = st.floats(0.3, 5.9)


def q(value: float, unit: str = "m") -> dict[str, Any]:
    return {"value": value, "unit": unit}


def find(wants: tuple[str, ...] = (), confirmed: tuple[str, ...] = (), **reading: Any) -> Finding:
    asked = {"topic": "blocks", "reading": reading, "wants": wants, "confirmed": confirmed}
    return answer(Question.model_validate(asked), BOOK)[0]


def count(name: str = "block_count", **reading: Any) -> int:
    found = find(**reading)
    assert isinstance(found, Answer), found
    return int(found.results[name])


@settings(deadline=None)
@given(LENGTH, HEIGHT, st.floats(0, 5))
def test_more_area_never_needs_fewer_blocks(length: float, height: float, more: float) -> None:
    assert count(length=q(length + more), height=q(height)) >= count(length=q(length), height=q(height))


@settings(deadline=None)
@given(LENGTH, HEIGHT, st.floats(0, 20), st.floats(0, 20))
def test_more_waste_never_orders_less(length: float, height: float, waste: float, more: float) -> None:
    wall = {"length": q(length), "height": q(height)}
    less = count("order_count", **wall, waste=q(waste, "%"))
    assert count("order_count", **wall, waste=q(waste + more, "%")) >= less >= count(**wall)


@settings(deadline=None)
@given(LENGTH, HEIGHT, st.floats(0.05, 0.95))
def test_two_walls_order_no_less_than_the_one_they_make(length: float, height: float, at: float) -> None:
    parts = [q(length * at), q(length * (1 - at))]
    if round(min(part["value"] for part in parts), 9) <= 0.1:  # too short to be a wall: asked back
        return
    for name in ("block_count", "order_count"):
        split = sum(count(name, length=part, height=q(height)) for part in parts)
        assert split >= count(name, length=q(length), height=q(height))


@settings(deadline=None)
@given(LENGTH, HEIGHT, st.integers(0, 3000))
def test_short_or_left_over_never_both(length: float, height: float, hand: int) -> None:
    found = find(length=q(length), height=q(height), block_count=hand)
    assert isinstance(found, Answer)
    short, left = found.results["shortfall"], found.results.get("surplus", 0)
    assert short == 0 or left == 0
    assert found.results["block_count"] == hand + short - left


@settings(deadline=None)
@given(LENGTH, HEIGHT, st.integers(1, 200))
def test_packs_hold_the_order_and_none_too_many(length: float, height: float, size: int) -> None:
    found = find(length=q(length), height=q(height), pack_size=size)
    assert isinstance(found, Answer)
    assert 0 <= found.results["packs"] * size - found.results["order_count"] < size


def test_several_like_walls_round_once() -> None:
    """Totals over walls round once, at the end: 3 × 1.0125 m² at 0.10125 m² are 30, not 33."""
    assert count(length=q(0.45), height=q(2.25), walls=3) == 30


def test_a_height_off_the_courses_is_said() -> None:
    found = find(length=q(8), height=q(2.4))
    assert isinstance(found, Answer)
    assert any("10 make 2.25 m, 11 make 2.475 m" in note for note in found.notes)
    level = find(length=q(8), height=q(2.475))
    assert isinstance(level, Answer)
    assert level.results["course_count"] == 11
    assert not any("courses" in note for note in level.notes)


def test_what_was_taken_is_said() -> None:
    found = find(length=q(8), height=q(2.4))
    assert isinstance(found, Answer)
    taken = {a.slot for a in found.assumed}
    assert {"material", "block_length", "block_height", "joint_thickness", "waste"} <= taken
    sized = find(length=q(8), height=q(2.4), block={"length": q(440, "mm"), "height": q(215, "mm")},
                 thickness=q(100, "mm"), joint_thickness=q(10, "mm"))  # fmt: skip
    assert isinstance(sized, Answer)
    assert {a.slot for a in sized.assumed} == {"waste"}


def test_enough_for_the_wall_but_not_for_breakages_is_said() -> None:
    found = find(length=q(24), height=q(2.4), block_count=576)
    assert isinstance(found, Answer)
    assert found.results["surplus"] == 7
    assert any("22 more" in note for note in found.notes)
    assert found.lead[0] == "shortfall"


def test_courses_alone_need_no_length() -> None:
    found = find(
        wants=("course_count",), height=q(8, "ft"), block={"height": q(8, "in"), "length": q(16, "in")}
    )
    assert isinstance(found, Answer)
    assert found.results == {"course_count": 12}


def test_thin_joints_name_their_mortar() -> None:
    """EN 1996-1-1 cl. 8.1.5, from memory: joints of 0.5 to 3 mm take thin-layer mortar."""
    found = find(length=q(8), height=q(2.4), joint_thickness=q(2, "mm"))
    assert isinstance(found, Answer)
    assert "blocks.thin_joint" in {rule.id for rule in found.rules}
    ordinary = find(length=q(8), height=q(2.4))
    assert isinstance(ordinary, Answer)
    assert "blocks.thin_joint" not in {rule.id for rule in ordinary.rules}


def test_forty_thousand_blocks_are_asked_once() -> None:
    wall = {"length": q(50), "height": q(5), "walls": 20}
    found = find(**wall)
    assert isinstance(found, Need)
    assert found.slot == "walls"
    assert isinstance(find(confirmed=("walls",), **wall), Answer)


def test_a_gable_and_a_cavity_wall_are_told_apart() -> None:
    gable = find(length=q(7), height=q(3.2), shape="triangle", leaf="cavity")
    assert isinstance(gable, Answer)
    assert any("gable" in note for note in gable.notes)
    assert any("one leaf" in note for note in gable.notes)


@pytest.mark.parametrize(
    ("reading", "word"),
    [
        ({"place": "below_dpc"}, "dpc"),
        ({"block": {"mass": q(22, "kg")}}, "20 kg"),  # HSE construction sheet 37, paragraphs 4 to 5
        # geometry: 2000 kg/m³ × 440 × 215 × 215 mm is 40.7 kg
        ({"block": {"density": q(2000, "kg/m³")}, "thickness": q(215, "mm")}, "20 kg"),
        (
            {"place": "freestanding"},
            "375 to 525 mm",
        ),  # Planning Portal, garden walls: half a brick, zones 4 to 1
        ({}, "brace"),
    ],
)
def test_cautions(reading: dict[str, Any], word: str) -> None:
    found = find(length=q(8), height=q(2.4), **reading)
    assert isinstance(found, Answer)
    assert any(word in caution for caution in found.cautions)


def test_a_light_block_needs_no_caution_of_its_weight() -> None:
    """Geometry: 600 kg/m³ × 440 × 215 × 100 mm is 5.7 kg."""
    found = find(length=q(8), height=q(2.4), block={"density": q(600, "kg/m³")})
    assert isinstance(found, Answer)
    assert not any("20 kg" in caution for caution in found.cautions)


def test_every_default_record_is_cited_by_some_question() -> None:
    inches = {"material": "aggregate", "length": q(16, "in"), "height": q(8, "in"), "mass": q(22, "kg")}
    bricks = {"material": "clay_brick"}
    modular = {"material": "clay_brick", "length": q(7.625, "in"), "height": q(2.25, "in")}
    asked = [
        find(wants=("waste",)),
        find(wants=("blocks_per_area",), block={"material": "aac"}),
        find(wants=("blocks_per_area",), block=bricks),
        find(wants=("blocks_per_area",), block=modular),
        find(wants=("blocks_per_area",), block=inches),
        find(length=q(8), height=q(2.4), block=bricks, thickness=q(215, "mm"), place="below_dpc"),
        find(length=q(8), height=q(2.4), joint_thickness=q(3, "mm")),
    ]
    cited = {rule.id for found in asked if isinstance(found, Answer) for rule in found.rules}
    cautions = {line for found in asked if isinstance(found, Answer) for line in found.cautions}
    for rule in BOOK.every():
        if rule.id.startswith("blocks."):
            assert rule.id in cited or rule.statement in cautions, rule.id


def test_waste_shows_every_document() -> None:
    found = find(wants=("waste",))
    assert isinstance(found, Answer)
    assert {rule.id for rule in found.rules} == {
        rule.id for rule in BOOK.every() if rule.figure == "blocks.waste"
    }


def test_a_heap_and_its_packs() -> None:
    found = find(wants=("packs",), block_count=300, pack_size=72)
    assert isinstance(found, Answer)
    assert found.results["packs"] == 5
    assert found.lead[0] == "packs"


def test_a_heap_and_a_height_make_a_length() -> None:
    """Geometry: laid to that length and height, as many blocks as there were."""
    for more in (
        {"height": q(2)},
        {"courses": 8},
        {"height": q(2), "openings": [{"width": q(1), "height": q(2)}]},
    ):
        found = find(wants=("length",), block_count=500, **more)
        assert isinstance(found, Answer), found
        again = count(length=found.results["length"].plain(), **more)
        assert again in (500, 501)
        assert found.results["length_after_waste"].value < found.results["length"].value


def test_brick_walls_by_their_thickness_count_every_leaf() -> None:
    """A stretcher is half a brick thick: 215 mm, 225 mm and 9 in walls are two of them, 330 mm three."""
    wall = {"length": q(10), "height": q(2.4)}
    half = count(**wall, block={"material": "clay_brick"})
    for thick in (q(215, "mm"), q(225, "mm"), q(9, "in")):
        for said in ({"block": {"material": "clay_brick", "thickness": thick}},
                     {"block": {"material": "clay_brick"}, "thickness": thick}):  # fmt: skip
            assert count(**wall, **said) in (2 * half, 2 * half - 1)
    three = count(**wall, block={"material": "clay_brick", "thickness": q(330, "mm")})
    assert three in (3 * half, 3 * half - 1, 3 * half - 2)
    single = count(**wall, block={"material": "clay_brick", "thickness": q(102.5, "mm")})
    assert single == half


def test_no_waste_is_none() -> None:
    found = find(length=q(10), height=q(2.4), waste=q(0, "%"))
    assert isinstance(found, Answer)
    assert found.results["order_count"] == found.results["block_count"]
    assert not any(step.step.startswith("with 0 %") for step in found.working)


def test_cover_of_a_heap_though_blocks_were_named() -> None:
    found = find(wants=("block_count", "area"), block_count=300)
    assert isinstance(found, Answer)
    assert found.results["area"].value == pytest.approx(30.375)
    more = find(wants=("block_count", "shortfall"), block_count=60)
    assert isinstance(more, Need)


def test_courses_want_a_height() -> None:
    found = find(wants=("course_count",))
    assert isinstance(found, Need)
    assert found.slot == "height"


@settings(deadline=None, max_examples=25)
@given(
    st.floats(1, 100),
    st.sampled_from(["aac", "aggregate", "clay_brick"]),
    st.sampled_from([None, 102.5, 215]),
)
def test_mortar_of_blocks_is_the_mortar_of_mortar(area: float, material: str, thick: float | None) -> None:
    """Two topics speak of one wall: the same net volume."""
    reading = {"area": q(area, "m²"), "block": {"material": material}}
    if thick is not None:
        reading["thickness"] = q(thick, "mm")
    volumes = []
    for topic in ("blocks", "mortar"):
        found = answer(Question.model_validate({"topic": topic, "reading": reading}), BOOK)[0]
        assert isinstance(found, Answer)
        volumes.append(found.results["mortar_volume"].value)
    assert volumes[0] == pytest.approx(volumes[1], rel=1e-4)


def test_height_of_a_course() -> None:
    found = find(wants=("course_height",))
    assert isinstance(found, Answer)
    assert found.results["course_height"].value == pytest.approx(225)
