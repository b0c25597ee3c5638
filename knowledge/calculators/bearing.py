"""Concentrated load on a padstone: stress, resistance, and a first idea of a padstone. Never a verdict."""

from __future__ import annotations

from dataclasses import dataclass

from knowledge import bearings, shown
from knowledge.answers import Decline, Finding, Need, Range, quantity
from knowledge.calculators._bearing_strength import Strength, numbers, strength
from knowledge.ledger import Ledger
from knowledge.questions import Quantity, Question
from knowledge.rulebook import RuleBook
from knowledge.units import convert, kind

_GENERAL = {"bearing_length", "spread", "pad_length_min", "enhancement"}
_LEAD = (
    "lintel_bearing",
    "utilisation",
    "resistance",
    "stress",
    "padstone",
    "bearing_length",
    "spread",
    "pad_length_min",
    "enhancement",
)
_POUNDS = {"kip", "lbf", "lb", "psi"}


@dataclass(frozen=True)
class Bed:
    """Loaded area in mm: along the wall, and into it."""

    length: float
    depth: float


def answer(question: Question, book: RuleBook) -> list[Finding]:
    """Figures for an engineer to check, what is missing for them, or why not."""
    ledger = Ledger(question, book)
    wants = set(question.wants)
    if "lintel_bearing" in wants and ledger.reading.load is None:
        return [_lintel(ledger)]
    if wants and wants <= _GENERAL:
        _general(ledger)
    else:
        lacking = _figures(ledger)
        if lacking is not None:
            return [lacking]
    ledger.result("refer", True)
    ledger.caution("bearing.caution.engineer")
    ledger.caution("bearing.caution.not_covered")
    return [ledger.answer(*_LEAD)]


def _lintel(ledger: Ledger) -> Finding:
    """How far a lintel bears at each end, by the widest opening that was said."""
    reading = ledger.reading
    said = [hole.width for hole in reading.openings or () if hole.width is not None]
    spans = [size.to("m") for size in (*said, *((reading.length,) if reading.length and not said else ()))]
    rule = ledger.book.seek("bearing.lintel", **({"length": max(spans)} if spans else {}))
    if rule is None:
        return Decline(topic="bearing", reading=reading, why="No figure here for the bearing of a lintel.")
    ledger.cite(rule)
    ledger.result("lintel_bearing", shown.thickness(rule.to("m"), ledger.feet))
    if not spans:
        ledger.note(ledger.book.find("bearing.lintel", length=0.0).statement)
    ledger.rule("bearing.whole_block")
    ledger.result("refer", True)
    ledger.caution("bearing.caution.engineer")
    return ledger.answer(*_LEAD)


def _figures(ledger: Ledger) -> Need | Decline | None:
    reading = ledger.reading
    block = reading.block
    if reading.load is None:
        return ledger.need("load", "What load comes on it (kN), and from what?")
    own = block.thickness if block is not None else None
    thick = own if reading.leaf == "cavity" else reading.thickness or own
    if thick is None and reading.leaf == "cavity":
        return ledger.need("thickness", "How thick is the leaf that carries it?")
    load = _load(ledger)
    if isinstance(load, Decline):
        return load
    thickness = thick.to("mm") if thick is not None else ledger.taken("block_thickness").to("mm")
    wall = strength(ledger, thickness)
    if isinstance(wall, Decline):
        return wall
    if reading.padstone is not None:
        lacking = _check(ledger, load, thickness, wall)
        if lacking is not None:
            return lacking
    _pad(ledger, load, thickness, wall)
    ledger.rule("bearing.check")
    ledger.rule("bearing.whole_block")
    if reading.leaf == "cavity":
        ledger.note(ledger.rule("bearing.cavity").statement)
    return None


