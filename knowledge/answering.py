"""A question in, findings out: the one door to the calculators."""

from __future__ import annotations

from collections.abc import Callable
from functools import cache, partial
from importlib import import_module
from importlib.util import find_spec
from inspect import signature

from knowledge.answers import Decline, Finding
from knowledge.believable import doubt
from knowledge.questions import Question
from knowledge.rulebook import RuleBook

Calculator = Callable[[Question, RuleBook], list[Finding]]


@cache
def calculator(topic: str) -> Calculator | None:
    """The calculator of a topic (`calculators/<topic>.py`: answer), or None where there is none yet."""
    name = f"knowledge.calculators.{topic}"
    if find_spec(name) is None:
        return None
    found: Callable[..., list[Finding]] = import_module(name).answer
    # A topic made of other topics is handed the way to ask them: calculators do not import each other.
    return partial(found, ask=part) if "ask" in signature(found).parameters else found


def part(question: Question, book: RuleBook) -> list[Finding]:
    """One topic of a larger question: no findings where it has no calculator."""
    work = calculator(question.topic)
    return [] if work is None else work(question, book)


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
