"""Extra ties beside openings, at movement joints and along a gable verge."""

from __future__ import annotations

from math import hypot

from knowledge import shown
from knowledge.faces import Face
from knowledge.ledger import Ledger


def edge_ties(ledger: Ledger, face: Face) -> list[str]:
    """Results of the extra ties, all like walls together; what is in the count and what is not, in words."""
    apart = ledger.rule("ties.edge.spacing").to("m")
    ledger.rule("ties.edge.distance")
    for other in ledger.book.others("ties.edge.distance"):
        ledger.cite(other)
    return [*_reveals(ledger, face, apart), *_joints(ledger, face, apart), *_verge(ledger, face)]


def along(length: float, apart: float) -> int:
    """Ties along an edge in metres, one at each end of it."""
    return shown.whole(length / apart) + 1


def _reveals(ledger: Ledger, face: Face, apart: float) -> list[str]:
    """Both sides of every opening whose height was said."""
    count, unknown = 0, 0
    for hole in face.holes:
        if hole.height is None:
            unknown += hole.count
            continue
        tall = hole.height.to("m")
        each = along(tall, apart)
        count += 2 * each * hole.count * face.walls
        walls = f" × {face.walls} walls" if face.walls > 1 else ""
        sum_ = f"{hole.count} × 2 × ({shown.say(hole.height)} at {apart * 1000:g} mm: {each}){walls}"
        ledger.step(f"{hole.kind} reveals", sum_, 2 * each * hole.count * face.walls)
    if count:
        ledger.result("reveal_ties", count)
    said = [f"{count} beside openings"] if count else []
    if unknown:
        plural = "s" if unknown > 1 else ""
        ledger.note(
            f"No extra ties are counted for {unknown} opening{plural} without a height: send the sizes."
        )
    return said


def _joints(ledger: Ledger, face: Face, apart: float) -> list[str]:
    """Both sides of every movement joint that was said; else what one of them takes."""
    joints = ledger.reading.joint_count or len(ledger.reading.joint_at or ())
    if face.height is None or face.triangle:
        if joints:
            ledger.note("Ties at the movement joints are not in it: send the height there.")
        return []
    each = 2 * along(face.height, apart)
    if not joints:
        ledger.note(f"Movement joints are not in it: each takes {each} more, both sides together.")
        return []
    count = each * joints * face.walls
    tall = shown.say(shown.length(face.height, face.feet))
    ledger.step("movement joints", f"{joints} × 2 × ({tall} at {apart * 1000:g} mm: {each // 2})", count)
    ledger.result("joint_ties", count)
    ledger.rule("ties.slip")
    return [f"{count} beside movement joints"]


def _verge(ledger: Ledger, face: Face) -> list[str]:
    """Both slopes of a gable that is even on both sides."""
    if not face.triangle or face.length is None or face.height is None:
        return []
    rule = ledger.rule("ties.verge.spacing")
    slope = hypot(face.length / 2, face.height)
    each = along(slope, rule.to("m"))
    count = 2 * each * face.walls
    ledger.step(
        "verges", f"2 × ({shown.say(shown.length(slope, face.feet))} at {rule.to('mm'):g} mm: {each})", count
    )
    ledger.result("verge_ties", count)
    return [f"{count} along the verges of an even gable"]
