"""Saved walls, the site record, settings, forgetting, moving: with the real talk over real HTTP."""

import csv
import io
import json

import pypdfium2

from bot.fronts.talking import talking
from tests.chat.conftest import House
from tests.chat.hands import ask, buttons, press
from tests.standin import Standin
from tests.standin.markup import units


async def test_a_wall_is_kept_listed_opened_renamed_scrapped_and_brought_back(
    standin: Standin, house: House
) -> None:
    async with house.bot(talking):
        assert "no wall to keep yet" in await ask(standin, 5, "/keep garage")
        await ask(standin, 5, "how many blocks for 10 x 2.4")
        assert "length 10 m, height 2.4 m" in await ask(standin, 5, "/keep garage  <b>front")
        assert "“garage <b>front”" in standin.sent(5)[-1].text
        await ask(standin, 5, "/new")
        await ask(standin, 5, "how many blocks for 6 x 2.4")
        await ask(standin, 5, "/keep back")
    async with house.bot(talking):  # they outlive a restart
        listed = await ask(standin, 5, "/walls")
        assert "garage <b>front: length 10 m" in listed
        assert "back: length 6 m" in listed
        await press(standin, 5, "garage <b>front")
        await standin.until(lambda: "In force" in standin.sent(5)[-1].text)
        assert "10 m" in await ask(standin, 5, "how many joints")
        assert "“back” is now “shed”" in await ask(standin, 5, "/rename BACK to shed")
        assert "called “shed” already" in await ask(standin, 5, "/rename garage <b>front to shed")
        assert "off the list" in await ask(standin, 5, "/scrap shed")
        assert "shed" not in await ask(standin, 5, "/walls")
        assert "Undone. “shed”: length 6 m" in await ask(standin, 5, "/undo")
        assert "shed: length 6 m" in await ask(standin, 5, "/walls")
        assert "No wall here is called “moon”" in await ask(standin, 5, "/open moon")
        assert "length 6 m" in await ask(standin, 5, "/open Shed")
        assert "No walls kept" in await ask(standin, 6, "/walls")  # another chat has none of them


async def test_a_first_keep_and_a_second_can_be_taken_back(standin: Standin, house: House) -> None:
    async with house.bot(talking):
        await ask(standin, 5, "how many blocks for 10 x 2.4")
        await ask(standin, 5, "/keep front")
        assert "off the list" in await ask(standin, 5, "/undo")
        assert "No walls kept" in await ask(standin, 5, "/walls")
        assert "“front”: length 10 m" in await ask(standin, 5, "/undo")
        await ask(standin, 5, "make it 12 m long")
        assert "length 12 m" in await ask(standin, 5, "/keep front")
        assert "length 10 m" in await ask(standin, 5, "/undo")
        assert "length 10 m" in await ask(standin, 5, "/walls")


async def test_the_total_of_several_walls_is_rounded_once(standin: Standin, house: House) -> None:
    """By hand, 440 × 215 blocks with 10 mm joints, 5 % waste as is common practice.

    A wall of 1 m × 2.25 m takes 2.25 / (0.45 × 0.225) = 22.2, so 23 blocks, and 25 are ordered for it alone.
    Three take 6.75 / 0.10125 = 66.7, so 67, and 67 × 1.05 = 70.35, so 71; not three times 25.
    """
    async with house.bot(talking):
        for name in ("one", "two", "three"):
            await ask(standin, 5, "/new")
            await ask(standin, 5, "how many blocks for a wall 1 m long 2.25 m high")
            await ask(standin, 5, f"/keep {name}")
        single = await ask(standin, 5, "how many blocks")
        total = await ask(standin, 5, "/total")
    assert "23 blocks" in single
    assert "3 kept walls" in total
    row = next(line for line in total.split("\n") if line.startswith("Blocks"))
    assert ": 71 pieces" in row
    bags = next(line for line in total.split("\n") if line.startswith("Cement"))
    assert ": 1 bag" in bags  # a bag each by themselves: three


async def test_a_name_may_have_a_word_of_the_command_in_it(standin: Standin, house: House) -> None:
    async with house.bot(talking):
        await ask(standin, 5, "blocks for 5 x 2.4")
        await ask(standin, 5, "/keep kitchen to diner")
        said = await ask(standin, 5, "/rename kitchen to diner to lounge to hall")
        assert "“kitchen to diner” is now “lounge to hall”" in said
        assert "No wall here is called “door”" in await ask(standin, 5, "/rename door to window to hatch")


async def test_what_is_read_is_told_in_one_order_however_it_was_said(standin: Standin, house: House) -> None:
    async with house.bot(talking):
        for text in ("blocks for 7.2 x 2.6 140 thick", "blocks for a 140 thick wall 2.6 high 7.2 m long"):
            await ask(standin, 5, text)
            said = await ask(standin, 5, "/keep side")
            assert "length 7.2 m, height 2.6 m, thickness 140 mm" in said
            await ask(standin, 5, "/new")


