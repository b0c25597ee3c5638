"""Mesh in render: net area, laps, rolls, strips, corner patches, and whether the rolls in hand will do."""

from __future__ import annotations

from dataclasses import dataclass

from knowledge import shown, strips
from knowledge.answers import Finding, Need, Range, quantity
from knowledge.faces import Face, measure
from knowledge.ledger import Ledger
from knowledge.questions import Quantity, Question
from knowledge.rulebook import RuleBook
from knowledge.shown import whole
from knowledge.units import convert

_GENERAL = {"lap", "roll", "patch_size", "bed", "waiting", "corner_patches", "mass", "full_area"}
_LEAD = ("enough", "shortfall", "rolls", "order_area", "net_area", "corner_patches")


@dataclass(frozen=True)
class Roll:
    """Metres."""

    width: float
    length: float
    lap: float

    @property
    def area(self) -> float:
        """Gross area of one roll in m²."""
        return self.width * self.length


def answer(question: Question, book: RuleBook) -> list[Finding]:
    """Mesh for a wall; or a rule of the trade where only that was asked."""
    ledger = Ledger(question, book)
    wants, reading = set(question.wants), question.reading
    sized = any((reading.area, reading.length, reading.height, reading.courses))
    if wants and wants <= _GENERAL and not sized:
        _general(ledger, wants)
        if "corner_patches" in wants:
            _patches(ledger, (reading.walls or 1) * (reading.faces or 1))
        return [_close(ledger)]
    found = measure(ledger, sides=True)
    if not isinstance(found, Face):
        return [found]
    roll = _roll(ledger)
    if isinstance(roll, Need):
        return [roll]
    _order(ledger, found, roll)
    _patches(ledger, found.walls * found.sides)
    _general(ledger, wants)
    ledger.rule("mesh.depth")
    junction = ledger.book.seek("mesh.junction")
    if junction is not None:
        ledger.cite(junction)
        ledger.note(junction.statement)
    return [_close(ledger)]


def _close(ledger: Ledger) -> Finding:
    for name in ("joint", "bridge", "alkali"):
        ledger.caution(f"mesh.caution.{name}")
    return ledger.answer(*_LEAD)


def _roll(ledger: Ledger) -> Roll | Need:
    """Roll and lap, as said or by habit."""
    reading = ledger.reading
    width = reading.roll.width if reading.roll else None
    length = reading.roll.length if reading.roll else None
    if width is None or length is None:
        wide, long = ledger.rule("mesh.roll_width"), ledger.rule("mesh.roll_length")
        width = width or Quantity(value=wide.number(), unit=wide.unit)
        length = length or Quantity(value=long.number(), unit=long.unit)
        taken = {"width": width.plain(), "length": length.plain()}
        ledger.assume("roll", taken, f"{wide.statement} {long.statement}")
    lap = _lap(ledger)
    if lap >= width.to("m"):
        return ledger.need("lap", "The lap is as wide as the roll: how wide is each?")
    return Roll(width.to("m"), length.to("m"), lap)


def _lap(ledger: Ledger) -> float:
    said, rule = ledger.reading.lap, ledger.rule("mesh.lap")
    lap = Quantity(value=rule.number(), unit=rule.unit)
    if said is not None:
        if said.to("m") < lap.to("m"):
            ledger.note(f"A lap of {shown.say(said)} is too little: {rule.statement}")
        return said.to("m")
    ledger.assume("lap", lap.plain(), rule.statement)
    return lap.to("m")


def _order(ledger: Ledger, face: Face, roll: Roll) -> None:
    """Areas, strips and rolls."""
    feet = face.feet
    order = strips.with_laps(face.net, roll.width, roll.lap)
    net, gross = shown.area(face.net, feet), shown.area(order, feet)
    ledger.result("net_area", net)
    ledger.result("order_area", gross)
    wide, usable = (shown.say(shown.length(v, feet)) for v in (roll.width, roll.width - roll.lap))
    ledger.step("with laps", f"{shown.say(net)} × {wide} ÷ {usable}", gross)
    exact = order / roll.area
    one = shown.say(shown.area(roll.area, feet))
    ledger.step("rolls", f"{shown.say(gross)} ÷ {one}", round(exact, 3))
    length = _strips(ledger, face, roll)
    if length is not None and not face.deducted and length / roll.length > exact:
        exact = length / roll.length
        ledger.step("rolls by strips", f"{shown.say(shown.length(length, feet))} ÷ "
                    f"{shown.say(shown.length(roll.length, feet))}", round(exact, 3))  # fmt: skip
    ledger.result("rolls", whole(exact))
    _in_hand(ledger, exact, roll, feet)


