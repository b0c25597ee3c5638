"""Mixes. The order is a convention and is said back; in doubt it is asked."""

from __future__ import annotations

from bot.reading.items import Item
from bot.reading.scene import Scene
from bot.reading.slots.classes import take_classes
from bot.reading.slots.cracks import of_the_crack
from bot.reading.slots.named_mixes import PARTS, take_named


def take_mixes(scene: Scene) -> None:
    """Fill `mix` from ratios and from named parts."""
    take_named(scene)
    take_ratios(scene)
    bare_three(scene)
    bare_two(scene)
    take_classes(scene)


OF_MIXES = (
    ("topic", "mortar"),
    ("topic", "render"),
    *(("noun", thing) for thing in (*PARTS, "mortar", "coat")),
    ("slot", "place"),
    ("wants", "mortar", "verdict"),
)


def _talk_of_mixes(scene: Scene) -> bool:
    """Whether the message is about mortar or render at all."""
    return any(scene.tagged(*head) for head in OF_MIXES)


def convention(values: list[float]) -> dict[str, float] | None:
    """Parts in the order that trade habit gives them; None where it gives none."""
    if len(values) == 2:
        one, two = values
        if one == 1 and two > 1:
            return {"cement": 1, "lime": 0, "sand": two}
        if two == 1 and one > 1:
            return {"cement": 1, "lime": 0, "sand": one}
        return None
    one, two, three = values
    if one == 1 and three > max(1, two) and two <= 4:
        return {"cement": 1, "lime": two, "sand": three}
    if three == 1 and one > max(1, two) and two <= 4:
        return {"cement": 1, "lime": two, "sand": one}
    return None


def bare_three(scene: Scene) -> None:
    """'1 1 6 on the inside': three bare numbers in a row, in talk of mixes."""
    items = scene.items
    few = sum(x.kind == "measure" for x in items) < 3
    if few or "mix" in scene.heard.slots or not _talk_of_mixes(scene):
        return
    found: list[tuple[dict[str, float], list[Item]]] = []
    i = 0
    while i < len(items) - 2:
        three = items[i : i + 3]
        plain_ = all(
            x.kind == "measure" and not x.used and not x.size.unit and len(x.size.values) == 1 for x in three
        )
        parts = convention([x.size.value for x in three]) if plain_ else None
        if parts and max(parts.values()) <= scene.sense.mix_parts_most:
            found.append((parts, three))
            i += 2
        i += 1
    if len(found) > 1:  # '1 1 5 or 1 1 6'
        said = [" ".join(x.text for x in three) for _, three in found]
        choices = [(f"The mix {text}", {"mix": parts}) for text, (parts, _) in zip(said, found, strict=True)]
        scene.doubt("mix", "Which mix shall I check?", choices, *[x for _, three in found for x in three])
    elif found:
        scene.claim("mix", found[0][0], *found[0][1])
        scene.assume("mix", "cement : lime : sand", "Three numbers in a row were taken as a mix.")


def _doubt_order(scene: Scene, item: Item, values: list[float]) -> None:
    if min(values) <= 0:
        scene.doubt("mix", f"{item.text} cannot be a mix. How many parts of cement, lime and sand?", [], item)
        return
    if len(values) == 2:
        a, b = values
        low, high = sorted((a, b))
        choices = [
            (
                f"1 cement : {high / low:g} sand",
                {"mix": {"cement": 1, "lime": 0, "sand": round(high / low, 3)}},
            )
        ]
        if low != high:
            choices.append(
                (
                    f"{high:g} cement : {low:g} sand",
                    {"mix": {"cement": 1, "lime": 0, "sand": round(low / high, 3)}},
                )
            )
    else:
        a, b, c = values
        choices = [
            (
                f"{x[0]:g} cement, {x[1]:g} lime, {x[2]:g} sand",
                {"mix": {"cement": 1, "lime": round(x[1] / x[0], 3), "sand": round(x[2] / x[0], 3)}},
            )
            for x in ((a, b, c), (c, b, a))
            if x[0]
        ]
    scene.doubt("mix", f"Which part of {item.text} is cement, lime and sand?", choices, item)


def bare_two(scene: Scene) -> None:
    """'ratio 1 4': the two numbers behind the word are a mix."""
    items = scene.items
    if "mix" in scene.heard.slots:
        return
    for word, one, two in zip(items, items[1:], items[2:], strict=False):
        plain_ = all(x.kind == "measure" and x.size.whole and not x.used for x in (one, two))
        if not word.low.endswith(scene.words.cue["mix.ratio_ends"]) or not plain_:
            continue
        parts = convention([one.size.value, two.size.value])
        if parts and 1 in parts.values() and max(parts.values()) <= scene.sense.mix_parts_most:
            mix = {part: parts.get(part, 0) for part in PARTS}
            scene.claim("mix", mix, one, two)
            scene.assume("mix", "cement : sand", f"'{one.text} {two.text}' was taken as a mix.")
            return


