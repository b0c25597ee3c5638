"""What the joints calculator answers, asks and refuses."""

from __future__ import annotations

from typing import Any

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from knowledge.answering import answer
from knowledge.answers import Answer, Finding, Need
from knowledge.questions import Question
from knowledge.rulebook import book
from knowledge.units import convert

GB = book("GB")
MATERIALS = ["aac", "aggregate", "clay_brick", "calcium_silicate", "stone"]
PLACES = ["internal", "external", "parapet", "freestanding", "below_dpc"]


def m(value: float, unit: str = "m", bound: str | None = None) -> dict[str, Any]:
    """A quantity as it was said."""
    said: dict[str, Any] = {"value": value, "unit": unit}
    return said | {"bound": bound} if bound else said


def ask(*wants: str, **reading: Any) -> Finding:
    """The one finding on a question about joints."""
    (found,) = answer(Question.model_validate({"topic": "joints", "reading": reading, "wants": wants}), GB)
    return found


def told(*wants: str, **reading: Any) -> Answer:
    """The answer; anything else is a fault here."""
    found = ask(*wants, **reading)
    assert isinstance(found, Answer), found
    return found


def ids(found: Answer) -> set[str]:
    return {rule.id for rule in found.rules}


def values(found: Answer, name: str) -> list[float]:
    return [said.value for said in found.results[name]]


@pytest.mark.parametrize(
    "wants", [(), ("joint_count",), ("joint_positions",), ("verdict",), ("filler_length",)]
)
def test_a_length_is_asked_for_where_the_number_hangs_on_it(wants: tuple[str, ...]) -> None:
    found = ask(*wants)
    assert isinstance(found, Need)
    assert found.slot == "length"


@pytest.mark.parametrize(
    ("wants", "reading"),
    [
        (("end_panel_max",), {}), (("max_spacing",), {}), (("joint_width",), {}), (("filler",), {}),
        (("why",), {}),
        ((), {"place": "parapet"}), ((), {"block": {"material": "aac"}}), ((), {"finish": "render"}),
        (("verdict",), {"spacing": m(8)}), (("joint_count",), {"bed_reinforcement": True}),
        (("tie_count",), {}),
    ],
)  # fmt: skip
def test_the_rule_itself_needs_no_wall(wants: tuple[str, ...], reading: dict[str, Any]) -> None:
    found = told(*wants, **reading)
    assert "joint_count" not in found.results
    assert found.rules
    assert found.cautions


def test_filler_by_the_metre_waits_for_the_height() -> None:
    found = ask("filler_length", length=m(12))
    assert isinstance(found, Need)
    assert found.slot == "height"
    both = told("filler_length", length=m(12), height=m(2.4), faces=2)
    assert both.results["filler_length"].value == pytest.approx(2 * 2.4)
    assert both.results["sealant_length"].value == pytest.approx(2 * 2.4 * 2)


@pytest.mark.parametrize("material", MATERIALS)
@pytest.mark.parametrize("place", PLACES)
@pytest.mark.parametrize("reinforced", [None, True])
def test_every_unit_in_every_place_has_its_answer(material: str, place: str, reinforced: bool | None) -> None:
    found = told(length=m(25), block={"material": material}, place=place, bed_reinforcement=reinforced)
    spacing = found.results["max_spacing"].value
    panels = values(found, "panel_lengths")
    assert max(panels) <= spacing + 1e-3
    assert max(panels[0], panels[-1]) <= found.results["end_panel_max"].value + 1e-3
    assert found.results["expected_movement"].min < found.results["expected_movement"].max
    assert len(found.notes) <= 3


def test_ends_that_were_not_said_are_taken_as_returns_and_said_back() -> None:
    """Decision: a return at both; where only one end was said, a return at the other."""
    assert [(a.slot, a.value) for a in told(length=m(13.2)).assumed if a.slot == "ends"] == [
        ("ends", ["return", "return"])
    ]
    one = told(length=m(13.2), ends=[None, "free"])
    assert [a.value for a in one.assumed if a.slot == "ends"] == [["return", "free"]]
    assert one.results["joint_count"] == 2
    assert "joints.free_end" in ids(one)


