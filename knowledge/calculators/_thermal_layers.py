"""Layers of a wall for its U-value: as said, or from block and finish; conductivities and mortar joints."""

from __future__ import annotations

from dataclasses import dataclass
from typing import Any

from knowledge import heat, shown
from knowledge.answers import Decline, Need
from knowledge.ledger import Ledger
from knowledge.questions import Block
from knowledge.records import Rule
from knowledge.tabled import between


@dataclass(frozen=True)
class Stuff:
    """One layer: what it is called, metres, and W/(m·K) where the asker said it."""

    name: str
    thickness: float
    conductivity: float | None = None


def told(ledger: Ledger) -> list[Stuff] | Need:
    """The layers as said; otherwise block and finish from outside to inside."""
    reading = ledger.reading
    if reading.layers:
        return [
            Stuff(
                one.material.replace("_", " ").lower(), one.thickness.to("m"),
                None if one.conductivity is None else one.conductivity.to("W/m·K"),
            )
            for one in reading.layers
        ]  # fmt: skip
    if reading.leaf == "cavity":
        return ledger.need(
            "layers", "What is the wall made of, from outside to inside, with the thickness of each layer?"
        )
    block = reading.block or Block()
    thick = reading.thickness or block.thickness
    if thick is None:
        return ledger.need("thickness", "How thick is the wall, or of which layers?", others=("layers",))
    material = block.material or str(ledger.taken("material").choice)
    wall = [Stuff(material.replace("_", " "), thick.to("m"))]
    return _finished(ledger, wall)


def _finished(ledger: Ledger, wall: list[Stuff]) -> list[Stuff]:
    """The finish that was named, at its usual thickness where none was said."""
    finish, coat = ledger.reading.finish, ledger.reading.coat_thickness
    if finish in ("render", "plaster"):
        thick = coat.to("m") if coat is not None else ledger.taken(f"{finish}_thickness").to("m")
        return [Stuff(finish, thick), *wall] if finish == "render" else [*wall, Stuff(finish, thick)]
    if finish == "boards":
        gap = ledger.taken("dab_gap").to("m")
        board = ledger.reading.board
        thick = board.thickness.to("m") if board is not None and board.thickness is not None else (
            ledger.taken("board_thickness").to("m"))  # fmt: skip
        return [*wall, Stuff("air", gap), Stuff("plasterboard", thick)]
    if finish is None:
        ledger.note("Bare wall, without render, plaster or boards: name them and they count.")
    return wall


def resistances(ledger: Ledger, layers: list[Stuff]) -> list[heat.Layer] | Need | Decline:
    """Every layer as shares and resistances, its sum shown; asks for a conductivity that is not known."""
    found: list[heat.Layer] = []
    for one in layers:
        if one.thickness <= 0 or (one.conductivity is not None and one.conductivity <= 0):
            return ledger.decline(f"A layer needs a thickness and a conductivity above nothing: {one.name}.")
        part = _one(ledger, one)
        if isinstance(part, Need | Decline):
            return part
        found.append(part)
    return found


def _one(ledger: Ledger, one: Stuff) -> heat.Layer | Need | Decline:
    thick = shown.say(shown.thickness(one.thickness, ledger.feet))
    if one.conductivity is None and _called(ledger, "thermal.air", one.name) is not None:
        return _air(ledger, one, thick)
    conductivity = one.conductivity if one.conductivity is not None else _conductivity(ledger, one.name)
    if conductivity is None:
        return ledger.need(
            "layers", f"What is the conductivity of the {one.name}, in W/(m·K)? The maker's sheet has it."
        )
    plain = heat.layer(one.thickness, conductivity)
    ledger.step(one.name, f"{thick} ÷ {conductivity:g} W/(m·K)", round(plain, 4))
    kind = _called(ledger, "thermal.masonry", one.name)
    if kind is None:
        return [(1.0, plain)]
    return _jointed(ledger, one, conductivity, plain)


