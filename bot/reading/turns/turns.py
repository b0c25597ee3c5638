"""Turns of speech, in the order in which they must be settled."""

from __future__ import annotations

from bot.reading.scene import Scene
from bot.reading.turns.asides import asides
from bot.reading.turns.corrections import corrections
from bot.reading.turns.hedges import hedges
from bot.reading.turns.negations import negations, put_away


def take_turns(scene: Scene) -> None:
    """All of them, in the order in which they must be settled."""
    put_away(scene)
    hedges(scene)
    asides(scene)
    corrections(scene)
    negations(scene)