def test_a_column_is_a_free_end() -> None:
    """Infill between columns: the gap there is the movement line; 9.75 m takes one joint in the middle."""
    found = told(length=m(9.75), height=m(3), ends=["column", "column"])
    assert values(found, "joint_positions") == [pytest.approx(4.875)]
    assert any("column" in note for note in found.notes)


@pytest.mark.parametrize("length", [6, 6.5, 6.95])
def test_both_rules_are_named_from_the_spacing_to_about_a_metre_more(length: float) -> None:
    found = told(length=m(length), block={"material": "aac"})
    assert any("common practice" in note and "half rule" in note for note in found.notes)
    assert {"joints.edge", "joints.practice.aac"} <= ids(found)
    clay = told(length=m(12.5), block={"material": "clay_brick"})
    assert "joints.practice.other" in ids(clay)


def test_a_short_wall_takes_none_and_the_half_rule_is_named() -> None:
    found = told(length=m(4.8))
    assert found.results["joint_count"] == 0
    assert found.results["joint_positions"] == []
    assert any("half rule" in note for note in found.notes)
    assert "joints.short_wall" in ids(found)


@pytest.mark.parametrize(
    ("value", "bound", "count", "word"),
    [
        (6, "over", 2, "12 m"), (6, "under", 0, "6 m"), (12, "over", 3, "18 m"), (12, "about", 2, "12 m"),
        (5.9, "about", 0, "6 m"), (6.1, "about", 2, "6 m"), (12.1, "about", 3, "12 m"),
        (8, "under", 2, "6 m"),
    ],
)  # fmt: skip
def test_a_bound_is_answered_for_what_was_said(value: float, bound: str, count: int, word: str) -> None:
    found = told(length=m(value, bound=bound), block={"material": "aac"})
    assert found.results["joint_count"] == count
    assert any(word in note for note in found.notes), found.notes


def test_about_the_spacing_names_both_neighbours() -> None:
    (note,) = [n for n in told(length=m(6, bound="about")).notes if "measure" in n]
    assert note == "Under 6 m no joint, over 6 m 2 joints: measure the wall."


def test_a_free_end_takes_a_full_panel() -> None:
    assert told("end_panel_max", ends=["free", "free"]).results["end_panel_max"].value == 6
    assert told("end_panel_max", ends=["return", "free"]).results["end_panel_max"].value == 3


def test_clay_closes_its_joints_and_aircrete_opens_them() -> None:
    """BIA TN 18: clay brick grows for good; aircrete shrinks."""
    assert "closes" in told("expected_movement", block={"material": "clay_brick"}).notes[0]
    assert "opens" in told("expected_movement", block={"material": "aac"}).notes[0]


def test_how_near_an_opening_is_answered_without_a_wall() -> None:
    assert any("0.225 m clear" in note for note in told(openings=[{"kind": "window"}]).notes)


def test_several_like_walls_are_totalled_and_places_are_of_one() -> None:
    found = told(length=m(7.8), walls=4, block={"material": "aac"})
    assert found.results["joint_count"] == 8
    assert found.results["joints_per_wall"] == 2
    assert len(found.results["joint_positions"]) == 2


