"""Design strength of the wall under a bearing: block, mortar, joints, and what was assumed for them."""

from __future__ import annotations

from dataclasses import dataclass
from typing import cast

from knowledge import bearings
from knowledge.answers import Decline, quantity
from knowledge.ledger import Ledger
from knowledge.questions import Block
from knowledge.records import Rule, Table

SOLID = ("aac", "aggregate")


@dataclass(frozen=True)
class Strength:
    """Characteristic strength of the masonry and its partial factor."""

    characteristic: float
    partial: float

    @property
    def design(self) -> float:
        return self.characteristic / self.partial


def numbers(rule: Rule) -> dict[str, float]:
    """A table of two columns, name and value."""
    table = cast(Table, rule.table)
    return {str(name): float(value) for name, value in table.rows}


def strength(ledger: Ledger, thickness: float) -> Strength | Decline:
    """Strength of the wall in N/mm²; `thickness` in mm. Declines what the formula is not for."""
    reading = ledger.reading
    block = reading.block or Block()
    material = block.material or str(ledger.taken("material").choice)
    if material not in SOLID:
        return ledger.decline(
            "I reckon this for aircrete and solid concrete block only. For brick or stone send the load and "
            "the wall to a structural engineer."
        )
    unit = _unit(ledger, block, material, thickness)
    if isinstance(unit, Decline):
        return unit
    joint = reading.joint_thickness
    most = ledger.book.find("bearing.thin_joint").span("mm")[1]
    thin = joint is not None and joint.to("mm") <= most
    if thin:
        ledger.rule("bearing.thin_joint")
    mortar = _mortar(ledger, unit, thin)
    if isinstance(mortar, Decline):
        return mortar
    k = ledger.rule("bearing.k", material=material, thin_joint=thin)
    for other in ledger.book.others("bearing.k", material=material, thin_joint=thin):
        ledger.cite(other)
    a = ledger.rule("bearing.unit_power", thin_joint=thin).number()
    b = ledger.rule("bearing.mortar_power", thin_joint=thin).number()
    found = bearings.masonry_strength(k.number(), unit, mortar, a, b)
    sum_ = f"{k.number():g} × {unit:.3f}^{a:g}" + ("" if thin else f" × {mortar:g}^{b:g}")
    ledger.step("strength of masonry f_k, N/mm²", sum_, round(found, 3))
    partial = ledger.rule("bearing.partial")
    for other in ledger.book.others("bearing.partial"):
        ledger.cite(other)
    ledger.assume("site_control", "class 2, blocks of category I", partial.statement)
    ledger.step(
        "design strength f_d, N/mm²",
        f"{found:.3f} ÷ {partial.number():g}",
        round(found / partial.number(), 3),
    )
    ledger.result("masonry_strength", quantity(found, "N/mm²", 3))
    return Strength(found, partial.number())


def _unit(ledger: Ledger, block: Block, material: str, thickness: float) -> float | Decline:
    """Normalised strength of the block, N/mm²."""
    if block.strength is not None:
        declared = block.strength.to("N/mm²")
    else:
        declared = ledger.taken("strength", material=material, use="bearing").to("N/mm²")
    ledger.assume("block_kind", "solid (group 1)", "Hollow and cellular block is not for this sum.")
    if block.height is not None:
        height = block.height.to("mm")
    else:
        height = ledger.taken("block_height", material=material, use="metric").to("mm")
    rule = ledger.rule("bearing.shape")
    table = cast(Table, rule.table)
    widths = [float(name) for name in table.columns[1:]]
    rows = [[float(cell) for cell in row] for row in table.rows]
    if declared <= 0 or height < rows[0][0]:
        return ledger.decline(
            "Units so flat or without strength are not for this sum: ask a structural engineer."
        )
    least = min(thickness, block.thickness.to("mm") if block.thickness is not None else thickness)
    shape = bearings.shape_factor(rows, widths, height, least)
    unit = declared * shape
    ledger.step("strength of block f_b, N/mm²", f"{declared:g} × {shape:.3g}", round(unit, 3))
    most = ledger.book.find("bearing.unit_most")
    if unit > most.number():
        ledger.cite(most)
        return ledger.decline(f"{most.statement} Ask a structural engineer.")
    return unit


def _mortar(ledger: Ledger, unit: float, thin: bool) -> float | Decline:
    """Strength of the mortar that counts, N/mm²; none in thin joints."""
    if thin:
        return 1.0
    said = ledger.reading.mortar_class
    name = said if said is not None else str(ledger.taken("mortar_class", use="bearing").choice)
    rule = ledger.book.seek("bearing.mortar_strength", kind=name)
    if rule is None:
        return ledger.decline(f"I have no strength for mortar {name}: send M2, M4, M6 or M12.")
    ledger.cite(rule)
    ratio = ledger.book.find("bearing.mortar_ratio")
    if rule.number() > ratio.number() * unit:
        ledger.cite(ratio)
        return ratio.number() * unit
    return rule.number()
