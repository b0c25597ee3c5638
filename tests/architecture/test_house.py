"""The house: what lies where, how long a file may be, what may import what, what must be named."""

from __future__ import annotations

import ast
import re
import tomllib
from pathlib import Path

import pytest

from knowledge.questions import TOPICS
from tests.architecture.tree import ROOT, code, files

TOP = {
    "README.md",
    "DEVELOPERS.md",
    "pyproject.toml",
    "requirements.lock",
    "bot",
    "knowledge",
    "tests",
    "deploy",
}
LONGEST = 300
CALCULATORS = ROOT / "knowledge" / "calculators"
FLOOR = (
    "units",
    "questions",
    "answers",
    "records",
    "senses",
    "region",
    "rulebook",
)  # each may import those before it


def imported(path: Path) -> set[str]:
    """Every module that a file names in an import, with what is taken from it, wherever it stands."""
    found: set[str] = set()
    for node in ast.walk(ast.parse(path.read_text(encoding="utf-8"))):
        if isinstance(node, ast.Import):
            found |= {name.name for name in node.names}
        elif isinstance(node, ast.ImportFrom):
            assert node.level == 0, f"{path}: imports are written in full"
            found |= {node.module or ""} | {f"{node.module}.{name.name}" for name in node.names}
    return found


def test_the_top_level_holds_only_what_a_newcomer_expects() -> None:
    there = {name.partition("/")[0] for name in files()}
    assert {name for name in there if not name.startswith(".")} - TOP == set()
    assert TOP - there == set()


@pytest.mark.parametrize("path", code("bot", "knowledge"), ids=lambda path: str(path.relative_to(ROOT)))
def test_no_file_is_too_long_to_read_at_a_sitting(path: Path) -> None:
    lines = path.read_text(encoding="utf-8").count("\n")
    assert lines <= LONGEST


def test_no_path_of_one_machine_stands_in_the_tree() -> None:
    folders = "work|tmp|root|home|Users|mnt"
    path = re.compile(rf"(?<![\w./}}])/(?:{folders})/[\w.]|[A-Z]:\\\\?[A-Za-z]")
    found = []
    for name in files():
        try:
            lines = (ROOT / name).read_text(encoding="utf-8").splitlines()
        except UnicodeDecodeError:
            continue
        found += [f"{name}:{n}: {line.strip()[:80]}" for n, line in enumerate(lines, 1) if path.search(line)]
    assert found == []


def test_what_others_stand_on_imports_nothing_above_it() -> None:
    for place, name in enumerate(FLOOR):
        below = {f"knowledge.{lower}" for lower in FLOOR[:place]}
        own = {
            module
            for module in imported(ROOT / "knowledge" / f"{name}.py")
            if module.startswith("knowledge.")
        }
        above = {module for module in own if ".".join(module.split(".")[:2]) not in below}
        assert above == set(), f"knowledge/{name}.py"


@pytest.mark.parametrize("path", code("knowledge/calculators"), ids=lambda path: path.stem)
def test_a_calculator_imports_no_other_topic(path: Path) -> None:
    topic = path.stem.lstrip("_").partition("_")[0] if path.stem.startswith("_") else path.stem
    inner = {
        m.removeprefix("knowledge.calculators.")
        for m in imported(path)
        if m.startswith("knowledge.calculators.")
    }
    assert {name for name in inner if not name.startswith(f"_{topic}_")} == set()


@pytest.mark.parametrize("path", code("knowledge"), ids=lambda path: str(path.relative_to(ROOT)))
def test_only_the_one_door_reaches_a_calculator(path: Path) -> None:
    if path.parent == CALCULATORS or path.name == "answering.py":
        return
    beyond: tuple[str, ...] = ("knowledge.calculators",)
    if path.name != "coverage.py":  # it knocks at the door like the talk does
        beyond += ("knowledge.answering",)
    assert not {name for name in imported(path) if name.startswith(beyond)}


def test_every_calculator_is_a_topic_and_every_topic_has_one() -> None:
    assert {path.stem for path in CALCULATORS.glob("[!_]*.py")} == set(TOPICS)


@pytest.mark.parametrize("topic", TOPICS)
def test_every_topic_has_a_test(topic: str) -> None:
    rows = ROOT / "tests" / "worked" / f"{topic}.toml"
    worked = rows.is_file() and any(
        row.get("topic") == topic for row in tomllib.loads(rows.read_text(encoding="utf-8"))["row"]
    )
    assert worked or (ROOT / "tests" / "knowledge" / f"test_{topic}.py").is_file()


@pytest.mark.parametrize("topic", TOPICS)
def test_every_topic_is_named_for_developers(topic: str) -> None:
    for_developers = ROOT / "DEVELOPERS.md"
    assert for_developers.is_file()
    assert re.search(rf"\b{topic}\b", for_developers.read_text(encoding="utf-8"))


def test_the_lock_pins_everything_that_is_wanted() -> None:
    project = tomllib.loads((ROOT / "pyproject.toml").read_text(encoding="utf-8"))["project"]
    to_run, _, for_checks = (
        (ROOT / "requirements.lock").read_text(encoding="utf-8").partition("# === checks ===")
    )

    def names(text: str) -> set[str]:
        return {name.lower() for name in re.findall(r"^([A-Za-z][\w.-]*)==", text, re.MULTILINE)}

    def wanted(lines: list[str]) -> set[str]:
        return {re.split(r"[^\w.-]", line)[0].lower() for line in lines}

    assert wanted(project["dependencies"]) <= names(to_run)
    assert wanted(project["optional-dependencies"]["test"]) <= names(for_checks)
    pins = re.findall(
        r"^[A-Za-z].*(?:\n {4}--hash=sha256:[0-9a-f]{64}.*)+", to_run + for_checks, re.MULTILINE
    )
    assert len(pins) == len(names(to_run)) + len(names(for_checks)), "every pin has its hashes"
