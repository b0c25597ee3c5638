"""What a crack may be, how urgent it is and who must look. Never a clean bill of health by message."""

from __future__ import annotations

from knowledge.answers import Finding, Need, Option, Range
from knowledge.calculators import _crack_say as said
from knowledge.calculators._crack_signs import Signs, nothing_said, read
from knowledge.ledger import Ledger
from knowledge.questions import Crack, Quantity, Question, Reading
from knowledge.rulebook import RuleBook

_UNEVEN = ("stepped", "diagonal", "horizontal")


def answer(question: Question, book: RuleBook) -> list[Finding]:
    """Category, causes, checks, urgency and whether a person must look."""
    ledger = Ledger(question, book)
    if "certificate" in question.wants:
        return [ledger.decline("No crack can be certified by message: a surveyor or engineer must see it.")]
    if nothing_said(ledger):
        if question.wants != ("monitoring",):
            return [_ask(ledger)]
        ledger.result("monitoring", said.monitoring(ledger))
        ledger.caution("crack.caution.message")
        return [ledger.answer("monitoring")]
    width = question.reading.crack.width if question.reading.crack else None
    if width is not None and width.to("mm") <= 0:
        return [ledger.decline("A crack is wider than nothing: send its width in mm at the widest place.")]
    signs = read(ledger)
    urgency = _urgency(ledger, signs)
    _category(ledger, signs)
    ledger.result("urgency", urgency)
    ledger.result("refer", urgency != "watch")
    names = said.causes(ledger, signs)
    ledger.result("likely_causes", said.told(ledger, names))
    ledger.result("checks", said.checks(ledger, signs, urgency))
    if "monitoring" in question.wants or urgency == "watch":
        ledger.result("monitoring", said.monitoring(ledger))
    if "repair" in question.wants:
        ledger.result("repair", said.repair(ledger, signs, names, urgency != "watch"))
        _repoint(ledger)
    _note(ledger, signs)
    for name in ("message", "grows") if urgency == "watch" else ("message", "fill"):
        ledger.caution(f"crack.caution.{name}")
    return [ledger.answer("urgency", "category", "refer", "likely_causes", "checks")]


def _ask(ledger: Ledger) -> Need:
    """Width first; the buttons are the edges of the published bands."""
    tops = {rule.number(): rule.when.width.most for rule in ledger.book.records("crack.category")
            if rule.when.width}  # fmt: skip
    widths = (
        ("hairline, under {} mm", Quantity(value=tops[1] or 0, unit="mm", bound="under")),
        ("about {} mm", Quantity(value=ledger.book.find("crack.warn").to("mm"), unit="mm", bound="about")),
        ("over {} mm", Quantity(value=tops[2] or 0, unit="mm", bound="over")),
    )
    options = [Option(label=label.format(f"{width.value:g}"), reading=Reading(crack=Crack(width=width)))
               for label, width in widths]  # fmt: skip
    options.append(Option(label="the wall leans or bulges", reading=Reading(crack=Crack(leaning=True))))
    ask = (
        "How wide is it at the widest, in mm? Say too which way it runs and where. "
        "If the wall leans or bulges, or the crack grows: keep clear and call a structural engineer now."
    )
    return ledger.need("crack", ask, tuple(options), others=("crack_width",))


def _urgency(ledger: Ledger, signs: Signs) -> str:
    """ "now", "soon" or "watch"; what to do first where there is danger."""
    severe = ledger.book.find("crack.engineer.severe").number()
    moderate = ledger.book.find("crack.engineer.moderate").number()
    low, high = signs.low, signs.high
    exact = ledger.reading.crack and ledger.reading.crack.width and not ledger.reading.crack.width.bound
    wide = low is not None and high is not None and (low >= severe or (bool(exact) and high >= severe))
    danger = signs.leaning or signs.dropped or wide
    if danger:
        ledger.first(ledger.rule("crack.first.danger").statement)
    if wide:
        ledger.rule("crack.engineer.severe")
    if signs.growing:
        ledger.first(ledger.rule("crack.first.growing").statement)
    if danger or (signs.growing and (high is None or high >= moderate)):
        return "now"
    if high is not None and high >= moderate:
        ledger.rule("crack.engineer.moderate")
        return "soon"
    if signs.growing or _marked(signs):
        ledger.rule("crack.engineer.signs")
        return "soon"
    warn = ledger.book.find("crack.warn")
    if signs.width is not None and signs.width > warn.to("mm") + 1e-9:
        return "soon"
    return "watch"


