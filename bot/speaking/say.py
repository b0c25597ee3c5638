"""An answer in words: number first, then how it was read, what was assumed, the caution, the rule."""

from __future__ import annotations

from functools import cache
from typing import Any

import rtoml

from bot.languages import folder
from bot.reading.heard import Heard
from bot.speaking.echo import echo, slot_text
from bot.speaking.numerals import mix, number, quantity
from bot.speaking.rounding import sized, way
from knowledge.rulebook import book

Plain = dict[str, Any]
Said = list[tuple[str, str]]
RULES_SHOWN, CAUTIONS_SHOWN, NOTES_SHOWN, LEADS_SHOWN, LIST_SHOWN = 2, 3, 3, 3, 5
UNITS = {"metric": "metric", "feet": "feet and inches"}
CAUTION_LETTERS = 230  # cautions run on in one line; what goes beyond folds away


@cache
def phrases(language: str = "en") -> Plain:
    """What we say, from phrases.toml."""
    path = folder(language) / "phrases.toml"
    return rtoml.loads(path.read_text(encoding="utf-8"))


def lines(record: Plain, heard: Heard) -> Said:
    """All blocks of a reply, in order."""
    words = phrases(record["language"])
    found: Said = []
    for answer in record["answers"]:
        found += _danger(answer)
    many = len(record["answers"]) > 1
    for total in record.get("totals", ()):
        said = [result(name, total["results"][name], total["results"], words) for name in total["lead"]]
        text = _named(total, "; ".join(s for s in said if s))
        found.append(("number", f"{words['turn']['total']} {text}."))
    told: set[str] = set()
    for answer in record["answers"]:
        found += _answer(answer, words, many, told)
    for need in record["needs"][:1]:
        found.append(("ask", need["ask"]))
        if need["reading"] and not record["answers"]:
            found.append(("read", f"{words['turn']['read']} {echo(need['reading'])}"))
    for decline in record["declined"]:
        found.append(("note", decline["why"]))
    if record["outcome"] == "acknowledged":
        key = heard.why if heard.why in words["chatter"] else "stale" if heard.kind == "stale" else "bye"
        found.append(("note", words["chatter"][key]))
    if record["outcome"] in {"answered", "needs"}:
        found += _heard(record, heard, words)
    if record["answers"]:
        found += _cautions(record)
        found += _rules(record, words)
        for answer in record["answers"]:
            found += _working(answer)
    if record["needs"] and not record["answers"]:
        found.append(("caution", words["turn"]["caution"]))
    return found


def declined(heard: Heard, language: str) -> str:
    """The friendly sentence for what is not ours."""
    words = phrases(language)
    why = heard.why if heard.why in words["declined"] else "empty" if heard.kind == "empty" else "other"
    return str(words["declined"][why])


def _danger(answer: Plain) -> Said:
    return [("danger", text) for text in answer["first"]]


def _answer(answer: Plain, words: Plain, many: bool, told: set[str]) -> Said:
    """Number first, then how it was read, what was assumed, and its sentences, each told once."""
    results, label = answer["results"], _label(answer["wall"])
    found: Said = []
    if answer["topic"] == "wall":
        found += whole(results, words)
    lead = [name for name in answer["lead"] if name not in words["list"] and answer["topic"] != "wall"]
    said = [result(name, results[name], results, words) for name in lead[:LEADS_SHOWN]]
    head = _named(answer, "; ".join(dict.fromkeys(s for s in said if s)))
    if head:
        found.append(("number", f"{label}{head[0].upper() + head[1:]}."))
    for name in [n for n in answer["lead"] if n in words["list"]][:2]:
        found += _sentences(name, results[name], words)
    reading = echo(answer["reading"], answer.get("more"))
    if reading:
        found.append(("read", f"{words['turn']['read']} {label if many else ''}{reading}."))
    assumed = [text for text in _assumed(answer) if text not in told]
    if assumed:
        found.append(("assumed", f"{words['turn']['assumed']} {'; '.join(assumed)}."))
    notes = [text for text in answer["notes"][:NOTES_SHOWN] if text not in told]
    told.update(assumed, notes)
    return found + [("note", text) for text in notes]


