"""Which topics are asked, in the order asked, and which results of each."""

from __future__ import annotations

from bot.reading.items import Item
from bot.reading.scene import Scene

# Where only weak words are there, the first of these that is hinted at is the topic.
ORDER = ("render", "mesh", "boards", "ties", "reinforcement", "crack", "mortar", "weather", "joints", "bearing", "safety", "blocks", "thermal", "wall")
AMOUNTS = {"cement_bags", "lime_bags", "sand_mass", "mortar_volume", "render_volume", "batch"}


def find_topics(scene: Scene, in_force: bool = False) -> list[str]:
    """Topics of the message; strong words first, weak ones where nothing strong is said or where they are joined to it."""
    strong: dict[str, int] = {}
    weak: dict[str, int] = {}
    denied: dict[str, int] = {}
    for i, item in enumerate(scene.items):
        before = scene.at(scene.left(i)) if scene.left(i) is not None else None
        counted = before is not None and before.tagged("ask", "quantity")
        if item.kind == "measure" and item.size.negative and not item.size.unit and not (scene.at(i + 1) is not None and scene.items[i + 1].tagged("dim")) and item.size.values[0] <= 30:
            strong.setdefault("weather", i)
        for tag in item.tags:
            if tag[0] == "topic" and not item.used:
                if scene.negated(i) and (item.tagged("slot") or tag[2] == "weak"):
                    denied.setdefault(tag[1], i)
                    continue
                head = counted and tag[1] in {"blocks", "mesh", "render", "boards", "ties", "mortar"} and item.text.lower() in LISTED or i == 0 and item.text.lower() in LISTED and in_force
                (strong if tag[2] == "strong" or head else weak).setdefault(tag[1], i)
        if item.kind == "measure" and item.size.unit in {"°C", "°F"} and not item.used:
            strong.setdefault("weather", i)
        if item.kind == "ratio" and not item.used:
            weak.setdefault("mortar", i)
        if (item.kind == "code" and item.tagged("code", "class")) or (item.kind == "word" and item.text.lower() in {"ii", "iii", "iv"}):
            weak.setdefault("mortar", i)
        if item.kind == "measure" and item.size.unit == "N/mm²" or item.kind == "dims" and len(item.sizes) == 3 and all(not s.decimal and s.unit in {"", "mm", "in"} for s in item.sizes):
            weak.setdefault("blocks", i)
        if item.kind == "measure" and item.size.unit in {"kN", "kip"}:
            strong.setdefault("bearing", i)
        if item.tagged("dim", "spacing") and i and scene.items[i - 1].kind == "measure" and scene.items[i - 1].size.unit == "m" and scene.items[i - 1].size.value >= 2:
            weak.setdefault("joints", i)
    _absorb(scene, strong, weak)
    for topic, i in list(weak.items()):
        if scene.items[i].kind in {"ratio", "measure", "dims", "code"} or topic == "blocks" and scene.items[i].text.lower() not in {"blocks", "bricks", "blks", "blk", "blockwork"}:
            continue
        if not set(strong) - {"weather", "safety"}:
            break
        if topic not in strong and strong and topic not in {"weather", "safety", "bearing", "wall", "thermal"} and _joined(scene, i, strong):
            strong[topic] = i
    scene.named_strongly = bool(strong)
    if strong:
        return [t for t, _ in sorted(strong.items(), key=lambda entry: entry[1])]
    if weak:
        listed = [t for t, i in sorted(weak.items(), key=lambda e: e[1]) if scene.items[i].text.lower() in LISTED]
        if len(listed) > 1 and all(any(x.text.lower() in {"and", "&", "+", "plus", ","} for x in scene.items[weak[a] + 1 : weak[b]]) and weak[b] - weak[a] <= 3 for a, b in zip(listed, listed[1:], strict=False)):
            return listed
        return [_weakest(scene, weak)]
    if denied and not in_force:
        return [_weakest(scene, denied)]
    return []


def _words(scene: Scene) -> set[str]:
    return {w for item in scene.items for w in item.text.lower().split()}


