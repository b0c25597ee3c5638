"""Settings of a chat: units, language, and who may change what holds for a whole group."""

import shutil
from pathlib import Path

import pytest

from bot import languages
from bot.fronts.desk.menu import listed
from bot.fronts.talking import talking
from tests.chat.conftest import House
from tests.chat.hands import as_it_stands, ask, buttons, press
from tests.standin import Standin
from tests.standin.markup import units as measured


async def test_answers_come_in_the_units_that_were_set(standin: Standin, house: House) -> None:
    """2.5 m is 8 ft 2.4 in: an inch is 25.4 mm (international yard and pound agreement, 1959)."""
    async with house.bot(talking):
        assert "at 2.5, 7.5 m" in await ask(standin, 5, "joints for 10 m")
        assert "Answers in: the units of the question" in await ask(standin, 5, "/site")
        await press(standin, 5, "Feet and inches")
        await standin.until(lambda: "Answers in: feet and inches" in standin.sent(5)[-1].text)
        said = await ask(standin, 5, "joints for 10 m")
        assert "8 ft 2½ in" in said
        assert "Read: length 10 m." in said  # in the words' own units
        assert "answers in feet and inches" in said
        assert "at 2.5, 7.5 m" in await ask(standin, 6, "joints for 10 m")  # another chat has none of it
        for word, seen in (("metric", "metric"), ("as asked", "the units of the question"), ("FEET", "feet")):
            assert f"Answers in: {seen}" in await ask(standin, 5, f"/site {word}")
    async with house.bot(talking):  # it outlives a restart
        assert "8 ft 2½ in" in await ask(standin, 5, "joints for 10 m")
        assert "Answers in: the units of the question" in await ask(standin, 5, "/site clear")


async def test_totals_and_papers_come_in_the_units_that_were_set(standin: Standin, house: House) -> None:
    async with house.bot(talking):
        for length in ("10 m", "33 ft"):
            await ask(standin, 5, f"everything for a rendered {length} wall 2.4 m high")
            await ask(standin, 5, f"/keep {length}")
            await ask(standin, 5, "/new")
        mixed = await ask(standin, 5, "/total")
        await ask(standin, 5, "/site feet")
        feet = await ask(standin, 5, "/total")
    assert " m²" in mixed
    assert " sq ft" not in mixed
    assert " sq ft" in feet
    assert " m²" not in feet
    bought = [line.partition("(")[0] for line in mixed.split("\n") if "bag" in line or "pieces" in line]
    assert bought == [
        line.partition("(")[0] for line in feet.split("\n") if "bag" in line or "pieces" in line
    ]


async def test_american_walls_add_up_in_their_own_measures(standin: Standin, house: House) -> None:
    async with house.bot(talking):
        await ask(standin, 5, "/site region US")
        for name in ("one", "two"):
            await ask(standin, 5, "everything for a stuccoed wall 40 ft x 8 ft")
            await ask(standin, 5, f"/keep {name}")
            await ask(standin, 5, "/new")
        home = await ask(standin, 5, "/total")
        await ask(standin, 5, "/site metric")
        away = await ask(standin, 5, "/total")
    assert " lb" in home
    assert " m²" not in home
    assert " kg with waste" in away
    assert " sq ft" not in away


async def test_only_administrators_change_what_holds_for_a_group(standin: Standin, house: House) -> None:
    """Bot API, ChatMember: creator and administrator are the ranks that manage a group."""
    standin.ranks |= {(-100, 7): "creator", (-100, 8): "administrator", (-100, 9): "restricted"}
    async with house.bot(talking):
        for person in (6, 9):
            for text in ("/site feet", "/site 20 kg bags", "/site region US", "/site clear"):
                assert "only an administrator" in await ask(standin, -100, text, person=person)
        assert "Sizes: none set" in await ask(standin, -100, "/site", person=6)  # anybody may look
        assert "only an administrator" in await press(standin, -100, "Metric", person=6)
        await ask(standin, -100, "/names", person=6)
        assert "only an administrator" in await press(standin, -100, "Keep who asked", person=6)
        for person in (7, 8):
            assert "Answers in: feet" in await ask(standin, -100, "/site feet", person=person)
        assert "Answers in: feet" in await ask(standin, -101, "/site feet", person=-101)  # the group itself
        assert "only an administrator" in await ask(standin, -101, "/site feet", person=-55)  # a channel
        asked = [c for c in standin.calls if c.method == "getChatMember"]
        assert {c.values["user_id"] for c in asked} == {6, 7, 8, 9}
        asked.clear()
        await ask(standin, 6, "/site feet")  # alone with the bot nobody is asked
        assert [c for c in standin.calls if c.method == "getChatMember" and c.values["chat_id"] == 6] == []


