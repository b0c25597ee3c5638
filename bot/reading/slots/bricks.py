"""How thick a wall is, told in bricks."""

from __future__ import annotations

from bot.reading.items import Item
from bot.reading.scene import Scene, plain, show
from bot.reading.slots.put import put


def bricks_high(scene: Scene) -> None:
    """'65mm bricks': the face that the region knows."""
    faces = scene.region.known.get("face", ())
    heights = {face[1] for face in faces if face[1] <= scene.sense.brick_slender * face[0]}
    for i, item in enumerate(scene.items):
        if item.kind != "measure" or item.size.unit != "mm" or item.used or not _of_brick(scene.at(i + 1)):
            continue
        if item.size.value in heights:
            put(scene, "block", "height", plain(item.size, "mm"), item)


def bricks_thick(scene: Scene) -> None:
    """'one brick thick', 'one brick' in talk of bricks: as thick as one is long; any other is asked."""
    for i, item in enumerate(scene.items):
        brick, thick = scene.at(i + 1), scene.at(i + 2)
        if item.kind != "measure" or item.size.unit or item.used or not _of_brick(brick):
            continue
        alone = (
            scene.in_force == ("blocks",) and all(x.kind == "mark" for x in scene.items[i + 2 :]) and not i
        )
        if not alone and (thick is None or not thick.tagged("dim", "thickness")):
            continue
        slender = [
            face[0]
            for face in scene.region.known.get("face", ())
            if face[1] <= scene.sense.brick_slender * face[0]
        ]
        if item.size.value != 1 or not slender:
            scene.doubt(
                "thickness", f"How thick is {item.text} {brick.text if brick else ''}, in mm?", [], item
            )
            return
        unit = "in" if scene.region.units.get("wall") == "ft" else "mm"
        size = {
            "value": float(max(x for x in slender if x <= scene.sense.bricks_alike * min(slender))),
            "unit": unit,
        }
        scene.claim("thickness", size, item)
        scene.assume(
            "thickness", show(size), f"One brick thick was taken as {show(size)}, the length of a brick."
        )
        return


def _of_brick(item: Item | None) -> bool:
    return item is not None and item.tagged("slot", "material", "clay_brick")