def _load(ledger: Ledger) -> float | Decline:
    """Design load in N; a mass is weighed, a bare load is raised by the larger factor."""
    said = ledger.reading.load
    assert said is not None
    if said.value <= 0:
        return ledger.decline("A load must be more than nothing. Send it in kN.")
    if kind(said.unit) == kind("kg"):
        pull = ledger.rule("bearing.gravity")
        force = said.to("kg") * pull.number()
        weight = _force(ledger, force)
        ledger.step("weight", f"{shown.say(said)} × {pull.number():g} m/s²", weight)
        ledger.note(f"{shown.say(said)} was taken as a mass: it weighs {shown.say(weight)}.")
    elif kind(said.unit) == kind("N"):
        force = said.to("N")
    else:
        return ledger.decline("Send the load as a force (kN, lbf) or as a mass (kg, t).")
    factors = numbers(ledger.rule("bearing.load_factors"))
    raised = bearings.design_load(0, force, (factors["permanent"], factors["variable"]))
    ledger.assume(
        "load_factor", factors["variable"], "The load is taken as it comes, not yet raised for design."
    )
    ledger.step(
        "design load", f"{factors['variable']:g} × {shown.say(_force(ledger, force))}", _force(ledger, raised)
    )
    ledger.result("design_load", _force(ledger, raised))
    return raised


def _bed(ledger: Ledger, thickness: float) -> Bed | Need | Decline:
    """Loaded area as said; the depth into the wall is that of the wall where it was not said."""
    pad = ledger.reading.padstone
    if pad is None or pad.length is None:
        return ledger.need("padstone", "How long is the padstone or plate along the wall, and how wide?")
    length = pad.length.to("mm")
    if pad.width is None:
        ledger.assume("padstone_width", {"value": thickness, "unit": "mm"}, "As wide as the wall.")
    depth = pad.width.to("mm") if pad.width is not None else thickness
    if length <= 0 or depth <= 0:
        return ledger.decline("A padstone needs a length and a width. Send its sizes again.")
    if depth > thickness + 1e-6:
        ledger.note("The padstone is wider than the wall: only what lies on the wall counts.")
        depth = thickness
    quarter = ledger.rule("bearing.eccentricity")
    off = bearings.eccentricity(thickness, depth)
    if off > 1e-6:
        ledger.step(
            "off the middle of the wall", f"({thickness:g} − {depth:g}) ÷ 2 mm, flush with a face", off
        )
    if off > quarter.number() * thickness:
        return ledger.decline(f"{quarter.statement} This one does not: it goes to a structural engineer.")
    return Bed(length, depth)


def _check(ledger: Ledger, load: float, thickness: float, wall: Strength) -> Need | Decline | None:
    """Stress under the padstone, resistance, and the one over the other."""
    bed = _bed(ledger, thickness)
    if not isinstance(bed, Bed):
        return bed
    factor = _enhancement(ledger, bed, thickness)
    area = bed.length * bed.depth
    stress = load / area
    carries = bearings.resistance(factor, area, wall.characteristic, wall.partial)
    plan = f"{bed.length:.4g} mm × {bed.depth:.4g} mm"
    ledger.result("stress", _pressure(ledger, stress))
    ledger.step("stress", f"{shown.say(_force(ledger, load))} ÷ ({plan})", _pressure(ledger, stress))
    ledger.result("resistance", _force(ledger, carries))
    sum_ = f"{factor:.3g} × {plan} × {wall.characteristic:.3f} ÷ {wall.partial:g} N/mm²"
    ledger.step("resistance", sum_, _force(ledger, carries))
    ledger.result("utilisation", round(load / carries, 3))
    ledger.result("enhancement", round(factor, 3))
    sides = f"{shown.say(_force(ledger, load))} ÷ {shown.say(_force(ledger, carries))}"
    ledger.step("utilisation", sides, round(load / carries, 3))
    return None


