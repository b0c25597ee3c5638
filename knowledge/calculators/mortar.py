"""Mortar: which mix, whether a mix is right, how it is mixed, and how much of it."""

from __future__ import annotations

from knowledge.answers import Answer, Finding, Need, Option, Range
from knowledge.calculators import _mortar_mix as mixing
from knowledge.calculators._mortar_amounts import AMOUNTS, amounts, missing
from knowledge.calculators._mortar_batch import batch
from knowledge.calculators._mortar_site import SITE, tell
from knowledge.ledger import Ledger
from knowledge.mixes import class_of, one_mix, spell
from knowledge.questions import Mix, Question, Reading
from knowledge.rulebook import RuleBook

_WORST = {"too strong": 2, "too weak": 1, "suitable": 0}


def answer(question: Question, book: RuleBook) -> list[Finding]:
    """One finding: the mix and its verdict, the amounts, the gauging, or the rule that was asked for."""
    ledger = Ledger(question, book)
    wants = set(question.wants)
    tell(ledger, question.wants)
    if wants and wants <= set(SITE):
        return [_close(ledger)]
    reading = question.reading
    thin = book.find("mortar.thin_joint")
    if reading.joint_thickness is not None and reading.joint_thickness.to("mm") <= (thin.max or 0):
        return [_thin_joint(ledger)]
    asked = _ask(ledger, wants)
    if asked is not None:
        return [asked]
    said, said_class = mixing.named(ledger)
    if _about_the_table(question):
        _from_the_table(ledger, said, said_class)
        return [_close(ledger)]
    choices = [mixing.choose(ledger, side, said, said_class) for side in mixing.sides(ledger)]
    _results(ledger, choices, said, said_class)
    laid = [said if said is not None else choice.mix for choice in choices]
    _place_words(ledger, choices[0])
    fault = amounts(ledger, [choice.side.material for choice in choices], laid)
    fault = fault or batch(ledger, laid[0], wants)
    return [fault] if fault is not None else [_close(ledger)]


def _ask(ledger: Ledger, wants: set[str]) -> Need | None:
    """What only the asker knows: the mix to judge, or the size of the wall for amounts."""
    reading = ledger.reading
    if reading.mix is not None and (reading.mix.sand <= 0 or reading.mix.cement + reading.mix.lime <= 0):
        return ledger.need("mix", "How many parts of cement, lime and sand?", _options(ledger))
    unknown = reading.mortar_class is not None and mixing.named(ledger) == (None, None)
    if reading.mix is None and (unknown or ("verdict" in wants and reading.mortar_class is None)):
        return ledger.need("mix", "Which mix is it: parts of cement, lime and sand?", _options(ledger))
    if wants & set(AMOUNTS) and reading.bags is None and reading.buckets is None:
        return missing(ledger)
    return None


def _options(ledger: Ledger) -> tuple[Option, ...]:
    """The usual mixes on site, to tap."""
    found = [
        one_mix(rule.mix)
        for figure, facts in (
            ("mortar.mix", {"kind": "M4", "use": "lime"}),
            ("mortar.habit", {"material": "aac"}),
            ("mortar.habit", {"material": "clay_brick"}),
        )
        if (rule := ledger.book.seek(figure, **facts)) is not None and rule.mix is not None
    ]
    return tuple(Option(label=spell(mix), reading=Reading(mix=mix)) for mix in found)


def _about_the_table(question: Question) -> bool:
    """Asked for the mix of a class or the class of a mix, with no unit or place said."""
    reading, wants = question.reading, set(question.wants)
    if reading.block or reading.place or reading.leaf or reading.severe or "verdict" in wants:
        return False
    only_class = reading.mix is not None and wants == {"mortar_class"}
    return only_class or (reading.mortar_class is not None and reading.mix is None and wants <= {"mix"})


def _from_the_table(ledger: Ledger, said: Mix | None, said_class: str | None) -> None:
    book, use = ledger.book, "plain" if ledger.reading.plasticiser else "lime"
    name = said_class if said is None else class_of(said, book, mixing.ORDER)
    if said is not None:
        ledger.result("mix", said)
        use = "lime" if said.lime else "plain"
    record = book.seek("mortar.mix", kind=name, use=use) if name else None
    if record is None or record.mix is None or name is None:
        ledger.note("That is not in the table of classes used here: it lies between two of them or outside.")
        if name:
            ledger.result("mortar_class", name)
        ledger.results.setdefault("in_table", False)
        ledger.cite(book.find("mortar.mix", kind="M4", use=use))
        return
    ledger.cite(record)
    if said is None:
        ledger.result("mix", one_mix(record.mix))
    ledger.result("mortar_class", name)
    designation = book.seek("mortar.designation", kind=name)
    if designation is not None:
        ledger.cite(designation)
        ledger.result("designation", designation.choice)


def _results(ledger: Ledger, choices: list[mixing.Choice], said: Mix | None, said_class: str | None) -> None:
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
        mixing.explain(ledger, choice, said, said_class)
    if said is None:
        ledger.result("plasticised_mix", main.other if main.other.lime == 0 else main.proposed)
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


def _place_words(ledger: Ledger, choice: mixing.Choice) -> None:
    """What the place asks beyond the mix."""
    place, material = choice.side.place, choice.side.material
    if place == "below_dpc":
        rated = ledger.rule("mortar.below_dpc_rated")
        ledger.rule("mortar.sulfate")
        weak = choice.side.strength is None or choice.side.strength < (rated.value or 0)
        if material == "aac" or (material == "aggregate" and weak):
            ledger.caution("mortar.caution.below_dpc")
            ledger.note("Below dpc only if the block maker rates this block for it.")
        ledger.caution("mortar.caution.aggressive")
    if place in ("parapet", "freestanding"):
        coping = ledger.rule("mortar.coping")
        if coping.mix is not None:
            ledger.result("coping_mix", one_mix(coping.mix))


def _thin_joint(ledger: Ledger) -> Answer:
    """Factory mortar; a mix has no place in it."""
    thin = ledger.rule("mortar.thin_joint")
    first = ledger.rule("mortar.first_course")
    ledger.result("mortar_type", "thin layer")
    ledger.result("joint_thickness", Range(min=thin.min or 0, max=thin.max or 0, unit=thin.unit))
    ledger.result("first_course_class", (first.items or ("",))[0])
    ledger.note("Thin joints take bagged thin-layer mortar, not a site mix.")
    amounts(ledger, ["aac"], [None])
    return _close(ledger)


def _close(ledger: Ledger) -> Answer:
    ledger.caution("cautions.mortar_skin")
    mix = ledger.results.get("mix")
    if "lime" in ledger.results or (isinstance(mix, Mix) and mix.lime > 0):
        ledger.caution("mortar.caution.lime")
    if "plasticiser" in ledger.results or (isinstance(mix, Mix) and mix.lime == 0):
        ledger.rule("mortar.plasticiser")
        ledger.caution("mortar.caution.detergent")
    if "mortar_class" in ledger.results or "mortar_type" in ledger.results:
        ledger.caution("mortar.caution.unit_maker")
    return ledger.answer(
        "verdict", "mix", "mortar_class", "mortar_type", "batch", "mortar_volume", "cement_bags", "lime_bags",
        "sand_mass",
    )  # fmt: skip
