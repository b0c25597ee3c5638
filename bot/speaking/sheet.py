"""The wall sheet: A4 pages as PDF, with drawing, numbers, orders, ticks, cautions, rules and sources.

Imported only where a sheet is asked for: it brings the PDF library with it.
"""

from __future__ import annotations

from typing import Any

from bot.speaking.binding import bind
from bot.speaking.drawing import NoDrawing, title
from bot.speaking.echo import echo
from bot.speaking.elevation import draw
from bot.speaking.numerals import tidy
from bot.speaking.setting import HEIGHT, MARGIN, ROOM, WIDTH, Block, Setter
from bot.speaking.strokes import Paper
from bot.speaking.whole import checks, orders, sayings, taken, topics
from knowledge.answers import Answer, Cited
from knowledge.figure import figure
from knowledge.questions import Question

Plain = dict[str, Any]
_SIZES = (8.8, 8.2, 7.6, 7.0, 6.6, 6.2)  # of the small print: the largest that fits on two pages
_SMALLER = 0.88  # rules and sources are looked up, not read through
UNNAMED = "from memory, not verified"  # how the rule book words a rule that no document is named for
_DRAWN = 262.0  # how tall the drawing may stand on the page


def sheet(record: Plain, question: Question, answer: Answer) -> bytes:
    """The sheet as PDF. Raises NoDrawing where the wall has no length."""
    low, high = 0, len(_SIZES) - 1
    pages = lay(record, question, answer, _SIZES[high])
    while low < high and len(pages) <= 2:
        middle = (low + high) // 2
        tried = lay(record, question, answer, _SIZES[middle])
        if len(tried) <= 2:
            high, pages = middle, tried
        else:
            low = middle + 1
    return bind(pages, title(question, sayings(record.get("language", "en"))["sheet"]["title"]))


def lay(record: Plain, question: Question, answer: Answer, size: float) -> list[Paper]:
    """The pages as strokes, small print in one size."""
    wall = figure(question, answer)
    if wall is None:
        raise NoDrawing("a sheet needs the length of the wall")
    language = record.get("language", "en")
    words = sayings(language)["sheet"]
    results = tidy(answer.results)
    own = results if answer.topic == "wall" else {answer.topic: results}
    set_ = Setter(size)
    set_.page.text((MARGIN, set_.y + 8), title(question, words["title"]), 16, bold=True)
    set_.y += 24
    for text in answer.first:
        set_.block(Block(text, f"{words['first']}:"))
    reading = echo(tidy(question.reading.plain()))
    set_.block(Block(f"{reading}.", f"{words['read']}:"))
    _picture(set_, draw(wall, ""))
    _numbers(set_, own, words, language)
    _orders(set_, own, words)
    cited = Sources(answer, words)
    _ticks(set_, own, words, language, cited)
    _cautions(set_, answer, own, words, cited)
    _assumed(set_, answer, words, cited)
    _rules(set_, words, cited)
    for place, page in enumerate(set_.pages, 1):
        _foot(page, words, place, len(set_.pages))
    return set_.pages


def _picture(set_: Setter, drawing: Paper) -> None:
    scale = min(ROOM / drawing.width, _DRAWN / drawing.height)
    set_.picture(drawing, MARGIN + (ROOM - drawing.width * scale) / 2, set_.y + 2, scale)
    set_.y += drawing.height * scale + 4


def _numbers(set_: Setter, own: Plain, words: Plain, language: str) -> None:
    told = topics(own, language)
    if told:
        set_.heading(words["numbers"])
        set_.columns([Block("; ".join(lines) + ".", f"{topic}:") for topic, lines in told])


def _orders(set_: Setter, own: Plain, words: Plain) -> None:
    rows: list[tuple[str, ...]] = list(orders(own))
    if rows:
        set_.heading(words["orders"], 60)
        heads = (words["thing"], words["sold"], words["exact"])
        set_.table(rows, (ROOM * 0.4, ROOM * 0.32, ROOM * 0.28), heads)


