"""What temperature, rain and wind allow: "go", "protect" or "stop", each with its reason."""

from __future__ import annotations

from dataclasses import dataclass

from knowledge.ledger import Ledger
from knowledge.questions import Quantity
from knowledge.records import Rule

LEVELS = ("go", "protect", "stop")
_HAIR = 1e-6  # 'over 3 °C' is just over 3


@dataclass(frozen=True)
class Job:
    """The work, and what sets other limits to it: "lime" mortar, thin joints."""

    work: str
    kind: str | None = None
    thin: bool | None = None


@dataclass(frozen=True)
class Judged:
    """A level and the sentence that goes with it."""

    level: str
    why: str = ""


def job(ledger: Ledger) -> Job:
    """What is to be done, as said or by habit."""
    reading = ledger.reading
    work = reading.work or str(ledger.taken("work", finish=reading.finish).choice)
    mix = reading.mix
    if work == "lay" and mix is not None and mix.lime and not mix.cement:
        return Job(work, kind="lime")
    thin = ledger.book.find("blocks.thin_joint").span("mm")[1]
    joint = reading.joint_thickness
    if work == "lay" and joint is not None and joint.to("mm") <= thin:
        return Job(work, thin=True)
    return Job(work)


def limit(ledger: Ledger, figure: str, doing: Job) -> Rule:
    """A limit for this work: "stop", "resume", "guard" or "hot"."""
    return ledger.rule(f"weather.{figure}", use=doing.work, kind=doing.kind, thin_joint=doing.thin)


def degrees(said: Quantity) -> float:
    """In °C; just over or under where only a bound was said."""
    shift = {"over": _HAIR, "under": -_HAIR}.get(said.bound or "", 0.0)
    return round(said.to("°C"), 4) + shift


def warmth(rule: Rule) -> float:
    """A limit in °C, whatever its document has."""
    return round(rule.to("°C"), 4)


def judge_cold(ledger: Ledger, doing: Job, air: float) -> Judged:
    """At and under the limit, and near it."""
    book, facts = ledger.book, {"use": doing.work, "kind": doing.kind}
    band = book.seek("weather.band", use=doing.work, temperature=air)
    if band is not None:
        ledger.cite(band)
        return Judged(str(band.choice), band.statement)
    least = book.find("weather.stop", use=doing.work, kind=doing.kind, thin_joint=doing.thin)
    guard = book.find("weather.guard", use=doing.work)
    if air > max(warmth(least), warmth(guard)):
        return Judged("go")
    stop = limit(ledger, "stop", doing)
    trend = ledger.reading.trend or str(ledger.taken("trend").choice)
    resume = limit(ledger, "resume", doing)
    for other in (*book.others("weather.stop", **facts), *book.others("weather.resume", **facts)):
        ledger.cite(other)
    if trend == "rising" and air >= warmth(resume):
        return _warming(ledger, doing, air, stop, resume)
    if air <= warmth(stop) or (doing.work == "render" and trend == "rising"):
        return Judged("stop", f"{stop.statement} {resume.statement}")
    ledger.cite(guard)
    # The warning for render lies well over its stop: one without the other misleads.
    also = f" {stop.statement}" if doing.work == "render" else ""
    return Judged("protect", f"{guard.statement}{also}")


def _warming(ledger: Ledger, doing: Job, air: float, stop: Rule, resume: Rule) -> Judged:
    """Cold still, but getting warmer."""
    if doing.work == "render":
        guard = ledger.book.find("weather.guard_rising", use=doing.work)
        if air >= warmth(guard):
            return Judged("go")
        ledger.cite(guard)
        return Judged("protect", f"{resume.statement} {guard.statement}")
    if air > warmth(stop):
        return Judged("protect", ledger.rule("weather.guard", use=doing.work).statement)
    warm = ledger.rule("weather.mortar_warm")
    ledger.rule("weather.expected")
    return Judged("protect", f"{resume.statement} {warm.statement}")


def judge_heat(ledger: Ledger, doing: Job, air: float) -> Judged:
    """Over the limit of heat; render stops already at it."""
    hot = ledger.book.find("weather.hot", use=doing.work)
    render = doing.work == "render"
    if air < warmth(hot) or (air == warmth(hot) and not render):
        return Judged("go")
    ledger.cite(hot)
    for other in ledger.book.others("weather.hot", use=doing.work):
        ledger.cite(other)
    if render and ledger.reading.trend != "falling":
        return Judged("stop", hot.statement)
    if not render:
        ledger.rule("weather.mortar_hot")
    return Judged("protect", hot.statement)


def judge_sky(ledger: Ledger, doing: Job) -> list[Judged]:
    """Rain, wind and frost that were said."""
    found = []
    for name, said in (("rain", ledger.reading.rain), ("wind", ledger.reading.wind)):
        if said:
            rule = ledger.rule(f"weather.{name}", use=doing.work)
            found.append(Judged(str(rule.choice), rule.statement))
    if ledger.reading.frost is not None:
        rule = ledger.rule(f"weather.frost.{ledger.reading.frost}", use=doing.work)
        found.append(Judged(str(rule.choice), rule.statement))
    if ledger.reading.rain and doing.work == "render":
        ledger.rule("weather.soaked")
    if ledger.reading.wind and doing.work == "lay":
        for name in ("wind.factors", "wind_bands", "wind_brace", "wind_clear"):
            ledger.rule(f"weather.{name}")
    return found
