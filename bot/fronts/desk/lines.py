"""The lines of an answer that was given, from its record."""

from typing import Any

from bot.fronts.desk.cautions import Line


def lines_of(record: dict[str, Any]) -> list[Line]:
    """As it was said, cautions at length."""
    from bot.reading.heard import Heard
    from bot.speaking.say import lines

    return [Line(kind, text) for kind, text in lines(record, Heard(text=record["question"]))]
