"""Every handler of the chat, each with a scene that reaches it: what comes before, is done, and is seen.

`of` names the handlers that the row tries. `names()` takes them from the program itself, so that one which
comes new without a row here fails a test.
"""

from dataclasses import dataclass
from typing import get_args

from bot.fronts.desk import desk, screens
from bot.fronts.desk.buttons import SIZES
from bot.fronts.telegram_arrival import Kind
from bot.fronts.telegram_take import KINDS
from bot.fronts.telegram_yard import COMMANDS as YARD
from bot.languages import chat
from bot.talking.state import Choice

PLAIN, HOSTILE = "brindlewick", "<b>brindlewick</b>&amp;"
"""A name that people give, and the same as somebody gives it who tries what it does."""


def names() -> set[str]:
    """Every handler that the program has."""
    return {
        *(f"/{name}" for name in (*desk.COMMANDS, *screens.COMMANDS, *YARD)),
        *(f"press {verb}" for verb in desk.PRESSES),
        *(f"choice {name}" for name in Choice.model_fields if name != "label"),
        *(f"kind {name}" for name in get_args(Kind)),
        *(f"update {name}" for name in KINDS),
        *(f"typed {name}" for name in (*chat("en")["typed"], *SIZES)),
    }


@dataclass(frozen=True)
class Row:
    """`before` and `do` are steps of `tests.chat.hands`, `{name}` in them a name; `sees` comes back.

    `private`: with the bot alone; else in a group. `foreman`: of the queue. `admin`: of the group.
    `past`: it goes past the queue, as what is asked inline does.
    """

    of: str
    do: str
    sees: str
    before: tuple[str, ...] = ()
    method: str = "sendMessage"
    private: bool = True
    foreman: bool = False
    admin: bool = False
    past: bool = False

    @property
    def is_press(self) -> bool:
        """Whether a button is pressed."""
        return self.do[0] in "[!"

    def __str__(self) -> str:
        """How a test names it."""
        return f"{self.of} {self.do}"[:60]


WALL = "how many blocks for 10 x 2.4"
NAMED = "joints for 10 m wall 2.4 high {name}"
KEPT = (WALL, "/keep {name}")
TWO = "blocks for two walls, A 10 x 2.4 and B 6 m x 2.4"
CMU = "60 ft cmu wall 8 ft high, joints"
EDIT = "editMessageText"

