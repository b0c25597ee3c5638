"""How many blocks, courses and packs, and what is short."""

from __future__ import annotations

from math import isclose

from knowledge import shown
from knowledge.answers import Finding, Need, quantity
from knowledge.calculators._blocks_wall import count_wall, courses, mortar, packs, waste
from knowledge.faces import Face, hole_area, measure
from knowledge.ledger import Ledger
from knowledge.pieces import Piece, course_height, piece
from knowledge.questions import Question
from knowledge.rulebook import RuleBook
from knowledge.units import convert

_HEAP = {"area", "length", "packs", "mortar_volume"}
_GENERAL = {"blocks_per_area", "course_height", "waste"}
_LEAD = (
    "length",
    "height",
    "area",
    "shortfall",
    "shortfall_with_waste",
    "surplus",
    "block_count",
    "order_count",
    "packs",
    "course_count",
    "blocks_per_course",
)


def answer(question: Question, book: RuleBook) -> list[Finding]:
    """Blocks of a wall; or courses of a height, blocks to the square metre, the wall that a heap will lay."""
    ledger = Ledger(question, book)
    reading, wants = question.reading, set(question.wants)
    walled = reading.length or reading.area
    if "blocks_per_course" in wants:
        lacking = _one_course(ledger)
        if lacking is not None:
            return [lacking]
        wants -= {"blocks_per_course"}
        if not wants:
            _caution(ledger)
            return [ledger.answer(*_LEAD)]
    if wants == {"course_count"} and not reading.courses:
        if reading.height is None:
            return [ledger.need("height", "How high is the wall?")]
        courses(ledger, reading.height.to("m"), ledger.feet)
    elif reading.courses and not walled and wants <= {"height", "course_count"} and reading.height is None:
        _rise(ledger, reading.courses)
    elif wants and (wants <= _GENERAL or ("course_height" in wants and not walled)):
        lacking = _general(ledger)
        if lacking is not None:
            return [lacking]
    elif reading.block_count is not None and not walled and (not wants or wants & _HEAP):
        lacking = _heap(ledger, reading.block_count)
        if lacking is not None:
            return [lacking]
    else:
        found = measure(ledger)
        if not isinstance(found, Face):
            return [found]
        lacking = count_wall(ledger, found)
        if lacking is not None:
            return [lacking]
    _caution(ledger)
    return [ledger.answer(*_LEAD)]


def _one_course(ledger: Ledger) -> Need | None:
    """How many lie end to end in one course of the wall."""
    length = ledger.reading.length
    if length is None:
        return ledger.need("length", "How long is the wall?")
    one = piece(ledger)
    if isinstance(one, Need):
        return one
    ledger.rule("blocks.coordination")
    along = one.length + one.joint
    exact = length.to("m") / along * one.leaves
    each = shown.say(shown.thickness(along, ledger.feet))
    leaves = f" × {one.leaves} side by side" if one.leaves > 1 else ""
    ledger.step("in a course", f"{shown.say(length)} ÷ {each}{leaves}", round(exact, 2))
    ledger.result("blocks_per_course", shown.whole(exact))
    return None


def _rise(ledger: Ledger, count: float) -> None:
    """How high so many courses stand."""
    ledger.rule("blocks.coordination")
    course = course_height(ledger)
    high = shown.length(count * course, ledger.feet)
    one = shown.say(shown.thickness(course, ledger.feet))
    ledger.step("height", f"{count:g} courses × {one}", high)
    ledger.result("height", high)


def _general(ledger: Ledger) -> Need | None:
    """Blocks to the square metre, height of a course, waste: no wall wanted."""
    feet = ledger.feet
    if "waste" in ledger.question.wants:
        ledger.result("waste", {"value": ledger.rule("blocks.waste").number(), "unit": "%"})
        for other in ledger.book.others("blocks.waste"):
            ledger.cite(other)
    if "course_height" in ledger.question.wants:
        ledger.rule("blocks.coordination")
        ledger.result("course_height", quantity(course_height(ledger) * 1000, "mm"))
    if "blocks_per_area" in ledger.question.wants:
        one = piece(ledger)
        if isinstance(one, Need):
            return one
        ledger.rule("blocks.coordination")
        per = one.per_area
        face = shown.say(shown.area(one.face, feet))
        unit = "1/ft²" if feet else "1/m²"
        shown_per = convert(per, "1/m²", unit)
        ledger.step("to an area", f"{one.leaves} ÷ {face}", quantity(shown_per, unit, 4))
        ledger.result("blocks_per_area", quantity(shown_per, unit, 4))
        _rules_of_thumb(ledger, shown_per, feet)
    return None


