"""One wall on the ground: its openings, its layout, and what the asker proposes for it."""

from __future__ import annotations

from dataclasses import dataclass

from knowledge import shown
from knowledge.answers import Need, quantity
from knowledge.beside import lay_beside
from knowledge.calculators._joints_limits import Limits, counts, metres
from knowledge.layout import EPS, Run, at_module, blocked, even, fewest, fits, lay_out, panels
from knowledge.ledger import Ledger
from knowledge.questions import Block, Opening, Quantity


@dataclass(frozen=True)
class Hole:
    """An opening at its place, in metres from the left; `clear` is what a joint keeps away from it."""

    kind: str
    left: float
    right: float
    clear: float
    counts: bool = True

    @property
    def zone(self) -> tuple[float, float]:
        return self.left - self.clear, self.right + self.clear


@dataclass(frozen=True)
class Layout:
    """The run, its openings, where its joints are; `positions` None where no layout fits."""

    run: Run
    holes: tuple[Hole, ...]
    unplaced: int
    positions: list[float] | None
    bonded: bool = False
    moved: bool = False


def clearance(ledger: Ledger) -> float:
    """How far a joint keeps from an opening, in metres: the largest of what applies."""
    reading = ledger.reading
    block = reading.block or Block()
    half = ledger.book.find("joints.half_block")
    long = block.length.to("m") if block.length is not None else metres(
        ledger.book.find("assume.block_length", material=block.material))  # fmt: skip
    bed = metres(ledger.book.find("assume.joint_thickness"))
    asks = [
        (metres(ledger.book.find("joints.bearing")), ledger.book.find("joints.bearing")),
        (half.number() * (long + bed), half),
    ]
    if reading.finish == "render" or reading.bed_reinforcement:
        past = ledger.book.find("joints.projection")
        asks.append((metres(past), past))
        if reading.finish == "render":
            ledger.rule("joints.render_opening")
    clear, rule = max(asks, key=lambda ask: ask[0])
    ledger.cite(rule)
    ledger.rule("joints.bearing")
    return clear


def place_openings(ledger: Ledger, length: float) -> tuple[list[Hole], int] | Need:
    """Openings at their places, and how many have none; Need where one does not fit."""
    holes: list[Hole] = []
    unplaced = 0
    said = ledger.reading.openings or ()
    clear = clearance(ledger) if said else 0.0
    feet = ledger.feet
    for opening in said:
        edges = _edges(opening, length)
        if edges is None:
            unplaced += opening.count
            continue
        left, right = edges
        if left < -EPS or right > length + EPS or right <= left + EPS:
            return ledger.need(
                "openings",
                f"The {opening.kind} does not fit where it was put in a wall of "
                f"{shown.say(shown.length(length, feet))}: how wide is it, and how far from the left end?",
            )
        holes.append(Hole(opening.kind, left, right, clear, counts(ledger, opening)))
        unplaced += opening.count - 1
    return holes, unplaced


def _edges(opening: Opening, length: float) -> tuple[float, float] | None:
    left = opening.from_left.to("m") if opening.from_left is not None else None
    right = length - opening.from_right.to("m") if opening.from_right is not None else None
    wide = opening.width.to("m") if opening.width is not None else None
    if left is None and right is not None and wide is not None:
        left = right - wide
    elif left is not None and right is None and wide is not None:
        right = left + wide
    return None if left is None or right is None else (left, right)


def lay(ledger: Ledger, limit: Limits, length: float, count_at: float) -> Layout | Need:
    """The layout of one wall. `count_at` is the length that the count must hold for, a hair off a bound."""
    placed = place_openings(ledger, length)
    if isinstance(placed, Need):
        return placed
    holes, unplaced = placed
    left, right = limit.sides
    corners = [(-length, limit.least), (length - limit.least, 2 * length)] if limit.least else []
    beside_return = [zone for zone, end in zip(corners, limit.ends, strict=False) if end == "return"]
    run = Run(length, limit.spacing, left, right, (*(hole.zone for hole in holes), *beside_return))
    near = ledger.book.seek("joints.opening_near")
    wide = tuple((hole.left, hole.right) for hole in holes if hole.counts)
    if near is not None and wide:
        ledger.cite(near)
        ledger.note(near.statement)
        positions = lay_beside(run, wide, metres(near))
        plain = lay_out(run)
        return _bond(ledger, Layout(run, tuple(holes), unplaced, positions, moved=positions != plain))
    count = fewest(Run(count_at, limit.spacing, left, right))
    if count != fewest(run):
        plain = even(run, count)
        if all(blocked(run.closed, place) is None for place in plain):
            return Layout(run, tuple(holes), unplaced, plain)
        run = Run(count_at, limit.spacing, left, right, run.closed)
    positions = lay_out(run)
    if positions is None:
        return Layout(run, tuple(holes), unplaced, None)
    wanted = even(run, fewest(run))
    moved = len(wanted) != len(positions) or any(
        abs(a - b) > EPS for a, b in zip(wanted, positions, strict=True)
    )
    return _bond(ledger, Layout(run, tuple(holes), unplaced, positions, moved=moved))


