"""Movement joints: how many, where, how wide, what goes in them, and whether a proposal will do."""

from __future__ import annotations

from knowledge import shown
from knowledge.answers import Answer, Finding, Need
from knowledge.calculators import _joints_detail as detail
from knowledge.calculators import _joints_wall as wall
from knowledge.calculators import _joints_words as words
from knowledge.calculators._joints_asked import ASKED, tell
from knowledge.calculators._joints_limits import (
    Limits,
    alternatives,
    by_height,
    closer,
    limits,
    named_spacing,
)
from knowledge.layout import EPS, panels
from knowledge.ledger import Ledger
from knowledge.pieces import wall_height
from knowledge.questions import Question
from knowledge.rulebook import RuleBook

_OF_A_WALL = {"joint_count", "joint_positions", "panel_lengths", "verdict", "filler_length", "sealant_length"}
_AMOUNTS = {"filler_length", "sealant_length"}
_TIES = {"tie_count", "tie_spacing", "ties_per_joint"}
_MOST_NOTES = 3  # a phone screen is small
_HAIR = 0.001  # metres: what "over" and "under" lie beside the length that was said


def answer(question: Question, book: RuleBook) -> list[Finding]:
    """One finding: the joints of a wall, or the rule itself where no wall is asked about."""
    ledger = Ledger(question, book)
    reading = question.reading
    tell(ledger)
    if question.wants and set(question.wants) <= set(ASKED):
        return [_close(ledger, *question.wants)]
    if reading.length is None:
        if _wants_a_wall(question):
            return [ledger.need("length", "How long is the wall?")]
        return [_rule(ledger)]
    tied = question.wants[:1] == ("tie_count",)
    if (tied or _AMOUNTS & set(question.wants)) and reading.height is None:
        return [ledger.need("height", "How high is the wall?")]
    if by_height(ledger) and wall_height(ledger) is None:
        return [ledger.need("height", "How high is the wall? Its joints go by the height as well.")]
    return [_wall(ledger, reading.length.to("m"))]


def _wants_a_wall(question: Question) -> bool:
    """Whether the answer hangs on a length that was not said."""
    reading, wants = question.reading, question.wants
    said = (
        reading.block,
        reading.place,
        reading.leaf,
        reading.finish,
        reading.ends,
        reading.bed_reinforcement,
    )
    if not wants:
        return all(slot is None for slot in said) and reading.spacing is None and not reading.openings
    if wants[0] not in _OF_A_WALL or "why" in wants:
        return False
    if wants[0] in _AMOUNTS:
        return True
    if wants[0] == "verdict" and (reading.joint_at or reading.spacing is not None):
        return False
    return reading.bed_reinforcement is None


def _feet(ledger: Ledger) -> bool:
    reading = ledger.reading
    if ledger.question.units is not None:
        return ledger.feet
    named = [reading.spacing, *(reading.joint_at or ())]
    if reading.length is None and reading.height is None and not reading.openings:
        units = [said.unit for said in named if said is not None]
        return any(unit in ("ft", "in", "yd") for unit in units) if units else ledger.feet
    return ledger.feet


def _rule(ledger: Ledger) -> Finding:
    """The rule without a wall: spacing, end panel, width, filler, sealant, ties."""
    feet, wants = _feet(ledger), set(ledger.question.wants)
    reading = ledger.reading
    height = reading.height.to("m") if reading.height is not None else None
    if wants and wants <= _TIES:
        detail.ties(ledger, feet, height, None, 1)
        if reading.leaf is not None or reading.cavity is not None:
            detail.cavity_ties(ledger)
        words.other_documents(ledger, {"place": reading.place})
        return _close(ledger, "tie_count", "tie_spacing")
    limit = limits(ledger, with_ends=reading.ends is not None)
    _limits(ledger, limit, feet)
    _proposed_spacing(ledger, limit, feet)
    if reading.joint_at and reading.spacing is None:
        first = min(at.to("m") for at in reading.joint_at)
        ledger.result("verdict", "enough" if first <= limit.sides[0] + EPS else "misplaced")
    if wants & _TIES:
        detail.ties(ledger, feet, height, None, 1)
    _make(ledger, limit, limit.spacing, feet)
    if not reading.spacing and ledger.question.wants[:1] == ("max_spacing",):
        further = alternatives(ledger, limit, limit.spacing)
        if further is not None:
            ledger.note(f"{further} Take the designer's word before going further.")
    words.of_the_rule(ledger, limit)
    words.other_documents(ledger, limit.facts)
    return _close(ledger, "verdict", "max_spacing", "end_panel_max", "joint_width")


def _limits(ledger: Ledger, limit: Limits, feet: bool) -> None:
    ledger.result("max_spacing", shown.length(limit.spacing, feet))
    free = "return" not in limit.ends
    ledger.result("end_panel_max", shown.length(limit.spacing if free else limit.corner, feet))


