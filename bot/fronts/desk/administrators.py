"""Who may change what holds for everybody in a group: its administrators, as the platform names them."""

from dataclasses import replace

from bot.fronts.desk.buttons import read_code
from bot.fronts.desk.forgetting import ALL
from bot.fronts.telegram_arrival import Arrival, Done, Line

SETTINGS = {"r", "u", "l", "n", "z"}
"""Presses that set something for the whole chat."""
_ADMINISTRATORS = {"creator", "administrator"}
PATIENCE = 3.0
"""Seconds in which the platform has to say who is one; all chats of this process wait so long."""


def matters(arrival: Arrival) -> bool:
    """Whether this is for an administrator alone, where the chat is a group."""
    if not arrival.group:
        return False
    if arrival.kind == "command":
        return arrival.command == "site" and arrival.text.strip() != ""
    press = read_code(arrival.text) if arrival.kind == "press" else None
    return press is not None and (press.verb in SETTINGS or (press.verb == "f" and press.choice == ALL))


def as_asker(arrival: Arrival, key: str) -> Arrival:
    """A press that an administrator makes for whoever asked: as if that one had pressed."""
    _, thread, person = key.split(":")
    return replace(arrival, thread=int(thread), person=int(person))


async def is_one(line: Line, arrival: Arrival) -> bool | None:
    """Whether the person is one; None where the platform does not say."""
    if (
        arrival.person == arrival.chat
    ):  # who speaks as the group itself is an administrator who hides his name
        return True
    if arrival.person < 0:
        return False
    asked = {"chat_id": arrival.chat, "user_id": arrival.person}
    match await line.call("getChatMember", asked, wait=PATIENCE):
        case Done({"status": str(status)}):
            return status in _ADMINISTRATORS
        case _:
            return None
