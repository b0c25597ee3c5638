"""What to order for one wall: each thing as it is sold, rounded up once, with the exact figure beside."""

from __future__ import annotations

from typing import Any

from knowledge import shown
from knowledge.answers import Range, quantity
from knowledge.bags import bag
from knowledge.ledger import Ledger
from knowledge.pieces import Piece
from knowledge.questions import Quantity
from knowledge.units import convert

Parts = dict[str, dict[str, Any]]
Row = dict[str, Any]
_BRICKS = ("clay_brick", "calcium_silicate")


def materials(ledger: Ledger, parts: Parts, piece: Piece | None) -> list[Row]:
    """Rows of item, order, unit and exact, in the order in which the work needs them."""
    return [
        *_blocks(ledger, parts, piece),
        *_binders(ledger, parts),
        *_sand(ledger, parts),
        *_joints(ledger, parts),
        *_reinforcement(parts),
        *_ties(parts),
        *_render(parts),
        *_mesh(parts),
        *_boards(parts),
    ]


def _row(item: str, order: int, unit: str, exact: Any, of: str) -> Row:
    """`of` says what the exact figure is."""
    return {"item": item, "order": order, "unit": unit, "exact": exact, "of": of}


def _blocks(ledger: Ledger, parts: Parts, piece: Piece | None) -> list[Row]:
    found = parts.get("blocks", {})
    if "order_count" not in found:
        return []
    size = "" if piece is None else f" {_sides(ledger, piece)}"
    block = ledger.reading.block
    name = "Bricks" if block is not None and block.material in _BRICKS else "Blocks"
    leaf = ", one leaf" if ledger.reading.leaf == "cavity" else ""
    rows = [_row(f"{name}{size}{leaf}", found["order_count"], "pieces", found["block_count"], "in the wall")]
    if "packs" in found:
        rows.append(_row(f"{name} in packs", found["packs"], "packs", found["order_count"], "pieces"))
    return rows


def _sides(ledger: Ledger, piece: Piece) -> str:
    """A piece as the yard names it: '440 × 215 × 100 mm', '15.625 × 7.625 × 7.625 in'."""
    block = ledger.reading.block
    said = next((size.unit for size in (block.length, block.height) if size is not None), "") if block else ""
    inches = said in ("in", "ft") if said else ledger.book.region.units.get("unit") == "in"
    unit = "in" if inches else "mm"
    sides = (convert(side, "m", unit) for side in (piece.length, piece.height, piece.thickness))
    return " × ".join(f"{round(side, 3):.6g}" if inches else f"{side:.4g}" for side in sides) + f" {unit}"


def _sum(parts: Parts, name: str) -> float:
    """Kilograms of one thing for mortar and render together."""
    said = (parts.get(topic, {}).get(name) for topic in ("mortar", "render"))
    return float(sum(mass.to("kg") for mass in said if isinstance(mass, Quantity)))


def _home(ledger: Ledger, mass: float) -> str:
    """A mass in kg as the region sells it: '25 kg', '94 lb'."""
    unit = ledger.book.region.units.get("mass", "kg")
    return f"{convert(mass, 'kg', unit):.4g} {unit}"


def _binders(ledger: Ledger, parts: Parts) -> list[Row]:
    """Cement and lime of mortar and render together, rounded up once."""
    masses = {name: _sum(parts, f"{name}_mass") for name in ("cement", "lime")}
    if not any(masses.values()):
        return []
    names = {"cement": "Cement", "lime": "Hydrated lime"}
    home = ledger.book.region.units.get("mass", "kg")
    found = []
    for name, mass in masses.items():
        if mass > 0:
            one = bag(ledger, name)
            unit = f"bags of {_home(ledger, one)}"
            exact = quantity(convert(mass, "kg", home), home, 1)
            found.append(_row(names[name], shown.whole(mass / one), unit, exact, "with waste"))
    return found


