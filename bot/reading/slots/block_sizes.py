"""The sizes of a block: length, height and thickness, in millimetres, centimetres or inches."""

from __future__ import annotations

from bot.reading.items import Item
from bot.reading.scene import Scene, plain
from bot.reading.slots.put import put

SIDES = {2, 3}  # of a block that are told


def wallish(item: Item) -> bool:
    """Whether a pair looks like metres, as of a wall."""
    return any(s.unit == "m" or (s.decimal and not s.unit) for s in item.sizes)


def is_face(scene: Scene, item: Item) -> bool:
    """440x215 and its like, with no unit or mm."""
    plainly = len(item.sizes) == 2 and all(s.unit in {"", "mm"} and not s.decimal for s in item.sizes)
    return plainly and [item.sizes[0].value, item.sizes[1].value] in [
        list(face) for face in scene.region.known.get("face", ())
    ]


def _within(span: tuple[float, float], value: float) -> bool:
    return span[0] <= value <= span[1]


def _of_a_long_one(scene: Scene, values: list[float]) -> bool:
    """'aac block 8x8x24': thickness, height and length."""
    told = len(values) == 3 and values == sorted(values) and values[-1] == scene.sense.block_inches_last
    return told and scene.tagged("noun", "block")


def block_sizes(scene: Scene, item: Item) -> None:
    """Put two or three sizes down as those of the block."""
    sizes, sense = item.sizes, scene.sense
    if len(sizes) not in SIDES:
        return  # '390 x 190 x 190 x 500': the fourth is asked about
    values = [s.value for s in sizes]
    units = {s.unit for s in sizes if s.unit}
    inches = units == {"in"} or (
        not units
        and all(_within(sense.block_inches, v) for v in values)
        and (any(v in sense.block_inches_sure for v in values) or _of_a_long_one(scene, values))
    )
    if wallish(item) and not units & {"mm", "cm", "in"}:
        return
    unit = "in" if inches else units.pop() if len(units) == 1 else "mm"
    if (
        unit == "mm"
        and not inches
        and len(values) == 3
        and all(_within(sense.block_centimetres, v) for v in values)
        and max(values) >= sense.block_centimetres_long
        and not any(s.unit for s in sizes)
    ):
        unit = "cm"
        scene.assume("block", "cm", f"'{item.text}' was taken as centimetres.")
    if not inches and unit == "mm" and not all(sense.block_least <= v <= sense.block_most for v in values):
        return
    if unit == "cm" and not all(_within(sense.block_centimetres_told, v) for v in values):
        return
    if unit not in {"mm", "cm", "in"}:
        return
    names: tuple[str, ...]
    if inches and len(values) == 3:
        brick = (
            sense.brick_longest_inches >= values[0] >= values[1] > values[2]
        )  # bricks are told flat: 9 x 4 x 3
        names = (
            ("thickness", "height", "length") if values[2] >= values[0] else ("length", "height", "thickness")
        )
        names = ("length", "thickness", "height") if brick else names
    elif len(values) == 3:
        names = (
            ("length", "thickness", "height")
            if values[1] > values[2]
            and values[2] <= sense.block_flat_most
            and unit == "mm"
            and values[1] < sense.block_flat_wide
            else ("length", "height", "thickness")
        )
        if values[0] < values[2]:
            names = ("thickness", "height", "length")
    else:
        names = ("length", "height") if values[0] >= values[1] else ("height", "length")
    for name, size in zip(names, sizes, strict=True):
        put(scene, "block", name, plain(size, unit), item)
    if inches:
        scene.assume(
            "block",
            "in",
            f"'{item.text}' was taken as inches, thickness × height × length."
            if len(values) == 3
            else f"'{item.text}' was taken as inches.",
        )


def three_in_a_row(scene: Scene) -> None:
    """'440 215 100 blocks': a face that the region knows, and a thickness of its blocks."""
    faces = {tuple(face) for face in scene.region.known.get("face", ())}
    for three in zip(scene.items, scene.items[1:], scene.items[2:], strict=False):
        if any(x.kind != "measure" or x.used or x.size.unit for x in three):
            continue
        long, high, thick = (x.size.value for x in three)
        if (long, high) in faces and thick in scene.region.known.get("thickness", ()):
            for part, item in zip(("length", "height", "thickness"), three, strict=True):
                put(scene, "block", part, plain(item.size, "mm"), item)
            return
