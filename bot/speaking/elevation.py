"""The elevation on paper: the figure to scale, labels that do not touch, dimensions, legend, remarks."""

from __future__ import annotations

from bot.speaking import signs
from bot.speaking.dimensions import arrange, row, say, upright
from bot.speaking.holes import openings
from bot.speaking.legend import legend, remarks
from bot.speaking.scale import WIDTH, Scale
from bot.speaking.strokes import Paper
from knowledge.figure import Figure
from knowledge.shapes import clip, rise, strip

STUB = 26


def draw(wall: Figure, title: str) -> Paper:
    """All strokes of one elevation."""
    paper = Paper(WIDTH)
    if title:
        paper.text((28, 40), title, 40, bold=True)
    scale = Scale(wall, 0)
    labels = arrange(_joint_labels(wall, scale), 32, 3, bold=True)
    levels = max((label.level for label in labels), default=-1) + 1
    scale = Scale(wall, (84 if title else 20) + levels * 38 + (16 if levels else 0))
    _masonry(paper, wall, scale)
    _ends(paper, wall, scale)
    _mesh(paper, wall, scale)
    _steel(paper, wall, scale)
    _slip_ties(paper, wall, scale)
    left_out = openings(paper, wall, scale)
    _joints(paper, wall, scale)
    for label in labels:
        y = scale.top - 40 - label.level * 38
        paper.text((label.middle, y), label.words, 32, "middle", bold=True)
        top = next(scale.y(j.top) for j in wall.joints if abs(scale.x(j.at) - label.middle) < 0.01) - 24
        if top > y + 30:
            paper.line((label.middle, y + 20), (label.middle, top), 1.5, 120)
    y = _dimensions(paper, wall, scale)
    y = legend(paper, wall, y + 10)
    said = list(wall.remarks)
    if scale.stretched and wall.sized:
        said.insert(0, "Heights are drawn larger than lengths.")
    unit = "feet and inches" if wall.feet else "metres"
    joints = ", joints from the left end to their centre lines" if wall.joints else ""
    paper.height = remarks(paper, [f"Sizes in {unit}{joints}.", *left_out, *said], y) + 12
    return paper


def _joint_labels(wall: Figure, scale: Scale) -> list[tuple[float, str]]:
    """'J1 2.04' over each joint; first and last first where they are too many."""
    return [(scale.x(joint.at), f"J{n} {say(joint.at, wall.feet)}") for n, joint in enumerate(wall.joints, 1)]


def _masonry(paper: Paper, wall: Figure, scale: Scale) -> None:
    """Courses lightly, then the outline."""
    corners = [scale.at(point) for point in wall.outline]
    paper.shape(corners, 0, 0, 255)
    rows = {at for at, _, _ in wall.beds}
    close = len(rows) * 7 > scale.foot - scale.top
    for at, left, right in () if close else wall.beds:
        paper.line((scale.x(left), scale.y(at)), (scale.x(right), scale.y(at)), 1.2, 190)
    crowded = (
        close or len(wall.perpends) > 1400 or len(wall.perpends) * 14 > len(rows) * (scale.right - scale.left)
    )
    for at, low, high in () if crowded else wall.perpends:
        paper.line((scale.x(at), scale.y(low)), (scale.x(at), scale.y(high)), 1.2, 205)
    paper.shape(corners, 5)
    paper.line((scale.left - 40, scale.foot), (scale.right + 40, scale.foot), 5)


