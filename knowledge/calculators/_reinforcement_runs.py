"""Runs of bed joint reinforcement: at openings, and through a wall from end to end."""

from __future__ import annotations

from dataclasses import dataclass

from knowledge import shown
from knowledge.answers import Need
from knowledge.cutting import EPS, parted
from knowledge.ledger import Ledger
from knowledge.pieces import course_height, wall_height
from knowledge.questions import Opening


@dataclass(frozen=True)
class Run:
    """Like runs of one length in m."""

    where: str
    count: int
    length: float


def at_openings(ledger: Ledger, feet: bool) -> list[Run] | Need:
    """Runs in the beds over and under every opening, or the width that is missing."""
    holes = ledger.reading.openings or ()
    if any(hole.width is None for hole in holes) and ledger.reading.length is None:
        return ledger.need("openings", "How wide is each opening?")
    finish = ledger.reading.finish
    beds = int(ledger.rule("reinforcement.beds", finish=finish).number())
    past = _metres(ledger, "reinforcement.projection", finish=finish)
    runs: list[Run] = []
    for hole in holes:
        runs += _one_opening(ledger, hole, beds, past, feet)
    return runs


def _one_opening(ledger: Ledger, hole: Opening, beds: int, past: float, feet: bool) -> list[Run]:
    width = _width(ledger, hole)
    walls = ledger.reading.walls or 1
    runs: list[Run] = []
    below = hole.kind != "door" and (hole.sill is None or hole.sill.to("m") > EPS)
    if not below:
        ledger.rule("reinforcement.door")
    lengths = _lengths(ledger, hole, width, past)
    for side in ("over", "under") if below else ("over",):
        runs += [Run(f"{side} {hole.kind}", beds * hole.count * walls, length) for length in lengths]
    wide, out = (shown.say(shown.length(size, feet)) for size in (width, past))
    short = "" if lengths == [width + 2 * past] else ", cut short"
    ledger.step(f"run at {hole.kind}", f"{wide} + 2 × {out}{short}", shown.length(sum(lengths), feet))
    return runs


def _width(ledger: Ledger, hole: Opening) -> float:
    """Width in m as said, or the region's usual one, said aloud."""
    if hole.width is not None:
        return hole.width.to("m")
    rule = ledger.book.find("assume.opening_width", kind=hole.kind)
    ledger.assume(f"{hole.kind}_width", {"value": rule.number(), "unit": rule.unit}, rule.statement)
    ledger.note("An opening without a width was taken as a common one: send the widths before you order.")
    return rule.to("m")


def _lengths(ledger: Ledger, hole: Opening, width: float, past: float) -> list[float]:
    """Lengths in m of one bed at an opening; shorter where the wall ends or a movement joint stands near."""
    reading = ledger.reading
    length = reading.length.to("m") if reading.length is not None else None
    left = hole.from_left.to("m") if hole.from_left is not None else None
    if left is None and hole.from_right is not None and length is not None:
        left = length - hole.from_right.to("m") - width
    if left is None or hole.count > 1:
        return [width + 2 * past]
    start, end = max(0.0, left - past), left + width + past
    if length is not None:
        end = min(length, end)
    if end - start < width + 2 * past - EPS:
        ledger.note("The end of the wall shortens the run at an opening: turn it into the return.")
    joints = [place.to("m") for place in reading.joint_at or ()]
    parts = parted(start, end, joints)
    if len(parts) > 1:
        ledger.note(
            "A movement joint cuts a run short: stop it there, and ask the designer about that corner."
        )
    kept = [(a, b) for a, b in parts if b > left + EPS and a < left + width - EPS]
    return [b - a for a, b in kept]


def throughout(ledger: Ledger, feet: bool) -> list[Run] | Need:
    """Runs from end to end, bed above bed, parted at the movement joints that were said."""
    reading = ledger.reading
    length = reading.length.to("m") if reading.length is not None else None
    height = wall_height(ledger)
    if length is None or height is None:
        slot = "height" if length is not None else "length"
        asks = {"height": "How high is the wall, or how many openings has it and how wide?",
                "length": "How long is the wall, or how many openings has it and how wide?"}  # fmt: skip
        return ledger.need(slot, asks[slot], others=("openings",))
    every = spacing(ledger, height)
    beds = max(0, -int(-(height - EPS) // every) - 1)
    tall, gap = shown.say(shown.length(height, feet)), shown.say(shown.thickness(every, feet))
    ledger.step("beds", f"{tall} ÷ {gap}, none on top", beds)
    joints = [place.to("m") for place in reading.joint_at or ()]
    walls = reading.walls or 1
    return [
        Run(f"every {gap} up the wall", beds * walls, b - a)
        for a, b in parted(0.0, length, joints) if beds
    ]  # fmt: skip


def said_spacing(ledger: Ledger, height: float | None) -> float | None:
    """A spacing in m that is one of beds: one longer than the wall is high speaks of joints."""
    said, courses = ledger.reading.spacing, ledger.reading.spacing_courses
    if courses is not None:
        return courses * course_height(ledger)
    if said is None or (height is not None and said.to("m") >= height):
        return None
    return said.to("m")


def spacing(ledger: Ledger, height: float | None) -> float:
    """Spacing of the beds in m, as said or the usual one, said aloud."""
    said = said_spacing(ledger, height)
    courses = ledger.reading.spacing_courses
    if said is not None and courses is not None:
        one, all_ = (shown.say(shown.thickness(high, ledger.feet)) for high in (said / courses, said))
        ledger.step("spacing of the beds", f"{courses} × {one} a course", all_)
    if said is not None:
        return said
    rule = ledger.rule("reinforcement.spacing")
    ledger.assume("spacing", {"value": rule.number(), "unit": rule.unit}, rule.statement)
    return rule.to("m")


def _metres(ledger: Ledger, figure: str, **facts: str | None) -> float:
    return ledger.rule(figure, **facts).to("m")
