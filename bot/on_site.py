"""What a site has set for itself, sizes and units: taken where it matters, and said in each answer."""

from typing import Any

from knowledge.in_units import shows
from knowledge.questions import Reading, Units
from knowledge.rulebook import book
from knowledge.shown import in_feet

Plain = dict[str, Any]
_TOUCHES = {
    "block": ("blocks", "mortar", "ties", "reinforcement", "wall"),
    "bag_size": ("mortar", "render", "wall"),
    "bucket_size": ("mortar", "render"),
    "roll": ("mesh", "wall"),
    "board": ("boards", "wall"),
}


def at_site(site: Plain, topic: str, slots: Plain) -> Plain:
    """The reading that is worked with: what was said, and the site's sizes where nothing was."""
    if not site:
        return slots
    return {**slots, **added(site, topic, slots)}


def added(site: Plain, topic: str, slots: Plain) -> Plain:
    """What the site's settings add to what was said, for a question of this topic."""
    found: Plain = {}
    for slot, topics in _TOUCHES.items():
        if slot not in site or topic not in topics:
            continue
        said = slots.get(slot)
        if slot == "block":
            own = site[slot].items()
            block = {side: size for side, size in own if side != "thickness" or "thickness" not in slots}
            if set(block) - set(said or {}):
                found[slot] = {**block, **(said or {})}
        elif said is None:
            found[slot] = site[slot]
    return found


def tell(site: Plain, answer: Plain) -> None:
    """Say in an answer of the record which of the site's sizes it was worked with."""
    for slot, value in added(site, answer["topic"], {**answer["reading"], **answer.get("more", {})}).items():
        own = site[slot] if slot == "block" else value
        answer["assumed"].append({"slot": slot, "value": own, "because": "Set for this site."})


def worked_with(given: Plain) -> Plain:
    """The reading of an answer of the record; of a size that was said from to, the end that was taken."""
    said = {**given["reading"], **given.get("more", {})}
    for slot, value in said.items():
        if isinstance(value, dict) and {"min", "max", "unit"} <= set(value):
            said[slot] = {"value": value["max"], "unit": value["unit"]}
    return said


def tell_units(units: Units, region: str, answer: Plain) -> None:
    """Say in an answer of the record that it is not in the units of the question, where that is so."""
    said = in_feet(Reading.model_validate(worked_with(answer)))
    asked = book(region).region.units.get("wall") == "ft" if said is None else said
    if asked != (units == "feet") and shows(answer["results"], units):
        answer["assumed"].append({"slot": "units", "value": units, "because": "Set for these answers."})
