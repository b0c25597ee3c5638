"""Every rule is tried: a worked row names it or looks it up on the way to its answer, or a test names it."""

from __future__ import annotations

import re
from functools import cache
from typing import Any

import pytest

from knowledge.answering import answer
from knowledge.questions import Question
from knowledge.records import Rule
from knowledge.rulebook import RuleBook
from tests.architecture.tree import REGIONS, code
from tests.knowledge.test_worked import ROWS


class WatchedBook(RuleBook):
    """A rule book that keeps the names of the records it gave out."""

    def __init__(self, code: str) -> None:
        super().__init__(code)
        self.given: set[str] = set()
        self._seeking = False

    def records(self, figure: str) -> list[Rule]:
        """Every record of one figure; what a look-up weighs and leaves is not given out."""
        found = super().records(figure)
        if not self._seeking:
            self.given |= {rule.id for rule in found}
        return found

    def seek(self, figure: str, **facts: Any) -> Rule | None:
        """The default record."""
        self._seeking = True
        found = super().seek(figure, **facts)
        self._seeking = False
        self.given |= {found.id} if found else set()
        return found

    def others(self, figure: str, **facts: Any) -> list[Rule]:
        """The records of other documents."""
        self._seeking = True
        found = super().others(figure, **facts)
        self._seeking = False
        self.given |= {rule.id for rule in found}
        return found


@cache
def tried(region: str) -> frozenset[str]:
    """Ids of all records that a row or a test meets."""
    book = WatchedBook(region)
    named = {row["rule"] for _, row in ROWS if "rule" in row}
    for _, row in ROWS:
        if "topic" in row and row.get("region", "GB") == region:
            asked = {key: row[key] for key in ("topic", "reading", "wants", "wall") if key in row}
            answer(Question.model_validate(asked), book)
    texts = "\n".join(path.read_text(encoding="utf-8") for path in code("tests/knowledge"))
    return frozenset(named | book.given | set(re.findall(r"\b[a-z_]+(?:\.\w+)+", texts)))


@pytest.mark.parametrize(
    ("region", "name"), [(region, name) for region in REGIONS for name in RuleBook(region).names()]
)
def test_every_rule_is_tried(region: str, name: str) -> None:
    ids = {rule.id for rule in RuleBook(region).every() if rule.id.startswith(f"{name}.")}
    assert sorted(ids - tried(region)) == []