def _sand(ledger: Ledger, parts: Parts) -> list[Row]:
    """Laying and rendering sand are different sands: each by itself."""
    rows = []
    for topic, name in (("mortar", "Building sand, for mortar"), ("render", "Plastering sand, for render")):
        mass = parts.get(topic, {}).get("sand_mass")
        if not isinstance(mass, Quantity) or mass.value <= 0:
            continue
        small = mass.to("kg") <= ledger.rule("wall.sand_in_bags").to("kg")
        if not small and ledger.book.seek("assume.bulk_bag") is None:
            loose = ledger.rule("mortar.density", kind="sand").to("kg/m³")
            unit = "yd³" if ledger.feet else "m³"
            order = shown.whole(convert(mass.to("kg") / loose, "m³", unit))
            rows.append(_row(name, order, unit, quantity(mass.value, mass.unit, 1), "with waste, dry"))
            continue
        one = ledger.rule("wall.sand_bag") if small else ledger.taken("bulk_bag")
        unit = f"{'bags' if small else 'bulk bags'} of {_home(ledger, one.to('kg'))}"
        order = shown.whole(mass.to("kg") / one.to("kg"))
        rows.append(_row(name, order, unit, quantity(mass.value, mass.unit, 1), "with waste, dry"))
    return rows


def _joints(ledger: Ledger, parts: Parts) -> list[Row]:
    """Filler by the metre, sealant by the cartridge, slip ties by the piece."""
    found = parts.get("joints", {})
    rows = []
    filler, seal = found.get("filler_length"), found.get("sealant_length")
    if isinstance(filler, Quantity):
        rows.append(
            _row("Joint filler strip", shown.whole(filler.value), filler.unit, filler, "in the joints")
        )
    wide, deep = _most(found.get("joint_width")), _most(found.get("sealant_depth"))
    if isinstance(seal, Quantity) and wide is not None and deep is not None:
        litres = seal.to("m") * wide.to("m") * deep.to("m") * 1000
        one = ledger.rule("wall.cartridge").to("l")
        unit = f"cartridges of {one * 1000:g} ml"
        rows.append(
            _row("Joint sealant", shown.whole(litres / one), unit, quantity(litres, "l", 3), "in the joints")
        )
    if found.get("tie_count"):
        rows.append(
            _row("Slip ties with sleeves", found["tie_count"], "pieces", found["tie_count"], "in the joints")
        )
    return rows


def _most(size: Any) -> Quantity | None:
    """A size, or the top of a range of sizes."""
    return Quantity(value=size.max, unit=size.unit) if isinstance(size, Range) else size


def _reinforcement(parts: Parts) -> list[Row]:
    found = parts.get("reinforcement", {})
    if not found.get("pieces") or "total_length" not in found:
        return []
    return [_row("Bed joint reinforcement", found["pieces"], "pieces", found["total_length"], "in the beds")]


def _ties(parts: Parts) -> list[Row]:
    found = parts.get("ties", {})
    if not found.get("tie_count"):
        return []
    long = found.get("tie_length")
    size = f", {long.value:g} {long.unit}" if isinstance(long, Quantity) else ""
    return [_row(f"Cavity wall ties{size}", found["tie_count"], "pieces", found["tie_count"], "in the wall")]


def _render(parts: Parts) -> list[Row]:
    """Bagged render has no mix: the bag says how far it goes."""
    found = parts.get("render", {})
    if "order_volume" not in found or "cement_mass" in found:
        return []
    litres = found["order_volume"].to("m³") * 1000
    return [_row("Render or plaster, bagged", shown.whole(litres), "l, by the bag's yield",
                 found["render_volume"], "on the wall")]  # fmt: skip


def _mesh(parts: Parts) -> list[Row]:
    found = parts.get("mesh", {})
    if "rolls" not in found:
        return []
    rows = [_row("Render mesh", found["rolls"], "rolls", found["order_area"], "with laps")]
    if found.get("corner_patches"):
        rows.append(_row("Corner patches, cut from mesh", found["corner_patches"], "pieces",
                         found["corner_patches"], "at openings"))  # fmt: skip
    return rows


def _boards(parts: Parts) -> list[Row]:
    found = parts.get("boards", {})
    rows = []
    if "board_count" in found:
        rows.append(_row("Plasterboard", found["board_count"], "boards",
                         found.get("net_area", found["board_count"]), "to cover"))  # fmt: skip
    if found.get("adhesive_bags"):
        exact = found.get("adhesive_mass", found["adhesive_bags"])
        rows.append(_row("Board adhesive", found["adhesive_bags"], "bags", exact, "for the dabs"))
    return rows
