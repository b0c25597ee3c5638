"""An answer in words: number first, then how it was read, what was assumed, the caution, the rule."""

from __future__ import annotations

from functools import cache, lru_cache
from typing import Any

import rtoml

from bot.languages import folder
from bot.reading.heard import Heard
from bot.speaking.echo import echo, slot_text
from bot.speaking.numerals import quantity
from bot.speaking.results import result, value_text
from knowledge.rulebook import book

Plain = dict[str, Any]
Said = list[tuple[str, str]]
RULES_SHOWN, CAUTIONS_SHOWN, NOTES_SHOWN, LEADS_SHOWN, LIST_SHOWN = 2, 3, 3, 3, 5
SIDES = {"block_length", "block_height", "block_thickness"}
NO_USE = "not used"
"""Why a number was set aside, where nothing more is known of it."""
SET_HERE = "Set for this site."
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
        said = [result(name, total["results"][name], words) for name in total["lead"]]
        text = _named(total, "; ".join(s for s in said if s))
        found.append(("number", f"{words['turn']['total']} {text}."))
    told: set[str] = set()
    for answer in record["answers"]:
        found += _answer(answer, words, many, told)
        alike = [other["notes"] for other in record["answers"] if other["topic"] == answer["topic"]]
        found += _notes(answer, alike, told)
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
    if record["needs"] and not record["answers"]:
        found.append(("caution", words["turn"]["caution"]))
    return list(dict.fromkeys(found))  # what holds for several walls is said once


def on_request(record: Plain) -> Said:
    """What stands behind a button: the rules that are not shown, and the arithmetic."""
    if not record["answers"]:
        return []
    words = phrases(record["language"])
    shown, rest = _by_rank(record)
    told = _texts(shown, words)
    further = [text for text in _texts(rest, words) if text not in told]
    found: Said = [("further", "\n".join(further))] if further else []
    for answer in record["answers"]:
        found += _working(answer)
    return list(dict.fromkeys(found))


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
    said = [result(name, results[name], words).removesuffix(".") for name in lead[:LEADS_SHOWN]]
    head = _named(answer, "; ".join(dict.fromkeys(s for s in said if s)))
    if head:
        found.append(("number", f"{label}{head[0].upper() + head[1:]}."))
    for name in [n for n in answer["lead"] if n in words["list"]][:2]:
        found += _sentences(name, results[name], words)
    reading = echo(answer["reading"], answer.get("more"))
    if reading:
        found.append(("read", f"{words['turn']['read']} {label if many else ''}{reading}."))
    assumed = [text for text in _assumed(answer, words) if text not in told]
    if assumed:
        found.append(("assumed", f"{words['turn']['assumed']} {'; '.join(assumed)}."))
    told.update(assumed)
    return found


def _notes(answer: Plain, alike: list[list[str]], told: set[str]) -> Said:
    """Its sentences, each told once; one that is not of every wall alike says of which it is."""
    notes = [text for text in answer["notes"][:NOTES_SHOWN] if text not in told]
    told.update(notes)
    own = _label(answer["wall"])
    return [("note", text if all(text in notes for notes in alike) else own + text) for text in notes]


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
        said = [result(name, part[name], words) for name in names if name in part]
        if "verdict" in part and said:
            said[0] = words["turn"]["named"].format(said[0])
        text = "; ".join(s for s in said if s)
        if text:
            found.append(("number", f"{topic[0].upper() + topic[1:]}: {text}."))
    return found


def _sentences(name: str, value: Any, words: Plain) -> Said:
    """A list of sentences, one a line."""
    head = words["list"][name]
    rows = [f"- {text}" for text in value[:LIST_SHOWN]] if isinstance(value, list) else [value_text(value)]
    return [("note", "\n".join(([head] if head else []) + rows))] if rows else []


def _assumed(answer: Plain, words: Plain) -> list[str]:
    parts = []
    for entry in _as_one_block(answer["assumed"]):
        if entry["because"].startswith("'"):
            parts.append(entry["because"].rstrip("."))
        else:
            here = f" {words['turn']['set_here']}" if entry["because"] == SET_HERE else ""
            parts.append(_assumption(entry) + here)
    return list(dict.fromkeys(p for p in parts if p))


def _as_one_block(assumed: list[Plain]) -> list[Plain]:
    """The sides of a block that were taken each for itself stand together where the first of them does."""
    sides = {e["slot"].removeprefix("block_"): e for e in assumed if e["slot"] in SIDES}
    if len(sides) < 2:
        return assumed
    size = {side: sides[side]["value"] for side in ("length", "height", "thickness") if side in sides}
    one = {"slot": "block", "value": size, "because": ""}
    first = next(e for e in assumed if e["slot"] in SIDES)
    return [one if e is first else e for e in assumed if e is first or e["slot"] not in SIDES]


def _assumption(entry: Plain) -> str:
    slot, value = entry["slot"], entry["value"]
    if slot == "units":
        return f"answers in {UNITS[value]}"
    if slot == "material":
        return slot_text("block", {"material": value})
    if slot == "block" and "material" not in value:
        return f"block {slot_text('block', value)}".removesuffix(" block")
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
    if heard.left:
        texts = ", ".join(f"'{text}'" for text in heard.left)
        found.append(("read", f"{words['turn']['left']} {texts}."))
    if record["set_aside"]:
        texts = ", ".join(_set_aside(entry) for entry in record["set_aside"][:4])
        found.append(("read", f"{words['turn']['set_aside']} {texts}."))
    return found


def _set_aside(entry: Plain) -> str:
    """The number, and why where more is known than that it was not used."""
    return f"'{entry['text']}'" + (f" ({entry['why']})" if entry["why"] != NO_USE else "")


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
    """The rules that the numbers stand on, each once."""
    of = words["turn"]["rules_of"].format(book(record["region"]).region.name)
    told = _texts(_by_rank(record)[0], words)
    return [("rule", text if n else f"{text[:-1]}; {of}]") for n, text in enumerate(told)]


def _by_rank(record: Plain) -> tuple[list[Plain], list[Plain]]:
    """The rules that are shown, and the others."""
    shown: list[Plain] = []
    rest: list[Plain] = []
    for answer in record["answers"]:
        first = _foremost(answer)
        for rule in answer["rules"]:
            (shown if rule["id"] in first else rest).append(rule)
    return shown or rest[:1], rest  # one is shown, and by it whose rules these are


def _texts(rules: list[Plain], words: Plain) -> dict[str, None]:
    return dict.fromkeys(rule_text(rule, words) for rule in rules)


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
    standing = rule["standing"]
    return _cited(rule["statement"], rule["source"], rule["clause"], standing, words["standing"][standing])


@lru_cache(maxsize=4096)
def _cited(statement: str, source: str, clause: str, standing: str, said: str) -> str:
    full = f"{source}, {clause}" if clause and clause not in source else source
    if standing == "published":
        return f"{statement} [{full}]"
    if standing == "common practice" or source == "from memory, not verified":
        return f"{statement} [{said}]"
    full = full.replace("; not verified", "").replace(", not verified", "")
    return f"{statement} [{said}; {full}]"


def _working(answer: Plain) -> Said:
    steps = [f"{s['step']}: {s['expression']} = {value_text(s['value'])}" for s in answer["working"]]
    return [("working", "\n".join(steps))] if steps else []
