"""Another spacing of joints, where no wall is spoken of."""

from __future__ import annotations

from typing import Any

from bot.reading.heard import Heard


def spacing_again(heard: Heard, before: dict[str, Any], last: list[str]) -> None:
    """'joint every 6 m right?', then 'dense 9m?': so far apart, and no wall of 9 m."""
    slots = heard.slots
    if "spacing" not in last or "length" in before or "length" not in slots or "height" in slots:
        return
    if heard.named or heard.walls or {"wall", "new"} & heard.marks or (heard.topics and not heard.weak):
        return
    slots["spacing"] = slots.pop("length")
    heard.evidence["spacing"] = heard.evidence.pop("length", [])
    for entry in heard.assumed:
        if entry["slot"] == "length":
            entry["slot"] = "spacing"
