"""Bed joint reinforcement: at openings, through a wall, its laps, cover and pieces to buy."""

from __future__ import annotations

from knowledge import shown
from knowledge.answers import Finding, Need, Range
from knowledge.calculators._reinforcement_runs import Run, at_openings, said_spacing, throughout
from knowledge.cutting import lapped
from knowledge.ledger import Ledger
from knowledge.pieces import wall_height
from knowledge.questions import Question
from knowledge.records import Rule
from knowledge.rulebook import RuleBook

_GENERAL = ("beds", "projection", "lap", "cover", "spacing", "panel_length", "material")
_AMOUNTS = {"total_length", "pieces", "runs"}


def answer(question: Question, book: RuleBook) -> list[Finding]:
    """Runs, total length and pieces of a wall; or what the rules say where no wall is asked about."""
    ledger = Ledger(question, book)
    reading, wants = question.reading, set(question.wants)
    feet = ledger.feet
    if "spacing" in wants and reading.openings and not reading.length:
        wants = (wants - {"spacing"}) | {"beds"}  # which courses: those above and below each
    nothing = not (reading.openings or reading.length or reading.height)
    if "spacing" in wants and reading.length and reading.height and not reading.openings:
        # How far apart, of a wall that is known: how much it takes goes with it; beds at openings do not.
        wants = (wants | _AMOUNTS) - {"beds", "projection"}
        along = said_spacing(ledger, reading.height.to("m"))
        if along is not None:
            wants -= {"spacing"}
            ledger.result("spacing", shown.thickness(along, feet))
    if not wants & _AMOUNTS and (wants or nothing):
        _general(ledger, wants or {"beds", "projection", "lap", "cover"}, feet)
    else:
        lacking = _amounts(ledger, nothing, feet)
        if lacking is not None:
            return [lacking]
        _general(ledger, wants - _AMOUNTS, feet)
    _say_always(ledger)
    return [ledger.answer("total_length", "pieces", "runs", *_GENERAL)]


def _amounts(ledger: Ledger, nothing: bool, feet: bool) -> Need | None:
    reading = ledger.reading
    if nothing:
        return ledger.need(
            "openings", "How many openings, and how wide is each?", others=("length", "height")
        )
    height = wall_height(ledger)
    runs: list[Run] = []
    if reading.openings:
        found = at_openings(ledger, feet)
        if isinstance(found, Need):
            return found
        runs += found
    along = reading.openings is None or (said_spacing(ledger, height) is not None and reading.length)
    if along or (not reading.openings and reading.bed_reinforcement):
        found = throughout(ledger, feet)
        if isinstance(found, Need):
            return found
        runs += found
        _longer(ledger)
        if reading.openings is None:
            ledger.note(
                "That is for a wall reinforced throughout. At openings only: send how many and how wide."
            )
    if not runs:
        _ratio(ledger)
        ledger.note("No opening, so no bed needs it there.")
    _totals(ledger, runs, feet)
    return None


def _totals(ledger: Ledger, runs: list[Run], feet: bool) -> None:
    """Sum of the runs, the list of them, and pieces with laps."""
    total = sum(run.count * run.length for run in runs)
    ledger.result("total_length", shown.length(total, feet))
    listed = [
        {"where": r.where, "count": r.count, "length": shown.length(r.length, feet)} for r in runs
    ]  # fmt: skip
    ledger.result("runs", listed)
    if not runs:
        return
    sums = " + ".join(f"{r.count} × {shown.say(shown.length(r.length, feet))}" for r in runs)
    ledger.step("all runs", sums, shown.length(total, feet))
    lap = ledger.rule("reinforcement.lap")
    said = ledger.reading.lap
    over = said.to("m") if said is not None else lap.to("m")
    stock = ledger.taken("stock_length")
    count = lapped(((run.length, run.count) for run in runs), stock.to("m"), over)
    ledger.result("pieces", count)
    long, short = shown.length(stock.to("m"), feet), shown.thickness(over, feet)
    ledger.step("pieces", f"runs cut from {shown.say(long)} lengths, laps {shown.say(short)}", count)
    ledger.rule("reinforcement.cover")
    if ledger.reading.leaf == "cavity":
        ledger.note("That is one leaf; the rule speaks of the outer one.")


def _general(ledger: Ledger, wants: set[str], feet: bool) -> None:
    """What the rule book says, every document of a figure that was asked for by name."""
    finish = ledger.reading.finish
    for name in (name for name in _GENERAL if name in wants):
        if name == "panel_length":
            _longer(ledger)
            continue
        rule = ledger.rule(f"reinforcement.{name}", finish=finish)
        ledger.result(name, _worth(rule, feet))
        if len(wants) == 1:
            for other in ledger.book.others(f"reinforcement.{name}", finish=finish):
                ledger.cite(other)
    if "spacing" in wants and "beds" not in wants and "runs" not in ledger.results:
        ledger.note(ledger.rule("reinforcement.beds", finish=finish).statement)
    if wants & {"beds", "projection", "spacing"}:
        ledger.rule("reinforcement.door")


def _worth(rule: Rule, feet: bool) -> object:
    """A figure as a result, in the asker's units."""
    if rule.choice is not None:
        return rule.choice
    return shown.thickness(rule.to("m"), feet) if rule.unit else int(rule.number())


def _longer(ledger: Ledger) -> None:
    """Whether reinforcement lengthens a panel of this material."""
    reading = ledger.reading
    block = reading.block
    material: str | None = block.material if block is not None else None
    if material is None:
        material = str(ledger.taken("material").choice)
    height = wall_height(ledger)
    every = said_spacing(ledger, height)
    gap = every * 1000 if every is not None else ledger.book.find("reinforcement.spacing").to("mm")
    rule = ledger.rule("reinforcement.longer", material=material, spacing=gap)
    for other in ledger.book.others("reinforcement.longer", material=material, spacing=gap):
        ledger.cite(other)
    if rule.min is not None and rule.max is not None:
        ledger.result("panel_length", Range(min=rule.min, max=rule.max, unit=rule.unit))
    ledger.note(rule.statement)


def _ratio(ledger: Ledger) -> None:
    """A long low panel wants reinforcement even without openings."""
    reading = ledger.reading
    rule = ledger.rule("reinforcement.ratio")
    if reading.length is None or reading.height is None:
        return
    ratio = reading.length.to("m") / reading.height.to("m")
    ledger.step(
        "length to height", f"{shown.say(reading.length)} ÷ {shown.say(reading.height)}", round(ratio, 2)
    )
    if ratio > rule.number():
        ledger.note(rule.statement)


def _say_always(ledger: Ledger) -> None:
    ledger.rule("reinforcement.stops")
    ledger.rule("reinforcement.material")
    thickness = ledger.reading.joint_thickness
    thin = ledger.book.seek("reinforcement.thin_joint", width=thickness.to("mm") if thickness else None)
    if thin is not None:
        ledger.cite(thin)
        ledger.note(thin.statement)
        for other in ledger.book.others("reinforcement.thin_joint"):
            ledger.cite(other)
    ledger.note("Stop every run at a movement joint, never through it.")
    ledger.caution("reinforcement.caution.lintel")
    ledger.caution("cautions.joints")
