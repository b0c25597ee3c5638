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


def as_csv(given: list[Given], walls: list[Wall], names: bool) -> bytes:
    """The site record as a table: a row an answer, then a row a saved wall."""
    from bot.speaking.echo import echo

    out = io.StringIO(newline="")
    table = csv.writer(out)
    table.writerow(
        ["when", "kind", "name or question", "read as", "answer", "rules", *(["who"] if names else [])]
    )
    for one in given:
        record = json.loads(one.record)
        for answer in record["answers"]:
            rules = "; ".join(f"{rule['id']} ({rule['source']})" for rule in answer["rules"])
            said = json.dumps({name: answer["results"][name] for name in answer["lead"]}, ensure_ascii=False)
            row = [_when(one.at), answer["topic"], one.asked, echo(answer["reading"]), said, rules]
            table.writerow([_cell(text) for text in row] + ([one.person or ""] if names else []))
    for wall in walls:
        row = [_when(wall.at), "saved wall", wall.name, echo(json.loads(wall.body)["reading"]), "", ""]
        table.writerow([_cell(text) for text in row] + ([""] if names else []))
    return out.getvalue().encode("utf-8-sig")


def _cell(text: str) -> str:
    """A person's words never become a formula of a spreadsheet."""
    return f"'{text}" if text[:1] in ("=", "+", "-", "@", "\t", "\r") else text


def _when(at: float) -> str:
    return datetime.fromtimestamp(at, UTC).isoformat(timespec="seconds")