def _enhancement(ledger: Ledger, bed: Bed, thickness: float) -> float:
    """β: with a height the load is taken at the very end of the wall, without one nothing is added."""
    reading = ledger.reading
    if reading.height is None:
        rule = ledger.rule("bearing.no_gain")
        ledger.assume("enhancement", rule.number(), rule.statement)
        return rule.number()
    height = reading.height.to("mm")
    angle = ledger.rule("bearing.spread").number()
    far = None if reading.length is None else max(0.0, reading.length.to("mm") - bed.length)
    long = bearings.spread_length(bed.length, height, angle, 0.0, far)
    ledger.assume(
        "edge_distance", {"value": 0, "unit": "mm"}, "At the very end of the wall, where least is added."
    )
    ledger.step(
        "length at mid-height, mm", f"{bed.length:.4g} + {height:.4g} ÷ 2 × tan {angle:g}°", round(long, 1)
    )
    found = bearings.enhancement(
        0.0, height, bed.length * bed.depth / (long * thickness),
        formula=numbers(ledger.rule("bearing.beta")), limits=numbers(ledger.rule("bearing.limits")),
    )  # fmt: skip
    ledger.step("β", f"{found.raw:.3f}, at most {found.cap:.3f}", round(found.used, 3))
    return found.used


def _pad(ledger: Ledger, load: float, thickness: float, wall: Strength) -> None:
    """A first idea: as wide as the wall, long enough with nothing added, deep enough to spread."""
    least = ledger.rule("bearing.pad_length").to("mm")
    beam = ledger.rule("bearing.steel_length").to("mm")
    long = max(least, load / (thickness * wall.design))
    long = shown.whole(long / 10) * 10
    depth = bearings.spread_depth(long, beam, ledger.rule("bearing.spread").number())
    block = ledger.reading.block
    course = block.height.to("mm") if block is not None and block.height is not None else (
        ledger.taken("block_height", use="metric").to("mm"))  # fmt: skip
    joint = ledger.book.find("assume.joint_thickness").to("mm")
    courses = max(1, shown.whole((depth + joint) / (course + joint)))
    deep = courses * (course + joint) - joint
    feet = ledger.feet or (ledger.reading.load is not None and ledger.reading.load.unit in _POUNDS)
    sides = [shown.thickness(size / 1000, feet) for size in (long, thickness, deep)]
    ledger.result("padstone", dict(zip(("length", "width", "height"), sides, strict=True)))
    sum_ = f"{load / 1000:.4g} kN ÷ ({thickness:.4g} mm × {wall.design:.3f} N/mm²), at least {least:g} mm"
    ledger.step("first idea of a padstone, mm", sum_, f"{long:g} × {thickness:.4g} × {deep:.4g}")
    size = " × ".join(f"{side.value:.3g}" if feet else f"{side.value:.0f}" for side in sides)
    ledger.note(
        f"First idea of a padstone: {size} {sides[0].unit}, nothing added for spread, the beam in its middle."
    )


def _general(ledger: Ledger) -> None:
    """What the rule book says, every document."""
    feet = ledger.feet
    for name, figure in (
        ("bearing_length", "steel_length"),
        ("pad_length_min", "pad_length"),
        ("spread", "spread"),
    ):
        if name not in ledger.question.wants:
            continue
        rule = ledger.rule(f"bearing.{figure}")
        angle = quantity(rule.number(), "°") if name == "spread" else shown.thickness(rule.to("m"), feet)
        ledger.result(name, angle)
        for other in ledger.book.others(f"bearing.{figure}"):
            ledger.cite(other)
    if "enhancement" in ledger.question.wants:
        limits = ledger.rule("bearing.limits")
        known = numbers(limits)
        ledger.result("enhancement", Range(min=known["floor"], max=known["cap"]))
        ledger.rule("bearing.beta")
        for other in ledger.book.others("bearing.limits"):
            ledger.cite(other)
    if "bearing_length" in ledger.question.wants:
        ledger.rule("bearing.cavity")
        ledger.rule("bearing.whole_block")


def _force(ledger: Ledger, newtons: float) -> Quantity:
    """A force in the asker's units."""
    said = ledger.reading.load
    if said is None or said.unit not in _POUNDS:
        return quantity(newtons / 1000, "kN", 3)
    unit = "kip" if said.unit == "kip" else "lbf"
    return quantity(convert(newtons, "N", unit), unit, 3)


def _pressure(ledger: Ledger, stress: float) -> Quantity:
    """A stress in the asker's units."""
    said = ledger.reading.load
    if said is None or said.unit not in _POUNDS:
        return quantity(stress, "N/mm²", 3)
    return quantity(convert(stress, "N/mm²", "psi"), "psi", 1)
