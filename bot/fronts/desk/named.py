"""A value typed for the part of a reading that was taken out."""

from typing import Any

_BY_NAME = ("thickness", "area", "cavity", "coat_thickness", "spacing")


def named(state: Any, text: str) -> str:
    """A bare number typed for a part that was taken out is read as that part."""
    slot = getattr(state, "asked", None)
    if slot in _BY_NAME and slot not in state.slots and text[:1].isdigit() and len(text) <= 20:
        return f"{slot.replace('_', ' ')} {text}"
    return text
