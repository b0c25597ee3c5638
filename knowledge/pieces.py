"""One block or brick with its joint: what it takes up in a wall."""

from __future__ import annotations

from dataclasses import dataclass

from knowledge.answers import Need
from knowledge.ledger import Ledger
from knowledge.questions import Block, Quantity
from knowledge.units import convert
from knowledge.yields import leaves


@dataclass(frozen=True)
class Piece:
    """Sizes in metres; `leaves` is how many stand side by side in the thickness of the wall."""

    length: float
    height: float
    thickness: float
    joint: float
    leaves: int = 1
    wall: float = 0.0  # thickness of the whole wall

    @property
    def course(self) -> float:
        """Coordinating height: the piece and one bed joint."""
        return self.height + self.joint

    @property
    def face(self) -> float:
        """Coordinating face in m²: what one piece takes of the wall."""
        return (self.length + self.joint) * self.course

    @property
    def per_area(self) -> float:
        """Pieces in one m² of wall."""
        return self.leaves / self.face


def material(ledger: Ledger) -> str:
    """The material that was said, or the region's assumption."""
    block = ledger.reading.block
    if block is not None and block.material is not None:
        return block.material
    return str(ledger.taken("material").choice)


def joint(ledger: Ledger) -> float:
    """Joint in metres: as said, the nominal one of a size in whole inches, or the ordinary one."""
    said = ledger.reading.joint_thickness
    if said is not None:
        return said.to("m")
    if _in_inches(ledger.reading.block):
        rule = ledger.rule("blocks.nominal_joint")
    else:
        rule = ledger.taken("joint_thickness")
    return convert(rule.number(), rule.unit, "m")


def piece(ledger: Ledger, thick: bool = True) -> Piece | Need:
    """The piece that the wall is built of; `thick` only where its thickness matters."""
    block = ledger.reading.block or Block()
    wall = ledger.reading.thickness
    thick_wall = _brick_wall(block)
    wall = block.thickness if wall is None and thick_wall else wall
    sized = block.length is not None and block.height is not None
    known = sized and (not thick or block.thickness is not None or wall is not None)
    kind = block.material if known else material(ledger)
    if kind == "stone" and not sized:
        return ledger.need("block", "Stones come in no standard size: how long and how high is one?")
    bed = joint(ledger)
    length = _side(ledger, "length", kind, bed)
    height = _side(ledger, "height", kind, bed)
    if not thick:
        return Piece(length, height, 0.0, bed)
    bricks = ledger.book.seek("blocks.leaves", material=kind)
    if wall is not None and block.thickness is None and bricks is None:
        return Piece(length, height, wall.to("m"), bed, wall=wall.to("m"))
    own = _side(ledger, "thickness", kind, bed, said_of_wall=thick_wall)
    across = own if wall is None else wall.to("m")
    many = leaves(across, own, bed)
    if many == 1:
        return Piece(length, height, across, bed, wall=across)
    if bricks is not None:
        ledger.cite(bricks)
    return Piece(length, height, own, bed, many, across)


def course_height(ledger: Ledger) -> float:
    """Coordinating height in metres, without a word about length or thickness."""
    block = ledger.reading.block or Block()
    kind = block.material if block.height is not None else material(ledger)
    bed = joint(ledger)
    return _side(ledger, "height", kind, bed) + bed


def wall_height(ledger: Ledger) -> float | None:
    """Height of the wall in metres, as said or by its courses."""
    reading = ledger.reading
    if reading.height is not None:
        return reading.height.to("m")
    return reading.courses * course_height(ledger) if reading.courses else None


def _brick_wall(block: Block | None) -> bool:
    """Whether a thickness said of bricks is that of their wall: no other side of a brick was named."""
    if block is None or block.thickness is None or block.length is not None or block.height is not None:
        return False
    return block.material in ("clay_brick", "calcium_silicate")


def sized_in(ledger: Ledger, kind: str | None) -> str:
    """ "inches" where the piece, or the wall that bricks are to make, was sized in inches: else "metric"."""
    block = ledger.reading.block or Block()
    wall = block.thickness or ledger.reading.thickness
    bricks = kind in ("clay_brick", "calcium_silicate") and block.length is None and block.height is None
    return "inches" if _in_inches(block) or (bricks and wall is not None and wall.unit == "in") else "metric"


def _in_inches(block: Block | None) -> bool:
    """Whether the block was sized in inches."""
    said = _sizes(block)
    return bool(said) and all(size.unit == "in" for size in said) and not _brick_wall(block)


def _nominal(block: Block | None) -> bool:
    """Whether every size is in whole inches: those hold their joint; 15⅝ or 2¼ in are the thing itself."""
    return _in_inches(block) and all(size.value == int(size.value) for size in _sizes(block))


def _sizes(block: Block | None) -> list[Quantity]:
    return [s for s in (block.length, block.height, block.thickness) if s is not None] if block else []


def _side(ledger: Ledger, side: str, kind: str | None, bed: float, said_of_wall: bool = False) -> float:
    """One side of the piece in metres, its joint taken off where the size is nominal."""
    block = ledger.reading.block
    said: Quantity | None = getattr(block, side) if block and not said_of_wall else None
    if said is not None:
        size = said.to("m")
    else:
        use = sized_in(ledger, kind)
        rule = ledger.taken(f"block_{side}", material=kind, use=use)
        size = convert(rule.number(), rule.unit, "m")
        if use == "inches" and rule.unit != "in":
            return size
    return size - (bed if _nominal(block) else 0.0)
