"""Turns of speech: corrections, negations, hedges, and numbers that are no dimension."""

from __future__ import annotations

from bot.reading.items import Item
from bot.reading.scene import Scene

NUMERIC = {"measure", "dims", "ratio", "range"}
PLAIN_DIMS = ("length", "height", "thickness", "width", "depth")


def take_turns(scene: Scene) -> None:
    """All of them, in the order in which they must be settled."""
    hedges(scene)
    asides(scene)
    corrections(scene)
    negations(scene)


def hedges(scene: Scene) -> None:
    """'about 10', '10 ish', 'just over 6 m': the bound goes with the measure."""
    items = scene.items
    for i, item in enumerate(items):
        hedge = item.tag("hedge")
        if hedge is None:
            continue
        j = i + 1
        while j < len(items) and items[j].kind in {"word", "phrase", "mark"} and items[j].text.lower() in {"the", "a", "of", "than", "is", "its", "be", "at"}:
            j += 1
        target = items[j] if j < len(items) and items[j].kind in {"measure", "dims", "range"} else None
        after = i > 0 and items[i - 1].kind in {"measure", "dims"} and item.text.lower() in {
            "ish", "or so", "give or take", "or thereabouts", "or more", "or less", "max", "min", "maximum", "minimum", "at most", "near enough", "more or less", "approx", "or about", "roughly", "tops"}
        if after and not (target is not None and item.text.lower() in {"approx", "roughly", "max", "min"} and not items[i - 1].tagged("count") and _touching(items[j], item)):
            target = items[i - 1]
        if target is None:
            continue
        if hedge[1] in {"over", "under"}:
            size = target.sizes[0]
            noun = scene.right(items.index(target))
            thing = noun is not None and (items[noun].tagged("noun", "opening") or items[noun].tagged("noun", "window") or items[noun].tagged("noun", "door"))
            plainly = item.text.lower() in {"over", "above", "below", "under", "within", "up to"}
            if thing or (plainly and not size.unit and not size.decimal and size.value < 30 and not scene_bare_ok(scene, items.index(target))):
                continue
            if item.text.lower() == "within" or (plainly and item.text.lower() in {"below", "under"} and any(x.tagged("slot", "place", "below_dpc") for x in items[max(0, i - 1) : j])):
                continue
        for size in target.sizes[:1]:
            if size.bound is None:
                size.bound = hedge[1]


def scene_bare_ok(scene: Scene, i: int) -> bool:
    """A bare number after 'over' is a size where a dimension word or the end follows."""
    j = scene.right(i)
    return j is None or scene.items[j].tagged("dim") or scene.items[j].kind == "mark"


def _touching(one: Item, other: Item) -> bool:
    return 0 <= one.start - other.end <= 1


def asides(scene: Scene) -> None:
    """Plot 12, 2 lads, gridline 3 to 1, 9 years: said back, never used."""
    items = scene.items
    for i, item in enumerate(items):
        if item.kind == "aside" or (item.kind == "bad" and item.why == "not one number"):
            scene.aside(item, item.why)
            continue
        if item.kind == "code" and not item.tagged("code", "class"):
            scene.aside(item, item.why)
            continue
        if item.kind not in NUMERIC or item.used:
            continue
        bare = all(not s.unit and not s.decimal for s in item.sizes)
        if item.kind == "measure" and bare and item.size.value == 4 and not item.size.spelt and i + 1 < len(items) and items[i + 1].text.lower() in {
            "a", "the", "my", "this", "me", "it", "an", "our", "that", "us", "u", "these", "his"}:  # fmt: skip
            scene.aside(item, "read as 'for'")
            continue
        before = items[i - 1] if i else None
        if before is not None and before.tagged("connect", "same") and before.text.lower() == "same as" and bare and item.kind == "measure" and any(x.text.lower() in {"plot", "plots", "wall"} for x in items):
            scene.aside(item, "another wall spoken of")
            continue
        if before is not None and before.kind == "mark" and before.text == "." and i >= 2 and items[i - 2].tagged("aside", "before"):
            before = items[i - 2]
        if before is not None and before.text.lower() in {"item", "boq item", "clause", "cl", "section", "spec section", "table", "fig", "item no"} and item.kind == "measure" and not item.size.unit:
            scene.aside(item, f"a number that goes with '{before.text.lower()}'")
            continue
        if before is not None and before.tagged("aside", "before") and bare and not _dimension(scene, i) and not (
            item.kind == "dims" or before.text.lower() in {"line", "level", "type", "section", "part", "number", "no.", "unit", "elevation", "elev", "building", "floor", "call", "step", "day", "week"} and (item.kind == "ratio" or item.size.value >= 100)
        ) and not (item.kind == "ratio" and before.text.lower() not in {"gridline", "gridlines", "grid", "grid line", "grid lines", "gl", "gls"}):
            scene.aside(item, f"a number that goes with '{before.text.lower()}'")
            _follow(scene, i)
            continue
        after = items[i + 1] if i + 1 < len(items) else None
        if after is not None and after.text.lower() in {"more", "extra", "other", "good", "new"}:
            after = items[i + 2] if i + 2 < len(items) else None
        if item.kind == "measure" and bare and after is not None and after.text.lower() in {"plots", "houses", "flats", "garages", "units"} and any(x.text.lower() in {"each", "each one", "per plot", "a plot"} for x in items) and any(x.tagged("noun", "wall") for x in items):
            scene.claim("walls", int(item.size.value), item)
            continue
        if item.kind == "measure" and bare and item.size.spelt and after is not None and after.tagged("ask", "what"):
            scene.aside(item, "a number in a list")
            continue
        if item.kind == "measure" and bare and after is not None and after.tagged("aside", "after") and not _strong(after):
            scene.aside(item, f"a number that goes with '{after.text.lower()}'")
        elif item.kind == "range" and bare and after is not None and after.tagged("aside", "after"):
            scene.aside(item, f"a number that goes with '{after.text.lower()}'")


