"""What a block or a bag weighs against the published guidance on lifting."""

from __future__ import annotations

from knowledge.answers import quantity
from knowledge.ledger import Ledger
from knowledge.questions import Block, Quantity
from knowledge.shown import say
from knowledge.units import convert

_INCHES = frozenset({"in", "ft"})


def weigh(ledger: Ledger) -> None:
    """The mass of what is lifted, and whether it is over the guidance."""
    limit = ledger.rule("safety.lift.limit")
    ledger.result("limit", quantity(limit.number(), limit.unit))
    reading = ledger.reading
    bag = reading.bag_size
    if bag is not None and reading.block is None:
        ledger.rule("safety.lift.bags")
        ledger.result("bag_mass", quantity(bag.to("kg"), "kg", 2))
        _judge(ledger, bag.to("kg"), limit.to("kg"), f"A bag of {say(bag)}")
        return
    mass = _mass(ledger, reading.block or Block())
    if mass is None:
        return
    ledger.result("block_mass", quantity(mass, "kg", 2))
    _judge(ledger, mass, limit.to("kg"), f"A block of about {mass:.3g} kg")
    if reading.block is None or reading.block.mass is None:
        ledger.note(ledger.rule("safety.lift.wet").statement)


def _judge(ledger: Ledger, mass: float, limit: float, what: str) -> None:
    ledger.result("over_limit", mass > limit)
    if mass > limit:
        ledger.note(
            f"{what} is over {limit:g} kg: not for one person to lay all day. Machine or lighter block."
        )
    else:
        ledger.note(f"{what} is within {limit:g} kg; the risk still grows with height, reach and number.")


def _mass(ledger: Ledger, block: Block) -> float | None:
    """In kg: as said, or size by density; None for stone without a size."""
    if block.mass is not None:
        return block.mass.to("kg")
    kind = block.material or (None if _sized(block) and block.density else _material(ledger))
    sides = [_side(ledger, name, block, kind) for name in ("length", "height", "thickness")]
    if any(side is None for side in sides):
        ledger.note("Send the size of the stone for its weight.")
        return None
    volume = 1.0
    for side in sides:
        volume *= side or 0.0
    density = _density(ledger, block, kind)
    mass = volume * density
    sizes = " × ".join(f"{side:.4g} m" for side in sides)
    ledger.step("mass", f"{sizes} × {density:.4g} kg/m³", quantity(mass, "kg", 2))
    return mass


def _sized(block: Block) -> bool:
    return None not in (block.length, block.height, block.thickness)


def _material(ledger: Ledger) -> str:
    return str(ledger.taken("material").choice)


def _side(ledger: Ledger, name: str, block: Block, kind: str | None) -> float | None:
    """A side in metres, as said or the common one of its material."""
    said: Quantity | None = getattr(block, name)
    if said is None and name == "thickness":
        said = ledger.reading.thickness
    if said is not None:
        return said.to("m")
    if kind == "stone":
        return None
    others = (block.length, block.height, block.thickness, ledger.reading.thickness)
    inches = any(one is not None and one.unit in _INCHES for one in others)
    rule = ledger.taken(f"block_{name}", material=kind, use="inches" if inches else None)
    return convert(rule.number(), rule.unit, "m")


def _density(ledger: Ledger, block: Block, kind: str | None) -> float:
    """In kg/m³, as said or by material and strength."""
    if block.density is not None:
        return block.density.to("kg/m³")
    strength = block.strength.to("N/mm²") if block.strength else None
    rule = ledger.rule("safety.density", material=kind, strength=strength)
    ledger.assume("density", {"value": rule.number(), "unit": rule.unit}, rule.statement)
    return rule.to("kg/m³")
