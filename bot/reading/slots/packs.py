"""Packs of blocks."""

from __future__ import annotations

from bot.reading.scene import Scene


def take_packs(scene: Scene) -> None:
    """'8 packs, 72 to a pack': together they are the blocks in hand."""
    items = scene.items
    if not (scene.tagged("noun", "pack") or scene.tagged("wants", "blocks", "packs")):
        return
    packs = per = None
    for i, item in enumerate(items):
        if item.used or item.kind != "measure" or not item.size.whole:
            continue
        follow = scene.at(i + 1)
        if follow is not None and follow.tagged("noun", "pack") and follow.says("pack.many"):
            packs = item
            each = scene.at(i + 3)
            if (
                scene.at(i + 2) is not None
                and scene.items[i + 2].says("pack.at")
                and each is not None
                and each.kind == "measure"
                and each.size.whole
                and not each.used
            ):
                per = each
                break
            continue
        j = scene.right(
            i,
            over="over.before_pack",
        )
        near = scene.at(j)
        if near is None or not near.tagged("noun", "pack"):
            if _holds(scene, i):
                per = item
                continue
            before_at = scene.left(i, over="over.behind_pack")
            before = scene.at(before_at)
            if (
                before is not None
                and (before.tagged("noun", "pack") or before.tagged("wants", "blocks", "packs"))
                and (
                    (
                        (before.says("pack.pack_of") or before.tagged("wants", "blocks", "packs"))
                        and items[i - 1].low == "of"
                    )
                    or (before is items[i - 1] and before.says("pack.to_each"))
                )
            ):
                per = item
            continue
        between = list(items[i + 1 : (j or i) + 1])
        if (
            near.says("pack.pack")
            and scene.at((j or i) + 1) is not None
            and scene.items[(j or i) + 1].says("pack.at")
        ):
            follow = scene.at((j or i) + 2)
            if follow is not None and follow.kind == "measure" and follow.size.whole and not follow.used:
                packs, per = item, follow
                break
        single = near.says("pack.to_each")
        if (
            single
            or any(x.says("pack.per") for x in between)
            or (near.says("pack.one") and any(x.says("pack.a") for x in between))
        ):
            per = item
        else:
            packs = item
    if packs is not None and per is None:
        per = next((x for i, x in enumerate(items) if x is not packs and _to_each(scene, i)), None)
    if per is not None and packs is not None and packs.size.value == 1 and _holds(scene, items.index(per)):
        scene.claim("pack_size", int(per.size.value), per, packs)  # 'one pack is 72 blocks'
    elif per is not None:
        scene.claim("pack_size", int(per.size.value), per)
        if packs is not None:
            scene.claim("block_count", int(packs.size.value * per.size.value), packs, per)
    elif packs is not None and ("blocks" in scene.topics or scene.tagged("noun", "pack")):
        scene.aside(packs, "packs, but not how many to a pack")


def _holds(scene: Scene, i: int) -> bool:
    """'packs are 60', 'if a pack holds 80': how many to each, and no number of packs."""
    verb, pack = scene.at(i - 1), scene.at(i - 2)
    if verb is None or pack is None or not verb.says("pack.holds") or not pack.tagged("noun", "pack"):
        return False
    return scene.items[i].size.value >= scene.sense.blocks_fewest


def _to_each(scene: Scene, i: int) -> bool:
    """'72 in each', where packs were counted before."""
    item = scene.items[i]
    ahead = scene.items[i + 1 : i + 3]
    whole = item.kind == "measure" and not item.used and item.size.whole and item.size.value > 1
    return whole and any(x.says("walls.each") for x in ahead)
