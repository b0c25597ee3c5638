"""'every 3 courses', 'every other course', 'each bed': a spacing that hangs on the height of a course."""

from __future__ import annotations

from bot.reading.items import Item
from bot.reading.scene import Scene

NTH = {"spacing.other": 2, "spacing.third": 3, "spacing.fourth": 4}


def join_courses(scene: Scene) -> None:
    """In talk of reinforcement, or of joints with it: the words of such a spacing are one."""
    spoken = {"reinforcement", "joints"} & set(scene.in_force)
    if not (spoken or scene.tagged("topic", "reinforcement")):
        return
    for i, item in enumerate(scene.items):
        many, words = _many(scene, i)
        if not words:
            continue
        end = scene.items[i + words - 1].end
        text = scene.heard.text[item.start : end]
        tags = (("every_courses", str(many)),)
        scene.items[i : i + words] = [Item("phrase", text, item.start, end, tags=tags, low=text.lower())]
        scene.renew()
        return


def _many(scene: Scene, i: int) -> tuple[int, int]:
    """How many courses apart the words from i on say, and how many words say it; 0 where they do not."""
    item, one, two = scene.items[i], scene.at(i + 1), scene.at(i + 2)
    if one is None or not item.says("spacing.every"):
        return 0, 0
    if one.says("spacing.course_noun"):
        return (2 if item.says("spacing.other") else 1), 2  # 'alternate courses'; 'every course'
    course = two is not None and two.says("spacing.course_noun")
    if course and one.kind == "measure" and one.size.whole and not one.size.unit and one.size.value >= 1:
        return int(one.size.value), 3
    nth = next((many for cue, many in NTH.items() if one.says(cue)), 0)
    if nth and (course or (two is None and "reinforcement" in scene.in_force)):  # 'no every 3rd'
        return nth, 3 if course else 2
    return 0, 0


def by_course(scene: Scene) -> bool:
    """Such a spacing, taken up."""
    for item in scene.items:
        tag = item.tag("every_courses")
        if tag is not None:
            scene.heard.slots.pop("courses", None)
            scene.claim("spacing_courses", int(tag[1]), item)
            return True
    return False
