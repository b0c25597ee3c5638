"""One coat told after another: together, or in place of what was said?"""

from __future__ import annotations

from typing import Any

from bot.reading.heard import Doubt, Heard
from bot.reading.scene import show
from knowledge.units import convert

Plain = dict[str, Any]


def coats(heard: Heard, before: Plain) -> None:
    """'10 mm scratch', then '5 mm top': 15 mm in all, or 5 mm?"""
    new, had = heard.slots.get("coat_thickness"), before.get("coat_thickness")
    if not isinstance(new, dict) or not isinstance(had, dict) or new == had or "coat" not in heard.changes:
        return
    both = {**had, "value": round(had["value"] + convert(new["value"], new["unit"], had["unit"]), 6)}
    choices: list[tuple[str, Plain]] = [
        (f"{show(both)} in all", {"coat_thickness": both}),
        (f"{show(new)} in all", {"coat_thickness": new}),
    ]
    del heard.slots["coat_thickness"]
    spans = heard.evidence.pop("coat_thickness", [])
    heard.doubts.append(
        Doubt("coat_thickness", f"Is {show(new)} one coat more, or all of it?", choices, spans=spans)
    )
