"""What one answer is built from, in order: rules cited, things assumed, sums done, results, cautions.

A figure can only come out of the rule book through here, so that no result stands without its rule.
"""

from __future__ import annotations

from functools import cached_property
from typing import Any

from knowledge import shown
from knowledge.answers import Answer, Assumed, Cited, Decline, Need, Option, Step
from knowledge.by_volume import by_volume
from knowledge.laid import laid
from knowledge.questions import Quantity, Question
from knowledge.records import Rule
from knowledge.rulebook import RuleBook

AGAINST = {"too few", "misplaced", "too strong", "too weak", "stop"}  # verdicts


class Ledger:
    """Collects; `answer()` closes it."""

    def __init__(self, question: Question, book: RuleBook) -> None:
        self.question = question
        self.book = book
        self.results: dict[str, Any] = {}
        self._assumed: dict[str, Assumed] = {}
        self._rules: dict[str, Cited] = {}
        self._steps: list[Step] = []
        self._notes: list[str] = []
        self._first: list[str] = []
        self._cautions: dict[str, str] = {}
        self.reading = by_volume(self, laid(self, question.reading))

    @cached_property
    def feet(self) -> bool:
        """Whether to answer in feet and inches: as was wished, else as the asker said, else by the region."""
        if self.question.units is not None:
            return self.question.units == "feet"
        said = shown.in_feet(self.reading)
        return self.book.region.units.get("wall") == "ft" if said is None else said

    def rule(self, figure: str, **facts: Any) -> Rule:
        """Look a figure up and cite its record."""
        found = self.book.find(figure, **facts)
        self.cite(found)
        return found

    def cite(self, rule: Rule) -> None:
        """Show a record with the answer; a repeated one stands once."""
        if rule.id not in self._rules:
            self._rules[rule.id] = self.book.cite(rule)

    def assume(self, slot: str, value: Any, because: str) -> None:
        """Say that a slot was not said and what was taken for it."""
        self._assumed.setdefault(slot, Assumed(slot, value, because))

    def taken(self, slot: str, **facts: Any) -> Rule:
        """The region's default for a slot that was not said ('assume.<slot>'), said aloud."""
        rule = self.book.find(f"assume.{slot}", **facts)
        value: Any = rule.choice if rule.choice is not None else (
            {"value": rule.value, "unit": rule.unit} if rule.unit else rule.value)  # fmt: skip
        self.assume(slot, value, rule.statement)
        return rule

    def step(self, step: str, expression: str, value: Any) -> None:
        """One line of arithmetic."""
        self._steps.append(Step(step, expression, value))

    def result(self, name: str, value: Any) -> None:
        """A result under its contract name; masses in the region's unit."""
        if isinstance(value, Quantity) and value.unit == "kg":
            mass = self.book.region.units.get("mass", "kg")
            value = value if mass == "kg" else Quantity(value=round(value.to(mass), 3), unit=mass)
        self.results[name] = value

    def note(self, text: str) -> None:
        """A sentence that goes with the results; a repeated one stands once."""
        if text not in self._notes:
            self._notes.append(text)

    def first(self, text: str) -> None:
        """What to do first, where somebody may be in danger."""
        self._first.append(text)

    def caution(self, figure: str, **facts: Any) -> None:
        """A caution record, by its full figure name ('cautions.mortar_skin', 'joints.caution.fire_wall')."""
        rule = self.book.find(figure, **facts)
        self._cautions.setdefault(rule.id, rule.statement)

    def answer(self, *lead: str, most_notes: int | None = None) -> Answer:
        """The answer. `lead` names results, the most telling first; what was asked for goes before.

        A verdict against what the asker proposes goes before all: nobody may read a number past it.
        """
        against = ("verdict",) if self.results.get("verdict") in AGAINST else ()
        wanted = tuple(name for name in self.question.wants if name in self.results)
        order = tuple(dict.fromkeys((*against, *wanted, *(name for name in lead if name in self.results))))
        return Answer(
            topic=self.question.topic,
            wall=self.question.wall,
            reading=self.reading,
            assumed=tuple(self._assumed.values()),
            results=self.results,
            lead=order or tuple(self.results)[:1],
            first=tuple(self._first),
            notes=tuple(self._notes[:most_notes]),
            working=tuple(self._steps),
            rules=tuple(self._rules.values()),
            cautions=tuple(self._cautions.values()),
        )

    def need(
        self, slot: str, ask: str, options: tuple[Option, ...] = (), others: tuple[str, ...] = ()
    ) -> Need:
        """Ask for a slot; `others` would do as well."""
        return Need(
            topic=self.question.topic, wall=self.question.wall, reading=self.reading,
            slot=slot, ask=ask, options=options, others=others,
        )  # fmt: skip

    def decline(self, why: str) -> Decline:
        """Say why not, in words that a person can act on."""
        return Decline(topic=self.question.topic, wall=self.question.wall, reading=self.reading, why=why)
