"""Numbers without a unit, settled by what stands behind or before them."""

from __future__ import annotations

from bot.reading.items import Item
from bot.reading.scene import Scene, plain, show
from bot.reading.slots.before_noun import before_noun
from bot.reading.slots.beside import Beside, look_beside, spaced
from bot.reading.slots.blocks import block_number
from bot.reading.slots.put import put, small_unit
from bot.reading.units import candidates


def by_noun(scene: Scene, i: int, item: Item) -> None:
    """Whole or decimal numbers: the first rule that settles one is the last."""
    at = look_beside(scene, i, item)
    if not item.size.negative:
        _ = (
            _spare(at)
            or _so_high_courses(at)
            or _by_name(at)
            or _behind_noun(at)
            or before_noun(at)
            or _of_sized_blocks(at)
            or _at_block(at)
            or _behind_other(at)
        )
        return
    after = scene.at(i + 1)
    if "weather" in scene.topics and (after is None or not after.tagged("dim")):
        at.claim("temperature", plain(at.size, at.scene.degrees))


def _spare(at: Beside) -> bool:
    """'add 5 spare': more than are needed, and none that are there."""
    after = at.scene.at(at.i + 1)
    more = any(x.says("change.more") for x in at.scene.items[max(0, at.i - 2) : at.i])
    return (
        more and after is not None and after.says("block.spare") and at.aside("spare ones: order them on top")
    )


def _so_high_courses(at: Beside) -> bool:
    """'10 courses of 215 blocks': how high each block is."""
    of, course = at.scene.at(at.i - 1), at.scene.at(at.i - 2)
    told = of is not None and of.low == "of" and course is not None and course.tagged("noun", "course")
    high = any(at.size.value == face[1] for face in at.scene.region.known.get("face", ()))
    if not told or not high or at.scene.heard.slots.get("block", {}).get("height"):
        return False
    put(at.scene, "block", "height", plain(at.size, "mm"), at.item)
    return True


def _behind_noun(at: Beside) -> bool:
    """'temp 4', 'aircrete 100', 'every 6', 'blocks 7.3': where the noun stands first."""
    before, near = at.before, at.near
    boxed = any(x.says("pack.box") for x in at.scene.items[max(0, at.i - 2) : at.i])
    if "blocks" in at.scene.topics and _priced(at):
        return at.aside("a price")
    if _of_lintel(at) or _of_the_beam(at):
        return True
    if before is not None and before.says("thermal.value"):
        return at.aside("a value of heat that was named")
    if boxed and "ties" in at.scene.topics and at.size.whole:
        return at.aside("how many to a box")
    if (
        before is not None
        and before.says("weather.temperature")
        and abs(at.size.value) <= at.scene.sense.hottest
    ):
        return at.claim("temperature", plain(at.size, at.scene.degrees))
    ahead = at.scene.at(at.i - 1)
    onto = at.scene.topics == ["bearing"] and ahead is not None and ahead.says("bearing.onto")
    if onto and at.known("thickness") and at.near is None:
        return at.thick()  # '20 kn on 100'
    if ahead is not None and ahead.tagged("laid") and at.known("thickness") and at.near is None:
        return at.thick()  # 'blocks on the flat 215'
    block = before is not None and before.tagged("noun", "block")
    material = before is not None and before.tagged("slot", "material")
    sized = near is not None and near.tagged("dim")
    touching = (block or material) and at.before_at == at.i - 1
    long = any(at.size.value == face[0] for face in at.scene.region.known.get("face", ()))
    if touching and block and long and not at.known("thickness") and at.near is None:  # 'block 440'
        put(at.scene, "block", "length", plain(at.size, "mm"), at.item)
        at.scene.assume("block", "mm", f"'{at.item.text}' was taken as the length of the block.")
        return True
    if touching and at.known("thickness") and not sized and not (near is not None and near.tagged("noun")):
        return at.thick()
    if spaced(at.scene, at.i) and _spacing(at):
        return True
    walled = near is not None and near.tagged("noun", "wall")
    strong = block and at.size.decimal and at.known("strength")
    return strong and not sized and not walled and at.strong()


def _of_the_beam(at: Beside) -> bool:
    """'203 ub': its section."""
    behind = at.scene.at(at.i + 1)
    steel = "bearing" in at.scene.topics and behind is not None and behind.says("bearing.section")
    return steel and at.aside("the section of the beam")


def _of_lintel(at: Beside) -> bool:
    """'lintel bearing 150': what the lintel has, no size of the wall."""
    ahead = at.scene.at(at.i - 1)
    bears = ahead is not None and ahead.tagged("wants", "bearing", "lintel_bearing")
    return bears and at.aside("what the lintel has")


