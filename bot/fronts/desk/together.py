"""What all that a chat keeps makes together: the total of its walls, their sheets, the site record."""

import json
from typing import Any

from bot.fronts.desk.moment import Moment
from bot.fronts.desk.totals import Total, add_up
from bot.store.rows import Settled
from bot.store.saved import Wall, held

Plain = dict[str, Any]


def total(moment: Moment) -> Settled:
    """What to order for all saved walls, rounded up once."""
    found = moment.walls()
    if not found:
        return moment.say(moment.words["no_walls"])
    made: Total = add_up([(wall.name, _record(moment, wall)) for wall in found], moment.site.units)
    name = {0: "total_of_none", 1: "total_of_one"}.get(made.counted, "total_of")
    head = moment.words[name].format(count=made.counted)
    blocks = [(True, head)]
    blocks += [(False, f"{item}: {order} ({exact})") for item, order, exact in made.rows]
    blocks += [(False, moment.words["not_counted"].format(name=n, why=why)) for n, why in made.left_out]
    blocks += [(False, moment.words["total_caution"])] if made.counted else []
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
