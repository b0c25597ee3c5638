"""Cavity wall ties: how many, how far apart, how long."""

from __future__ import annotations

from knowledge import shown
from knowledge.answers import Finding, Need, quantity
from knowledge.calculators._ties_edges import edge_ties
from knowledge.faces import Face, measure
from knowledge.ledger import Ledger
from knowledge.questions import Question
from knowledge.rulebook import RuleBook
from knowledge.units import convert

_GENERAL = {"ties_per_area", "spacing", "tie_length", "embedment", "tie_type", "slip", "timber_frame"}
_SOLID = (
    "A solid wall has no cavity and no wall ties. For slip ties across a movement joint ask about the joint; "
    "a wall of two leaves in one needs the designer's ties."
)


def answer(question: Question, book: RuleBook) -> list[Finding]:
    """Ties of a wall; or to the square metre, their spacing and length, where no wall is wanted."""
    ledger = Ledger(question, book)
    reading, wants = question.reading, set(question.wants)
    if reading.leaf == "solid":
        return [ledger.decline(_SOLID)]
    if reading.cavity is not None and reading.cavity.to("mm") <= 0:
        return [ledger.decline("A cavity is wider than nothing: send its clear width in mm.")]
    face: Face | None = None
    if _counts(question):
        found = measure(ledger)
        if not isinstance(found, Face):
            return [found]
        face = found
    only_length = bool(wants) and wants <= {"tie_length"} and face is None
    lacking = _length(ledger)
    if lacking is not None and only_length:
        return [lacking]
    across, up = _pattern(ledger)
    if face is not None:
        _count(ledger, face, across, up)
    fall = ledger.rule("ties.fall")
    if face is None:
        ledger.note(fall.statement)
    ledger.caution("ties.caution.drawing")
    ledger.caution("ties.caution.clean")
    done = ledger.answer("tie_count", "ties_per_area", "tie_length", "spacing", "edge_spacing")
    asked = lacking if "tie_length" in wants else None
    return [done] if asked is None else [done, asked]


def _counts(question: Question) -> bool:
    """Whether a number for a wall is wanted, or may be given because the wall is known."""
    reading, wants = question.reading, set(question.wants)
    known = reading.area is not None or (
        reading.length is not None and (reading.height is not None or bool(reading.courses))
    )
    if known or "tie_count" in wants:
        return True
    return not wants and (reading.length is not None or reading.height is not None)


def _pattern(ledger: Ledger) -> tuple[float, float]:
    """Spacing along and up the wall in metres; results of the field of the wall."""
    frame = "timber_frame" in ledger.question.wants
    if frame:
        horizontal, vertical = ledger.rule("ties.frame.horizontal"), ledger.rule("ties.frame.vertical")
        others = ledger.book.others("ties.frame.density")
    else:
        cavity = ledger.reading.cavity.to("mm") if ledger.reading.cavity else None
        horizontal = ledger.rule("ties.horizontal", thickness=_leaf(ledger))
        vertical = ledger.rule("ties.vertical")
        others = ledger.book.others("ties.horizontal", cavity=cavity)
        if not horizontal.when.conditions():
            others = [ledger.rule("ties.density"), *ledger.book.others("ties.density"), *others]
    for other in others:
        ledger.cite(other)
    across, up = horizontal.to("m"), vertical.to("m")
    across, up = _said(ledger, across, up)
    feet = ledger.feet
    per = 1 / (across * up)
    unit = "1/ft²" if feet else "1/m²"
    each = convert(per, "1/m²", unit)
    ledger.result("ties_per_area", quantity(each, unit, 3))
    sides = {"horizontal": shown.thickness(across, feet), "vertical": shown.thickness(up, feet)}
    ledger.result("spacing", sides)
    ledger.step("to an area", f"1 ÷ ({across:g} m × {up:g} m)", quantity(each, unit, 3))
    edge = ledger.rule("ties.edge.spacing")
    ledger.result("edge_spacing", shown.thickness(edge.to("m"), feet))
    if "slip" in ledger.question.wants:
        ledger.note(ledger.rule("ties.slip").statement)
    return across, up


