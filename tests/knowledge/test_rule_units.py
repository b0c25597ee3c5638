"""A figure is the same figure in another unit: rule files in feet, inches, pounds and °F answer alike."""

from __future__ import annotations

from typing import Any

import pytest

from knowledge.answering import answer
from knowledge.answers import Answer
from knowledge.questions import TOPICS, Question
from knowledge.records import Rule
from knowledge.rulebook import RuleBook, book
from knowledge.units import convert
from tests.knowledge.test_worked import ROWS, matches, plain

OTHER = {"mm": "in", "m": "ft", "kg": "lb", "°C": "°F", "l": "m³", "kg/m³": "lb/ft³", "m²": "ft²"}

OWN = {other: own for own, other in OTHER.items()}


class OtherUnits(RuleBook):
    """The same rule book, each of its figures in another unit of its kind."""

    def records(self, figure: str) -> list[Rule]:
        """Every record of one figure, its unit changed."""
        return [turned(rule) for rule in super().records(figure)]


def turned(rule: Rule) -> Rule:
    """The record in another unit."""
    to = OTHER.get(rule.unit)
    if to is None:
        return rule
    sides = {
        side: convert(value, rule.unit, to)
        for side in ("value", "min", "max")
        if (value := getattr(rule, side)) is not None
    }
    return rule.model_copy(update={**sides, "unit": to})


def metric(value: Any) -> Any:
    """Quantities brought to one unit of their kind, so that only the sizes are compared."""
    if isinstance(value, list):
        return [metric(item) for item in value]
    if not isinstance(value, dict):
        return value
    if "unit" not in value or not value.keys() <= {"value", "unit", "min", "max"}:
        return {key: metric(item) for key, item in value.items()}
    said = str(value["unit"])
    unit = OWN.get(said, said)
    sizes = {key: round(convert(size, said, unit), 6) for key, size in value.items() if key != "unit"}
    return sizes | {"unit": unit}


@pytest.mark.parametrize("topic", TOPICS)
def test_rules_in_other_units_answer_alike(topic: str) -> None:
    other = OtherUnits("GB")
    for _, row in ROWS:
        if row.get("topic") != topic or row.get("region", "GB") != "GB":
            continue
        asked = Question.model_validate(
            {key: row[key] for key in ("topic", "reading", "wants", "wall") if key in row}
        )
        here, there = answer(asked, book("GB")), answer(asked, other)
        assert [type(found) for found in here] == [type(found) for found in there], row["id"]
        for one, two in zip(here, there, strict=True):
            if isinstance(one, Answer) and isinstance(two, Answer):
                matches(metric(plain(two.results)), metric(plain(one.results)), 0.02, f"{topic} {row['id']}")
