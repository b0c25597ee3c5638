"""A number takes the unit that its slot already has."""

from __future__ import annotations

from typing import Any

from bot.reading.heard import Heard


def same_unit(heard: Heard, before: dict[str, Any]) -> None:
    """'and 36 long?' after feet: a bare number or one in doubt takes the unit that its slot already has."""
    for entry in heard.assumed:
        slot, had = entry["slot"], before.get(entry["slot"])
        new = heard.slots.get(slot)
        if (
            slot in {"length", "height"}
            and isinstance(had, dict)
            and had.get("unit") == "ft"
            and isinstance(new, dict)
            and new.get("unit") == "m"
            and entry["value"] == "m"
        ):
            heard.slots[slot] = {**new, "unit": "ft"}
            entry.update({"value": "ft", "because": f"{new['value']:g} was taken as feet, as before."})
    for doubt in list(heard.doubts):
        slot = doubt.slot
        had = before.get(slot)
        if not isinstance(had, dict) or "unit" not in had:
            continue
        fits = [c for c in doubt.choices if set(c[1]) == {slot} and c[1][slot]["unit"] == had["unit"]]
        if len(fits) == 1:
            label, settles = fits[0]
            heard.doubts.remove(doubt)
            heard.slots[slot] = settles[slot]
            heard.evidence[slot] = doubt.spans
            because = f"'{label}' by the unit used before."
            heard.assumed.append({"slot": slot, "value": settles[slot], "because": because})