def _ends(paper: Paper, wall: Figure, scale: Scale) -> None:
    """What holds the wall at its ends, hatched and in words."""
    if wall.triangle:
        return
    words = {"return": "return", "free": "free end", "column": "column"}
    for end, edge, out in ((wall.ends[0], scale.left, -1), (wall.ends[1], scale.right, 1)):
        near, far = edge + out * (8 if end == "column" else 2), edge + out * (STUB + 8)
        stub = ((near, scale.top), (far, scale.top), (far, scale.foot), (near, scale.foot))
        if end != "free":
            paper.shape(stub, 2)
            paper.hatch(stub, 12, 45, 1.5, 60)
        if end == "column":
            paper.hatch(stub, 12, 135, 1.5, 60)
        middle = edge + out * ((STUB + 8 if end != "free" else 0) + 20)
        paper.text((middle, (scale.top + scale.foot) / 2), words[end], 28, "middle", upright=True)


def _mesh(paper: Paper, wall: Figure, scale: Scale) -> None:
    """Patches to scale; as signs at the corners where a stretched drawing would pull them out of shape."""
    for patch in wall.patches:
        shape = [scale.at(point) for point in patch.outline]
        if scale.up > scale.across * 1.4:
            x, y = scale.at(patch.corner)
            out = 1 if sum(px for px, _ in shape) / len(shape) > x else -1
            down = 1 if sum(py for _, py in shape) / len(shape) > y else -1
            size = max(14.0, min(30.0, 900 * scale.across))
            off = size * 0.2
            sign = strip((x + out * off, y + down * off), (out, -down), size, size * 0.56)
            shape = list(clip(sign, tuple(scale.at(point) for point in reversed(wall.outline))))
        if shape:
            signs.mesh(paper, shape)


def _steel(paper: Paper, wall: Figure, scale: Scale) -> None:
    """Reinforcement as a broken line, ties as small marks."""
    for run in wall.strands:
        ends = (scale.x(run.left), scale.y(run.at)), (scale.x(run.right), scale.y(run.at))
        signs.reinforcement(paper, *ends)
    for tie in wall.ties:
        if tie.kind == "cavity":
            signs.cavity_tie(paper, scale.x(tie.x), scale.y(tie.y))


def _joints(paper: Paper, wall: Figure, scale: Scale) -> None:
    """A white line between two black ones, standing out over the wall."""
    for joint in wall.joints:
        signs.movement_joint(paper, scale.x(joint.at), scale.y(joint.top) - 22, scale.foot)


def _slip_ties(paper: Paper, wall: Figure, scale: Scale) -> None:
    """Ties across the joints; on a small drawing only some of them, and shorter."""
    slips = [tie for tie in wall.ties if tie.kind == "slip"]
    half = max(10.0, min(18.0, (scale.right - scale.left) / (len(wall.joints) * 6 + 1)))
    every = max(1, round(16 / max(1e-9, _tie_gap(wall) * scale.up)))
    for place, tie in enumerate(slips):
        sides = [rise(wall.outline, tie.x + out * half / scale.across) for out in (-1, 1)]
        if place % every == 0 and all(side is not None and side[1] > tie.y for side in sides):
            signs.slip(paper, scale.x(tie.x), scale.y(tie.y), half)


def _tie_gap(wall: Figure) -> float:
    ups = sorted({tie.y for tie in wall.ties if tie.kind == "slip"})
    return ups[1] - ups[0] if len(ups) > 1 else wall.height


def _dimensions(paper: Paper, wall: Figure, scale: Scale) -> float:
    """Height at the left; openings, panels and the whole length below."""
    if wall.sized:
        x = scale.left - (46 if wall.triangle else 100)
        upright(paper, x, scale.foot, scale.top, say(wall.height, wall.feet))
    y, name = scale.foot + 40, scale.left - 26
    rows = []
    if wall.holes:
        rows.append(
            ("openings", sorted({0.0, wall.length, *(e for h in wall.holes for e in (h.left, h.right))}))
        )
    if wall.joints:
        rows.append(("panels", [0.0, *(joint.at for joint in wall.joints), wall.length]))
    rows.append(("length", [0.0, wall.length]))
    for words, marks in rows:
        y = row(paper, [(scale.x(mm), mm) for mm in marks], y, name=words, feet=wall.feet, left=name) + 14
    return y