def _absorb(scene: Scene, strong: dict[str, int], weak: dict[str, int]) -> None:
    """Topics that only lend a word to another one."""
    words = _words(scene)
    items = scene.items

    def drop(topic: str) -> None:
        strong.pop(topic, None)

    if "crack" in strong and any(x.kind == "ratio" and not x.used for x in items) and not any(x.kind == "measure" and x.size.unit == "mm" for x in items):
        drop("crack")
        strong.setdefault("mortar", next(i for i, x in enumerate(items) if x.kind == "ratio"))
    if {"mesh", "reinforcement"} <= set(strong) and abs(strong["mesh"] - strong["reinforcement"]) == 1:
        drop("reinforcement")
    if "wall" in strong and items[strong["wall"]].text.lower() in {"take off", "takeoff", "take-off"} and any(
        x.tagged("noun", "door") or x.tagged("noun", "window") or x.tagged("noun", "opening") for x in items[strong["wall"] + 1 : strong["wall"] + 4]) and (set(strong) | set(weak)) - {"wall"}:
        drop("wall")
        if not strong:
            best = next(t for t in ORDER if t in weak)
            strong[best] = weak[best]
    if any(x.tagged("slot", "finish", "render") for x in items) and any(x.kind == "ratio" and not x.used for x in items) and not set(strong) - {"mortar"} and not words & {"lay", "laying", "mortar", "muck"}:
        drop("mortar")
        weak.pop("mortar", None)
        strong["render"] = 0
    if {"mortar", "render"} <= set(strong) and not words & {"mortar", "muck", "lay", "laying", "laid"} and not any(x.tagged("topic", "mortar", "strong") and not x.tagged("topic", "mortar", "weak") for x in items):
        drop("mortar")
    if {"mortar", "safety"} <= set(strong) and any(x.tagged("wants", "safety", w) and x.tagged("topic", "safety", "strong") for x in items for w in ("ppe", "lifting", "dust", "lime", "height")) and not any(x.kind == "ratio" or x.tagged("ask", "quantity") for x in items):
        drop("mortar")
    soft = [t for t, i in strong.items() if items[i].tagged("slot") and not (items[i].tagged("slot", "work")) and not _asked(scene, i) and not (t == "reinforcement" and not {"joints", "mortar", "blocks", "wall"} & set(strong) and "joints" not in weak)]
    for topic in soft:
        if set(strong) - set(soft):
            drop(topic)
        elif topic in {"reinforcement", "boards"} and "joints" in weak:
            drop(topic)
            strong["joints"] = weak["joints"]
    if ("ties" in strong or "ties" in weak) and "joints" in weak and any(x.tagged("wants", "joints", "tie_count") or x.text.lower() in {"cavity ties", "wall ties"} for x in items) and any(
        x.text.lower() in {"joint", "joints"} for x in items):
        drop("ties")
        weak.pop("ties", None)
        strong["joints"] = weak["joints"]
    for i, x in enumerate(items):
        if x.kind == "ratio" and not x.used and "joints" in strong and any(y.tagged("wants", "mortar", "verdict") for y in items[i + 1 : i + 4]):
            strong.setdefault("mortar", i)
    others = set(strong) - {"joints"}
    if "joints" in strong and items[strong["joints"]].text.lower() in {"movement", "gap opening"} and others:
        drop("joints")
    if "wall" in strong and any(x.text.lower().startswith(("everything", "take off", "takeoff", "full", "the lot", "complete", "whole", "all ", "materials", "material", "mats", "shopping", "boq", "bill", "what do", "list", "what materials", "quantities")) for x in items if x.tagged("topic", "wall")):
        generic = all(x.text.lower() in {"materials", "materials for", "quantities for", "what materials", "what do i need", "what do i need for", "what do we need for", "materials needed"} for x in items if x.tagged("topic", "wall"))
        named = [t for t in strong if t != "wall"]
        if generic and (named or weak.get("render") is not None and ("render" in words) and not any(x.tagged("noun", "wall") for x in items)):
            drop("wall")
        else:
            for topic in named:
                drop(topic)
            return
    if "ties" in strong and "joints" in weak and not any(x.text.lower() in {"wall ties", "wall tie", "cavity ties", "brick ties"} for x in items):
        strong["joints"] = strong.pop("ties")
    if "weather" in strong and any(x.kind == "ratio" for x in items) and not any(x.kind == "measure" and x.size.unit in {"°C", "°F"} for x in items) and items[strong["weather"]].text.lower() in {"too hot", "too cold"}:
        drop("weather")
    small = any(x.kind == "measure" and x.size.unit in {"mm", "in"} and not x.used and x.size.to_mm() <= 45 for x in items)
    if ({"mortar"} & (set(strong) | set(weak))) and "render" not in strong and small and any(x.tagged("slot", "finish", "render") for x in items) and not words & {"lay", "laying", "mortar", "muck", "joint", "joints"}:
        strong.pop("mortar", None)
        weak.pop("mortar", None)
        strong["render"] = 0
    if "mortar" in strong and "render" in weak and not words & {"lay", "laying", "mortar", "muck"} and "joints" not in strong and all(
        x.tagged("wants") for x in items if x.tagged("topic", "mortar", "strong")):
        strong["render"] = strong.pop("mortar")
    if {"joints", "ties"} <= set(strong) and not any(x.text.lower() in {"wall ties", "wall tie", "cavity ties", "cavity tie", "brick ties"} for x in items):
        drop("ties")
    if "joints" in strong and "ties" in weak:
        weak.pop("ties", None)
    if {"joints", "reinforcement"} <= set(strong):
        i = strong["reinforcement"]
        if i < strong["joints"] and not any(x.kind in {"measure", "dims"} for x in items) and words & {"through", "pass", "across", "past", "cross", "crosses", "stop"}:
            drop("joints")
        elif not _asked(scene, i):
            drop("reinforcement")
    if {"reinforcement", "mesh"} <= set(strong) and items[strong["mesh"]].tagged("topic", "reinforcement"):
        drop("mesh")
    if "crack" in strong and set(strong) - {"crack"}:
        sized = any(x.kind == "measure" and x.size.unit == "mm" and x.size.value <= 60 for x in items)
        noun = any(x.text.lower() in {"crack", "cracks", "hairline", "hairline crack", "hairline cracks", "cracks in"} for x in items)
        rest = set(strong) - {"crack"}
        if rest & {"safety", "weather"} and noun or (noun and sized) or (noun and strong["crack"] < min(strong[t] for t in rest) and not rest & {"joints", "mortar", "blocks"}) or ("leaning" in words or "bulging" in words):
            for topic in rest:
                if topic not in {"safety"} or noun:
                    drop(topic)
        elif noun and rest <= {"joints"} and not any(x.tagged("ask", "quantity") for x in items) and not any(x.kind in {"measure", "dims"} for x in items):
            drop("joints")
        else:
            drop("crack")
    if "weather" in strong and set(strong) - {"weather"}:
        hot = any(x.kind == "measure" and x.size.unit in {"°C", "°F"} for x in items)
        real = any(x.tagged("topic", "weather", "strong") and x.text.lower() not in {"ok to lay", "temperature", "temp", "minus", "rain", "showers", "weather", "wet weather", "can i lay", "can we lay", "to lay today"} for x in items)
        if "safety" in strong or "thermal" in strong or ("mortar" in strong and not hot and not real) or ("joints" in strong and not hot):
            drop("weather")
        elif "render" in strong and (hot or real) and not ({"mix", "coats", "bags", "thick", "mesh"} & words):
            drop("render")
        elif "mortar" in strong and items[strong["mortar"]].text.lower() in {"mortar", "muck"} and not ({"mix", "strength", "ratio", "bags"} & words) and not any(x.kind == "ratio" for x in items) and hot:
            drop("mortar")
        if "blocks" in strong and hot:
            drop("blocks")
    if "weather" in strong and any(x.kind == "ratio" for x in items) and any(x.kind == "measure" and x.size.unit in {"°C", "°F"} for x in items):
        strong.setdefault("mortar", next(i for i, x in enumerate(items) if x.kind == "ratio"))
    if "safety" in strong and set(strong) - {"safety"}:
        hurt = any(x.tagged("wants", "safety", w) for x in items for w in ("eye", "skin_burn", "breathing"))
        if hurt or "crack" not in strong and any(x.tagged("wants", "safety", "lifting") and x.tagged("topic", "safety", "strong") for x in items) and not (set(strong) - {"safety", "blocks", "mortar"}):
            for topic in set(strong) - {"safety"}:
                drop(topic)
        elif "mortar" in strong or "boards" in strong or "bearing" in strong:
            drop("safety")
    if "bearing" in strong and "joints" in strong and not any(x.kind == "measure" and x.size.unit in {"kN", "kip"} for x in items):
        drop("bearing")
    if "bearing" in strong and {"crack"} & set(strong):
        drop("bearing")
    if "thermal" in strong and set(strong) - {"thermal"}:
        if any(x.text.lower() in {"insulation", "thermal"} for x in items if x.tagged("topic", "thermal")) and not any("value" in x.text.lower() for x in items):
            drop("thermal")
        else:
            for topic in set(strong) - {"thermal"}:
                drop(topic)
    if {"mortar", "render"} <= set(strong):
        mortar, render = items[strong["mortar"]], items[strong["render"]]
        if mortar.text.lower() in {"mortar mix", "cement mix", "gauging", "pointing"} and not _asked(scene, strong["mortar"]):
            drop("mortar")
        _ = render
    if {"render", "mesh"} <= set(strong) and not _asked(scene, strong["render"]) and items[strong["render"]].text.lower() in {"scratch coat", "base coat", "basecoat", "first coat", "top coat", "topcoat", "undercoat", "second coat"}:
        drop("render")
    if {"blocks", "mortar"} <= set(strong) and items[strong["blocks"]].text.lower() in {"blocks for", "bricks for", "blocks in", "more blocks"} and not _asked(scene, strong["blocks"]):
        drop("blocks")
    if {"boards", "joints"} <= set(strong) and items[strong["joints"]].text.lower() in {"what gap", "gap", "how big a gap", "the gap on"}:
        drop("joints")
    if {"boards", "render"} <= set(strong):
        drop("render")
    if {"boards", "joints"} <= set(strong) and any(x.tagged("wants", "boards", "at_joint") for x in items):
        drop("joints")


