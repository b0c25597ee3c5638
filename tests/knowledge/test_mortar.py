"""Mortar: every rule is used, properties of gauging and amounts, and what a table row cannot show."""

from __future__ import annotations

import tomllib
from itertools import product
from pathlib import Path
from typing import Any

import pytest
from hypothesis import given
from hypothesis import strategies as st

from knowledge.answering import answer
from knowledge.answers import Answer, Decline, Finding, Need
from knowledge.gauging import bulking, damp_for, dry_in, gauge
from knowledge.mixes import classes, judge_class
from knowledge.questions import Question
from knowledge.rulebook import book
from knowledge.yields import leaves, unit_mortar, units_per_area, wall_mortar

GB = book("GB")
WORKED = tomllib.loads((Path(__file__).parents[1] / "worked" / "mortar.toml").read_text(encoding="utf-8"))[
    "row"
]
PLACES = ("internal", "external", "below_dpc", "parapet", "freestanding")
MATERIALS = ("aac", "aggregate", "clay_brick", "calcium_silicate", "stone")
SITE = (
    "life", "retempering", "mixing_time", "mixing_order", "water", "plasticiser", "lime", "bulking",
    "scratch", "joint_thickness", "stronger", "difference",
)  # fmt: skip
parts = st.integers(min_value=1, max_value=48).map(lambda n: n / 4)


def ask(*wants: str, **reading: Any) -> Finding:
    found = answer(Question.model_validate({"topic": "mortar", "reading": reading, "wants": wants}), GB)
    assert len(found) == 1
    return found[0]


def told(*wants: str, **reading: Any) -> Answer:
    found = ask(*wants, **reading)
    assert isinstance(found, Answer), found
    assert found.rules
    assert found.cautions
    return found


def q(value: float, unit: str) -> dict[str, Any]:
    return {"value": value, "unit": unit}


def mix(cement: float, lime: float, sand: float) -> dict[str, float]:
    return {"cement": cement, "lime": lime, "sand": sand}


def brick(**more: Any) -> dict[str, Any]:
    return {"material": "clay_brick", **more}


def every_question() -> list[Answer]:
    """One answer for each unit, place and exposure, each class, each wish, and each way to an amount."""
    found = [
        told(block={"material": unit}, place=place, severe=severe)
        for unit, place, severe in product(MATERIALS, PLACES, (False, True))
    ]
    strong = q(10.4, "N/mm²")
    found += [
        told(block={"material": "aggregate", "strength": strong}, place="external", severe=severe)
        for severe in (False, True)
    ]
    found += [
        told("mix", mortar_class=name, plasticiser=p)
        for name in ("i", "ii", "iii", "iv", "v")
        for p in (True, False)
    ]
    found += [told(mortar_class=name, place="internal") for name in ("M", "S", "N", "O", "K", "M2")]
    found += [told(want) for want in SITE]
    found += [
        told(mix=mix(1, 0, 4)),
        told(leaf="cavity"),
        told(block=brick(strength=q(80, "N/mm²"))),
        told(block=brick(), area=q(10, "m²"), mix=mix(1, 0, 2)),
        told(area=q(10, "m²"), mix=mix(1, 0, 1)),
        told(area=q(10, "m²"), joint_thickness=q(3, "mm")),
        told("batch", mix=mix(1, 1, 6)),
    ]
    return found


ANSWERS = every_question()


def test_every_rule_is_cited_or_an_alternative() -> None:
    cited = {rule.id for found in ANSWERS for rule in found.rules}
    warned = {text for found in ANSWERS for text in found.cautions}
    for rule in GB.every():
        if rule.id.startswith("mortar."):
            assert rule.id in cited or rule.statement in warned or not rule.default, rule.id


def test_every_rule_has_a_row_or_a_question() -> None:
    named = {row["rule"] for row in WORKED if "rule" in row}
    cited = {rule.id for found in ANSWERS for rule in found.rules}
    warned = {text for found in ANSWERS for text in found.cautions}
    for rule in GB.every():
        if rule.id.startswith("mortar."):
            assert rule.id in named | cited or rule.statement in warned, rule.id


