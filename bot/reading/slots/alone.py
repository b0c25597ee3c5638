"""A size with no word of its own: of what it is, by the topic and by what stands beside it."""

from __future__ import annotations

from collections.abc import Callable
from typing import Any

from bot.reading.items import Item
from bot.reading.scene import Scene, plain, show
from bot.reading.slots.counted import in_courses, laid_or_had, pieces_in_hand
from bot.reading.slots.cracks import of_the_crack, place_of_it, width_alone
from bot.reading.slots.elsewhere import elsewhere, follows_length, of_a_unit, told_thick
from bot.reading.slots.lonely import Alone
from bot.reading.slots.of_a_layer import LAYERS
from bot.reading.slots.of_the_air import of_the_air
from bot.reading.slots.put import put
from bot.reading.slots.settling import ranged, settle
from bot.reading.slots.strong_alone import strong_alone
from bot.reading.units import LENGTH, believable, candidates
from knowledge.units import convert, kind

Plain = dict[str, Any]
WHY = 4  # items: 'why is it 6'
SMALL = {"mm", "in", "cm"}
ROUNDED = 0.03  # of a size that is told once in millimetres and once in inches


def alone(scene: Scene, i: int, item: Item) -> None:
    """The first rule that settles it is the last; one that leaves it unused leaves it to be asked about."""
    if item.kind == "range":
        _range(scene, i, item)
        return
    at = Alone(scene, i, item, scene.at(scene.right(i)))
    for rule in RULES:
        if rule(at):
            return


def _range(scene: Scene, i: int, item: Item) -> None:
    if scene.topics == ["crack"] and of_the_crack(scene, i, item):
        return
    lengths = all(not s.unit or kind(s.unit) == LENGTH for s in item.sizes)
    if lengths and "length" not in scene.heard.slots:
        ranged(scene, item, "length")


def _no_length(at: Alone) -> bool:
    """An area, a mass, or a number that counts."""
    other = bool(at.size.unit) and kind(at.size.unit) != LENGTH
    return other or (not at.size.unit and at.item.tagged("count"))


def _asked_why(at: Alone) -> bool:
    """'why 6': of the answer that was given, and no new size."""
    first = at.scene.items[0]
    short = len(at.scene.items) <= WHY and bool(at.scene.in_force) and not at.scene.named_strongly
    if not (short and first.tagged("ask", "why")):
        return False
    at.scene.aside(at.item, "what is asked about")
    return True


def _in_weather(at: Alone) -> bool:
    """Where the weather alone is asked, a bare number is none of a wall."""
    if at.scene.topics != ["weather"] or at.size.unit:
        return False
    if {"cement", "sand", "lime"} & at.scene.nouns:
        return False
    if "temperature" in at.slots:
        at.scene.aside(at.item, "another temperature, or a time")
    elif of_the_air(at.scene, at.item):
        value = plain(at.size, at.scene.degrees)
        at.scene.assume("temperature", value, f"'{at.item.text}' was taken as {show(value)}.")
        at.scene.claim("temperature", value, at.item)
    return True


def _in_safety(at: Alone) -> bool:
    """Where safety alone is asked and no wall is named, a bare size is none of a wall."""
    if at.scene.topics != ["safety"] or at.size.unit in SMALL:
        return False
    raised = at.item.tagged("wants", "safety", "day_lift") or at.scene.in_force == ("safety",)
    if raised and "height" not in at.slots and (at.size.unit or at.size.decimal):
        settle(at.scene, "height", at.item, "height")
        return True
    if {"wall", "block"} & at.scene.nouns:
        return False
    if at.scene.in_force == ("safety",) and at.size.value in at.scene.region.known.get("thickness", ()):
        put(
            at.scene, "block", "thickness", plain(at.size, at.size.unit or "mm"), at.item
        )  # '140' after a weight
        at.scene.assume("block", "mm", f"'{at.item.text}' was taken as a thickness of {at.size.value:g} mm.")
        return True
    at.scene.aside(at.item, "no size of a wall")
    return True


