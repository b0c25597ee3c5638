"""What the tests of the house look at: the files that belong to the project."""

from __future__ import annotations

import subprocess
from functools import cache
from pathlib import Path

ROOT = Path(__file__).parents[2]
RULES = ROOT / "knowledge" / "rules"
REGIONS = sorted(
    folder.name.upper() for folder in RULES.iterdir() if folder.is_dir() and folder.name != "world"
)


@cache
def files() -> tuple[str, ...]:
    """Every file under version control; without it, every file that a fresh copy holds."""
    try:
        listed = subprocess.run(
            ["git", "ls-files", "-z"], cwd=ROOT, capture_output=True, check=True, encoding="utf-8"
        ).stdout.split("\0")
    except (OSError, subprocess.CalledProcessError):
        listed = [str(path.relative_to(ROOT)) for path in ROOT.rglob("*") if path.is_file()]
        listed = [name for name in listed if not name.startswith(".") and "__pycache__" not in name]
    return tuple(name for name in listed if name and (ROOT / name).is_file())


def code(*folders: str) -> list[Path]:
    """The Python files of some folders, as they stand."""
    return [path for folder in folders for path in sorted((ROOT / folder).rglob("*.py"))]