def is_weak(scene: Scene, named: list[str]) -> bool:
    """Whether the topics are only hinted at: no strong word stands for any of them, nor a bare plural with a question mark."""
    items = scene.items
    if scene.named_strongly:
        return False
    short = len([x for x in items if x.kind != "mark"]) <= 3
    return not (short and any(x.text.lower() in LISTED for x in items))


def _asked(scene: Scene, i: int) -> bool:
    """Whether a topic word at i is asked for itself: a quantity cue or a list stands at it, or it ends the message."""
    for j in range(max(0, i - 3), i):
        item = scene.items[j]
        if item.tagged("ask", "quantity") or item.tagged("ask", "need"):
            return True
    before, after = scene.at(i - 1), scene.at(i + 1)
    listed = ("and", ",", "&", "plus", "+")
    if before is not None and before.text.lower() in listed and i >= 2 and scene.items[i - 2].tagged("topic"):
        return True
    if after is not None and after.text.lower() in listed:
        two = scene.at(i + 2)
        if two is not None and (two.tagged("topic") or two.tagged("ask")):
            return True
    return after is not None and (after.tagged("ask", "quantity") or after.text.lower() in {"qty", "for"})


LISTED = {"blocks", "mesh", "render", "mortar", "joints", "ties", "bricks", "boards", "blks"}


