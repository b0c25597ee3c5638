"""A whole wall in words: topics one by one, what to order, what to tick, for sheet and message."""

from __future__ import annotations

import re
from functools import cache
from typing import Any

import rtoml

from bot.languages import folder
from bot.speaking.echo import slot_text
from bot.speaking.numerals import SAID, number
from bot.speaking.results import result, value_text
from bot.speaking.rounding import sized
from bot.speaking.say import phrases

Plain = dict[str, Any]

# What is told of each topic, in this order; what is not named here stays in the machine-readable answer.
_TOLD = {
    "weather": ("verdict", "limit", "resume_from", "waiting_time"),
    "joints": (
        "verdict", "joint_count", "joint_positions", "panel_lengths", "joint_width", "filler",
        "sealant_depth", "tie_spacing", "expected_movement", "max_spacing", "end_panel_max",
    ),
    "blocks": ("net_area", "block_count", "order_count", "course_count", "packs", "shortfall"),
    "mortar": ("verdict", "mix", "mortar_class", "mortar_volume"),
    "reinforcement": ("runs", "total_length", "pieces"),
    "ties": (
        "tie_count", "field_ties", "reveal_ties", "joint_ties", "verge_ties", "spacing", "edge_spacing",
        "tie_length",
    ),
    "bearing": ("stress", "resistance", "utilisation", "padstone"),
    "render": ("verdict", "key_coat", "coats", "thickness", "waiting", "render_volume"),
    "mesh": ("net_area", "order_area", "rolls", "strips", "corner_patches"),
    "boards": ("board_count", "pattern", "dab_rows", "adhesive_mass", "at_joint"),
    "thermal": ("r_value", "u_value"),
}  # fmt: skip
_SAID = {"place", "ends", "leaf", "finish"}  # assumptions that the echo has words for
_ONE = re.compile(r"\b(bag|roll|piece|board|cartridge|pack)s\b")


@cache
def sayings(language: str = "en") -> Plain:
    """The words of a whole wall, from whole.toml."""
    path = folder(language) / "whole.toml"
    return dict(rtoml.loads(path.read_text(encoding="utf-8")))


def topics(results: Plain, language: str = "en") -> list[tuple[str, list[str]]]:
    """Each topic of a whole wall with its results in words, in the order of the work."""
    words = sayings(language)
    found = []
    for topic, own in results.items():
        names = _TOLD.get(topic, ()) if isinstance(own, dict) else ()
        if topic == "joints" and own.get("joint_count") == 0:
            names = ("verdict", "joint_count", "max_spacing")
        told = [_told(name, own[name], words, language) for name in names if name in own]
        told = [text for text in told if text]
        if told:
            found.append((words["topic"].get(topic, topic), told))
    return found


def _told(name: str, value: Any, words: Plain, language: str) -> str:
    if value in (0, [], None) and name != "joint_count":
        return ""
    if name == "runs":
        return "; ".join(f"{run['count']} × {sized(run['length'])} {run['where']}" for run in value)
    if name == "coats":
        return "; ".join(_coat(coat) for coat in value)
    if name == "key_coat" and isinstance(value, dict):
        return f"{words['key_coat']}: {_coat(value)}"
    if name == "waiting":
        wait, before = words["wait"], words["before"]
        return "; ".join(f"{wait} {sized(step['time'])} {before} {step['before']}" for step in value)
    if name == "strips":
        lie = f"{value['count']} {words['strips']} {value['direction']}"
        return f"{lie}, {sized(value['length'])} {words['each']}"
    if name in words["result"]:
        return str(words["result"][name]).format(value_text(value))
    return result(name, value, phrases(language))


def _coat(coat: Plain) -> str:
    thick = f", {sized(coat['thickness'])}" if "thickness" in coat else ""
    mixed = f" {value_text(coat['mix'])}" if coat.get("mix") else ""
    return f"{coat['name']}{mixed}{thick}"


def orders(results: Plain) -> list[tuple[str, str, str]]:
    """What to order: the thing, how much as it is sold, and the exact figure."""
    found = []
    for row in results.get("materials", ()):
        exact = row["exact"]
        shown = number(exact) if isinstance(exact, (int, float)) else sized(exact, "up")
        unit = (
            _ONE.sub(r"\1", row["unit"], count=1) if row["order"] == 1 else SAID.get(row["unit"], row["unit"])
        )
        found.append((row["item"], f"{number(row['order'])} {unit}", f"{shown} {row['of']}"))
    return found


def checks(results: Plain, language: str = "en") -> list[tuple[str, list[Plain]]]:
    """What is ticked before it is covered, topic by topic."""
    words = sayings(language)["topic"]
    found: dict[str, list[Plain]] = {}
    for entry in results.get("checklist", ()):
        found.setdefault(words.get(entry["topic"], entry["topic"]), []).append(entry)
    return list(found.items())


def taken(assumed: list[Plain]) -> list[tuple[str, str]]:
    """What was assumed, and why: ('waste 5%', 'Blocks break ...')."""
    found: dict[str, str] = {}
    for entry in assumed:
        found.setdefault(_slot(entry["slot"], entry["value"]), entry["because"])
    return list(found.items())


def _slot(slot: str, value: Any) -> str:
    if slot == "material":
        return slot_text("block", {"material": value})
    if slot == "ends" and isinstance(value, str):
        value = [value, value]
    name = {"joint_thickness": "mortar joint", "coat_thickness": "coat"}.get(slot, slot.replace("_", " "))
    if slot not in _SAID:
        return f"{name} {value_text(value)}"
    return slot_text(slot, value)
