"""Sizes that are denied."""

from __future__ import annotations

from itertools import pairwise

from bot.reading.scene import Scene
from bot.reading.turns.corrections import NUMERIC, dimension_at, is_counted, replace_size

HOLES = ("window", "door", "opening")


def put_away(scene: Scene) -> None:
    """'scrap that window': it is that one which goes, no wall."""
    for item, behind in pairwise(scene.items):
        if item.says("not.put_away") and any(behind.tagged("noun", hole) for hole in HOLES):
            item.tags = (("not", "word"),)
            scene.renew()


def negations(scene: Scene) -> None:
    """'not 8.4', 'instead of the 10': a size that is denied is set aside where another is given."""
    items = scene.items
    if not scene.tagged("not"):
        return
    for i, item in enumerate(items):
        if not item.tagged("not") or item.says("not.no_denial"):
            continue
        j = scene.right(i, over="over.behind_not")
        if j is None or items[j].kind not in NUMERIC or items[j].used:
            continue
        comma = any(x.kind == "mark" and x.text == "," for x in items[i:j])
        ends = j == len(items) - 1 and not items[j].size.unit  # '3 windows, not 2'
        if (
            comma
            and not ends
            and not (item.says("not.no_or_nah") and i and items[i - 1].kind in {"mark", "measure"})
        ):
            continue
        if item.says("not.no") and (is_counted(scene, j) or items[j].tagged("count")):
            continue
        others = [
            k
            for k, x in enumerate(items)
            if k != j
            and not x.used
            and (x.kind == items[j].kind or (x.kind == "dims" and items[j].kind == "measure" and k > j))
            and (x.kind != "measure" or ends or is_counted(scene, k) == is_counted(scene, j))
        ]
        if not others:
            if item.says("not.no_or_nah"):
                scene.heard.marks.add("correct")
            continue
        if item.says("not.any_no") and j > 0 and others[0] < i and i > 0:
            nearest = max(k for k in others if k < i)
            replace_size(scene, nearest, j)
            scene.heard.marks.add("correct")
            continue
        later = [k for k in others if k > j]
        if (
            later
            and items[later[0]].kind == items[j].kind == "measure"
            and dimension_at(scene, j)
            and dimension_at(scene, later[0]) is None
            and later[0] - j <= 5
        ):
            scene.heard.denied += [s.value for s in items[j].sizes]
            replace_size(scene, j, later[0])
            continue
        if (
            not (later and dimension_at(scene, later[0]) is None)
            and i
            and items[i - 1].kind == items[j].kind == "measure"
            and not items[i - 1].used
            and dimension_at(scene, j)
            and dimension_at(scene, i - 1) is None
        ):  # '2.4 not 2.7 high'
            scene.heard.denied += [s.value for s in items[j].sizes]
            replace_size(scene, j, i - 1)
            continue
        partner = later[0] if later else others[-1]
        if items[partner].kind == "measure" and not items[partner].size.unit and items[j].size.unit:
            items[partner].size.unit, items[partner].size.lent = items[j].size.unit, True
        scene.heard.denied += [s.value for s in items[j].sizes]
        scene.aside(items[j], "denied")
