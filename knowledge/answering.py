"""A question in, findings out: the one door to the calculators."""

from __future__ import annotations

from collections.abc import Callable
from functools import cache
from importlib import import_module
from importlib.util import find_spec

from knowledge.answers import Decline, Finding
from knowledge.believable import doubt
from knowledge.questions import Question
from knowledge.rulebook import RuleBook

Calculator = Callable[[Question, RuleBook], list[Finding]]


@cache
def calculator(topic: str) -> Calculator | None:
    """The calculator of a topic (`knowledge/calculators/<topic>.py`: answer), or None where there is none yet."""
    name = f"knowledge.calculators.{topic}"
    if find_spec(name) is None:
        return None
    found: Calculator = import_module(name).answer
    return found


def answer(question: Question, book: RuleBook) -> list[Finding]:
    """Answers, needs and declines for one question, in the order to be said."""
    doubted = doubt(question, book)
    if doubted is not None:
        return [doubted]
    work = calculator(question.topic)
    if work is None:
        why = f"I understood this as a question about {question.topic}, which I cannot answer yet."
        return [Decline(topic=question.topic, wall=question.wall, reading=question.reading, why=why)]
    return work(question, book)
