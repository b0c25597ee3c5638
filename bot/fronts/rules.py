"""The rule book in the terminal: list it, or show one rule with its source and standing."""

from __future__ import annotations

import sys

from knowledge.coverage import Covered
from knowledge.records import Rule
from knowledge.rulebook import RULES, RuleBook, book


def show(name: str | None, region: str) -> int:
    """Print one line a rule; one rule, figure or topic in full where it is named."""
    rules = book(region.upper())
    every = sorted(rules.every(), key=lambda rule: rule.id)
    if name is None:
        for rule in every:
            print(f"{rule.id:<44} {value(rule):<24} {rule.standing}")
        return 0
    found = [rule for rule in every if name in {rule.id, rule.figure, rule.id.partition(".")[0]}]
    if not found:
        near = [rule.id for rule in every if name.lower() in rule.id][:8]
        print(f"perpend: no rule {name!r}" + (f"; near: {', '.join(near)}" if near else ""), file=sys.stderr)
        return 2
    print("\n\n".join(full(rule, rules) for rule in found))
    return 0


def coverage() -> int:
    """Print a topic a line: how many of its plain questions each region answers, and its own rules."""
    from knowledge import coverage as covered

    codes = sorted(p.name.upper() for p in RULES.iterdir() if (p / "habits.toml").is_file())
    rows = covered.rows(codes)
    print(f"{'topic':<14}" + "".join(f"{code:>14}" for code in codes))
    for topic in dict.fromkeys(row.topic for row in rows):
        cells = [row for row in rows if row.topic == topic]
        print(f"{topic:<14}" + "".join(f"{_cell(row):>14}" for row in cells))
    print("Plain questions answered / asked (rules of the region's own; the rest holds anywhere).")
    print("After + the rules that another region lends where it has none of its own; the answer says so.")
    return 0


def _cell(row: Covered) -> str:
    """'4/4 (12)'; with what is lent '4/4 (3+20)'."""
    return f"{row.answered}/{row.asked} ({row.own}{f'+{row.lent}' if row.lent else ''})"


def value(rule: Rule) -> str:
    """The figure of a rule in short."""
    if rule.value is not None:
        return f"{rule.value:g} {rule.unit}".strip()
    if rule.min is not None or rule.max is not None:
        low = "" if rule.min is None else f"{rule.min:g}"
        high = "" if rule.max is None else f"{rule.max:g}"
        return f"{low}–{high} {rule.unit}".strip()
    if rule.choice is not None:
        return rule.choice
    if rule.mix is not None:
        return "mix"
    return "table" if rule.table is not None else "list" if rule.items else ""


def full(rule: Rule, rules: RuleBook) -> str:
    """One rule with everything that it stands on."""
    rows = [rule.id, f"  {rule.statement}"]
    if shown := value(rule):
        rows.append(f"  value     {shown}")
    conditions = {
        k: v.model_dump(exclude_none=True) if hasattr(v, "model_dump") else v
        for k, v in rule.when.conditions().items()
    }
    if conditions:
        rows.append(
            "  when      "
            + "; ".join(
                f"{k} {', '.join(map(str, v)) if isinstance(v, tuple) else v}" for k, v in conditions.items()
            )
        )
    rows.append(f"  source    {rules.worded(rule)}" + (f", {rule.clause}" if rule.clause else ""))
    rows.append(
        f"  standing  {rule.standing} ({rule.grade})" + ("" if rule.default else "; not the default here")
    )
    rows += [
        f"  {name:<9} {text}"
        for name, text in (("why", rule.why), ("note", rule.note), ("in force", rule.in_force))
        if text
    ]
    return "\n".join(rows)
