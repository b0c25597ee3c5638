"""How many blocks, courses and packs, and what is short."""

from __future__ import annotations

from math import isclose

from knowledge import shown, yields
from knowledge.answers import Finding, Need, Option, quantity
from knowledge.faces import Face, measure
from knowledge.ledger import Ledger
from knowledge.pieces import Piece, course_height, piece
from knowledge.questions import Question, Reading
from knowledge.rulebook import RuleBook
from knowledge.shown import whole

_HEAP = {"area", "packs", "mortar_volume"}
_GENERAL = {"blocks_per_area", "course_height", "waste"}
_LEAD = (
    "shortfall",
    "shortfall_with_waste",
    "surplus",
    "block_count",
    "order_count",
    "packs",
    "course_count",
)


def answer(question: Question, book: RuleBook) -> list[Finding]:
    """Blocks of a wall; or courses of a height, blocks to the square metre, the wall that a heap will lay."""
    ledger = Ledger(question, book)
    reading, wants = question.reading, set(question.wants)
    walled = any((reading.length, reading.area, reading.height, reading.courses))
    if wants == {"course_count"} and not reading.courses:
        if reading.height is None:
            return [ledger.need("height", "How high is the wall?")]
        _courses(ledger, reading.height.to("m"), shown.in_feet(reading))
    elif wants and wants <= _GENERAL:
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
        lacking = _wall(ledger, found)
        if lacking is not None:
            return [lacking]
    _caution(ledger)
    return [ledger.answer(*_LEAD)]


def _wall(ledger: Ledger, face: Face) -> Need | None:
    """Count, order, courses, packs and mortar of a wall face."""
    reading = ledger.reading
    one = piece(ledger)
    if isinstance(one, Need):
        return one
    ledger.rule("blocks.coordination")
    exact = face.net * one.per_area
    count = whole(exact)
    doubted = _doubt(ledger, count)
    if doubted is not None:
        return doubted
    ledger.result("net_area", shown.area(face.net, face.feet))
    leaves = f" × {one.leaves} side by side" if one.leaves > 1 else ""
    each = shown.area(one.face, face.feet)
    ledger.step("blocks", f"{shown.say(shown.area(face.net, face.feet))} ÷ {shown.say(each)}{leaves}",
                round(exact, 2))  # fmt: skip
    ledger.result("block_count", count)
    waste = _waste(ledger)
    order = whole(count * (1 + waste / 100))
    ledger.result("order_count", order)
    ledger.step(f"with {waste:g} % waste", f"{count} × {1 + waste / 100:g}", order)
    if face.height is not None:
        _courses(ledger, face.height, face.feet)
    _in_hand(ledger, count, order)
    _mortar(ledger, face.net, one, face.feet)
    if face.triangle:
        ledger.note("Every course of a gable is cut at both ends: the cuts may take more than the waste.")
    if reading.leaf == "cavity":
        ledger.note("Counted for one leaf; a cavity wall has two.")
    return None


def _waste(ledger: Ledger) -> float:
    """Waste in per cent, as said or by habit."""
    said = ledger.reading.waste
    if said is not None:
        return said.value
    rule = ledger.rule("blocks.waste")
    ledger.assume("waste", {"value": rule.number(), "unit": "%"}, rule.statement)
    return rule.number()


def _doubt(ledger: Ledger, count: int) -> Need | None:
    """An improbable answer is asked back once."""
    probable = ledger.book.seek("believable.block_count", use="probable")
    reading = ledger.reading
    slot = next(s for s in ("walls", "area", "length", "courses") if getattr(reading, s) is not None)
    if probable is None or probable.max is None or count <= probable.max or slot in ledger.question.confirmed:
        return None
    said = getattr(reading, slot)
    label = f"{said:g}" if isinstance(said, (int, float)) else shown.say(said)
    yes = Option(label=label, reading=Reading.model_validate({slot: said}))
    ask = f"That makes {count:,} blocks. {probable.statement} Is the {slot} really {label}?"
    return ledger.need(slot, ask, (yes,))