def _proposed_spacing(ledger: Ledger, limit: Limits, feet: bool) -> None:
    """The verdict on a spacing that the asker names."""
    said = named_spacing(ledger)
    if said is None:
        return
    if said.to("m") <= limit.spacing + EPS:
        ledger.result("verdict", "enough")
        return
    ledger.result("verdict", "too few")
    ledger.note(f"{shown.say(said)} is over the {shown.told(shown.length(limit.spacing, feet))} taken here.")
    further = alternatives(ledger, limit, limit.spacing)
    if further is not None:
        ledger.note(f"{further} That is for the designer to decide.")


def _make(ledger: Ledger, limit: Limits, panel: float, feet: bool) -> None:
    """Width, sealant, filler and movement of a joint."""
    wide = detail.width(ledger, limit)
    ledger.result("joint_width", detail.small(wide, feet))
    ledger.result("expected_movement", detail.moves(ledger, limit, panel, feet))
    ledger.result("sealant_depth", detail.seal(ledger, wide, feet))
    ledger.result("filler", detail.fill(ledger, limit, "filler" in ledger.question.wants))
    if "expected_movement" in ledger.question.wants:
        way = "closes" if detail.grows(ledger, limit) else "opens"
        ledger.note(f"That is one panel, end to end: a joint between two like panels {way} by as much.")


def _wall(ledger: Ledger, length: float) -> Finding:
    """The joints of one wall, or of several like it."""
    feet, reading = _feet(ledger), ledger.reading
    walls = reading.walls or 1
    limit = limits(ledger)
    asked = closer(ledger, limit)
    bound = reading.length.bound if reading.length is not None else None
    most = ledger.book.seek("believable.joints", use="possible")
    if most is not None and most.max is not None and length > most.max * asked.spacing:
        return ledger.decline(f"Joints would stand every {asked.spacing * 1000:g} mm. {most.statement}")
    hair = _HAIR if bound == "over" else -_HAIR if bound == "under" else 0.0
    layout = wall.lay(ledger, asked, length, length + hair)
    if isinstance(layout, Need):
        return layout
    _limits(ledger, limit, feet)
    if layout.positions is None:
        ledger.note(wall.failure(ledger, layout))
        if reading.joint_at:
            ledger.result("verdict", "misplaced")
        _make(ledger, limit, limit.spacing, feet)
        return _close(ledger, "verdict", "max_spacing", "end_panel_max")
    count = len(layout.positions)
    verdict = wall.judge(ledger, layout, count, walls)
    if verdict is not None:
        ledger.result("verdict", verdict)
    else:
        _proposed_spacing(ledger, limit, feet)
    found = panels(length, layout.positions)
    ledger.result("joint_count", count * walls)
    if walls > 1:
        ledger.result("joints_per_wall", count)
        ledger.step("joints in all", f"{walls} walls × {count}", count * walls)
    ledger.result("joint_positions", [wall.marked(at, feet) for at in layout.positions])
    ledger.result("panel_lengths", [wall.marked(panel, feet) for panel in found])
    words.count(ledger, asked, layout, length, feet, rule=limit)
    _make(ledger, limit, max(found), feet)
    height = reading.height.to("m") if reading.height is not None else None
    wants = set(ledger.question.wants)
    tied = ledger.book.seek("joints.tie_spacing", place=limit.place) is not None
    if wants & _TIES or (tied and not wants and height is not None and count):
        detail.ties(ledger, feet, height, count, walls)
    if height is not None and count:
        _amounts(ledger, count * walls, height, feet)
    words.of_the_wall(ledger, asked, layout, found, height)
    return _close(ledger, "verdict", "joint_count", "joint_positions", "joint_width")


def _amounts(ledger: Ledger, joints: int, height: float, feet: bool) -> None:
    """Filler and sealant by length, for all joints and faces."""
    faces = ledger.reading.faces
    if faces is None:
        faces = int(ledger.taken("faces").number()) if _AMOUNTS & set(ledger.question.wants) else 1
    filler = joints * height
    ledger.result("filler_length", shown.length(filler, feet))
    ledger.result("sealant_length", shown.length(filler * faces, feet))
    ledger.step(
        "filler", f"{joints} joints × {shown.say(shown.length(height, feet))}", shown.length(filler, feet)
    )
    ledger.step(
        "sealant", f"filler × {faces} face{'s' if faces > 1 else ''}", shown.length(filler * faces, feet)
    )


def _close(ledger: Ledger, *lead: str) -> Answer:
    ledger.caution("cautions.joints")
    if ledger.reading.place == "freestanding":
        ledger.caution("cautions.freestanding")
    if ledger.results.get("joint_count", 1):
        ledger.caution("joints.caution.fire_wall")
        ledger.caution("joints.caution.bearing")
    return ledger.answer(*lead, most_notes=_MOST_NOTES)