class Sources:
    """Sources by number, and which rules have been told already."""

    def __init__(self, answer: Answer, words: Plain) -> None:
        self.rules = {rule.id: rule for rule in answer.rules}
        self.words = words
        self.numbers: dict[str, int] = {}
        self.told: set[str] = set()  # statements

    def mark(self, rule: Cited) -> str:
        """' [3, 6.11.5] (memory)' after a statement."""
        if rule.standing == "common practice":
            return f" ({self.words['practice']})"
        memory = f" ({self.words['memory']})" if rule.standing == "from memory" else ""
        if rule.source == UNNAMED:
            return memory
        number = self.numbers.setdefault(rule.source, len(self.numbers) + 1)
        return f" [{number}{f', {rule.clause}' if rule.clause else ''}]{memory}"

    def tell(self, statement: str, rule: Cited | None = None) -> str:
        """A statement with the mark of its rule, where it is one; it is not told again."""
        self.told.add(statement)
        rule = rule or next((rule for rule in self.rules.values() if rule.statement == statement), None)
        return statement + self.mark(rule) if rule is not None else statement

    def left(self) -> list[tuple[str, str]]:
        """Every source under its number with what it says that was not told yet; practice and memory last."""
        groups: dict[str, list[str]] = {}
        loose: dict[str, list[str]] = {self.words["practices"]: [], self.words["memories"]: []}
        for rule in self.rules.values():
            if rule.statement in self.told:
                continue
            self.told.add(rule.statement)
            if rule.standing == "common practice" or rule.source == UNNAMED:
                name = "practices" if rule.standing == "common practice" else "memories"
                loose[self.words[name]].append(rule.statement)
                continue
            self.numbers.setdefault(rule.source, len(self.numbers) + 1)
            clause = f" ({rule.clause})" if rule.clause else ""
            groups.setdefault(rule.source, []).append(f"{rule.statement.rstrip('.')}{clause}.")
        found = []
        for source, number in self.numbers.items():
            said = " ".join(groups.get(source, ()))
            found.append((f"[{number}]", f"{source}{': ' + said if said else '.'}"))
        return found + [(f"{head}:", " ".join(said)) for head, said in loose.items() if said]


def _ticks(set_: Setter, own: Plain, words: Plain, language: str, cited: Sources) -> None:
    listed = checks(own, language)
    if listed:
        set_.heading(words["checks"])
        ticks = []
        for topic, entries in listed:
            said = [cited.tell(entry["check"], cited.rules[entry["rule"]]) for entry in entries]
            ticks += [Block(said[0], f"{topic}:", tick=True), *(Block(text, tick=True) for text in said[1:])]
        set_.columns(ticks)


def _cautions(set_: Setter, answer: Answer, own: Plain, words: Plain, cited: Sources) -> None:
    set_.heading(words["cautions"])
    measures = own.get("safety", {}).get("measures", ())
    said = dict.fromkeys([*answer.cautions, *measures])
    set_.columns([Block(cited.tell(text), "!") for text in said])
    notes = [text for text in answer.notes if text not in cited.told]
    if notes:
        set_.heading(words["notes"])
        set_.block(Block(" ".join(cited.tell(text) for text in notes)))


def _assumed(set_: Setter, answer: Answer, words: Plain, cited: Sources) -> None:
    """What was taken, with its reason once."""
    reasons: dict[str, list[str]] = {}
    for what, why in taken(tidy([entry._asdict() for entry in answer.assumed])):
        reasons.setdefault(why, []).append(what)
    if reasons:
        set_.heading(words["assumed"])
        set_.columns([Block(cited.tell(why), f"{', '.join(what)}:") for why, what in reasons.items()])


def _rules(set_: Setter, words: Plain, cited: Sources) -> None:
    """Every rule that was not told yet, under its source; the numbers are those of the marks above."""
    left = cited.left()
    if left:
        set_.heading(words["rules"])
        set_.size *= _SMALLER
        set_.columns([Block(words["marks"]), *(Block(said, head) for head, said in left)])


def _foot(page: Paper, words: Plain, place: int, count: int) -> None:
    y = HEIGHT - 26
    page.line((MARGIN, y - 8), (WIDTH - MARGIN, y - 8), 0.5, 120)
    page.text((MARGIN, y), words["foot"], 7.5)
    page.text((WIDTH - MARGIN, y), words["page"].format(place, count), 7.5, "right")
