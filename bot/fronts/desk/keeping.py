"""Saved walls: keep, list, open, rename, scrap, undo, total, sheets of all; and the site record."""

import json
import time
from dataclasses import replace
from typing import Any

from bot.fronts.desk.moment import Moment
from bot.fronts.desk.totals import Total, add_up
from bot.fronts.telegram_answer import press_answer
from bot.speaking.echo import echo
from bot.store.rows import Settled
from bot.store.saved import Change, Wall, held

Plain = dict[str, Any]
MOST = 200
"""Walls of one chat; a sheet of all stays one that can be sent."""
LISTED = 40
NAME = 60


def new(moment: Moment) -> Settled:
    """Put the wall in force aside: the next message speaks of another."""
    return moment.say(moment.words["new_wall"], state=moment.anew())


def keep(moment: Moment) -> Settled:
    """Save the wall in force under a name; the same name again is written over."""
    name = _name(moment.arrival.text)
    state = moment.state()
    if not name:
        return moment.say(moment.words["keep_how"])
    if not getattr(state, "slots", None):
        return moment.say(moment.words["no_wall_in_force"])
    walls = moment.walls()
    old = _find(walls, name)
    if old is None and len(walls) >= MOST:
        return moment.say(moment.word("too_many", most=MOST))
    body = json.dumps({"region": state.region, "reading": state.slots, "topics": state.topics})
    row: Plain = {"chat": moment.arrival.chat, "name": name, "body": body, "gone": None, "at": time.time()}
    changes = [Change("put", "walls", {"id": old.id, **row} if old else row)]
    changes.append(_undoable(moment, old or Wall(0, moment.arrival.chat, name, body, time.time(), 0.0)))
    said = moment.word("kept_again" if old else "kept", name=name, reading=echo(state.slots))
    return moment.say(said, changes)


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
    if not moment.site.undo:
        return moment.say(moment.words["nothing_to_undo"])
    before = Wall(**moment.site.undo[0])
    everything = moment.walls(with_gone=True)
    now = next((wall for wall in everything if wall.id == before.id), None)
    if before.id == 0:  # it was saved for the first time: its number was not known yet
        now = _find(moment.walls(), before.name)
        before = replace(now, gone=before.gone) if now else before
    if now is None:
        return moment.say(moment.words["nothing_to_undo"])
    taken = _find([wall for wall in moment.walls() if wall.id != before.id], before.name)
    if before.gone is None and taken is not None:
        return moment.say(moment.word("name_taken", name=before.name))
    said = moment.word(
        "undone" if before.gone is None else "undone_gone", name=before.name, reading=echo(_reading(before))
    )
    return moment.say(said, [_put(before), _undoable(moment, now)])


def total(moment: Moment) -> Settled:
    """What to order for all saved walls, rounded up once."""
    found = moment.walls()
    if not found:
        return moment.say(moment.words["no_walls"])
    made: Total = add_up([(wall.name, _record(moment, wall)) for wall in found], moment.site.units)
    head = moment.words["total_of_one" if made.counted == 1 else "total_of"].format(count=made.counted)
    blocks = [(True, head)]
    blocks += [(False, f"{item}: {order} ({exact})") for item, order, exact in made.rows]
    blocks += [(False, moment.words["not_counted"].format(name=n, why=why)) for n, why in made.left_out]
    blocks.append((False, moment.words["total_caution"]))
    return moment.blocks(blocks)


def sheets(moment: Moment) -> Settled:
    """The sheets of all saved walls as one document."""
    from bot.fronts.desk.papers import worked

    found = moment.walls()
    if not found:
        return moment.say(moment.words["no_walls"])
    records, left = [], []
    for wall in found:
        record = _record(moment, wall)
        try:
            _, answer = worked(record)
            if not record["answers"][0]["reading"].get("length") or not answer.results:
                raise ValueError
        except ValueError:
            left.append(wall.name)
        else:
            records.append(record)
    if not records:
        return moment.say(moment.words["no_sheets"])
    caption = moment.words["alt_book"].format(names=", ".join(r["answers"][0]["wall"] for r in records))
    if left:
        caption += " " + moment.words["no_sheet_of"].format(names=", ".join(left))
    return moment.paper("sendDocument", {"kind": "book", "records": records}, caption[:500])


def record(moment: Moment) -> Settled:
    """The site record: a table and the whole of it, as two documents."""
    kept = moment.memory.look(lambda book: held(book, moment.arrival.chat))
    if not kept["answers"] and not kept["walls"]:
        return moment.say(moment.words["no_record"])
    recipe = {"kind": "record", "chat": moment.arrival.chat, "names": moment.site.names}
    one = moment.paper("sendDocument", {**recipe, "form": "csv"}, moment.words["alt_csv"])
    two = moment.paper("sendDocument", {**recipe, "form": "json"}, moment.words["alt_json"])
    one.letters += two.letters
    return one


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


def _record(moment: Moment, wall: Wall) -> Plain:
    """The record of a question about everything of this wall, as far as a paper needs it."""
    body = json.loads(wall.body)
    given = {"topic": "wall", "wall": wall.name, "reading": body["reading"], "results": {}}
    return {
        "region": body["region"],
        "language": moment.site.language,
        "site": moment.site.slots,
        **({"units": moment.site.units} if moment.site.units else {}),
        "answers": [given],
    }


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


def _undoable(moment: Moment, wall: Wall) -> Change:
    return moment.put_site(replace(moment.site, undo=(_plain(wall),)))
