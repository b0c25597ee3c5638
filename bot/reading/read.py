"""The face of reading: a text in, what was heard out. Never raises on a text."""

from __future__ import annotations

from itertools import pairwise

from bot.reading.heard import Heard
from bot.reading.items import Item
from bot.reading.judging import judge, never_answered
from bot.reading.lone import find_lone, find_parts, find_stray
from bot.reading.pronouns import again, another_behind, one_here_one_there, so_many_of_them, with_for_w
from bot.reading.scene import Scene
from bot.reading.several.several import read_parts, split_walls
from bot.reading.slots.area_word import by_area
from bot.reading.slots.asked_back import ask_back
from bot.reading.slots.by_course import join_courses
from bot.reading.slots.classes import alone_as_unit, know_classes
from bot.reading.slots.kinds import take_kinds
from bot.reading.slots.lots import take_lots
from bot.reading.slots.mixes import take_mixes
from bot.reading.slots.opening_codes import opening_codes
from bot.reading.slots.openings import take_openings
from bot.reading.slots.typed import take_typed
from bot.reading.slots.walls import take_walls
from bot.reading.topics.topics import find_topics, is_weak
from bot.reading.topics.wants import find_wants
from bot.reading.turns.changes import find_changes
from bot.reading.turns.swaps import find_swap
from bot.reading.turns.turns import take_turns
from bot.reading.unknown import find_unknown
from bot.reading.walk.steps import walk
from bot.reading.words import words
from knowledge.region import Region

CARRIED_ON = {"same", "if", "new", "just"}
NUMERIC = {"measure", "range", "dims", "ratio"}
LAID = {"mortar.laid_or_mortar"}
SETTLED = {"", "label", "moved", "taken back"}  # asked about elsewhere, or no size
LONGEST = 4000  # more than the longest message of the chat platform


def read(
    text: str,
    region: Region,
    language: str = "en",
    topics: tuple[str, ...] = (),
    thing: str | None = None,
    feet: bool = False,
    going_on: bool = False,
) -> Heard:
    """Read one message. `topics` and `thing`, the opening last spoken of, are those of its conversation.

    `feet`: the wall spoken of is measured in feet; `going_on`: one is spoken of, whatever is asked about it.
    """
    heard = Heard(text=text)
    if len(text) > LONGEST:
        heard.kind, heard.why = "off", "long"
        return heard
    table = words(language)
    items, heard.repaired = walk(text, table)
    scene = Scene(items, heard, region, table, feet)
    scene.openings_told = thing is not None
    if thing is not None:
        heard.swap = find_swap(items)
        again(items, thing, region.sense)
    with_for_w(items, table)
    so_many_of_them(items)
    one_here_one_there(items)
    another_behind(items)
    if not items or all(item.kind == "mark" for item in items):
        heard.kind = "empty"
        return heard
    know_classes(scene)
    take_lots(scene)
    scene.renew()
    off = never_answered(items)
    scene.in_force = topics
    join_courses(scene)
    opening_codes(scene)
    alone_as_unit(scene)
    take_turns(scene)
    named = find_topics(scene, bool(topics))
    if off is not None and not (off == "injury" and "safety" in named):
        heard.kind, heard.why = "off", off
        return heard
    if named == ["reinforcement"] and "joints" in topics and _with_reinforcement(scene):
        named = ["joints"]
    if named == ["mortar"] and "render" in topics and not _of_laying(scene):
        named = ["render"]  # 'plaster for 140 m²', then '1:4, 20 mm thick'
    if named == ["joints"] and "ties" in topics and scene.says("joints.gap"):
        named = ["ties"]  # '150 gap'
    if named == ["bearing"] and "joints" in topics and _ends_at_steel(scene):
        named = []
    scene.topics = named or list(topics)
    take_mixes(scene)
    if not read_parts(scene, _fill):
        _fill(scene)
        split_walls(scene)
    _nothing_lost(scene)
    find_unknown(scene)
    for doubt in heard.doubts:  # what is in doubt is not read
        heard.slots.pop(doubt.slot, None)
    heard.weak = bool(named) and is_weak(scene)
    wants = {topic: find_wants(scene, topic) for topic in {*topics, *named}}
    heard.wants = {topic: wants[topic] for topic in topics}
    heard.lone = find_lone(scene)
    heard.changes = find_changes(scene) if topics else set()
    if "shape" in heard.slots or scene.says("shape.upright"):
        heard.gable = "told"
    elif scene.says("shape.gable_alone"):
        heard.gable = "open"
    heard.stray, heard.named = find_stray(scene)
    heard.of_parts = find_parts(scene) if topics else []
    heard.topics = [(topic, wants[topic]) for topic in named]
    heard.marks |= _marks(scene)
    heard.same = _kept(scene)
    judge(scene, named, going_on or bool(topics))
    return heard