def _of_a_coat(at: Alone) -> bool:
    """'12 mm' of render, and '2 coats'."""
    if (
        at.size.unit in SMALL
        and "render" in at.scene.topics
        and 0 < at.millimetres <= at.scene.sense.coat_thickest
    ):
        if "coat_thickness" not in at.slots:
            at.scene.claim("coat_thickness", plain(at.size, at.size.unit), at.item)
        return True
    fraction = "/" in at.item.text and not at.size.unit and at.scene.topics == ["render"]
    if fraction and "coat_thickness" not in at.slots:
        at.scene.claim("coat_thickness", plain(at.size, "in"), at.item)  # '7/8'
        return True
    behind = at.scene.at(at.i + 1)
    if behind is not None and behind.says("coats.many") and at.size.whole:
        at.scene.aside(at.item, "how many coats")
        return True
    return False


def _of_something_else(at: Alone) -> bool:
    """'450 from the corner', '3 of them', '1:x', '4 lintels'."""
    if elsewhere(at.scene, at.i) or _counts_something(at):
        return True
    if at.size.unit:
        return False
    one, two = at.scene.at(at.i - 1), at.scene.at(at.i - 2)
    if one is not None and one.text == ":" and two is not None and two.low in {"x", "?", "y"}:
        return True
    near = at.near
    if near is None:
        return False
    other = near.tagged("noun") and not any(
        near.tagged(*x) for x in (("noun", "wall"), ("topic",), ("slot",))
    )
    return other or any(near.tagged("noun", part) for part in ("sand", "cement", "lime"))


def _counts_something(at: Alone) -> bool:
    """'3 of them': what it counts is not the length of a wall."""
    of, what = at.scene.at(at.i + 1), at.scene.at(at.i + 2)
    counted = at.size.whole and of is not None and of.says("walls.number_of")
    if at.size.spelt and at.size.whole and of is not None and of.kind == "word" and len(of.low) > 2:
        return True  # 'over two different materials': no length
    return counted and not (what is not None and what.tagged("noun", "wall"))


def _in_a_mix(at: Alone) -> bool:
    """A whole number in talk of mortar alone, where no wall and no amount is spoken of."""
    if at.scene.topics != ["mortar"] or at.size.unit or at.size.decimal:
        return False
    of_wall = at.near is not None and at.near.tagged("noun", "wall")
    return not of_wall and "length" not in at.slots and not at.scene.amounts


def _small(at: Alone) -> bool:
    """A size with its unit that is too small for a wall: the thickness of the block, or nothing of ours."""
    small, sense = at.size.unit in SMALL, at.scene.sense
    if not at.size.unit or not 0 < at.millimetres <= (sense.wall_thickest if small else sense.wall_shortest):
        return False
    if small and at.millimetres >= sense.block_least:
        told = at.slots.get("thickness") or (at.slots.get("block") or {}).get("thickness")
        if (
            told
            and told["value"] > 0
            and abs(at.millimetres / convert(told["value"], told["unit"], "mm") - 1) < ROUNDED
        ):
            at.item.used = "block"  # '4 inch wall of 600 x 200 x 100': said twice
        elif of_a_unit(at.scene, at.i, at.item) and not told:
            put(at.scene, "block", "thickness", plain(at.size, at.size.unit), at.item)
        return True
    return not at.size.negative and at.size.unit in {"mm", "in"}


def _thick(at: Alone) -> bool:
    """'10 x 2.4 in 140', 'both leaves 100': a bare number that is known as a thickness."""
    least = at.scene.sense.block_thickness_bare
    known = at.size.value in at.scene.region.known.get("thickness", ()) and at.size.value >= least
    if not known or at.size.unit or at.size.decimal:
        return False
    before = at.scene.at(at.i - 1)
    if before is not None and before.says("walls.more_height"):
        return False  # '2.4 high plus 300 below ground'
    told = told_thick(at.scene, before, at.near)
    if not ({"length", "area"} & set(at.slots) or told) or not of_a_unit(at.scene, at.i, at.item):
        return False
    put(at.scene, "block", "thickness", plain(at.size, "mm"), at.item)
    at.scene.assume("block", "mm", f"'{at.item.text}' was taken as a thickness of {at.size.value:g} mm.")
    return True


