"""Walls told one after the other by their lengths alone."""

from __future__ import annotations

from dataclasses import dataclass

from bot.reading.items import Item
from bot.reading.scene import Scene
from bot.reading.slots.opening_sizes import KINDS

THREE = 3
OTHERS = ("height", "thickness", "width", "depth")  # what a size beside such a word is, and no length


@dataclass
class Part:
    """Items of one wall, with its label."""

    label: str | None
    first: int
    last: int
    count: Item | None = None  # how many walls are like it
    pair: bool = False  # 'sides': two walls


@dataclass
class _Entry:
    """A length, with how many walls have it; items from first up to last."""

    first: int
    length: Item
    count: Item | None
    last: int
    named: bool  # the word wall stands behind it


def in_a_row(scene: Scene) -> list[Part] | None:
    """'3 walls 4 m, 5 m and 6 m', '2 no. 4.5 m walls and 1 no. 6 m wall': a part for each length."""
    _height_of_all(scene)
    places = [i for i, item in enumerate(scene.items) if item.kind == "measure" and not item.used]
    if len(places) < 2:
        return None
    for i in places:
        entries = _entries(scene, i)
        if len(entries) < 2:
            continue
        if not _alike(entries) or not _several(scene, entries):
            return None
        _lend_unit(entries)
        for entry in entries:
            if entry.count is not None and scene.items[entry.first + 1].tagged("dim", "at"):
                of = scene.items[entry.first + 1]  # '2 at 4.2': so many so long, and no place
                of.tags, of.cues = (), frozenset({"walls.number_of"})
        return [
            Part(
                str(n + 1),
                entry.first,
                entries[n + 1].first if n + 1 < len(entries) else entry.last,
                entry.count,
            )
            for n, entry in enumerate(entries)
        ]
    return None


def _height_of_all(scene: Scene) -> None:
    """'two walls 6 and 8 by 2.4': the height behind the last length is that of all of them."""
    walls = next((i for i, x in enumerate(scene.items) if x.tagged("noun", "wall")), None)
    if walls is None or not scene.items[walls].says("walls.plural"):
        return
    lengths, k = 0, walls + 1
    for item in scene.items[walls + 1 :]:
        if item.kind == "measure" and not item.used and item.size.unit in {"", "m", "ft"}:
            lengths += 1
        elif not (item.kind == "mark" or item.says("list.then") or item.says("walls.number_of")):
            break
        k += 1
    pair, count = scene.at(k), scene.at(walls - 1)
    counted = count is not None and count.kind == "measure" and count.size.whole
    if pair is None or not lengths or pair.kind != "dims" or len(pair.sizes) != 2:
        return
    if counted and count is not None and count.size.value != lengths + 1:
        return
    long, high = pair.sizes
    if high.unit and not long.unit:
        long.unit, long.lent = high.unit, True
    by = Item("phrase", "by", long.end, high.start, tags=(("dim", "height"),), low="by")
    text = scene.heard.text
    sizes = [Item("measure", text[s.start : s.end], s.start, s.end, sizes=[s]) for s in pair.sizes]
    scene.items[k : k + 1] = [*sizes, by]
    scene.renew()


def times_each(scene: Scene) -> None:
    """'4 walls: 2 x 5m 2 x 3m': so many of each length, and no sides of one wall."""
    most = scene.sense.alike_most
    each = [
        x
        for x in scene.items
        if x.kind == "dims" and not x.used and len(x.sizes) == 2 and x.sizes[0].whole
        and 1 <= x.sizes[0].value <= most and x.sizes[1].unit in {"m", "ft"}
    ]  # fmt: skip
    walls = any(x.tagged("noun", "wall") and x.says("walls.plural") for x in scene.items)
    if len(each) < 2 or not walls or not scene.tagged("dim", "height"):
        return
    text = scene.heard.text
    for item in each:
        k = scene.items.index(item)
        scene.items[k : k + 1] = [
            Item("measure", text[s.start : s.end], s.start, s.end, sizes=[s]) for s in item.sizes
        ]
    scene.renew()


def _entries(scene: Scene, i: int) -> list[_Entry]:
    """The lengths that stand in a row from item i on."""
    found: list[_Entry] = []
    entry = _entry(scene, i)
    while entry is not None:
        found.append(entry)
        k = entry.last
        while k < len(scene.items) and (
            scene.items[k].says("list.then")
            or scene.items[k].says("walls.article")
            or (k > entry.last and scene.items[k].says("walls.number_of"))
        ):
            k += 1
        following = _entry(scene, k)
        comma = following is not None and scene.items[following.first].before
        told = comma or (following and following.count) or _counted_before(scene, i)
        entry = following if k > entry.last or told else _bare(following)
    return found


def _counted_before(scene: Scene, i: int) -> bool:
    """'three walls 4.8 6.2 and 7.1': so many walls were told right before their lengths."""
    before = scene.left(i, over="walls.measuring")
    wall, count = scene.at(before), scene.at(before - 1) if before else None
    if wall is not None and wall.says("walls.plural") and _three_or_more(scene, i):
        return True  # 'walls 3.6 4.2 and 5.1'
    if (
        wall is None
        or count is None
        or count.kind != "measure"
        or not count.size.whole
        or count.size.value < 2
    ):
        return False
    return wall.tagged("noun", "wall") and wall.says("walls.plural") and scene.items[i].size.decimal