def _label(wall: str | None) -> str:
    """'Wall A: ', 'Front: '."""
    if not wall:
        return ""
    return f"Wall {wall}: " if len(wall) <= 2 else f"{wall[0].upper()}{wall[1:]}: "


def _named(answer: Plain, text: str) -> str:
    """Bricks are called bricks."""
    material = (answer.get("reading", {}).get("block") or {}).get("material")
    if material in {"clay_brick", "calcium_silicate"}:
        return text.replace(" blocks", " bricks").replace("1 block", "1 brick")
    return text


def whole(results: Plain, words: Plain) -> Said:
    """A line a topic, in the order of the work."""
    found: Said = []
    for topic, names in words["whole"].items():
        part = results.get(topic)
        if not isinstance(part, dict):
            continue
        said = [result(name, part[name], part, words) for name in names if name in part]
        text = "; ".join(s for s in said if s)
        if text:
            found.append(("number", f"{topic[0].upper() + topic[1:]}: {text}."))
    return found


def _sentences(name: str, value: Any, words: Plain) -> Said:
    """A list of sentences, one a line."""
    head = words["list"][name]
    rows = [f"- {text}" for text in value[:LIST_SHOWN]] if isinstance(value, list) else [value_text(value)]
    return [("note", "\n".join(([head] if head else []) + rows))] if rows else []


def _assumed(answer: Plain) -> list[str]:
    parts = []
    for entry in answer["assumed"]:
        if entry["because"].startswith("'"):
            parts.append(entry["because"].rstrip("."))
        else:
            parts.append(_assumption(entry))
    return list(dict.fromkeys(p for p in parts if p))


def _assumption(entry: Plain) -> str:
    slot, value = entry["slot"], entry["value"]
    if slot == "units":
        return f"answers in {UNITS[value]}"
    if slot == "material":
        return slot_text("block", {"material": value})
    if isinstance(value, dict) and ("unit" in value or "min" in value):
        names = {"strength": "block", "block_length": "block", "coat_thickness": "coat"}
        name = names.get(slot, slot.replace("_", " "))
        return f"{name} {quantity(value)}" + (" long" if slot == "block_length" else "")
    try:
        return slot_text(slot, value)
    except (KeyError, TypeError, AttributeError):
        return f"{slot.replace('_', ' ')} {value_text(value)}"


def _heard(record: Plain, heard: Heard, words: Plain) -> Said:
    found: Said = []
    if heard.repaired:
        texts = ", ".join(f"'{a}' as '{b}'" for a, b in heard.repaired)
        found.append(("read", f"{words['turn']['repaired']} {texts}."))
    if heard.unknown:
        texts = ", ".join(f"'{word}'" for word in heard.unknown[:4])
        found.append(("read", f"{words['turn']['unknown']} {texts}."))
    if record["set_aside"]:
        texts = ", ".join(f"'{a['text']}' ({a['why']})" for a in record["set_aside"][:4])
        found.append(("read", f"{words['turn']['set_aside']} {texts}."))
    return found


def _cautions(record: Plain) -> Said:
    """The cautions in one run, as many as fit a look; the rest folds away."""
    texts = list(dict.fromkeys(c for a in record["answers"] for c in a["cautions"]))
    shown: list[str] = []
    room = CAUTION_LETTERS
    for text in texts:
        if shown and (len(text) > room or len(shown) >= CAUTIONS_SHOWN):
            break
        shown.append(text)
        room -= len(text)
    found: Said = [("caution", " ".join(shown))] if shown else []
    rest = texts[len(shown) :]
    return found + ([("care", "\n".join(rest))] if rest else [])