@pytest.mark.parametrize(
    ("reading", "verdict"),
    [
        ({"length": m(12), "joint_at": [m(3), m(9)]}, "enough"),
        ({"length": m(10.5), "joint_at": [m(5.25)]}, "too few"),
        ({"length": m(12), "joint_at": [m(4), m(8)]}, "misplaced"),
        ({"length": m(6), "joint_at": [m(2)]}, "enough"),
        ({"length": m(5), "joint_at": [m(2)]}, "enough"),
        ({"length": m(12), "joint_at": [m(3), m(14)]}, "misplaced"),
        ({"length": m(16), "joint_count": 1}, "too few"),
        ({"length": m(19), "joint_count": 4}, "enough"),
        ({"length": m(9), "walls": 2, "joint_count": 4}, "enough"),
        ({"length": m(18), "spacing": m(8), "block": {"material": "aac"}}, "too few"),
        ({"spacing": m(15), "block": {"material": "clay_brick"}}, "too few"),
        ({"spacing": m(6), "block": {"material": "aac"}}, "enough"),
        ({"joint_at": [m(4.5)], "block": {"material": "aac"}}, "misplaced"),
    ],
)
def test_the_verdict_on_a_proposal(reading: dict[str, Any], verdict: str) -> None:
    found = told("verdict", **reading)
    assert found.results["verdict"] == verdict
    assert found.lead[0] == "verdict"


def test_a_proposed_joint_beside_an_opening_is_misplaced() -> None:
    window = {"kind": "window", "width": m(1.2), "from_left": m(3.2)}
    found = told("verdict", length=m(12), joint_at=[m(3.1), m(9)], openings=[window])
    assert found.results["verdict"] == "misplaced"
    assert "window" in found.notes[0]


def test_joints_keep_half_a_block_clear_and_the_reinforcement_where_rendered() -> None:
    """Half of a 440 mm block with its joint is 225 mm; NHBC 6.11.5: reinforcement 600 mm past the opening."""
    door = {"kind": "door", "width": m(900, "mm"), "from_left": m(2.2)}
    plain = told(length=m(10), openings=[door])
    assert "joints.keep_out.half_block" in ids(plain)
    assert values(plain, "joint_positions")[0] == pytest.approx(1.975)
    rendered = told(length=m(10), openings=[door], finish="render")
    assert values(rendered, "joint_positions")[0] == pytest.approx(1.6)
    assert {"joints.render_opening", "joints.keep_out.reinforcement"} <= ids(rendered)


def test_openings_from_the_right_are_the_mirror() -> None:
    left = told(length=m(10), openings=[{"kind": "door", "width": m(0.9), "from_left": m(2.2)}])
    right = told(length=m(10), openings=[{"kind": "door", "width": m(0.9), "from_right": m(2.2)}])
    mirrored = [10 - place for place in reversed(values(right, "joint_positions"))]
    assert values(left, "joint_positions") == pytest.approx(mirrored)


def test_openings_without_a_place_leave_the_count_and_say_so() -> None:
    found = told(length=m(9.6), openings=[{"kind": "window", "count": 2, "width": m(1.2)}])
    assert found.results["joint_count"] == 2
    assert "plain wall" in found.notes[0]


def test_an_opening_outside_the_wall_is_asked_about() -> None:
    found = ask(length=m(9), openings=[{"kind": "door", "width": m(0.9), "from_left": m(8.5)}])
    assert isinstance(found, Need)
    assert found.slot == "openings"


def test_no_layout_says_which_opening_fails_and_what_helps() -> None:
    found = told(
        length=m(9), finish="render", openings=[{"kind": "opening", "width": m(5), "from_left": m(2)}]
    )
    assert "joint_count" not in found.results
    assert "opening at 2 m" in found.notes[0]
    assert "reinforce" in found.notes[0]
    assert "designer" in found.notes[0]
    assert "joints.opening_reinforcement" in ids(found)


def test_the_bond_is_kept_only_where_the_block_was_said() -> None:
    block = {"material": "aac", "length": m(440, "mm"), "height": m(215, "mm")}
    bonded = told(length=m(10), block=block)
    assert values(bonded, "joint_positions") == [pytest.approx(2.475), pytest.approx(7.425)]
    assert values(told(length=m(10)), "joint_positions") == [2.5, 7.5]
    assert values(told(length=m(12), block=block), "joint_positions") == [3, 9]  # no slack for it