def _joined(scene: Scene, i: int, strong: dict[str, int]) -> bool:
    """'joints and blocks', 'blocks, mortar and mesh', 'how many blocks and how much sand'."""
    items = scene.items
    topic_items = set(strong.values())
    for way in (1, -1):
        j = i + way
        joined = False
        steps = 0
        while 0 <= j < len(items) and steps < 5:
            item = items[j]
            if item.text.lower() in {"and", "&", "plus", "+", ","}:
                joined = True
            elif j in topic_items:
                return joined or (j == i + way and item.text.lower() in LISTED and items[i].text.lower() in LISTED)
            elif item.tagged("ask") or item.text.lower() in {"the", "of", "how", "many", "much", "also", "on", "for", "a", "bags", "some"} or item.tagged("noun", "bag") and not item.tagged("topic"):
                pass
            elif item.tagged("topic") and joined:
                pass
            else:
                break
            j += way
            steps += 1
    return False


def _weakest(scene: Scene, weak: dict[str, int]) -> str:
    """The topic that weak words point to most."""
    items = scene.items
    words = _words(scene)
    if "blocks" in weak and "weather" in weak and any(x.kind in {"dims"} for x in items):
        weak.pop("weather")
    if "weather" in weak and len(weak) > 1 and not any(x.kind == "measure" and x.size.unit in {"°C", "°F"} for x in items) and ({"mortar", "joints", "render", "blocks"} & set(weak)):
        weak.pop("weather")
    if "render" in weak and "mortar" in weak and words & {"lay", "laying"}:
        weak.pop("render")
    if "joints" in weak and "mortar" in weak and any(x.tagged("wants", "joints", w) for x in items for w in ("max_spacing", "end_panel_max", "joint_positions")):
        return "joints"
    if "joints" in weak and "mortar" in weak:
        ratio = any(x.kind == "ratio" for x in items)
        if not ratio and items[weak["joints"]].text.lower() in {"joint", "joints", "jt", "jts"}:
            weak.pop("mortar")
        elif ratio:
            weak.pop("joints")
    if "mesh" in weak and "render" in weak:
        weak.pop("mesh")
    if "boards" in weak and "blocks" in weak and "boards" not in words and "board" not in words:
        weak.pop("boards")
    return next(t for t in ORDER if t in weak)


