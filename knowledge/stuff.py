"""Cement, lime and sand in a volume of mortar or render, as the region reckons them."""

from __future__ import annotations

from dataclasses import dataclass

from knowledge import shown, yields
from knowledge.ledger import Ledger
from knowledge.mixes import column
from knowledge.questions import Mix

PARTS = ("cement", "lime", "sand")


@dataclass(frozen=True)
class Stuff:
    """Kilograms and loose volumes in m³ by part, and the sum behind each mass."""

    mass: dict[str, float]
    volume: dict[str, float]
    sums: dict[str, str]


def tabled_mortar(ledger: Ledger, area: float, material: str, height: float, joint: float) -> float | None:
    """Mortar of a wall face by the region's table, the waste in it taken off, m³; None: it has no table."""
    sizes = {"height": round(height * 1000, 3), "width": round(joint * 1000, 3)}
    rule = ledger.book.seek("mortar.per_area", material=material, **sizes)
    if rule is None:
        return None
    ledger.cite(rule)
    waste = ledger.book.find("mortar.waste", material=material).number()
    volume = area * rule.to("m³/m²") / (1 + waste / 100)
    face, net = shown.area(area, ledger.feet), shown.volume(volume, ledger.feet)
    ledger.step(
        "mortar by the table",
        f"{shown.say(face)} × {rule.number():g} {rule.unit}, less the {waste:g} % of waste in it",
        net,
    )
    return volume


def sand_share(ledger: Ledger, mix: Mix) -> float:
    """Loose sand to one volume of mortar, as the region reckons it."""
    model = ledger.book.seek("mortar.yield_model")
    if model is not None and model.choice == "dry_factor":
        ledger.cite(model)
        return ledger.rule("mortar.dry_factor").number() * mix.sand / (mix.cement + mix.lime + mix.sand)
    return ledger.rule("mortar.yield", ratio=mix.sand / (mix.cement + mix.lime)).number()


def dry_stuff(ledger: Ledger, mix: Mix, volume: float) -> Stuff:
    """Sand fills the mortar, or one dry factor makes it all; cement by a table of masses where one is."""
    density = {name: ledger.rule("mortar.density", kind=name).to("kg/m³") for name in PARTS}
    model = ledger.book.seek("mortar.yield_model")
    if model is not None and model.choice == "dry_factor":
        ledger.cite(model)
        factor = ledger.rule("mortar.dry_factor").number()
        parts = yields.by_dry_factor(volume, factor, mix.cement, mix.lime, mix.sand)
        whole = mix.cement + mix.lime + mix.sand
    else:
        factor = ledger.rule("mortar.yield", ratio=mix.sand / (mix.cement + mix.lime)).number()
        parts = yields.by_sand(volume, factor, mix.cement, mix.lime, mix.sand)
        whole = mix.sand
    mass = {name: parts[name] * density[name] for name in PARTS}
    sums = {
        name: f"{volume:.4g} m³ × {factor:g} × {getattr(mix, name):g}/{whole:g} × {density[name]:g} kg/m³"
        for name in PARTS
        if parts[name]
    }
    table = None
    if mix.cement:
        ratio = round(mix.sand / mix.cement, 6)
        table = ledger.book.seek("mortar.cement_mass", ratio=ratio, use=column(mix))
    if table is not None:
        ledger.cite(table)
        mass["cement"] = volume * table.number()
        sums["cement"] = f"{volume:.4g} m³ × {table.number():g} kg/m³, by the table"
    return Stuff(mass, parts, sums)
