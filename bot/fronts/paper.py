"""A wall on paper from the terminal: the sheet as PDF, the elevation as PNG or SVG."""

import sys
from collections.abc import Callable
from pathlib import Path
from typing import Any

from bot.fronts.terminal import EXIT, shown
from bot.talk import State, turn
from knowledge.answers import Answer
from knowledge.questions import Question, Units


def sheet(text: str, region: str, target: str, units: Units | None = None) -> int:
    """Write the wall sheet of one message; where the wall cannot be worked, say what is missing."""
    from bot.speaking.sheet import sheet as lay_out

    found = _worked(text, region, units)
    if isinstance(found, int):
        return found
    record, question, answer = found
    return _write(target, lambda: lay_out(record, question, answer))


def draw(text: str, region: str, target: str, units: Units | None = None) -> int:
    """Write the elevation of one message, as the ending of the file asks: .png or .svg."""
    from bot.speaking import drawing

    found = _worked(text, region, units)
    if isinstance(found, int):
        return found
    _, question, answer = found
    if Path(target).suffix.lower() == ".svg":
        return _write(target, lambda: drawing.svg(question, answer).encode())
    return _write(target, lambda: drawing.png(question, answer))


def _worked(text: str, region: str, units: Units | None) -> tuple[dict[str, Any], Question, Answer] | int:
    """Record, question and answer of the one wall; an exit status where there is none, its reason told."""
    from bot.speaking.again import whole

    _, reply = turn(State(region=region, units=units), text)
    found = whole(reply.record)
    if found is not None and isinstance(found[1], Answer):
        return reply.record, found[0], found[1]
    print(shown(reply), file=sys.stderr)
    return EXIT[reply.outcome] if found is None else EXIT["needs"]


def _write(target: str, make: Callable[[], bytes]) -> int:
    """Make the paper and put it where it was asked for; a wall that cannot be drawn is told."""
    from bot.speaking.drawing import NoDrawing

    try:
        content = make()
    except NoDrawing as fault:
        print(f"perpend: {fault}", file=sys.stderr)
        return EXIT["needs"]
    Path(target).write_bytes(content)
    print(target)
    return 0
