"""A typed word that picks one of the choices of the last question."""

from __future__ import annotations

from typing import Any

from bot.reading.letters import tokens
from bot.reading.words import words
from bot.talking.state import State
from knowledge.rulebook import book


def typed_choice(state: State, text: str) -> int | None:
    """The place of the choice that a word picks: by its label, its number's unit ('feet'), or yes."""
    if not state.pending:
        return None
    word, table = text.strip().lower().strip(".!"), words(state.language)
    for n, choice in enumerate(state.pending):
        if word == choice.label.lower() or (choice.topic and word == choice.topic):
            return n
        if choice.region is not None and word.removeprefix("the ") in _called(choice.region):
            return n
    if word in table.cue["turns.yes"] and state.asked and state.asked.startswith("confirm"):
        return 0
    said = [t for t in tokens(word) if t.text.strip()]
    said = [t for t in said if "turns.unit_with" not in table.names(t.text)] or said
    said = [t._replace(spaced=False) for t in said]
    found = table.unit(said, 0)
    unit = found[0] if found is not None and found[1] == len(said) else None
    if unit is not None:
        fits = [n for n, c in enumerate(state.pending) if _units(c.slots) == {unit}]
        if len(fits) == 1:
            return fits[0]
    return None


def _called(code: str) -> set[str]:
    """How people call a region."""
    region = book(code).region
    return {code.lower(), region.name.lower().removeprefix("the "), *region.called}


def _units(value: Any) -> set[str]:
    if isinstance(value, dict):
        if "unit" in value:
            return {value["unit"]}
        return set().union(*(_units(v) for v in value.values())) if value else set()
    if isinstance(value, (list, tuple)):
        return set().union(*(_units(v) for v in value)) if value else set()
    return set()
