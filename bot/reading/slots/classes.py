"""Classes and designations of mortar."""

from __future__ import annotations

from bot.reading.items import Item
from bot.reading.scene import Scene


def know_classes(scene: Scene) -> None:
    """A code that the region knows as a class of mortar is one: MM5, H1."""
    known = scene.region.known.get("mortar_class", ())
    items = scene.items
    if not known:
        return
    spoken = any(x.tagged("topic", "mortar") or x.says("touching.class_before") for x in items)
    for i, item in enumerate(items):
        if item.kind == "code" and item.text.upper() in known:
            item.tags = (*item.tags, ("code", "class"))
        after = scene.at(i + 1)
        if (
            not spoken
            or after is None
            or item.kind == "measure"
            or after.kind != "measure"
            or item.end != after.start
        ):
            continue
        both = f"{item.text}{after.text}"
        if both.upper() in known:
            why = "a mortar class"
            items[i] = Item(
                "code", both, item.start, after.end, tags=(("code", "class"),), why=why, low=both.lower()
            )
            del items[i + 1]


def alone_as_unit(scene: Scene) -> None:
    """'m2', 'm2?' in talk of mortar: the class, as it stands at no number."""
    words_ = [x for x in scene.items if any(letter.isalnum() for letter in x.text)]
    code = next((x for x in words_ if x.kind == "word" and x.low.upper() in CLASS_OR_AREA), None)
    if "mortar" not in scene.in_force or code is None or len(words_) > MOST_WORDS:
        return
    at = scene.items.index(code)
    before = scene.at(at - 1) if at else None
    led = before is None or any(before.tagged("connect", way) for way in ("and", "or", "if"))
    if not led and not (before is not None and before.says("touching.class_before")):
        return  # 'glue per m2'
    if not any(x.kind in {"measure", "dims"} for x in words_):
        code.kind, code.tags, code.why = "code", (("code", "class"),), "a mortar class"
        scene.renew()


CLASS_OR_AREA = {"M2"}
MOST_WORDS = 4
SHORT = {"i", "ii", "iii", "iv", "v", "n", "s", "o", "m"}


def _may_be_one(item: Item) -> bool:
    """A code, or a letter or numeral that classes are called by."""
    return item.kind == "code" or item.low in SHORT


def _or_another(scene: Scene, i: int) -> bool:
    """'type s or n': the letter behind 'or' is a class as well."""
    between, one = scene.at(i - 1), scene.at(i - 2)
    if between is None or one is None or not between.says("mix.or") or scene.items[i].low not in SHORT:
        return False
    return one.tagged("class") or (one.low in SHORT and one.kind == "word")


def take_classes(scene: Scene) -> None:
    """M4, class iii, type S: as written."""
    items = scene.items
    if not (scene.tagged("class") or scene.says("mix.class") or any(map(_may_be_one, items))):
        return
    codes = [
        i
        for i, x in enumerate(items)
        if (x.kind == "code" and x.tagged("code", "class"))
        or x.tagged("class")
        or (
            x.kind == "word"
            and (
                x.low in {"ii", "iii", "iv"}
                or (x.low in {"i", "n", "s", "o", "m"} and i and items[i - 1].low in {"(", "type"})
                or _or_another(scene, i)
            )
        )
    ]
    if len(codes) == 2 and any(x.says("mix.or") for x in items[codes[0] : codes[1]]):
        scene.heard.marks.add("which class")
        for i in codes:
            scene.aside(items[i], "one of the two that were asked about")
            items[i].kind = "mark"
    for i, item in enumerate(items):
        if item.kind == "code" and item.tagged("code", "class") and not item.used:
            scene.claim("mortar_class", item.text.upper().replace(" ", ""), item)
            continue
        named = item.tag("class")
        if named is not None and item.kind == "phrase":
            scene.claim("mortar_class", named[1], item)
            continue
        text = item.low
        if text in {"i", "ii", "iii", "iv", "v"} and item.kind == "word":
            before = scene.at(i - 1)
            if len(text) > 1 or (before is not None and (before.says("mix.class_or_bracket"))):
                scene.claim("mortar_class", text, item)
        elif text in {"n", "s", "o", "m"} and item.kind in {"word", "phrase"}:
            before = scene.at(i - 1)
            if (before is not None and before.low == "type") or _letter_alone(scene, i):
                scene.claim("mortar_class", text.upper(), item)
        elif item.kind == "measure" and not item.used and not item.size.unit and not item.size.decimal:
            before = scene.at(i - 1)
            if before is not None and before.says("mix.class") and 1 <= item.size.value <= 5:
                roman = ["i", "ii", "iii", "iv", "v"][int(item.size.value) - 1]
                scene.doubt(
                    "mortar_class",
                    f"Do you mean class M{item.size.value:g} or designation ({roman})?",
                    [
                        (f"M{item.size.value:g}", {"mortar_class": f"M{item.size.value:g}"}),
                        (f"({roman})", {"mortar_class": roman}),
                    ],
                    item,
                )


def _letter_alone(scene: Scene, i: int) -> bool:
    """'and if its S' in talk of mortar: the last word, written as classes are."""
    last = not any(x.kind != "mark" for x in scene.items[i + 1 :])
    sized = any(x.sizes for x in scene.items)
    return last and not sized and "mortar" in scene.in_force and scene.items[i].text.isupper()
