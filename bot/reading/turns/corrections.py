"""What was taken back, and what took its place."""

from __future__ import annotations

from dataclasses import replace

from bot.reading.items import Item
from bot.reading.scene import Scene
from bot.reading.slots.opening_sizes import kind_of_raw
from bot.reading.turns.alternatives import alternatives
from bot.reading.units import LENGTH
from knowledge.units import kind

MOST_MOVED = 5  # times: a size taken back and the one in its place


def corrections(scene: Scene) -> None:
    """'10m sorry 12m', 'its not 8.4 its 4.8': what was taken back is set aside."""
    items = scene.items
    _changed(scene)
    alternatives(scene)
    if not (scene.tagged("correct") or scene.says("correct.but")):
        return
    for i, item in enumerate(items):
        if not item.tagged("correct") and not _but_now(scene, i):
            continue
        scene.heard.marks.add("correct")
        new = next(
            (
                j
                for j in range(i + 1, min(len(items), i + 7))
                if items[j].kind in NUMERIC and not items[j].used
            ),
            None,
        )
        if new is None or any(items[k].kind == "mark" and items[k].text == "?" for k in range(i, new)):
            continue
        if any(items[k].kind in NUMERIC for k in range(i + 1, new)):
            continue
        old = _replaced(scene, i, new)
        if old is not None and not item.tagged("correct") and not _near(items[old], items[new]):
            continue  # '6m but its only a 9 inch wall': of another thing
        if old is not None:
            replace_size(scene, old, new)


def _moved_to(scene: Scene) -> None:
    """'door to 3m' in a conversation: where it stands now."""
    items = scene.items
    i = next((n for n, x in enumerate(items) if not x.says("small.word")), len(items))
    thing, to, size = (scene.at(i + step) for step in range(3))
    if thing is None or to is None or size is None or not kind_of_raw(thing) or size.kind != "measure":
        return
    dim = scene.at(i + 3)
    if to.says("correct.onto_a_place") and not (dim is not None and dim.tagged("dim")):
        to.tags = (("dim", "at"),)
        scene.renew()


def _changed(scene: Scene) -> None:
    """'change the 6.2 to 6.5', 'swap 2.4 for 2.7' in a conversation: the second for the first."""
    if not scene.in_force:
        return
    _moved_to(scene)
    for i, item in enumerate(scene.items):
        if not item.says("correct.change"):
            continue
        j = i + 1
        while j < len(scene.items) and scene.items[j].says("small.word"):
            j += 1
        _to_the_number(scene, j)
        old, to, new = (scene.at(j + step) for step in range(3))
        if old is None or old.used:
            continue
        if old.kind in {"range", "ratio"} and len(old.sizes) == 2 and ":" not in old.text:
            was, now = old.sizes
            if was.unit and not now.unit:
                now = replace(now, unit=was.unit, lent=True)
            scene.aside(Item("measure", scene.heard.text[was.start : was.end], was.start, was.end), "denied")
            old.kind, old.sizes, old.weak = "measure", [now], False
            old.start, old.end = now.start, now.end
            old.text = scene.heard.text[now.start : now.end]
            old.low = old.text.lower()
        elif (
            old.kind == "measure"
            and to is not None
            and to.says("correct.into")
            and new is not None
            and new.kind == "measure"
        ):
            was = old.size
            scene.aside(old, "denied")
        else:
            continue
        scene.heard.denied.append(was.value)
        scene.heard.marks |= {"correct", "change"}
        scene.renew()
        return


def _to_the_number(scene: Scene, j: int) -> None:
    """'change the cavity to 125': as 'cavity 125'."""
    thing, to, size = (scene.at(j + step) for step in range(3))
    if thing is None or to is None or size is None or thing.kind != "phrase":
        return
    if to.says("correct.into") and size.kind in {"measure", "dims"}:
        del scene.items[j + 1]
        scene.renew()


def _near(one: Item, two: Item) -> bool:
    """Whether two sizes could be of the same thing."""
    if one.kind != "measure" or two.kind != "measure" or not one.size.unit or not two.size.unit:
        return True
    if kind(one.size.unit) != LENGTH or kind(two.size.unit) != LENGTH:
        return True
    small, large = sorted((abs(one.size.to_mm()), abs(two.size.to_mm())))
    return large <= MOST_MOVED * small


