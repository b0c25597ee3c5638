"""A size of the site set by a button under an answer, and that answer worked again with it."""

import json
from dataclasses import replace

from bot.fronts.desk.buttons import EACH, SIZES
from bot.fronts.desk.moment import Moment
from bot.fronts.desk.named import named
from bot.fronts.desk.offering import said, sizes_of
from bot.fronts.desk.site import Site
from bot.fronts.telegram_answer import digest, for_the_record, kept, press_answer
from bot.languages import chat
from bot.store.rows import Settled, Talk
from bot.store.saved import put_site


def size(moment: Moment) -> Settled:
    """Set it; the last button tells how another one is set."""
    given = moment.given(moment.press.turn)
    place, number = divmod(max(moment.press.choice, 0), EACH)
    if given is None or place >= len(SIZES):
        return Settled(moment.row, letters=[press_answer(moment.arrival, moment.words["stale_press"])])
    if moment.admin is not True:
        return moment.refused()
    slot = SIZES[place]
    sizes = sizes_of(json.loads(given.record), slot)
    offer = chat(moment.site.language)["offer"]
    if number >= len(sizes):
        return moment.say(moment.words["size_differs"].format(example=offer[f"such_as_{slot}"]))
    site = replace(moment.site, slots={**moment.site.slots, slot: sizes[number]})
    told = moment.words["size_set"].format(size=offer[slot].format(said(sizes[number])))
    question = moment.question
    newest = moment.talk is not None and moment.talk.turn == moment.press.turn
    if question is None or not newest or question.digest != digest(given.asked):
        settled = moment.say(told, [moment.put_site(site)])
    else:
        settled = _again(moment, given.asked, site)
        settled.letters.insert(0, press_answer(moment.arrival, told))
    return settled


def _again(moment: Moment, asked: str, site: Site) -> Settled:
    """The same question on this site: its answer takes the place of the one that was pressed under."""
    row, arrival, question, answerer = moment.row, moment.arrival, moment.question, moment.answerer
    assert question is not None
    before = answerer.talking.at(answerer.talking.read(question.before), site)
    state, reply = answerer.talking.turn(before, named(before, asked))
    letters, after = answerer.letters(row, arrival, reply, site)
    for letter in letters:
        letter.message = question.message
        letter.body.pop("reply_parameters", None)
    letters[0].method = "editMessageText"
    letters[0].body["message_id"] = arrival.message
    typed = replace(arrival, kind="text", text=asked)
    return Settled(
        row,
        talk=Talk(arrival.key, arrival.chat, kept(state), row),
        question=replace(question, turn=row),
        letters=letters,
        given=for_the_record(row, typed, reply, after),
        changes=[put_site(arrival.chat, after.body())],
    )
