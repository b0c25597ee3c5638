"""A door by its feet and inches, as it is ordered where walls are measured in feet: 3/0 x 6/8."""

from __future__ import annotations

from bot.reading.items import Measure
from bot.reading.letters import Token
from bot.reading.walk.walk import Walk

INCHES = 12


def feet_and_inches(way: Walk, i: int) -> int | None:
    """'3/0 x 6/8', '3-0 x 6-8': 3 ft by 6 ft 8 in; None where it is nothing like it."""
    t = way.t
    if i + 6 >= len(t) or t[i + 3].text not in {"x", "*"}:
        return None
    wide, high = _side(t, i), _side(t, i + 4)
    if wide is None or high is None or high[0] < wide[0]:
        return None
    whole = 0 in {wide[1], high[1]} or high[0] > high[1] > 0 or high[0] >= 6
    if not whole:  # 1/4 x 1/2: fractions
        return None
    sizes = [
        Measure((feet + inches / INCHES,), "ft", t[k].start, t[k + 2].end, decimal=True)
        for k, (feet, inches) in ((i, wide), (i + 4, high))
    ]
    return way.add("dims", i, i + 7, sizes=sizes)


def _side(t: list[Token], k: int) -> tuple[int, int] | None:
    """Feet and inches that are written with a stroke between them."""
    feet, stroke, inches = t[k : k + 3]
    if (
        feet.kind != "number"
        or inches.kind != "number"
        or stroke.text not in {"/", "-"}
        or stroke.spaced
        or inches.spaced
    ):
        return None
    if (
        not (feet.text.isdigit() and inches.text.isdigit())
        or int(inches.text) >= INCHES
        or len(feet.text) > 1
    ):
        return None
    return int(feet.text), int(inches.text)
