"""How far each region's rule book goes: topic by region, by asking it a set of plain questions."""

from __future__ import annotations

from collections import Counter
from functools import cache
from pathlib import Path
from typing import Any, Literal

import rtoml

from knowledge.answering import answer
from knowledge.answers import Answer, Standing
from knowledge.questions import TOPICS, Model, Question
from knowledge.rulebook import RuleBook, book, read_rules

State = Literal["complete", "partial", "none"]
_ASKED = Path(__file__).with_suffix(".toml")


class Covered(Model):
    """One topic of one region.

    `own` counts the records of its own folder, `standings` how they stand, `lent` those of another region's.
    """

    region: str
    topic: str
    state: State
    answered: int
    asked: int
    rules: int
    own: int
    lent: int
    standings: dict[Standing, int]


def rows(codes: tuple[str, ...] | list[str]) -> list[Covered]:
    """Every topic of these regions, region by region, in the order of the topics."""
    return [_covered(book(code), topic) for code in codes for topic in TOPICS]


@cache
def questions(topic: str) -> tuple[Question, ...]:
    """What is asked of a topic."""
    table: dict[str, Any] = rtoml.loads(_ASKED.read_text(encoding="utf-8"))
    return tuple(Question.model_validate({"topic": topic, **one}) for one in table[topic]["asked"])


def _covered(rules: RuleBook, topic: str) -> Covered:
    asked = questions(topic)
    answered = sum(any(isinstance(found, Answer) for found in answer(one, rules)) for one in asked)
    path = rules.root / rules.code.lower() / f"{topic}.toml"
    own = read_rules(path, []) if path.is_file() else []
    state: State = "complete" if answered == len(asked) else "partial" if answered else "none"
    every = [rule.id for rule in rules.every() if rule.id.startswith(f"{topic}.")]
    return Covered(
        region=rules.code, topic=topic, state=state, answered=answered, asked=len(asked),
        rules=len(every), own=len(own), lent=len(rules.borrowed() & set(every)),
        standings=dict(Counter(rule.standing for rule in own)),
    )  # fmt: skip