def _marked(signs: Signs) -> bool:
    """Whether place or pattern alone sends a person there."""
    if signs.place in ("bearing", "retaining"):
        return True
    if signs.pattern == "horizontal":
        return signs.place not in ("coat", "ceiling")
    return signs.pattern in ("stepped", "diagonal") and signs.width is None and signs.place != "coat"


def _category(ledger: Ledger, signs: Signs) -> None:
    """The damage category, two of them on an edge, and what is at stake."""
    low, high = signs.low, signs.high
    if signs.leaning or signs.dropped:
        lean = ledger.rule("crack.lean")
        least = int(lean.number())
        top = max(int(rule.number()) for rule in ledger.book.records("crack.category"))
        if low is None or low < least:
            low, high = least, top
    if low is None or high is None:
        shows = ledger.rule("crack.shows")
        ledger.note(f"Send the width in mm at the widest for its damage category. {shows.statement}")
        return
    ledger.result("category", low if low == high else {"min": low, "max": high})
    ledger.result("group", ledger.rule("crack.group", kind=str(high)).choice)


def _note(ledger: Ledger, signs: Signs) -> None:
    """Two or three sentences that go with the results."""
    width, book = signs.width, ledger.book
    warn = book.find("crack.warn")
    if width is not None and ledger.results["category"] != signs.low and signs.low != signs.high:
        ledger.note(_edge(ledger, signs, width))
    probable = book.find("crack.width.probable")
    if width is not None and probable.max is not None and width > probable.span("mm")[1]:
        ledger.cite(probable)
        ledger.note(f"Taken as {width:g} mm wide. If that is its length, send the width.")
    if signs.leaning or signs.dropped:
        ledger.note(book.find("crack.lean").statement)
        return
    if width is None:
        return
    if width >= warn.to("mm") - 1e-9:
        ledger.note(ledger.rule("crack.warn").statement)
    else:
        place = next((p for p in signs.places if book.seek("crack.new_house", use=p)), None)
        normal = book.seek("crack.new_house", use=place) if place else None
        if normal is not None and width <= normal.to("mm") + 1e-9:
            ledger.cite(normal)
            ledger.note(normal.statement)
        elif not (signs.growing or signs.pattern in _UNEVEN or signs.place in ("bearing", "retaining")):
            ledger.note(ledger.rule("crack.decoration").statement)
    if width <= book.others("crack.hairline")[0].to("mm") + 1e-9:
        ledger.rule("crack.hairline")
        ledger.cite(book.others("crack.hairline")[0])
        ledger.rule("crack.structural")
    ledger.note(ledger.rule("crack.not_width_alone").statement)


def _edge(ledger: Ledger, signs: Signs, width: float) -> str:
    """Why two categories stand there: an edge of the bands, or only a bound was said."""
    bound = ledger.reading.crack.width.bound if ledger.reading.crack and ledger.reading.crack.width else None
    if bound in ("over", "under"):
        return f"{bound.capitalize()} {width:g} mm may be category {signs.low} to {signs.high}: measure it."
    return (
        f"{width:g} mm stands just on the edge of categories {signs.low} and {signs.high}. The digest counts "
        f"it as {signs.low}, some copies as {signs.high}: act on the higher."
    )


def _repoint(ledger: Ledger) -> None:
    """How deep to rake out, where repointing is among the methods."""
    rule = ledger.book.find("crack.method.repoint")
    if rule.statement not in ledger.results["repair"] or rule.min is None or rule.max is None:
        return
    thick = ledger.reading.joint_thickness
    joint = thick.to("mm") if thick else ledger.taken("joint_thickness").to("mm")
    depth = Range(min=round(rule.min * joint, 3), max=round(rule.max * joint, 3), unit="mm")
    ledger.result("repoint_depth", depth)
    ledger.step("rake out", f"{rule.min:g} to {rule.max:g} × {joint:g} mm", depth)