def _of_lime_alone(scene: Scene) -> bool:
    """'lime mortar 3:1', 'hydraulic lime 1:3': no cement is spoken of."""
    text = f" {' '.join(x.low for x in scene.items)} "
    told = any(f" {words} " in text for words in scene.words.cue["mix.lime_mortar"])
    return told and not any("cement" in x.low for x in scene.items)


def _doubt_lime(scene: Scene, item: Item, values: list[float]) -> None:
    high = round(max(values) / min(values), 6)
    choices = [
        (f"1 lime : {high:g} sand, no cement", {"mix": {"cement": 0, "lime": 1, "sand": high}}),
        (f"1 cement : {high:g} sand", {"mix": {"cement": 1, "lime": 0, "sand": high}}),
    ]
    scene.doubt("mix", f"Is {item.text} lime to sand, without cement?", choices, item)


def take_ratios(scene: Scene) -> None:
    """6:1, 1:1:6, six to one."""
    items = scene.items
    found: list[tuple[int, dict[str, float]]] = []
    for i, item in enumerate(items):
        if item.kind != "ratio" or item.used:
            continue
        if scene.topics == ["crack"] and ":" not in item.text and of_the_crack(scene, i, item):
            item.used = "crack"
            continue
        if item.weak and not (_talk_of_mixes(scene) or not scene.topics or scene.topics == ["mortar"]):
            scene.aside(item, "not a size")
            continue
        if scene.negated(i) and any(x.kind == "ratio" and x is not item for x in items):
            scene.aside(item, "denied")
            continue
        values = [s.values[0] for s in item.sizes]
        around = [x for x in (scene.at(i - 1), scene.at(i + 1)) if x is not None]
        if (
            any(x.text in {":", "to"} and x is scene.at(i - 1) for x in around)
            and i >= 2
            and (
                (items[i - 2].kind in {"measure", "word"} and items[i - 2].says("mix.part_before"))
                or items[i - 2].kind == "measure"
            )
        ):
            _doubt_order(scene, item, values)
            continue
        if len(values) == 2 and min(values) > 0 and _of_lime_alone(scene):
            _doubt_lime(scene, item, values)
            continue
        order = _named_order(scene, i, len(values))
        parts = dict(zip(order, values, strict=True)) if order else convention(values)
        if parts is None:
            _doubt_order(scene, item, values)
            continue
        mix = {p: parts.get(p, 0) for p in PARTS}
        if mix["cement"] and mix["cement"] != 1:
            mix = {p: round(v / mix["cement"], 6) for p, v in mix.items()}
        lime = _added_lime(scene, i)
        if lime is not None and mix["lime"] == 0:
            mix["lime"] = lime
        found.append((i, mix))
        item.used = "mix"
        if not order:
            names = (
                "cement to sand"
                if len(values) == 2 and values[0] == 1
                else "sand to cement"
                if len(values) == 2
                else ("cement : lime : sand" if values[0] == 1 else "sand : lime : cement")
            )
            scene.assume("mix", names, f"'{item.text}' was taken as {names}, as is usual.")
    if found and "mix" in scene.heard.slots and scene.heard.slots["mix"] not in [m for _, m in found]:
        spans = scene.heard.evidence.pop("mix")
        other = next(x for x in items if (x.start, x.end) == spans[0])
        found.insert(0, (items.index(other), scene.heard.slots.pop("mix")))
    distinct: list[dict[str, float]] = []
    for _, mix in found:
        if mix not in distinct:
            distinct.append(mix)
    if len(distinct) == 1:
        scene.claim("mix", distinct[0], *[items[i] for i, _ in found])
    elif len(distinct) > 1:
        scene.heard.bare.append([(items[i], mix) for i, mix in found])


def _added_lime(scene: Scene, i: int) -> float | None:
    """'five to one with half a lime', '6:1 plus a bit of lime'."""
    items = scene.items
    for j in range(i + 1, min(len(items), i + 7)):
        if items[j].tagged("noun", "lime"):
            k = scene.left(j, over="over.part_or_bag")
            if k is not None and k > i and items[k].kind == "measure" and not items[k].size.unit:
                items[k].used = "mix"
                return items[k].size.value
            return None
        if items[j].kind in {"ratio", "dims"}:
            return None
    return None


def _named_order(scene: Scene, i: int, n: int) -> list[str] | None:
    """'cement lime sand 1:1:6', '6 to 1 sand cement': names beside a mix give its order."""
    items = scene.items
    for names in (_names(scene, i, 1), _names(scene, i, -1)):
        if len(names) == n and len(set(names)) == n:
            return names
    j = scene.right(i)
    if n == 2 and j is not None and items[j].says("mix.sand_first"):
        return ["sand", "cement"]
    return None


def _names(scene: Scene, i: int, way: int) -> list[str]:
    items, names, j = scene.items, [], i + way
    while 0 <= j < len(items):
        item = items[j]
        name = next((p for p in PARTS if item.tagged("noun", p) and len(item.text.split()) <= 2), None)
        if name:
            names.append(name)
        elif not (item.text in {":", "/", ",", "-"} or item.says("mix.between_names")):
            break
        j += way
    return names if way == 1 else names[::-1]
