"""Plasterboard on dabs: boards and their cut pattern, rows of dabs, adhesive, and a movement joint behind."""

from __future__ import annotations

from dataclasses import dataclass

from knowledge import boarding, shown
from knowledge.answers import Finding, Range, quantity
from knowledge.faces import Face, measure
from knowledge.ledger import Ledger
from knowledge.questions import Question, Size
from knowledge.records import Rule
from knowledge.rulebook import RuleBook

_GENERAL = {
    "dab_rows",
    "at_joint",
    "dab_length",
    "dab_width",
    "edge_distance",
    "dab_thickness",
    "tiling_wait",
}
_LEAD = ("shortfall", "board_count", "order_count", "dab_rows", "adhesive_bags", "at_joint")


@dataclass(frozen=True)
class Board:
    """Sizes in metres, and how they are said."""

    width: float
    height: float
    feet: bool

    @property
    def said(self) -> str:
        """Width × height as the asker has them."""
        sides = (self.width, self.height)
        return " × ".join(
            shown.say(shown.length(s, True) if self.feet else shown.thickness(s, False)) for s in sides
        )


def answer(question: Question, book: RuleBook) -> list[Finding]:
    """Boards of a wall face; or what the rules say of dabs and joints where no wall is asked about."""
    ledger = Ledger(question, book)
    wants = set(question.wants)
    if wants and wants <= _GENERAL:
        _general(ledger, wants)
    else:
        covered = _of_boards(ledger)
        face = covered or measure(ledger, sides=True)
        if not isinstance(face, Face):
            return [face]
        board = _board(ledger)
        if board.width <= 0 or board.height <= 0:
            return [ledger.decline("A board needs a width and a height. Send its size again.")]
        if covered is None:
            _count(ledger, face, board)
        _rows(ledger, board)
        _adhesive(ledger, face)
        if question.reading.joint_at or "at_joint" in wants:
            _at_joint(ledger)
        ledger.rule("boards.ribbon")
    ledger.caution("boards.caution.fixings")
    ledger.caution("boards.caution.dry")
    return [ledger.answer(*_LEAD)]


def _of_boards(ledger: Ledger) -> Face | None:
    """The face that the boards in hand cover, where adhesive is asked for and no wall is told."""
    reading = ledger.reading
    sized = any((reading.area, reading.length, reading.height, reading.courses))
    if reading.boards is None or sized or "adhesive_bags" not in ledger.question.wants:
        return None
    board = _board(ledger)
    covered = reading.boards * board.width * board.height
    area = shown.say(shown.area(covered, ledger.feet))
    ledger.step("face of the boards", f"{reading.boards} × {board.said}", area)
    return Face(covered, 0.0, feet=ledger.feet)


def _board(ledger: Ledger) -> Board:
    """The board as said, or the common one; the long side stands upright."""
    said = ledger.reading.board or Size()
    sides = []
    for slot, given in (("width", said.width), ("height", said.height or said.length)):
        rule = ledger.taken(f"board_{slot}") if given is None else None
        sides.append(given.to("m") if given is not None else rule.to("m") if rule else 0.0)
    feet = any(s is not None and s.unit in ("ft", "in") for s in (said.width, said.height, said.length))
    return Board(min(sides), max(sides), feet)


def _count(ledger: Ledger, face: Face, board: Board) -> None:
    """Boards by the cut pattern, or by area where the wall has no length and height."""
    reading = ledger.reading
    net = shown.area(face.net, face.feet)
    ledger.result("net_area", net)
    exact = face.net / (board.width * board.height)
    ledger.step("by area", f"{shown.say(net)} ÷ ({board.said})", round(exact, 2))
    if face.length is None or face.height is None:
        count = shown.whole(exact)
        ledger.note(
            "Counted by area: with length and height I lay out the cuts, which may take one or two more."
        )
    else:
        gaps = _gaps(ledger, face, board)
        count = boarding.boards(
            face.length, face.height, board.width, board.height,
            walls=face.walls * face.sides, gaps=gaps, triangle=face.triangle,
        )  # fmt: skip
        _say_pattern(ledger, face, board, count)
    ledger.rule("boards.pattern")
    ledger.result("board_count", count)
    if reading.boards is not None:
        ledger.result("shortfall", max(0, count - reading.boards))
        ledger.step("short", f"{count} − {reading.boards} in hand", max(0, count - reading.boards))
    if reading.waste is not None:
        order = shown.whole(count * (1 + reading.waste.value / 100))
        ledger.result("order_count", order)
        ledger.step(
            f"with {reading.waste.value:g} % waste", f"{count} × {1 + reading.waste.value / 100:g}", order
        )
    if reading.pack_size:
        packs = shown.whole(count / reading.pack_size)
        ledger.result("packs", packs)
        ledger.step("packs", f"{count} ÷ {reading.pack_size}", packs)


