"""What each paper is made of: a drawing, the sheet of a wall, all walls in one, the site record."""

import csv
import hashlib
import io
import json
from datetime import UTC, datetime
from typing import Any

from bot.store.saved import Given, Wall
from knowledge.answers import Answer
from knowledge.questions import Question

Plain = dict[str, Any]


def digest(kind: str, record: Plain) -> str:
    """The same for the same paper: what it shows of the wall, and nothing of who asked."""
    seen = [kind, record.get("region"), record.get("language"), record.get("units"), record.get("site")]
    for answer in record["answers"][:1]:
        seen += [answer.get("wall"), answer["reading"], answer.get("more"), answer["results"]]
    return hashlib.sha256(json.dumps(seen, sort_keys=True).encode()).hexdigest()


def made(recipe: Plain) -> tuple[str, bytes]:
    """File name and content."""
    match recipe["kind"]:
        case "drawing":
            from bot.speaking import drawing

            return "wall.png", drawing.png(*worked(recipe["record"]))
        case "sheet":
            from bot.speaking.sheet import sheet

            return "wall-sheet.pdf", sheet(recipe["record"], *worked(recipe["record"]))
        case "book":
            return "walls.pdf", bound(recipe["records"])
        case "record" if recipe["form"] == "csv":
            return "site-record.csv", as_csv(recipe["given"], recipe["walls"], recipe["names"])
        case _:
            return "site-record.json", as_json(recipe["given"], recipe["walls"], recipe["names"])


def worked(record: Plain) -> tuple[Question, Answer]:
    """The whole wall behind a record; a wall that cannot be worked has no paper."""
    from bot.speaking.again import whole

    found = whole(record)
    if found is None or not isinstance(found[1], Answer):
        raise ValueError("no whole wall to put on paper")
    return found[0], found[1]


def bound(records: list[Plain]) -> bytes:
    """The sheets of several walls as one document."""
    from bot.speaking.binding import bind
    from bot.speaking.sheet import lay

    pages = [page for record in records for page in lay(record, *worked(record), 7.0)]
    return bind(pages, "Walls")


def as_json(given: list[Given], walls: list[Wall], names: bool) -> bytes:
    """The site record whole: walls with their reading, answers as they were given."""
    told = [
        {"when": _when(one.at), "asked": one.asked, "answer": json.loads(one.record)}
        | ({"who": one.person} if names else {})
        for one in given
    ]
    kept = [{"name": wall.name, "saved": _when(wall.at), **json.loads(wall.body)} for wall in walls]
    whole = {"answers": told, "walls": kept}
    return json.dumps(whole, ensure_ascii=False, indent=1).encode()


COLUMNS = ("when", "kind", "wall", "name or question", "read as", "assumed", "answer", "cautions", "rules")


def as_csv(given: list[Given], walls: list[Wall], names: bool) -> bytes:
    """The site record as a table: a row an answer, in the words of the chat, then a row a saved wall."""
    from bot.speaking.echo import echo

    out = io.StringIO(newline="")
    table = csv.writer(out)
    table.writerow([*COLUMNS, "rules of", *(["who"] if names else [])])
    for one in given:
        record = json.loads(one.record)
        for answer in record["answers"]:
            said = _in_words(record, answer)
            rules = "; ".join(_edition(rule) for rule in answer["rules"])
            reading = echo(answer["reading"], answer.get("more"))
            cautions = " ".join((*answer.get("first", ()), *answer["cautions"]))
            row = [_when(one.at), answer["topic"], answer["wall"] or "", one.asked, reading]
            row += [said["assumed"], said["number"] or said["note"], cautions, rules, record["region"]]
            table.writerow([_cell(text) for text in row] + ([one.person or ""] if names else []))
    for wall in walls:
        body = json.loads(wall.body)
        row = [_when(wall.at), "saved wall", wall.name, wall.name, echo(body["reading"])]
        row += ["", "", "", "", body["region"]]
        table.writerow([_cell(text) for text in row] + ([""] if names else []))
    return out.getvalue().encode("utf-8-sig")


def _in_words(record: Plain, answer: Plain) -> dict[str, str]:
    """Of one answer what the chat says of each kind."""
    from bot.fronts.desk.lines import lines_of

    lines = lines_of({**record, "answers": [answer], "needs": [], "declined": [], "totals": []})
    return {
        kind: " ".join(line.text.replace("\n", " ") for line in lines if line.kind == kind)
        for kind in ("number", "note", "assumed")
    }


def _edition(rule: Plain) -> str:
    """A rule by its name, with the document, its edition and clause, and how far it can be trusted."""
    place = f", {rule['clause']}" if rule["clause"] and rule["clause"] not in rule["source"] else ""
    return f"{rule['id']} ({rule['source']}{place}; {rule['standing']})"


def _cell(text: str) -> str:
    """A person's words never become a formula of a spreadsheet."""
    return f"'{text}" if text[:1] in ("=", "+", "-", "@", "\t", "\r") else text


def _when(at: float) -> str:
    return datetime.fromtimestamp(at, UTC).isoformat(timespec="seconds")
