"""Safety: whoever is hurt reads first what to do."""

from __future__ import annotations

from typing import Any

import pytest
from hypothesis import given
from hypothesis import strategies as st

from knowledge.answering import answer
from knowledge.answers import Answer
from knowledge.questions import Question
from knowledge.rulebook import book

BOOK = book("GB")
KINDS = (
    "eye", "skin_burn", "swallowed", "mouth", "breathing", "dust", "lifting", "lime", "mixer", "new_wall",
    "height", "ppe",
)  # fmt: skip


def told(*wants: str, **reading: Any) -> Answer:
    asked = {"topic": "safety", "reading": reading, "wants": wants}
    found = answer(Question.model_validate(asked), BOOK)[0]
    assert isinstance(found, Answer), found
    return found


def q(value: float, unit: str) -> dict[str, Any]:
    return {"value": value, "unit": unit}


def test_a_splash_in_the_eye_is_washed_first_and_long() -> None:
    """Hemp-lime textbook: wash until all is out, then hospital even if it feels clear."""
    found = told("eye")
    assert found.first[0].startswith("Wash the eye now")
    assert "hospital" in found.first[0]
    assert "20 minutes" in found.first[1]


def test_a_cement_burn_is_rinsed_first() -> None:
    """OSHA 3351: wash at once; no pain until the harm is done."""
    found = told("skin_burn")
    assert found.first[0].startswith("Wash the skin at once")
    assert any("without pain" in line for line in found.results["measures"])
    assert any("doctor" in caution for caution in found.cautions)


def test_what_was_swallowed_is_never_brought_up_and_a_doctor_sees_it() -> None:
    """First aid for a swallowed alkali: rinse, no vomiting, hospital. Not neutralised either."""
    found = told("swallowed")
    assert "Do not bring it up" in found.first[0]
    assert "999" in found.first[1]
    assert any("no vinegar" in line for line in found.results["measures"])
    both = told("mouth", "swallowed")
    assert both.first[0] == found.first[0]


@pytest.mark.parametrize("kind", [*KINDS, ""])
def test_every_hazard_has_measures_and_a_caution(kind: str) -> None:
    found = told(*((kind,) if kind else ()))
    assert 3 <= len(found.results["measures"]) <= 7
    assert found.cautions
    assert found.rules
    assert len(found.notes) <= 3
    assert bool(found.first) is (kind in ("eye", "skin_burn", "swallowed", "mouth", "breathing"))


def test_first_aid_comes_before_any_other_hazard() -> None:
    found = told("dust", "eye", "ppe")
    assert found.first[0].startswith("Wash the eye now")
    assert found.results["measures"][0].startswith("Hold the lids")


@given(st.floats(40, 300), st.floats(300, 2400), st.floats(0, 100))
def test_a_thicker_block_is_heavier(thick: float, dense: float, more: float) -> None:
    def mass(thickness: float) -> float:
        block = {"material": "aggregate", "density": q(dense, "kg/m³"), "thickness": q(thickness, "mm")}
        return float(told("lifting", block=block).results["block_mass"].value)

    assert mass(thick + more) >= mass(thick)


@given(st.floats(0.5, 60))
def test_over_20_kg_is_over(mass: float) -> None:
    """HSE construction sheet 37: over 20 kg."""
    found = told("lifting", block={"mass": q(mass, "kg")})
    assert found.results["over_limit"] is (mass > 20)


def test_what_is_taken_for_a_block_is_said() -> None:
    found = told("lifting")
    taken = {one.slot for one in found.assumed}
    assert {"material", "block_length", "block_height", "block_thickness", "density"} <= taken
    said = told("lifting", block={"material": "aac", "strength": q(7.3, "N/mm²"), "thickness": q(140, "mm")})
    assert said.results["block_mass"].value > found.results["block_mass"].value
    assert "block_thickness" not in {one.slot for one in said.assumed}
    wall = told("lifting", block={"material": "aac"}, thickness=q(140, "mm"))
    assert wall.results["block_mass"].value == pytest.approx(
        found.results["block_mass"].value * 1.4, abs=0.01
    )


def test_a_block_sold_in_inches_is_16_by_8() -> None:
    """16 × 8 × 8 in at 2000 kg/m³ is 33.6 kg, by geometry."""
    found = told("lifting", block={"material": "aggregate", "thickness": q(8, "in")})
    assert found.results["block_mass"].value == pytest.approx(16 * 8 * 8 * 0.0254**3 * 2000, abs=0.01)


def test_stone_without_a_size_has_no_weight() -> None:
    found = told("lifting", block={"material": "stone"})
    assert "block_mass" not in found.results
    assert any("size of the stone" in note for note in found.notes)


def test_a_bag_is_weighed_too() -> None:
    found = told("lifting", bag_size=q(25, "kg"))
    assert found.results["over_limit"] is True
    assert "safety.lift.bags" in {rule.id for rule in found.rules}


def test_silica_limits_of_other_countries_are_shown_beside_ours() -> None:
    """EH40 0.1; US, NIOSH and Finland 0.05 mg/m³: 0.08 is under the one and over the others."""
    found = told("dust")
    limit = found.results["exposure_limit"]
    assert limit.unit == "mg/m³"
    others = [rule.number() for rule in BOOK.others("safety.dust.limit")]
    assert max(others) < 0.08 < limit.value
    assert {"safety.dust.limit.us", "safety.dust.limit.finland"} <= {rule.id for rule in found.rules}


def test_the_zone_beside_a_new_wall_in_feet() -> None:
    """29 CFR 1926.706: height and 4 ft; the metric figure printed there is 1.2 m."""
    found = told("new_wall", height=q(8, "ft"))
    assert found.results["keep_clear"].unit == "ft"
    assert found.results["keep_clear"].value == pytest.approx(12, abs=0.07)
    assert any("designer" in caution for caution in found.cautions)


def test_every_rule_on_safety_can_be_met() -> None:
    """A rule that no answer shows is dead."""
    met: set[str] = set()
    for kind in (*KINDS, ""):
        met |= {rule.id for rule in told(*((kind,) if kind else ())).rules}
    for block in (
        {"material": "aac", "strength": q(2.9, "N/mm²")}, {"material": "aac", "strength": q(7.3, "N/mm²")},
        {"material": "aggregate"}, {"material": "clay_brick"},
        {"material": "stone", "length": q(400, "mm"), "height": q(200, "mm"), "thickness": q(200, "mm")},
    ):  # fmt: skip
        met |= {rule.id for rule in told("lifting", block=block).rules}
    met |= {rule.id for rule in told("lifting", bag_size=q(25, "kg")).rules}
    unseen = {rule.id for rule in BOOK.every() if rule.id.startswith("safety.")} - met
    assert {one for one in unseen if ".caution." not in one and ".measures." not in one} == set()