async def test_of_several_walls_each_is_kept_or_the_one_that_is_named(standin: Standin, house: House) -> None:
    """Common size: 440 × 215 mm with 10 mm joints is 450 × 225 mm, so 9 × 2.25 m is 20 × 10 blocks."""
    async with house.bot(talking):
        await ask(standin, 5, "blocks for two walls, front 9 x 2.25 and side 4.5 x 2.25")
        said = await ask(standin, 5, "/keep plot 4")
        assert "Kept as 2 walls" in said
        assert "plot 4 front: length 9 m, height 2.25 m" in said
        assert "plot 4 side: length 4.5 m, height 2.25 m" in said
        total = await ask(standin, 5, "/total")
        assert "To order for 2 kept walls" in total
        assert "(300 in the wall)" in total
        assert "2 walls are off the list" in await ask(standin, 5, "/undo")
        assert "No walls kept" in await ask(standin, 5, "/walls")
        assert "Undone for 2 walls" in await ask(standin, 5, "/undo")
        assert "length 4.5 m" in await ask(standin, 5, "/open plot 4 side")
        assert "100 blocks" in await ask(standin, 5, "how many blocks")
        await ask(standin, 5, "blocks for two walls, front 9 x 2.25 and side 4.5 x 2.25")
        assert "Kept as “front”: length 9 m" in await ask(standin, 5, "/keep front")
        assert "plot 4 front" in await ask(standin, 5, "/walls")


async def test_walls_of_which_too_little_is_known_are_named(standin: Standin, house: House) -> None:
    async with house.bot(talking):
        await ask(standin, 5, "which mortar for a 2.4 m high wall")
        await ask(standin, 5, "/keep stub")
        said = await ask(standin, 5, "/total")
    assert said.startswith("None of the kept walls can be counted yet\nNot counted: “stub”.")
    assert "Check the list" not in said


async def test_a_record_of_nothing_is_no_paper(standin: Standin, house: House) -> None:
    async with house.bot(talking):
        assert "Nothing is on the record" in await ask(standin, 5, "/record")
        await ask(standin, 5, "/site feet")
        assert "Nothing is on the record" in await ask(standin, 5, "/record")
    assert not standin.files


async def test_sheets_of_all_walls_are_one_document(standin: Standin, house: House) -> None:
    async with house.bot(talking):
        assert "No walls kept here yet" in await ask(standin, 5, "/sheets")
        await ask(standin, 5, "which mortar for a 2.4 m high wall")
        await ask(standin, 5, "/keep stub")
        assert "No kept wall has all" in await ask(standin, 5, "/sheets")
        await ask(standin, 5, "/scrap stub")
        for name, size in (("front", "10 x 2.4"), ("back", "6 x 2.6")):
            await ask(standin, 5, "/new")
            await ask(standin, 5, f"how many blocks for {size}")
            await ask(standin, 5, f"/keep {name}")
        await ask(standin, 5, "/sheets")
    sent = standin.sent(5)[-1]
    assert sent.method == "sendDocument"
    pages = pypdfium2.PdfDocument(standin.files[sent.values["document"]])
    words = " ".join(page.get_textpage().get_text_range() for page in pages)
    assert "front" in words
    assert "back" in words
    assert "front, back" in sent.text


async def test_the_site_record_says_who_only_where_it_was_switched_on(standin: Standin, house: House) -> None:
    standin.ranks[-100, 5] = "administrator"
    async with house.bot(talking):
        await ask(standin, -100, "/ask joints for 18 m", person=5)
        told = await ask(standin, -100, "/names", person=5)
        assert "not say who asked" in told
        assert "What is kept" in told
        await ask(standin, -100, "/ask joints for 24 m", person=6)  # not yet switched on
        await press(standin, -100, "Keep who asked", 1, person=5)
        await standin.until(lambda: "keeps who asked" in standin.sent(-100)[-1].text)
        await ask(standin, -100, "/ask =joints for 12 m", person=6)
        before = len(standin.sent(-100))
        standin.say(-100, "/record", person=5)
        await standin.until(lambda: len(standin.sent(-100)) == before + 2)
    table, full = (standin.files[c.values["document"]] for c in standin.sent(-100)[-2:])
    rows = list(csv.DictReader(io.StringIO(table.decode("utf-8-sig"))))
    assert [row["who"] for row in rows] == ["", "", "6"]
    assert [row["name or question"] for row in rows] == [
        "joints for 18 m",
        "joints for 24 m",
        "'=joints for 12 m",
    ]
    assert all("joints." in row["rules"] for row in rows)
    answers = json.loads(full)["answers"]
    assert [one["who"] for one in answers] == [None, None, 6]
    assert answers[0]["answer"]["answers"][0]["reading"] == {"length": {"value": 18, "unit": "m"}}


