"""Totals over several walls."""

from __future__ import annotations

from typing import Any

from bot.talking.asking import Found, Ground, ask
from bot.talking.state import Plain, Topics
from knowledge.answers import Answer

_ONE_WALL = {"length", "height", "walls", "openings", "shape", "courses", "ends"}  # not of the area of all


def totals(topics: Topics, findings: Found, slots: Plain, ground: Ground) -> list[Plain]:
    """Joints are counted up; what goes by area is worked out once for all of it, to be rounded once."""
    found: list[Plain] = []
    for topic, wants in topics:
        answers = [
            f
            for f, w in findings
            if isinstance(f, Answer) and f.topic == topic and w is not None and w.label is not None
        ]
        if len(answers) < 2:
            continue
        if topic == "joints" and all("joint_count" in f.results for f in answers):
            count = sum(f.results["joint_count"] for f in answers)
            found.append({"topic": topic, "results": {"joint_count": count}, "lead": ["joint_count"]})
            continue
        area = _area(answers)
        if area is not None:
            found += _by_area(topic, wants, area, slots, ground)
    return found


def _area(answers: list[Answer]) -> Plain | None:
    """The area of all the walls, where each has one and all are in one unit."""
    areas: list[Any] = [f.results.get("net_area") for f in answers]
    if any(a is None for a in areas):
        return None
    units = {_part(a, "unit") for a in areas}
    if len(units) != 1:
        return None
    return {"value": round(sum(_part(a, "value") for a in areas), 6), "unit": units.pop()}


def _part(quantity: Any, name: str) -> Any:
    return getattr(quantity, name) if hasattr(quantity, name) else quantity[name]


def _by_area(topic: str, wants: tuple[str, ...], area: Plain, slots: Plain, ground: Ground) -> list[Plain]:
    """The answer for all of the area in one."""
    same = {k: v for k, v in slots.items() if k not in _ONE_WALL}
    for whole in ask(topic, wants, None, {**same, "area": area}, ground):
        if isinstance(whole, Answer):
            reading = {"area": area, **({"block": slots["block"]} if "block" in slots else {})}
            lead = [n for n in whole.lead if n in whole.results][:3]
            return [{"topic": topic, "reading": reading, "results": whole.results, "lead": lead}]
    return []
