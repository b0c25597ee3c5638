"""The United States and Ireland: their units, what they take, what they have no rule for."""

from __future__ import annotations

from typing import Any

import pytest
from pydantic_core import to_json

from knowledge.answering import answer
from knowledge.answers import Answer, Decline, Finding, Need
from knowledge.questions import Quantity, Question
from knowledge.rulebook import RuleBook, book
from tests.architecture.tree import REGIONS
from tests.knowledge.test_worked import ROWS

US, IE = book("US"), book("IE")
CMU = {"material": "aggregate"}
BRICK = {"material": "clay_brick"}
AAC = {"material": "aac"}
WINDOW = [{"kind": "window"}]


def ft(value: float) -> dict[str, Any]:
    """A length in feet."""
    return {"value": value, "unit": "ft"}


def inch(value: float) -> dict[str, Any]:
    """A length in inches."""
    return {"value": value, "unit": "in"}


def find(rules: RuleBook, topic: str, reading: dict[str, Any], *wants: str) -> Finding:
    """The first finding."""
    return answer(Question.model_validate({"topic": topic, "reading": reading, "wants": wants}), rules)[0]


def ask(rules: RuleBook, topic: str, reading: dict[str, Any], *wants: str) -> Answer:
    """The answer."""
    found = find(rules, topic, reading, *wants)
    assert isinstance(found, Answer), found
    return found


def said(found: Finding) -> str:
    """Everything that a person is told."""
    return to_json(found).decode()


# --- what is taken or told is said, each by its record ---

