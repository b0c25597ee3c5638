"""Rule files: they load, sources are there and used, no two records answer alike, a bad file says all."""

from __future__ import annotations

import ast
import re
from collections import defaultdict
from collections.abc import Iterator
from itertools import combinations, product
from pathlib import Path
from typing import Any

import pytest

from knowledge.records import Rule, Span
from knowledge.rulebook import BadRules, NoRule, RuleBook
from tests.architecture.tree import REGIONS, RULES, code


@pytest.mark.parametrize("region", REGIONS)
def test_every_rule_file_loads(region: str) -> None:
    rules = RuleBook(region)
    assert len(rules.every()) > 0
    assert rules.region.code == region


@pytest.mark.parametrize("region", REGIONS)
def test_what_is_published_names_a_source_that_exists(region: str) -> None:
    rules = RuleBook(region)
    missing = [
        rule.id
        for rule in rules.every()
        if rule.standing == "published" and (rule.source not in rules.sources or not rule.clause)
    ]
    assert missing == []


def test_every_source_is_used() -> None:
    named = {
        name for region in REGIONS for rule in RuleBook(region).every() for name in (rule.source, rule.via)
    }
    assert sorted(set(RuleBook(REGIONS[0]).sources) - named) == []


@pytest.mark.parametrize("region", REGIONS)
def test_a_source_says_how_it_was_seen(region: str) -> None:
    """What was read in the document rests on a source that was seen, never on one known from memory."""
    rules = RuleBook(region)
    assert [name for name, source in rules.sources.items() if not source.seen.strip()] == []


# --- two records of one figure ---


def values(one: Any, other: Any) -> list[Any]:
    """Facts that meet both conditions; a condition that is None is met by any."""
    if one is None or other is None:
        one = other = one if one is not None else other
    if not isinstance(one, Span):
        return [v for v in one if v in other] if isinstance(one, tuple) else [one] * (one == other)
    ends = [v for span in (one, other) for v in (span.least, span.most, span.below) if v is not None]
    tried = {v + step for v in ends for step in (-1e-6, 0.0, 1e-6)} | {sum(ends) / len(ends), max(ends) + 1}
    return sorted(v for v in tried if one.holds(v) and other.holds(v))


def facts_for(one: Rule, other: Rule) -> Iterator[dict[str, Any]]:
    """Every kind of wall that meets the conditions of both."""
    first, second = one.when.conditions(), other.when.conditions()
    keys = sorted(first.keys() | second.keys())
    for chosen in product(*(values(first.get(key), second.get(key)) for key in keys)):
        yield dict(zip(keys, chosen, strict=True))


EDGES = {"crack.category": "a width on an edge is of both categories, and the answer says both"}


def ties(rules: list[Rule]) -> set[tuple[str, str]]:
    """Pairs of defaults that hold for one and the same wall, as closely described, with nothing closer."""
    found = set()
    for one, other in combinations([rule for rule in rules if rule.default], 2):
        tied = len(one.when.conditions())
        if (
            tied != len(other.when.conditions())
            or one.when.conditions().keys() != other.when.conditions().keys()
        ):
            continue
        for facts in facts_for(one, other):
            closer = [
                r for r in rules if r.default and len(r.when.conditions()) > tied and r.when.holds(facts)
            ]
            if not closer:
                found.add((one.id, other.id))
    return found


@pytest.mark.parametrize("region", REGIONS)
def test_no_two_records_of_one_figure_are_the_default(region: str) -> None:
    groups: dict[str, list[Rule]] = defaultdict(list)
    for rule in RuleBook(region).every():
        groups[rule.figure].append(rule)
    assert {
        figure: found for figure, rules in groups.items() if figure not in EDGES and (found := ties(rules))
    } == {}


def test_a_tie_is_seen() -> None:
    """The test above can fail: overlapping words, and spans that share an edge."""

    def rule(name: str, **when: Any) -> Rule:
        return Rule.model_validate({
            "id": f"t.{name}", "figure": "t.x", "statement": "x", "value": 1, "when": when,
            "standing": "common practice", "grade": "practice",
        })  # fmt: skip

    assert ties([rule("a", material=("aac", "stone")), rule("b", material=("stone",))]) == {("t.a", "t.b")}
    assert ties([rule("a", width={"most": 5}), rule("b", width={"least": 5})]) == {("t.a", "t.b")}
    assert ties([rule("a", width={"below": 5}), rule("b", width={"least": 5})]) == set()
    assert ties([rule("a"), rule("b", material=("stone",))]) == set()
    closer = rule("c", material=("stone",), severe=True)
    assert ties([rule("a", material=("stone",)), rule("b", material=("stone",)), closer]) == {("t.a", "t.b")}


# --- every rule is for something ---


def looked_up() -> re.Pattern[str]:
    """Every figure that the code names, whole or in part ('joints.caution.{name}')."""
    shapes: set[str] = set()
    for path in code("knowledge", "bot"):
        for node in ast.walk(ast.parse(path.read_text(encoding="utf-8"))):
            if (
                isinstance(node, ast.Constant)
                and isinstance(node.value, str)
                and re.fullmatch(r"\w+\.[\w.]+", node.value)
            ):
                shapes.add(re.escape(node.value))
            elif isinstance(node, ast.JoinedStr):
                parts = [
                    re.escape(part.value)
                    if isinstance(part, ast.Constant) and isinstance(part.value, str)
                    else r"[\w.]+"
                    for part in node.values
                ]
                if re.match(r"(\w+\\\.|\[)", "".join(parts)):
                    shapes.add("".join(parts))
    return re.compile("|".join(sorted(shapes - {r"[\w.]+"})))