def _long(at: Alone) -> bool:
    """The wall's length, where none was said; a strange word behind it may be its unit."""
    if "length" in at.slots or at.doubted("length") or (at.size.whole and at.size.value == 1):
        return False
    after = at.scene.at(at.i + 1)
    if not at.size.unit and after is not None and after.kind == "word" and at.scene.words.strange(after.low):
        choices = [(show(o), {"length": o}) for o in (plain(at.size, "m"), plain(at.size, "ft"))]
        at.scene.doubt("length", f"{at.item.text} {after.text}: metres or feet?", choices, at.item)
        return True
    if _too_short(at) or _as_well_a_strength(at):
        return True
    settle(at.scene, "length", at.item, "wall")
    return True


def _as_well_a_strength(at: Alone) -> bool:
    """'aircrete below dpc 3.6 ok?', where nothing is asked that a length would be of: it is asked about."""
    known = at.size.decimal and at.size.value in at.scene.region.known.get("strength", ())
    light = at.scene.tagged("slot", "material", "aac") and at.size.value <= at.scene.sense.aircrete_strongest
    return (
        known and light and not at.scene.topics and not at.size.unit and not at.scene.tagged("noun", "wall")
    )


def _too_short(at: Alone) -> bool:
    """A bare number, not called a wall, that makes one too short to stand by itself: it is asked about."""
    if at.size.unit or (at.near is not None and at.near.tagged("noun", "wall")):
        return False
    if at.scene.topics == ["bearing"] and at.size.value > at.scene.sense.metres_most:
        return True  # '150 ok?' of a lintel
    options = candidates(at.scene, at.size, "wall")
    return bool(options) and all(_metres(o) < at.scene.sense.wall_short_bare for o in options)


def _high(at: Alone) -> bool:
    """The height behind the length, where it can be no other."""
    if "height" in at.slots or at.doubted("height") or "length" not in at.slots:
        return False
    if not at.size.unit and not at.size.decimal:
        return False
    options = [o for o in candidates(at.scene, at.size, "wall") if believable(at.scene, o, "height")]
    after_all = at.i > 0 and at.scene.items[at.i - 1].says("walls.all")
    if len(options) != 1 or not (after_all or follows_length(at.scene, at.i)):
        return False
    length = at.slots["length"]
    if _metres(options[0]) >= _metres(length):
        return False
    at.scene.claim("height", options[0], at.item)
    at.scene.assume("height", options[0], f"'{at.item.text}' was taken as the height.")
    return True


def _wall_of_a_height(at: Alone) -> bool:
    """'6 ft garden wall 40 ft long': what stands before the wall is its height, where its length is told."""
    wall, length = at.scene.at(at.i + 1), at.slots.get("length")
    if wall is None or not wall.tagged("noun", "wall") or length is None or "height" in at.slots:
        return False
    options = [o for o in candidates(at.scene, at.size, "wall") if believable(at.scene, o, "height")]
    lower = [o for o in options if _metres(o) < _metres(length)]
    if len(lower) != 1 or at.doubted("length") or not at.scene.tagged("dim", "length"):
        return False
    at.scene.claim("height", lower[0], at.item)
    because = f"'{at.item.text}' was taken as the height of the wall, its length being told."
    at.scene.assume("height", lower[0], because)
    return True


def _metres(quantity: Plain) -> float:
    return convert(quantity["value"], quantity["unit"], "m")


def _second_length(at: Alone) -> bool:
    """One more size with its unit: two lengths, which is asked."""
    if "length" in at.slots and at.size.unit:
        settle(at.scene, "length", at.item, "wall")
    return True


RULES: tuple[Callable[[Alone], bool], ...] = (
    _no_length,
    lambda at: any(rule(at.scene, at.i, at.item) for rule in LAYERS),
    _asked_why,
    _in_weather,
    lambda at: width_alone(at.scene, at.item) or place_of_it(at.scene, at.i, at.item),
    _in_safety,
    _of_a_coat,
    pieces_in_hand,
    _of_something_else,
    laid_or_had,
    in_courses,
    _in_a_mix,
    _small,
    _thick,
    strong_alone,
    _long,
    _high,
    _wall_of_a_height,
    _second_length,
)
