"""The face of reading: a text in, what was heard out. Never raises on a text."""

from __future__ import annotations

from bot.reading.heard import Heard
from bot.reading.items import Item, Measure
from bot.reading.scene import Scene
from bot.reading.several.several import read_parts, split_walls
from bot.reading.slots.kinds import take_kinds
from bot.reading.slots.mixes import take_mixes
from bot.reading.slots.openings import take_openings
from bot.reading.slots.typed import take_typed
from bot.reading.slots.walls import take_walls
from bot.reading.topics.topics import find_topics, is_weak
from bot.reading.topics.wants import find_wants
from bot.reading.turns.turns import take_turns
from bot.reading.walk.steps import walk
from bot.reading.words import words
from knowledge.rulebook import Region

LONGEST = 4000  # more than the longest message of the chat platform


def read(
    text: str, region: Region, language: str = "en", topics: tuple[str, ...] = (), thing: str | None = None
) -> Heard:
    """Read one message. `topics` and `thing`, the opening last spoken of, are those of its conversation."""
    heard = Heard(text=text)
    if len(text) > LONGEST:
        heard.kind, heard.why = "off", "long"
        return heard
    table = words(language)
    items, heard.repaired = walk(text, table)
    scene = Scene(items, heard, region, table)
    if thing is not None:
        _again(items, thing)
    if not items or all(item.kind == "mark" for item in items):
        heard.kind = "empty"
        return heard
    off = next(
        (
            tag[1]
            for item in items
            for tag in item.tags
            if tag[0] == "off" and tag[1] in {"hostile", "injury"}
        ),
        None,
    )
    take_turns(scene)
    named = find_topics(scene, bool(topics))
    if off is not None and not (off == "injury" and "safety" in named):
        heard.kind, heard.why = "off", off
        return heard
    if (
        named == ["reinforcement"]
        and "joints" in topics
        and not any(x.tagged("ask", "quantity") for x in items)
    ):
        named = (
            ["joints"]
            if any(
                x.says("joints.with_reinforcement") or x.low.startswith(scene.words.cue["joints.with_begins"])
                for x in items[:6]
            )
            else named
        )
    scene.topics = named or list(topics)
    take_mixes(scene)
    if not read_parts(scene, _fill):
        _fill(scene)
        split_walls(scene)
    for doubt in heard.doubts:  # what is in doubt is not read
        heard.slots.pop(doubt.slot, None)
    heard.weak = bool(named) and is_weak(scene)
    heard.wants = {topic: find_wants(scene, topic) for topic in topics}
    heard.lone = _lone(scene)
    heard.topics = [(topic, find_wants(scene, topic)) for topic in named]
    heard.marks |= _marks(scene)
    _judge(scene, named, topics)
    return heard


def _again(items: list[Item], thing: str) -> None:
    """'and a second one': the opening last spoken of, where this message names none."""
    if any(x.tagged("noun", k) for x in items for k in ("window", "door", "opening", "wall", "block")):
        return
    for item in items:
        if item.says("again.second"):
            item.tags = (("noun", thing), ("connect", "another"))
            return


def _fill(scene: Scene) -> None:
    """Every slot that one wall's words fill."""
    take_openings(scene)
    take_typed(scene)
    take_walls(scene)
    take_kinds(scene)


def _lone(scene: Scene) -> Measure | None:
    """The only number of a message, where no noun or dimension word says what it is of."""
    sizes = [
        x
        for x in scene.items
        if x.kind in {"measure", "dims", "range", "ratio", "bad"}
        and x.used not in {"aside", "taken back", "moved"}
    ]
    if (
        len(sizes) != 1
        or sizes[0].kind != "measure"
        or sizes[0].used not in {"length", "height", "thickness", "", "number", "block", "one"}
    ):
        return None
    if sizes[0].used == "block" and sizes[0].size.unit == "N/mm²":
        return None
    i = scene.items.index(sizes[0])
    if sizes[0].used in {"length", "height", "thickness"} and any(
        x.kind == "phrase" and (x.tag("dim") or ("", ""))[1] == sizes[0].used and len(x.text) > 1
        for x in scene.items
    ):
        return None
    for j in (i + 1, i - 1):
        near = scene.at(j)
        if (
            near is not None
            and near.kind == "phrase"
            and (
                (
                    near.tagged("dim")
                    and not near.tagged("dim", "at")
                    and not near.tagged("hedge")
                    and len(near.text) > 1
                )
                or (near.tagged("noun") and not near.tagged("noun", "wall"))
            )
        ):
            return None
    if any(x.tagged("noun", "wall") for x in scene.items) and scene.heard.topics:
        return None
    return sizes[0].size


