"""The face of a wall: its whole area, what openings take out, and what is left to lay, render or cover."""

from __future__ import annotations

from dataclasses import dataclass

from knowledge import shown
from knowledge.answers import Decline, Need, Option
from knowledge.ledger import Ledger
from knowledge.pieces import course_height
from knowledge.questions import Opening, Quantity, Reading


@dataclass(frozen=True)
class Face:
    """Areas in m² of all like walls and sides together; length and height in m of one wall, where known.

    `holes` are the openings of one wall as said; `unsized` counts those without a size, which deduct nothing.
    """

    gross: float
    deducted: float
    walls: int = 1
    sides: int = 1
    length: float | None = None
    height: float | None = None
    triangle: bool = False
    holes: tuple[Opening, ...] = ()
    unsized: int = 0
    feet: bool = False

    @property
    def net(self) -> float:
        """What is left to lay, render or cover."""
        return self.gross - self.deducted


def measure(ledger: Ledger, sides: bool = False) -> Face | Need | Decline:
    """The face of the wall in question, or what is missing. `sides`: both faces may count (render, mesh)."""
    reading = ledger.reading
    feet = ledger.feet
    length, height = _metres(reading.length), _height(ledger, feet)
    one = _one_face(ledger, length, height, feet)
    if not isinstance(one, float):
        return one
    hole = _holes(ledger, length, height, one, feet)
    if isinstance(hole, Decline):
        return hole
    taken, unsized = hole
    walls, faces = reading.walls or 1, 1
    if sides:
        faces = reading.faces or 1
        if reading.faces is None and reading.area is None:
            ledger.taken("faces")
    face = Face(
        one * walls * faces, taken * walls * faces, walls, faces, length, height,
        reading.shape == "triangle", reading.openings or (), unsized, feet,
    )  # fmt: skip
    _say_total(ledger, face, one - taken)
    return face


def _metres(said: Quantity | None) -> float | None:
    return None if said is None else said.to("m")


def _height(ledger: Ledger, feet: bool) -> float | None:
    """Height as said, or from a number of courses."""
    reading = ledger.reading
    if reading.height is not None or not reading.courses or reading.area is not None:
        return _metres(reading.height)
    course = course_height(ledger)
    ledger.rule("blocks.coordination")
    height = reading.courses * course
    shown_height = shown.length(height, feet)
    ledger.step("height", f"{reading.courses} courses × {course * 1000:.4g} mm", shown_height)
    return height


def _one_face(
    ledger: Ledger, length: float | None, height: float | None, feet: bool
) -> float | Need | Decline:
    """Area of one face of one wall in m², openings still in it."""
    said = ledger.reading.area
    half = ledger.reading.shape == "triangle"
    product = None if length is None or height is None else length * height * (0.5 if half else 1)
    if said is not None:
        area = said.to("m²")
        if product is not None and abs(product - area) > 0.02 * area:
            sized = shown.area(product, feet)
            return ledger.need(
                "area", f"{shown.say(said)} or {shown.say(sized)} by length and height: which is it?",
                tuple(Option(label=shown.say(a), reading=Reading(area=a)) for a in (said, sized)),
            )  # fmt: skip
        return area
    if product is None or length is None or height is None:
        return _missing(ledger, length, height)
    sum_ = f"{shown.say(shown.length(length, feet))} × {shown.say(shown.length(height, feet))}"
    ledger.step(
        "triangle" if half else "face of one wall", sum_ + (" ÷ 2" if half else ""), shown.area(product, feet)
    )
    return product


def _missing(ledger: Ledger, length: float | None, height: float | None) -> Need:
    if ledger.reading.wall_volume is not None:
        return ledger.need("thickness", "How thick is that wall?")
    if length is not None:
        return ledger.need("height", "How high is the wall?")
    if height is not None:
        return ledger.need("length", "How long is the wall?")
    return ledger.need(
        "area", "How big is the wall: length and height, or the area?", others=("length", "height")
    )


def _holes(
    ledger: Ledger, length: float | None, height: float | None, face: float, feet: bool
) -> tuple[float, int] | Decline:
    """What openings take out of one wall in m², and how many have no size; Decline where they do not fit."""
    taken, unsized = 0.0, 0
    for hole in ledger.reading.openings or ():
        width, tall = _metres(hole.width), _metres(hole.height)
        for size, room, way in ((width, length, "wide"), (tall, height, "high")):
            if size is not None and room is not None and size > room + 1e-9:
                return ledger.decline(
                    f"A {hole.kind} {shown.told(shown.length(size, feet))} {way} does not fit into a wall of "
                    f"{shown.told(shown.length(room, feet))}. Send the sizes again."
                )  # fmt: skip
        if hole.area is not None:
            size = hole.area.to("m²")
        elif width is not None and tall is not None:
            size = width * tall
        else:
            unsized += hole.count
            continue
        taken += size * hole.count
        sides = [hole.area] if hole.area is not None else [hole.width, hole.height]
        sum_ = " × ".join([str(hole.count), *(shown.say(side) for side in sides if side is not None)])
        ledger.step(_named(hole), sum_, shown.area(size * hole.count, feet))
    if unsized:
        ledger.taken("opening_area")
        ledger.note(
            f"Nothing is taken off for {unsized} opening{'s' if unsized > 1 else ''} without a size: "
            "send width and height."
        )
    if taken >= face:
        return ledger.decline("The openings are as large as the wall itself. Send the sizes again.")
    return taken, unsized


def hole_area(hole: Opening) -> float:
    """What one opening takes out in m²; nothing where its size was not said."""
    if hole.area is not None:
        return hole.area.to("m²")
    width, tall = _metres(hole.width), _metres(hole.height)
    return width * tall if width is not None and tall is not None else 0.0


def _named(hole: Opening) -> str:
    return f"{hole.kind}{'s' if hole.count > 1 else ''} out"


def _say_total(ledger: Ledger, face: Face, one: float) -> None:
    """The last sum: like walls and sides."""
    many = [f"{face.walls} walls"] if face.walls > 1 else []
    many += [f"{face.sides} sides"] if face.sides > 1 else []
    if many or face.deducted:
        sum_ = " × ".join([shown.say(shown.area(one, face.feet)), *many])
        ledger.step("area left", sum_ if many else "face less openings", shown.area(face.net, face.feet))
