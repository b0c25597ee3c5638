"""U-values: the method behaves, layers are known by name, joints count, and nothing is called compliant."""

from __future__ import annotations

from typing import Any

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from knowledge import heat
from knowledge.answering import answer
from knowledge.answers import Answer, Decline, Finding, Need
from knowledge.questions import Question
from knowledge.rulebook import book
from knowledge.tabled import between

BOOK = book("GB")


def q(value: float, unit: str = "mm") -> dict[str, Any]:
    return {"value": value, "unit": unit}


def layer(material: str, thickness: float, conductivity: float | None = None) -> dict[str, Any]:
    known = {} if conductivity is None else {"conductivity": q(conductivity, "W/m·K")}
    return {"material": material, "thickness": q(thickness), **known}


def find(wants: tuple[str, ...] = (), **reading: Any) -> Finding:
    return answer(Question.model_validate({"topic": "thermal", "reading": reading, "wants": wants}), BOOK)[0]


def got(wants: tuple[str, ...] = (), **reading: Any) -> Answer:
    found = find(wants, **reading)
    assert isinstance(found, Answer), found
    return found


@given(
    st.lists(st.tuples(st.floats(0.01, 0.99), st.floats(0.01, 5), st.floats(0.01, 5)), min_size=1, max_size=4)
)
def test_the_upper_limit_is_never_under_the_lower(parts: list[tuple[float, float, float]]) -> None:
    """EN ISO 6946: the upper limit keeps heat in its path, so it can only be the greater."""
    layers = [[(share, one), (1 - share, other)] for share, one, other in parts]
    sums = heat.combined(layers, 0.13, 0.04)
    assert sums.upper >= sums.lower - 1e-9
    assert sums.total == pytest.approx((sums.upper + sums.lower) / 2)
    assert sums.u == pytest.approx(1 / sums.total)


@given(st.lists(st.floats(0.01, 5), min_size=1, max_size=6))
def test_even_layers_have_one_sum(resistances: list[float]) -> None:
    sums = heat.combined([[(1.0, r)] for r in resistances], 0.13, 0.04)
    assert sums.upper == pytest.approx(sums.lower) == pytest.approx(0.17 + sum(resistances))


@given(st.floats(-50, 1000))
def test_a_table_never_leaves_its_span(at: float) -> None:
    assert 0.11 <= between([(350, 0.11), (600, 0.19), (800, 0.25)], at) <= 0.25


@settings(deadline=None)
@given(st.floats(75, 400), st.floats(1, 200))
def test_thicker_walls_never_let_out_more(thickness: float, more: float) -> None:
    thin, thick = got(thickness=q(thickness)), got(thickness=q(thickness + more))
    assert thick.results["u_value"].value <= thin.results["u_value"].value


def test_mortar_joints_let_heat_out() -> None:
    jointed, thin = got(thickness=q(215)), got(thickness=q(215), joint_thickness=q(2))
    assert jointed.results["u_value"].value > thin.results["u_value"].value
    assert "r_upper" in jointed.results
    assert "r_upper" not in thin.results
    sized = got(thickness=q(215), block={"material": "aac", "length": q(620), "height": q(215)})
    assert sized.results["u_value"].value < jointed.results["u_value"].value
    assert any(step.step == "share of mortar" and step.value == 0.0596 for step in sized.working)


def test_brick_and_mortar_are_alike() -> None:
    """BR 443, from memory: less than 0.1 m²·K/W between block and mortar is left out."""
    found = got(layers=[layer("facing brick", 102)])
    assert "r_upper" not in found.results
    assert "thermal.joint_ignored" in {rule.id for rule in found.rules}


def test_finishes_count_once_named() -> None:
    """The lower limit adds layer upon layer: render 1.0, plasterboard 0.21, 15 mm of air 0.17."""

    def lower(**reading: Any) -> float:
        return float(got(thickness=q(215), **reading).results["r_lower"].value)

    assert any("Bare wall" in note for note in got(thickness=q(215)).notes)
    assert lower(finish="render") == pytest.approx(lower() + 0.016, abs=1e-3)
    assert "render_thickness" in {a.slot for a in got(thickness=q(215), finish="render").assumed}
    assert lower(finish="render", coat_thickness=q(20)) == pytest.approx(lower() + 0.020, abs=2e-4)
    assert lower(finish="boards") == pytest.approx(lower() + 0.17 + 0.0125 / 0.21, abs=2e-4)
    fair = got(thickness=q(215), finish="fair_faced", place="external")
    assert fair.notes == got(thickness=q(215), finish="render").notes
    assert "thermal.mortar.exposed" in {rule.id for rule in fair.rules}


