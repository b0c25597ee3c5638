"""The whole wall: every topic that applies, nothing said twice, rounded up once, checked while open."""

from __future__ import annotations

from math import ceil
from typing import Any

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from knowledge.answering import answer, part
from knowledge.answers import Answer, Decline, Finding, Need
from knowledge.calculators import wall
from knowledge.questions import Question, Reading
from knowledge.rulebook import RuleBook, book

WINDOW = {
    "kind": "window", "width": {"value": 1800, "unit": "mm"}, "height": {"value": 1200, "unit": "mm"},
    "from_left": {"value": 3.1, "unit": "m"},
}  # fmt: skip
DOOR = {
    "kind": "door", "width": {"value": 900, "unit": "mm"}, "height": {"value": 2100, "unit": "mm"},
    "from_left": {"value": 7.4, "unit": "m"},
}  # fmt: skip
RENDERED = {
    "length": {"value": 10.2, "unit": "m"}, "height": {"value": 2.6, "unit": "m"}, "leaf": "solid",
    "finish": "render", "block": {"material": "aac"}, "ends": ["return", "free"], "openings": [WINDOW, DOOR],
}  # fmt: skip
PLAIN = {"length": {"value": 5, "unit": "m"}, "height": {"value": 2.4, "unit": "m"}, "openings": []}


def ask(reading: dict[str, Any], **more: Any) -> Finding:
    found = answer(Question(topic="wall", reading=Reading.model_validate({**reading, **more})), book("GB"))
    assert len(found) == 1
    return found[0]


def answered(reading: dict[str, Any], **more: Any) -> Answer:
    found = ask(reading, **more)
    assert isinstance(found, Answer)
    return found


def row(found: Answer, item: str) -> dict[str, Any]:
    rows = [row for row in found.results["materials"] if row["item"].startswith(item)]
    assert len(rows) == 1, item
    return dict(rows[0])


@pytest.mark.parametrize(
    ("more", "there", "not_there"),
    [
        ({"finish": "render"}, {"joints", "blocks", "mortar", "render", "mesh"}, {"boards", "ties"}),
        ({"finish": "plaster"}, {"joints", "blocks", "mortar", "render"}, {"mesh", "boards"}),
        ({"finish": "fair_faced"}, {"joints", "blocks", "mortar"}, {"render", "mesh", "boards", "ties"}),
        ({}, {"joints", "blocks", "mortar"}, {"render", "mesh", "boards", "bearing", "weather", "crack"}),
    ],
)
def test_topics_follow_the_wall(more: dict[str, Any], there: set[str], not_there: set[str]) -> None:
    found = answered(PLAIN, **more)
    assert there <= found.results.keys()
    assert not not_there & found.results.keys()


def test_topics_stand_in_the_order_of_the_work() -> None:
    """Joints are set out before blocks are laid, mesh goes into render: the order of the trade."""
    names = list(answered(RENDERED).results)
    order = ["joints", "blocks", "mortar", "reinforcement", "ties", "render", "mesh", "boards", "materials"]
    assert [n for n in names if n in order] == [n for n in order if n in names]


@pytest.mark.parametrize("topic", ["joints", "blocks", "mortar", "render", "mesh"])
def test_each_topic_says_what_it_says_alone(topic: str) -> None:
    reading = Reading.model_validate(RENDERED)
    alone = answer(Question(topic=topic, reading=reading), book("GB"))[0]
    assert isinstance(alone, Answer)
    whole = answered(RENDERED)
    assert whole.results[topic] == alone.results
    assert set(alone.cautions) <= set(whole.cautions)
    assert {rule.id for rule in alone.rules} <= {rule.id for rule in whole.rules}


@pytest.mark.parametrize(
    ("reading", "slot"),
    [
        ({"height": {"value": 2.4, "unit": "m"}}, "length"),
        ({"length": {"value": 5, "unit": "m"}}, "height"),
        ({"area": {"value": 12, "unit": "m²"}}, "length"),
        ({}, "length"),
    ],
)
def test_size_is_asked_for(reading: dict[str, Any], slot: str) -> None:
    found = ask(reading)
    assert isinstance(found, Need)
    assert (found.topic, found.slot) == ("wall", slot)


def test_courses_do_for_a_height() -> None:
    """11 courses of 215 mm block and 10 mm joint are 2.475 m: two joints want 4.95 m of filler."""
    reading = {**RENDERED, "courses": 11}
    del reading["height"]
    joints = answered(reading).results["joints"]
    assert joints["filler_length"].to("m") == pytest.approx(joints["joint_count"] * 2.475)


def test_an_opening_that_does_not_fit_stops_the_wall() -> None:
    wide = {**WINDOW, "width": {"value": 12, "unit": "m"}}
    found = ask({**RENDERED, "openings": [wide]})
    assert isinstance(found, (Need, Decline))
    assert found.topic == "wall"


def test_nothing_stands_twice() -> None:
    found = answered(RENDERED)
    for said in (found.cautions, found.notes, [rule.id for rule in found.rules]):
        assert len(said) == len(set(said))
    taken = [(entry.slot, repr(entry.value)) for entry in found.assumed]
    assert len(taken) == len(set(taken))


def test_first_cautions_are_of_three_trades() -> None:
    """A message shows three: the drawing first, an unsteady fresh wall, wet mortar on skin."""
    shown = " ".join(answered(RENDERED).cautions[:3])
    assert "designer" in shown
    assert "brace" in shown
    assert "skin" in shown


def test_first_rules_are_of_the_work() -> None:
    """A message shows two: how far apart joints stand, how blocks are counted; what to wear is after."""
    assert [rule.id.partition(".")[0] for rule in answered(RENDERED).rules[:2]] == ["joints", "blocks"]