def test_alternatives_stand_beside_a_default_or_other_records() -> None:
    for rule in GB.every():
        if rule.id.startswith("mortar.") and not rule.default:
            assert any(other.default for other in GB.records(rule.figure)), rule.id


# What the table says. Sources: BS 5628-3 and NHBC 6.1.14 as in the rows; the trade's facts on aircrete.


@pytest.mark.parametrize("place", ["external", "internal", "parapet", "freestanding"])
def test_nothing_richer_than_the_lean_end_on_aircrete_above_dpc(place: str) -> None:
    """Abstract of the BRE Scottish Laboratory on mortar for aircrete: (iii) without air can be too strong."""
    for cement, lime, sand in ((1, 1, 5), (1, 0, 5), (1, 0.5, 4.5), (1, 0, 3), (1, 0.25, 3)):
        found = told(block={"material": "aac"}, place=place, mix=mix(cement, lime, sand))
        assert found.results["verdict"] == "too strong"
    for lime in (0, 1):
        assert (
            told(block={"material": "aac"}, place=place, mix=mix(1, lime, 6)).results["verdict"] == "suitable"
        )


def test_a_verdict_never_compares_class_number_and_block_strength() -> None:
    """M4 is the mortar for 2.9 and 3.6 blocks although 4 is the greater number (common practice, MR92)."""
    for strength in (2.9, 3.6, 7.3):
        block = {"material": "aac", "strength": q(strength, "N/mm²")}
        assert told(block=block, mortar_class="M4").results["verdict"] == "suitable"
        assert told(block=block, mortar_class="M6").results["verdict"] == "too strong"


def test_classes_outside_the_table_keep_their_order() -> None:
    """EN 998-2 also has M5 and M10: they lie between M4, M6 and M12."""
    order = classes(book("GB"))
    assert judge_class("M5", "M4", "M2", order) == "too strong"
    assert judge_class("M5", "M6", "M4", order) == "suitable"
    assert judge_class("M1", "M4", "M2", order) == "too weak"


def test_brick_shows_the_codes_and_the_habit() -> None:
    """NHBC general use 1:1:5½ against 4:1 by habit."""
    found = told(block=brick(), mix=mix(1, 0, 4))
    assert found.results["verdict"] == "suitable"
    assert found.results["habit_mix"].sand == 4
    assert any("M4" in note for note in found.notes)


def test_brick_below_dpc_shows_the_other_document() -> None:
    """The insurer has M6 there; the durability table allows M4 on drained ground (not verified)."""
    found = told(block=brick(), place="below_dpc", mix=mix(1, 1, 6))
    assert found.results["verdict"] == "too weak"
    assert "mortar.suits.brick.below_dpc.drained" in {rule.id for rule in found.rules}


def test_a_cavity_wall_is_judged_leaf_by_leaf() -> None:
    found = told(leaf="cavity", mix=mix(1, 0, 4))
    assert found.results["inner_verdict"] == "too strong"
    assert found.results["outer_verdict"] == "suitable"
    assert found.results["verdict"] == "too strong"
    assert [one.slot for one in found.assumed if one.slot == "outer_leaf"]


def test_below_dpc_warns_of_the_rating() -> None:
    """Blocks below dpc: 7.3 N/mm² or rated (BS 5628-3 durability table)."""
    assert any("rates" in text for text in told(place="below_dpc").cautions)
    strong = told(place="below_dpc", block={"material": "aggregate", "strength": q(7.3, "N/mm²")})
    assert not any("rates" in text for text in strong.cautions)


def test_no_site_mix_in_a_thin_joint() -> None:
    found = told(joint_thickness=q(2, "mm"), mix=mix(1, 0, 4))
    assert "mix" not in found.results
    assert "verdict" not in found.results


