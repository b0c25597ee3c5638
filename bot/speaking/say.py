"""An answer in words: number first, then how it was read, what was assumed, the caution, the rule."""

from __future__ import annotations

import tomllib
from functools import cache
from pathlib import Path
from typing import Any

from bot.reading.heard import Heard
from bot.speaking.echo import echo, slot_text
from bot.speaking.numerals import mix, number, quantity

Plain = dict[str, Any]
Said = list[tuple[str, str]]
RULES_SHOWN, CAUTIONS_SHOWN, NOTES_SHOWN, LEADS_SHOWN = 2, 3, 3, 3


@cache
def phrases(language: str = "en") -> Plain:
    """What we say, from phrases.toml."""
    path = Path(__file__).parents[1] / "languages" / language / "phrases.toml"
    return tomllib.loads(path.read_text(encoding="utf-8"))


def lines(record: Plain, heard: Heard) -> Said:
    """All blocks of a reply, in order."""
    words = phrases(record["language"])
    found: Said = []
    for answer in record["answers"]:
        found += _danger(answer)
    many = len(record["answers"]) > 1
    for answer in record["answers"]:
        found += _answer(answer, words, many)
    for need in record["needs"][:1]:
        found.append(("ask", need["ask"]))
        if need["reading"] and not record["answers"]:
            found.append(("read", f"{words['turn']['read']} {echo(need['reading'])}"))
    for decline in record["declined"]:
        found.append(("note", decline["why"] or _declined(heard, words)))
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


def _declined(heard: Heard, words: Plain) -> str:
    why = heard.why if heard.why in words["declined"] else "empty" if heard.kind == "empty" else "other"
    return str(words["declined"][why])


def _danger(answer: Plain) -> Said:
    return [("danger", text) for text in answer["first"]]


def _answer(answer: Plain, words: Plain, many: bool) -> Said:
    said = [result(name, answer["results"][name], answer["results"], words) for name in answer["lead"][:LEADS_SHOWN]]
    head = "; ".join(dict.fromkeys(s for s in said if s))
    if head:
        head = head[0].upper() + head[1:]
    label = f"{answer['wall']}: " if answer["wall"] else ""
    found: Said = [("number", f"{label}{head}.")] if head else []
    reading = echo(answer["reading"], answer.get("more"))
    if reading:
        found.append(("read", f"{words['turn']['read']} {label if many else ''}{reading}."))
    assumed = _assumed(answer)
    if assumed:
        found.append(("assumed", f"{words['turn']['assumed']} {assumed}."))
    found += [("note", text) for text in answer["notes"][:NOTES_SHOWN]]
    return found


def _assumed(answer: Plain) -> str:
    parts = []
    for entry in answer["assumed"]:
        if entry["because"].startswith("'") or isinstance(entry["value"], str) and entry["value"] in {"m", "mm", "ft", "in", "cm"}:
            parts.append(entry["because"].rstrip("."))
        else:
            parts.append(_assumption(entry))
    return "; ".join(dict.fromkeys(p for p in parts if p))


def _assumption(entry: Plain) -> str:
    slot, value = entry["slot"], entry["value"]
    if slot == "material":
        return slot_text("block", {"material": value})
    if slot.startswith("block_") and isinstance(value, dict):
        return f"block {slot[6:].replace('_', ' ')} {quantity(value)}"
    if slot == "strength" and isinstance(value, dict):
        return f"block {quantity(value)}"
    try:
        return slot_text(slot, value)
    except (KeyError, TypeError, AttributeError):
        shown = quantity(value) if isinstance(value, dict) and ("unit" in value or "min" in value) else str(value).replace("_", " ")
        return f"{slot.replace('_', ' ')} {shown}"


def _heard(record: Plain, heard: Heard, words: Plain) -> Said:
    found: Said = []
    if heard.repaired:
        found.append(("read", words["turn"]["repaired"] + " " + ", ".join(f"'{a}' as '{b}'" for a, b in heard.repaired) + "."))
    if record["set_aside"]:
        texts = ", ".join(f"'{a['text']}' ({a['why']})" for a in record["set_aside"][:4])
        found.append(("read", f"{words['turn']['set_aside']} {texts}."))
    return found


def _cautions(record: Plain) -> Said:
    texts = list(dict.fromkeys(c for a in record["answers"] for c in a["cautions"]))
    return [("caution", text) for text in texts[:CAUTIONS_SHOWN]]


def _rules(record: Plain, words: Plain) -> Said:
    found: Said = []
    for answer in record["answers"]:
        for rule in answer["rules"][:RULES_SHOWN]:
            found.append(("rule", rule_text(rule, words)))
        more = len(answer["rules"]) - RULES_SHOWN
        if more > 0:
            found.append(("working", "\n".join(rule_text(r, words) for r in answer["rules"][RULES_SHOWN:])))
    return found


def rule_text(rule: Plain, words: Plain) -> str:
    """A rule with its source and standing."""
    source = rule["source"] + (f", {rule['clause']}" if rule["clause"] else "")
    standing = words["standing"][rule["standing"]]
    return f"{rule['statement']} [{source}]" if rule["standing"] == "published" else f"{rule['statement']} [{standing}{'' if rule['source'] in {'common practice', 'from memory, not verified'} else ': ' + source}]"


def _working(answer: Plain) -> Said:
    steps = [f"{s['step']}: {s['expression']} = {value_text(s['value'])}" for s in answer["working"]]
    return [("working", "\n".join(steps))] if steps else []


def value_text(value: Any) -> str:
    """Any result value in words."""
    if isinstance(value, bool):
        return "yes" if value else "no"
    if isinstance(value, (int, float)):
        return number(value)
    if isinstance(value, str):
        return value
    if isinstance(value, dict):
        if "unit" in value and ("value" in value or "min" in value):
            return quantity(value)
        if set(value) <= {"cement", "lime", "sand"} and all(isinstance(v, (int, float)) for v in value.values()):
            return mix(value)
        return ", ".join(f"{k.replace('_', ' ')} {value_text(v)}" for k, v in value.items())
    if isinstance(value, (list, tuple)):
        if value and all(isinstance(v, dict) and "unit" in v and "value" in v for v in value):
            units = {v["unit"] for v in value}
            if len(units) == 1 and units != {"ft"}:
                return ", ".join(number(v["value"]) for v in value) + f" {units.pop()}"
        return "; ".join(value_text(v) for v in value)
    return str(value)


def result(name: str, value: Any, results: Plain, words: Plain) -> str:
    """One result under its phrase."""
    phrase = words["result"].get(name)
    shown = value_text(value)
    if isinstance(phrase, dict):
        if isinstance(value, (int, float)) and not isinstance(value, bool):
            key = "none" if value == 0 and "none" in phrase else "one" if value == 1 and "one" in phrase else "many"
            return str(phrase[key]).format(shown, **{k: value_text(v) for k, v in results.items()})
        key = str(value)
        return str(phrase.get(key, phrase.get("many", "{}"))).format(shown)
    if phrase is None:
        return f"{name.replace('_', ' ')} {shown}"
    if not shown:
        return ""
    return str(phrase).format(shown)
