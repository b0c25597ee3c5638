"""Blocks of one wall: count, order, courses, packs, what is short, mortar."""

from __future__ import annotations

from knowledge import shown, yields
from knowledge.answers import Need, Option
from knowledge.faces import Face
from knowledge.ledger import Ledger
from knowledge.pieces import Piece, course_height, piece
from knowledge.questions import Reading
from knowledge.shown import whole
from knowledge.stuff import tabled_mortar


def named(ledger: Ledger) -> str:
    """What the units are called."""
    block = ledger.reading.block
    kind = block.material if block and block.material else ""
    return {"clay_brick": "bricks", "calcium_silicate": "bricks", "stone": "stones"}.get(kind, "blocks")


def count_wall(ledger: Ledger, face: Face) -> Need | None:
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
    ledger.step(named(ledger), f"{shown.say(shown.area(face.net, face.feet))} ÷ {shown.say(each)}{leaves}",
                round(exact, 2))  # fmt: skip
    ledger.result("block_count", count)
    percent = waste(ledger)
    order = whole(count * (1 + percent / 100))
    ledger.result("order_count", order)
    if percent:
        ledger.step(f"with {percent:g} % waste", f"{count} × {1 + percent / 100:g}", order)
    else:
        ledger.note("No waste in it, as you said: one breakage and you are short.")
    if one.leaves > 1:
        said = reading.thickness or (reading.block.thickness if reading.block else None)
        thick = shown.say(said or shown.thickness(one.wall, face.feet))
        ledger.note(f"A {thick} wall has {one.leaves} {named(ledger)} side by side: all are counted.")
    if face.height is not None:
        courses(ledger, face.height, face.feet)
    _in_hand(ledger, count, order)
    mortar(ledger, face.net, one, face.feet)
    if face.triangle:
        ledger.note("Every course of a gable is cut at both ends: the cuts may take more than the waste.")
    if reading.leaf == "cavity" and reading.walls in (None, 1):
        ledger.note("Counted for one leaf; a cavity wall has two.")
    return None


def waste(ledger: Ledger) -> float:
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
    ask = f"That makes {count:,} {named(ledger)}. {probable.statement} Is the {slot} really {label}?"
    return ledger.need(slot, ask, (yes,))


def courses(ledger: Ledger, height: float, feet: bool) -> None:
    """Courses of a height; what is no whole number of them is said."""
    course = course_height(ledger)
    ledger.rule("blocks.coordination")
    exact = height / course
    count = whole(exact)
    ledger.result("course_count", count)
    tall = shown.told(shown.length(height, feet))
    each = shown.told(shown.thickness(course, feet))
    ledger.step("courses", f"{tall} ÷ {each}", round(exact, 2))
    if abs(exact - count) > 1e-6:
        under, over = (shown.told(shown.length(n * course, feet)) for n in (count - 1, count))
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
        packs(ledger, to_buy)


def packs(ledger: Ledger, count: int) -> None:
    size = ledger.reading.pack_size or 1
    ledger.result("packs", whole(count / size))
    ledger.step("packs", f"{count} ÷ {size}", round(count / size, 2))


def mortar(ledger: Ledger, area: float, one: Piece, feet: bool) -> None:
    """Net mortar, no waste in it: by the region's table, else on full beds."""
    block = ledger.reading.block
    kind = block.material if block and block.material else ledger.book.find("assume.material").choice
    tabled = tabled_mortar(ledger, area, str(kind), one.height, one.joint)
    if tabled is not None:
        ledger.result("mortar_volume", shown.volume(tabled, feet))
        return
    volume = yields.wall_mortar(
        area, length=one.length, height=one.height, unit=one.thickness, wall=one.wall, joint=one.joint
    )
    ledger.result("mortar_volume", shown.volume(volume, feet))
    solid = f"{one.per_area:.4g} × {one.length * one.height * one.thickness:.4g} m³"
    ledger.step("mortar, none wasted", f"{area:.4g} m² × ({one.wall:.4g} m − {solid})",
                shown.volume(volume, feet))  # fmt: skip
    ledger.rule("blocks.full_bed")
    thin = ledger.book.find("blocks.thin_joint")
    if one.joint * 1000 <= thin.span("mm")[1] + 1e-9:
        ledger.cite(thin)
        ledger.note(
            "Thin joints: the block maker's thin-layer mortar; only the first course on ordinary mortar."
        )