WALL = {"length": ft(20), "height": ft(8)}
FIELD = {"area": {"value": 900, "unit": "ft²"}}
MILD = {"temperature": {"value": 60, "unit": "°F"}}
LEANING = {"crack": {"width": {"value": 4, "unit": "mm"}, "leaning": True}}
TOLD: list[tuple[RuleBook, str, str, dict[str, Any], tuple[str, ...]]] = [
    (US, "assume.aac.length", "blocks", WALL | {"block": AAC}, ()),
    (US, "assume.aac.height", "blocks", WALL | {"block": AAC}, ()),
    (US, "assume.aac.thickness", "blocks", WALL | {"block": AAC}, ()),
    (US, "assume.block.length.inches", "blocks", WALL | {"block": CMU | {"height": inch(8)}}, ()),
    (US, "assume.block.height.inches", "blocks", WALL | {"block": CMU | {"length": inch(16)}}, ()),
    (US, "assume.block.thickness.inches", "blocks", WALL | {"block": CMU | {"length": inch(16)}}, ()),
    (US, "assume.opening_width.door", "reinforcement", WALL | {"openings": [{"kind": "door"}]}, ()),
    (US, "assume.opening_width.other", "reinforcement", WALL | {"openings": WINDOW}, ()),
    (US, "assume.place.mortar.severe", "mortar", {"block": CMU, "severe": True}, ()),
    (US, "blocks.caution.heavy", "blocks", WALL | {"block": CMU | {"mass": {"value": 50, "unit": "lb"}}}, ()),
    (US, "crack.warn", "crack", {"crack": {"width": inch(0.15)}}, ()),
    (US, "crack.decoration", "crack", {"crack": {"width": {"value": 2, "unit": "mm"}}}, ()),
    (IE, "crack.decoration", "crack", {"crack": {"width": {"value": 2, "unit": "mm"}}}, ()),
    (US, "crack.first.danger", "crack", {"crack": {"width": inch(0.15), "leaning": True}}, ()),
    (US, "joints.practice", "joints", {"length": ft(25), "height": ft(20), "block": CMU}, ("joint_count",)),
    (US, "joints.reinforced", "joints", {"block": CMU, "bed_reinforcement": True}, ("max_spacing",)),
    (US, "joints.reinforced.other", "joints", {"block": BRICK, "bed_reinforcement": True}, ("max_spacing",)),
    (US, "joints.projection", "joints", {"openings": WINDOW, "finish": "render"}, ("beside_opening",)),
    (US, "mesh.roll_width", "mesh", FIELD, ()),
    (US, "mesh.roll_length", "mesh", FIELD, ()),
    (US, "mortar.water", "mortar", {}, ("water",)),
    (US, "mortar.water_least", "mortar", {}, ("water",)),
    (US, "mortar.joint_thickness", "mortar", {}, ("joint_thickness",)),
    (US, "reinforcement.longer.other", "reinforcement", {"block": BRICK}, ("panel_length",)),
    (US, "render.background.brick", "render", {"block": BRICK}, ("coats",)),
    (US, "render.damp_sand", "render", {"block": CMU, "area": {"value": 100, "unit": "ft²"}}, ()),
    (US, "render.dpc", "render", {"block": CMU, "place": "below_dpc"}, ("coats",)),
    (US, "render.waste", "render", {"block": CMU, "area": {"value": 100, "unit": "ft²"}}, ()),
    (US, "safety.mixer.power", "safety", {}, ("mixer",)),
    (US, "safety.dust.mask", "safety", {}, ("dust",)),
    (US, "safety.skin.chromium", "safety", {}, ("ppe",)),
    (US, "wall.check.mesh.lap", "wall", WALL | {"block": CMU, "finish": "render"}, ()),
    (US, "wall.cartridge", "wall", WALL | {"block": CMU}, ()),
    (US, "wall.sand_bag", "wall", {"length": ft(4), "height": ft(4), "block": CMU}, ()),
    (US, "wall.sand_in_bags", "wall", WALL | {"block": CMU}, ()),
    (US, "safety.lift.limit", "safety", {}, ("lifting",)),
    (US, "safety.lift.no_law", "safety", {}, ("lifting",)),
    (US, "safety.lift.filter", "safety", {}, ("lifting",)),
    (US, "safety.lift.bags", "safety", {"bag_size": {"value": 94, "unit": "lb"}}, ("lifting",)),
    (US, "safety.lift.two", "safety", {}, ("lifting",)),
    (US, "safety.lift.height", "safety", {}, ("lifting",)),
    (US, "safety.lift.lightest", "safety", {}, ("lifting",)),
    (US, "safety.height.ladder", "safety", {}, ("height",)),
    (US, "safety.height.short", "safety", {}, ("height",)),
    (US, "safety.height.scaffold", "safety", {}, ("height",)),
    (US, "safety.swallowed.call", "safety", {}, ("swallowed",)),
    (IE, "assume.brick.length", "blocks", WALL | {"block": BRICK}, ()),
    (IE, "assume.brick.height", "blocks", WALL | {"block": BRICK}, ()),
    (IE, "assume.brick.thickness", "blocks", WALL | {"block": BRICK}, ()),
    (IE, "assume.bag_size", "render", {"block": CMU, "area": {"value": 10, "unit": "m²"}}, ()),
    (IE, "crack.warn", "crack", {"crack": {"width": {"value": 4, "unit": "mm"}}}, ()),
    (IE, "crack.first.danger", "crack", LEANING, ()),
    (IE, "mesh.roll_width", "mesh", {"area": {"value": 90, "unit": "m²"}}, ()),
    (IE, "mesh.roll_length", "mesh", {"area": {"value": 90, "unit": "m²"}}, ()),
    (IE, "render.damp_sand", "render", {"block": CMU, "area": {"value": 10, "unit": "m²"}}, ()),
    (IE, "render.dubbing", "render", {"block": CMU, "coat_thickness": {"value": 25, "unit": "mm"}}, ()),
    (IE, "render.joints_raked", "render", {"block": CMU}, ("key_coat",)),
    (IE, "render.waste", "render", {"block": CMU, "area": {"value": 10, "unit": "m²"}}, ()),
    (IE, "safety.swallowed.call", "safety", {}, ("swallowed",)),
]  # fmt: skip


@pytest.mark.parametrize(
    ("rules", "name", "topic", "reading", "wants"), TOLD, ids=[f"{t[0].code}-{t[1]}" for t in TOLD]
)
def test_what_is_taken_is_said(
    rules: RuleBook, name: str, topic: str, reading: dict[str, Any], wants: tuple[str, ...]
) -> None:
    record = next(rule for rule in rules.every() if rule.id == name)
    found = said(ask(rules, topic, reading, *wants))
    assert name in found or record.statement in found


# --- units: feet in and out, feet where nothing was said, pounds, degrees Fahrenheit ---


