"""How much render: volume, cement, lime and sand of every coat together."""

from __future__ import annotations

from knowledge import shown, yields
from knowledge.answers import Decline, Need, quantity
from knowledge.bags import bag
from knowledge.faces import Face, measure
from knowledge.ledger import Ledger
from knowledge.mixes import spell
from knowledge.questions import Mix
from knowledge.shown import whole
from knowledge.stuff import PARTS, dry_stuff

AMOUNTS = frozenset({
    "render_volume", "order_volume", "cement_bags", "lime_bags", "sand_mass", "cement_mass", "lime_mass",
})  # fmt: skip


def amounts(ledger: Ledger, coats: list[tuple[Mix | None, float]]) -> Need | Decline | None:
    """Put the amounts into the ledger; coats are mixes with thicknesses in m, none for bagged stuff."""
    face = measure(ledger, sides=True)
    if not isinstance(face, Face):
        return face
    thick = sum(thickness for _, thickness in coats)
    ledger.result("net_area", shown.area(face.net, face.feet))
    ledger.rule("render.volume")
    volume = face.net * thick
    ledger.result("render_volume", shown.volume(volume, face.feet))
    net = shown.say(shown.area(face.net, face.feet))
    ledger.step("render on the wall", f"{net} × {thick * 1000:.4g} mm", shown.volume(volume, face.feet))
    percent = percent_over(ledger)
    order = yields.with_waste(volume, percent)
    ledger.result("order_volume", shown.volume(order, face.feet))
    was = shown.say(shown.volume(volume, face.feet))
    paid = ledger.book.seek("render.deduction")
    if paid is not None and face.holes:
        ledger.cite(paid)
        ledger.note(paid.statement)
    if percent:
        more = f"{was} × {1 + percent / 100:g}"
        ledger.step(f"with {percent:g} % waste", more, shown.volume(order, face.feet))
    mixed = [(mix, yields.with_waste(face.net * t, percent)) for mix, t in coats if mix is not None]
    if mixed:
        _materials(ledger, mixed)
        ledger.note(_stands_on(ledger, coats, percent))
    return None


def _stands_on(ledger: Ledger, coats: list[tuple[Mix | None, float]], percent: float) -> str:
    """The mix, thickness and waste that the amounts rest on, in one sentence."""
    said = ledger.reading.coat_thickness
    feet = ledger.feet if said is None else said.unit in ("in", "ft")
    mixes = list(dict.fromkeys(spell(mix) for mix, _ in coats if mix is not None))
    thick = sum(thickness for mix, thickness in coats if mix is not None)
    named = ", as you named it" if ledger.reading.mix else ""
    waste = f"{percent:g} % waste in" if percent else "no waste in"
    key = ", the key coat not" if "key_coat" in ledger.results else ""
    return (
        f"Amounts are for {shown.told(shown.thickness(thick, feet))} of {' and '.join(mixes)}{named}; "
        f"{waste}{key}."
    )


def percent_over(ledger: Ledger) -> float:
    """Waste in per cent, as said or by habit."""
    said = ledger.reading.waste
    if said is not None:
        return said.value
    rule = ledger.rule("render.waste")
    ledger.assume("waste", {"value": rule.number(), "unit": "%"}, rule.statement)
    return rule.number()


def _materials(ledger: Ledger, mixed: list[tuple[Mix, float]]) -> None:
    """Cement and lime in bags, sand in kg, rounded up once over all coats."""
    mass = dict.fromkeys(PARTS, 0.0)
    for mix, volume in _same(mixed):
        dry = dry_stuff(ledger, mix, volume)
        for name in PARTS:
            mass[name] += dry.mass[name]
            if name in dry.sums:
                ledger.step(name, dry.sums[name], quantity(dry.mass[name], "kg", 1))
    for name in ("cement", "lime"):
        ledger.result(f"{name}_bags", whole(mass[name] / bag(ledger, name)) if mass[name] else 0)
        ledger.result(f"{name}_mass", quantity(mass[name], "kg", 1))
    ledger.result("sand_mass", quantity(mass["sand"], "kg", 1))
    ledger.rule("render.damp_sand")


def _same(mixed: list[tuple[Mix, float]]) -> list[tuple[Mix, float]]:
    """Coats of one mix put together."""
    sums: dict[Mix, float] = {}
    for mix, volume in mixed:
        sums[mix] = sums.get(mix, 0.0) + volume
    return list(sums.items())
