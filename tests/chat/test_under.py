"""What sits under an answer: workings, drawing, wall sheet, misread, pass on; with the real talk."""

import io

import pypdfium2
import pytest
from PIL import Image

from bot.fronts.desk.cautions import short
from bot.fronts.talking import talking
from tests.chat.conftest import House
from tests.chat.hands import ask, buttons, press
from tests.standin import Standin
from tests.standin.markup import units


async def test_long_matter_sits_behind_its_button(standin: Standin, house: House) -> None:
    async with house.bot(talking):
        first = await ask(standin, 5, "joints for 18 m wall 2.4 high, <returns> both ends")
        assert "fewest joints" not in first
        assert list(buttons(standin, 5)) == ["Workings", "Draw it", "Wall sheet", "Misread", "Pass on"]
        assert await press(standin, 5, "Workings") == ""
        await standin.until(lambda: len(standin.sent(5)) == 2)
    shown = standin.sent(5)[1].text
    assert shown.startswith("Workings: joints for 18 m wall 2.4 high, <returns> both ends")
    assert "Read: length 18 m, height 2.4 m" in shown
    assert "fewest joints" in shown
    assert "Rules and where they stand" in shown
    assert "NHBC" in shown


async def test_a_drawing_goes_up_once_with_its_words_and_is_then_known(
    standin: Standin, house: House
) -> None:
    async with house.bot(talking):
        await ask(standin, 5, "joints for 10 m wall 2.4 high")
        await press(standin, 5, "Draw it", 0)
        await standin.until(lambda: len(standin.sent(5)) == 2)
        await press(standin, 5, "Draw it", 0)
        await standin.until(lambda: len(standin.sent(5)) == 3)
        await ask(standin, 6, "joints for 10 m wall 2.4 high")
        await press(standin, 6, "Draw it", 0)
        await standin.until(lambda: len(standin.sent(6)) == 2)
    one, two = standin.sent(5)[1:]
    assert one.method == two.method == "sendPhoto"
    assert one.values["photo"] == two.values["photo"]
    assert len(standin.files) == 2  # another chat shares nothing with this one
    picture = Image.open(io.BytesIO(standin.files[one.values["photo"]]))
    assert picture.format == "PNG"
    assert picture.width == 1200
    # common practice: a 10 m wall with two returns has joints at 2.5 and 7.5 m; the words say it too
    assert "length 10 m, height 2.4 m" in one.text
    assert "at 2.5, 7.5 m from the left end" in one.text
    assert units(one.text) <= 1024


async def test_a_number_of_a_picture_that_is_no_longer_good_is_made_anew(
    standin: Standin, house: House
) -> None:
    async with house.bot(talking):
        await ask(standin, 5, "joints for 10 m wall 2.4 high")
        await press(standin, 5, "Draw it", 0)
        await standin.until(lambda: len(standin.sent(5)) == 2)
        standin.files.clear()
        await press(standin, 5, "Draw it", 0)
        await standin.until(lambda: len(standin.sent(5)) == 3)
    assert len(standin.files) == 1
    assert standin.violations == ["sendPhoto: Bad Request: wrong file identifier/HTTP URL specified"]
    standin.violations.clear()


async def test_the_wall_sheet_comes_as_a_document(standin: Standin, house: House) -> None:
    async with house.bot(talking):
        await ask(standin, 5, "how many blocks for 10 x 2.4")
        await press(standin, 5, "Wall sheet")
        await standin.until(lambda: len(standin.sent(5)) == 2)
    sent = standin.sent(5)[1]
    assert sent.method == "sendDocument"
    pages = pypdfium2.PdfDocument(standin.files[sent.values["document"]])
    assert 1 <= len(pages) <= 2
    assert "10 m" in pages[0].get_textpage().get_text_range()


async def test_a_wall_without_a_length_has_no_drawing_button(standin: Standin, house: House) -> None:
    async with house.bot(talking):
        await ask(standin, 5, "is 4:1 too strong for aircrete")
        assert list(buttons(standin, 5)) == ["Workings", "Misread", "Pass on"]


@pytest.mark.parametrize(
    ("asked", "part", "typed", "read"),
    [
        ("joints for 18 m external wall", "length 18 m", "20", "length 20 m"),
        ("12.4 x 2.4 140 thick, how many blocks", "thickness 140 mm", "100", "thickness 100 mm"),
        ("12.4 x 2.4, two windows 1200x1050, how many blocks",
         "2 windows 1200 mm wide × 1050 mm ", "one door 900x2100", "1 door 900 mm wide × 2100 mm high"),
        ("is 4:1 too strong for aircrete", "1 cement : 4 sand", "6:1", "1 cement : 6 sand"),
    ],
)  # fmt: skip
async def test_misread_takes_the_part_out_and_the_next_words_put_it_right(
    standin: Standin, house: House, asked: str, part: str, typed: str, read: str
) -> None:
    async with house.bot(talking):
        await ask(standin, 5, asked)
        await press(standin, 5, "Misread")
        await standin.until(lambda: len(standin.sent(5)) == 2)
        (label,) = [label for label in buttons(standin, 5) if label.startswith(part[:40])]
        await press(standin, 5, label)
        await standin.until(lambda: len(standin.sent(5)) == 3)
        assert "Taken out" in standin.sent(5)[2].text
        said = await ask(standin, 5, typed)
        stale = await press(standin, 5, "Misread", 0)
    assert read in said
    assert part not in said.split("\n")[1]
    assert "moved on" in stale