def test_lengths_are_in_feet_and_inches_where_nothing_was_said() -> None:
    """TEK 10-2: 25 ft, and a ⅜ in joint."""
    there = ask(US, "joints", {"block": CMU}, "max_spacing").results
    assert there["max_spacing"].unit == "ft"
    assert there["joint_width"].unit == "in"
    here = ask(book("GB"), "joints", {"block": CMU}, "max_spacing").results
    assert here["max_spacing"].unit == "m"


def test_metres_in_metres_out_there_too() -> None:
    metric = {"length": {"value": 20, "unit": "m"}, "height": {"value": 4, "unit": "m"}, "block": CMU}
    assert ask(US, "joints", metric).results["max_spacing"] == Quantity(value=6, unit="m")  # 1.5 × 4 m


def test_masses_are_pounds_and_degrees_fahrenheit() -> None:
    amounts = ask(US, "mortar", {"block": CMU, "area": {"value": 100, "unit": "ft²"}}).results
    assert {amounts[name].unit for name in ("cement_mass", "lime_mass", "sand_mass")} == {"lb"}
    assert ask(US, "weather", {}, "limit").results["limit"] == Quantity(value=40, unit="°F")
    need = find(US, "weather", {})
    assert isinstance(need, Need)
    assert "°F" in need.ask


def test_a_bag_of_cement_and_one_of_lime_are_each_said() -> None:
    """94 lb and 50 lb: 1 : 1 : 6 by rule 38 takes 4.75 ft³ of lime a cubic yard, 190 lb, four bags."""
    reading = {"mix": {"cement": 1, "lime": 1, "sand": 6}, "mortar_volume": {"value": 27, "unit": "ft³"}}
    found = ask(US, "mortar", reading)
    taken = {one.slot: one.value for one in found.assumed}
    assert taken["bag_size"] == {"value": 94, "unit": "lb"}
    assert taken["lime_bag_size"] == {"value": 50, "unit": "lb"}
    assert found.results["cement_bags"] == 5
    assert found.results["lime_bags"] == 4


def test_stucco_goes_on_from_40_degrees_rising() -> None:
    """ASTM C926: 40 °F during and after (weather.guard_rising)."""
    for degrees, verdict in ((41, "go"), (39, "stop")):
        reading = {"work": "render", "temperature": {"value": degrees, "unit": "°F"}, "trend": "rising"}
        assert ask(US, "weather", reading).results["verdict"] == verdict


def test_what_cannot_be_there_is_asked_or_declined_in_inches() -> None:
    """believable.thickness.probable and believable.thickness.possible: a leaf of 30 in, one of 100 in."""
    assert isinstance(find(US, "blocks", WALL | {"thickness": inch(30)}), Need)
    assert isinstance(find(US, "blocks", WALL | {"thickness": inch(100)}), Decline)


# --- joints by the height ---


@pytest.mark.parametrize(("high", "most"), [(8, 12), (10, 15), (16, 24), (17, 25), (30, 25)])
def test_panels_go_by_the_height(high: float, most: float) -> None:
    """NCMA TEK 10-2: the lesser of 1½ times the height and 25 ft, counting from a corner half of it."""
    found = ask(US, "joints", {"length": ft(120), "height": ft(high), "block": CMU}).results
    assert found["max_spacing"].to("ft") == pytest.approx(most)
    assert max(panel.to("ft") for panel in found["panel_lengths"]) <= most + 1e-3
    assert found["end_panel_max"].to("ft") == pytest.approx(most / 2)


def test_without_its_height_a_block_wall_is_asked_and_a_brick_wall_is_not() -> None:
    need = find(US, "joints", {"length": ft(60), "block": CMU})
    assert isinstance(need, Need)
    assert need.slot == "height"
    assert isinstance(find(US, "joints", {"length": ft(60), "block": BRICK}), Answer)


def test_courses_stand_for_the_height() -> None:
    """12 courses of 8 in are 8 ft: 12 ft apart."""
    found = ask(US, "joints", {"length": ft(60), "courses": 12, "block": CMU})
    assert found.results["max_spacing"].to("ft") == pytest.approx(12)


# --- where there is no rule ---

LACKING: list[tuple[RuleBook, str, dict[str, Any]]] = [
    (US, "joints", {"length": ft(60), "height": ft(8), "block": {"material": "stone"}}),
    (US, "mortar", {"block": AAC}),
    (US, "render", {"block": AAC}),
    (US, "boards", {"area": {"value": 100, "unit": "ft²"}}),
]


