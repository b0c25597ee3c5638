"""Two values that are asked about."""

from __future__ import annotations

from dataclasses import replace

from bot.reading.scene import Scene


def alternatives(scene: Scene) -> None:
    """'is it 6 or 9', '1 joint or 0': what is asked about is not a size of the wall."""
    items = scene.items
    if not scene.tagged("connect", "or"):
        return
    for i in range(1, len(items) - 1):
        if not items[i].tagged("connect", "or"):
            continue
        two = items[i + 1]
        j = i - 1
        while j >= 0 and items[j].kind != "measure" and i - j <= 3 and items[j].kind != "mark":
            j -= 1
        one = items[j] if j >= 0 else None
        if one is None or one.kind != "measure" or two.kind != "measure" or one.used or two.used:
            continue
        if i - j == 1 and not one.size.unit and two.size.unit in {"mm", "cm", "in"}:
            one.sizes = [replace(one.size, unit=two.size.unit, lent=True)]  # '10 or 12mm'
            if any(x.tagged("noun", "joint") for x in items[max(0, j - 2) : j]):
                scene.aside(one, "one of the two that were asked about")
                scene.aside(two, "one of the two that were asked about")
                continue
        every = j > 0 and items[j - 1].says("spacing.every") and i - j == 1
        if every and one.size.unit and not two.size.unit:  # 'every 6m or 7'
            scene.aside(one, "one of the two that were asked about")
            scene.aside(two, "one of the two that were asked about")
            continue
        counted = any(x.tagged("noun", "joint") or x.says("or.counted") for x in items[j + 1 : i])
        last = (
            all(x.kind == "mark" for x in items[i + 2 :])
            and one.size.whole
            and two.size.whole
            and max(one.size.value, two.size.value) <= 5
        )
        if last and i - j == 1:
            counted = True
        if (counted and two.size.whole) or (
            j >= 1 and items[j - 1].says("or.asked") and "is" in items[max(0, j - 2)].low and j <= 2
        ):
            scene.aside(one, "one of the two that were asked about")
            scene.aside(two, "one of the two that were asked about")
