"""Which topics are asked, in the order asked."""

from __future__ import annotations

from bot.reading.scene import Scene
from bot.reading.topics.in_a_day import raised_in_a_day
from bot.reading.topics.named import ORDER, Named
from bot.reading.topics.naming import name_topics
from bot.reading.topics.rivals import settle_rivals

ALONE = {"weather", "safety", "bearing", "wall", "thermal"}  # never joined to another by 'and'
PANELS = ("max_spacing", "end_panel_max", "joint_positions")
SIZED = {"dims", "measure"}
ROW = 3  # topics that are named one right behind the other
FURTHEST = 5  # items between two topics that are joined


def find_topics(scene: Scene, in_force: bool = False) -> list[str]:
    """Topics of the message; strong words first, weak ones where nothing strong is said or joined to it."""
    strong, weak, denied = name_topics(scene, in_force)
    day = raised_in_a_day(scene, strong)
    if day is not None:
        scene.items[day].tags += (("wants", "safety", "day_lift"),)
        scene.renew()
        strong, weak = {"safety": day}, {}
    named = Named(scene, strong, weak)
    settle_rivals(named)
    _join(named)
    scene.named_strongly = bool(strong)
    if strong:
        return sorted(strong, key=lambda topic: strong[topic])
    if weak:
        return _listed(named) or [_weakest(named, weak)]
    if denied and not in_force:
        return [_weakest(named, denied)]
    return []


def is_weak(scene: Scene) -> bool:
    """Whether the topics are only hinted at: neither a strong word names them nor a bare plural."""
    items = scene.items
    if _told_of_blocks(scene):
        return True
    if scene.named_strongly:
        return False
    short = len([x for x in items if any(letter.isalnum() for letter in x.text)]) <= 3
    asked = any(
        x.says("topics.plain") and items[n + 1].text == "?"
        for n, x in enumerate(items[:2])
        if n + 1 < len(items)
    )
    return not (asked or (short and scene.says("topics.plain")))


def _told_of_blocks(scene: Scene) -> bool:
    """'blocks are aircrete', 'blocks 140 dense': what they are, and no question of how many."""
    told = set(scene.heard.slots)
    if scene.topics != ["blocks"] or not told or not told <= {"block", "thickness"}:
        return False
    asks = [i for i, x in enumerate(scene.items) if x.tagged("ask")]
    return all(i > 0 and scene.items[i].tagged("ask", "can") for i in asks)


def _join(named: Named) -> None:
    """Weak words that are joined to a strong one are asked as well."""
    if "wall" not in named.strong:  # 'blocks joints mortar the lot'
        named.strong |= {topic: i for topic, i in _in_a_row(named).items() if topic not in named.strong}
    for topic, i in list(named.weak.items()):
        item = named.items[i]
        if item.kind in {"ratio", "measure", "dims", "code"}:
            continue
        if topic == "mortar" and "render" in named.strong and not item.tagged("noun", "mortar"):
            continue  # 'sand n cement for rendering': what the render is of
        if topic == "blocks" and (not item.says("block.blocks") or _counted(named, i)):
            continue
        if not set(named.strong) - {"weather", "safety"}:
            if (
                set(named.strong) == {"weather"}
                and named.degrees
                and named.sized()
                and topic in {"joints", "blocks"}
            ):
                named.strong[topic] = i
                continue
            break
        if topic not in named.strong and topic not in ALONE and _joined(named, i):
            named.strong[topic] = i


def _in_a_row(named: Named) -> dict[str, int]:
    """'joints blocks mortar': three of them or more, with nothing between."""
    run: dict[str, int] = {}
    for i, item in enumerate(named.items):
        tag = item.tag("topic") if item.says("topics.plain") else None
        if tag is None or tag[1] in run or tag[1] not in {*named.strong, *named.weak}:
            if _row(named, run):
                return run
            run = {}
        if tag is not None:
            run[tag[1]] = i
    return run if _row(named, run) else {}


