"""The figures that an elevation of the wall is drawn by, each from its rule."""

from __future__ import annotations

from typing import Any

from knowledge.answers import quantity
from knowledge.ledger import Ledger
from knowledge.pieces import Piece
from knowledge.questions import Quantity

Parts = dict[str, dict[str, Any]]


def drawn(ledger: Ledger, parts: Parts, piece: Piece | None) -> dict[str, Any]:
    """Block and course with joints, beds and projection of reinforcement, size of a patch, edge of ties."""
    found: dict[str, Any] = {}
    finish = ledger.reading.finish
    if piece is not None:
        found["block"] = quantity((piece.length + piece.joint) * 1000, "mm", 3)
        found["course"] = quantity(piece.course * 1000, "mm", 3)
    if parts.get("reinforcement", {}).get("runs"):
        found["beds"] = int(ledger.rule("reinforcement.beds", finish=finish).number())
        found["past"] = _size(ledger, "reinforcement.projection", finish=finish)
        said, height = ledger.reading.spacing, ledger.reading.height
        of_beds = said is not None and height is not None and said.to("m") < height.to("m")
        found["every"] = said if of_beds else _size(ledger, "reinforcement.spacing")
    if parts.get("mesh", {}).get("corner_patches"):
        wide, long = ledger.rule("mesh.patch_width"), ledger.rule("mesh.patch_length")
        found["patch"] = {
            "width": quantity(wide.max or 0, wide.unit), "length": quantity(long.max or 0, long.unit)
        }  # fmt: skip
    if parts.get("ties", {}).get("tie_count"):
        found["tie_edge"] = _size(ledger, "ties.edge.distance")
    return found


def _size(ledger: Ledger, figure: str, **facts: str | None) -> Quantity:
    rule = ledger.rule(figure, **facts)
    return quantity(rule.number(), rule.unit)