@pytest.mark.parametrize(
    ("part", "typed", "read"),
    [
        ("length 6 m", "7 m", "length 7 m"),
        ("length 6 m", "7.2", "length 7.2 m"),
        ("height 2.4 m", "2.7 m", "height 2.7 m"),
        ("thickness 140 mm", "100", "thickness 100 mm"),
    ],
)
async def test_misread_of_one_of_several_walls_leaves_the_others(
    standin: Standin, house: House, part: str, typed: str, read: str
) -> None:
    """Wall B is put right, A stays as it was typed; said once for both, a part is then of one alone."""
    async with house.bot(talking):
        await ask(standin, 5, "blocks for two walls, A 10 x 2.4 and B 6 m x 2.4, 140 thick both")
        await press(standin, 5, "Misread")
        await standin.until(lambda: "Which wall" in standin.sent(5)[-1].text)
        assert list(buttons(standin, 5)) == ["A", "B"]
        assert "belong to the one" in await press(standin, 5, "A", person=6)
        await press(standin, 5, "B")
        await standin.until(lambda: standin.sent(5)[-1].text.startswith("Wall B: which part"))
        await press(standin, 5, part)
        await standin.until(lambda: "Wall B, taken out" in standin.sent(5)[-1].text)
        said = await ask(standin, 5, typed)
        after = await ask(standin, 5, "and the mortar?")
    for text in (said, after):
        a, b = text[text.index("Wall A: length") :].split("Wall B: length")[:2]
        assert a.startswith("Wall A: length 10 m, height 2.4 m, thickness 140 mm")
        assert read in "length" + b.split("\n")[0]
        assert part not in "length" + b.split("\n")[0]


async def take_out_the_third(standin: Standin) -> None:
    """Three walls asked about, and the length of the third marked as misread."""
    await ask(standin, 5, "joints for walls of 10 m, 12 m and 6 m")
    await press(standin, 5, "Misread")
    await standin.until(lambda: "Which wall" in standin.sent(5)[-1].text)
    await press(standin, 5, "3")
    await standin.until(lambda: "Wall 3: which part" in standin.sent(5)[-1].text)
    await press(standin, 5, "length 6 m")
    await standin.until(lambda: "taken out" in standin.sent(5)[-1].text)


async def test_another_question_in_its_own_words_mends_nothing(standin: Standin, house: House) -> None:
    async with house.bot(talking):
        await take_out_the_third(standin)
        said = await ask(standin, 5, "how many blocks for a wall 20 m long 2.4 high")
    assert "Read: length 20 m, height 2.4 m" in said
    assert "Wall 3" not in said


async def test_a_doubt_about_the_value_of_one_wall_is_of_that_wall(standin: Standin, house: House) -> None:
    async with house.bot(talking):
        await take_out_the_third(standin)
        await ask(standin, 5, "7 or 8 m")
        choice = next(label for label in buttons(standin, 5) if "8" in label)
        asked = standin.sent(5)[-1].message_id
        await press(standin, 5, choice)
        await standin.until(lambda: "length 8 m" in standin.chats[5][asked or 0]["text"])
        text = standin.chats[5][asked or 0]["text"]
    assert "Wall 1: length 10 m" in text
    assert "Wall 2: length 12 m" in text
    assert "Wall 3: length 8 m" in text


async def test_only_the_one_who_asked_presses(standin: Standin, house: House) -> None:
    async with house.bot(talking):
        await ask(standin, -100, "/ask joints for 18 m", person=5)
        assert "belong to the one who asked" in await press(standin, -100, "Workings", person=6)
        ours = buttons(standin, -100)["Workings"]
        elsewhere = standin.message(7, "hello", 7)
        forged = [
            ours,
            "2:w:zz",
            "2:w",
            "2::1",
            "2:w:1:2:3",
            "2:zz:1",
            "2:x:ff",
            "2:w:" + "f" * 40,
            "2:c:1:ff",
        ]
        queries = [standin.press(elsewhere, data) for data in forged]
        await standin.until(lambda: all(standin.queries[query] for query in queries))
        assert len(standin.sent()) == 1
        assert await press(standin, -100, "Workings", person=5) == ""
        await standin.until(lambda: len(standin.sent(-100)) == 2)


