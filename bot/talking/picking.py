"""A typed word that picks one of the choices of the last question."""

from __future__ import annotations

import re
from typing import Any

from bot.talking.state import State
from knowledge.rulebook import book

_YES = {"yes", "y", "yep", "yeah", "aye", "correct", "that's right"}
_UNITS = {
    **dict.fromkeys(("feet", "foot", "ft"), "ft"),
    **dict.fromkeys(("metres", "meters", "metre", "meter", "m"), "m"),
    **dict.fromkeys(("mm", "millimetres", "mil"), "mm"),
    **dict.fromkeys(("inches", "in"), "in"),
    "cm": "cm",
}


def typed_choice(state: State, text: str) -> int | None:
    """The place of the choice that a word picks: by its label, its number's unit ('feet'), or yes."""
    if not state.pending:
        return None
    word = text.strip().lower().strip(".!")
    for n, choice in enumerate(state.pending):
        if word == choice.label.lower() or (choice.topic and word == choice.topic):
            return n
        if choice.region is not None and word.removeprefix("the ") in _called(choice.region):
            return n
    if word in _YES and state.asked and state.asked.startswith("confirm"):
        return 0
    word = re.sub(r" (man|mate|pal|boss|bud|lad|sir|please|pls|ffs|obviously|of course)$", "", word)
    unit = _UNITS.get(re.sub(r"^(in|its|it's|thats|that's|they're|theyre|sorry) ", "", word))
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
