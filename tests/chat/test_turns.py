"""Turns of talk through the real library and real HTTP; limits and markup are checked by the stand-in."""

from tests.chat.conftest import House
from tests.standin import Standin


async def test_a_question_gets_one_message_number_first(standin: Standin, house: House) -> None:
    async with house.bot():
        standin.say(5, "10 m < 12 & more")
        await standin.until(lambda: standin.sent(5))
    (call,) = standin.sent(5)
    assert call.text == "turn 1\nRead: 10 m < 12 & more\n10 / 6 = 1.67"
    assert call.values["text"].startswith("<b>turn 1</b>\n")
    assert "<blockquote expandable>10 / 6" in call.values["text"]


async def test_state_survives_a_restart_and_is_each_persons_own(standin: Standin, house: House) -> None:
    async with house.bot():
        standin.say(5, "one")
        standin.say(6, "one")
        standin.say(5, "two")
        await standin.until(lambda: len(standin.sent()) == 3)
    async with house.bot():
        standin.say(5, "three")
        standin.say(6, "two")
        await standin.until(lambda: len(standin.sent()) == 5)
    assert [c.text.split("\n")[0] for c in standin.sent(5)] == ["turn 1", "turn 2", "turn 3"]
    assert [c.text.split("\n")[0] for c in standin.sent(6)] == ["turn 1", "turn 2"]


async def test_a_button_answers_in_the_questions_place_and_only_once(standin: Standin, house: House) -> None:
    async with house.bot():
        standin.say(5, "which 30 long")
        await standin.until(lambda: standin.sent(5))
        asked = standin.chats[5][standin.sent(5)[0].message_id or 0]
        (first,), (second,) = asked["reply_markup"]["inline_keyboard"]
        assert (first["text"], second["text"]) == ("30 m long", "30 ft long")
        one = standin.press(asked, second["callback_data"])
        await standin.until(lambda: len(standin.sent(5)) == 2)
        two = standin.press(asked, first["callback_data"])
        await standin.until(lambda: standin.queries[one] and standin.queries[two])
    edit = standin.sent(5)[1]
    assert (edit.method, edit.message_id) == ("editMessageText", asked["message_id"])
    assert edit.text.startswith("turn 2\nRead: 30 ft long")
    words = [c.text for c in standin.calls if c.method == "answerCallbackQuery"]
    assert words[0] == ""
    assert "moved on" in words[1]
    assert len(standin.sent(5)) == 2


async def test_typing_instead_of_pressing_works_and_outdates_the_buttons(
    standin: Standin, house: House
) -> None:
    async with house.bot():
        standin.say(5, "which 30 long")
        standin.say(5, "30 m")
        await standin.until(lambda: len(standin.sent(5)) == 2)
        asked = standin.chats[5][standin.sent(5)[0].message_id or 0]
        query = standin.press(asked, asked["reply_markup"]["inline_keyboard"][0][0]["callback_data"])
        await standin.until(lambda: standin.queries[query])
        standin.say(5, "next")
        await standin.until(lambda: len(standin.sent(5)) == 3)
    assert standin.sent(5)[2].text.startswith("turn 3")


async def test_a_foreign_or_forged_press_changes_nothing(standin: Standin, house: House) -> None:
    async with house.bot():
        standin.say(-100, "/ask which 30 long", person=5)
        standin.say(-100, "/ask which 20 long", person=6)
        await standin.until(lambda: len(standin.sent(-100)) == 2)
        asked = standin.chats[-100][standin.sent(-100)[0].message_id or 0]
        data = asked["reply_markup"]["inline_keyboard"][0][0]["callback_data"]
        elsewhere = standin.message(7, "hello", 7)
        presses = [standin.press(asked, data, person=6), standin.press(elsewhere, data, person=7)]
        forged = ("", "1:zz:0", "9" * 60, "1:" + "f" * 40 + ":0", "1:1:-1", "1:1:99", "2:1:0")
        presses += [standin.press(asked, x, person=5) for x in forged]
        await standin.until(lambda: all(standin.queries[x] for x in presses))
        assert len(standin.sent()) == 2
        own = standin.press(asked, data, person=5)
        await standin.until(lambda: standin.queries[own] and len(standin.sent()) == 3)
    words = [c.text for c in standin.calls if c.method == "answerCallbackQuery"]
    assert sum("belong to the one who asked" in x for x in words) == 2
    assert sum("moved on" in x for x in words) == 6
    assert words.count("no such choice") == 1


async def test_an_edited_question_is_answered_again_in_place(standin: Standin, house: House) -> None:
    async with house.bot():
        standin.say(5, "before")
        asked = standin.say(5, "10 m")
        await standin.until(lambda: len(standin.sent(5)) == 2)
        standin.edit(asked, "10 m")  # no visible change
        standin.edit(asked, "12 m")
        await standin.until(lambda: len(standin.sent(5)) == 3)
        standin.say(5, "after")
        await standin.until(lambda: len(standin.sent(5)) == 4)
        standin.edit(asked, "14 m")  # an older one: its answer changes, the state does not
        await standin.until(lambda: len(standin.sent(5)) == 5)
        standin.say(5, "last")
        await standin.until(lambda: len(standin.sent(5)) == 6)
    sent = standin.sent(5)
    assert [c.method for c in sent] == ["sendMessage"] * 2 + ["editMessageText", "sendMessage"] * 2
    assert sent[2].message_id == sent[4].message_id == sent[1].message_id
    assert [c.text.split("\n")[:2] for c in sent[2:]] == [
        ["turn 2", "Read: 12 m"],
        ["turn 3", "Read: after"],
        ["turn 2", "Read: 14 m"],
        ["turn 4", "Read: last"],
    ]