def test_lime_and_detergent_are_warned_of() -> None:
    assert any("quicklime" in text for text in told("lime").cautions)
    assert any("washing-up" in text for text in told("plasticiser").cautions)
    assert any("washing-up" in text for text in told(mix=mix(1, 0, 6)).cautions)


def test_a_rule_asked_for_needs_no_wall() -> None:
    for want in SITE:
        found = told(want)
        assert found.lead[0] == want
        assert want in found.results
        assert not [one for one in found.assumed if one.slot in ("material", "place")]


@pytest.mark.parametrize(
    "reading",
    [
        {"bags": {"count": 0, "of": "cement"}},
        {"buckets": {"count": -2, "of": "sand"}},
        {"block_count": 0},
        {"mortar_volume": {"value": -1, "unit": "m³"}},
    ],
)
def test_nothing_or_less_is_declined(reading: dict[str, Any]) -> None:
    assert isinstance(ask(**reading), Decline)


def test_stone_has_no_amount_without_its_size() -> None:
    assert isinstance(ask("cement_bags", block={"material": "stone"}, area=q(10, "m²")), Need)
    assert "mortar_volume" not in told(block={"material": "stone"}, area=q(10, "m²")).results


@pytest.mark.parametrize("said", [mix(1, 0, 0), mix(0, 0, 6)])
def test_half_a_mix_is_asked_back(said: dict[str, float]) -> None:
    found = ask(mix=said)
    assert isinstance(found, Need)
    assert found.slot == "mix"


def test_a_verdict_without_a_mix_is_asked_back() -> None:
    found = ask("verdict")
    assert isinstance(found, Need)
    assert found.slot == "mix"
    assert found.options


def test_an_unknown_class_is_asked_back() -> None:
    assert isinstance(ask(mortar_class="XX"), Need)


@given(
    unit=st.sampled_from(MATERIALS), place=st.sampled_from(PLACES), sand=parts, more=parts, lime=st.booleans()
)
def test_leaner_is_never_stronger(unit: str, place: str, sand: float, more: float, lime: bool) -> None:
    order = ("too strong", "suitable", "too weak")
    one, other = (
        told(block={"material": unit}, place=place, mix=mix(1, 1 if lime else 0, s)).results["verdict"]
        for s in (sand, sand + more)
    )
    assert order.index(one) <= order.index(other)


@given(cement=parts, lime=st.integers(0, 12), sand=parts, place=st.sampled_from(PLACES))
def test_any_mix_gets_an_answer(cement: float, lime: int, sand: float, place: str) -> None:
    told(mix=mix(cement, lime / 4, sand), place=place)


# Gauging


@given(cement=parts, lime=parts, sand=parts, count=parts, times=st.integers(2, 9))
def test_parts_scale(cement: float, lime: float, sand: float, count: float, times: int) -> None:
    one = gauge(cement, lime, sand, "cement", count)
    many = gauge(cement, lime, sand, "cement", count * times)
    double = gauge(cement * times, lime * times, sand * times, "cement", count)
    for name in one:
        assert many[name] == pytest.approx(one[name] * times)
        assert double[name] == pytest.approx(one[name])
    assert one["sand"] * cement == pytest.approx(sand * count)


@given(count=parts, of=st.sampled_from(["cement", "lime", "sand"]))
def test_a_batch_keeps_the_parts_of_the_mix(count: float, of: str) -> None:
    for key in ("bags", "buckets"):
        batch = told(mix=mix(1, 1, 6), **{key: {"count": count, "of": of}}).results["batch"]
        assert batch["sand"].value == pytest.approx(6 * batch["cement"].value, rel=1e-3, abs=0.01)
        assert batch[of].value == pytest.approx(count, abs=0.001)


@given(dry=parts, percent=st.floats(0, 60))
def test_damp_and_dry_are_each_others_way_back(dry: float, percent: float) -> None:
    assert dry_in(damp_for(dry, percent), percent) == pytest.approx(dry)
    assert bulking(damp_for(100, percent), 100) == pytest.approx(percent)


