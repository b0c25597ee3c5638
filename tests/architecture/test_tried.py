"""Every rule is tried: a worked row names it or looks it up on the way to its answer, or a test names it.

A region's records by rows of that region; the world's by rows of any region that has no record of its own.
"""

from __future__ import annotations

import re
from functools import cache
from typing import Any

import pytest

from knowledge.answering import answer
from knowledge.questions import Question
from knowledge.records import Rule
from knowledge.rulebook import WORLD, RuleBook, read_rules
from tests.architecture.tree import REGIONS, RULES, code
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
    here = [row for _, row in ROWS if row.get("region", "GB") == region]
    named = {row["rule"] for row in here if "rule" in row}
    for row in here:
        if "topic" in row:
            asked = {key: row[key] for key in ("topic", "reading", "wants", "wall") if key in row}
            answer(Question.model_validate(asked), book)
    texts = "\n".join(path.read_text(encoding="utf-8") for path in code("tests/knowledge"))
    return frozenset(named | book.given | set(re.findall(r"\b[a-z_]+(?:\.\w+)+", texts)))


@cache
def own(folder: str) -> frozenset[str]:
    """Ids of the records in the files of one folder."""
    return frozenset(
        rule.id
        for path in (RULES / folder).glob("*.toml")
        if path.stem != "habits"
        for rule in read_rules(path, [])
    )


def untried(folder: str, name: str) -> list[str]:
    """Ids in one file that no row or test meets."""
    ids = {rule_id for rule_id in own(folder) if rule_id.startswith(f"{name}.")}
    if folder != WORLD:
        return sorted(ids - tried(folder.upper()))
    for region in REGIONS:
        ids -= tried(region) - own(region.lower())
    return sorted(ids)


@pytest.mark.parametrize(
    ("folder", "name"),
    [
        (path.parent.name, path.stem)
        for folder in (WORLD, *(region.lower() for region in REGIONS))
        for path in sorted((RULES / folder).glob("*.toml"))
        if path.stem != "habits"
    ],
)
def test_every_rule_is_tried(folder: str, name: str) -> None:
    assert untried(folder, name) == []
