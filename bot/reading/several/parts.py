"""The parts of a message that speak of one wall each."""

from __future__ import annotations

from bot.reading.items import Item
from bot.reading.scene import Scene
from bot.reading.several.in_a_row import Part, in_a_row, times_each


def split_items(scene: Scene) -> tuple[list[Part], list[Item], list[Item]] | None:
    """Parts of the message that speak of one wall each, and what stands before and behind them all."""
    if sum(x.kind in {"measure", "dims"} for x in scene.items) < 2:
        return None
    times_each(scene)
    parts = _labelled(scene) or _listed(scene) or in_a_row(scene) or _counted(scene) or _one_other(scene)
    if not parts:
        return None
    items = scene.items
    limit = parts[-1].last
    tail = next(
        (
            k
            for k in range(parts[-1].first + 1, limit)
            if items[k].says("walls.all")
            and k > parts[-1].first + 1
            and not (items[k].low == "each" and items[k - 1].kind in {"measure", "dims"})
            and any(x.kind in {"measure", "dims"} for x in items[parts[-1].first : k])
        ),
        None,
    )
    if tail is None:
        tail = next(
            (
                k
                for k in range(parts[-1].first + 2, limit)
                if items[k].kind == "mark" and items[k].text in {".", "?", ";"} and k > parts[-1].first + 1
            ),
            limit,
        )
    parts[-1].last = tail
    return parts, items[: parts[0].first], items[tail:]


def _sized(scene: Scene, i: int) -> bool:
    """A wall size stands at i, over 'is', ':' and the like."""
    j = i
    while j < len(scene.items) and j < i + 4:
        item = scene.items[j]
        if item.kind in {"measure", "dims"} and not item.used:
            nxt = scene.at(j + 1)
            opening = nxt is not None and any(nxt.tagged("noun", k) for k in ("window", "door", "opening"))
            return (
                not opening
                and not item.tagged("count")
                and (
                    bool(item.size.unit)
                    or item.size.decimal
                    or item.kind == "dims"
                    or 1 < item.size.value <= scene.sense.metres_most
                )
            )
        if not (item.text in {":", "=", "-"} or item.says("walls.before_own_size")):
            return False
        j += 1
    return False


SIDES = 4  # of a building
MARKS = frozenset({"walls.numbered", "walls.label", "walls.wall"})


def _labelled(scene: Scene) -> list[Part] | None:
    """'A 6.2 / B 11.4', 'wall 1 is 8.2 m, wall 2 ...', 'front 9 back 7'."""
    items = scene.items
    if sum(len(x.low) == 1 or not x.cues.isdisjoint(MARKS) for x in items) < 2:
        return None
    marks: list[tuple[int, str]] = []
    for i, item in enumerate(items):
        text = item.low
        before = scene.at(i - 1)
        if (
            item.kind in {"word", "phrase"}
            and len(text) == 1
            and (
                text in "abcdefg" or (text.isalpha() and before is not None and before.tagged("noun", "wall"))
            )
            and (
                item.text.isupper()
                or (before is not None and before.tagged("noun", "wall"))
                or (marks and marks[-1][1] == chr(ord(text) - 1).upper())  # 'walls a 4m b 5m c 6m'
            )
        ):
            if _sized(scene, i + 1) and not (
                text == "a"
                and not item.text.isupper()
                and not (before is not None and before.tagged("noun", "wall"))
            ):
                marks.append((i - (before is not None and before.tagged("noun", "wall")), item.text.upper()))
        elif (
            item.kind == "measure"
            and not item.used
            and item.size.whole
            and item.size.value <= 9
            and before is not None
            and before.says("walls.numbered")
            and not item.size.spelt
        ):
            nxt = scene.at(i + 1)
            if (
                nxt is not None
                and (nxt.says("walls.equals") or nxt.kind in {"measure", "dims"})
                and _sized(scene, i + 1)
            ):
                marks.append((i - 1, f"{int(item.size.value)}"))
                item.used = "label"
        elif (
            item.says("walls.label")
            and item.kind in {"word", "phrase"}
            and not (before is not None and before.says("walls.no_label_behind"))
            and _sized(scene, i + 1)
        ):
            nxt = scene.at(i + 1)
            if nxt is not None and (
                nxt.kind in {"measure", "dims", "mark"}
                or nxt.tagged("noun", "wall")
                or nxt.says("walls.before_own_size")
            ):
                marks.append((i, text))
        elif item.tagged("noun", "wall") and item.says("walls.wall") and before is not None:
            named = before.kind == "word" or before.says("walls.room")
            if (
                named
                and not before.says("walls.label")
                and not before.says("small.word")
                and _sized(scene, i + 1)
            ):
                marks.append((i - 1, before.low))
    if len(marks) < 2 or len({label for _, label in marks}) != len(marks):
        if len(marks) == 1 and marks[0][1].isdigit():
            number = next((x for x in items if x.used == "label"), None)
            if number is not None:
                number.used = ""
        return None
    counts = [_how_many(scene, i) for i, _ in marks]
    firsts = [i - (count is not None) for (i, _), count in zip(marks, counts, strict=True)]
    return [
        Part(
            label, firsts[n], [*firsts, len(items)][n + 1], count=counts[n], pair=items[i].says("walls.sides")
        )
        for n, (i, label) in enumerate(marks)
    ]