def test_no_lime_in_the_mix_asks_which_mix() -> None:
    found = ask(mix=mix(1, 0, 6), bags={"count": 1, "of": "lime"})
    assert isinstance(found, Need)
    assert found.slot == "mix"


def test_a_bag_of_lime_is_not_a_part_of_lime() -> None:
    """25 kg of lime is more than twice the volume of 25 kg of cement (any two published densities)."""
    found = told(mix=mix(1, 1, 6), bags={"count": 1, "of": "cement"})
    assert found.results["batch"]["lime"].value == 1
    assert found.results["lime_mass"].value < 12.5
    assert any("0.42 of lime" in note for note in found.notes)


def test_bulking_never_enters_a_count() -> None:
    found = told(mix=mix(1, 1, 6), buckets={"count": 1, "of": "cement"})
    assert found.results["batch"]["sand"].value == 6
    assert any("Damp sand" in note for note in found.notes)


def test_a_mixer_load_is_shared_out_by_volume() -> None:
    found = told("batch", mix=mix(1, 1, 6), mortar_volume=q(90, "l"))
    batch = found.results["batch"]
    assert batch["sand"].unit == "l"
    assert batch["sand"].value == pytest.approx(6 * batch["lime"].value, abs=0.01)
    assert found.results["batch_yield"].value == pytest.approx(90)


# Amounts


def amount(name: str, **reading: Any) -> float:
    value = told(**reading).results[name]
    return float(getattr(value, "value", value))


ORDERED = ("mortar_volume", "cement_bags", "lime_bags", "sand_mass", "sand_bulk_bags")


@given(area=st.floats(0.5, 900), more=st.floats(0, 900))
def test_more_area_never_needs_less(area: float, more: float) -> None:
    for name in ORDERED:
        assert amount(name, area=q(area, "m²")) <= amount(name, area=q(area + more, "m²")) + 1e-6


@given(area=st.floats(0.5, 900), waste=st.floats(0, 40), more=st.floats(0, 40))
def test_more_waste_never_orders_less(area: float, waste: float, more: float) -> None:
    for name in ORDERED:
        less = amount(name, area=q(area, "m²"), waste=q(waste, "%"))
        assert less <= amount(name, area=q(area, "m²"), waste=q(waste + more, "%")) + 1e-6


@given(length=st.floats(2, 50), share=st.floats(0.1, 0.9))
def test_two_walls_order_no_less_than_one(length: float, share: float) -> None:
    height = q(2.4, "m")
    one, other = round(length * share, 3), round(length * (1 - share), 3)
    for name in ("cement_bags", "sand_bulk_bags"):
        whole = amount(name, length=q(one + other, "m"), height=height)
        assert (
            amount(name, length=q(one, "m"), height=height)
            + amount(name, length=q(other, "m"), height=height)
            >= whole
        )


@given(length=st.integers(1000, 50000))
def test_metres_and_millimetres_are_one(length: int) -> None:
    height = q(2.4, "m")
    in_mm = amount("mortar_volume", length=q(length, "mm"), height=height)
    assert in_mm == pytest.approx(
        amount("mortar_volume", length=q(length / 1000, "m"), height=height), abs=2e-6
    )


def test_openings_are_taken_off_and_unsized_ones_are_not() -> None:
    wall: dict[str, Any] = {"length": q(6, "m"), "height": q(2.5, "m")}
    whole = amount("net_area", **wall)
    sized = [{"kind": "door", "count": 2, "width": q(900, "mm"), "height": q(2, "m")}]
    assert amount("net_area", openings=sized, **wall) == pytest.approx(whole - 3.6)
    unsized = told(openings=[{"kind": "window"}], **wall)
    assert unsized.results["net_area"].value == pytest.approx(whole)
    assert any("not taken off" in note for note in unsized.notes)
    found = ask("cement_bags", openings=[{"area": q(20, "m²")}], **wall)
    assert isinstance(found, Need)
    assert found.slot == "openings"