def _nothing_lost(scene: Scene) -> None:
    """A number that was taken up and came to nothing is said back."""
    heard = scene.heard
    told = [heard.evidence, *(wall.evidence for wall in heard.walls)]
    spans = [span for table in told for found in table.values() for span in found]
    spans += [span for doubt in heard.doubts for span in doubt.spans]
    spans += [(entry["span"][0], entry["span"][1]) for entry in heard.set_aside]
    whole = set(spans)
    for item in scene.items:
        if item.kind not in NUMERIC or item.used in SETTLED or (item.start, item.end) in whole:
            continue
        if not any(start <= item.start and item.end <= end for start, end in spans):
            scene.aside(item, "not used")


def _fill(scene: Scene) -> None:
    """Every slot that one wall's words fill."""
    by_area(scene)
    take_openings(scene)
    take_typed(scene)
    take_walls(scene)
    take_kinds(scene)
    ask_back(scene)


def _of_laying(scene: Scene) -> bool:
    """Whether mortar is named as such, or what it is for."""
    laid = any(not scene.words.names(word).isdisjoint(LAID) for x in scene.items for word in x.low.split())
    return laid or scene.tagged("noun", "block") or scene.tagged("connect", "new")


def _ends_at_steel(scene: Scene) -> bool:
    """'ends abut steel', 'left end runs into a steel column': what stands there carries nothing."""
    if not scene.says("ends.steel") or any(x.kind in {"measure", "dims"} for x in scene.items):
        return False
    return scene.says("ends.end") or scene.tagged("side", "left") or scene.tagged("side", "right")


def _with_reinforcement(scene: Scene) -> bool:
    """'and with bed reinforcement?': said of the wall whose joints are asked."""
    if scene.tagged("ask", "quantity"):
        return False
    begins = scene.words.cue["joints.with_begins"]
    return any(x.says("joints.with_reinforcement") or x.low.startswith(begins) for x in scene.items[:6])


SAME = {
    **{("dim", dim): {dim} for dim in ("length", "height", "thickness")},
    **{("noun", kind): {"openings"} for kind in ("window", "door", "opening")},
    ("noun", "block"): {"block", "thickness"},
    ("slot", "ends"): {"ends"},
}


def _kept(scene: Scene) -> set[str]:
    """'same height', 'same blocks': the slots of which that is said."""
    if not scene.tagged("connect", "same"):
        return set()
    kept: set[str] = set()
    for i, item in enumerate(scene.items):
        if scene.as_before(i):
            kept |= set().union(*(slots for head, slots in SAME.items() if item.tagged(*head)))
            kept |= {"ends"} if item.says("ends.end") else set()
    return kept


def _side_changed(scene: Scene) -> set[str]:
    """'1 m to the length', '1 m off the height'."""
    if not (scene.says("side_changed.off") or scene.says("side_changed.onto")):
        return set()
    for i, item in enumerate(scene.items):
        way, side = scene.at(i + 1), scene.at(scene.right(i + 1))
        if item.kind == "measure" and way is not None and side is not None:
            named = side.tagged("dim", "length") or side.tagged("dim", "height")
            if named and way.says("side_changed.off"):
                return {"by off"}
            if named and way.says("side_changed.onto"):
                return {"by onto"}
    return set()


def _marks(scene: Scene) -> set[str]:
    """Turns of speech for the conversation."""
    marks = {way for way in CARRIED_ON if scene.tagged("connect", way)}
    relative = scene.words.relative
    marks |= {relative[cue] for cue in relative.keys() & scene.cues}
    marks |= _side_changed(scene)
    ends = scene.heard.slots.get("ends")
    if (
        ends
        and None in ends
        and scene.tagged("side", "one")
        and any(x.tagged("side", "one") and len(x.low) > len("one") for x in scene.items)
    ):
        marks.add("one end")
    sides = ("from_left", "from_right")
    marks |= {f"by {dim}" for dim in (*sides, "sill") if scene.tagged("dim", dim)}
    if scene.says("again.of_them"):
        marks.add("of them")
    if scene.tagged("noun", "joint"):
        marks.add("joint")
    elif scene.tagged("middle"):
        marks.add("in the middle")
    if scene.says("again.they") and not scene.openings_told:
        marks.add("they")
    told = [x for x in scene.items if not x.says("walls.equals")]  # 'one is 2.4'
    if scene.openings_told and any(map(_one_sized, told, told[1:])):
        marks.add("one so")
    if scene.topics == ["crack"] and "crack" in scene.heard.slots and _another_one(scene):
        marks.add("new")
    first = scene.items[0]
    if len(scene.items) > 1 and scene.items[1].kind == "measure":  # 'by 2.6', 'x 2.6'
        marks |= {"crossed"} if first.tagged("connect", "by") or first.low == "x" else set()
    return marks | {"wall"} if scene.tagged("noun", "wall") else marks


def _another_one(scene: Scene) -> bool:
    """'theres another one, 0.3 mm': a crack of its own; 'another 2 mm' is how much it grew."""
    return any(x.says("again.second") and y.kind != "measure" for x, y in pairwise(scene.items))


def _one_sized(one: Item, size: Item) -> bool:
    """'make one 1.8', 'and the other 0.9': a size that is said of one."""
    return (one.says("again.one") or one.tagged("side", "other")) and size.kind == "measure"
