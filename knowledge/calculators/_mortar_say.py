"""Results and sentences of a chosen mix."""

from __future__ import annotations

from knowledge.answers import Range
from knowledge.calculators._mortar_amounts import AMOUNTS
from knowledge.calculators._mortar_mix import Choice
from knowledge.ledger import Ledger
from knowledge.mixes import one_mix, spell
from knowledge.questions import Mix

_WORST = {"too strong": 2, "too weak": 1, "suitable": 0}


def results(ledger: Ledger, choices: list[Choice], said: Mix | None, said_class: str | None) -> None:
    main = choices[0]
    ledger.result("mix", main.mix)
    ledger.result("mortar_class", main.name)
    designation = ledger.book.seek("mortar.designation", kind=main.name)
    if designation is not None:
        ledger.cite(designation)
        ledger.result("designation", designation.choice)
    verdicts = [choice.verdict for choice in choices if choice.verdict is not None]
    if verdicts:
        ledger.result("verdict", max(verdicts, key=lambda verdict: _WORST[verdict]))
    if len(choices) > 1:
        for choice in choices:
            leaf = "outer" if choice.side.material == "clay_brick" else "inner"
            ledger.result(f"{leaf}_mix", choice.mix)
            ledger.result(f"{leaf}_class", choice.name)
            if choice.verdict is not None:
                ledger.result(f"{leaf}_verdict", choice.verdict)
        ledger.note(
            "Two mixes: "
            + "; ".join(
                f"{'brick' if c.side.material == 'clay_brick' else 'block'} leaf {spell(c.mix)}"
                for c in choices
            )
            + "."
        )
    for choice in choices:
        explain(ledger, choice, said, said_class)
    if main.verdict != "suitable":
        for each in (main.proposed, main.other):
            ledger.result("lime_mix" if each.lime > 0 else "plasticised_mix", each)
    if said is None:
        masonry = ledger.book.seek("mortar.masonry_cement", kind=main.name)
        if masonry is not None and masonry.mix is not None:
            ledger.cite(masonry)
            ledger.rule("mortar.no_lime_with_masonry_cement")
            least, most = masonry.mix.sand
            ledger.result("masonry_cement_sand", Range(min=least, max=most))
    elif said.lime > 0 and said.cement > 0:
        _lime_balance(ledger, said)


def _lime_balance(ledger: Ledger, mix: Mix) -> None:
    """Whether the sand fits the binder; a note, no verdict."""
    span = ledger.rule("mortar.sand_to_binder")
    least, most = span.min or 0.0, span.max or 0.0
    times = mix.sand / (mix.cement + mix.lime)
    ledger.step("sand to binder", f"{mix.sand:g} / ({mix.cement:g} + {mix.lime:g})", round(times, 3))
    if times < least:
        ledger.note("A lot of lime for that sand: the classes have less.")
    elif times > most:
        ledger.note("Little lime for that sand: it will be harsher than the class.")


def place_words(ledger: Ledger, choice: Choice) -> None:
    """What the place asks beyond the mix."""
    place, material = choice.side.place, choice.side.material
    quakes = ledger.book.seek("mortar.seismic")
    if quakes is not None:
        ledger.cite(quakes)
    if place == "below_dpc":
        rated, sulfate = (ledger.book.seek(f"mortar.{name}") for name in ("below_dpc_rated", "sulfate"))
        for rule in (rated, sulfate):
            if rule is not None:
                ledger.cite(rule)
        enough = rated.value if rated is not None else None
        weak = choice.side.strength is None or choice.side.strength < (enough or 0)
        if material == "aac" or (material == "aggregate" and weak):
            ledger.caution("mortar.caution.below_dpc")
        ledger.caution("mortar.caution.aggressive")
    if place in ("parapet", "freestanding"):
        coping = ledger.book.seek("mortar.coping")
        if coping is not None and coping.mix is not None:
            ledger.cite(coping)
            ledger.result("coping_mix", one_mix(coping.mix))


def explain(ledger: Ledger, choice: Choice, said: Mix | None, said_class: str | None) -> None:
    """The sentences that go with a choice: the verdict, the alternatives, the habit where it differs."""
    what = spell(said) if said else said_class
    strong = choice.verdict == "too strong"
    if strong or choice.verdict == "too weak":
        turn = "Richer than this unit and place take" if strong else "Weaker than the place allows"
        ledger.note(f"{what} is {choice.verdict}: {turn.lower()}. Lay with {_with(ledger, choice.proposed)}.")
        if strong:
            ledger.rule("mortar.no_stronger")
    elif choice.side.material == "aac" and choice.mix.lime == 0 and ledger.reading.plasticiser is not True:
        more = additive(ledger)
        if more:
            ledger.note(f"Without lime it wants a {more}, or it is harsh and hard on the block.")
    if _measuring(ledger):
        return
    if (
        choice.verdict != "suitable"
        and ledger.reading.plasticiser is None
        and choice.other != choice.proposed
    ):
        ledger.note(f"Or {_with(ledger, choice.other)}.")
    habit = ledger.book.seek("mortar.habit", material=choice.side.material)
    if habit is not None and habit.mix is not None and choice.side.place != "below_dpc":
        usual = one_mix(habit.mix)
        ledger.cite(habit)
        if usual not in (choice.other, choice.proposed):
            ledger.result("habit_mix", usual)
            ledger.note(
                f"By habit it is laid {spell(usual)}; the codes take {choice.normal}, "
                f"{spell(choice.proposed)}."
            )


def _measuring(ledger: Ledger) -> bool:
    """Whether an amount is asked for: then alternatives and habits are left out."""
    reading = ledger.reading
    return bool({*AMOUNTS, "batch"} & set(ledger.question.wants) or reading.bags or reading.buckets)


def additive(ledger: Ledger) -> str:
    """What a mix without lime wants in it here; "" where it is laid as it is."""
    rule = ledger.book.seek("mortar.additive")
    if rule is None:
        return "mortar plasticiser"
    ledger.cite(rule)
    return rule.choice or ""


def _with(ledger: Ledger, mix: Mix) -> str:
    """A mix to lay with; without lime with what it wants instead."""
    more = "" if mix.lime > 0 else additive(ledger)
    return f"{spell(mix)} and a {more}" if more else spell(mix)