def _bond(ledger: Ledger, layout: Layout) -> Layout:
    """To the nearest perpend, where the asker gave the block and no limit is broken by it."""
    block = ledger.reading.block
    if block is None or block.length is None or not layout.positions:
        return layout
    joint = ledger.reading.joint_thickness
    bed = joint.to("m") if joint is not None else metres(ledger.book.find("assume.joint_thickness"))
    module = ledger.book.find("joints.half_block").number() * (block.length.to("m") + bed)
    found = at_module(layout.run, layout.positions, module)
    if found is None:
        return layout
    ledger.step(
        "perpends", f"half a block and its joint is {module * 1000:g} mm", shown.length(module, False)
    )
    return Layout(layout.run, layout.holes, layout.unplaced, found, bonded=True, moved=layout.moved)


def failure(ledger: Ledger, layout: Layout) -> str:
    """Which opening and which rule leave no layout, and what helps."""
    feet = ledger.feet

    def say(metres_long: float) -> str:
        return shown.told(shown.length(metres_long, feet))

    run = layout.run
    helps = ledger.rule("joints.opening_reinforcement")
    for hole in layout.holes:
        one = Run(run.length, run.spacing, run.left, run.right, (hole.zone,))
        if lay_out(one) is None:
            low, high = hole.zone
            if low <= EPS and high > run.left:
                why = f"the first panel would be over {say(run.left)}"
            elif high >= run.length - EPS:
                why = f"the last panel would be over {say(run.right)}"
            else:
                why = "the panel across it would be over what is allowed"
            return (
                f"No joints fit here: {say(hole.clear)} clear of the {hole.kind} at {say(hole.left)}, {why}. "
                f"{helps.statement} Or ask a designer."
            )
    return (
        "No joints fit here: what is left between the openings and their lintels is too little. "
        f"{helps.statement} Or ask a designer."
    )


def judge(ledger: Ledger, layout: Layout, count: int, walls: int) -> str | None:
    """The verdict on positions or a number of joints that the asker proposes, with its reason as a note."""
    reading = ledger.reading
    feet = ledger.feet

    def say(metres_long: float) -> str:
        return shown.told(shown.length(metres_long, feet))

    if reading.joint_at:
        places = sorted(at.to("m") for at in reading.joint_at)
        run = layout.run
        if run.length <= run.spacing + EPS:  # a joint by common practice alone is free of the half rule
            run = Run(run.length, run.spacing, run.length, run.length, run.closed)
        for hole in layout.holes:
            hit = next((p for p in places if blocked((hole.zone,), p) is not None), None)
            if hit is not None:
                ledger.note(
                    f"A joint at {say(hit)} is too near the {hole.kind}: keep {say(hole.clear)} clear of it."
                )
                return "misplaced"
        corner = next((p for p in places if (zone := blocked(run.closed, p)) is not None
                       and (zone[0] < 0 or zone[1] > run.length)), None)  # fmt: skip
        if corner is not None:
            ledger.note(f"A joint at {say(corner)} is too near the corner. {_corner_rule(ledger)}")
            return "misplaced"
        near = ledger.book.seek("joints.opening_near")
        far = None if near is None else _far(layout.holes, places, metres(near))
        if near is not None and far is not None:
            ledger.note(f"No joint near the {far.kind} at {say(far.left)}. {near.statement}")
            return "misplaced"
        outside = next((p for p in places if p <= EPS or p >= layout.run.length - EPS), None)
        if outside is not None:
            ledger.note(f"{say(outside)} is not within this wall of {say(layout.run.length)}.")
            return "misplaced"
        if count == 0 or fits(run, places):
            return "enough"
        broken = _broken(run, places)
        if broken:
            which, length, most = broken
            ledger.note(f"With joints at {', '.join(say(p) for p in places)} the {which} is {say(length)}; "
                        f"{say(most)} is the most.")  # fmt: skip
        return "too few" if len(places) < count else "misplaced"
    if reading.joint_count is not None:
        return "enough" if reading.joint_count >= count * walls else "too few"
    return None


def _far(holes: tuple[Hole, ...], places: list[float], near: float) -> Hole | None:
    """The first opening that counts and has no joint near it."""
    for hole in holes:
        if hole.counts and all(min(abs(p - hole.left), abs(p - hole.right)) > near + EPS for p in places):
            return hole
    return None


def _corner_rule(ledger: Ledger) -> str:
    """How near a corner no joint stands, in words."""
    rule = ledger.book.seek("joints.end_least")
    return "" if rule is None else rule.statement


def _broken(run: Run, places: list[float]) -> tuple[str, float, float] | None:
    """The first panel over its limit: its name, its length, its limit."""
    found = panels(run.length, places)
    last = len(found) - 1
    for place, length in enumerate(found):
        most = run.left if place == 0 else run.right if place == last else run.spacing
        if length > most + EPS:
            return (
                ("first panel" if place == 0 else "last panel" if place == last else "panel between"),
                length,
                most,
            )
    return None


def marked(metres_long: float, feet: bool) -> Quantity:
    """A place on the wall as it can be marked: to the millimetre, or to a thousandth of a foot."""
    said = shown.length(metres_long, feet)
    value = round(said.value, 3)
    return said if value == said.value else quantity(value, said.unit)
