"""The limits of one wall: material, place, ends, and how far apart its joints may stand."""

from __future__ import annotations

import math
from dataclasses import dataclass, replace
from typing import Any

from knowledge import shown
from knowledge.layout import EPS
from knowledge.ledger import Ledger
from knowledge.pieces import wall_height
from knowledge.questions import Block, Opening, Quantity
from knowledge.records import Rule
from knowledge.units import convert

_REINFORCEMENT = 1000.0  # mm: a spacing named below this is one of reinforcement or ties, not of joints


@dataclass(frozen=True)
class Limits:
    """Metres. `corner` is the most, `least` the least, for an end panel at a return."""

    material: str
    place: str
    spacing: float
    corner: float
    ends: tuple[str, str]
    facts: dict[str, Any]
    least: float = 0.0

    @property
    def sides(self) -> tuple[float, float]:
        """The most for the left and the right end panel."""
        left, right = self.ends
        return (
            self.corner if left == "return" else self.spacing,
            self.corner if right == "return" else self.spacing,
        )


def low(rule: Rule) -> float:
    """The figure, or the lower end of its range."""
    if rule.value is not None:
        return rule.value
    if rule.min is None:
        raise ValueError(f"rule {rule.id!r} has neither value nor least")
    return rule.min


def metres(rule: Rule) -> float:
    """The figure in metres."""
    return convert(low(rule), rule.unit, "m")


def named_spacing(ledger: Ledger) -> Quantity | None:
    """A spacing of joints that the asker names; one of reinforcement is not meant."""
    said = ledger.reading.spacing
    return said if said is not None and said.to("mm") >= _REINFORCEMENT else None


def closer(ledger: Ledger, limit: Limits) -> Limits:
    """The limits of a wall whose joints the asker wants closer than the rule does; else those of the rule."""
    said, reading = named_spacing(ledger), ledger.reading
    if said is None or reading.joint_at or reading.joint_count or said.to("m") >= limit.spacing - EPS:
        return limit
    share = ledger.book.find("joints.end_share", material=limit.material).number()
    return replace(limit, spacing=said.to("m"), corner=min(limit.corner, share * said.to("m")))


def limits(ledger: Ledger, with_ends: bool = True) -> Limits:
    """What holds for this wall; says what was assumed and cites what was used."""
    reading = ledger.reading
    block = reading.block or Block()
    material = block.material or str(ledger.taken("material").choice)
    place = reading.place or str(ledger.taken("place", use="joints").choice)
    facts: dict[str, Any] = {"material": material, "place": place}
    if block.height is not None:
        facts["height"] = block.height.to("mm")
    if reading.openings:
        facts["kind"] = _opened(ledger)
    if reading.bed_reinforcement:
        facts |= _reinforcement(ledger, material, place)
    rule = ledger.rule("joints.spacing", **facts)
    spacing, corner = min(metres(rule), _height_most(ledger)), 0.0
    if place == "parapet":
        share = ledger.rule("joints.parapet_share", material=material)
        most = ledger.book.seek("joints.parapet_end", material=material)
        halved = spacing * share.number()
        ledger.step(
            "spacing in a parapet", f"{share.number():g} × {spacing:g} m", shown.length(halved, False)
        )
        spacing = halved
        if most is not None:
            ledger.cite(most)
            corner = metres(most)
    half = ledger.rule("joints.end_share", material=material).number() * spacing
    band = ledger.book.seek("joints.end_most", material=material)
    if band is not None:
        ledger.cite(band)
        half = min(half, metres(band))
    corner = min(corner, half) if corner else half
    near = ledger.book.seek("joints.end_least", material=material)
    if near is not None:
        ledger.cite(near)
    ends = _ends(ledger) if with_ends else ("return", "return")
    if with_ends and set(ends) != {"return"}:
        ledger.rule("joints.free_end")
    return Limits(material, place, spacing, corner, ends, facts, metres(near) if near is not None else 0.0)


def by_height(ledger: Ledger) -> Rule | None:
    """The rule that ties the length of a panel to the height of the wall, where the region has one."""
    block = ledger.reading.block
    said = block.material if block is not None else None
    material = said or ledger.book.find("assume.material").choice
    return ledger.book.seek("joints.height_share", material=material)


def _height_most(ledger: Ledger) -> float:
    """What the height of the wall allows for a panel, in metres; said where the height is not known."""
    share, height = by_height(ledger), wall_height(ledger)
    if share is None:
        return math.inf
    ledger.cite(share)
    if height is None:
        ledger.note(share.statement)
        return math.inf
    most, feet = share.number() * height, ledger.feet
    tall = shown.say(shown.length(height, feet))
    ledger.step("panel by the height", f"{share.number():g} × {tall}", shown.length(most, feet))
    return most


def counts(ledger: Ledger, hole: Opening) -> bool:
    """Whether an opening counts: larger, either way, than those that the region lets pass; or not sized."""
    small = ledger.book.seek("joints.small_opening")
    return small is None or any(
        size is None or size.to("mm") > small.to("mm") + 1e-6 for size in (hole.width, hole.height)
    )


def _opened(ledger: Ledger) -> str | None:
    """The fact that the wall has an opening that counts."""
    small = ledger.book.seek("joints.small_opening")
    if small is not None:
        ledger.cite(small)
    return "opening" if any(counts(ledger, hole) for hole in ledger.reading.openings or ()) else None


def _reinforcement(ledger: Ledger, material: str, place: str) -> dict[str, Any]:
    """Facts of bed joint reinforcement, and the word on it where it lengthens nothing."""
    said = ledger.reading.spacing
    every: float | None = None
    if said is not None and named_spacing(ledger) is None:
        every = said.to("mm")
    facts = {"bed_reinforcement": True, "spacing": every}
    if every is None:
        facts["spacing"] = round(ledger.book.find("joints.reinforcement_spacing").to("mm"), 6)
    longer = ledger.book.find("joints.spacing", material=material, place=place, **facts)
    if longer.when.bed_reinforcement:
        if every is None:
            ledger.rule("joints.reinforcement_spacing")
        ledger.note(longer.statement)
        return facts
    if place in ("parapet", "freestanding", "below_dpc") and material != "aac":
        word = ledger.rule("joints.reinforced", place=place, use="place")
    else:
        word = ledger.rule("joints.reinforced", material=material)
    ledger.note(word.statement)
    return {}


def _ends(ledger: Ledger) -> tuple[str, str]:
    said = ledger.reading.ends or (None, None)
    usual = ledger.book.find("assume.ends")
    filled = (said[0] or str(usual.choice), said[1] or str(usual.choice))
    if None in said:
        ledger.assume("ends", list(filled), usual.statement)
    return filled


def alternatives(ledger: Ledger, limit: Limits, over: float) -> str | None:
    """What another document says that goes further than the default; None where none does."""
    best: tuple[float, Rule] | None = None
    for rule in ledger.book.others("joints.spacing", **limit.facts):
        most = rule.value if rule.value is not None else (rule.max or 0.0)
        if most > over + 1e-9 and (best is None or most > best[0]):
            best = (most, rule)
    if best is None:
        return None
    ledger.cite(best[1])
    return best[1].statement