def _rules(record: Plain, words: Plain) -> Said:
    """The rules that the numbers stand on, each once; the others on request."""
    found: Said = []
    told: dict[str, None] = {}
    rest: dict[str, None] = {}
    for answer in record["answers"]:
        first = _foremost(answer)
        for rule in answer["rules"]:
            text = rule_text(rule, words)
            (told if rule["id"] in first else rest).setdefault(text)
    if not told and rest:  # one is shown, and by it whose rules these are
        told = {next(iter(rest)): None}
    of = words["turn"]["rules_of"].format(book(record["region"]).region.name)
    found += [("rule", text if n else f"{text[:-1]}; {of}]") for n, text in enumerate(told)]
    more = [text for text in rest if text not in told]
    return found + ([("further", "\n".join(more))] if more else [])


def _foremost(answer: Plain) -> set[str]:
    """Ids of the rules that are shown: of a whole wall the first of each topic, else the first two."""
    if answer["topic"] != "wall":
        return {rule["id"] for rule in answer["rules"][:RULES_SHOWN]}
    first: dict[str, str] = {}
    for rule in answer["rules"]:
        first.setdefault(rule["id"].partition(".")[0], rule["id"])
    return {rule for topic, rule in first.items() if topic in {"joints", "mortar", "render", "reinforcement"}}


def rule_text(rule: Plain, words: Plain) -> str:
    """A rule with its source and standing."""
    source, clause = rule["source"], rule["clause"]
    if clause and clause not in source:
        source += f", {clause}"
    standing = words["standing"][rule["standing"]]
    if rule["standing"] == "published":
        return f"{rule['statement']} [{source}]"
    if rule["standing"] == "common practice" or rule["source"] == "from memory, not verified":
        return f"{rule['statement']} [{standing}]"
    source = source.replace("; not verified", "").replace(", not verified", "")
    return f"{rule['statement']} [{standing}; {source}]"


def _working(answer: Plain) -> Said:
    steps = [f"{s['step']}: {s['expression']} = {value_text(s['value'])}" for s in answer["working"]]
    return [("working", "\n".join(steps))] if steps else []


def value_text(value: Any, name: str = "", words: Plain | None = None) -> str:
    """Any result value in words."""
    if isinstance(value, bool):
        return "yes" if value else "no"
    if isinstance(value, (int, float)):
        return number(value)
    if isinstance(value, str):
        return value
    entry = (words or {}).get("entry", {}).get(name)
    if isinstance(value, dict):
        if "unit" in value and ("value" in value or "min" in value):
            return sized(value, way(name))
        parts_only = all(isinstance(v, (int, float)) for v in value.values())
        if parts_only and set(value) <= {"cement", "lime", "sand"}:
            return mix(value)
        if entry:
            parts = {k: value_text(v, name) for k, v in value.items()}
            whole_entry = all("{" + k + "}" not in str(entry) for k in {"mix", "thickness"} - set(parts))
            return str(entry).format(**parts) if whole_entry else " ".join(parts.values())
        if "min" in value:
            return sized(value, way(name))
        sizes_only = all(isinstance(v, dict) and "unit" in v for v in value.values())
        if sizes_only and set(value) <= {"length", "width", "height"}:
            return " × ".join(sized(v) for v in value.values())
        return ", ".join(f"{k.replace('_', ' ')} {value_text(v)}" for k, v in value.items())
    if isinstance(value, (list, tuple)):
        if value and all(isinstance(v, dict) and "unit" in v and "value" in v for v in value):
            units = {v["unit"] for v in value}
            if len(units) == 1 and not units & {"ft", "in"}:
                return ", ".join(number(v["value"]) for v in value) + f" {units.pop()}"
            return ", ".join(sized(v) for v in value)
        return "; ".join(value_text(v, name, words) for v in value)
    return str(value)


def result(name: str, value: Any, results: Plain, words: Plain) -> str:
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
            return str(phrase[key]).format(shown, **{k: value_text(v) for k, v in results.items()})
        return str(phrase.get(str(value), phrase.get("many", "{}"))).format(shown)
    if not shown:
        return ""
    return f"{name.replace('_', ' ')} {shown}" if phrase is None else str(phrase).format(shown)


def _per_area(value: Any, words: Plain) -> str:
    """'2.47 ties a square metre' without the ties."""
    if not isinstance(value, dict) or "value" not in value:
        return value_text(value)
    return f"{number(value['value'], 2)} {words['per_area'][value['unit']]}"