def _three_or_more(scene: Scene, i: int) -> bool:
    """Whether as many lengths stand in a row from i on, the last behind an 'and'."""
    run, joined = 0, False
    for k in range(i, len(scene.items)):
        item = scene.items[k]
        if item.says("list.and"):
            joined = True
        elif item.kind == "measure" and item.size.decimal and _is_long(scene, k):
            run += 1
        else:
            break
    return joined and run >= THREE


def _bare(entry: _Entry | None) -> _Entry | None:
    """'4m 5m 6m': without a word between, only where the unit makes it a size."""
    return entry if entry is not None and entry.length.size.unit else None


def _entry(scene: Scene, i: int) -> _Entry | None:
    """'6 m', '2 no. 4.5 m walls', 'two 6 m' at item i."""
    item = scene.at(i)
    if item is None or item.kind != "measure" or item.used:
        return None
    size, behind = item.size, scene.at(i + 1)
    at = behind is not None and behind.tagged("dim", "at") and scene.nouns.isdisjoint(KINDS)  # '2 at 4.2'
    k = i + 1 if behind is None or not (at or behind.says("walls.behind_count")) else i + 2
    sized = _is_long(scene, k) and (scene.items[k].size.unit or (at and scene.items[k].size.decimal))
    counts = size.whole and 1 <= size.value <= scene.sense.alike_most and sized
    if _is_long(scene, i) and not (at and counts):
        last = _past_wall(scene, i + 1)
        return _Entry(i, item, None, last, last > i + 1)
    if counts:
        last = _past_wall(scene, k + 1)
        return _Entry(i, scene.items[k], item, last, last > k + 1)
    return None


def _is_long(scene: Scene, i: int) -> bool:
    """Whether item i can be the length of a wall, and nothing beside it says that it is another size."""
    item, behind, before = scene.at(i), scene.at(i + 1), scene.at(i - 1)
    if item is None or item.kind != "measure" or item.used or item.tagged("count"):
        return False
    if behind is not None and (
        any(behind.tagged("dim", other) for other in OTHERS)
        or (behind.tagged("noun") and not behind.tagged("noun", "wall") and not behind.tagged("topic"))
        or (behind.says("walls.plural") and not item.size.unit)
    ):
        return False
    if before is not None and any(before.tagged("dim", other) for other in OTHERS):
        return False
    size = item.size
    if size.negative or size.bound:
        return False
    follows = scene.at(i + 1)
    counts = (
        size.whole
        and follows is not None
        and (follows.says("walls.number_of") or (follows.kind == "measure" and bool(follows.size.unit)))
    )
    return size.unit in {"m", "ft"} or (
        not size.unit and not counts and 1 < size.value <= scene.sense.metres_most
    )


def _past_wall(scene: Scene, i: int) -> int:
    """Past 'walls' or 'long walls', where they stand at i."""
    item = scene.at(i)
    if item is not None and item.tagged("dim", "length"):
        i, item = i + 1, scene.at(i + 1)
    wall = item is not None and item.tagged("noun", "wall") and not item.tagged("noun", "block")
    return i + 1 if wall else i


def _alike(entries: list[_Entry]) -> bool:
    """All in one unit, or bare before the one that has it."""
    units = {e.length.size.unit for e in entries}
    last = entries[-1].length.size.unit
    return units == {last} or (units == {last, ""} and bool(last) and not any(e.count for e in entries))


def _high_and_long(scene: Scene, entries: list[_Entry]) -> bool:
    """'6 ft garden wall 40 ft long', '6 ft wall 40 ft run': one wall, told by its height and its length."""
    if len(entries) != 2 or any(e.count is not None for e in entries):
        return False
    behind = [scene.at(e.first + 1) for e in entries]
    long = [x is not None and (x.tagged("dim", "length") or x.says("walls.run")) for x in behind]
    walled = behind[0] is not None and behind[0].tagged("noun", "wall") and not long[0]
    between = scene.items[entries[0].first : entries[1].first]
    return walled and long[1] and not any(x.says("list.and") for x in between)


def _several(scene: Scene, entries: list[_Entry]) -> bool:
    """Whether the message says that these are walls: it names walls, counts them, or calls each a wall."""
    if _high_and_long(scene, entries):
        return False
    counted = all(e.count is not None or _one(scene, e) for e in entries)
    if not counted and any(e.count is not None for e in entries) and not all(e.named for e in entries):
        return False
    if counted and not any(e.count is not None or e.named for e in entries):
        counted = False
    own = [x for e in entries for x in (e.length, e.count)]
    found = counted or all(e.named for e in entries)
    for i, item in enumerate(scene.items):
        if not (item.tagged("noun", "wall") and item.says("walls.plural")):
            continue
        before = scene.at(i - 1)
        found = True
        if before is None or before.kind != "measure" or not before.size.whole or before.used:
            continue
        if any(before is x for x in own):
            continue
        if before.size.value != sum(e.count.size.value if e.count else 1 for e in entries):
            return False
        before.used = "label"
    return found


def _one(scene: Scene, entry: _Entry) -> bool:
    """'a 6 m', 'one of 9 m': an article stands before it, which counts one."""
    before = scene.at(entry.first - 1)
    if before is not None and before.says("walls.number_of"):
        before = scene.at(entry.first - 2)
    return before is not None and before.says("walls.article")


def _lend_unit(entries: list[_Entry]) -> None:
    """'6, 8 and 12 m': the last unit holds for all."""
    last = entries[-1].length.size.unit
    for entry in entries[:-1]:
        if last and not entry.length.size.unit:
            entry.length.size.unit, entry.length.size.lent = last, True
