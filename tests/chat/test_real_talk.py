"""The bot with its own talk: the whole way from a typed message to a reply that the platform takes."""

import tomllib
from pathlib import Path

from bot.fronts.talking import talking
from tests.chat.conftest import House
from tests.standin import Standin

CORPUS = Path(__file__).parent.parent / "corpus"


async def test_a_question_its_edit_and_a_follow_up(standin: Standin, house: House) -> None:
    async with house.bot(talking):
        asked = standin.say(5, "joints for 18 m")
        await standin.until(lambda: len(standin.sent(5)) == 1)
        standin.edit(asked, "joints for 24 m")
        await standin.until(lambda: len(standin.sent(5)) == 2)
        standin.say(5, "thanks")
        standin.say(5, "and at 30?")
        await standin.until(lambda: len(standin.sent(5)) == 4)
    first, edited, thanks, later = standin.sent(5)
    assert "18" in first.text
    assert (edited.method, edited.message_id) == ("editMessageText", first.message_id)
    assert "24" in edited.text
    assert "24" not in thanks.text
    assert "30" in later.text


async def test_buttons_of_a_question_back_lead_to_the_answer_in_its_place(
    standin: Standin, house: House
) -> None:
    async with house.bot(talking):
        standin.say(5, "30 long 8 high joints")  # metres or feet: only the asker knows
        await standin.until(lambda: standin.sent(5))
        asked = standin.chats[5][standin.sent(5)[0].message_id or 0]
        buttons = [button for (button,) in asked["reply_markup"]["inline_keyboard"]]
        assert 2 <= len(buttons) <= 4
        feet = next(b for b in buttons if "ft" in b["text"] or "feet" in b["text"])
        standin.press(asked, feet["callback_data"])
        await standin.until(lambda: len(standin.sent(5)) == 2)
    answer = standin.sent(5)[1]
    assert answer.message_id == asked["message_id"]
    assert "30 ft" in answer.text


async def test_whose_rules_is_asked_once_and_the_press_holds_for_the_site(
    standin: Standin, house: House
) -> None:
    """CMU is speech of the United States (ASTM C90): the pressed country is the site's from then on."""
    async with house.bot(talking):
        standin.say(5, "60 ft cmu wall 8 ft high, joints")
        await standin.until(lambda: standin.sent(5))
        asked = standin.chats[5][standin.sent(5)[0].message_id or 0]
        buttons = [button for (button,) in asked["reply_markup"]["inline_keyboard"]]
        assert [button["text"] for button in buttons] == ["the United States", "Britain"]
        standin.press(asked, buttons[0]["callback_data"])
        await standin.until(lambda: len(standin.sent(5)) == 2)
        standin.say(5, "new wall, 40 ft cmu 8 ft high, joints")
        await standin.until(lambda: len(standin.sent(5)) == 3)
        standin.say(5, "/site")
        await standin.until(lambda: len(standin.sent(5)) == 4)
    question, answer, later, site = standin.sent(5)
    assert "Answer by the rules of" in question.text
    assert (answer.method, answer.message_id) == ("editMessageText", asked["message_id"])
    assert "rules of the United States" in answer.text
    assert "rules of the United States" in later.text
    assert "US" in site.text


async def test_every_message_of_the_corpus_gets_a_reply_that_the_platform_takes(
    standin: Standin, house: House
) -> None:
    files = [tomllib.loads(path.read_text("utf-8")) for path in sorted(CORPUS.glob("*.toml"))]
    texts = [entry["text"] for file in files for entry in file["message"]][::3]
    everyone = {*range(1, len(texts) + 1)}
    assert len(texts) > 50
    async with house.bot(talking):
        for chat, text in enumerate(texts, 1):
            standin.say(chat, text)
        await standin.until(lambda: {c.values["chat_id"] for c in standin.sent()} == everyone, 60, 0.2)
    assert not [c for c in standin.sent() if "could not be worked" in c.text]
