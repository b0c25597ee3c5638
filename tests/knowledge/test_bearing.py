"""Concentrated loads: the sum behaves, nothing is called safe, and what is outside the method is declined."""

from __future__ import annotations

from typing import Any

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from knowledge import bearings
from knowledge.answering import answer
from knowledge.answers import Answer, Decline, Finding, Need
from knowledge.calculators._bearing_strength import numbers
from knowledge.questions import Question
from knowledge.rulebook import book

BOOK = book("GB")
PAD = {"length": {"value": 440, "unit": "mm"}, "width": {"value": 100, "unit": "mm"}}


def q(value: float, unit: str = "mm") -> dict[str, Any]:
    return {"value": value, "unit": unit}


def find(wants: tuple[str, ...] = (), **reading: Any) -> Finding:
    return answer(Question.model_validate({"topic": "bearing", "reading": reading, "wants": wants}), BOOK)[0]


def got(wants: tuple[str, ...] = (), **reading: Any) -> Answer:
    found = find(wants, **reading)
    assert isinstance(found, Answer), found
    return found


def test_shape_factors() -> None:
    """EN 772-1 table A.1: 215 × 140 (course sheet V3) and 100 × 100 were read; the rest is from memory."""
    table = BOOK.find("bearing.shape").table
    assert table is not None
    widths = [float(name) for name in table.columns[1:]]
    rows = [[float(cell) for cell in row] for row in table.rows]
    wanted = {(215, 140): 1.30, (100, 100): 1.00, (215, 100): 1.38, (215, 75): 1.43, (215, 215): 1.16,
              (215, 250): 1.115, (215, 300): 1.115, (190, 100): 1.32, (65, 102.5): 0.845}  # fmt: skip
    for (height, least), factor in wanted.items():
        assert bearings.shape_factor(rows, widths, height, least) == pytest.approx(factor, abs=0.005)


@given(st.floats(0, 3000), st.floats(500, 4000), st.floats(0, 1))
def test_the_factor_stays_between_its_limits(edge: float, height: float, ratio: float) -> None:
    """EN 1996-1-1 6.1.3 as in course sheet C1: at least 1.0, at most 1.25 + a₁/2h and 1.5."""
    formula, limits = numbers(BOOK.find("bearing.beta")), numbers(BOOK.find("bearing.limits"))
    found = bearings.enhancement(edge, height, ratio, formula=formula, limits=limits)
    assert 1.0 <= found.used <= min(1.5, 1.25 + edge / (2 * height)) + 1e-9


@given(st.floats(50, 600), st.floats(500, 4000), st.floats(0, 900))
def test_near_an_end_less_wall_carries(bearing: float, height: float, edge: float) -> None:
    inside = bearings.spread_length(bearing, height, 30)
    assert bearing <= bearings.spread_length(bearing, height, 30, edge) <= inside + 1e-9


@settings(deadline=None)
@given(st.floats(1, 80), st.floats(1, 40))
def test_more_load_never_uses_less(load: float, more: float) -> None:
    wall: dict[str, Any] = {"thickness": q(100), "padstone": PAD}
    less = got(**wall, load=q(load, "kN")).results
    heavier = got(**wall, load=q(load + more, "kN")).results
    assert heavier["utilisation"] >= less["utilisation"]
    assert heavier["resistance"].value == pytest.approx(less["resistance"].value)
    assert heavier["padstone"]["length"].value >= less["padstone"]["length"].value


def test_utilisation_is_load_over_resistance() -> None:
    found = got(load=q(20, "kN"), thickness=q(100), padstone=PAD, height=q(2.7, "m")).results
    assert found["utilisation"] == pytest.approx(
        found["design_load"].value / found["resistance"].value, abs=0.001
    )
    assert found["design_load"].value == pytest.approx(30)


def test_the_first_idea_carries_its_load() -> None:
    """Its own length put back in, with nothing added for the spread, is used no more than whole."""
    for load in (5, 20, 60):
        first = got(("padstone",), load=q(load, "kN"), thickness=q(140)).results["padstone"]
        again = got(load=q(load, "kN"), thickness=q(140), padstone={"length": q(first["length"].value)})
        assert again.results["utilisation"] <= 1.0


def test_a_thickness_that_was_not_said_is_the_thinnest_common_one_and_said() -> None:
    """The common leaf of 100 mm: no thicker wall has more stress under the same load. Engineer as ever."""
    found = got(load=q(20, "kN"))
    assert found.results["padstone"]["width"].to("mm") == 100
    assert found.results["refer"] is True
    assert any(entry.slot == "block_thickness" for entry in found.assumed)
    thicker = got(load=q(20, "kN"), thickness=q(140))
    assert thicker.results["padstone"]["length"].value <= found.results["padstone"]["length"].value
    assert "stress" not in found.results


@pytest.mark.parametrize(
    ("reading", "slot"),
    [
        ({}, "load"),
        (
            {
                "load": {"value": 20, "unit": "kN"},
                "thickness": {"value": 300, "unit": "mm"},
                "leaf": "cavity",
            },
            "thickness",
        ),
        (
            {
                "load": {"value": 20, "unit": "kN"},
                "thickness": {"value": 100, "unit": "mm"},
                "padstone": {"width": {"value": 100, "unit": "mm"}},
            },
            "padstone",
        ),
    ],
)
def test_what_is_missing_is_asked(reading: dict[str, Any], slot: str) -> None:
    found = find(**reading)
    assert isinstance(found, Need)
    assert found.slot == slot


