"""From one arrival to all that it changes: pure, so that it can be written in one transaction."""

import hashlib
from dataclasses import replace
from typing import Any

from bot.fronts.desk.buttons import Keyboard, size_rows, under_answer
from bot.fronts.desk.cautions import Line, shorten
from bot.fronts.desk.named import named
from bot.fronts.desk.site import Site
from bot.fronts.desk.whose import settle
from bot.fronts.talking import Talking
from bot.fronts.tally import Tally
from bot.fronts.telegram_arrival import Arrival
from bot.languages import FIRST, chat
from bot.speaking.html import render, units, whole
from bot.speaking.say import phrases
from bot.store.rows import Letter, Question, Settled, Talk
from bot.store.saved import Given, put_site
from bot.store.taking import PIECES
from bot.written import written

_CODE = "1"
"""Edition of what a button carries: edition, turn in base 16, number of the choice."""


def words(language: str = "en") -> dict[str, str]:
    """What the chat says about itself."""
    return {name: text.strip() for name, text in chat(language).items() if isinstance(text, str)}


class Answerer:
    """Answers arrivals with the talk; keeps nothing. `share`: people may ask inline."""

    def __init__(self, talking: Talking, words: dict[str, str], share: bool = False) -> None:
        self.talking = talking
        self.words = words
        self.share = share
        self.tally = Tally()

    def said(self, site: Site) -> dict[str, str]:
        """What the chat says about itself, in the language of this site."""
        return self.words if site.language == FIRST else words(site.language)

    def warm_up(self) -> None:
        """Load what the first question would have to wait for."""
        for example in self.words["examples"].splitlines():
            self.talking.turn(self.talking.fresh(), example)

    def ask(
        self, row: int, arrival: Arrival, talk: Talk | None, site: Site, admin: bool | None = None
    ) -> Settled:
        """A question or a remark: one turn of talk."""
        before = talk.state if talk else kept(self.talking.fresh())
        return self._settled(row, arrival, before, site, admin)

    def correct(
        self, row: int, arrival: Arrival, question: Question, talk: Talk | None, site: Site
    ) -> Settled:
        """An edited question: answered again from the state before it, in our earlier reply's place."""
        if question.key != arrival.key or question.digest == digest(arrival.text):
            return Settled(row)
        settled = self._settled(row, arrival, question.before, site)
        self.tally.misread("edited")
        if talk and talk.turn != question.turn:  # later words stand on the old reading: they keep it
            settled.talk = None
            for letter in settled.letters:
                letter.body.pop("reply_markup", None)
        if settled.letters:
            first = settled.letters[0]
            first.method = "editMessageText"  # the sender knows which message that is: it may not be out yet
        return settled

    def choose(
        self,
        row: int,
        arrival: Arrival,
        talk: Talk | None,
        question: Question | None,
        site: Site,
        admin: bool | None = None,
    ) -> Settled:
        """A pressed button: answered at once, then the question back becomes the answer."""
        edition, _, rest = arrival.text.partition(":")
        turn, _, number = rest.partition(":")
        if not (
            talk and edition == _CODE and turn == f"{talk.turn:x}" and number.isascii() and number.isdigit()
        ):
            foreign = question is not None and question.key != arrival.key
            said = self.said(site)["foreign_press" if foreign else "stale_press"]
            return Settled(row, letters=[press_answer(arrival, said)])
        before = self.talking.at(self.talking.read(talk.state), site)
        state, reply = self.talking.choose(before, int(number))
        if state == before:  # no such choice: a word, and the question stays as it is
            return Settled(
                row, letters=[press_answer(arrival, _short(reply) or self.said(site)["stale_press"])]
            )
        self.tally.turn(reply)
        state, settled, note = self._whose(before, state, site, arrival, admin)
        letters, after = self.letters(row, arrival, reply, settled, note)
        for letter in letters[:1]:
            letter.method = "editMessageText"
            letter.body["message_id"] = arrival.message
            letter.body.pop("reply_parameters", None)
        if question:
            for letter in letters:
                letter.message = question.message
            question = replace(question, turn=row)
        return Settled(
            row,
            talk=Talk(arrival.key, arrival.chat, kept(state), row),
            question=question,
            letters=[press_answer(arrival), *letters],
            given=for_the_record(row, arrival, reply, site),
            changes=[put_site(arrival.chat, after.body())] if after != site else [],
            site=after,
        )

    def excuse(self, row: int, arrival: Arrival, site: Site | None = None) -> Settled:
        """What is said where a fault of ours kept an arrival from being worked."""
        if arrival.kind == "press":
            return Settled(row, letters=[press_answer(arrival, self.said(site or Site())["trouble"])])
        return (
            self.say(row, arrival, "trouble", site) if arrival.kind in ("text", "command") else Settled(row)
        )

    def say(self, row: int, arrival: Arrival, name: str, site: Site | None = None) -> Settled:
        """One of our own fixed texts."""
        return Settled(row, letters=[letter_to(arrival, self.said(site or Site())[name])])

    def _whose(
        self, before: Any, after: Any, site: Site, arrival: Arrival, admin: bool | None
    ) -> tuple[Any, Site, str]:
        """The talk and the site where it has been told whose rules hold, and a word about it in a group."""
        state, settled, name = settle(self.talking, (before, after), site, arrival, admin)
        if not name:
            return state, settled, ""
        region, other = self.talking.called(after.region), self.talking.called(settled.region)
        return state, settled, self.said(site)[name].format(region=region, other=other)

    def _settled(
        self, row: int, arrival: Arrival, before: str, site: Site, admin: bool | None = None
    ) -> Settled:
        start = self.talking.open(self.talking.at(self.talking.read(before), site), site)
        state, reply = self.talking.turn(start, named(start, arrival.text))
        self.tally.turn(reply)
        state, settled, note = self._whose(start, state, site, arrival, admin)
        letters, after = self.letters(row, arrival, reply, settled, note)
        return Settled(
            row,
            talk=Talk(arrival.key, arrival.chat, kept(state), row),
            question=Question(arrival.chat, arrival.message, arrival.key, row, before, digest(arrival.text)),
            letters=letters,
            given=for_the_record(row, arrival, reply, site),
            changes=[put_site(arrival.chat, after.body())] if after != site else [],
            site=after,
        )

    def letters(
        self, row: int, arrival: Arrival, reply: Any, site: Site, note: str = ""
    ) -> tuple[list[Letter], Site]:
        """The reply; and the site, where it has now been told what is told at length but once."""
        keyboard = under_answer(reply.record, row, self.said(site), self.share)
        said, after = shorten(reply.lines, reply.record, site)
        said += [Line("note", note)] if note else []
        if keyboard:  # the arithmetic stands behind its button
            said = [line for line in said if line.kind != "working"]
        letters = [
            letter_to(arrival, text) for text in render(said, phrases(site.language)["mark"])[: PIECES - 2]
        ]
        if letters and keyboard and not reply.choices:
            letters[-1].body["reply_markup"] = keyboard
            if not arrival.group:  # what holds for a group is its administrators' to set, unasked
                after = self._offer(keyboard, reply.record, row, after)
        if letters and reply.choices:
            rows = [
                [{"text": choice.label, "callback_data": f"{_CODE}:{row:x}:{number}"}]
                for number, choice in enumerate(reply.choices)
            ]
            letters[-1].body["reply_markup"] = {"inline_keyboard": rows}
        for later in letters[1:]:
            later.message = None  # the first is the reply that an edit will change
        return letters, after

    def _offer(self, keyboard: Keyboard, record: dict[str, Any], row: int, site: Site) -> Site:
        """A row for a size that was assumed, once; the site, where there is one."""
        from bot.fronts.desk.offering import offer, said, told

        found = offer(record, site)
        if found is None:
            return site
        kind = chat(site.language)["offer"]
        labels = [kind[found.slot].format(said(size)) for size in found.sizes] + [kind["other"]]
        keyboard["inline_keyboard"].extend(size_rows(found.slot, labels, row))
        return replace(site, told=tuple(sorted({*site.told, told(found.slot)})))


