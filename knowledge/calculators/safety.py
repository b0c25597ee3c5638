"""What to do first after a splash or a burn; then dust, lifting, lime, new walls and what to wear."""

from __future__ import annotations

from knowledge import shown
from knowledge.answers import Finding, quantity
from knowledge.calculators._safety_lift import weigh
from knowledge.ledger import Ledger
from knowledge.pieces import course_height
from knowledge.questions import Quantity, Question
from knowledge.rulebook import RuleBook
from knowledge.units import convert

# What somebody who is hurt must do, in this order.
_FIRST: dict[str, tuple[str, ...]] = {
    "eye": ("eye.wash", "eye.time"),
    "skin_burn": ("skin.wash", "skin.time"),
    "swallowed": ("swallowed.rinse", "swallowed.call"),
    "mouth": ("mouth.rinse", "mouth.doctor"),
    "breathing": ("breathing.air",),
}
# Shown among the rules, not among the measures: a phone screen is small.
_BEHIND: dict[str, tuple[str, ...]] = {
    "eye": ("eye.harm",),
    "skin_burn": ("skin.trapped", "skin.alkali"),
    "dust": ("dust.aac", "dust.water.saw", "dust.water.tiles", "dust.saw"),
    "lifting": ("lift.no_law", "lift.filter"),
    "height": ("height.overhand",),
    "ppe": ("skin.allergy", "skin.chromium", "skin.welfare"),
}
_KINDS = (
    "swallowed", "mouth", "eye", "skin_burn", "breathing", "dust", "lifting", "lime", "mixer", "day_lift",
    "new_wall",
    "height", "ppe",
)  # fmt: skip
_MEASURES = 6


def answer(question: Question, book: RuleBook) -> list[Finding]:
    """Measures for the hazards that were named; general ones where none was."""
    ledger = Ledger(question, book)
    kinds = [kind for kind in _KINDS if kind in question.wants]
    if not kinds:
        kinds = ["lifting"] if _only_weight(question) else ["general"]
    for kind in kinds:
        for name in _FIRST.get(kind, ()):
            ledger.first(ledger.rule(f"safety.{name}").statement)
    if "lifting" in kinds:
        weigh(ledger)
    ledger.result("measures", _measures(ledger, kinds))
    for kind in kinds:
        for name in _BEHIND.get(kind, ()):
            ledger.rule(f"safety.{name}")
    if "dust" in kinds:
        _dust(ledger)
    if "new_wall" in kinds:
        _keep_clear(ledger)
    if "day_lift" in kinds:
        _day_lift(ledger)
    _cautions(ledger, kinds)
    lead = ("lift_a_day", "block_mass", "bag_mass", "over_limit", "keep_clear", "measures")
    return [ledger.answer(*lead)]


def _only_weight(question: Question) -> bool:
    """A block and nothing else about it: its weight is meant."""
    block = question.reading.block
    return bool({"block_mass", "mass"} & set(question.wants)) or (
        block is not None and block.mass is not None
    )


def _measures(ledger: Ledger, kinds: list[str]) -> list[str]:
    """The measures of all hazards named, the first few of each where there are several."""
    share = max(2, _MEASURES // len(kinds))
    lines: list[str] = []
    for kind in kinds:
        for name in (ledger.book.find("safety.measures", kind=kind).items or ())[:share]:
            line = ledger.rule(f"safety.{name}").statement
            if line not in lines:
                lines.append(line)
    return lines


def _dust(ledger: Ledger) -> None:
    """The limit of silica, and those of other countries."""
    limit = ledger.book.seek("safety.dust.limit")
    if limit is not None:
        ledger.cite(limit)
        ledger.result("exposure_limit", Quantity(value=limit.number(), unit="mg/m³"))
    for other in ledger.book.others("safety.dust.limit"):
        ledger.cite(other)


def _day_lift(ledger: Ledger) -> None:
    """How much wall is raised in a day, where the region has a figure for it."""
    rule = ledger.book.seek("safety.wall.lift")
    if rule is None or rule.value is None:
        return
    most = rule.to("m")
    ledger.result("lift_a_day", shown.length(most, ledger.feet))
    raised = _raised(ledger)
    if raised is not None:
        size = shown.told(shown.length(raised, ledger.feet))
        ledger.note(f"{size} is {'more than' if raised > most else 'within'} that.")


def _raised(ledger: Ledger) -> float | None:
    """Metres that were raised, by a height or by courses; None where neither was said."""
    height, courses = ledger.reading.height, ledger.reading.courses
    if height is not None:
        return height.to("m")
    if courses is None:
        return None
    course = course_height(ledger)
    ledger.step(
        "height raised", f"{courses} courses × {course:g} m", shown.length(courses * course, ledger.feet)
    )
    return courses * course


def _keep_clear(ledger: Ledger) -> None:
    """How wide to keep clear beside a wall of known height, by the rule of another country."""
    zone = ledger.rule("safety.wall.zone")
    for other in ledger.book.others("safety.wall.zone"):
        ledger.cite(other)
    height = ledger.reading.height
    if height is None:
        return
    feet = ledger.feet
    more = convert(zone.number(), zone.unit, "m")
    clear = shown.length(height.to("m") + more, feet)
    ledger.result("keep_clear", quantity(clear.value, clear.unit, 2))
    ledger.step("keep clear", f"{shown.say(height)} + {shown.say(shown.length(more, feet))}", clear)
    ledger.note(zone.why or zone.statement)


def _cautions(ledger: Ledger, kinds: list[str]) -> None:
    if any(kind in _FIRST for kind in kinds):
        ledger.caution("safety.caution.doctor")
    if {"new_wall", "day_lift"} & set(kinds):
        ledger.caution("safety.caution.brace")
    if {"mixer", "lime", "ppe", "general"} & set(kinds):
        ledger.caution("cautions.mortar_skin")
    ledger.caution("safety.caution.local")
