"""A region is data: a made-up country of a few rule files answers by its own figures, without new code."""

from __future__ import annotations

from pathlib import Path
from shutil import copy, copytree
from typing import Any

import pytest

from knowledge.answering import answer
from knowledge.answers import Answer, Need
from knowledge.questions import Question
from knowledge.rulebook import RuleBook, book
from tests.architecture.tree import ROOT, RULES

RUN = {"length": {"value": 20, "unit": "m"}}
WALL = RUN | {"height": {"value": 2.5, "unit": "m"}}
RETURNS = RUN | {"ends": ["return", "return"]}


@pytest.fixture(scope="module")
def made_up(tmp_path_factory: pytest.TempPathFactory) -> RuleBook:
    """The world's rules and those of the made-up country beside them."""
    root = tmp_path_factory.mktemp("rules")
    copytree(RULES / "world", root / "world")
    copytree(RULES / "gb", root / "gb")
    copytree(ROOT / "tests" / "region_made_up" / "xm", root / "xm")
    copy(RULES / "sources.toml", root)
    return RuleBook("xm", root)


def ask(topic: str, reading: dict[str, Any], rules: RuleBook) -> Answer:
    """The one answer."""
    (found,) = answer(Question.model_validate({"topic": topic, "reading": reading}), rules)
    assert isinstance(found, Answer), found
    return found


def metres(answered: Answer, name: str) -> list[float]:
    """A list of lengths."""
    return [place.to("m") for place in answered.results[name]]


def test_it_loads(made_up: RuleBook) -> None:
    assert made_up.every()
    assert made_up.region.code == "XM"
    assert made_up.region.decimal_comma


def test_joints_by_its_spacing(made_up: RuleBook) -> None:
    """20 m, 8 m apart, a quarter of that (2 m) from a return: 2 + 8 + 8 + 2, three joints; width 16 mm."""
    there = ask("joints", RETURNS, made_up)
    assert there.results["joint_count"] == 3
    assert metres(there, "joint_positions") == pytest.approx([2, 10, 18])
    assert there.results["joint_width"].to("mm") == 16
    assert there.results["filler"] == "cork strip"
    here = ask("joints", RETURNS, book("GB"))
    assert here.results["joint_count"] == 4  # 20 m, 6 m apart, 3 m from a return: 20 / 6 up


def test_ends_by_its_habit(made_up: RuleBook) -> None:
    """Ends that were not said are free there: 20 m in three panels of at most 8 m, two joints."""
    there = ask("joints", RUN, made_up)
    assert [said.value for said in there.assumed if said.slot == "ends"] == [["free", "free"]]
    assert there.results["joint_count"] == 2
    assert metres(there, "joint_positions") == pytest.approx([20 / 3, 40 / 3], abs=0.001)


def test_blocks_by_its_size(made_up: RuleBook) -> None:
    """A face of 490 × 240 mm and 10 mm joints is 0.125 m²: 50 m² take 400, ten courses; 10 % over is 440."""
    there = ask("blocks", WALL, made_up)
    assert there.results["block_count"] == 400
    assert there.results["course_count"] == 10
    assert there.results["order_count"] == 440
    here = ask("blocks", WALL, book("GB"))
    assert here.results["block_count"] == 494  # 450 × 225 mm: 50 / 0.10125, up


def test_its_rules_are_the_ones_shown(made_up: RuleBook) -> None:
    shown = {rule.id: rule for rule in ask("joints", RETURNS, made_up).rules}
    assert shown["joints.spacing"].statement == "A joint at least every 8 m."
    assert not any(rule_id.startswith("joints.spacing.") for rule_id in shown)


def test_what_is_believable_is_its_own(made_up: RuleBook) -> None:
    long = Question.model_validate({"topic": "joints", "reading": {"length": {"value": 30, "unit": "m"}}})
    (there,) = answer(long, made_up)
    (here,) = answer(long, book("GB"))
    assert isinstance(there, Need)
    assert there.slot == "length"
    assert isinstance(here, Answer)


def test_what_it_borrows_is_said(made_up: RuleBook) -> None:
    """Ties are lent, as its habits say; what is its own is not marked, and nothing else is lent."""
    area = {"area": {"value": 10, "unit": "m²"}}
    there, here = ask("ties", area, made_up), ask("ties", area, book("GB"))
    assert there.results == here.results
    lent = {rule.id: rule for rule in there.rules if rule.id in made_up.borrowed()}
    assert lent
    assert all(rule.statement.endswith("(lent by Britain)") for rule in lent.values())
    assert all("lent" not in rule.statement for rule in ask("joints", RETURNS, made_up).rules)
    boards = answer(Question.model_validate({"topic": "boards", "reading": area}), made_up)
    assert not any(isinstance(found, Answer) for found in boards)


def test_a_record_of_the_region_stands_before_the_worlds(made_up: RuleBook, tmp_path: Path) -> None:
    world = next(rule for rule in book("GB").every() if rule.id == "cautions.joints")
    assert made_up.find("cautions.joints").statement == world.statement
    root = tmp_path / "rules"
    copytree(made_up.root, root)
    (root / "xm" / "cautions.toml").write_text(
        '[[rule]]\nid = "cautions.joints"\nfigure = "cautions.joints"\nstatement = "Ask the mason."\n'
        'standing = "common practice"\ngrade = "practice"\n',
        encoding="utf-8",
    )
    assert RuleBook("XM", root).find("cautions.joints").statement == "Ask the mason."
