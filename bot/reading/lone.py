"""A number that stands alone: what it is of must be seen in the conversation."""

from __future__ import annotations

from bot.reading.items import Item, Measure
from bot.reading.scene import Scene

NUMERIC = {"measure", "dims", "range", "ratio", "bad"}
GONE = {"aside", "taken back", "moved"}
LENGTHS = {"length", "height", "thickness"}
GUESSED = {*LENGTHS, "", "number", "block", "one"}


def find_lone(scene: Scene) -> Measure | None:
    """The only number of a message, where no noun or dimension word says what it is of."""
    sizes = [x for x in scene.items if x.kind in NUMERIC and x.used not in GONE]
    if len(sizes) != 1 or sizes[0].kind != "measure" or sizes[0].used not in GUESSED:
        return None
    if sizes[0].tagged("count"):  # '5nr' counts, and is no size
        return None
    item = sizes[0]
    if item.used == "block" and item.size.unit == "N/mm²":
        return None
    if item.used in LENGTHS and any(_names(x, item.used) for x in scene.items):
        return None
    if item.used == "height" and scene.tagged("wants", "blocks", "course_count"):
        return None  # 'how many courses to 2.4'
    i = scene.items.index(item)
    if item.used in LENGTHS and _letter(scene, i, item.used):
        return None
    if any(near is not None and _owns(near) for near in (scene.at(i + 1), scene.at(i - 1))):
        return None
    behind = scene.at(i + 1)
    sides = behind is not None and behind.says("faces.sides")  # '3 sides'
    if sides or (behind is not None and (behind.says("walls.elsewhere_behind") or _called(item, behind))):
        return None
    if scene.heard.topics and scene.tagged("noun", "wall"):
        return None
    return item.size


def _names(item: Item, slot: str) -> bool:
    dim = item.tag("dim")
    return dim is not None and dim[1] == slot and item.kind == "phrase" and len(item.text) > 1


def _letter(scene: Scene, i: int, slot: str) -> bool:
    """'H = 4.2', 'L8': a letter that names the slot stands at the number."""
    before, ahead = scene.at(i - 1), scene.at(i - 2)
    if before is not None and before.says("walls.equals"):
        return ahead is not None and ahead.tagged("dim", slot)
    return before is not None and before.end == scene.items[i].start and before.tagged("dim", slot)


PLAIN = frozenset({"small.word", "turns.plain"})


def find_stray(scene: Scene) -> tuple[list[str], set[str]]:
    """Words that are none of ours beside a number, and the dimensions that are named."""
    plain = {*PLAIN, "load.said_by"} if "bearing" in scene.topics else PLAIN
    words = [
        x.low
        for i, x in enumerate(scene.items)
        if not (i and scene.items[i - 1].tagged("ask", "quantity"))  # 'how many bags': what is asked for
        if (x.kind == "word" and len(x.low) > 1 and x.cues.isdisjoint(plain))
        or (x.tags and ((x.tagged("noun") and not x.tagged("noun", "wall")) or x.tagged("dim", "at")))
    ]
    named = {
        tag[1]
        for i in scene.where("dim")
        for tag in scene.items[i].tags
        if tag[0] == "dim" and scene.items[i].kind == "phrase" and not scene.as_before(i)
    }
    return words, named


def find_parts(scene: Scene) -> list[tuple[int, int]]:
    """Numbers that stand at the name of what is no wall: 'lintel 1.5m', 'sill at 900', '2m scaffold'."""
    found: list[tuple[int, int]] = []
    if not (scene.says("parts.thing") or scene.says("parts.end")):
        return found
    for i, item in enumerate(scene.items):
        if item.kind not in NUMERIC or item.used in GONE:
            continue
        j = scene.left(i)
        ahead = scene.at(j)
        if j is not None and ahead is not None and ahead.tagged("dim", "at"):
            ahead = scene.at(scene.left(j))
        behind = scene.at(i + 1)
        before = (
            ahead is not None and not item.before and (ahead.says("parts.thing") or ahead.says("parts.end"))
        )
        if before or (behind is not None and not behind.before and behind.says("parts.thing")):
            found.append((item.start, item.end))
    return found


def _called(item: Item, behind: Item) -> bool:
    """'140s', '140 ones': blocks called by their thickness."""
    ones = behind.says("again.ones") and item.used == "block"
    return ones or (behind.says("block.called") and behind.start == item.end)


def _owns(near: Item) -> bool:
    if near.kind != "phrase":
        return False
    dim = near.tagged("dim") and not near.tagged("dim", "at") and not near.tagged("hedge")
    noun = near.tagged("noun") and not (near.tagged("noun", "wall") or near.tagged("noun", "load"))
    return (dim and len(near.text) > 1) or noun