def test_bags_are_rounded_once_over_mortar_and_render() -> None:
    """Two part bags make one: totals over the wall round once, at the end (trade habit in decisions)."""
    found = answered(RENDERED)
    kilos = sum(found.results[topic]["cement_mass"].to("kg") for topic in ("mortar", "render"))
    cement = row(found, "Cement")
    assert cement["order"] == ceil(kilos / 25)
    assert cement["exact"].value == pytest.approx(kilos, abs=0.05)
    assert cement["order"] < sum(found.results[topic]["cement_bags"] for topic in ("mortar", "render"))


def test_sealant_by_the_cartridge() -> None:
    """2 joints × 2.6 m × 10 × 10 mm is 0.52 l: two cartridges of 310 ml (geometry)."""
    sealant = row(answered(RENDERED), "Joint sealant")
    assert sealant["exact"].value == pytest.approx(2 * 2.6 * 0.01 * 0.01 * 1000)
    assert sealant["order"] == 2


def test_little_sand_comes_in_small_bags() -> None:
    """A 2 × 1 m wall takes some 20 kg of sand: nobody buys a bulk bag for it."""
    small = answered(PLAIN, length={"value": 2, "unit": "m"}, height={"value": 1, "unit": "m"})
    assert row(small, "Building sand")["unit"] == "bags of 25 kg"
    assert row(answered(RENDERED), "Building sand")["unit"].startswith("bulk bags")


@settings(max_examples=25, deadline=None)
@given(length=st.floats(1, 40), height=st.floats(0.5, 4), render=st.booleans())
def test_order_is_never_short(length: float, height: float, render: bool) -> None:
    more = {"finish": "render"} if render else {}
    found = answered(
        PLAIN, length={"value": length, "unit": "m"}, height={"value": height, "unit": "m"}, **more
    )
    sold = {
        "cartridges of 310 ml": 0.31,
        "bags of 25 kg": 25,
        "bulk bags of 800 kg": 800,
        "m": 1,
        "pieces": 1,
    }
    for entry in found.results["materials"]:
        assert isinstance(entry["order"], int)
        if entry["unit"] in sold:
            exact = entry["exact"] if isinstance(entry["exact"], int) else entry["exact"].value
            assert entry["order"] * sold[entry["unit"]] >= exact - 0.051


OPEN = {"joints.clear", "joints.ties", "mortar.scratch"}
CHECKS = [
    ({"finish": "render"}, {*OPEN, "joints.render", "mesh.lap", "mesh.embedded"}),
    ({"finish": "boards"}, OPEN),
]


@pytest.mark.parametrize(("more", "there"), CHECKS)
def test_checklist_has_what_cannot_be_seen_later(more: dict[str, Any], there: set[str]) -> None:
    found = answered({**RENDERED, **more})
    listed = {entry["rule"].removeprefix("wall.check.") for entry in found.results["checklist"]}
    assert there <= listed
    cited = {rule.id: rule for rule in found.rules}
    for entry in found.results["checklist"]:
        assert cited[entry["rule"]].statement == entry["check"]


def test_no_joint_no_joint_to_check() -> None:
    found = answered(PLAIN, finish="render")
    assert found.results["joints"]["joint_count"] == 0
    assert not [entry for entry in found.results["checklist"] if "joint" in entry["rule"]]


def test_a_topic_that_is_missing_is_left_out() -> None:
    def without(question: Question, rules: RuleBook) -> list[Finding]:
        return [] if question.topic in {"mesh", "reinforcement"} else part(question, rules)

    question = Question(topic="wall", reading=Reading.model_validate(RENDERED))
    found = wall.answer(question, book("GB"), without)[0]
    assert isinstance(found, Answer)
    assert not {"mesh", "reinforcement"} & found.results.keys()
    assert not [entry for entry in found.results["checklist"] if entry["topic"] == "mesh"]


def test_a_need_of_one_trade_is_a_note_and_not_a_stop() -> None:
    def asking(question: Question, rules: RuleBook) -> list[Finding]:
        if question.topic == "mesh":
            return [Need(topic="mesh", reading=question.reading, slot="lap", ask="How wide is the lap?")]
        return part(question, rules)

    question = Question(topic="wall", reading=Reading.model_validate(RENDERED))
    found = wall.answer(question, book("GB"), asking)[0]
    assert isinstance(found, Answer)
    assert "Mesh left out: How wide is the lap?" in found.notes


# A check repeats figures that stand elsewhere as records: they must not drift apart.
SAME_FIGURES = {
    "wall.check.joints.reach": [("joints.tie_spacing", {}), ("joints.tie_embedment", {})],
    "wall.check.reinforcement.beds": [("reinforcement.projection", {"finish": "render"})],
    "wall.check.reinforcement.laps": [("reinforcement.lap", {})],
    "wall.check.reinforcement.cover": [("reinforcement.cover", {})],
    "wall.check.ties.spacing": [("ties.horizontal", {}), ("ties.vertical", {})],
    "wall.check.ties.edges": [("ties.edge.distance", {}), ("ties.edge.spacing", {})],
    "wall.check.ties.bedded": [("ties.embedment", {})],
    "wall.check.mesh.lap": [("mesh.lap", {})],
}


@pytest.mark.parametrize("check", SAME_FIGURES)
def test_checks_agree_with_the_rules(check: str) -> None:
    rules = book("GB")
    statement = rules.find(check, kind="opening", use="joints").statement
    for figure, facts in SAME_FIGURES[check]:
        assert f"{rules.find(figure, **facts).number():g} mm" in statement, figure