@pytest.mark.parametrize("region", REGIONS)
def test_every_figure_is_looked_up_somewhere(region: str) -> None:
    known = looked_up()
    assert (
        sorted({rule.figure for rule in RuleBook(region).every() if not known.fullmatch(rule.figure)}) == []
    )


# --- bad files ---

GOOD = 'statement = "x"\nstanding = "common practice"\ngrade = "practice"\n'
BAD = f"""
[[rule]]
id = "joints.colour"
figure = "joints.colour"
colour = "red"
value = 1
{GOOD}
[[rule]]
id = "joints.two_shapes"
figure = "joints.two_shapes"
value = 1
choice = "one"
{GOOD}
[[rule]]
id = "joints.no_statement"
figure = "joints.no_statement"
value = "six"
standing = "common practice"
grade = "practice"

[[rule]]
id = "joints.unit"
figure = "joints.unit"
value = 1
unit = "cubit"
{GOOD}
[[rule]]
id = "joints.place"
figure = "joints.place"
value = 1
when = {{ weather = ["wet"] }}
{GOOD}
[[rule]]
id = "joints.no_clause"
figure = "joints.no_clause"
value = 1
statement = "x"
source = "a-book"
standing = "published"
grade = "read"

[[rule]]
id = "joints.graded"
figure = "joints.graded"
value = 1
statement = "x"
standing = "common practice"
grade = "read"

[[rule]]
id = "joints.sums"
figure = "joints.sums"
table = {{ columns = ["a"], rows = [[1], [2]], sums = {{ a = 4 }} }}
{GOOD}
[[rule]]
id = "joints.twice"
figure = "joints.twice"
{GOOD}
[[rule]]
id = "joints.twice"
figure = "joints.twice"
{GOOD}
[[rule]]
id = "joints.elsewhere"
figure = "mortar.elsewhere"
{GOOD}
[[rule]]
id = "joints.unknown_source"
figure = "joints.unknown_source"
statement = "x"
source = "no-such-book"
clause = "1"
standing = "published"
grade = "read"
"""
FAULTS = [
    r"gb/joints\.toml: joints\.colour: colour: ",
    r"gb/joints\.toml: joints\.two_shapes: \w+: .*(value|choice)",
    r"gb/joints\.toml: joints\.no_statement: statement: ",
    r"gb/joints\.toml: joints\.no_statement: value: ",
    r"gb/joints\.toml: joints\.unit: \w+: .*unit 'cubit'",
    r"gb/joints\.toml: joints\.place: when\.weather: ",
    r"gb/joints\.toml: joints\.no_clause: \w+: .*clause",
    r"gb/joints\.toml: joints\.graded: \w+: .*grade",
    r"gb/joints\.toml: joints\.sums: table: .*'a'",
    r"gb/joints\.toml: joints\.twice: id: ",
    r"gb/joints\.toml: joints\.elsewhere: figure: ",
    r"gb/joints\.toml: joints\.unknown_source: source: .*'no-such-book'",
    r"gb/mortar\.toml: file: ",
    r"gb/render\.toml: file: .*'rules'",
    r"sources\.toml: a-book: seen: ",
]


def test_bad_rule_files_report_every_fault_at_once(tmp_path: Path) -> None:
    (tmp_path / "world").mkdir()
    (tmp_path / "gb").mkdir()
    (tmp_path / "sources.toml").write_text('[a-book]\ntitle = "A book"\n', encoding="utf-8")
    (tmp_path / "gb" / "joints.toml").write_text(BAD, encoding="utf-8")
    (tmp_path / "gb" / "mortar.toml").write_text("[[rule]]\nid = \n", encoding="utf-8")
    (tmp_path / "gb" / "render.toml").write_text("[[rules]]\nid = 1\n", encoding="utf-8")
    with pytest.raises(BadRules) as caught:
        RuleBook("GB", tmp_path).every()
    faults = caught.value.faults
    unsaid = [shape for shape in FAULTS if not any(re.match(shape, fault) for fault in faults)]
    assert unsaid == [], "\n".join(faults)
    assert all(fault in str(caught.value) for fault in faults)


def test_bad_habits_name_the_file_and_the_field(tmp_path: Path) -> None:
    (tmp_path / "gb").mkdir()
    (tmp_path / "gb" / "habits.toml").write_text('code = "GB"\nunits = 1\nflag = "x"\n', encoding="utf-8")
    with pytest.raises(BadRules) as caught:
        _ = RuleBook("GB", tmp_path).region
    for field in ("name", "units", "bare", "flag"):
        assert any(fault.startswith(f"gb/habits.toml: habits: {field}: ") for fault in caught.value.faults)


def test_a_region_without_rules_names_those_that_are_known() -> None:
    with pytest.raises(NoRule, match=r"'ZZ'.*GB"):
        RuleBook("ZZ", RULES)