async def test_forget_deletes_everything_and_says_what(standin: Standin, house: House) -> None:
    standin.ranks |= {(-100, 5): "creator", (-100, 6): "administrator"}
    async with house.bot(talking) as memory:
        for person in (5, 6):
            await ask(standin, -100, "/ask how many blocks for 10 x 2.4", person=person)
        await ask(standin, -100, "/keep front", person=5)
        await ask(standin, -100, "/site 20 kg bags", person=5)
        await ask(standin, -101, "/ask joints for 18 m", person=5)
        asked = await ask(standin, -100, "/forget", person=5)
        assert "1 wall, the settings, 2 answers, 2 conversations" in asked
        place = len(standin.sent(-100)) - 1
        assert "belong to the one" in await press(standin, -100, "Forget all of this chat", place, person=6)
        await press(standin, -100, "Forget what is mine", place, person=5)
        await standin.until(lambda: "Deleted: 1 answer" in standin.sent(-100)[-1].text)
        await ask(standin, -100, "/forget", person=6)
        await press(standin, -100, "Forget all of this chat", person=6)
        await standin.until(lambda: "Deleted: 1 wall" in standin.sent(-100)[-1].text)
        rows = []
        with memory._book.begin():
            for table in ("walls", "sites", "answers", "talks", "questions", "papers"):
                rows += memory._book.exec_driver_sql(f"select * from {table} where chat = -100").all()  # noqa: S608
            other = memory._book.exec_driver_sql("select * from answers where chat = -101").all()
        assert len(other) == 1
    assert rows == []


async def test_sizes_of_the_site_are_taken_and_said(standin: Standin, house: House) -> None:
    """By hand: 600 × 250 mm blocks, joints 10 mm: 6.1 × 2.6 m is 10 × 10 coordinating faces, 100 blocks."""
    async with house.bot(talking):
        assert "none set" in await ask(standin, 5, "/site")
        await ask(standin, 5, "/site blocks 600 x 250 x 100")
        said = await ask(standin, 5, "how many blocks for a wall 6.1 m long 2.6 m high")
        other = await ask(standin, 6, "how many blocks for a wall 6.1 m long 2.6 m high")
        own = await ask(
            standin, 5, "how many blocks for a wall 6.1 m long 2.6 m high, blocks 440 x 215 x 100"
        )
        assert "could not read a size" in await ask(standin, 5, "/site 🧱")
        await ask(standin, 5, "/site clear")
        cleared = await ask(standin, 5, "how many blocks for a wall 6.1 m long 2.6 m high")
    assert said.startswith("100 blocks")
    assert "block 600 × 250 × 100 mm as set here" in said
    assert not other.startswith("100 blocks")
    assert own.split(";")[0] == other.split(";")[0] == cleared.split(";")[0]


async def test_the_country_of_the_site_changes_the_rules(standin: Standin, house: House) -> None:
    async with house.bot(talking):
        await ask(standin, 5, "/site")
        await press(standin, 5, "The United States")
        await standin.until(lambda: "Rules of: the United States (US)" in standin.sent(5)[-1].text)
        assert "Rules of: the United States (US)" in await ask(standin, 5, "/site")
        there = await ask(standin, 5, "joints for 18 m wall of concrete block")
        here = await ask(standin, 6, "joints for 18 m wall of concrete block")
        assert "rule books for" in await ask(standin, 5, "/site region ZZ")
    assert "NHBC" in here  # a British standard
    assert "NHBC" not in there
    assert there != here


async def test_a_group_that_becomes_a_supergroup_takes_everything_along(
    standin: Standin, house: House
) -> None:
    standin.ranks[-7, 5] = "administrator"
    async with house.bot(talking):
        await ask(standin, -7, "/ask how many blocks for 10 x 2.4", person=5)
        await ask(standin, -7, "/keep front", person=5)
        await ask(standin, -7, "/site 20 kg bags", person=5)
        standin.message(-1007, None, 5)
        standin.say(-7, None, person=5, migrate_to_chat_id=-1007)
        standin.say(-1007, None, person=5, migrate_from_chat_id=-7)
        assert "front: length 10 m" in await ask(standin, -1007, "/walls", person=5)
        assert "20 kg" in await ask(standin, -1007, "/site", person=5)
        assert "length 10 m" in await ask(standin, -1007, "/ask and how many joints", person=5)


async def test_hostile_names_and_commands(standin: Standin, house: House) -> None:
    async with house.bot(talking):
        await ask(standin, 5, "how many blocks for 10 x 2.4")
        for name in ("<b>x</i> & </blockquote>", "🧱" * 500, "{reading}", "a\u202eb", "x" * 4000):
            await ask(standin, 5, f"/keep {name}")
            await ask(standin, 5, f"/open {name[:60]}")
            assert units(standin.sent(5)[-1].text) <= 4096
        await ask(standin, 5, "/walls")
        for text in (
            "/rename",
            "/rename a",
            "/rename a to",
            "/scrap",
            "/open",
            "/undo",
            "/total",
            "/site {}",
        ):
            await ask(standin, 5, text)
        assert list(buttons(standin, 5)) == []


async def test_a_long_list_of_walls_fits(standin: Standin, house: House) -> None:
    async with house.bot(talking):
        await ask(standin, 5, "how many blocks for 10 x 2.4, two windows 1200x1050, a door 900x2100")
        for number in range(45):
            await ask(standin, 5, f"/keep {'long name of a wall ' * 3}{number}"[-70:])
        before = len(standin.sent(5))
        standin.say(5, "/walls")
        await standin.until(lambda: len(standin.sent(5)) > before)