def test_like_walls_gables_and_courses() -> None:
    assert amount("net_area", length=q(8, "m"), height=q(2.4, "m"), walls=3) == pytest.approx(57.6)
    assert amount("net_area", length=q(8, "m"), height=q(3, "m"), shape="triangle") == pytest.approx(12)
    assert amount("net_area", length=q(8, "m"), courses=10) == pytest.approx(18)  # 10 × 225 mm


def test_feet_in_feet_out() -> None:
    found = told(length=q(20, "ft"), height=q(8, "ft"))
    assert found.results["net_area"].unit == "ft²"
    assert found.results["net_area"].value == pytest.approx(160)
    assert found.results["mortar_volume"].unit == "ft³"


def test_a_one_brick_wall_counts_the_joint_between_its_leaves() -> None:
    """Geometry: 0.215 − 118.5 × 0.215 × 0.1025 × 0.065 m³/m²; handbook: 120 bricks to the square metre."""
    assert leaves(0.215, 0.1025, 0.01) == 2
    assert 2 * units_per_area(0.215, 0.065, 0.01) == pytest.approx(120, abs=2)
    whole = 0.215 - 2 * units_per_area(0.215, 0.065, 0.01) * 0.215 * 0.1025 * 0.065
    found = told(block=brick(), thickness=q(215, "mm"), area=q(1, "m²"))
    assert found.results["mortar_volume"].value == pytest.approx(whole, abs=1e-5)


def test_blocks_take_less_than_half_the_mortar_of_bricks() -> None:
    """FAO, Farm structures in tropical climates: blocks need less than half the mortar of bricks."""
    blocks = wall_mortar(1, length=0.44, height=0.215, unit=0.1, wall=0.1, joint=0.01)
    bricks = wall_mortar(1, length=0.215, height=0.065, unit=0.1025, wall=0.1025, joint=0.01)
    assert blocks < bricks / 2


def test_a_count_of_blocks_and_its_face_agree() -> None:
    assert amount("mortar_volume", block_count=100) == pytest.approx(
        100 * unit_mortar(0.44, 0.215, 0.1, 0.01), abs=1e-6
    )


def test_the_other_model_of_yield_is_shown() -> None:
    """Rate analysis of 1 m³ of 1:6 by the factor 1.33: 273.6 kg of cement."""
    found = told(mortar_volume=q(1, "m³"), mix=mix(1, 0, 6))
    assert [step for step in found.working if step.value == "273.6 kg"]


def test_waste_and_sand_are_said() -> None:
    found = told(area=q(20, "m²"))
    assert any("10 % waste" in note and "dry" in note for note in found.notes)
    assert "waste" in {one.slot for one in found.assumed}


def test_the_handbooks_rule_of_thumb_stands_beside_the_geometry() -> None:
    """UK bricklaying handbook: 1 kg a brick, 2.25 kg a 100 mm block, all losses in."""
    bricks = told(block=brick(), block_count=1000)
    assert bricks.results["rule_of_thumb_mass"].value == pytest.approx(1000)
    assert told(block_count=100).results["rule_of_thumb_mass"].value == pytest.approx(225)
    thin = told(area=q(10, "m²"), joint_thickness=q(3, "mm"))
    assert "rule_of_thumb_mass" not in thin.results
    assert "rule_of_thumb_mass" not in told(area=q(10, "m²"), thickness=q(215, "mm")).results


def test_a_mix_between_two_classes_is_said_to_be() -> None:
    """Handbook: M4 has 5 to 6 of sand, M2 7 to 8 or 8 to 9 with lime; 7 with lime is neither."""
    found = told("mortar_class", mix=mix(1, 1, 7))
    assert "mortar_class" not in found.results
    assert found.results["near_classes"] == ["M4", "M2"]


def test_a_class_and_a_wall_give_amounts() -> None:
    assert amount("cement_bags", mortar_class="M4", area=q(20, "m²")) >= 1
