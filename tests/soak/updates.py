"""What the platform, or who pretends to be it, may bring: sound updates, and the same with parts spoilt."""

from __future__ import annotations

import copy
from random import Random
from typing import Any

from bot.fronts.desk.desk import COMMANDS, PRESSES
from tests.soak.sayings import filled, saying, signs
from tests.standin.people import BOT

Plain = dict[str, Any]
# Commands that make a paper are seldom: a page of print costs as much as fifty answers.
CHEAP = sorted({*COMMANDS, "start", "help", "ask", "nonsense"} - {"sheets", "record"})
TAILS = ("", "", " one", " one to two", " <b>&", " {l} x {h}", " 600 x 250 x 100", " 20 kg bags", " 4:1",
         " joints for {l}", " US", " region IN", " clear", " {reading}", "@perpend_bot",
         "@other_bot")  # fmt: skip
PART = {"file_id": "a", "file_unique_id": "b"}
EXTRAS: tuple[Plain, ...] = (
    {"photo": [{**PART, "width": 1, "height": 1}]},
    {"document": PART},
    {"location": {"latitude": 1.0, "longitude": 2.0}},
    {"new_chat_title": "x"},
    {"forward_origin": {"type": "hidden_user", "sender_user_name": "<i>", "date": 1}},
    {"reply_to_message": {"message_id": 3, "date": 1, "chat": {"id": 5, "type": "private"}, "from": BOT}},
    {"sender_chat": {"id": -100, "type": "channel", "title": "C"}},
    {"via_bot": BOT},
    {"entities": [{"type": "bold", "offset": 0, "length": 99999}]},
)
WRONG: tuple[Any, ...] = (
    *(None, True, False, 0, -1, 7, 2**31, 2**53, 2**63 - 1, 2**63, -(2**63) - 1, 2**70, 1.5, 1e300),
    *(float("inf"), float("nan"), "", " ", "x", "12", "x" * 5000, "\u0000", "\ud800", "🧱" * 3000, "<b>"),
    *([], {}, [[]], [{}], [None] * 300, {"id": 5}, {"id": "5", "type": 7}, {"": {"": {"": []}}}),
)


def code(lot: Random) -> str:
    """What a button may carry: one of ours or nearly."""
    turn = f"{lot.choice((0, 1, 2, 5, 17, 400, 2**40, 2**63)) + lot.randrange(3):x}"
    verb = lot.choice([*PRESSES, "x", "zz", ""])
    ours = (f"2:{verb}:{turn}:{lot.randrange(-1, 7):x}", f"2:{verb}:{turn}", f"1:{turn}:{lot.randrange(9)}")
    return lot.choice((*ours, signs(lot, 20), "", ":" * 64, "1:" + "f" * 40 + ":0"))


def text(lot: Random) -> str:
    """A command or anything else that may be typed."""
    if lot.random() < 0.12:
        command = lot.choice(CHEAP) if lot.random() < 0.98 else lot.choice(("sheets", "record"))
        return f"/{command}" + filled(lot, lot.choice(TAILS))
    said = saying(lot)[:4096]
    return said if lot.random() < 0.8 else f"@{BOT['username']} {said}"


def message(lot: Random, number: int, chat: int, person: int) -> Plain:
    """A sound message."""
    kind = {"id": chat, "type": "private" if chat > 0 else "supergroup"}
    made: Plain = {"message_id": number, "date": 1_700_000_000, "chat": kind, "text": text(lot)}
    made["from"] = {"id": person, "is_bot": False, "first_name": "P", "language_code": "en"}
    if chat < 0 and lot.random() < 0.5:
        made |= {"message_thread_id": 31, "is_topic_message": True}
    if lot.random() < 0.08:
        extra = lot.choice(EXTRAS)
        if "sender_chat" in extra:  # a channel of its own: nobody writes a thousand times a minute
            extra = {"sender_chat": {**extra["sender_chat"], "id": -1_000_000 - abs(chat)}}
        made |= extra
        if lot.random() < 0.5 and "photo" in extra:
            made["caption"] = made.pop("text")
    return made


def update(lot: Random, number: int, chat: int, person: int, ours: list[Plain]) -> Plain:
    """A sound update of any kind; `ours` are messages of the bot with their buttons."""
    made = message(lot, number, chat, person)
    match lot.choices(range(6), (78, 7, 9, 3, 1, 2))[0]:
        case 0:
            return {"message": made}
        case 1:
            return {
                "edited_message": {**made, "message_id": max(11, number - lot.randrange(6)), "edit_date": 1}
            }
        case 2:
            held = lot.choice(ours) if ours and lot.random() < 0.7 else {**made, "from": BOT}
            data = [b["callback_data"] for row in held.get("reply_markup", {}).get("inline_keyboard", ())
                    for b in row if "callback_data" in b]  # fmt: skip
            cheap = [d for d in data if d[2:3] not in ("d", "s", "p")] if lot.random() < 0.95 else data
            carried = lot.choice(cheap) if cheap and lot.random() < 0.8 else code(lot)
            who = person if lot.random() < 0.3 else abs(held["chat"]["id"])
            query = {"id": f"q{number}", "from": {"id": who, "is_bot": False, "first_name": "P"}}
            return {"callback_query": {**query, "message": held, "chat_instance": "7", "data": carried}}
        case 3:
            return {"inline_query": {"id": f"i{number}", "from": made["from"], "query": made["text"][:256] if
                                     "text" in made else "", "offset": ""}}  # fmt: skip
        case 4:
            return {lot.choice(("channel_post", "my_chat_member", "poll", "unheard_of")): made}
        case _:
            return {
                "message": {
                    **made,
                    lot.choice(("migrate_to_chat_id", "migrate_from_chat_id")): -(10**12) - number,
                }
            }


def spoil(lot: Random, sound: Plain) -> Plain:
    """The same with some parts of another type, missing, huge, or where they do not belong."""
    spoilt = copy.deepcopy(sound)
    for _ in range(lot.choice((1, 1, 1, 2, 4))):
        holder: Any = spoilt
        while True:
            keys = list(holder) if isinstance(holder, dict) else list(range(len(holder)))
            if not keys:
                break
            key = lot.choice(keys)
            if isinstance(holder[key], (dict, list)) and holder[key] and lot.random() < 0.8:
                holder = holder[key]
                continue
            if isinstance(holder, dict) and lot.random() < 0.3:
                del holder[key]
            else:
                holder[key] = copy.deepcopy(lot.choice(WRONG))
            break
    return spoilt
