"""The site record as CSV and JSON: what was asked, read, answered, and by which editions of which rules."""

import csv
import io
import json
from typing import Any

from bot.fronts.desk.papers import as_csv, as_json
from bot.fronts.talking import talking
from bot.store.saved import Given, Wall
from bot.talk import State, turn
from knowledge.rulebook import book
from tests.chat.conftest import House
from tests.chat.hands import ask
from tests.standin import Standin

AT = 1_700_000_000.0
"""2023-11-14 22:13:20 UTC by the calendar of any computer."""


def given(text: str, region: str = "GB", person: int | None = None) -> Given:
    """An answer as it is kept."""
    record = turn(State(region=region), text)[1].record
    return Given(1, 5, "5:0:5", person, text, json.dumps(record), AT)


def table(content: bytes) -> list[dict[str, str]]:
    """The table as a spreadsheet reads it."""
    return list(csv.DictReader(io.StringIO(content.decode("utf-8-sig"), newline="")))


def test_each_answer_stands_with_its_rules_and_their_editions() -> None:
    """The half rule stands in chapter 6.1 of the NHBC Standards as of 2013."""
    (row,) = table(as_csv([given("joints for 18 m wall")], [], names=False))
    assert row["when"] == "2023-11-14T22:13:20+00:00"
    assert row["kind"] == "joints"
    assert row["read as"] == "length 18 m"
    assert row["answer"].startswith("3 movement joints; at 3, 9, 15 m")
    assert "returns both ends" in row["assumed"]
    assert "comes first" in row["cautions"] or "come first" in row["cautions"]
    assert "NHBC Standards, chapter 6.1, 2013" in row["rules"]
    assert row["rules of"] == "GB"
    assert "who" not in row
    (again,) = json.loads(as_json([given("joints for 18 m wall")], [], names=False))["answers"]
    for rule in again["answer"]["answers"][0]["rules"]:
        assert rule["id"] in row["rules"]
        assert rule["source"] in row["rules"]
        assert rule["standing"] in row["rules"]
        assert any(one.id == rule["id"] for one in book("GB").every())
    assert again["answer"]["region"] == "GB"


def test_several_walls_are_rows_and_lists_are_words() -> None:
    rows = table(as_csv([given("blocks for two walls, A 10 x 2.4 and B 6 m x 2.4")], [], names=False))
    assert [row["wall"] for row in rows] == ["A", "B"]
    assert ["10 m" in row["read as"] for row in rows] == [True, False]
    (row,) = table(as_csv([given("mortar splashed in my eye what do I do")], [], names=False))
    assert row["answer"]
    assert "wash" in (row["answer"] + row["cautions"]).lower()


def test_what_people_write_is_no_formula_no_new_cell_and_no_new_row() -> None:
    """A leading = + - @ starts a formula in a spreadsheet (OWASP, "CSV Injection")."""
    texts = [
        '=HYPERLINK("x";"joints for 18 m")',
        "+joints for 18 m",
        '@joints, "for" 18 m\r\nwall',
        "-joints for 18 m",
    ]
    body = json.dumps({"region": "GB", "reading": {"length": {"value": 18, "unit": "m"}}, "topics": []})
    walls = [Wall(1, 5, "=1+1", body, None, AT), Wall(2, 5, 'a,"b"\nc', body, None, AT)]
    record = turn(State(), "joints for 18 m")[1].record
    kept = [Given(n, 5, "5:0:5", None, text, json.dumps(record), AT) for n, text in enumerate(texts)]
    rows = table(as_csv(kept, walls, names=False))
    assert len(rows) == 6
    for row, text in zip(rows, texts, strict=False):
        assert row["name or question"] == "'" + text
        assert not [cell for cell in row.values() if cell[:1] in {"=", "+", "-", "@", "\t", "\r"}]
    assert rows[4]["name or question"] == "'=1+1"
    assert rows[5]["name or question"] == 'a,"b"\nc'
    whole: dict[str, Any] = json.loads(as_json(kept, walls, names=False))
    assert [one["asked"] for one in whole["answers"]] == texts
    assert [wall["name"] for wall in whole["walls"]] == ["=1+1", 'a,"b"\nc']


def test_who_stands_there_only_where_it_is_switched_on() -> None:
    kept = [given("joints for 18 m", person=987654321), given("joints for 20 m")]
    assert [row["who"] for row in table(as_csv(kept, [], names=True))] == ["987654321", ""]
    assert b"987654321" not in as_csv(kept, [], names=False)
    assert [one.get("who") for one in json.loads(as_json(kept, [], names=True))["answers"]] == [
        987654321,
        None,
    ]
    assert all("who" not in one for one in json.loads(as_json(kept, [], names=False))["answers"])


async def test_the_record_holds_this_chat_alone(standin: Standin, house: House) -> None:
    async with house.bot(talking):
        await ask(standin, 5, "joints for 18 m")
        await ask(standin, 6, "joints for 24 m")
        standin.say(5, "/record")
        await standin.until(lambda: len(standin.sent(5)) == 3)
        await standin.until(lambda: len(standin.files) == 2)
    rows = table(standin.files[standin.sent(5)[1].values["document"]])
    assert [row["name or question"] for row in rows] == ["joints for 18 m"]
