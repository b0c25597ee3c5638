"""What a joint is made of: width, movement, filler, sealant, ties."""

from __future__ import annotations

from math import ceil

from knowledge import movement, shown
from knowledge.answers import Range, quantity
from knowledge.calculators._joints_limits import Limits, low
from knowledge.ledger import Ledger
from knowledge.pieces import course_height
from knowledge.questions import Quantity
from knowledge.units import convert, kind


def small(millimetres: float, feet: bool) -> Quantity:
    """A small size in mm, or in inches where the asker counts in feet."""
    if feet:
        return quantity(convert(millimetres, "mm", "in"), "in", 3)
    return quantity(millimetres, "mm", 3)


def width(ledger: Ledger, limit: Limits) -> float:
    """Joint width in mm."""
    rule = ledger.rule("joints.width", **limit.facts)
    if kind(rule.unit) == kind("mm"):
        return max(convert(low(rule), rule.unit, "mm"), _left_open(ledger, limit))
    exact = movement.width_for_spacing(limit.spacing, rule.number())
    whole = float(shown.whole(exact))
    ledger.step("joint width", f"{limit.spacing:g} m × {rule.number():g} mm/m = {exact:.4g} mm, rounded up",
                quantity(whole, "mm"))  # fmt: skip
    return whole


def _left_open(ledger: Ledger, limit: Limits) -> float:
    """What a joint that closes takes, and what must stay open; 0 where the region has no such rule."""
    rest = ledger.book.seek("joints.left_open", material=limit.material)
    if rest is None:
        return 0.0
    ledger.cite(rest)
    grown = movement.moisture(limit.spacing, ledger.rule("joints.moisture", material=limit.material).number())
    wide = float(shown.whole(grown + rest.to("mm")))
    ledger.step(
        "joint width", f"{grown:.4g} mm of growth + {rest.to('mm'):g} mm, rounded up", quantity(wide, "mm")
    )
    return wide


def moves(ledger: Ledger, limit: Limits, length: float, feet: bool) -> Range:
    """Movement of one panel end to end: moisture alone, up to moisture at its worst with heat or cold."""
    usual = ledger.rule("joints.moisture", material=limit.material).number()
    worst = ledger.rule("joints.moisture_range", material=limit.material)
    heat = ledger.rule("joints.thermal", material=limit.material)
    warm = ledger.rule("joints.temperature_range", place=limit.place).number()
    extreme = max(abs(worst.min or 0.0), abs(worst.max or 0.0), abs(usual))
    least = movement.moisture(length, abs(usual))
    most = movement.moisture(length, extreme) + movement.thermal(
        length * 1000, (heat.max or low(heat)) * 1e-6, warm
    )
    ledger.step(
        "least movement of a panel", f"{abs(usual):g} mm/m × {length:.4g} m", quantity(least, "mm", 2)
    )
    ledger.step(
        "most movement of a panel",
        f"{extreme:g} mm/m × {length:.4g} m + {heat.max or low(heat):g} × 10⁻⁶ × {warm:g} K × {length:.4g} m",
        quantity(most, "mm", 2),
    )
    unit = "in" if feet else "mm"
    digits = 4 if feet else 2
    return Range(
        min=round(convert(least, "mm", unit), digits), max=round(convert(most, "mm", unit), digits), unit=unit
    )


def grows(ledger: Ledger, limit: Limits) -> bool:
    """Whether the material grows over the years, so that its joints close."""
    return ledger.rule("joints.moisture", material=limit.material).number() > 0


def seal(ledger: Ledger, wide: float, feet: bool) -> Quantity:
    """Depth of sealant."""
    share, least = ledger.rule("joints.sealant_share"), ledger.rule("joints.sealant_least")
    most = ledger.book.seek("joints.sealant_most")
    if most is not None:
        ledger.cite(most)
    deep = movement.sealant_depth(
        wide, share.number(), least.to("mm"), most.to("mm") if most is not None else None
    )
    ledger.step("sealant depth", f"the larger of {share.number():g} × {wide:g} mm and {least.to('mm'):g} mm",
                quantity(deep, "mm"))  # fmt: skip
    return small(deep, feet)


def fill(ledger: Ledger, limit: Limits, say: bool) -> str:
    """The filler, in words; `say`: with its notes."""
    rule = ledger.rule("joints.filler", material=limit.material)
    if say:
        ledger.note(rule.statement)
        ledger.note(ledger.rule("joints.filler_never").statement)
    return rule.choice or rule.statement


def ties(ledger: Ledger, feet: bool, height: float | None, joints: int | None, walls: int) -> None:
    """Slip ties by bed joints: spacing always, numbers where the height is known."""
    most = ledger.rule("joints.tie_spacing").to("mm")
    ledger.rule("joints.tie_embedment")
    ledger.rule("joints.tie_form")
    course = course_height(ledger) * 1000
    every = max(1, int((most + 1e-6) // course))
    ledger.result("tie_spacing", small(every * course, feet))
    where = "every course" if every == 1 else f"every {every} courses"
    ledger.step(
        "tie spacing", f"{most:g} mm at most, courses of {course:g} mm: {where}", small(every * course, feet)
    )
    if every * course > most + 1e-6:
        ledger.note(
            f"The courses are over {most:g} mm high: a tie in every bed joint and the designer's word."
        )
    if height is None:
        ledger.note(f"A slip tie in the bed joints of {where}: send the height for the number.")
        return
    courses = ceil(round(height * 1000 / course, 6))
    one = max(0, ceil(courses / every) - 1)
    ledger.step("ties across one joint", f"{courses} courses, a tie in the bed joint over {where}", one)
    ledger.result("ties_per_joint", one)
    if joints is None:
        ledger.result("tie_count", one)
        ledger.note(
            f"That is for one joint: a tie in the bed joint over {where}, none under or over the wall."
        )
        return
    ledger.result("tie_count", one * joints * walls)
    if joints:
        ledger.step("ties in all", f"{one} × {joints * walls} joints", one * joints * walls)


def cavity_ties(ledger: Ledger) -> None:
    """Ties across the cavity beside a joint."""
    near = ledger.book.seek("joints.cavity_tie_distance")
    up = ledger.book.seek("joints.cavity_tie_vertical")
    if near is None or up is None:
        return
    ledger.cite(near)
    ledger.cite(up)
    ledger.note(
        f"Cavity ties each side of the joint: within {near.to('mm'):g} mm of it, every {up.to('mm'):g} mm up."
    )
