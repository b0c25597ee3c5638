"""A typed word that picks one of the choices of the last question."""

from __future__ import annotations

from typing import Any

from bot.reading.letters import tokens
from bot.reading.several.named import names
from bot.reading.words import Words, words
from bot.talking.state import State
from knowledge.rulebook import book

LONGEST = 40  # letters: 'no sorry mate its all in feet'


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
    nth = [n for n in range(3) if word.removeprefix("the ") in table.cue[f"walls.nth_{n + 1}"]]
    if nth and nth[0] < len(state.pending) and not any(choice.wall for choice in state.pending):
        return nth[0]
    begun = _begun(state, word, table)
    if begun is not None:
        return begun
    if word in table.cue["turns.yes"] and state.asked and state.asked.startswith("confirm"):
        return 0
    unit = unit_alone(state, text)
    if unit is not None:
        fits = [n for n, c in enumerate(state.pending) if _units(c.slots) == {unit}]
        if len(fits) == 1:
            return fits[0]
    return None


def unit_alone(state: State, text: str) -> str | None:
    """'feet', 'sorry its metres': the unit, where the message is nothing else."""
    if len(text) > LONGEST or any(c.isdigit() for c in text):
        return None
    table = words(state.language)
    said = [t for t in tokens(text.strip().lower().strip(".!")) if t.text.strip()]
    said = [t for t in said if "turns.unit_with" not in table.names(t.text)] or said
    said = [t._replace(spaced=False) for t in said]
    found = table.unit(said, 0)
    return found[0] if found is not None and found[1] == len(said) else None


def _begun(state: State, word: str, table: Words) -> int | None:
    """'all four', 'yes the lot', 'one wall': the only choice that begins so."""
    first, _, rest = word.partition(" ")
    said = rest if first in table.cue["turns.yes"] and rest else word
    if not said[:1].isalpha():
        return None
    said = "all" if said in table.cue["turns.all_of_it"] else said
    labels = [choice.label.lower() for choice in state.pending]
    fits = [n for n, label in enumerate(labels) if label.startswith((f"{said} ", f"{said},"))]
    return fits[0] if len(fits) == 1 else None


def agreed(state: State, text: str, slots: dict[str, Any]) -> tuple[str, ...]:
    """'yes 75 its a boundary': the slot that was to be confirmed, where it keeps its value."""
    slot = (state.asked or "").partition("confirm ")[2]
    if not slot:
        return ()
    first = next((t.text for t in tokens(text.lower()) if t.text.strip()), "")
    yes = first in words(state.language).cue["turns.yes"]
    return (slot,) if yes and slots.get(slot) == state.slots.get(slot) else ()


def typed_wall(state: State, text: str) -> int | None:
    """The place of the choice of the one wall that is named, where nothing else is said."""
    labels = {choice.wall for choice in state.pending if choice.wall is not None}
    if not labels or not state.walls:
        return None
    walls = [(wall["label"], {**state.slots, **wall["slots"]}) for wall in state.walls]
    found = names(text, walls, state.language)
    if len(found) != 1 or found[0].label is None:
        return None
    rest = text[: found[0].start] + text[found[0].end :]
    fits = [n for n, choice in enumerate(state.pending) if choice.wall == found[0].label]
    return fits[0] if len(fits) == 1 and not any(c.isalnum() for c in rest) else None


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