async def test_in_a_topic_an_edit_and_a_press_change_the_answer_where_it_stands(
    standin: Standin, house: House
) -> None:
    topic = {"message_thread_id": 31, "is_topic_message": True}
    async with house.bot():
        asked = standin.say(-100, "/ask 10 m", person=5, **topic)
        await standin.until(lambda: len(standin.sent(-100)) == 1)
        standin.edit(asked, "/ask which 12 long")
        await standin.until(lambda: len(standin.sent(-100)) == 2)
        question = standin.chats[-100][standin.sent(-100)[1].message_id or 0]
        standin.press(question, question["reply_markup"]["inline_keyboard"][0][0]["callback_data"], person=5)
        await standin.until(lambda: len(standin.sent(-100)) == 3)
        del standin.chats[-100][
            standin.sent(-100)[0].message_id or 0
        ]  # deleted: it is sent anew, in the topic
        standin.edit(asked, "/ask 14 m")
        await standin.until(lambda: len(standin.sent(-100)) == 4)
    sent = standin.sent(-100)
    assert [c.method for c in sent] == ["sendMessage", "editMessageText", "editMessageText", "sendMessage"]
    assert len({c.message_id for c in sent[:3]}) == 1
    assert sent[3].values["message_thread_id"] == 31
    assert standin.violations == ["editMessageText: Bad Request: message to edit not found"]
    standin.violations.clear()


async def test_question_and_edit_that_wait_together_keep_their_order(standin: Standin, house: House) -> None:
    asked = standin.say(5, "10 m")
    standin.edit(asked, "12 m")
    async with house.bot():
        await standin.until(lambda: len(standin.sent(5)) == 2)
    first, second = standin.sent(5)
    assert (first.method, second.method) == ("sendMessage", "editMessageText")
    assert first.message_id == second.message_id
    assert second.text.startswith("turn 1\nRead: 12 m")


async def test_an_answer_deleted_before_its_edit_is_sent_anew(standin: Standin, house: House) -> None:
    async with house.bot():
        asked = standin.say(5, "10 m")
        await standin.until(lambda: standin.sent(5))
        del standin.chats[5][standin.sent(5)[0].message_id or 0]
        standin.edit(asked, "12 m")
        await standin.until(lambda: len(standin.sent(5)) == 2)
    assert standin.sent(5)[1].method == "sendMessage"
    assert standin.violations == ["editMessageText: Bad Request: message to edit not found"]
    standin.violations.clear()


async def test_groups_are_answered_only_when_spoken_to(standin: Standin, house: House) -> None:
    async with house.bot():
        standin.say(-100, "ten metres", person=5)
        standin.say(-100, "@perpend_botany no", person=5)
        standin.say(-100, "/ask@other_bot no", person=5)
        standin.say(-100, "@perpend_bot one", person=5)
        await standin.until(lambda: len(standin.sent(-100)) == 1)
        ours = standin.chats[-100][standin.sent(-100)[0].message_id or 0]
        standin.say(-100, "two", person=5, reply_to_message=ours)
        standin.say(-100, "/ask@perpend_bot three", person=5, message_thread_id=77, is_topic_message=True)
        standin.say(-100, "/ask other", person=6)
        await standin.until(lambda: len(standin.sent(-100)) == 4)
    heads = [c.text.split("\n")[:2] for c in standin.sent(-100)]
    assert heads == [
        ["turn 1", "Read: one"],
        ["turn 2", "Read: two"],
        ["turn 1", "Read: three"],  # another topic is another conversation
        ["turn 1", "Read: other"],
    ]
    assert standin.sent(-100)[2].values["message_thread_id"] == 77
    assert all("reply_parameters" in c.values for c in standin.sent(-100))


async def test_our_name_alone_in_a_group_is_told_how_to_ask(standin: Standin, house: House) -> None:
    async with house.bot():
        standin.say(-100, " @Perpend_bot ", person=6)
        await standin.until(lambda: standin.sent(-100))
    assert "Put the question behind it" in standin.sent(-100)[0].text


async def test_start_and_help_fit_one_screen(standin: Standin, house: House) -> None:
    async with house.bot():
        for text in ("/start", "/help", "/start@perpend_bot", "/ask", "/nonsense", "/HELP"):
            standin.say(5, text)
        await standin.until(lambda: len(standin.sent(5)) == 6)
    start, help_, again, empty, unknown, shouted = (c.text for c in standin.sent(5))
    assert start == again
    assert help_ == shouted
    for screen in (start, help_):  # a phone of 320 px shows about 40 signs a line and 22 lines
        assert sum(-(-len(line) // 40) or 1 for line in screen.split("\n")) <= 22
    assert "/ask" in empty
    assert "/help" in unknown


async def test_hostile_and_wordless_updates_get_a_word_or_silence(standin: Standin, house: House) -> None:
    async with house.bot():
        standin.say(5, None, photo=[{"file_id": "a", "file_unique_id": "b", "width": 1, "height": 1}])
        standin.say(5, None, new_chat_title="x")
        standin.say(5, None, person=9, **{"from": {"id": 9, "is_bot": True, "first_name": "B"}})
        standin.say(5, "<b>x</i> &amp; </blockquote>")
        standin.say(5, "half \ud83d letter")
        standin.say(5, "🧱" * 2048)
        standin.say(5, "hush")
        standin.say(5, "end")
        await standin.until(lambda: standin.sent(5)[-1:] and "Read: end" in standin.sent(5)[-1].text)
    texts = [c.text for c in standin.sent(5)]
    assert "Only words" in texts[0]
    assert "Read: <b>x</i> &amp; </blockquote>" in texts[1]
    assert "half \ufffd letter" in texts[2]
    assert sum(t.count("🧱") for t in texts) == 2048
    assert "turn 4" in texts[-1]
