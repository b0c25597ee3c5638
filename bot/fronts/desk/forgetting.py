"""Forgetting: everything of a chat, or of one person in it; what was deleted is said."""

from bot.fronts.desk.moment import Moment
from bot.languages import chat
from bot.store.rows import Settled
from bot.store.saved import Change, held

MINE, ALL = 0, 1


def forget(moment: Moment) -> Settled:
    """Say what is kept, and ask whether to delete it; only the one who asked can press."""
    buttons = [[(moment.words["button_forget_mine"], "f", MINE)]]
    if moment.arrival.group:
        buttons.append([(moment.words["button_forget_all"], "f", ALL)])
    else:
        buttons = [[(moment.words["button_forget_all"], "f", ALL)]]
    return moment.say(moment.word("forget_ask", kept=_counted(moment, None)), buttons=buttons)


def confirmed(moment: Moment) -> Settled:
    """Delete it; all of a group only for one of its administrators."""
    if moment.press.choice == ALL and moment.admin is not True:
        return moment.refused()
    person = None if moment.press.choice == ALL else moment.arrival.person
    said = moment.word("forgotten", kept=_counted(moment, person))
    row = {"chat": moment.arrival.chat, "person": person}
    return moment.say(said, [Change("forget", row=row)])


def _counted(moment: Moment, person: int | None) -> str:
    counts = moment.memory.look(lambda book: held(book, moment.arrival.chat, person))
    things = chat(moment.site.language)["kept_things"]
    told = [things[name][min(number, 2) - 1].format(number) for name, number in counts.items() if number]
    return ", ".join(told) or str(things["nothing"][0])
