"""Pairs and triples that belong to a roll, a board, a padstone or a block."""

from __future__ import annotations

from typing import Any

from bot.reading.items import Item
from bot.reading.scene import Scene, plain
from bot.reading.slots.put import put
from bot.reading.units import pair


def take_pieces(scene: Scene, i: int, item: Item) -> None:
    """Pairs and triples that belong to a block, roll, board or padstone."""
    sizes = item.sizes
    behind = scene.right(i, over="over.before_block")
    while (
        behind is not None
        and scene.items[behind].kind == "measure"
        and scene.items[behind].size.unit == "N/mm²"
    ):
        behind = scene.right(behind)
    near = scene.at(behind)
    before_at = scene.left(i, over="over.behind_block")
    before = scene.at(before_at)
    beside = [x for x in (near, before) if x is not None]
    if len(sizes) == 2 and sizes[0].whole and sizes[0].value <= 20 and sizes[1].unit == "m²":
        return
    if (any(x.tagged("noun", "roll") for x in beside) and len(sizes) == 2) or (
        "mesh" in scene.topics
        and len(sizes) == 2
        and any(s.value >= 25 and s.unit in {"", "m"} for s in sizes)
        and any(0.2 <= s.value <= 2 for s in sizes)
    ):
        long, wide = sorted(sizes, key=lambda s: -s.value)
        unit = next((s.unit for s in sizes if s.unit), "m")
        scene.claim(
            "roll", {"length": plain(long, long.unit or unit), "width": plain(wide, wide.unit or unit)}, item
        )
        return
    if (
        "boards" in scene.topics
        and len(sizes) == 2
        and all(s.unit in {"", "mm"} and not s.decimal and 600 <= s.value <= 3000 for s in sizes)
        and "board" not in scene.heard.slots
        and (
            "area" in scene.heard.slots
            or any(
                x is not item and (x.kind == "dims" or (x.kind == "measure" and x.size.unit in {"m", "m²"}))
                for x in scene.items
            )
        )
    ):
        two = sorted((plain(s, "mm") for s in sizes), key=lambda q: q["value"])
        thick = next(
            (
                x
                for x in scene.items
                if x.kind == "measure" and not x.used and x.size.unit == "mm" and x.size.value <= 25
            ),
            None,
        )
        scene.claim(
            "board",
            {"width": two[0], "height": two[1], **({"thickness": plain(thick.size, "mm")} if thick else {})},
            *([item, thick] if thick else [item]),
        )
        return
    if (
        any(x.tagged("noun", "board") for x in beside)
        and len(sizes) in {2, 3}
        and "blocks" not in scene.topics
    ):
        found = list(pair(scene, sizes[:2], "board"))
        if sizes[0].value == 8 and sizes[1].value == 4 and not found:
            found = []
        if (
            not sizes[0].unit
            and not sizes[1].unit
            and max(sizes[0].value, sizes[1].value) in {8, 10, 6}
            and min(sizes[0].value, sizes[1].value) in {4, 3}
        ):
            found = [tuple(plain(s, "ft") for s in sizes[:2])]
            scene.assume("board", "ft", f"'{item.text}' was taken as feet.")
        if found and (
            not _wallish(item)
            or (
                before is not None
                and before.tagged("noun", "board")
                and all(q["unit"] == "m" and q["value"] <= 3.7 for q in found[0])
            )
        ):
            two = sorted(found[0], key=lambda q: q["value"])
            board: dict[str, Any] = {"width": two[0], "height": two[1]}
            if len(sizes) == 3:
                board["thickness"] = plain(sizes[2], sizes[2].unit or "mm")
            scene.claim("board", board, item)
            return
    if any(x.tagged("noun", "padstone") for x in beside) or (
        "bearing" in scene.topics
        and all(not s.unit or s.unit in {"mm", "in"} for s in sizes)
        and not _wallish(item)
        and not any(x.tagged("noun", "block") for x in beside)
    ):
        unit = next(
            (s.unit for s in sizes if s.unit),
            "in" if scene.feet and max(s.value for s in sizes) < 40 else "mm",
        )
        names = ("length", "width", "height")
        scene.claim(
            "padstone", {n: plain(s, s.unit or unit) for n, s in zip(names, sizes, strict=False)}, item
        )
        return
    if (
        any(x.tagged("noun", "block") or x.tagged("slot", "material") for x in beside)
        or len(sizes) == 3
        or _is_face(scene, item)
    ):
        _block_sizes(scene, item)


def _wallish(item: Item) -> bool:
    return any(s.unit == "m" or (s.decimal and not s.unit) for s in item.sizes)


def _is_face(scene: Scene, item: Item) -> bool:
    """440x215 and its like, with no unit or mm."""
    plainly = len(item.sizes) == 2 and all(s.unit in {"", "mm"} and not s.decimal for s in item.sizes)
    return plainly and [item.sizes[0].value, item.sizes[1].value] in [
        list(face) for face in scene.region.known.get("face", ())
    ]


def _block_sizes(scene: Scene, item: Item) -> None:
    sizes = item.sizes
    values = [s.value for s in sizes]
    units = {s.unit for s in sizes if s.unit}
    inches = units == {"in"} or (
        not units and all(2 <= v <= 24 for v in values) and any(v in {16, 18} for v in values)
    )
    if _wallish(item) and not units & {"mm", "cm", "in"}:
        return
    unit = "in" if inches else units.pop() if len(units) == 1 else "mm"
    if (
        unit == "mm"
        and not inches
        and len(values) == 3
        and all(5 <= v <= 70 for v in values)
        and max(values) >= 30
        and not any(s.unit for s in sizes)
    ):
        unit = "cm"
        scene.assume("block", "cm", f"'{item.text}' was taken as centimetres.")
    if not inches and unit == "mm" and not all(40 <= v <= 700 for v in values):
        return
    if unit == "cm" and not all(4 <= v <= 70 for v in values):
        return
    if unit not in {"mm", "cm", "in"}:
        return
    names: tuple[str, ...]
    if inches and len(values) == 3:
        names = (
            ("thickness", "height", "length") if values[2] >= values[0] else ("length", "height", "thickness")
        )
    elif len(values) == 3:
        names = (
            ("length", "thickness", "height")
            if values[1] > values[2] and values[2] <= 80 and unit == "mm" and values[1] < 130
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