@pytest.mark.parametrize(
    "change",
    [
        {"block": {"material": "clay_brick"}},
        {"block": {"material": "stone"}},
        {"block": {"strength": {"value": 80, "unit": "N/mm²"}}},
        {"block": {"height": {"value": 50, "unit": "mm"}}},
        {"load": {"value": 0, "unit": "kN"}},
        {"load": {"value": 5, "unit": "kN/m"}},
        {"mortar_class": "N"},
        {"padstone": {"length": {"value": 440, "unit": "mm"}, "width": {"value": 40, "unit": "mm"}}},
        {"padstone": {"length": {"value": 0, "unit": "mm"}, "width": {"value": 100, "unit": "mm"}}},
    ],
)
def test_outside_the_method_it_declines(change: dict[str, Any]) -> None:
    """Eccentricity over t/4: course sheet C1; the other limits are the formula's own."""
    reading: dict[str, Any] = {"load": q(20, "kN"), "thickness": q(100), "padstone": PAD}
    assert isinstance(find(**(reading | change)), Decline)


def test_no_verdict_and_always_an_engineer() -> None:
    for load in (1, 500):
        found = got(load=q(load, "kN"), thickness=q(100), padstone=PAD)
        said = " ".join((*found.notes, *found.cautions)).lower()
        assert "engineer must design and check" in said
        assert not any(word in said.split() for word in ("safe", "ok", "pass", "passes", "fails", "fail"))
        assert found.results["refer"] is True
        assert "verdict" not in found.results


def test_what_was_taken_is_said() -> None:
    found = got(load=q(20, "kN"), thickness=q(100), padstone={"length": q(440)})
    taken = {a.slot for a in found.assumed}
    assert {"material", "strength", "block_kind", "block_height", "mortar_class"} <= taken
    assert {"site_control", "load_factor", "enhancement", "padstone_width"} <= taken
    tall = got(load=q(20, "kN"), thickness=q(100), padstone=PAD, height=q(2.7, "m"), length=q(3, "m"))
    assert {a.slot for a in tall.assumed} >= {"edge_distance"}


def test_pounds_in_pounds_out_and_a_mass_is_weighed() -> None:
    plate = {"length": q(8, "in"), "width": q(8, "in")}
    found = got(load=q(9, "kip"), block={"material": "aggregate", "thickness": q(8, "in")}, padstone=plate)
    assert found.results["design_load"].plain() == {"value": 13.5, "unit": "kip"}
    assert found.results["stress"].value == pytest.approx(13500 / 64, abs=0.1)
    assert found.results["padstone"]["width"].unit == "in"
    weighed = got(load=q(2, "t"), thickness=q(100), padstone=PAD)
    assert weighed.results["design_load"].value == pytest.approx(1.5 * 2 * 9.81)
    assert any("taken as a mass" in note for note in weighed.notes)


def test_a_wide_pad_and_a_cavity() -> None:
    wide = got(load=q(20, "kN"), thickness=q(100), padstone={"length": q(440), "width": q(215)})
    same = got(load=q(20, "kN"), thickness=q(100), padstone={"length": q(440), "width": q(100)})
    assert wide.results["resistance"] == same.results["resistance"]
    assert any("wider than the wall" in note for note in wide.notes)
    leaf = got(load=q(20, "kN"), thickness=q(300), leaf="cavity", block={"thickness": q(100)}, padstone=PAD)
    assert any("cavity" in note for note in leaf.notes)
    assert leaf.results["resistance"] == same.results["resistance"]


def test_weak_block_limits_strong_mortar() -> None:
    """UK annex, from memory: mortar counts at most as twice the block."""
    weak = got(("padstone",), load=q(5, "kN"), thickness=q(100), mortar_class="M12",
               block={"strength": q(2.9, "N/mm²")})  # fmt: skip
    assert weak.results["masonry_strength"].value == pytest.approx(
        0.55 * 4.002**0.7 * (2 * 4.002) ** 0.3, abs=0.01
    )


def test_every_rule_is_cited_by_some_question() -> None:
    load: dict[str, Any] = {"load": q(20, "kN"), "thickness": q(100), "padstone": PAD}
    asked = [got(**load, height=q(2.7, "m")), got(**load), got(("bearing_length",)), got(("spread",))]
    asked += [
        got(**load, block={"material": m}, joint_thickness=q(j))
        for m in ("aac", "aggregate")
        for j in (2, 10)
    ]
    asked += [got(**load, mortar_class=m) for m in ("M2", "M4", "M6", "M12", "i", "ii", "iii", "iv")]
    asked += [
        got(**load, mortar_class="M12", block={"strength": q(2.9, "N/mm²")}),
        got(("pad_length_min",)),
        got(("enhancement",)),
        got(("lintel_bearing",)),
        got(("lintel_bearing",), length=q(1.2, "m")),
    ]
    asked += [got(**(load | {"load": q(2, "t")}))]
    asked += [got(**load, leaf="cavity", block={"thickness": q(100)})]
    cited = {rule.id for found in asked for rule in found.rules}
    warned = {caution for found in asked for caution in found.cautions}
    for rule in BOOK.every():
        if rule.id.startswith("bearing.") and rule.id != "bearing.unit_most":
            assert rule.id in cited or rule.statement in warned, rule.id


def test_the_strongest_block_names_its_rule() -> None:
    found = find(load=q(5, "kN"), thickness=q(100), padstone=PAD, block={"strength": q(80, "N/mm²")})
    assert isinstance(found, Decline)
    assert BOOK.find("bearing.unit_most").statement in found.why