def _but_now(scene: Scene, i: int) -> bool:
    """'12m on the plan but we measured 12.3': what comes after 'but' counts."""
    items = scene.items
    if not items[i].says("correct.but") or not any(x.kind in {"measure", "dims"} for x in items[:i]):
        return False
    now = scene.words.cue["correct.now"]
    return any(w in now for x in items[i + 1 : i + 6] for w in x.low.split())


def _replaced(scene: Scene, i: int, new: int) -> int | None:
    items = scene.items
    word = dimension_at(scene, new)
    counted = items[new].tagged("count") or is_counted(scene, new)
    fits: list[int] = []
    for j in range(i - 1, -1, -1):
        old = items[j]
        if old.kind not in NUMERIC or old.used:
            continue
        if old.kind != items[new].kind and {old.kind, items[new].kind} not in (
            {"measure", "range"},
            {"measure", "dims"},
        ):
            continue
        if old.kind == "measure" and counted != is_counted(scene, j):
            continue
        one, two = old.size.unit, items[new].size.unit
        if one and two and old.kind == "measure" and not _alike(one, two):
            continue
        fits.append(j)
    if not fits:
        return None
    if word is not None:
        for j in fits:
            if dimension_at(scene, j) == word:
                return j
        return fits[0] if all(dimension_at(scene, j) is None for j in fits) else None
    return fits[0]


def replace_size(scene: Scene, old: int, new: int) -> None:
    """Put the new size where the old one stood."""
    items = scene.items
    was, now = items[old], items[new]
    if now.kind == "measure" and was.kind == "measure" and not now.size.unit and was.size.unit:
        from bot.reading.items import Measure

        lent = Measure(**{k: getattr(now.size, k) for k in Measure.__slots__})
        lent.unit, lent.lent = was.size.unit, True
        if now.size.value <= 10 * was.size.value and was.size.value <= 10 * now.size.value:
            now.sizes = [lent]
    scene.aside(Item(was.kind, was.text, was.start, was.end), "taken back")
    if scene.in_force and was.kind == "measure":  # 'the 6.2 should be 6.5'
        scene.heard.denied.append(was.size.value)
    half = {"length": 1, "height": 0}.get(dimension_at(scene, new) or "")
    if was.kind == "dims" and now.kind == "measure" and len(was.sizes) == 2 and half is not None:
        was.kind, was.sizes = (
            "measure",
            [was.sizes[half]],
        )  # '7.2 x 2.4, sorry 2.7 high': the other half stays
        return
    if dimension_at(scene, new) is None and new != old + 1 and now.kind == was.kind:
        # The old place keeps its surroundings; the new value moves in.
        was.kind, was.sizes, was.tags, was.cues = now.kind, now.sizes, now.tags, now.cues
        was.text, was.low, was.start, was.end = now.text, now.low, now.start, now.end
        now.used = "moved"
        scene.renew()
    else:
        was.used = "taken back"


def dimension_at(scene: Scene, i: int) -> str | None:
    """The dimension word or noun that stands at a measure, if any."""
    for j in (i + 1, i - 1):
        near = scene.at(j)
        if near is not None:
            tag = near.tag("dim")
            if tag and tag[1] in PLAIN_DIMS and near.kind == "phrase":
                return tag[1]
    return None


def is_counted(scene: Scene, i: int) -> bool:
    """Whether a number counts windows, bags, courses and the like."""
    j = scene.right(i)
    item = scene.items[i]
    noun = scene.at(j)
    return (
        item.kind == "measure"
        and item.size.whole
        and noun is not None
        and any(
            noun.tagged("noun", k) for k in ("window", "door", "opening", "bag", "bucket", "course", "roll")
        )
    )


def _alike(one: str, two: str) -> bool:
    from knowledge.units import UnitFault, kind

    try:
        return kind(one) == kind(two)
    except UnitFault:
        return one == two


NUMERIC = {"measure", "dims", "ratio", "range"}


PLAIN_DIMS = ("length", "height", "thickness", "width", "depth")