def _follow(scene: Scene, i: int) -> None:
    """'gridlines 3 and 4': the number after goes the same way."""
    j = i + 2
    if j < len(scene.items) and scene.items[j - 1].text.lower() in {"and", "to", "-", "&", "/"}:
        other = scene.items[j]
        if other.kind == "measure" and not other.used and not other.size.unit and not other.size.decimal and not _dimension(scene, j):
            scene.aside(other, "a number that goes with the one before")


def _strong(item: Item) -> bool:
    return item.tagged("noun", "course")


def _dimension(scene: Scene, i: int) -> bool:
    """A dimension word right behind, that does not rather belong to a size further on."""
    near, further = scene.at(i + 1), scene.at(i + 2)
    return near is not None and near.tagged("dim") and not (further is not None and further.kind == "measure")


def corrections(scene: Scene) -> None:
    """'10m sorry 12m', 'its not 8.4 its 4.8': what was taken back is set aside."""
    items = scene.items
    _alternatives(scene)
    for i, item in enumerate(items):
        if not item.tagged("correct") and not _but_now(scene, i):
            continue
        scene.heard.marks.add("correct")
        new = next((j for j in range(i + 1, min(len(items), i + 7)) if items[j].kind in NUMERIC and not items[j].used), None)
        if new is None or any(items[k].kind == "mark" and items[k].text in {"?"} for k in range(i, new)):
            continue
        if any(items[k].kind in NUMERIC for k in range(i + 1, new)):
            continue
        old = _replaced(scene, i, new)
        if old is not None:
            _replace(scene, old, new)


NOW = {"measured", "measure", "tapes", "taped", "actual", "actually", "shortened", "now", "cut", "extended", "lengthened", "came", "comes", "really", "its", "it's", "changed", "reduced", "increased"}


def _but_now(scene: Scene, i: int) -> bool:
    """'12m on the plan but we measured 12.3': what comes after 'but' counts."""
    items = scene.items
    if items[i].text.lower() != "but" or not any(x.kind in {"measure", "dims"} for x in items[:i]):
        return False
    return any(w in NOW for x in items[i + 1 : i + 6] for w in x.text.lower().split())


def _alternatives(scene: Scene) -> None:
    """'is it 6 or 9', '1 joint or 0': what is asked about is not a size of the wall."""
    items = scene.items
    for i in range(1, len(items) - 1):
        if not items[i].tagged("connect", "or"):
            continue
        two = items[i + 1]
        j = i - 1
        while j >= 0 and not (items[j].kind == "measure") and i - j <= 3 and items[j].kind != "mark":
            j -= 1
        one = items[j] if j >= 0 else None
        if one is None or one.kind != "measure" or two.kind != "measure" or one.used or two.used:
            continue
        counted = any(x.tagged("noun", "joint") or x.text.lower() in {"rows", "coats", "coat", "row"} for x in items[j + 1 : i])
        last = all(x.kind == "mark" for x in items[i + 2 :]) and one.size.whole and two.size.whole and max(one.size.value, two.size.value) <= 5
        if last and i - j == 1:
            counted = True
        if counted and two.size.whole:
            scene.aside(one, "one of the two that were asked about")
            scene.aside(two, "one of the two that were asked about")
        elif j >= 1 and items[j - 1].text.lower() in {"it", "every", "rule", "spacing", "is it"} and "is" in items[max(0, j - 2)].text.lower() and j <= 2:
            scene.aside(one, "one of the two that were asked about")
            scene.aside(two, "one of the two that were asked about")


