"""Whether to lay or render in this weather, and how to protect the work."""

from __future__ import annotations

from dataclasses import replace

from knowledge.answers import Decline, Finding, Need, Option, quantity
from knowledge.calculators import _weather_air as air
from knowledge.calculators._weather_air import Job, Judged
from knowledge.ledger import Ledger
from knowledge.questions import Quantity, Question, Reading
from knowledge.records import Rule
from knowledge.rulebook import RuleBook
from knowledge.units import convert

_GENERAL = {"limit", "protection", "waiting_time"}


def answer(question: Question, book: RuleBook) -> list[Finding]:
    """A verdict where the weather was said, the limits where they were asked."""
    ledger = Ledger(question, book)
    reading, wants = question.reading, set(question.wants)
    said = reading.temperature
    if said is None and not (reading.rain or reading.wind or reading.frost or wants & _GENERAL):
        return [
            ledger.need("temperature", f"How warm is it, in {home(ledger)}, and is it rising or falling?")
        ]
    if said is not None:
        doubted = _doubt(ledger, said)
        if doubted is not None:
            return [doubted]
    doing = air.job(ledger)
    found = air.judge_sky(ledger, doing)
    cold = heat = Judged("go")
    if said is not None:
        cold = air.judge_cold(ledger, doing, air.degrees(said))
        heat = air.judge_heat(ledger, doing, air.degrees(said))
    found = [*(one for one in (cold, heat) if one.why), *found]
    if said is not None or found:
        levels = [air.LEVELS.index(one.level) for one in found]
        ledger.result("verdict", air.LEVELS[max(levels, default=0)])
    for one in sorted(found, key=lambda judged: -air.LEVELS.index(judged.level)):
        ledger.note(one.why)
    if said is None and found:
        ledger.note("Send the temperature too: cold and heat have limits of their own.")
    _limits(ledger, doing, said, hot=bool(heat.why and not cold.why))
    _protect(ledger, doing, cold, bool(found))
    _cautions(ledger, cold, heat, said)
    return [ledger.answer("verdict", "limit", "resume_from", "protection")]


def home(ledger: Ledger) -> str:
    """The degrees of the region."""
    return ledger.book.region.units.get("temperature", "°C")


def _doubt(ledger: Ledger, said: Quantity) -> Decline | Need | None:
    """Air in which nobody builds is asked as the other degree, or declined."""
    possible = ledger.book.find("weather.possible")

    def fits(one: Quantity) -> bool:
        return (possible.min or 0) <= one.to("°C") <= (possible.max or 0)

    if fits(said):
        return None
    other = replace(said, unit="°F" if said.unit == "°C" else "°C")
    shown = f"{said.value:g} {said.unit}"
    if not fits(other):
        return ledger.decline(f"{shown} cannot be right. {possible.statement} Send the temperature again.")
    label = f"{other.value:g} {other.unit}"
    return ledger.need(
        "temperature", f"{shown} cannot be right: was {label} meant?",
        (Option(label=label, reading=Reading(temperature=other)),),
    )  # fmt: skip


def _limits(ledger: Ledger, doing: Job, said: Quantity | None, hot: bool) -> None:
    """When to stop and when to start again, in the asker's degrees; in heat the limit is that of heat."""
    unit = said.unit if said is not None else home(ledger)

    def shown(rule: Rule) -> Quantity:
        return quantity(convert(rule.number(), rule.unit, unit), unit, 2)

    asked = "limit" in ledger.question.wants
    if said is None and not asked:
        return
    if hot and not asked:
        ledger.result("limit", shown(air.limit(ledger, "hot", doing)))
        return
    ledger.result("limit", shown(air.limit(ledger, "stop", doing)))
    ledger.result("resume_from", shown(air.limit(ledger, "resume", doing)))
    if asked:
        ledger.result("hot_limit", shown(air.limit(ledger, "hot", doing)))
        for figure in ("stop", "resume", "hot"):
            for other in ledger.book.others(f"weather.{figure}", use=doing.work):
                ledger.cite(other)
        if doing.work == "lay":
            ledger.rule("weather.repointing")
        ledger.note(air.limit(ledger, "stop", doing).statement)
    if doing.kind == "lime":
        ledger.note(ledger.rule("weather.lime.putty").statement)


def _protect(ledger: Ledger, doing: Job, cold: Judged, bad: bool) -> None:
    """How to protect the work, where the weather or the question wants it."""
    asked = {"protection", "waiting_time"} & set(ledger.question.wants)
    if not (bad or asked):
        return
    names: list[str] = []
    if doing.work == "lay":
        names = ["cover", "cover_top"]
        ledger.rule("weather.lift")
        if cold.why or asked:
            days = ledger.rule("weather.cover_days")
            for other in ledger.book.others("weather.cover_days"):
                ledger.cite(other)
            ledger.result("waiting_time", quantity(days.number(), days.unit))
            names = ["cover_days", *names, "no_chloride"]
            ledger.rule("weather.rebuild")
            ledger.rule("weather.rake_out")
            for other in ledger.book.others("weather.no_chloride"):
                ledger.cite(other)
    elif cold.why or asked:
        names = ["soaked", "cover"]
    else:
        names = ["cover"]
    lines = [ledger.rule(f"weather.{name}").statement for name in names]
    cure = ledger.book.seek("weather.cure", use=doing.work)
    if cure is not None:
        ledger.cite(cure)
        lines.append(cure.statement)
    inside = ledger.book.seek("weather.heat_before", finish=ledger.reading.finish)
    if doing.work == "render" and inside is not None:
        ledger.cite(inside)
        ledger.result("waiting_time", quantity(inside.number(), inside.unit))
        lines.append(inside.statement)
    ledger.result("protection", lines)


def _cautions(ledger: Ledger, cold: Judged, heat: Judged, said: Quantity | None) -> None:
    ledger.caution("weather.caution.forecast")
    if cold.why:
        ledger.caution("weather.caution.frost")
    if heat.why:
        ledger.caution("weather.caution.heat")
    sets = ledger.book.find("weather.sets_no_more")
    if said is not None and said.to("°C") <= 0:
        ledger.cite(sets)