def _courses(ledger: Ledger, height: float, feet: bool) -> None:
    """Courses of a height; what is no whole number of them is said."""
    course = course_height(ledger)
    ledger.rule("blocks.coordination")
    exact = height / course
    count = whole(exact)
    ledger.result("course_count", count)
    tall = shown.say(shown.length(height, feet))
    each = f"{course / 0.0254:.4g} in" if feet else f"{course * 1000:.4g} mm"
    ledger.step("courses", f"{tall} ÷ {each}", round(exact, 2))
    if abs(exact - count) > 1e-6:
        under, over = (shown.say(shown.length(n * course, feet)) for n in (count - 1, count))
        ledger.note(
            f"{tall} is no whole number of {each} courses: {count - 1} make {under}, {count} make {over}."
        )


def _in_hand(ledger: Ledger, count: int, order: int) -> None:
    """What is short or left of the blocks in hand, and the packs to buy."""
    hand, to_buy = ledger.reading.block_count, order
    if hand is not None:
        to_buy = max(0, order - hand)
        ledger.result("shortfall", max(0, count - hand))
        ledger.result("shortfall_with_waste", to_buy)
        ledger.step("short", f"{count} − {hand}", max(0, count - hand))
        if hand >= count:
            ledger.result("surplus", hand - count)
        if hand >= count and to_buy:
            ledger.note(f"Enough for the wall itself, but not for breakages: {to_buy} more would cover them.")
    if ledger.reading.pack_size:
        _packs(ledger, to_buy)


def _packs(ledger: Ledger, count: int) -> None:
    size = ledger.reading.pack_size or 1
    ledger.result("packs", whole(count / size))
    ledger.step("packs", f"{count} ÷ {size}", round(count / size, 2))


def _mortar(ledger: Ledger, area: float, one: Piece, feet: bool) -> None:
    """Net mortar on full beds, no waste in it."""
    volume = yields.wall_mortar(
        area, length=one.length, height=one.height, unit=one.thickness, wall=one.wall, joint=one.joint
    )
    ledger.result("mortar_volume", shown.volume(volume, feet))
    solid = f"{one.per_area:.4g} × {one.length * one.height * one.thickness:.4g} m³"
    ledger.step("mortar, none wasted", f"{area:.4g} m² × ({one.wall:.4g} m − {solid})",
                shown.volume(volume, feet))  # fmt: skip
    ledger.rule("blocks.full_bed")
    thin = ledger.book.find("blocks.thin_joint")
    if thin.max is not None and one.joint * 1000 <= thin.max:
        ledger.cite(thin)
        ledger.note(
            "Thin joints: the block maker's thin-layer mortar; only the first course on ordinary mortar."
        )


def _general(ledger: Ledger) -> Need | None:
    """Blocks to the square metre, height of a course, waste: no wall wanted."""
    feet = shown.in_feet(ledger.reading)
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
        shown_per = per * 0.3048**2 if feet else per
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
    feet = shown.in_feet(ledger.reading)
    ledger.rule("blocks.coordination")
    area = count / one.per_area
    ledger.result("area", shown.area(area, feet))
    ledger.step("wall from these", f"{count} × {shown.say(shown.area(one.face / one.leaves, feet))}",
                shown.area(area, feet))  # fmt: skip
    waste = _waste(ledger)
    lay = shown.area(area / (1 + waste / 100), feet)
    ledger.result("area_after_waste", lay)
    ledger.note(f"Count on {shown.say(lay)} where {waste:g} % break or get cut.")
    _mortar(ledger, area, one, feet)
    if ledger.reading.pack_size:
        _packs(ledger, count)
    return None


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
    ledger.caution("blocks.caution.green")
    ledger.caution("blocks.caution.order")