def _how_many(scene: Scene, i: int) -> Item | None:
    """'2 sides 5.4, back 3': how many are so long."""
    before = scene.at(i - 1)
    if not scene.items[i].says("walls.sides") or before is None or before.kind != "measure" or before.used:
        return None
    return before if before.size.whole and 1 < before.size.value <= SIDES else None


def _listed(scene: Scene) -> list[Part] | None:
    """'4.2x2.4 + 4.2x2.4 + 6.6x2.4': pairs in a row."""
    items = scene.items
    places = [i for i, x in enumerate(items) if x.kind == "dims" and not x.used and len(x.sizes) == 2]
    runs: list[int] = []
    for i in places:
        if runs and all(_joins(x) for x in items[runs[-1] + 1 : i]) and i - runs[-1] <= 5:
            runs.append(i)
        elif not runs:
            runs = [i]
    if len(runs) < 2 or any(s.unit in {"mm", "cm"} or s.value >= 300 for i in runs for s in items[i].sizes):
        return None
    nxt, behind = scene.at(runs[-1] + 1), scene.at(runs[-1] + 2)
    if (
        nxt is not None
        and not (behind is not None and behind.kind == "dims")  # 'door 926 x 2040' has its own size
        and any(nxt.tagged("noun", k) for k in ("window", "door", "opening", "roll", "board"))
    ):
        return None
    ends = [
        max(i + 1, after - 1) for i, after in zip(runs, [*runs[1:], 0], strict=True)
    ]  # '9x2.4 7x2.4 walls'
    return [Part(str(n), i, end) for n, (i, end) in enumerate(zip(runs, ends, strict=True), start=1)]


def _joins(item: Item) -> bool:
    """What may stand between the sizes of two walls: ', wall', '; a', 'wall and'."""
    wall = item.tagged("noun", "wall") and not item.tagged("noun", "block")
    return item.says("list.and") or item.text == ";" or wall or item.says("walls.article")


def _counted(scene: Scene) -> list[Part] | None:
    """'2 walls 5.20 and 2 walls 3.60', '2 gables ... + 2 walls ...'."""
    items = scene.items
    marks: list[int] = []
    for i in [n - 1 for n in scene.where("noun", "wall") if n]:
        item = items[i]
        if (
            item.kind == "measure"
            and not item.used
            and item.size.whole
            and item.size.value <= scene.sense.alike_most
            and not items[i + 1].tagged("noun", "block")
        ):
            k = i + 2
            while k < len(items) and items[k].says("walls.behind_count"):
                k += 1
            if _sized(scene, k):
                marks.append(i)
    if len(marks) < 2:
        return None
    return [
        Part(str(n + 1), i, marks[n + 1] if n + 1 < len(marks) else len(items)) for n, i in enumerate(marks)
    ]


def _of_openings(scene: Scene, i: int) -> bool:
    """'two windows, one 1200x1050 the other ...': of the openings, not of walls."""
    behind = scene.at(i + 1)
    if behind is not None and any(behind.tagged("noun", kind) for kind in ("window", "door", "opening")):
        return True  # 'one door 900x2100 one window 1200x1200'
    for j in range(i - 1, max(-1, i - 4), -1):
        item = scene.items[j]
        if item.tagged("noun", "wall"):
            return False
        if any(item.tagged("noun", kind) for kind in ("window", "door", "opening")):
            return True
    return False


def _one_other(scene: Scene) -> list[Part] | None:
    """'one wall is 4 m the other is 6', 'first 6m is 1.2 high then 4m at 1.8'."""
    items = scene.items
    texts = [x.low for x in items]
    if not {"one", "first", "one wall"}.intersection(texts):
        return None
    for one, two in (
        ("one", {"the other", "other", "the other one", "another", "the other wall"}),
        ("first", {"then", "second", "next"}),
        ("one wall", {"the other", "other", "another", "the other wall"}),
        ("one", {"one"}),
    ):
        for i, text in enumerate(texts):
            if (
                text != one
                or _of_openings(scene, i)
                or not any(_sized(scene, k) for k in range(i + 1, min(i + 3, len(items))))
            ):
                continue
            for j in range(i + 2, len(items)):
                if (
                    texts[j] in two
                    and any(_sized(scene, k) for k in range(j + 1, min(j + 4, len(items))))
                    and any(x.kind in {"measure", "dims"} for x in items[i:j])
                ):
                    return [Part("1", i, j), Part("2", j, len(items))]
    return None
