"""Blocks laid on the flat: their thickness makes the course, their height the wall."""

from __future__ import annotations

from typing import TYPE_CHECKING

from knowledge.answers import quantity
from knowledge.questions import Quantity, Reading

if TYPE_CHECKING:
    from knowledge.ledger import Ledger


def laid(ledger: Ledger, reading: Reading) -> Reading:
    """The reading with the sizes of the block turned, where it is laid on the flat."""
    block = reading.block
    if block is None or block.laid is None:
        return reading
    usual = ledger.book.seek("assume.material")
    material = block.material or (usual.choice if usual is not None else None)

    def side(said: Quantity | None, slot: str) -> Quantity:
        if said is not None:
            return said
        rule = ledger.taken(slot, material=material, use="metric")
        return quantity(rule.number(), rule.unit)

    up, across = side(block.thickness, "block_thickness"), side(block.height, "block_height")
    ledger.note(
        "On the flat: a course is as high as the block is thick, and the wall as thick as it is high."
    )
    turned = block.model_copy(update={"height": up, "thickness": across, "laid": None})
    return reading.model_copy(update={"block": turned, "thickness": None})