async def test_buttons_outlive_a_restart_and_a_lost_reply(
    standin: Standin, house: House, monkeypatch: pytest.MonkeyPatch
) -> None:
    monkeypatch.setattr("bot.fronts.telegram_send.FIRST_PAUSE", 0.01)
    async with house.bot(talking):
        await ask(standin, 5, "joints for 10 m wall 2.4 high")
    standin.faults.error_500 = 0.3
    standin.faults.dropped_before = 0.2
    async with house.bot(talking):
        for label in ("Workings", "Draw it", "Wall sheet"):
            message = standin.chats[5][standin.sent(5)[0].message_id or 0]
            standin.press(message, buttons(standin, 5, 0)[label])
        await standin.until(lambda: len(standin.sent(5)) == 4, 20)
    assert [c.method for c in standin.sent(5)[1:]] == ["sendMessage", "sendPhoto", "sendDocument"]


async def test_the_start_leads_to_an_answer_with_one_tap(standin: Standin, house: House) -> None:
    async with house.bot(talking):
        await ask(standin, 5, "/start")
        first, *_ = buttons(standin, 5)
        await press(standin, 5, first)
        await standin.until(lambda: len(standin.sent(5)) == 2)
        assert "movement joints" in standin.sent(5)[1].text
        # and the conversation goes on from there
        assert "length 20 m" in await ask(standin, 5, "and at 20?")


async def test_a_caution_stands_at_length_once_and_then_in_short(standin: Standin, house: House) -> None:
    async with house.bot(talking):
        first = await ask(standin, 5, "which mortar below dpc")
        again = await ask(standin, 5, "is 4:1 too strong for aircrete")
        other = await ask(standin, 6, "is 4:1 too strong for aircrete")
    assert "Wet mortar burns skin and eyes" in first
    assert "Wet mortar burns skin and eyes" not in again
    assert "gloves and goggles" in again
    assert "Wet mortar burns skin and eyes" in other


TOLD = {
    "mortar for 300 blocks": ("Wet mortar burns", "gloves and goggles on"),
    "render coats for 40 m2 outside": ("Wet mortar burns", "gloves and goggles on"),
    "how many blocks for 10 x 2.4": ("Dust of cut blocks harms the lungs", "mask on"),
    "how many blocks for 8 x 2.4": ("A green wall blows over", "Brace a green wall."),
    "how many 215 thick blocks 2000 kg/m3 for 8 x 2.4": (
        "injure backs",
        "take a lighter one, or lifting gear",
    ),
    "which mortar with lime outside": (
        "never quicklime; it blinds",
        "goggles on; in the eye, wash long, hospital",
    ),
}
"""What is told at length once, and the part of its short form that is still a caution: what to do."""


@pytest.mark.parametrize("question", TOLD)
async def test_each_caution_stands_at_length_once_and_is_one_still(
    standin: Standin, house: House, question: str
) -> None:
    long, brief = TOLD[question]
    async with house.bot(talking):
        first = await ask(standin, 5, question)
        await ask(standin, 5, "/new")
        again = await ask(standin, 5, question)
        group = await ask(standin, -100, f"/ask {question}", person=5)
        other = await ask(standin, -100, f"/ask {question}", person=6)
    assert long in first
    assert long not in again
    assert brief in again
    assert long in group  # another chat, told on its own
    assert brief in other  # told once for the whole group


@pytest.mark.parametrize(
    "question",
    [
        "mortar in my eye what do I do",
        "will a 140 aircrete wall take 20 kN on a padstone",
        "crack 16 mm wide and growing",
    ],
)
async def test_what_sends_people_away_is_never_cut_short(
    standin: Standin, house: House, question: str
) -> None:
    async with house.bot(talking):
        first = await ask(standin, 5, question)
        await ask(standin, 5, "/new")
        assert await ask(standin, 5, question) == first


def test_no_caution_of_an_engineer_has_a_short_form() -> None:
    """Nor one that defers to the drawing, the maker or the rules of a site."""
    for region in ("GB", "US", "IN", "AU", "IE"):
        for longs, _ in short("en", region).values():
            for long in longs:
                words = ("engineer", "designer", "drawing", "maker", "first aid", "risk assessment")
                assert not [word for word in words if word in long.lower()], long


async def test_a_paper_that_was_asked_for_comes_after_the_end_of_the_process(
    standin: Standin, house: House
) -> None:
    async with house.bot(talking):
        await ask(standin, 5, "joints for 10 m wall 2.4 high")
        message = standin.chats[5][standin.sent(5)[0].message_id or 0]
        data = buttons(standin, 5)["Draw it"]
        standin.faults.always_500.add(5)
        standin.press(message, data)
        await standin.until(lambda: any(c.method == "sendPhoto" for c in standin.calls))
    standin.faults.always_500.clear()
    assert len(standin.sent(5)) == 1
    async with house.bot(talking):
        await standin.until(lambda: len(standin.sent(5)) == 2)
    assert standin.sent(5)[1].method == "sendPhoto"
