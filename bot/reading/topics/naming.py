"""What names a topic: a word of it, or a size, mix or code that only one topic has."""

from __future__ import annotations

from bot.reading.items import Item
from bot.reading.scene import Scene
from knowledge.units import kind

COUNTED = {"blocks", "mesh", "render", "boards", "ties", "mortar"}
CLASSES = {"ii", "iii", "iv"}  # designations of mortar are the same in every language

Places = dict[str, int]


def name_topics(scene: Scene, in_force: bool) -> tuple[Places, Places, Places]:
    """Topics named strongly, weakly, and denied, each with its first item."""
    strong: Places = {}
    weak: Places = {}
    denied: Places = {}
    for i, item in enumerate(scene.items):
        measure = item.kind == "measure"
        if measure and not item.size.unit and (_below_nought(scene, i, item) or _of_a_day(scene, i, item)):
            strong.setdefault("weather", i)
        for tag in item.tags:
            if tag[:2] == ("topic", "joints") and (_part_of_an_inch(scene, i) or _of_the_bed(scene, i)):
                continue
            if tag[0] == "topic" and not item.used:
                part = bool({"wall", "crack"} & set(scene.in_force))  # 'everything', then 'no mesh'
                if scene.negated(i) and (item.tagged("slot") or tag[2] == "weak" or part):
                    denied.setdefault(tag[1], i)
                elif tag[2] == "strong" or _heads(scene, i, item, tag[1], in_force):
                    strong.setdefault(tag[1], i)
                elif tag[1] not in weak or (
                    item.says("block.blocks") and not scene.items[weak[tag[1]]].says("block.blocks")
                ):
                    weak[tag[1]] = i
        if measure or item.kind not in {"word", "mark"} or item.low in CLASSES:
            _by_size(scene, i, item, strong, weak)
    on = next((i for i, x in enumerate(scene.items) if _renders(x)), None)
    if on is not None and "weather" not in {*strong, *weak}:
        weak.setdefault("render", on)
    if not strong and not weak.keys() - {"render", "blocks"}:
        strong = _by_its_finish(scene)
    if not (strong or weak or denied or in_force):
        weak = _how_many(scene)
    return strong, weak, denied


def _renders(item: Item) -> bool:
    """'render on' before what is rendered."""
    return item.tagged("slot", "work", "render") and item.low.startswith("render on")


def _part_of_an_inch(scene: Scene, i: int) -> bool:
    """'3/8 joint': one of mortar."""
    before = scene.at(i - 1)
    return (
        before is not None and before.kind == "measure" and before.size.decimal and 0 < before.size.value < 1
    )


def _of_the_bed(scene: Scene, i: int) -> bool:
    """'joints 10', '10mm joints' in talk of mortar or blocks: mortar joints of 10 mm."""
    told_here = scene.items[i].says("joints.joint_or_jt") and scene.tagged("topic", "mortar", "strong")
    if not (told_here or {"mortar", "blocks"} & set(scene.in_force)) or "joints" in scene.in_force:
        return False
    before, behind, further = scene.at(i - 1), scene.at(i + 1), scene.at(i + 2)
    told = further is not None and further.tagged("dim")
    near = [before] if before is not None and before.kind == "measure" and before.size.unit else []
    near += [behind] if behind is not None and behind.kind == "measure" and not told else []
    thickest = scene.sense.bed_thickest
    return any(x.size.unit in {"", "mm"} and 1 < x.size.value <= thickest for x in near)


def _by_its_finish(scene: Scene) -> Places:
    """'its rendered both sides, whats the spec': the coats of the finish that is named."""
    words = all(x.says("coats.plaster_alone") or x.kind == "mark" for x in scene.items)
    if scene.in_force and words and scene.tagged("topic", "render"):
        return {"render": 0}  # 'plaster?' after another question
    on = next((i for i, x in enumerate(scene.items) if x.tagged("slot", "work", "render")), None)
    if (
        on is not None
        and "mortar" in scene.in_force
        and any(x.says("coats.on_top") for x in scene.items[on:])
    ):
        return {"render": on}  # 'and for the render on top'
    if on is not None and scene.tagged("dim", "thickness") and scene.tagged("ask", "how"):
        return {"render": on}  # 'how thick is render on aircrete'
    if on is not None and _onto_blocks(scene, on + 1):
        return {"render": on}  # 'render on 7.3n'
    bag = next((i for i, x in enumerate(scene.items) if x.tagged("noun", "bag")), None)
    glue = scene.tagged("noun", "adhesive") and {"blocks", "mortar"} & set(scene.in_force)
    if bag is not None and (glue or scene.tagged("slot", "work", "lay")):
        return {"mortar": bag}  # 'how many bags to lay 35 m²'; 'adhesive bags' of a wall
    if not (scene.tagged("slot", "finish", "render") or scene.tagged("slot", "finish", "plaster")):
        return {}
    asked = [i for i, x in enumerate(scene.items) if x.tagged("wants", "render", "coats")]
    asked = asked if scene.tagged("slot", "finish", "render") else []
    asked += [i for i, x in enumerate(scene.items) if x.tagged("noun", "bag") and _counted(scene, i)]
    return {"render": asked[0]} if asked else {}