async def test_a_setting_is_pressed_by_an_administrator_whoever_had_it_shown(
    standin: Standin, house: House
) -> None:
    standin.ranks[-100, 7] = "administrator"
    async with house.bot(talking):
        await ask(standin, -100, "/site", person=6)
        assert "only an administrator" in await press(standin, -100, "Metric", person=5)
        await press(standin, -100, "Metric", person=7)
        await standin.until(lambda: "Answers in: metric" in standin.sent(-100)[-1].text)
        await ask(standin, -100, "/names", person=6)
        await press(standin, -100, "Keep who asked", person=7)
        await standin.until(lambda: "from now on" in standin.sent(-100)[-1].text)
        await ask(
            standin, -100, "/forget", person=6
        )  # what cannot be taken back is for who read the question
        assert "belong to the one" in await press(standin, -100, "Forget all of this chat", person=7)


async def test_forgetting_a_group_is_for_administrators_and_oneself_for_anybody(
    standin: Standin, house: House
) -> None:
    standin.ranks[-100, 7] = "administrator"
    async with house.bot(talking):
        for person in (6, 7):
            await ask(standin, -100, "/ask joints for 18 m", person=person)
        await ask(standin, -100, "/forget", person=6)
        assert "only an administrator" in await press(standin, -100, "Forget all of this chat", person=6)
        assert "2 answers" in await ask(standin, -100, "/forget", person=6)
        await press(standin, -100, "Forget what is mine", person=6)
        await standin.until(lambda: "Deleted: 1 answer" in standin.sent(-100)[-1].text)
        await ask(standin, -100, "/forget", person=7)
        standin.ranks[-100, 7] = "member"  # who was one when he asked and is none any more
        assert "only an administrator" in await press(standin, -100, "Forget all of this chat", person=7)
        standin.ranks[-100, 7] = "administrator"
        standin.faults.nobody_knows = True
        assert "could not be found out" in await press(standin, -100, "Forget all of this chat", person=7)
        standin.faults.nobody_knows = False
        await press(standin, -100, "Forget all of this chat", person=7)
        await standin.until(lambda: standin.sent(-100)[-1].text.startswith("Deleted:"))


async def test_who_hides_behind_the_group_presses_as_himself(standin: Standin, house: House) -> None:
    """An anonymous administrator writes as the group; his press comes under his own number."""
    standin.ranks[-100, 7] = "administrator"
    hidden = {"sender_chat": {"id": -100, "type": "supergroup", "title": "Site"}}
    async with house.bot(talking):
        await ask(standin, -100, "/forget", person=1087968824, **hidden)
        assert "belong to the one" in await press(standin, -100, "Forget all of this chat", person=6)
        await press(standin, -100, "Forget all of this chat", person=7)
        await standin.until(lambda: standin.sent(-100)[-1].text.startswith("Deleted:"))


US, GB = "the United States", "Britain"
CMU = "/ask 60 ft cmu wall 8 ft high, joints"
"""CMU and feet are speech of the United States (ASTM C90 names the concrete masonry unit)."""