def kept(state: Any) -> str:
    """A state as it is stored; the one before it stands with its question."""
    written: str = state.model_dump_json(exclude={"before"}, exclude_defaults=True)
    return written


def pressed_turn(data: str) -> int | None:
    """The turn that a button belongs to, if it is one of ours."""
    parts = data.split(":")
    if len(parts) != 3 or parts[0] != _CODE:
        return None
    try:
        turn = int(parts[1], 16)
    except ValueError:
        return None
    return turn if 0 < turn < 2**63 else None


def digest(text: str) -> str:
    """Tells whether a text changed, without keeping it."""
    return hashlib.sha256(text.encode("utf-8", "replace")).hexdigest()


def for_the_record(row: int, arrival: Arrival, reply: Any, site: Site) -> Given | None:
    """The answer for the site record."""
    if not reply.record.get("answers"):
        return None
    person = arrival.person if site.names else None
    asked = arrival.text if arrival.kind != "press" else reply.record["question"]
    return Given(row, arrival.chat, arrival.key, person, asked, written(reply.record))


def letter_to(arrival: Arrival, html: str) -> Letter:
    """One message back to where something came from."""
    body: dict[str, Any] = {
        "chat_id": arrival.chat,
        "text": html,
        "parse_mode": "HTML",
        "link_preview_options": {"is_disabled": True},
    }
    if arrival.thread:
        body["message_thread_id"] = arrival.thread
    if arrival.group:
        body["reply_parameters"] = {"message_id": arrival.message, "allow_sending_without_reply": True}
    return Letter("sendMessage", body, arrival.lane, arrival.chat, arrival.message)


def _short(reply: Any) -> str:
    """What a reply says, cut to what the note over a pressed button can hold (200 units)."""
    text = whole(" ".join(line.text for line in reply.lines))
    return text if units(text) <= 200 else text[:99] + "…"


def press_answer(arrival: Arrival, said: str | None = None) -> Letter:
    """Has a lane of its own: it lives for seconds and must not wait behind the chat's messages."""
    body = {"callback_query_id": arrival.press} | ({"text": said} if said else {})
    return Letter("answerCallbackQuery", body, f"press {arrival.press}")
