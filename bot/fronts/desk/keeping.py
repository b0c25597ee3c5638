"""Saved walls: keep, list, open, rename, scrap, undo."""

import json
import time
from dataclasses import replace
from typing import Any

from bot.fronts.desk.moment import Moment
from bot.fronts.telegram_answer import press_answer
from bot.speaking.echo import echo
from bot.store.rows import Settled
from bot.store.saved import Change, Wall

Plain = dict[str, Any]
MOST = 200
"""Walls of one chat; a sheet of all stays one that can be sent."""
LISTED = 40
NAME = 60


def new(moment: Moment) -> Settled:
    """Put the wall in force aside: the next message speaks of another."""
    return moment.say(moment.words["new_wall"], state=moment.anew())


def keep(moment: Moment) -> Settled:
    """Save the wall in force under a name, of several each under it and its own; the same is written over."""
    name = _name(moment.arrival.text)
    state = moment.state()
    if not name:
        return moment.say(moment.words["keep_how"])
    here = _in_force(state, name)
    if not any(reading for _, reading in here):
        return moment.say(moment.words["no_wall_in_force"])
    found = moment.walls()
    olds = [_find(found, own) for own, _ in here]
    if len(found) + olds.count(None) > MOST:
        return moment.say(moment.word("too_many", most=MOST))
    changes, undoable, now = [], [], time.time()
    for (own, reading), old in zip(here, olds, strict=True):
        body = json.dumps({"region": state.region, "reading": reading, "topics": state.topics})
        row: Plain = {"chat": moment.arrival.chat, "name": own, "body": body, "gone": None, "at": now}
        changes.append(Change("put", "walls", {"id": old.id, **row} if old else row))
        undoable.append(old or Wall(0, moment.arrival.chat, own, body, now, 0.0))
    changes.append(_undoable(moment, *undoable))
    if len(here) == 1:
        said = moment.word("kept_again" if olds[0] else "kept", name=name, reading=echo(here[0][1]))
        return moment.say(said, changes)
    head = moment.words["kept_each"].format(count=len(here))
    lines = [(False, f"{own}: {echo(reading)}") for own, reading in here]
    return moment.blocks([(True, head), *lines], changes=changes)


def _in_force(state: Any, name: str) -> list[tuple[str, Plain]]:
    """What is to be kept under which name: of several walls the one that is called so, or each of them."""
    slots = getattr(state, "slots", {})
    own = {str(wall["label"]): {**slots, **wall["slots"]} for wall in getattr(state, "walls", ())}
    for label, reading in own.items():
        if name.casefold() == label.casefold():
            return [(name, reading)]
    return [(f"{name[: NAME - len(label) - 1]} {label}", reading) for label, reading in own.items()] or [
        (name, slots)
    ]


def walls(moment: Moment) -> Settled:
    """The list, a button for each wall."""
    found = moment.walls()
    if not found:
        return moment.say(moment.words["no_walls"])
    rows = [[(wall.name[:40], "o", wall.id)] for wall in found[:LISTED]]
    if len(found) > 1:
        rows.append([(moment.words["button_total"], "t", 0), (moment.words["button_sheets"], "p", 0)])
    lines = [(True, moment.words["walls_are"])]
    lines += [(False, f"{wall.name}: {echo(_reading(wall))}") for wall in found]
    return moment.blocks(lines, buttons=rows)


def open_wall(moment: Moment) -> Settled:
    """Take a saved wall up again by its name."""
    name = _name(moment.arrival.text)
    if not name:
        return walls(moment)
    return _open(moment, _find(moment.walls(), name))


def open_pressed(moment: Moment) -> Settled:
    """Take the wall up whose button was pressed."""
    return _open(moment, next((w for w in moment.walls() if w.id == moment.press.choice), None))


