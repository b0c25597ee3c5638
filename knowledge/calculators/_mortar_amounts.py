"""How much: cement, lime and sand to order for a wall, or for a volume of mortar."""

from __future__ import annotations

from collections.abc import Sequence
from math import ceil

from knowledge import yields
from knowledge.answers import Need, quantity
from knowledge.bags import bag
from knowledge.calculators._mortar_wall import face, mortar_in, shown, unit_of
from knowledge.ledger import Ledger
from knowledge.questions import Mix
from knowledge.stuff import PARTS, dry_stuff

AMOUNTS = (
    "mortar_volume", "cement_bags", "lime_bags", "sand_mass", "cement_mass", "lime_mass", "sand_volume",
    "sand_bulk_bags",
)  # fmt: skip


def amounts(ledger: Ledger, materials: Sequence[str], mixes: Sequence[Mix | None]) -> Need | None:
    """Put the amounts into the ledger where the wall is known; a Need where the openings outgrow it."""
    reading = ledger.reading
    if reading.mortar_volume is not None:
        if reading.bags is None and reading.buckets is None and mixes[0] is not None:
            volume = reading.mortar_volume.to("m³")
            ledger.note("No waste added: the volume is as you gave it.")
            _order(ledger, [(mixes[0], volume)], 0.0)
        return None
    if not (reading.block_count or reading.area or (reading.length and (reading.height or reading.courses))):
        return None
    if "stone" in materials and not (reading.block and reading.block.length and reading.block.height):
        if set(AMOUNTS) & set(ledger.question.wants):
            return ledger.need("block", "How big are the stones: length, height and thickness?")
        ledger.note("No amounts for stone without the size of the stones.")
        return None
    units = [unit_of(reading, ledger, material, first=place == 0) for place, material in enumerate(materials)]
    area = face(ledger, units[0])
    if area is None:
        return None
    if area <= 0:
        return ledger.need("openings", "The openings are bigger than the wall: which sizes are right?")
    volumes = [
        mortar_in(ledger, area, unit, material) for unit, material in zip(units, materials, strict=True)
    ]
    total = sum(volumes)
    ledger.result("mortar_volume", shown(ledger, total, "m³"))
    if reading.block_count is None:
        ledger.result("net_area", shown(ledger, area, "m²"))
    if len(volumes) > 1:
        for material, volume in zip(materials, volumes, strict=True):
            leaf = "outer" if material == "clay_brick" else "inner"
            ledger.result(f"{leaf}_mortar_volume", shown(ledger, volume, "m³"))
    percent = (
        reading.waste.value if reading.waste else ledger.rule("mortar.waste", material=materials[0]).number()
    )
    if reading.waste is None:
        ledger.assume(
            "waste",
            {"value": percent, "unit": "%"},
            ledger.rule("mortar.waste", material=materials[0]).statement,
        )
    laid = [(mix, volume) for mix, volume in zip(mixes, volumes, strict=True) if mix is not None]
    if len(laid) < len(volumes):
        ledger.note("The bag says how much wall it covers; the volume is net, on full beds.")
        return None
    _order(ledger, laid, percent)
    thumb = ledger.results.get("rule_of_thumb_mass")
    if thumb is not None:
        dry = sum(ledger.results[f"{name}_mass"].value for name in ("cement", "lime", "sand"))
        ledger.result("dry_mass", quantity(dry, "kg", 0))
        ledger.note(
            f"Full beds and waste make {dry:.0f} kg of dry stuff; a handbook's rule of thumb, all that is "
            f"squeezed out and dropped in it, comes to {thumb.value:.0f} kg of mortar."
        )
    return None


def _order(ledger: Ledger, laid: Sequence[tuple[Mix, float]], percent: float) -> None:
    """Cement, lime and sand of the mortar, waste in; bags rounded up once, at the end."""
    mass = dict.fromkeys(PARTS, 0.0)
    sand_volume = 0.0
    for mix, net in laid:
        volume = yields.with_waste(net, percent)
        if percent:
            ledger.step("with waste", f"{net:.4g} m³ × (1 + {percent:g} / 100)", f"{volume:.4g} m³")
        dry = dry_stuff(ledger, mix, volume)
        for name in PARTS:
            mass[name] += dry.mass[name]
            if name in dry.sums:
                ledger.step(name, dry.sums[name], f"{dry.mass[name]:.4g} kg")
        _by_factor(ledger, mix, volume)
        sand_volume += dry.volume["sand"]
    for name in ("cement", "lime"):
        ledger.result(f"{name}_mass", quantity(mass[name], "kg", 3))
        ledger.result(f"{name}_bags", ceil(mass[name] / bag(ledger, name) - 1e-9) if mass[name] else 0)
    ledger.result("sand_mass", quantity(mass["sand"], "kg", 3))
    ledger.result("sand_volume", quantity(sand_volume, "m³"))
    if ledger.book.seek("assume.bulk_bag") is not None:
        bulk = ledger.taken("bulk_bag").to("kg")
        ledger.result("sand_bulk_bags", ceil(mass["sand"] / bulk - 1e-9))
    said = f"with {percent:g} % waste" if percent else "without waste"
    ledger.note(f"Bags and sand are {said}; the sand is dry and loose, damp it weighs more.")
    ledger.rule("mortar.dry_sand")


def _by_factor(ledger: Ledger, mix: Mix, volume: float) -> None:
    """Cement by one dry factor, shown beside the sum."""
    other = ledger.rule("mortar.dry_factor")
    density = ledger.rule("mortar.density", kind="cement").to("kg/m³")
    cement = yields.by_dry_factor(volume, other.number(), mix.cement, mix.lime, mix.sand)["cement"] * density
    whole = mix.cement + mix.lime + mix.sand
    ledger.step(
        "cement by the other model",
        f"{volume:.4g} m³ × {other.number():g} × {mix.cement:g}/{whole:g} × {density:g} kg/m³",
        f"{cement:.4g} kg",
    )