def _onto_blocks(scene: Scene, i: int) -> bool:
    """'on dense', 'on 7.3n': what is rendered, behind 'render on'."""
    ahead, onto = scene.at(i - 1), scene.at(i)
    if ahead is None or not ahead.low.startswith("render") or onto is None:
        return False
    strength = onto.kind == "measure" and onto.size.unit == "N/mm²"
    return strength or onto.tagged("slot", "material")


def _counted(scene: Scene, i: int) -> bool:
    before = scene.at(i - 1)
    return before is not None and before.tagged("ask", "quantity")


def _how_many(scene: Scene) -> Places:
    """'10 x 2.4 block wall, how many?': the blocks, where nothing else is named that could be counted."""
    for i, item in enumerate(scene.items):
        if not item.tagged("wants", "blocks", "block_count"):
            continue
        if _called_by_thickness(scene, i + 1):
            return {"blocks": i}
        near = scene.at(scene.right(i))
        if near is not None and (near.tagged("noun") or near.tagged("dim")):
            continue
        block = next((n for n, x in enumerate(scene.items) if x.tagged("noun", "block")), None)
        return {} if block is None else {"blocks": block}
    return {}


def _called_by_thickness(scene: Scene, i: int) -> bool:
    """'how many 140s': blocks."""
    size, called = scene.at(i), scene.at(i + 1)
    if size is None or called is None or size.kind != "measure" or called.start != size.end:
        return False
    return called.says("block.called") and size.size.value in scene.region.known.get("thickness", ())


def _below_nought(scene: Scene, i: int, item: Item) -> bool:
    """'-3' with no dimension behind it."""
    if not item.size.negative:
        return False
    after = scene.at(i + 1)
    return not (after is not None and after.tagged("dim")) and item.size.values[0] <= scene.sense.coldest


def _of_a_day(scene: Scene, i: int, item: Item) -> bool:
    """'its 3 today', 'gonna be 38 tomorrow': a bare number of a day is degrees."""
    before = scene.at(i - 1)
    if i and (before is None or not before.says("weather.degrees_before")):
        return False
    behind = (scene.at(i + 1), scene.at(scene.right(i)))
    day = any(x is not None and x.says("weather.days") for x in behind)
    return day and item.size.whole and abs(item.size.value) <= scene.sense.hottest


def _heads(scene: Scene, i: int, item: Item, topic: str, in_force: bool) -> bool:
    """'how many blocks', or 'blocks?', 'just the blocks' in a conversation: a plain word that asks."""
    if not item.says("topics.plain"):
        return False
    before = scene.at(scene.left(i))
    if before is not None and before.kind == "measure":  # 'how many 4 inch blocks'
        before = scene.at(scene.left(scene.items.index(before)))
    counted = before is not None and before.tagged("ask", "quantity") and topic in COUNTED
    just = scene.at(i - 2 if i > 1 and scene.items[i - 1].says("topics.between") else i - 1)
    narrowed = in_force and just is not None and just.tagged("connect", "just")
    leads = in_force and all(x.says("topics.lead") for x in scene.items[:i])
    return counted or narrowed or leads


def _by_size(scene: Scene, i: int, item: Item, strong: Places, weak: Places) -> None:
    """Temperatures, strengths, loads, mixes, classes, three sizes of a block, centres."""
    if item.kind == "measure":
        if item.size.unit in {"°C", "°F"} and not item.used:
            strong.setdefault("weather", i)
        elif item.size.unit in {"kN", "kip"} or (
            kind(item.size.unit or "mm") == kind("kg") and scene.says("bearing.loaded")
        ):
            strong.setdefault("bearing", i)
        elif item.size.unit == "N/mm²":
            weak.setdefault("blocks", i)
    elif _of_mortar(item):
        weak.setdefault("mortar", i)
    elif scene.in_force == ("bearing",) and item.kind == "dims" and not scene.tagged("noun", "block"):
        return  # '215 x 215 x 215' in talk of a padstone
    elif item.kind == "dims" and len(item.sizes) == 3 and _like_a_block(item):
        (strong if _counted(scene, i) else weak).setdefault("blocks", i)  # 'how many 600x200x200'
    elif item.tagged("dim", "spacing") and i and scene.items[i - 1].kind == "measure":
        size = scene.items[i - 1].size
        walled = scene.tagged("noun", "wall") or scene.tagged("noun", "joint") or scene.in_force
        if size.unit == "m" and size.value >= scene.sense.joint_centres_least and walled:
            weak.setdefault("joints", i)


def _of_mortar(item: Item) -> bool:
    if item.kind == "ratio":
        return not item.used
    coded = item.kind == "code" and item.tagged("code", "class")
    return coded or (item.kind == "word" and item.low in CLASSES)


def _like_a_block(item: Item) -> bool:
    return all(not s.decimal and s.unit in {"", "mm", "in"} for s in item.sizes)