def _word(scene: Scene, i: int) -> str | None:
    """The dimension word or noun that stands at a measure, if any."""
    for j in (i + 1, i - 1):
        near = scene.at(j)
        if near is not None:
            tag = near.tag("dim")
            if tag and tag[1] in PLAIN_DIMS and near.kind == "phrase":
                return tag[1]
    return None


def _replaced(scene: Scene, i: int, new: int) -> int | None:
    items = scene.items
    word = _word(scene, new)
    counted = items[new].tagged("count") or _counted(scene, new)
    fits: list[int] = []
    for j in range(i - 1, -1, -1):
        old = items[j]
        if old.kind not in NUMERIC or old.used:
            continue
        if old.kind != items[new].kind and {old.kind, items[new].kind} not in ({"measure", "range"}, {"measure", "dims"}):
            continue
        if old.kind == "measure" and counted != _counted(scene, j):
            continue
        one, two = old.size.unit, items[new].size.unit
        if one and two and old.kind == "measure" and not _alike(one, two):
            continue
        fits.append(j)
    if not fits:
        return None
    if word is not None:
        for j in fits:
            if _word(scene, j) == word:
                return j
        return fits[0] if all(_word(scene, j) is None for j in fits) else None
    return fits[0]


def _counted(scene: Scene, i: int) -> bool:
    j = scene.right(i)
    item = scene.items[i]
    noun = scene.at(j) if j is not None else None
    return item.kind == "measure" and item.size.whole and noun is not None and any(
        noun.tagged("noun", k) for k in ("window", "door", "opening", "bag", "bucket", "course", "roll"))


def _alike(one: str, two: str) -> bool:
    from knowledge.units import UnitFault, kind

    try:
        return kind(one) == kind(two)
    except UnitFault:
        return one == two


def _replace(scene: Scene, old: int, new: int) -> None:
    items = scene.items
    was, now = items[old], items[new]
    if now.kind == "measure" and was.kind == "measure" and not now.size.unit and was.size.unit:
        from bot.reading.items import Measure

        lent = Measure(**{k: getattr(now.size, k) for k in Measure.__slots__})
        lent.unit, lent.lent = was.size.unit, True
        if now.size.value <= 10 * was.size.value and was.size.value <= 10 * now.size.value:
            now.sizes = [lent]
    scene.aside(Item(was.kind, was.text, was.start, was.end), "taken back")
    if _word(scene, new) is None and new != old + 1 and now.kind == was.kind:
        # The old place keeps its surroundings; the new value moves in.
        was.kind, was.sizes, was.text, was.start, was.end, was.tags = now.kind, now.sizes, now.text, now.start, now.end, now.tags
        now.used = "moved"
    else:
        was.used = "taken back"


def negations(scene: Scene) -> None:
    """'not 8.4', 'instead of the 10': a size that is denied is set aside where another is given."""
    items = scene.items
    for i, item in enumerate(items):
        if not item.tagged("not") or item.text.lower() in {"zero", "less the", "minus the", "excl", "excluding"}:
            continue
        j = scene.right(i, over=("the", "actually", "really"))
        if j is None or items[j].kind not in NUMERIC or items[j].used:
            continue
        comma = any(x.kind == "mark" and x.text == "," for x in items[i:j])
        if comma and not (item.text.lower() in {"no", "nope", "nah"} and i and items[i - 1].kind in {"mark", "measure"}):
            continue
        if item.text.lower() in {"no", "nope"} and (_counted(scene, j) or items[j].tagged("count")):
            continue
        others = [k for k, x in enumerate(items) if k != j and not x.used
                  and (x.kind == items[j].kind or (x.kind == "dims" and items[j].kind == "measure" and k > j))
                  and (x.kind != "measure" or _counted(scene, k) == _counted(scene, j))]
        if not others:
            if item.text.lower() in {"no", "nope", "nah"}:
                scene.heard.marks.add("correct")
            continue
        if item.text.lower() in {"no", "nope", "naw", "nah"} and j > 0 and others[0] < i and i > 0:
            nearest = max(k for k in others if k < i)
            _replace(scene, nearest, j)
            scene.heard.marks.add("correct")
            continue
        later = [k for k in others if k > j]
        if later and items[later[0]].kind == items[j].kind == "measure" and _word(scene, j) and _word(scene, later[0]) is None and later[0] - j <= 5:
            scene.heard.denied += [s.value for s in items[j].sizes]
            _replace(scene, j, later[0])
            continue
        partner = later[0] if later else others[-1]
        if items[partner].kind == "measure" and not items[partner].size.unit and items[j].size.unit:
            items[partner].size.unit, items[partner].size.lent = items[j].size.unit, True
        scene.heard.denied += [s.value for s in items[j].sizes]
        scene.aside(items[j], "denied")