def _row(named: Named, run: dict[str, int]) -> bool:
    """Three of them, or 'joints blocks', which are no joints of mortar."""
    two = set(run) == {"joints", "blocks"} and not named.strong and not _of_mortar(named, run["joints"])
    return len(run) >= ROW or two


def _counted(named: Named, i: int) -> bool:
    """'250 blocks mortar': so many are told, and none asked for."""
    before = named.scene.at(i - 1)
    if before is None or before.kind != "measure" or not before.size.whole or before.size.unit:
        return False
    return before.size.value not in named.scene.region.known.get("thickness", ())


def _joined(named: Named, i: int) -> bool:
    """'joints and blocks', 'blocks, mortar and mesh', 'how many blocks and how much sand'."""
    items = named.items
    places = set(named.strong.values())
    behind = named.scene.at(i + 1)
    told = behind is not None and (behind.kind in SIZED or behind.tagged("ask", "can"))  # 'and blocks 100 mm'
    for way in (1, -1):
        joined = False
        for j in range(i + way, i + way * (FURTHEST + 1), way):
            item = named.scene.at(j)
            if item is None:
                break
            if item.says("list.and"):
                joined = True
            elif item.kind in SIZED and not told:  # 'blocks and mortar 9 x 2.4 and joints'
                continue
            elif j in places:
                beside = j == i + way and item.says("topics.plain") and items[i].says("topics.plain")
                return joined or beside
            elif not (
                item.tagged("ask")
                or item.says("topics.between")
                or (item.tagged("noun", "bag") and not item.tagged("topic"))
                or (item.tagged("topic") and joined)
            ):
                break
    return False


def _listed(named: Named) -> list[str]:
    """'blocks, mortar and mesh': weak words in a row that are all asked."""
    runs: list[dict[str, int]] = []
    last = -FURTHEST
    for i, item in enumerate(named.items):
        tag = item.tag("topic")
        if tag is None or tag[1] not in named.weak or not item.says("topics.plain"):
            continue
        joined = i - last <= 3 and any(x.says("list.and") for x in named.items[last + 1 : i])
        if not joined:
            runs.append({})
        runs[-1].setdefault(tag[1], i)
        last = i
    plain = {t for t, i in named.weak.items() if named.items[i].says("topics.plain")}
    return next((list(run) for run in runs if len(run) > 1 and plain <= set(run)), [])


def _of_mortar(named: Named, i: int) -> bool:
    """'5 mm joints', 'joint 10 mm' beside blocks: the joints between them."""
    beside = [x for x in (named.scene.at(i - 1), named.scene.at(i + 1)) if x is not None]
    return any(
        x.kind == "measure" and x.size.unit == "mm" and 0 < x.size.value <= named.scene.sense.bed_widest
        for x in beside
    )


def _weakest(named: Named, weak: dict[str, int]) -> str:
    """The topic that weak words point to most."""
    if "weather" in weak:
        masonry = {"mortar", "joints", "render", "blocks"} & set(weak)
        walled = "blocks" in weak and any(x.kind == "dims" for x in named.items)
        if walled or (masonry and not named.degrees):
            weak.pop("weather")
    if {"render", "mortar"} <= set(weak) and named.speaks("mortar.lay"):
        weak.pop("render")
    if {"joints", "mortar"} <= set(weak):
        if any(named.tagged("wants", "joints", wish) for wish in PANELS):
            return "joints"
        if named.ratio is not None:
            weak.pop("joints")
        elif named.items[weak["joints"]].says("joints.joint_or_jt"):
            weak.pop("mortar")
    if {"joints", "blocks"} <= set(weak) and _of_mortar(named, weak["joints"]):
        weak.pop("joints")
    if {"mesh", "render"} <= set(weak):
        weak.pop("mesh")
    if {"boards", "blocks"} <= set(weak) and not named.speaks("boards.board"):
        weak.pop("boards")
    return next(topic for topic in ORDER if topic in weak)