def rename(moment: Moment) -> Settled:
    """Another name: old to new."""
    walls = moment.walls()
    words = moment.arrival.text.split(" to ")
    ways = [(_name(" to ".join(words[:n])), _name(" to ".join(words[n:]))) for n in range(1, len(words))]
    known = [way for way in ways if _find(walls, way[0])]  # a name may have a "to" of its own
    old, new_name = (known or ways or [("", "")])[0]
    wall = _find(walls, old)
    if not old or not new_name:
        return moment.say(moment.words["rename_how"])
    if wall is None:
        return _unknown(moment, old)
    other = _find(walls, new_name)
    if other is not None and other.id != wall.id:
        return moment.say(moment.word("name_taken", name=new_name))
    change = _put(replace(wall, name=new_name))
    return moment.say(moment.word("renamed", old=wall.name, new=new_name), [change, _undoable(moment, wall)])


def scrap(moment: Moment) -> Settled:
    """Delete a wall; undo brings it back."""
    name = _name(moment.arrival.text)
    wall = _find(moment.walls(), name)
    if not name:
        return moment.say(moment.words["scrap_how"])
    if wall is None:
        return _unknown(moment, name)
    change = _put(replace(wall, gone=time.time()))
    return moment.say(moment.word("scrapped", name=wall.name), [change, _undoable(moment, wall)])


def undo(moment: Moment) -> Settled:
    """Put back what the last change of the saved walls changed; once more, and it is changed again."""
    everything, back = moment.walls(with_gone=True), []
    for before in (Wall(**one) for one in moment.site.undo):
        now = next((wall for wall in everything if wall.id == before.id), None)
        if before.id == 0:  # it was saved for the first time: its number was not known yet
            now = _find(moment.walls(), before.name)
            before = replace(now, gone=before.gone) if now else before
        if now is not None:
            back.append((before, now))
    if not back:
        return moment.say(moment.words["nothing_to_undo"])
    ids = {before.id for before, _ in back}
    for before, _ in back:
        taken = _find([wall for wall in moment.walls() if wall.id not in ids], before.name)
        if before.gone is None and taken is not None:
            return moment.say(moment.word("name_taken", name=before.name))
    changes = [*(_put(before) for before, _ in back), _undoable(moment, *(now for _, now in back))]
    before = back[0][0]
    if len(back) == 1:
        word = "undone" if before.gone is None else "undone_gone"
        said = moment.word(word, name=before.name, reading=echo(_reading(before)))
        return moment.say(said, changes)
    head = moment.words["undone_each" if before.gone is None else "undone_each_gone"]
    lines = [(False, f"{wall.name}: {echo(_reading(wall))}") for wall, _ in back]
    return moment.blocks([(True, head.format(count=len(back))), *lines], changes=changes)


def _open(moment: Moment, wall: Wall | None) -> Settled:
    if wall is None:
        if moment.arrival.kind == "press":
            return Settled(moment.row, letters=[press_answer(moment.arrival, moment.words["wall_gone"])])
        return _unknown(moment, _name(moment.arrival.text))
    state = moment.anew()
    body = json.loads(wall.body)
    topics = tuple((topic, tuple(wants)) for topic, wants in body["topics"])
    state = state.model_copy(update={"slots": body["reading"], "topics": topics})
    return moment.say(moment.word("opened", name=wall.name, reading=echo(body["reading"])), state=state)


def _unknown(moment: Moment, name: str) -> Settled:
    return moment.say(moment.word("no_such_wall", name=name))


def _name(text: str) -> str:
    return " ".join(text.split())[:NAME].strip()


def _find(walls: list[Wall], name: str) -> Wall | None:
    return next((wall for wall in walls if wall.name.casefold() == name.casefold()), None)


def _reading(wall: Wall) -> Plain:
    return dict(json.loads(wall.body)["reading"])


def _put(wall: Wall) -> Change:
    return Change("put", "walls", _plain(wall))


def _plain(wall: Wall) -> Plain:
    return {name: getattr(wall, name) for name in ("id", "chat", "name", "body", "gone", "at")}


def _undoable(moment: Moment, *walls: Wall) -> Change:
    return moment.put_site(replace(moment.site, undo=tuple(_plain(wall) for wall in walls)))
