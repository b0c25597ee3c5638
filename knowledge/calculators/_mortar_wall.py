"""The wall to lay: its face, its units and the mortar that goes into it."""

from __future__ import annotations

from knowledge import yields
from knowledge.answers import Need, quantity
from knowledge.ledger import Ledger
from knowledge.pieces import sized_in
from knowledge.questions import Block, Opening, Quantity, Reading
from knowledge.stuff import tabled_mortar
from knowledge.units import convert


def missing(ledger: Ledger) -> Need | None:
    """What has to be asked before there is a wall to reckon with."""
    reading = ledger.reading
    if reading.area or reading.block_count or reading.mortar_volume:
        return None
    tall = reading.height or reading.courses
    if reading.length and tall:
        return None
    if reading.wall_volume is not None:
        return ledger.need("thickness", "How thick is that wall?")
    if reading.length:
        return ledger.need("height", "How high is the wall?", others=("area",))
    if tall:
        return ledger.need("length", "How long is the wall?", others=("area",))
    return ledger.need(
        "area", "How much wall is it: its area, or length and height?", others=("length", "height")
    )


class Unit:
    """Sizes of a unit in metres, the thickness of its wall and its joint."""

    def __init__(self, length: float, height: float, width: float, wall: float, joint: float) -> None:
        self.length, self.height, self.width, self.wall, self.joint = length, height, width, wall, joint


def unit_of(reading: Reading, ledger: Ledger, material: str, *, first: bool) -> Unit:
    block = reading.block if first and reading.block else Block()
    of_wall = reading.thickness if first and reading.leaf != "cavity" else None
    thickness = of_wall if block.thickness is None or of_wall is not None else block.thickness
    use = sized_in(ledger, material) if first else "metric"

    def size(said: Quantity | None, slot: str) -> float:
        if said is not None:
            return said.to("m")
        rule = ledger.book.find(f"assume.{slot}", material=material, use=use)
        if first:
            ledger.taken(slot, material=material, use=use)
        return convert(rule.number(), rule.unit, "m")

    joint = size(reading.joint_thickness, "joint_thickness")
    usual = ledger.book.find("assume.block_thickness", material=material, use=use)
    one = convert(usual.number(), usual.unit, "m")
    if block.thickness is not None and of_wall is not None:
        one = block.thickness.to("m")
    wall = size(thickness, "block_thickness")
    width = one if material in ("clay_brick", "calcium_silicate") else wall
    return Unit(size(block.length, "block_length"), size(block.height, "block_height"), width, wall, joint)


def face(ledger: Ledger, unit: Unit) -> float | None:
    """Face of wall to lay, m², openings out, all like walls together."""
    reading = ledger.reading
    if reading.block_count is not None:
        area = reading.block_count / yields.units_per_area(unit.length, unit.height, unit.joint)
        area /= yields.leaves(unit.wall, unit.width, unit.joint)
        ledger.step("face of these units", f"{reading.block_count} units, joints in", f"{area:.4g} m²")
        return area
    if reading.area is not None:
        gross = reading.area.to("m²")
    else:
        height = reading.height.to("m") if reading.height else None
        if height is None and reading.courses:
            height = reading.courses * (unit.height + unit.joint)
        if reading.length is None or height is None:
            return None
        half = 2 if reading.shape == "triangle" else 1
        gross = reading.length.to("m") * height / half
        over = " / 2" if half == 2 else ""
        ledger.step("wall face", f"{reading.length.to('m'):g} m × {height:g} m{over}", f"{gross:.4g} m²")
    out = sum(_hole(opening) for opening in reading.openings or ())
    if out:
        ledger.step("less openings", f"{gross:.4g} m² − {out:.4g} m²", f"{gross - out:.4g} m²")
    if any(not _hole(opening) for opening in reading.openings or ()):
        ledger.note("An opening without a size is not taken off.")
    walls = reading.walls or 1
    if walls > 1:
        ledger.step("like walls", f"{walls} × {gross - out:.4g} m²", f"{walls * (gross - out):.4g} m²")
    return (gross - out) * walls


def _hole(opening: Opening) -> float:
    """Area of an opening in m²; nothing where its size was not said."""
    if opening.area is not None:
        return opening.area.to("m²") * opening.count
    if opening.width is None or opening.height is None:
        return 0.0
    return opening.width.to("m") * opening.height.to("m") * opening.count


def mortar_in(ledger: Ledger, area: float, unit: Unit, material: str) -> float:
    tabled = tabled_mortar(ledger, area, material, unit.height, unit.joint)
    if tabled is not None:
        return tabled
    volume = yields.wall_mortar(
        area, length=unit.length, height=unit.height, unit=unit.width, wall=unit.wall, joint=unit.joint
    )
    count = area * yields.units_per_area(unit.length, unit.height, unit.joint)
    count *= yields.leaves(unit.wall, unit.width, unit.joint)
    mm = [f"{side * 1000:g}" for side in (unit.length, unit.height, unit.wall, unit.joint)]
    ledger.step(
        "mortar in the wall, full beds",
        f"{area:.4g} m² of {mm[0]} × {mm[1]} in {mm[2]} mm wall, {mm[3]} mm joints",
        f"{volume:.4g} m³",
    )
    if _is_usual(ledger, unit, material):
        _rule_of_thumb(ledger, material, count)
    return volume


def _is_usual(ledger: Ledger, unit: Unit, material: str) -> bool:
    """Whether these are the common sizes that a rule of thumb was made for."""
    sizes = {
        "block_length": unit.length, "block_height": unit.height, "block_thickness": unit.width,
        "joint_thickness": unit.joint,
    }  # fmt: skip
    usual = {slot: ledger.book.find(f"assume.{slot}", material=material).to("mm") for slot in sizes}
    return all(abs(size * 1000 - usual[slot]) < 1 for slot, size in sizes.items())


def _rule_of_thumb(ledger: Ledger, material: str, count: float) -> None:
    """The handbook's mass of mortar beside the geometry: frogs, squeezing out and waste are in it."""
    thumb = ledger.book.seek("mortar.rule_of_thumb", material=material)
    if thumb is None:
        return
    ledger.cite(thumb)
    mass = count * thumb.to("kg")
    ledger.step("by the rule of thumb", f"{count:.0f} × {thumb.to('kg'):g} kg, waste in", f"{mass:.0f} kg")
    before = ledger.results.get("rule_of_thumb_mass")
    ledger.result("rule_of_thumb_mass", quantity(mass + (before.value if before else 0), "kg", 0))
    sand = ledger.book.seek("mortar.sand_per_thousand", material=material)
    if sand is not None:
        ledger.cite(sand)
        tonnes = count / 1000 * sand.number()
        ledger.step(
            "sand by the rule of thumb", f"{count / 1000:.3g} × {sand.number():g} t", f"{tonnes:.2g} t"
        )


def shown(ledger: Ledger, value: float, unit: str) -> Quantity:
    """In the asker's feet where feet were said first, else metric."""
    if not ledger.feet:
        return quantity(value, unit)
    to = {"m²": "ft²", "m³": "ft³"}[unit]
    return quantity(convert(value, unit, to), to, 4)