def _leaf(ledger: Ledger) -> float:
    """Thickness of a leaf in mm, as said or the common one."""
    block = ledger.reading.block
    said = (block.thickness if block else None) or ledger.reading.thickness
    if said is not None:
        return said.to("mm")
    return ledger.taken("block_thickness").to("mm")


def _said(ledger: Ledger, across: float, up: float) -> tuple[float, float]:
    """A spacing that the asker names, along and up the wall: judged, and counted with where it is closer."""
    along, above = ledger.reading.spacing, ledger.reading.spacing_up
    if along is None:
        return across, up
    limit = f"{across * 1000:g} mm along and {up * 1000:g} mm up the wall"
    wide = [said for said, most in ((along, across), (above, up)) if said and said.to("m") > most + 1e-9]
    ledger.result("verdict", "too far apart" if wide else "enough")
    for said in wide:
        ledger.note(f"{shown.say(said)} is wider than {limit}.")
    if wide:
        return across, up
    if above is not None:
        return along.to("m"), above.to("m")
    if along.to("m") > up:
        ledger.note(
            f"{shown.say(along)} is taken along the wall; up the wall it would be over {up * 1000:g} mm."
        )
        return along.to("m"), up
    ledger.note(f"{shown.say(along)} keeps to {limit}; counted at that limit.")
    return across, up


def _count(ledger: Ledger, face: Face, across: float, up: float) -> None:
    """Ties on the face less openings, and the extra ones at edges."""
    exact = face.net / (across * up)
    field = shown.whole(exact)
    ledger.result("field_ties", field)
    ledger.step("on the face", f"{shown.say(shown.area(face.net, face.feet))} at {across:g} × {up:g} m",
                round(exact, 2))  # fmt: skip
    extra = edge_ties(ledger, face)
    names = ("reveal_ties", "joint_ties", "verge_ties")
    total = field + sum(ledger.results.get(name, 0) for name in names)
    ledger.result("tie_count", total)
    ledger.result("net_area", shown.area(face.net, face.feet))
    if extra:
        ledger.note(f"In it: {field} on the face, {', '.join(extra)}.")


def _length(ledger: Ledger) -> Need | None:
    """Length of the tie by cavity and embedment; asks for the cavity where it is wanted."""
    cavity = ledger.reading.cavity
    wants = set(ledger.question.wants)
    kinds = ledger.book.seek("ties.type")
    if kinds is not None and wants & {"tie_type", "tie_length"}:
        ledger.cite(kinds)
        ledger.result("tie_type", list(kinds.items or ()))
    if "embedment" in wants or cavity is not None:
        depth = ledger.rule("ties.embedment")
        for other in ledger.book.others("ties.embedment"):
            ledger.cite(other)
        ledger.result("embedment", quantity(depth.number(), depth.unit))
    if cavity is None:
        return ledger.need("cavity", "How wide is the clear cavity, insulation in it and all, in mm?")
    wide = cavity.to("mm")
    bedded = ledger.book.find("ties.embedment").to("mm")
    feet = cavity.unit in ("in", "ft")
    least = shown.thickness((wide + 2 * bedded) / 1000, feet)
    ledger.result("least_length", least)
    ledger.step("shortest tie", f"{wide:g} mm + 2 × {bedded:g} mm", least)
    narrow = ledger.book.seek("ties.cavity.least")
    if narrow is not None and wide < narrow.to("mm"):
        ledger.cite(narrow)
        ledger.note(narrow.statement)
    lengths = ledger.book.seek("ties.length")
    if lengths is None:
        return None
    ledger.cite(lengths)
    rows = lengths.table.rows if lengths.table is not None else ()
    fits = [float(row[1]) for row in rows if wide <= float(row[0])]
    if not fits:
        ledger.note(ledger.rule("ties.length.design").statement)
        return None
    ledger.result("tie_length", shown.thickness(min(fits) / 1000, feet))
    return None
