"""A result in words, under its phrase."""

from __future__ import annotations

from typing import Any

from bot.speaking.numerals import mix, number
from bot.speaking.rounding import sized, way

Plain = dict[str, Any]


def value_text(value: Any, name: str = "", words: Plain | None = None) -> str:
    """Any result value in words."""
    if isinstance(value, dict):
        return _parts_text(value, name, words)
    if isinstance(value, bool):
        return "yes" if value else "no"
    if isinstance(value, (int, float)):
        return number(value)
    if isinstance(value, str):
        return value
    if isinstance(value, (list, tuple)):
        if value and all(isinstance(v, dict) and "unit" in v and "value" in v for v in value):
            units = {v["unit"] for v in value}
            if len(units) == 1 and not units & {"ft", "in"}:
                return ", ".join([number(v["value"]) for v in value]) + f" {units.pop()}"
            return ", ".join([sized(v) for v in value])
        return "; ".join([value_text(v, name, words) for v in value])
    return str(value)


def _parts_text(value: Plain, name: str, words: Plain | None) -> str:
    """A size, a range, a mix, or what has parts: by the phrase for such an entry, else by their names."""
    if "unit" in value and ("value" in value or "min" in value):
        return sized(value, way(name))
    if value.keys() <= {"cement", "lime", "sand"} and all(
        isinstance(v, (int, float)) for v in value.values()
    ):
        return mix(value)
    entry = words.get("entry", {}).get(name) if words else None
    if entry:
        parts = {k: value_text(v, name) for k, v in value.items()}
        whole_entry = all("{" + k + "}" not in str(entry) for k in {"mix", "thickness"} - set(parts))
        return str(entry).format(**parts) if whole_entry else " ".join(parts.values())
    if "min" in value:
        return sized(value, way(name))
    sizes_only = all(isinstance(v, dict) and "unit" in v for v in value.values())
    if sizes_only and value.keys() <= {"length", "width", "height"}:
        return " × ".join([sized(v) for v in value.values()])
    return ", ".join([f"{k.replace('_', ' ')} {value_text(v)}" for k, v in value.items()])


def result(name: str, value: Any, words: Plain) -> str:
    """One result under its phrase; '' where there is nothing to say."""
    phrase = words["result"].get(name)
    by_area = name in {"ties_per_area", "blocks_per_area"}
    shown = _per_area(value, words) if by_area else value_text(value, name, words)
    if name == "utilisation":
        shown = f"{round(value * 100):d}%"
    if isinstance(phrase, dict):
        if isinstance(value, (int, float)) and not isinstance(value, bool):
            few = "none" if value == 0 else "one" if value == 1 else "many"
            key = few if few in phrase else "many"
            return str(phrase[key]).format(shown)
        return str(phrase.get(str(value), phrase.get("many", "{}"))).format(shown)
    if not shown:
        return ""
    return f"{name.replace('_', ' ')} {shown}" if phrase is None else str(phrase).format(shown)


def _per_area(value: Any, words: Plain) -> str:
    """'2.47 ties a square metre' without the ties."""
    if not isinstance(value, dict) or "value" not in value:
        return value_text(value)
    return f"{number(value['value'], 2)} {words['per_area'][value['unit']]}"