def _marks(scene: Scene) -> set[str]:
    """Turns of speech for the conversation."""
    marks = set()
    for item in scene.items:
        for tag in item.tags:
            if tag[0] == "connect" and tag[1] in {"same", "if", "new", "just", "of_them"}:
                marks.add(tag[1])
            if tag[0] == "dim" and tag[1] in {"total", "each"}:
                marks.add(tag[1])
            if tag[:2] == ("noun", "wall"):
                marks.add("wall")
            if tag[0] == "not":
                marks.add("not")
            if tag[0] == "off":
                marks.add("off:" + tag[1])
            if tag[0] == "ask":
                marks.add("ask:" + tag[1])
    return marks


def _judge(scene: Scene, named: list[str], topics: tuple[str, ...] = ()) -> None:
    """Whether this is chatter, not ours, or a question."""
    heard = scene.heard
    items = [x for x in scene.items if x.kind != "mark" or x.tags]
    off = {tag[1] for item in items for tag in item.tags if tag[0] == "off"}
    if "design" in off or ("never" in off and not any(x.tagged("noun", "wall") for x in items)):
        heard.kind, heard.why = "off", "design" if "design" in off else "trade"
        return
    strong = [t for t in named if any(x.tagged("topic", t, "strong") for x in items)]
    if "trade" in off and not named:
        heard.kind, heard.why = "off", "trade"
        return
    if (
        "price" in off
        and not (named and "length" in heard.slots)
        and (not strong or not any(x.kind in {"dims", "measure"} and x.used != "aside" for x in items))
    ):
        heard.kind, heard.why = "off", "price"
        return
    if named:
        if "certify" in off:
            heard.kind, heard.why = "off", "certify"
        return
    chat = [x for x in items if x.tagged("chatter") or x.tagged("connect") or x.says("chat.small")]
    if items and len(chat) == len(items) and any(x.tagged("chatter") for x in items):
        heard.kind = "chatter"
        heard.why = next(
            (tag[1] for x in items for tag in x.tags if tag[0] == "chatter" and tag[1] != "mate"), "bye"
        )
        return
    about = (
        any(
            x.tagged("noun", n)
            for x in items
            for n in ("wall", "block", "window", "door", "opening", "mortar_joint", "cavity")
        )
        or any(x.tagged("slot", s) for x in items for s in ("material", "place", "leaf", "finish"))
        or any(x.kind == "dims" for x in items)
        or bool(topics)
    )
    if about and (heard.slots or any(d.slot != "number" for d in heard.doubts) or topics):
        if off:
            heard.kind, heard.why = "off", next(iter(off))
        elif not (heard.slots or heard.doubts or heard.negated or any(heard.wants.values()) or heard.lone):
            pass
        else:
            return
        if off:
            return
    thanked = (
        any(x.tagged("chatter", "thanks") for x in items)
        and not off
        and not any(x.tagged("ask", "quantity") or x.kind == "measure" for x in items)
    )
    if thanked and "?" not in heard.text:
        heard.kind, heard.why = "chatter", "thanks"
        return
    if (
        any(x.tagged("chatter") for x in items)
        and len(chat) >= len([x for x in items if x.kind != "aside"]) * 0.6
        and not off - {"talk"}
    ):
        heard.kind = "chatter"
        heard.why = next(
            (tag[1] for x in items for tag in x.tags if tag[0] == "chatter" and tag[1] != "mate"), "bye"
        )
        return
    heard.kind, heard.why = "off", next(iter(off), "other")
