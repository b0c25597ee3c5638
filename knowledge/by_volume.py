"""A wall told by its volume, as brickwork is measured in some countries: its face, by its thickness."""

from __future__ import annotations

from typing import TYPE_CHECKING

from knowledge.answers import quantity
from knowledge.questions import Reading

if TYPE_CHECKING:
    from knowledge.ledger import Ledger


def by_volume(ledger: Ledger, reading: Reading) -> Reading:
    """The reading with the face of the wall in place of its volume; as it is with no thickness."""
    volume = reading.wall_volume
    if volume is None or reading.area is not None or reading.length is not None:
        return reading
    block = reading.block
    thickness = reading.thickness or (block.thickness if block is not None else None)
    if thickness is None:
        material = block.material if block is not None else None
        usual = ledger.book.seek("assume.wall_thickness", material=material)
        if usual is None:
            return reading
        ledger.taken("wall_thickness", material=material)
        ledger.cite(usual)
        thickness = quantity(usual.number(), usual.unit)
    area = volume.to("m³") / thickness.to("m")
    ledger.step("face of the wall", f"{volume.to('m³'):g} m³ / {thickness.to('m'):g} m", f"{area:.4g} m²")
    return reading.model_copy(update={"area": quantity(area, "m²"), "thickness": thickness})
