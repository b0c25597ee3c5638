"""What is said beside the number: which rule decides it, and what a person on site must know."""

from __future__ import annotations

from typing import Any

from knowledge import shown
from knowledge.calculators._joints_detail import cavity_ties
from knowledge.calculators._joints_limits import Limits, metres
from knowledge.calculators._joints_wall import Layout, clearance
from knowledge.layout import EPS, Run, fewest
from knowledge.ledger import Ledger

_ALSO = {
    "max_spacing": ("joints.spacing",),
    "end_panel_max": ("joints.end_share", "joints.end_panel"),
    "joint_width": ("joints.width",),
    "filler": ("joints.filler",),
    "sealant_depth": ("joints.sealant_share",),
    "expected_movement": ("joints.thermal",),
    "tie_count": ("joints.tie_spacing",),
}  # figures of which other documents are shown where the result is what was asked for
_ABOUT = 0.05  # how far off a length said with "about" may be


def _joints(count: int) -> str:
    return "no joint" if count == 0 else "1 joint" if count == 1 else f"{count} joints"


def count(
    ledger: Ledger, limit: Limits, layout: Layout, length: float, feet: bool, rule: Limits | None = None
) -> None:
    """Which rule made the count, where a little more or less of wall would change it.

    `rule` is what the rule allows, where `limit` may be closer because the asker wants it so.
    """
    run = Run(length, limit.spacing, *limit.sides)
    plain = len(layout.positions or ())
    spacing, corner = _say(limit.spacing, feet), _say(limit.corner, feet)
    returns = limit.ends.count("return")
    half = (
        "half rule" if ledger.book.seek("joints.end_most", material=limit.material) is None else "corner rule"
    )
    bound = ledger.reading.length.bound if ledger.reading.length is not None else None
    _sum(ledger, limit, plain, length, feet)
    if bound in ("over", "under", "about"):
        _bounds(ledger, run, bound, plain, feet)
    if rule is not None and rule.spacing > limit.spacing:
        most = Run(length, rule.spacing, *rule.sides)
        ledger.note(
            f"Laid out at the {spacing} that was asked for; the rule allows up to "
            f"{_say(rule.spacing, feet)}, which makes {_joints(fewest(most))}."
        )
        return
    if plain == 0:
        if returns and length > limit.corner + EPS:
            ledger.rule("joints.short_wall")
            ledger.note(
                f"Walls under {spacing} are built without; by the letter, the {half} "
                f"(at most {corner} from a return) would ask for one."
            )
        return
    if length > limit.spacing + metres(ledger.book.find("joints.edge")) + EPS or layout.holes:
        return
    ledger.rule("joints.edge")
    ledger.rule("joints.practice", material=limit.material)
    both = fewest(Run(limit.spacing + 0.01, limit.spacing, *limit.sides))
    if returns == 2 and bound is None and both > 1:
        ledger.note(
            f"At {spacing} common practice asks for {_joints(1)}; just over it the {half} "
            f"(at most {corner} from each return) makes it {both}."
        )
    elif bound is None:
        ledger.note(f"Common practice puts a joint into any wall from {spacing} on.")


def _sum(ledger: Ledger, limit: Limits, count: int, length: float, feet: bool) -> None:
    left, right = limit.sides
    long, ends = _say(length, feet), f"{_say(left, feet)} and {_say(right, feet)}"
    if count == 0:
        expression = f"{long} is less than {_say(limit.spacing, feet)}"
    else:
        most = left + right + (count - 1) * limit.spacing
        between = _say(limit.spacing, feet)
        expression = f"end panels up to {ends}, between up to {between}: good for {_say(most, feet)}"
    ledger.step("fewest joints", expression, count)


def _bounds(ledger: Ledger, run: Run, bound: str, count: int, feet: bool) -> None:
    """How far the count holds, where the length was said with a bound."""
    most = run.spacing if count == 0 else run.left + run.right + (count - 1) * run.spacing
    most = max(most, run.spacing)
    least = run.spacing if count <= 1 else run.left + run.right + (count - 2) * run.spacing
    least = max(least, run.spacing) if count else 0.0
    if bound == "over":
        reach = f"up to {_say(most, feet)}" if count else f"under {_say(most, feet)}"
        ledger.note(f"That holds {reach}; beyond it there are more. Measure the wall.")
    elif bound == "under":
        if count == 0:
            if run.length >= run.spacing - EPS:
                ledger.note(f"A wall of {_say(run.spacing, feet)} or more gets a joint.")
        else:
            ledger.note(f"That is the most it can need; it takes fewer at {_say(least, feet)} or less.")
    else:
        _about(ledger, run, count, (least, most), feet)


def _about(ledger: Ledger, run: Run, count: int, reach: tuple[float, float], feet: bool) -> None:
    """What the count is a little shorter or longer, where a length said with "about" may be there."""
    (least, most), room, parts = reach, _ABOUT * run.length, []
    if count and run.length - least <= room:
        below = least - 0.01 if count == 1 else least
        fewer = fewest(Run(below, run.spacing, run.left, run.right))
        parts.append(f"{'under' if count == 1 else 'up to'} {_say(least, feet)} {_joints(fewer)}")
    if most - run.length <= room:
        over = most if count == 0 else most + 0.01
        more = fewest(Run(over, run.spacing, run.left, run.right))
        parts.append(f"{'from' if count == 0 else 'over'} {_say(most, feet)} {_joints(more)}")
    if parts:
        ledger.note(f"{', '.join(parts).capitalize()}: measure the wall.")


