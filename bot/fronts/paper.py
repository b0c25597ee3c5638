"""A wall on paper from the terminal: the sheet as PDF, the elevation as PNG or SVG."""

import sys
from collections.abc import Callable
from pathlib import Path

from bot.fronts.terminal import EXIT, shown
from bot.talk import State, turn
from knowledge.answers import Answer


def sheet(text: str, region: str, target: str) -> int:
    """Write the wall sheet of one message; where the wall cannot be worked, say what is missing."""
    from bot.speaking.again import whole
    from bot.speaking.sheet import sheet as lay_out

    _, reply = turn(State(region=region), text)
    found = whole(reply.record)
    if found is None:
        print(shown(reply), file=sys.stderr)
        return EXIT[reply.outcome]
    question, answer = found
    if not isinstance(answer, Answer):
        print(shown(reply), file=sys.stderr)
        return EXIT["needs"]
    return _write(target, lambda: lay_out(reply.record, question, answer))


def draw(text: str, region: str, target: str) -> int:
    """Write the elevation of one message, as the ending of the file asks: .png or .svg."""
    from bot.speaking import drawing
    from bot.speaking.again import whole

    _, reply = turn(State(region=region), text)
    found = whole(reply.record)
    if found is None:
        print(shown(reply), file=sys.stderr)
        return EXIT[reply.outcome]
    question, answer = found
    if not isinstance(answer, Answer):
        print(shown(reply), file=sys.stderr)
        return EXIT["needs"]
    if Path(target).suffix.lower() == ".svg":
        return _write(target, lambda: drawing.svg(question, answer).encode())
    return _write(target, lambda: drawing.png(question, answer))


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