def _air(ledger: Ledger, one: Stuff, thick: str) -> heat.Layer | Decline:
    """A still air layer."""
    millimetres = one.thickness * 1000
    rule = ledger.book.seek("thermal.air", kind="air", thickness=millimetres)
    if rule is None:
        return ledger.decline("An air layer that deep stands still no more: this sum does not hold for it.")
    ledger.cite(rule)
    if rule.table is not None:
        points = [(float(a), float(b)) for a, b in rule.table.rows]
        value = between(points, millimetres)
    else:
        value = rule.number()
    ledger.step("still air", thick, round(value, 4))
    return [(1.0, value)]


def _conductivity(ledger: Ledger, name: str) -> float | None:
    """From the rule book, by name and, for blocks, by density where it was said."""
    block = ledger.reading.block or Block()
    density = block.density.to("kg/m³") if block.density is not None else None
    kind = _called(ledger, "thermal.conductivity", name)
    if kind is None:
        return None
    by_density = ledger.book.seek("thermal.by_density", kind=kind, density=density)
    rule = by_density or ledger.book.find("thermal.conductivity", kind=kind)
    ledger.cite(rule)
    for other in ledger.book.others(rule.figure, kind=kind):
        ledger.cite(other)
    if rule.table is not None and density is not None:
        return between([(float(a), float(b)) for a, b in rule.table.rows], density)
    if by_density is None:
        ledger.assume(f"conductivity of {name}", {"value": rule.number(), "unit": "W/m·K"}, rule.statement)
    return rule.number()


def _called(ledger: Ledger, figure: str, name: str) -> str | None:
    """The longest word of the rule book in the name of a layer, where it is one of this figure."""
    figures = ("thermal.conductivity", "thermal.air", "thermal.ask", "thermal.masonry")
    words = {
        (word, rule.figure)
        for one in figures if one in (figure, "thermal.conductivity", "thermal.air", "thermal.ask")
        for rule in ledger.book.records(one) for word in rule.when.kind or ()
        if f" {word} " in f" {name} "
    }  # fmt: skip
    longest = max((len(word) for word, _ in words), default=0)
    return next((word for word, of in words if len(word) == longest and of == figure), None)


def _jointed(ledger: Ledger, one: Stuff, conductivity: float, plain: float) -> heat.Layer:
    """Block and mortar side by side, unless the joints are thin or make no difference."""
    reading = ledger.reading
    block = reading.block or Block()
    joint = reading.joint_thickness
    thin = ledger.book.find("thermal.thin_joint")
    if joint is not None and joint.to("mm") <= thin.span("mm")[1] + 1e-9:
        ledger.cite(thin)
        return [(1.0, plain)]
    exposed = reading.place == "external" and reading.finish == "fair_faced"
    mortar = ledger.book.find("thermal.mortar", use="exposed" if exposed else "protected")
    beside = heat.layer(one.thickness, mortar.number())
    ignored = ledger.book.find("thermal.joint_ignored")
    if abs(plain - beside) < ignored.number():
        ledger.cite(ignored)
        return [(1.0, plain)]
    ledger.cite(mortar)
    ledger.rule("thermal.masonry", kind=_called(ledger, "thermal.masonry", one.name))
    share = _share(ledger, block)
    both = heat.weighted(1 - share, conductivity, mortar.number())
    ledger.step(
        f"{one.name} and mortar, W/(m·K)",
        f"{1 - share:.3f} × {conductivity:g} + {share:.3f} × {mortar.number():g}", round(both, 4),
    )  # fmt: skip
    return [(1 - share, plain), (share, beside)]


def _share(ledger: Ledger, block: Block) -> float:
    """Share of mortar: by geometry where the block was said, else the convention."""
    if block.length is None or block.height is None:
        rule: Rule = ledger.rule("thermal.mortar_share")
        ledger.assume("mortar_share", rule.number(), rule.statement)
        return rule.number()
    said: Any = ledger.reading.joint_thickness
    joint = said.to("mm") if said is not None else ledger.taken("joint_thickness").to("mm")
    share = heat.mortar_share(block.length.to("mm"), block.height.to("mm"), joint)
    ledger.step("share of mortar", "1 − block ÷ block with one joint each way", round(share, 4))
    return share