def _priced(at: Beside) -> bool:
    """'blocks at 1.85 each'."""
    ahead, behind = at.scene.at(at.i - 1), at.scene.at(at.i + 1)
    at_so_much = ahead is not None and ahead.tagged("dim", "at")
    return at_so_much and behind is not None and behind.says("price.each")


def _spacing(at: Beside) -> bool:
    """'every 6'; 'every 6 or every 9' are two spacings to choose from: a question, not a reading."""
    piers = at.scene.at(at.i - 2)
    if piers is not None and piers.tagged("slot", "ends", "column"):
        return at.aside("how far apart the piers stand")
    after = at.scene.at(at.i + 1)
    if after is not None and after.tagged("connect", "or"):
        for item in at.scene.items[at.i : at.i + 5]:
            if item.kind == "measure" and not item.used:
                at.scene.aside(item, "one of the two that were asked about")
        return True
    if at.scene.region.units.get("unit") == "in":  # a bare spacing there may be feet or inches
        steel = bool({"reinforcement", "ties"} & set(at.scene.topics))
        return at.claim("spacing", plain(at.size, "in")) if steel else at.aside("a spacing with no unit")
    found = candidates(at.scene, at.size, "wall")
    return len(found) == 1 and at.claim("spacing", found[0])


FEWEST = 10  # a smaller number in front of a size is rather something else


def _of_sized_blocks(at: Beside) -> bool:
    """'350 8 in block': how many of them."""
    after, beyond = at.scene.at(at.i + 1), at.scene.at(at.i + 2)
    if after is None or beyond is None or after.kind != "measure" or after.size.unit not in {"in", "mm"}:
        return False
    counted = (
        at.size.whole and at.size.value >= at.scene.sense.blocks_fewest and beyond.tagged("noun", "block")
    )
    return counted and at.claim("block_count", int(at.size.value))


def _at_block(at: Beside) -> bool:
    """'7.3 blocks' is a strength; '100 blocks' a thickness or a count."""
    near = at.near
    if near is None or not (near.tagged("noun", "block") or near.tagged("slot", "material")):
        return False
    if at.size.decimal and at.known("strength"):
        return at.strong()
    return block_number(at.scene, at.i, at.item, near)


def _by_name(at: Beside) -> bool:
    """'140s', 'dense 7s', '140 ones': blocks called by their thickness or strength."""
    after = at.scene.at(at.i + 1)
    ones = after is not None and after.says("again.ones") and "blocks" in at.scene.topics
    if after is None or not (ones or (after.says("block.called") and after.start == at.item.end)):
        return False
    if at.size.decimal and at.known("strength"):  # '3.6s'
        return at.strong()
    if not at.size.whole:
        return False
    if at.known("thickness"):
        return at.thick()
    if any(at.size.value == face[0] for face in at.scene.region.known.get("face", ())):  # '440s'
        put(at.scene, "block", "length", plain(at.size, "mm"), at.item)
        return True
    return at.known("called") and at.strong()


def _behind_other(at: Beside) -> bool:
    """'7.3N 100', 'cavity 100', 'crack 3', 'coat 12 thick': where nothing behind it says more."""
    touching, before = at.scene.at(at.i - 1), at.before
    strength = touching is not None and touching.kind == "measure" and (
        touching.size.unit == "N/mm²" or (touching.used == "block" and touching.size.decimal)
    )  # fmt: skip
    if strength and at.known("thickness"):
        return at.thick()
    after = at.scene.at(at.i + 1)
    strong = after is not None and after.kind == "measure" and after.size.unit == "N/mm²"
    if strong and at.known("thickness"):  # 'on 140 7.3n'
        return at.thick()
    if before is None:
        return False
    if before.tagged("noun", "cavity") and at.size.value >= at.scene.sense.cavity_least_behind:
        return at.claim("cavity", plain(at.size, "mm"))
    if (
        before.tagged("noun", "crack")
        and at.size.value <= at.scene.sense.crack_widest
        and "crack" in at.scene.topics
    ):
        unit = small_unit(at.item)
        put(at.scene, "crack", "width", plain(at.size, unit), at.item)
        at.scene.assume("crack", unit, f"'{at.item.text}' was taken as {show(plain(at.size, unit))}.")
        return True
    after = at.scene.at(at.i + 1)
    thin, thick = at.scene.sense.coat_bare_behind
    coat = before.tagged("noun", "coat") and "render" in at.scene.topics and at.before_at == at.i - 1
    if coat and thin <= at.size.value <= thick and after is not None and after.tagged("dim", "thickness"):
        return at.claim("coat_thickness", plain(at.size, "mm"))
    return False
