"""Which end a word of an end belongs to."""

from __future__ import annotations

from bot.reading.items import Item
from bot.reading.scene import Scene


def other_sense(scene: Scene, i: int, item: Item) -> bool:
    """'open to traffic', 'corner patches', 'column of figures': words that are no end here."""
    after = scene.at(i + 1)
    before = scene.at(i - 1)
    coated = {"mesh", "render"} & set(scene.topics) and "joints" not in scene.topics
    if coated and item.says("ends.corner") and not any("end" in x.low.split() for x in scene.items):
        return True
    if item.says("ends.needs_a_side") and not _any_side(scene, i):
        return item.says("ends.nothing_without_a_side") or (
            after is not None and after.says("ends.free_of_charge")
        )
    if (
        item.says("ends.measured_from")
        and before is not None
        and before.says("ends.article")
        and scene.at(i - 2) is not None
        and (scene.items[i - 2].says("ends.distance") or scene.items[i - 2].low.endswith((" from", " to")))
    ):
        return not _any_side(scene, i) and scene.items[i - 2].low != "at"
    return False


def _any_side(scene: Scene, i: int) -> bool:
    return any(scene.items[j].tagged("side") for j in range(max(0, i - 4), min(len(scene.items), i + 5)))


def corner_to_corner(scene: Scene, i: int) -> bool:
    """'return to return': both ends."""
    to, again = scene.at(i + 1), scene.at(i + 2)
    return to is not None and to.low == "to" and again is not None and again.tagged("slot", "ends")


def side_of(scene: Scene, i: int, low: int, high: int, taken: set[int]) -> tuple[str | None, int | None]:
    """The side word nearest to an end word, not across another end word or a comma on the near side."""
    items = scene.items
    found: list[tuple[int, int, str]] = []
    for way, stop in ((1, high), (-1, low)):
        j, steps = i + way, 0
        while j != stop and 0 <= j < len(items) and steps < 5:
            item = items[j]
            if item.kind == "mark" and item.text in {".", ";", "?", "\n"}:
                break
            cost = steps + (
                3
                if any(
                    (x.kind == "mark" and x.text == ",") or x.tagged("connect", "and")
                    for x in items[min(i, j) : max(i, j)]
                )
                else 0
            )
            tag, behind = item.tag("side"), scene.at(j + 1)
            walls = behind is not None and behind.kind in {"measure", "dims"}  # 'both 2.4 high': two walls
            if (
                tag is not None
                and j not in taken
                and not (item.says("walls.all") and walls)
                and not (
                    item.tagged("slot", "faces")
                    and "render" in " ".join(x.low for x in items[max(0, j - 2) : j])
                )
            ):
                if tag[1] == "one" and item.low == "one":
                    nxt = scene.at(j + 1)
                    if not (
                        nxt is not None and (nxt.tagged("slot", "ends") or nxt.says("ends.end_or_side"))
                    ) and not scene.items[j - 1].says("ends.at_the"):
                        j += way
                        steps += 1
                        continue
                found.append((cost, 0 if way == 1 else 1, f"{tag[1]}|{j}"))
                break
            if item.kind in {"measure", "dims"} and way == -1:
                break
            j += way
            steps += 1
    if not found:
        return None, None
    side, _, at = min(found)[2].partition("|")
    return side, int(at)
