"""Causes of a crack, how to watch it and how such cracks are repaired."""

from __future__ import annotations

from knowledge.calculators._crack_signs import Signs
from knowledge.ledger import Ledger
from knowledge.records import Rule

_MOST_CAUSES = 3
_METHODS: dict[str, tuple[str, ...]] = {
    "shrinkage": ("cut", "repoint"),
    "reduced_section": ("opening", "stitch"),
    "ground": ("repoint", "stitch"),
    "render_corner": ("render",),
    "craze": ("render",),
    "two_materials": ("junction",),
    "bridged_joint": ("cut",),
    "drying_out": (),
    "thermal_corner": ("cut",),
}


def causes(ledger: Ledger, signs: Signs) -> list[str]:
    """Names of the likely causes, the likeliest first; cites them."""
    names: list[str] = []
    for rule in _lists(ledger, signs):
        ledger.cite(rule)
        names += [name for name in rule.items or () if name not in names]
    mixed = ledger.book.find("crack.mixed_causes")
    if signs.low is not None:
        ledger.cite(mixed)
        level = signs.pattern in ("horizontal", "map")
        if signs.low > mixed.number() and not level and signs.place not in ("bearing", "retaining"):
            names = ["ground", *(name for name in names if name != "ground")]
    names = names[:_MOST_CAUSES]
    for name in names:
        ledger.rule(f"crack.cause.{name}")
    if "ground" in names:
        ledger.rule("crack.subsidence")
    return names


def _lists(ledger: Ledger, signs: Signs) -> list[Rule]:
    """The lists of causes for pattern and place together, else for each, else the usual ones."""
    known = ledger.book.records("crack.causes")

    def held(pattern: str | None, place: str | None) -> list[Rule]:
        wanted = {k: (v,) for k, v in (("kind", pattern), ("use", place)) if v}
        return [
            rule for rule in known
            if rule.when.conditions().keys() == wanted.keys()
            and rule.when.holds({k: v[0] for k, v in wanted.items()})
        ]  # fmt: skip

    pattern = signs.pattern
    if pattern == "map":
        return held(pattern, None)
    for place in signs.places:
        both = held(pattern, place) if pattern else []
        if both:
            return both
    by_place = next((found for place in signs.places if (found := held(None, place))), [])
    by_pattern = held(pattern, None) if pattern else []
    found = [*by_pattern, *by_place] if signs.place == "coat" else [*by_place, *by_pattern]
    return found or held(None, None)


def told(ledger: Ledger, names: list[str]) -> list[str]:
    """The causes as sentences: what it is, and how to tell it."""
    return [ledger.book.find(f"crack.cause.{name}").statement for name in names]


def checks(ledger: Ledger, signs: Signs, urgency: str) -> list[str]:
    """What to look at on the spot; nobody is sent up to a wall that may fall."""
    if urgency == "now" and (signs.leaning or signs.dropped):
        found = ledger.book.seek("crack.checks", use="danger")
    elif signs.pattern:
        found = ledger.book.seek("crack.checks", kind=signs.pattern)
    else:
        found = ledger.book.seek("crack.checks", use="coat" if signs.place == "coat" else None)
    rule = found or ledger.book.find("crack.checks")
    ledger.cite(rule)
    return list(rule.items or ())


def monitoring(ledger: Ledger) -> list[str]:
    """How to watch a crack."""
    rules = [
        ledger.rule(f"crack.monitor.{name}") for name in ("points", "interval", "length", "meaning")
    ]  # fmt: skip
    if "monitoring" in ledger.question.wants:
        rules.append(ledger.rule("crack.record"))
        ledger.rule("crack.monitor.glass")
        for other in ledger.book.others("crack.monitor.interval"):
            ledger.cite(other)
    return [rule.statement for rule in rules]


def repair(ledger: Ledger, signs: Signs, names: list[str], refer: bool) -> list[str]:
    """How such cracks are repaired; not before a person has looked where one must."""
    rules: list[Rule] = []
    if refer:
        rules.append(ledger.book.find("crack.caution.fill"))
    if signs.high is not None:
        rules.append(ledger.rule("crack.repair", kind=str(signs.high)))
    methods = [method for name in names for method in _METHODS.get(name, ())]
    if signs.high != 0:
        rules += [ledger.rule(f"crack.method.{name}") for name in list(dict.fromkeys(methods))[:2]]
        rules.append(ledger.rule("crack.method.live"))
    return [rule.statement for rule in rules]