def _rules_of_thumb(ledger: Ledger, per: float, feet: bool) -> None:
    """Other documents' counts for a piece of about this size, waste in them or not."""
    facts = {"material": _kind(ledger), "use": "feet" if feet else "metric"}
    near = ledger.book.seek("blocks.per_area", **facts)
    for rule in (*((near,) if near else ()), *ledger.book.others("blocks.per_area", **facts)):
        if isclose(rule.number(), per, rel_tol=0.15):
            ledger.cite(rule)


def _kind(ledger: Ledger) -> str | None:
    block = ledger.reading.block
    return block.material if block and block.material else None


def _heap(ledger: Ledger, count: int) -> Need | None:
    """What a number of blocks will lay, and its mortar and packs."""
    one = piece(ledger)
    if isinstance(one, Need):
        return one
    feet = ledger.feet
    ledger.rule("blocks.coordination")
    area = count / one.per_area
    ledger.result("area", shown.area(area, feet))
    ledger.step("wall from these", f"{count} × {shown.say(shown.area(one.face / one.leaves, feet))}",
                shown.area(area, feet))  # fmt: skip
    percent = waste(ledger)
    lay = shown.area(area / (1 + percent / 100), feet)
    ledger.result("area_after_waste", lay)
    if percent:
        ledger.note(f"Count on {shown.say(lay)} where {percent:g} % break or get cut.")
    _run(ledger, area, percent, feet)
    mortar(ledger, area, one, feet)
    if ledger.reading.pack_size:
        packs(ledger, count)
    return None


def _run(ledger: Ledger, area: float, percent: float, feet: bool) -> None:
    """The length of wall that a heap makes, where its height was said."""
    reading = ledger.reading
    height = reading.height.to("m") if reading.height is not None else None
    if height is None and reading.courses:
        height = reading.courses * course_height(ledger)
    if not height:
        return
    holes = sum(hole_area(hole) * hole.count for hole in reading.openings or ())
    walls = reading.walls or 1
    half = 2 if reading.shape == "triangle" else 1

    def run(face: float) -> float:
        return half * (face / walls + holes) / height

    ledger.result("length", shown.length(run(area), feet))
    ledger.result("length_after_waste", shown.length(run(area / (1 + percent / 100)), feet))
    high = shown.say(shown.length(height, feet))
    more = f" + {holes:.4g} m² of openings" if holes else ""
    ledger.step("length of wall", f"{shown.say(shown.area(area / walls, feet))}{more} ÷ {high}",
                shown.length(run(area), feet))  # fmt: skip


def _mass(ledger: Ledger) -> float | None:
    """Mass of a block in kg where its density was said."""
    block = ledger.reading.block
    one = piece(ledger) if block is not None and block.density is not None else None
    if not isinstance(one, Piece) or block is None or block.density is None:
        return None
    return block.density.to("kg/m³") * one.length * one.height * one.thickness


def _caution(ledger: Ledger) -> None:
    block = ledger.reading.block
    mass = block.mass.to("kg") if block and block.mass else _mass(ledger)
    if ledger.book.seek("blocks.caution.heavy", mass=mass) is not None:
        ledger.caution("blocks.caution.heavy", mass=mass)
    if ledger.reading.place == "below_dpc":
        ledger.caution("blocks.caution.below_dpc")
    if ledger.reading.place == "freestanding":
        ledger.caution("cautions.freestanding")
    ledger.caution("blocks.caution.green")
    ledger.caution("blocks.caution.dust")
    ledger.caution("blocks.caution.order")