def _say(length: float, feet: bool) -> str:
    return shown.told(shown.length(length, feet))


def of_the_wall(
    ledger: Ledger, limit: Limits, layout: Layout, found: list[float], height: float | None
) -> None:
    """Openings, shape of panels, place, finish, bond."""
    reading = ledger.reading
    joints, walls = len(layout.positions or ()), reading.walls or 1
    feet = ledger.feet
    if joints and layout.unplaced:
        holes = "an opening" if layout.unplaced == 1 else "openings"
        ledger.note(
            f"The positions are for a plain wall: {holes} without a place. Keep joints "
            f"{_say(clearance(ledger), feet)} clear of each, or send how far from the left end it is."
        )
    plain = fewest(Run(layout.run.length, limit.spacing, *limit.sides))
    if joints > plain and layout.moved:
        ledger.note(
            f"{_joints(plain).capitalize()} would do in a plain wall, but not clear of these openings."
        )
    elif layout.moved and joints:
        ledger.note(f"Moved to stand {_say(layout.holes[0].clear, feet)} clear of the openings.")
    if height is not None:
        _shape(ledger, max(found), height, feet)
    if walls > 1 and joints:
        ledger.note(f"{_joints(joints).capitalize()} in each of {walls} walls; positions are of one wall.")
    if "column" in limit.ends:
        ledger.note(ledger.book.find("assume.ends", kind="infill").statement)
    of_place(ledger, limit, joints)
    if joints and not layout.bonded and not layout.unplaced:
        ledger.note("Set each joint on the perpend nearest to it.")


def _shape(ledger: Ledger, longest: float, height: float, feet: bool) -> None:
    """Length to height of the longest panel: over 3 in a note, over 2 behind the working."""
    ratio = longest / height
    most, care = ledger.book.seek("joints.ratio"), ledger.book.seek("joints.ratio_care")
    if most is None or care is None:
        return
    shape = f"{_say(longest, feet)} ÷ {_say(height, feet)}"
    if ratio > most.number() + EPS:
        ledger.cite(most)
        for other in ledger.book.others("joints.ratio"):
            ledger.cite(other)
        ledger.step("panel length to height", f"{shape}, over {most.number():g}", round(ratio, 2))
        ledger.note(
            f"A panel of {_say(longest, feet)} is over {most.number():g} times as long as high: "
            "reinforce the bed joints or set the joints closer."
        )
    elif ratio > care.number() + EPS:
        ledger.cite(care)
        ledger.step("panel length to height", f"{shape}, over {care.number():g}: with care", round(ratio, 2))
    else:
        ledger.step("panel length to height", shape, round(ratio, 2))


def of_place(ledger: Ledger, limit: Limits, joints: int) -> None:
    """Finish, leaf and place."""
    reading = ledger.reading
    inside = limit.place == "internal" or reading.leaf == "inner"
    if reading.finish == "render" and joints:
        ledger.note(ledger.rule("joints.through_render").statement)
    elif reading.finish == "plaster" and joints:
        ledger.note(ledger.rule("joints.through").statement)
    elif reading.finish == "boards":
        word = "joints.dry_lined" if inside and limit.material == "aac" else "joints.boards"
        ledger.note(ledger.rule(word).statement)
    if inside and reading.finish != "boards" and joints:
        indoors = ledger.book.seek("joints.indoors", material=limit.material)
        if indoors is not None:
            ledger.cite(indoors)
            ledger.note(indoors.statement)
    if limit.place == "parapet":
        share = ledger.rule("joints.parapet_share", material=limit.material)
        most = ledger.book.seek("joints.parapet_end", material=limit.material)
        ledger.note(share.statement if most is None else f"{share.statement} {most.statement}")
    if limit.place == "below_dpc":
        ledger.note(ledger.rule("joints.below_dpc").statement)
    if reading.leaf == "cavity":
        ledger.note(ledger.rule("joints.leaves").statement)
        cavity_ties(ledger)


def of_the_rule(ledger: Ledger, limit: Limits) -> None:
    """What goes with a rule that was asked for without a wall."""
    wants = set(ledger.question.wants)
    if "why" in wants:
        ledger.note(ledger.rule("joints.why").statement)
    if "joint_positions" in wants:
        ledger.note(ledger.rule("joints.likely").statement)
        ledger.note(ledger.rule("joints.floor_joint").statement)
    if wants & {"tie_count", "tie_spacing"} and ledger.reading.leaf is not None:
        cavity_ties(ledger)
    if ledger.reading.openings:
        keep = shown.say(shown.length(clearance(ledger), ledger.feet))
        ledger.note(f"Keep a joint {keep} clear of an opening.")
    if "end_panel_max" in wants:
        ledger.note(ledger.rule("joints.free_end").statement)
    of_place(ledger, limit, 1)


def other_documents(ledger: Ledger, facts: dict[str, Any]) -> None:
    """Show what other documents say of the result that was asked for first."""
    for figure in _ALSO.get((*ledger.question.wants, "")[0], ()):
        for rule in ledger.book.others(figure, **facts):
            ledger.cite(rule)