def _gaps(ledger: Ledger, face: Face, board: Board) -> tuple[boarding.Gap, ...]:
    """Openings whose size is known, one entry for each as said."""
    found = []
    for hole in face.holes:
        if hole.width is None or hole.height is None:
            continue
        width = hole.width.to("m")
        left = hole.from_left.to("m") if hole.from_left is not None else None
        if left is None and hole.from_right is not None and face.length is not None:
            left = face.length - hole.from_right.to("m") - width
        sill = hole.sill.to("m") if hole.sill is not None else 0.0 if hole.kind == "door" else None
        found.append(boarding.Gap(width, hole.height.to("m"), left, sill, hole.count))
    if any(not boarding.saved(gap, board.width) for gap in found):
        ledger.note("A board over an opening is cut out of a whole one: small openings save none.")
    return tuple(found)


def _say_pattern(ledger: Ledger, face: Face, board: Board, count: int) -> None:
    """How the boards stand, in one sentence."""
    cols = boarding.columns(face.length or 0.0, face.height or 0.0, board.width)
    whole = sum(1 for width, _ in cols if width > board.width - 1e-6)
    last = cols[-1][0] if len(cols) > whole else 0.0
    sum_ = f"{whole} columns of {board.said}"
    if last:
        sum_ += f", one {shown.told(shown.length(last, face.feet))} wide"
    each = (face.height or 0.0) - board.height
    if face.triangle:
        sum_ += ", cut to the slope"
        ledger.note("Boards on a gable are cut to the slope; count on more waste than on a square wall.")
    elif each > 1e-6:
        sum_ += f", {shown.told(shown.length(each, face.feet))} pieced on top"
        ledger.note("The wall is taller than the board: a longer board saves the joint across.")
    ledger.step("cut pattern", sum_, count)
    ledger.result("pattern", sum_)


def _rows(ledger: Ledger, board: Board) -> None:
    """Rows of dabs up one board, edges counted."""
    said = ledger.reading.board
    thick = said.thickness.to("mm") if said is not None and said.thickness is not None else None
    if thick is None:
        thick = ledger.taken("board_thickness").to("mm")
    wide = board.width * 1000
    rule = ledger.book.seek("boards.row_spacing", thickness=thick, width=wide)
    if rule is None:
        ledger.note("For this board the rows of dabs are as its maker says.")
        return
    ledger.cite(rule)
    rows = shown.whole(wide / rule.to("mm")) + 1
    ledger.result("dab_rows", rows)
    ledger.step("rows of dabs on a board", f"{wide:g} mm ÷ {rule.number():g} mm + 1", rows)
    if ledger.question.wants == ("dab_rows",):
        for other in ledger.book.others("boards.row_spacing", thickness=thick, width=wide):
            ledger.cite(other)


def _adhesive(ledger: Ledger, face: Face) -> None:
    """Mass of adhesive and whole bags."""
    rule = ledger.rule("boards.adhesive")
    mass = face.net * rule.number()
    ledger.result("adhesive_mass", quantity(mass, "kg", 3))
    said = ledger.reading.bag_size
    bag = said.to("kg") if said is not None else ledger.taken("adhesive_bag").to("kg")
    bags = shown.whole(mass / bag)
    ledger.result("adhesive_bags", bags)
    ledger.step("adhesive", f"{face.net:.4g} m² × {rule.number():g} kg/m² ÷ {bag:g} kg", round(mass / bag, 2))
    ledger.note(rule.statement)


def _at_joint(ledger: Ledger) -> None:
    """Both ways with a movement joint behind the board."""
    rule = ledger.rule("boards.at_joint")
    ledger.result("at_joint", rule.choice)
    ledger.note(rule.statement)
    for other in ledger.book.others("boards.at_joint"):
        ledger.cite(other)
    ledger.note(ledger.book.find("boards.at_joint_habit").statement)
    ledger.rule("boards.at_joint_habit")


def _general(ledger: Ledger, wants: set[str]) -> None:
    """What the rule book says, without a wall."""
    feet = ledger.feet
    if "dab_rows" in wants:
        _rows(ledger, _board(ledger))
        ledger.rule("boards.top_and_bottom")
    if "at_joint" in wants:
        _at_joint(ledger)
    for name in ("dab_width", "dab_length", "edge_distance", "dab_thickness", "tiling_wait"):
        if name in wants:
            ledger.result(name, _worth(ledger.rule(f"boards.{name}"), feet))


def _worth(rule: Rule, feet: bool) -> object:
    """A bound as a quantity, a span as a range."""
    if rule.min is not None and rule.max is not None:
        return Range(min=rule.min, max=rule.max, unit=rule.unit)
    if rule.unit != "mm":
        return quantity(rule.number(), rule.unit)
    return shown.thickness(rule.to("m"), feet)