def test_a_partition_has_two_insides() -> None:
    """DA DB-HE/1: both faces of an internal partition have the inside value, 0.13."""
    wall: dict[str, Any] = {"layers": [layer("render", 100)]}
    outer, inner = got(**wall), got(**wall, place="internal")
    assert outer.results["r_value"].value == pytest.approx(0.1 + 0.17)
    assert inner.results["r_value"].value == pytest.approx(0.1 + 0.26)


@pytest.mark.parametrize(
    ("name", "conductivity"),
    [
        ("mineral wool", 0.040),
        ("Rock wool batts", 0.040),
        ("plasterboard", 0.21),
        ("aac", 0.19),
        ("sheathing", 0.13),
        ("lightweight aggregate", 0.60),
        ("clay_brick", 0.77),
        ("PIR insulation", 0.022),
        ("timber stud", 0.12),
    ],
)
def test_layers_are_known_by_name(name: str, conductivity: float) -> None:
    """Scottish tables (Feb 2020) and trade bodies' pages, as in the rule file; PIR from memory."""
    found = got(layers=[layer(name, 100)], joint_thickness=q(2))
    assert found.results["r_value"].value == pytest.approx(0.17 + 0.1 / conductivity, abs=1e-4)
    assert any(a.slot.startswith("conductivity of") for a in found.assumed)


def test_a_conductivity_that_was_said_counts() -> None:
    found = got(layers=[layer("pir", 100, 0.018), layer("cavity insulation", 50, 0.032)])
    assert found.results["r_value"].value == pytest.approx(0.17 + 0.1 / 0.018 + 0.05 / 0.032, abs=1e-4)
    assert found.assumed == ()


@pytest.mark.parametrize(
    ("reading", "slot"),
    [
        ({}, "thickness"),
        ({"leaf": "cavity", "thickness": q(300)}, "layers"),
        ({"layers": [layer("cavity insulation", 50)]}, "layers"),
        ({"layers": [layer("hempcrete", 300)]}, "layers"),
        ({"thickness": q(400), "block": {"material": "stone"}}, "layers"),
    ],
)
def test_what_is_missing_is_asked(reading: dict[str, Any], slot: str) -> None:
    found = find(**reading)
    assert isinstance(found, Need)
    assert found.slot == slot


@pytest.mark.parametrize(
    "layers",
    [
        [layer("air", 400)],
        [layer("aac", 0)],
        [layer("aac", 100, 0)],
        [layer("aac", 200, 0.01), layer("aac", 200, 0.01)],
    ],
)
def test_outside_the_method_it_declines(layers: list[dict[str, Any]]) -> None:
    """Still air up to 300 mm; upper limit at most 1.5 times the lower (EN ISO 6946, from memory)."""
    assert isinstance(find(layers=layers), Decline)


def test_figures_and_no_verdict() -> None:
    found = got(thickness=q(100))
    said = " ".join((*found.notes, *found.cautions)).lower()
    assert "building control" in said
    assert "verdict" not in found.results
    assert not any(word in said.split() for word in ("complies", "compliant", "pass", "passes", "fails"))
    assert any("ties" in caution for caution in found.cautions)


def test_every_rule_is_cited_by_some_question() -> None:
    first = [
        "aac",
        "aggregate",
        "lightweight aggregate",
        "ultra-light aggregate",
        "facing brick",
        "inner brick",
    ]
    names = [
        *first,
        "plasterboard",
        "timber",
        "sheathing",
        "mineral wool",
        "render",
        "plaster",
        "mortar",
        "pir",
        "eps",
    ]
    asked = [got(layers=[layer(name, 100)]) for name in names]
    asked += [
        got(layers=[layer("aac", 100), layer("cavity", 50), layer("air", 15)]),
        got(("surface_resistance",)),
    ]
    dense = (("aac", 600), ("aggregate", 1300), ("aggregate", 1700), ("aggregate", 2000))
    asked += [got(thickness=q(100), block={"material": m, "density": q(d, "kg/m³")}) for m, d in dense]
    asked += [got(thickness=q(100), joint_thickness=q(2)), got(thickness=q(100), place="internal")]
    asked += [got(thickness=q(100), finish="fair_faced", place="external")]
    cited = {rule.id for found in asked for rule in found.rules}
    warned = {caution for found in asked for caution in found.cautions}
    for rule in BOOK.every():
        if rule.id.startswith("thermal.") and rule.id not in ("thermal.ratio_most", "thermal.ask"):
            assert rule.id in cited or rule.statement in warned, rule.id
    poor = find(layers=[layer("aac", 200, 0.01), layer("aac", 200, 0.01)])
    assert isinstance(poor, Decline)
    assert BOOK.find("thermal.ratio_most").statement in poor.why