@pytest.mark.parametrize("way", ["pressed", "typed"])
async def test_whose_rules_hold_for_a_group_is_its_administrators_to_choose(
    standin: Standin, house: House, way: str
) -> None:
    """Anybody else chooses for his own questions: his number is right and nobody else's changes unseen."""
    standin.ranks[-100, 7] = "administrator"

    async def choose(person: int) -> str:
        assert "Answer by the rules of" in await ask(standin, -100, CMU, person=person)
        if way == "typed":
            return await ask(standin, -100, "@perpend_bot the United States", person=person)
        await press(standin, -100, US, person=person)
        await standin.until(lambda: "Answer by" not in as_it_stands(standin, -100))
        return as_it_stands(standin, -100)

    async with house.bot(talking):
        own = await choose(5)
        assert "Your own questions here go by the rules of the United States" in own
        assert "From now on" not in own
        assert "Rules of: Britain (GB)" in await ask(standin, -100, "/site", person=5)
        again = await ask(standin, -100, "/ask new wall, 40 ft cmu 8 ft high, joints", person=5)
        assert "rules of the United States" in again
        assert "/site" not in again  # said once
        await ask(standin, -100, "/new", person=5)
        assert "rules of the United States" in await ask(standin, -100, CMU, person=5)
        assert "Answer by the rules of" in await ask(standin, -100, CMU, person=6)  # only his
        everybodys = await choose(7)
        assert "From now on this group is answered by the rules of the United States" in everybodys
        assert "(US)" in await ask(standin, -100, "/site", person=5)
        assert "rules of the United States" in await ask(standin, -100, CMU, person=8)
        asked = {c.values["user_id"] for c in standin.calls if c.method == "getChatMember"}
        assert asked == {5, 7}


async def test_an_administrator_may_answer_whose_rules_for_who_was_asked(
    standin: Standin, house: House
) -> None:
    standin.ranks |= {(-100, 7): "creator", (-100, 6): "member"}
    async with house.bot(talking):
        await ask(standin, -100, CMU, person=5)
        assert "belong to the one who asked" in await press(standin, -100, US, person=6)
        standin.faults.nobody_knows = True
        assert "belong to the one who asked" in await press(standin, -100, US, person=7)
        standin.faults.nobody_knows = False
        assert await press(standin, -100, US, person=7) == ""
        await standin.until(lambda: "From now on this group" in as_it_stands(standin, -100))
        assert "60 ft" in as_it_stands(standin, -100)
        # the conversation is still of the one who asked, and goes on
        assert "80 ft" in await ask(standin, -100, "@perpend_bot and at 80 ft?", person=5)
        assert "moved on" in await press(standin, -100, "Misread", -2, person=5)


async def test_who_is_asked_while_an_administrator_chooses_is_answered_as_he_says_that_once(
    standin: Standin, house: House
) -> None:
    standin.ranks[-100, 7] = "administrator"
    async with house.bot(talking):
        await ask(standin, -100, CMU, person=5)
        await ask(standin, -100, "/site region US", person=7)
        await press(standin, -100, GB, 0, person=5)
        await standin.until(lambda: "This answer goes by the rules of Britain" in as_it_stands(standin, -100))
        assert "rules of the United States" in await ask(standin, -100, CMU, person=5)
        assert "(US)" in await ask(standin, -100, "/site", person=5)


async def test_a_question_back_in_a_group_is_for_the_one_who_was_asked(
    standin: Standin, house: House
) -> None:
    """Whatever a button offers, and whoever else is an administrator: it is another's wall."""
    standin.ranks[-100, 7] = "administrator"
    async with house.bot(talking):
        await ask(standin, -100, "/ask 30 long 8 high joints", person=5)
        feet = next(label for label in buttons(standin, -100) if "ft" in label)
        for person in (6, 7):
            assert "belong to the one who asked" in await press(standin, -100, feet, person=person)
        assert len(standin.sent(-100)) == 1
        assert await press(standin, -100, feet, person=5) == ""
        await standin.until(lambda: "length 30 ft" in as_it_stands(standin, -100))
        assert len(standin.sent(-100)) == 2