def _strips(ledger: Ledger, face: Face, roll: Roll) -> float | None:
    """The lie of the strips that takes less mesh; their length in all, openings not taken out."""
    if face.length is None or face.height is None or face.triangle:
        return None
    ways = strips.lay(face.length, face.height, width=roll.width, roll=roll.length, lap=roll.lap)
    way = min(ways, key=lambda name: ways[name][0] * ways[name][1])
    count, each = ways[way]
    many = count * face.walls * face.sides
    long = shown.length(each, face.feet)
    ledger.result("strips", {"direction": way, "count": many, "length": long})
    over = ", carried over the openings" if face.holes else ""
    ledger.note(f"Strips {way}: {many} of {shown.told(long)}{over}.")
    return many * each


def _in_hand(ledger: Ledger, exact: float, roll: Roll, feet: bool) -> None:
    """Whether the rolls in hand will do."""
    hand = ledger.reading.rolls
    if hand is None and ledger.reading.roll is not None and "shortfall" in ledger.question.wants:
        hand = ledger.taken("rolls").number()
    if hand is None:
        return
    short = max(0.0, exact - hand)
    ledger.result("enough", short <= 1e-9)
    ledger.result("shortfall", whole(short))
    ledger.result("shortfall_area", shown.area(short * roll.area if short > 1e-9 else 0.0, feet))
    ledger.step("short", f"{exact:.4g} − {hand:g} rolls", round(short, 3))


def _patches(ledger: Ledger, faces: int) -> None:
    """Diagonal patches at the corners of openings; nothing where no opening was named."""
    openings = ledger.reading.openings
    if openings is None:
        each = {kind: int(ledger.rule("mesh.patches", kind=kind).number()) for kind in ("window", "door")}
        ledger.result("patches_each", each)
        ledger.note(f"No openings named: {each['window']} corner patches a window, {each['door']} a door.")
        return
    total = 0
    for hole in openings:
        corners = int(ledger.rule("mesh.patches", kind=hole.kind).number())
        patches = corners * hole.count * faces
        total += patches
        ledger.step(f"patches at {hole.kind}s", f"{hole.count * faces} × {corners}", patches)
    ledger.result("corner_patches", total)
    if total:
        wide, long = ledger.rule("mesh.patch_width"), ledger.rule("mesh.patch_length")
        ledger.rule("mesh.diagonals")
        most = total * convert(wide.max or 0, wide.unit, "m") * convert(long.max or 0, long.unit, "m")
        ledger.result("patch_area", shown.area(most, ledger.feet))
        ledger.note("Patches are cut from what the openings leave over; they are not in the rolls.")


def _general(ledger: Ledger, wants: set[str]) -> None:
    """A rule of the trade, no wall wanted."""
    if "lap" in wants:
        rule = ledger.rule("mesh.lap")
        ledger.result("lap", quantity(rule.number(), rule.unit))
        for other in ledger.book.others("mesh.lap"):
            ledger.cite(other)
    if "roll" in wants:
        sizes = {name: ledger.rule(f"mesh.roll_{name}") for name in ("width", "length")}
        ledger.result("roll", {name: quantity(rule.number(), rule.unit) for name, rule in sizes.items()})
    if "patch_size" in wants:
        for name in ("patch_width", "patch_length"):
            rule = ledger.rule(f"mesh.{name}")
            ledger.result(name, Range(min=rule.min or 0, max=rule.max or 0, unit=rule.unit))
    if "mass" in wants:
        rule = ledger.rule("mesh.mass")
        ledger.result("mass", Range(min=rule.min or 0, max=rule.max or 0, unit=rule.unit))
    if "waiting" in wants:
        rule = ledger.rule("mesh.wait")
        ledger.result("waiting", quantity(rule.number(), rule.unit))
    if "bed" in wants:
        ledger.result("bed", ledger.rule("mesh.depth").choice)
    if "full_area" in wants:
        ledger.result("full_area", ledger.rule("mesh.full_area").statement)