@pytest.mark.parametrize(("rules", "topic", "reading"), LACKING)
def test_no_rule_is_said_and_none_is_borrowed(rules: RuleBook, topic: str, reading: dict[str, Any]) -> None:
    found = find(rules, topic, reading)
    assert isinstance(found, Decline)
    assert rules.region.name in found.why
    assert "no rule" in found.why


LENT: list[tuple[str, dict[str, Any]]] = [
    ("boards", {"area": {"value": 10, "unit": "m²"}}),
    ("joints", {"length": {"value": 12, "unit": "m"}}),
    ("mortar", {"block": CMU}),
    ("weather", {"temperature": {"value": 2, "unit": "°C"}}),
    ("ties", {"area": {"value": 20, "unit": "m²"}}),
    ("reinforcement", {"openings": [{"kind": "window", "width": {"value": 1.2, "unit": "m"}}]}),
]


@pytest.mark.parametrize(("topic", "reading"), LENT)
def test_what_is_lent_is_said_and_is_the_lenders(topic: str, reading: dict[str, Any]) -> None:
    """Ireland takes a British figure where it has none: the same result, and each rule says whose it is."""
    here, there = (
        ask(IE, topic, reading),
        ask(book("GB"), topic, reading | {"block": reading.get("block", CMU)}),
    )
    if topic in {"boards", "weather", "ties"}:  # no size of a unit comes into these
        assert here.results == there.results
    lent = [rule for rule in here.rules if "British figure" in rule.statement]
    assert lent
    assert {rule.id for rule in lent} <= IE.borrowed()


def test_its_own_guide_goes_before_what_is_lent() -> None:
    """Irish house-building guide, not for aircrete: a scud and two coats of 1 : ½ : 4½ on block (RX26)."""
    outside = {"place": "external"}
    dense = {rule.id for rule in ask(IE, "render", outside | {"block": CMU}).rules}
    light = {rule.id for rule in ask(IE, "render", outside | {"block": AAC}).rules}
    assert {"render.table.irish", "render.usual.irish"} <= dense - IE.borrowed()
    assert not any(
        name.startswith(("render.table", "render.usual", "render.key")) for name in dense & IE.borrowed()
    )
    assert "render.table.irish" not in light
    assert "render.table" in light & IE.borrowed()


def test_what_a_national_annex_sets_is_not_lent() -> None:
    """Bearing goes by the annex to EN 1996-1-1, warmth by the Irish building regulations."""
    assert not any(name.startswith(("bearing.", "thermal.")) for name in IE.borrowed())


def test_ireland_says_who_sets_its_joints() -> None:
    """House builders' manual, in an Irish structural note: the designer decides the spacing."""
    assert any("the designer sets the spacing" in text for text in ask(IE, "joints", LENT[1][1]).cautions)


def test_a_whole_wall_still_answers_where_one_trade_is_missing() -> None:
    """No rule for boards there: they are left out, and that is said."""
    found = ask(US, "wall", WALL | {"block": CMU, "finish": "boards"})
    assert found.results["blocks"]["block_count"] == 180  # Navy manual: ¾ × 20 × 3/2 × 8
    assert any("Boards left out" in note for note in found.notes)


@pytest.mark.parametrize("region", REGIONS)
def test_no_question_trips_any_region(region: str) -> None:
    """Whatever the rows ask is answered, asked back or declined everywhere; nothing escapes."""
    rules = book(region)
    for _, row in ROWS:
        if "topic" in row:
            asked = {key: row[key] for key in ("topic", "reading", "wants", "wall") if key in row}
            for found in answer(Question.model_validate(asked), rules):
                assert isinstance(found, (Answer, Need, Decline))


@pytest.mark.parametrize(("rules", "others"), [(US, ("999", "NHS", "A&E")), (IE, ("911", "NHS", "A&E"))])
def test_nobody_is_sent_to_another_countrys_ambulance(rules: RuleBook, others: tuple[str, ...]) -> None:
    texts = "\n".join(rule.statement for rule in rules.every())
    assert [name for name in others if name in texts and not (name == "999" and rules is IE)] == []