async def test_what_the_group_itself_asked_any_of_its_administrators_may_press(
    standin: Standin, house: House
) -> None:
    """Bot API: who hides behind the group's name writes as the group and presses under his own number."""
    standin.ranks[-100, 7] = "administrator"
    hidden = {"sender_chat": {"id": -100, "type": "supergroup", "title": "Site"}}
    async with house.bot(talking):
        await ask(standin, -100, "/ask 30 long 8 high joints", person=1087968824, **hidden)
        feet = next(label for label in buttons(standin, -100) if "ft" in label)
        assert "belong to the one who asked" in await press(standin, -100, feet, person=6)
        await press(standin, -100, feet, person=7)
        await standin.until(lambda: "length 30 ft" in as_it_stands(standin, -100))
        await press(standin, -100, "Misread", person=7)
        await standin.until(lambda: "Which part" in standin.sent(-100)[-1].text)
        await press(standin, -100, "length 30 ft", person=7)
        await standin.until(lambda: "Taken out" in standin.sent(-100)[-1].text)
        said = await ask(standin, -100, "@perpend_bot 40 ft", person=1087968824, **hidden)
        assert "length 40 ft" in said


@pytest.fixture
def made_up(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> Path:
    """A second language: people type English in it, and the chat says a few things its own way."""
    folder = tmp_path / "languages"
    for name in languages.NEEDED:
        for code in ("en", "xq"):
            (folder / code).mkdir(parents=True, exist_ok=True)
            shutil.copy(languages.folder("en") / name, folder / code / name)
    own = 'name = "Quarrish"\nnew_wall = "Vallo novo."\n[menu.all]\nstart = "Kio estas"\n'
    (folder / "xq" / "chat.toml").write_text(own, "utf-8")
    phrases = (
        (folder / "xq" / "phrases.toml").read_text("utf-8").replace('read = "Read:"', 'read = "Legita:"')
    )
    (folder / "xq" / "phrases.toml").write_text(phrases, "utf-8")
    (folder / "half").mkdir()
    shutil.copy(folder / "xq" / "chat.toml", folder / "half" / "chat.toml")
    monkeypatch.setattr(languages, "FOLDER", folder)
    return folder


def test_english_stands_alone_so_far() -> None:
    assert languages.spoken() == {"en": "English"}


@pytest.mark.usefixtures("made_up")
def test_a_folder_more_is_a_language_more() -> None:
    """Half a folder is none; a menu that leaves something out has it from the first language."""
    assert languages.spoken() == {"en": "English", "xq": "Quarrish"}
    own = {entry["command"]: entry["description"] for entry in listed("xq")["private"]}
    first = {entry["command"]: entry["description"] for entry in listed("en")["private"]}
    assert own == {**first, "start": "Kio estas"}


@pytest.mark.usefixtures("made_up")
async def test_a_chat_is_answered_in_its_language(standin: Standin, house: House) -> None:
    async with house.bot(talking):
        assert "Language: English" in await ask(standin, 5, "/site")
        await press(standin, 5, "Quarrish")
        await standin.until(lambda: "Language: Quarrish" in standin.sent(5)[-1].text)
        assert await ask(standin, 5, "/new") == "Vallo novo."
        said = await ask(standin, 5, "joints for 18 m")
        assert "Legita: length 18 m" in said
        assert next(iter(buttons(standin, 5))) == "Workings"  # unsaid in the other language
        assert "Read: length 18 m" in await ask(standin, 6, "joints for 18 m")
        assert "Spoken here: English, Quarrish" in await ask(standin, 5, "/site language Klingish")
        assert "Language: English" in await ask(standin, 5, "/site language english")
        await standin.until(lambda: len(standin.menus) == 4)
    assert {c.values.get("language_code") for c in standin.calls if c.method == "setMyCommands"} == {
        None,
        "xq",
    }


async def test_a_size_that_cannot_be_is_not_set(standin: Standin, house: House) -> None:
    """A bag holds more than nothing, and one of five tonnes is none."""
    async with house.bot(talking):
        for text in ("0 kg bags", "-5 kg bags", "5000 kg bags", "0 litre buckets"):
            assert "cannot be right" in await ask(standin, 5, f"/site {text}"), text
        assert "none set" in await ask(standin, 5, "/site")
        assert "bag size 40 kg" in await ask(standin, 5, "/site 40 kg bags")


async def test_the_settings_fit_a_look(standin: Standin, house: House) -> None:
    async with house.bot(talking):
        said = await ask(standin, 5, "/site")
    assert measured(said) < 500
    assert all(len(label) <= 20 for label in buttons(standin, 5))