def test_long_panels_call_for_reinforcement_and_add_no_joint() -> None:
    """LABC and the Concrete Society: 3 to 1; the pocket book: care from 2 to 1."""
    low = told(length=m(18), height=m(1.8))
    assert any("3 times as long as high" in note for note in low.notes)
    assert "joints.ratio" in ids(low)
    assert low.results["joint_count"] == told(length=m(18)).results["joint_count"]
    middling = told(length=m(18), height=m(2.4))
    assert "joints.ratio_care" in ids(middling)
    assert not any("times as long" in note for note in middling.notes)


@pytest.mark.parametrize(
    ("height", "block", "count", "spacing"),
    [
        (m(2.7), None, 11, 225), (m(2.4), None, 10, 225), (m(225, "mm"), None, 0, 225),
        (m(2.4), {"material": "clay_brick"}, 7, 300),
        (m(2.5), {"material": "aac", "length": m(600, "mm"), "height": m(250, "mm")}, 9, 260),
    ],
)  # fmt: skip
def test_slip_ties_sit_in_bed_joints(height: Any, block: Any, count: int, spacing: float) -> None:
    """300 mm at most (LABC): each bed joint of 225 mm courses, each fourth of 75 mm; none below or above."""
    found = told("tie_count", height=height, block=block)
    assert found.results["tie_count"] == count
    assert found.results["tie_spacing"].value == pytest.approx(spacing)
    assert {"joints.ties.vertical", "joints.ties.embedment", "joints.ties.form"} <= ids(found)


def test_ties_of_all_joints_where_the_wall_is_known() -> None:
    found = told("tie_count", length=m(12), height=m(2.7))
    assert found.results["ties_per_joint"] == 11
    assert found.results["tie_count"] == 2 * 11


def test_reinforcement_lengthens_only_where_a_figure_says_so() -> None:
    def spacing(material: str, **more: Any) -> float:
        reading = {"block": {"material": material}, "bed_reinforcement": True, **more}
        return float(told("max_spacing", **reading).results["max_spacing"].value)

    assert [spacing(material) for material in MATERIALS] == [6, 15, 15, 7.5, 12]
    assert spacing("aggregate", spacing=m(225, "mm")) == 18
    assert spacing("aggregate", spacing=m(675, "mm")) == 6
    assert spacing("aggregate", place="parapet") == 3
    garden = told(block={"material": "clay_brick"}, bed_reinforcement=True, place="freestanding")
    assert "joints.reinforced.place" in ids(garden)


@pytest.mark.parametrize(
    ("reading", "rule"),
    [
        ({"finish": "render"}, "joints.render"),
        ({"finish": "plaster"}, "joints.through"),
        ({"finish": "boards"}, "joints.boards"),
        ({"finish": "boards", "place": "internal"}, "joints.dry_lined"),
        ({"place": "internal"}, "joints.indoors"),
        ({"place": "below_dpc"}, "joints.below_dpc"),
        ({"place": "internal", "block": {"material": "calcium_silicate"}}, "joints.indoors.calcium_silicate"),
        ({"leaf": "cavity"}, "joints.leaves"),
        ({"place": "internal"}, "joints.temperature_range.internal"),
        ({"place": "external"}, "joints.temperature_range.external"),
    ],
)
def test_place_and_finish_bring_their_rule(reading: dict[str, Any], rule: str) -> None:
    assert rule in ids(told(length=m(14), **reading))


@pytest.mark.parametrize(
    ("wants", "rules"),
    [
        ("why", {"joints.why"}), ("joint_width", {"joints.width.concrete"}),
        ("filler", {"joints.filler.concrete", "joints.filler.never", "joints.filler.specification"}),
        ("sealant_depth", {"joints.sealant.share", "joints.sealant.least", "joints.sealant.old"}),
        ("end_panel_max", {"joints.free_end", "joints.end_panel.aac", "joints.end_share.bda"}),
        ("max_spacing", {"joints.spacing.aac", "joints.spacing.aac.annex"}),
        ("expected_movement", {"joints.thermal.aac.swiss", "joints.moisture_range.aac"}),
    ],
)  # fmt: skip
def test_a_rule_that_was_asked_for_is_shown_with_other_documents(wants: str, rules: set[str]) -> None:
    assert rules <= ids(told(wants))


