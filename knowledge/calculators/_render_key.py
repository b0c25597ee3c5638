"""The key coat: which one the wall wants, one that was asked for by name, and how much of it."""

from __future__ import annotations

from typing import Any

from knowledge import shown, yields
from knowledge.answers import Decline, Need, Range
from knowledge.bags import bag
from knowledge.calculators._render_amounts import AMOUNTS, percent_over
from knowledge.calculators._render_coats import Job
from knowledge.faces import Face, measure
from knowledge.ledger import Ledger
from knowledge.mixes import spell
from knowledge.questions import Mix
from knowledge.records import Rule

NAMED = frozenset({"spatterdash", "stipple"})


def key_coat(ledger: Ledger, job: Job, wants: set[str]) -> None:
    """Which key coat, its mix, and the brushed slurry as its standing allows."""
    rule = ledger.rule("render.key_coat", kind=job.background)
    mixed = _put(ledger, str(rule.choice))
    if wants and not wants & {"key_coat", "coats"}:
        return
    ledger.note(mixed.statement if mixed is not None else rule.statement)
    if "key_coat" in wants:
        ledger.rule("render.joints_raked")
        for figure, facts in (("render.key_coat", {"kind": job.background}), ("render.joints_raked", {}),
                              ("render.key_mix", {"use": rule.choice})):  # fmt: skip
            for other in ledger.book.others(figure, **facts):
                ledger.cite(other)
        slurry = next(iter(ledger.book.others("render.key_coat", kind=job.background)), None)
        if slurry is not None and slurry.standing == "common practice":
            ledger.note(slurry.statement)


def named_coat(ledger: Ledger, job: Job, wants: set[str]) -> Need | Decline | None:
    """The key coat that was asked for by name, what this wall would want, and its amounts where sized."""
    name = next(one for one in sorted(NAMED) if one in wants)
    mixed = _put(ledger, name)
    if mixed is not None:
        ledger.note(mixed.statement)
    usual = ledger.rule("render.key_coat", kind=job.background)
    if usual.choice != name:
        ledger.note(usual.statement)
    reading = ledger.reading
    sized = reading.area is not None or bool(reading.length and (reading.height or reading.courses))
    if sized or wants & AMOUNTS:
        return _amounts(ledger, name)
    return None


def _put(ledger: Ledger, name: str) -> Rule | None:
    """The result, with mix and thickness where a document gives them; the record of the mix."""
    coat: dict[str, Any] = {"name": name}
    mixed = ledger.book.seek("render.key_mix", use=name)
    if mixed is not None and mixed.mix is not None:
        ledger.cite(mixed)
        coat["mix"] = _mix(mixed)
        if mixed.mix.sand[0] != mixed.mix.sand[1]:
            coat["sand"] = Range(min=mixed.mix.sand[0], max=mixed.mix.sand[1])
    thick = ledger.book.seek("render.key_thickness", use=name)
    if thick is not None and thick.min is not None and thick.max is not None:
        ledger.cite(thick)
        coat["thickness"] = Range(min=thick.min, max=thick.max, unit=thick.unit)
    ledger.result("key_coat", coat)
    return mixed


def _mix(rule: Rule) -> Mix:
    assert rule.mix is not None
    return Mix(cement=rule.mix.cement[1], sand=rule.mix.sand[1])


def _amounts(ledger: Ledger, name: str) -> Need | Decline | None:
    """Volume, cement and sand from the thinnest to the thickest; none where no document gives a thickness."""
    face = measure(ledger, sides=True)
    if not isinstance(face, Face):
        return face
    ledger.result("net_area", shown.area(face.net, face.feet))
    thick = ledger.book.seek("render.key_thickness", use=name)
    mixed = ledger.book.seek("render.key_mix", use=name)
    if thick is None or thick.min is None or thick.max is None or mixed is None or mixed.mix is None:
        ledger.note(f"No published thickness for a {name} coat, so no amounts: see what a first patch takes.")
        return None
    mix, percent = _mix(mixed), percent_over(ledger)
    share = ledger.rule("mortar.yield", ratio=mix.sand / mix.cement).number()
    heavy = {part: ledger.rule("mortar.density", kind=part).to("kg/m³") for part in ("cement", "sand")}
    one = bag(ledger)
    ends = []
    for mm in thick.span("mm"):
        volume = yields.with_waste(face.net * mm / 1000, percent)
        parts = yields.by_sand(volume, share, mix.cement, 0, mix.sand)
        ends.append((volume, parts["cement"] * heavy["cement"], parts["sand"] * heavy["sand"]))
        ledger.step(f"{name} of {mm:g} mm", f"{face.net:.4g} m² × {mm:g} mm, {percent:g} % waste",
                    shown.volume(volume, face.feet))  # fmt: skip
    (least, cement, sand), (most, cement_most, sand_most) = ends
    volumes = [shown.volume(volume, face.feet) for volume in (least, most)]
    ledger.result("key_coat_volume", Range(min=volumes[0].value, max=volumes[1].value, unit=volumes[0].unit))
    bags = [shown.whole(mass / one) for mass in (cement, cement_most)]
    ledger.result("key_coat_cement_bags", Range(min=bags[0], max=bags[1]))
    ledger.result("key_coat_sand_mass", Range(min=round(sand, 1), max=round(sand_most, 1), unit="kg"))
    ledger.note(
        f"Amounts are for the {name} alone, {spell(mix)}, {thick.min:g} to {thick.max:g} mm, "
        f"{_waste_said(percent)}; the bonding agent by its label."
    )
    return None


def _waste_said(percent: float) -> str:
    return f"{percent:g} % waste in" if percent else "no waste in"
