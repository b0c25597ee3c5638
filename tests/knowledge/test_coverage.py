"""How far each rule book goes is found by asking it."""

from __future__ import annotations

import re

import pytest

from knowledge import coverage
from knowledge.answering import answer
from knowledge.answers import Need
from knowledge.questions import TOPICS
from knowledge.rulebook import book
from tests.architecture.tree import REGIONS, ROOT

ROWS = {(row.region, row.topic): row for row in coverage.rows(REGIONS)}


def test_every_topic_of_every_region_stands_once() -> None:
    assert list(ROWS) == [(region, topic) for region in REGIONS for topic in TOPICS]


def test_the_first_rule_book_is_complete() -> None:
    """The others are measured by questions that one rule book answers, all of them."""
    assert [row.topic for row in ROWS.values() if row.region == "GB" and row.state != "complete"] == []


@pytest.mark.parametrize("region", REGIONS)
def test_the_state_follows_from_the_answers(region: str) -> None:
    for topic in TOPICS:
        row = ROWS[region, topic]
        assert 0 <= row.answered <= row.asked
        assert (row.state == "complete") == (row.answered == row.asked)
        assert (row.state == "none") == (row.answered == 0)
        assert sum(row.standings.values()) == row.own <= row.rules


def test_what_a_region_lacks_shows() -> None:
    assert ROWS["IE", "bearing"].state == "none"
    assert (ROWS["IE", "ties"].own, ROWS["IE", "ties"].state) == (
        0,
        "complete",
    )  # all of it lent, and counted so
    assert ROWS["IE", "ties"].lent > 0
    assert {row.lent for row in ROWS.values() if row.region != "IE"} == {0}
    assert ROWS["US", "joints"].state == "partial"  # no figure for slip ties
    assert ROWS["US", "blocks"].state == "complete"
    assert ROWS["US", "bearing"].state == "none"


@pytest.mark.parametrize("region", REGIONS)
def test_no_question_is_one_that_asks_back(region: str) -> None:
    """A question that lacks a size would count as unanswered though the rules are there."""
    asked = [one for topic in TOPICS for one in coverage.questions(topic)]
    assert [one for one in asked if any(isinstance(found, Need) for found in answer(one, book(region)))] == []


def test_the_readme_tells_it_in_short() -> None:
    """Region, topics complete, in part, none, and those with figures that another region lends."""
    text = (ROOT / "README.md").read_text(encoding="utf-8")
    told = dict(re.findall(r"^\| ([A-Z]{2}) \| (.*) \|$", text, flags=re.MULTILINE))
    assert set(told) == set(REGIONS)
    for region, cells in told.items():
        mine = [row for row in ROWS.values() if row.region == region]
        parts = (
            [row.topic for row in mine if row.state == "partial"],
            [row.topic for row in mine if row.state == "none"],
            [row.topic for row in mine if row.lent],
        )
        complete = sum(row.state == "complete" for row in mine)
        expected = [str(complete), *(", ".join(part) for part in parts)]
        assert [cell.strip() for cell in cells.split("|")] == expected, region