def test_no_joint_in_a_fire_wall_or_under_a_bearing_without_a_word() -> None:
    cautions = told(length=m(10)).cautions
    for figure, word in (("joints.caution.fire_wall", "fire wall"), ("joints.caution.bearing", "padstone")):
        assert GB.find(figure).statement in cautions
        assert word in GB.find(figure).statement
    assert not told(length=m(4)).results["joint_count"]
    assert GB.find("joints.caution.bearing").statement not in told(length=m(4)).cautions


def test_feet_in_feet_out() -> None:
    """40 ft with one return: L/(n + 0.5) is 16 ft."""
    found = told(length=m(40, "ft"), ends=["return", "free"])
    assert [(said.value, said.unit) for said in found.results["joint_positions"]] == [(8, "ft"), (24, "ft")]
    assert found.results["joint_width"].unit == "in"
    assert found.results["expected_movement"].unit == "in"


def test_movement_from_shrinkage_and_temperature() -> None:
    """5 m aircrete panel: 0.2 mm/m at least; 0.4 mm/m and 9e-6 × 30 K at most, by the reference."""
    found = told(length=m(10), block={"material": "aac"}, place="external").results["expected_movement"]
    assert found.min == pytest.approx(0.2 * 5)
    assert found.max == pytest.approx(0.4 * 5 + 9e-6 * 30 * 5000, abs=0.01)


@settings(max_examples=60, deadline=None)
@given(st.floats(0.5, 59), st.sampled_from(["mm", "cm", "ft"]), st.sampled_from(MATERIALS))
def test_the_unit_of_the_length_changes_nothing(length: float, unit: str, material: str) -> None:
    length = round(length, 3)
    metric = told(length=m(length), block={"material": material}, place="external")
    other = told(length=m(convert(length, "m", unit), unit), block={"material": material}, place="external")
    assert metric.results["joint_count"] == other.results["joint_count"]
    places = [said.to("m") for said in other.results["joint_positions"]]
    assert places == pytest.approx(values(metric, "joint_positions"), abs=1.5e-3)


@settings(max_examples=60, deadline=None)
@given(st.floats(1, 40), st.lists(st.tuples(st.floats(0, 0.9), st.floats(0.6, 3)), min_size=1, max_size=4))
def test_removing_an_opening_never_raises_the_count(length: float, holes: list[tuple[float, float]]) -> None:
    said = [
        {"kind": "window", "width": m(min(wide, length * (1 - share))), "from_left": m(share * length)}
        for share, wide in holes
    ]
    more, fewer = told(length=m(length), openings=said), told(length=m(length), openings=said[1:])
    if "joint_count" in more.results:
        assert fewer.results["joint_count"] <= more.results["joint_count"]


@pytest.mark.parametrize(
    ("want", "finish", "word"),
    [
        ("beside_opening", None, "not in a rendered wall"),
        ("beside_opening", "render", "never in line"),
        ("beside_opening", "fair_faced", "allowed"),
        ("through", "render", "through the whole wall"),
        ("through", "boards", "boards may bridge"),
        ("height_step", None, "a joint there"),
        ("party_wall", None, "no joint"),
    ],
)
def test_the_rule_is_told_in_a_word_without_a_wall(want: str, finish: str | None, word: str) -> None:
    """J157 and J158 at openings, J209 and J212 through the wall, J166 at a step, J82 in a separating wall."""
    found = told(want, **({"finish": finish} if finish else {}))
    assert word in found.results[want]
    assert set(found.results) == {want}
    assert 1 <= len(found.notes) <= 3
    assert not found.assumed


def test_who_must_agree_comes_first_in_a_party_wall() -> None:
    found = told("party_wall", "joint_count", length=m(10))
    assert found.results["joint_count"] == 2
    assert "separating (party) wall" in found.notes[0]
    assert found.lead[0] == "party_wall"