def find_wants(scene: Scene, topic: str) -> tuple[str, ...]:
    """Names of the results asked of a topic, in the order in which they were asked."""
    found: dict[str, None] = {}
    for i, item in enumerate(scene.items):
        for tag in item.tags:
            if tag[0] == "wants" and tag[1] == topic:
                if scene.negated(i) and tag[2] not in {"verdict"}:
                    continue
                found.setdefault(tag[2])
    return _tidy(scene, topic, list(found))


def _tidy(scene: Scene, topic: str, wants: list[str]) -> tuple[str, ...]:
    """Generic wishes give way to the particular ones."""
    slots = scene.heard.slots
    quantity = any(x.tagged("ask", "quantity") for x in scene.items)
    if topic == "joints":
        particular = [w for w in wants if w not in {"joint_count", "verdict", "why"}]
        if particular and "joint_count" in wants and not any(x.text.lower().startswith("how many joints") for x in scene.items):
            pass
        if "max_spacing" in particular and len(particular) > 1 and "end_panel_max" in particular:
            particular.remove("max_spacing")
        if "tie_count" in particular:
            wants = ["tie_count", *[w for w in wants if w in {"joint_positions"}]]
        elif {"joint_width", "filler", "sealant_depth", "expected_movement"} & set(particular):
            wants = particular
        elif particular and "length" not in slots:
            wants = particular + (["joint_count"] if quantity and "joint_count" in wants and particular == ["joint_positions"] else [])
        if "verdict" in wants and not any(s in slots for s in ("joint_at", "joint_count", "spacing")):
            wants = ["joint_count" if w == "verdict" else w for w in wants]
        if "length" in slots and not wants:
            wants = ["joint_count"]
        mine = any(x.tagged("noun", "wall") and (scene.at(i - 1) is not None and scene.items[i - 1].text.lower() in {"the", "back", "front", "side", "rear", "that"}) for i, x in enumerate(scene.items)) or any(x.text.lower() in {"my", "our", "this", "his", "back wall", "the wall"} for x in scene.items) or {"joint_at", "joint_count"} & set(slots)
        if not mine and set(wants) <= {"joint_count", "verdict", "why", "joint_positions"} and "length" not in slots and not quantity and not scene.heard.doubts:
            spoken = bool({"place", "leaf", "finish", "bed_reinforcement"} & set(slots)) or any(
                x.tagged("slot", s) for x in scene.items for s in ("place", "material", "leaf", "finish"))
            needy = any(x.tagged("wants", "joints", "joint_count") for x in scene.items)
            asking = scene.items[0].tagged("ask") and len(scene.items) >= 5 or any(x.tagged("ask", "can") for x in scene.items[:3]) and len(scene.items) >= 5
            if spoken and needy or (asking and (not needy or len(scene.items) >= 7)) or "why" in wants:
                wants = ["max_spacing"]
    elif topic == "mortar":
        if "life" in wants and {"mixing_time", "mixing_order"} & set(wants):
            wants.remove("life")
        if "batch" in wants and ("bags" in slots or "buckets" in slots):
            wants = ["batch"]
        if "bags" in slots and any(x.tagged("noun", "bucket") for x in scene.items):
            return ("batch_buckets", "batch")
        if ("bags" in slots or "buckets" in slots) and quantity and not any(s in slots for s in ("length", "area", "block_count")):
            wants = ["batch", *[w for w in wants if w != "batch"]]
        if "verdict" in wants and "mix" not in slots and "mortar_class" not in slots and len(wants) > 1:
            wants = [w for w in wants if w != "verdict"]
        if wants == ["verdict"] and "mix" not in slots and "mortar_class" not in slots and any(x.tagged("ask", "what") for x in scene.items):
            wants = ["mix"]
        if AMOUNTS & set(wants) and not quantity and not any(s in slots for s in ("length", "area", "height", "block_count", "bags", "buckets")) and not any(x.text.lower() in {"bags", "qty", "need", "order"} for x in scene.items):
            wants = [w for w in wants if w not in AMOUNTS] or ["mix"]
        if AMOUNTS & set(wants):
            wants = [w for w in wants if w in AMOUNTS or w == "mix" and any(x.text.lower() in {"what mix", "which mix"} for x in scene.items)]
        if "plasticiser" in wants and len(wants) > 1 and slots.get("plasticiser"):
            wants.remove("plasticiser")
        if "lime" in wants and "mix" in slots and len(wants) > 1:
            wants.remove("lime")
        if not wants and any(s in slots for s in ("mix", "mortar_class")):
            wants = ["verdict"]
    elif topic == "mesh":
        if "lap" in wants and not any(s in slots for s in ("area", "length", "roll", "rolls")):
            wants = ["lap"]
    elif topic == "boards":
        if "dab_rows" in wants and "length" not in slots and "area" not in slots:
            wants = ["dab_rows"]
    elif topic == "render":
        if AMOUNTS & set(wants) and not quantity and "mix" in slots:
            wants = [w for w in wants if w not in AMOUNTS] or ["verdict"]
        if {"cement_bags", "sand_mass", "render_volume"} & set(wants) and quantity:
            wants = [w for w in wants if w in AMOUNTS]
        if "thickness" in wants and "how many" in " ".join(x.text.lower() for x in scene.items) and "cement_bags" in wants:
            wants.remove("thickness")
        if "verdict" in wants and "mix" not in slots and "coat_thickness" not in slots and len(wants) > 1:
            wants.remove("verdict")
    elif topic == "ties":
        if "ties_per_area" in wants and "area" not in slots and "length" not in slots:
            wants = ["ties_per_area"]
    elif topic == "blocks":
        if "courses" in slots and "course_count" in wants:
            wants.remove("course_count")
        if "course_count" in wants and "length" not in slots and "area" not in slots:
            wants = ["course_count"]
        if "blocks_per_area" in wants:
            wants = ["blocks_per_area"]
        if "area" in wants and not any(x.text.lower().startswith(("how many m2", "what area", "how much wall", "how far will", "how many square", "how many sqm", "how big", "how much area", "how long a wall", "will they cover", "coverage", "how many metres", "how high will", "how many sq")) for x in scene.items):
            wants.remove("area")
    return tuple(wants)


def strong_item(item: Item, topic: str) -> bool:
    """Whether an item names a topic strongly."""
    return item.tagged("topic", topic, "strong")
