"""A question in, findings out: the one door to the calculators."""

from __future__ import annotations

from collections.abc import Callable
from functools import cache, partial
from importlib import import_module
from importlib.util import find_spec
from inspect import signature

from knowledge.answers import Answer, Decline, Finding
from knowledge.believable import doubt
from knowledge.in_units import in_units
from knowledge.questions import Question
from knowledge.rulebook import NoFigure, RuleBook

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
    return [] if work is None else _worked(work, question, book)


def _worked(work: Calculator, question: Question, book: RuleBook) -> list[Finding]:
    """What a calculator finds; where the region has no rule for it, that and no other region's figure."""
    try:
        return [_founded(finding, book) for finding in work(question, book)]
    except NoFigure as lacking:
        return [_no_rule(question, book, lacking)]


def _founded(finding: Finding, book: RuleBook) -> Finding:
    """The finding; raises NoFigure where an answer has nothing of this region's book behind it."""
    if isinstance(finding, Answer) and not finding.rules:
        raise NoFigure(book.region.code, f"{finding.topic}.{next(iter(finding.results), 'rule')}", {})
    return finding


def _no_rule(question: Question, book: RuleBook, lacking: NoFigure) -> Decline:
    """In words: which rule is not there, for which material and place."""
    name, _, figure = lacking.figure.partition(".")
    what = ("usual " if name == "assume" else "") + figure.replace("_", " ").replace(".", " ")
    of = [
        str(lacking.facts[key]).replace("_", " ") for key in ("material", "place") if lacking.facts.get(key)
    ]
    which = f"{what} ({', '.join(of)})" if of else what
    why = (
        f"The rule book for {book.region.name} has no rule for this "
        f"({question.topic if name == 'assume' else name}: {which}), "
        "and takes no other country's in its place. Ask a local engineer, or the maker."
    )
    instead = book.seek(f"{question.topic}.no_rule")
    if instead is not None:
        why += f" What there is: {instead.statement} [{book.worded(instead)}]"
    return Decline(topic=question.topic, wall=question.wall, reading=question.reading, why=why)


def answer(question: Question, book: RuleBook) -> list[Finding]:
    """Answers, needs and declines for one question, in the order to be said."""
    doubted = doubt(question, book)
    if doubted is not None:
        return [doubted]
    work = calculator(question.topic)
    if work is None:
        why = f"I understood this as a question about {question.topic}, which I cannot answer yet."
        return [Decline(topic=question.topic, wall=question.wall, reading=question.reading, why=why)]
    found = _worked(work, question, book)
    if question.units is None:
        return found
    return [in_units(one, question.units) if isinstance(one, Answer) else one for one in found]