COMMANDS = (
    Row("/start", "/start", "Ask about a wall of lightweight blocks"),
    Row("/help", "/help", "Say the wall and the job"),
    # common practice: aircrete has a joint at least every 6 m
    Row("/ask, kind command", "/ask joints for 18 m", "3 movement joints", private=False),
    Row("/ask", "/ask", "Put the question behind it"),
    Row("/new", "/new", "Ready for another wall", (WALL,)),
    Row("typed help", "Help!", "Say the wall and the job"),
    Row("/keep", "/keep {name}", "Kept as “{name}”: length 10 m, height 2.4 m", (WALL,)),
    Row("/keep", "/keep {name}", "{name} B: length 6 m", (TWO,)),
    Row("/undo", "/undo", "2 walls are off the list", (TWO, "/keep {name}")),
    Row("/walls", "/walls", "{name}: length 10 m, height 2.4 m", KEPT),
    Row("/open", "/open {name}", "In force: “{name}”, length 10 m", (*KEPT, "/new")),
    Row("/rename", "/rename {name} to south {name}", "“{name}” is now “south {name}”", KEPT),
    Row("/scrap", "/scrap {name}", "“{name}” is off the list", KEPT),
    Row("/undo", "/undo", "Undone. “{name}”: length 10 m", (*KEPT, "/scrap {name}")),
    Row("/total", "/total", "To order for 1 kept wall,", KEPT),
    Row("/sheets", "/sheets", "Wall sheets, one after the other: {name}", KEPT, "sendDocument"),
    Row("/record", "/record", "Site record in full", (NAMED,), "sendDocument"),
    Row("/names", "/names", "What is kept", private=False),
    Row("/site", "/site", "This site", private=False),
    Row("/forget", "/forget", "Kept of this chat: 1 wall", KEPT),
    Row("/forget", "/forget", "What shall go?", ("/ask joints for 18 m",), private=False),
)
SITE = (
    Row("typed clears", "/site clear", "the units of the question", ("/site feet",)),
    Row("typed units_asked", "/site as asked", "the units of the question", ("/site feet",)),
    Row("typed units_metric", "/site metric", "Answers in: metric"),
    Row("typed units_feet", "/site feet", "Answers in: feet and inches", private=False, admin=True),
    Row("/site", "/site region US", "the United States (US)", private=False, admin=True),
    Row("/site", "/site language English", "Language: English"),
    Row("typed block", "/site blocks 600 x 250 x 100", "600 × 250 × 100 mm"),
    Row("typed bag_size", "/site 20 kg bags", "20 kg"),
    Row("typed bucket_size", "/site 12 litre buckets", "12 l"),
    Row("typed roll", "/site roll 1 x 25 m", "1 × 25 m"),
    Row("typed board", "/site board 1200 x 2400", "1200 × 2400"),
    Row("/site", "/site feet", "only an administrator", private=False),
)
YARD_ROWS = (
    Row("/yard", "/yard", "Coming in: ", foreman=True),
    Row("/rejects", "/rejects", "/relay in ", ("*malformed",), foreman=True),
    Row("/relay", "=/relay in \\d+", "It goes round again", ("*malformed", "/rejects"), foreman=True),
    Row("/crackon", "/crackon", "At work", foreman=True),
    Row("/downtools", "/downtools", "Tools are down", foreman=True),
)
PRESSES = (
    Row("press w", "[Workings", "Workings: joints for 10 m wall 2.4 high {name}", (NAMED,)),
    Row("press d", "[Draw it", "length 10 m, height 2.4 m", (NAMED,), "sendPhoto"),
    Row("press s", "[Wall sheet", "length 10 m, height 2.4 m", (NAMED,), "sendDocument"),
    Row("press m", "[Misread", "Which part was read wrong", (NAMED,)),
    Row("press m", "[Misread", "Which wall was read wrong", (TWO,)),
    Row("press v", "[B", "Wall B: which part", (TWO, "[Misread")),
    Row("press c", "[length 10 m", "Taken out: length 10 m", (NAMED, "[Misread")),
    Row("press c", "[length 6 m", "Wall B, taken out: length 6 m", (TWO, "[Misread", "[B")),
    Row("press o", "[{name}", "In force: “{name}”, length 10 m", (*KEPT, "/new", "/walls")),
    Row("press t", "[Total of all", "To order for 2 kept walls", (*KEPT, "/keep two", "/walls")),
    Row(
        "press p",
        "[Sheets of all",
        "one after the other: {name}, two",
        (*KEPT, "/keep two", "/walls"),
        "sendDocument",
    ),
    Row("press r", "[The United", "(US)", ("/site",), private=False, admin=True),
    Row("press u", "[Feet and", "Answers in: feet", ("/site",), private=False, admin=True),
    Row("press l", "!2:l:{turn}:0", "Language: English", ("/site",)),
    Row(
        "press z", "[20 kg bags", "bag size 20 kg", ("how many bags of cement to render 60 m2 outside",), EDIT
    ),
    Row("press z", "[Ours differ", "/site 40 kg bags", ("how many bags of cement to render 60 m2 outside",)),
    Row(
        "press n", "[Keep who asked", "by account number, from now on", ("/names",), private=False, admin=True
    ),
    Row("press f", "[Forget all", "Deleted: 1 wall", (*KEPT, "/forget")),
    Row(
        "press f",
        "[Forget what is mine",
        "Deleted: 1 answer",
        ("/ask joints for 18 m", "/forget"),
        private=False,
    ),
    Row("press x", "[joints for 18 m", "3 movement joints", ("/start",)),
)
CHOICES = (
    Row(
        "choice slots, kind press, update callback_query",
        "[30 ft",
        "length 30 ft",
        ("30 long 8 high joints",),
        EDIT,
    ),
    Row("choice topic", "[How many blocks", "blocks; order", ("10 x 2.4 wall",), EDIT),
    Row(
        "choice wall, choice said",
        "[Wall 2",
        "1 window",
        (TWO.replace("A ", "").replace("B ", ""), "the window is 1200x1050"),
        EDIT,
    ),
    Row(
        "choice way",
        "[In each",
        "1 window",
        ("two like walls 6 m x 2.4 blocks", "add a window 1200x1050"),
        EDIT,
    ),
    Row("choice region", "[the United", "rules of the United States", (CMU,), EDIT),
    Row("choice region", "[the United", "Your own questions here", (f"/ask {CMU}",), EDIT, private=False),
    Row(
        "choice region",
        "[the United",
        "From now on this group",
        (f"/ask {CMU}",),
        EDIT,
        private=False,
        admin=True,
    ),
    Row(
        "choice region",
        "@perpend_bot the United States",
        "Your own questions here",
        (f"/ask {CMU}",),
        private=False,
    ),
    Row("choice slots", "metres", "length 30 m", ("30 long 8 high joints",)),
)
TALK = (
    Row("kind text, update message", NAMED, "2 movement joints"),
    Row("kind text", "and at 20?", "length 20 m", ("joints for 18 m",)),
    Row("kind text", "@perpend_bot joints for 18 m", "3 movement joints", private=False),
    Row("kind text", ">and at 20?", "length 20 m", ("/ask joints for 18 m",), private=False),
    Row("kind edit, update edited_message", "~joints for 24 m", "length 24 m", ("joints for 18 m",), EDIT),
    Row("kind edit", "~/ask joints for 24 m", "length 24 m", ("/ask joints for 18 m",), EDIT, private=False),
    Row("kind wordless", "*location", "Only words are read here"),
    Row("kind nothing", "*title", ""),
    Row("kind moved", "*moved", "", ("/ask joints for 18 m",), private=False),
    Row("update inline_query", "?joints for 18 m", "3 movement joints", past=True),
    Row("update inline_query", "?answer {turn}", "2 movement joints", (NAMED,), past=True),
)
ROWS = (*COMMANDS, *SITE, *PRESSES, *CHOICES, *TALK, *YARD_ROWS)
