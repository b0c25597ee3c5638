"""Back-up and restore: a copy taken at work is whole, and what it puts back is what stood there."""

import stat
from pathlib import Path

import pytest

from bot.cli import main
from bot.memory import Memory
from bot.store.copying import back_up, restore
from bot.store.opening import StoreFault
from bot.store.rows import Letter, Settled, Talk, Update


def test_a_copy_taken_at_work_puts_back_what_stood_then(tmp_path: Path) -> None:
    url, copy = f"sqlite:///{tmp_path}/chat.db", tmp_path / "copy.db"
    memory = Memory(url)
    memory.keep([Update(1, "5", "{}"), Update(2, "5", "{}")])
    letter = Letter("sendMessage", {"chat_id": 5}, "5", 5, 11)
    memory.settle([Settled(1, talk=Talk("5:0:5", 5, '{"then": 1}', 1), letters=[letter])])
    back_up(url, copy)
    assert stat.S_IMODE(copy.stat().st_mode) == 0o600
    memory.settle([Settled(2, talk=Talk("5:0:5", 5, '{"later": 1}', 2))])
    with pytest.raises(StoreFault, match="another bot"):
        restore(url, copy)
    with pytest.raises(StoreFault, match="not written over"):
        back_up(url, copy)
    memory.close()
    restore(url, copy)
    memory = Memory(url)
    assert memory.recall(["5:0:5"])["5:0:5"].state == '{"then": 1}'
    assert [row.id for row in memory.waiting(10)] == [2]
    assert [one.id for one in memory.unsent()] == [letter.id]
    assert memory.keep([Update(1, "5", "{}")]) == 0
    memory.close()
    assert (tmp_path / "chat.db.before").exists()


def test_what_is_no_sound_copy_is_refused_and_nothing_changes(tmp_path: Path) -> None:
    url = f"sqlite:///{tmp_path}/chat.db"
    memory = Memory(url)
    memory.keep([Update(1, "5", "{}")])
    memory.close()
    for name, content in (("torn", (tmp_path / "chat.db").read_bytes()[:5000]), ("text", b"hello")):
        (tmp_path / name).write_bytes(content)
        with pytest.raises(StoreFault, match="no sound copy"):
            restore(url, tmp_path / name)
    memory = Memory(url)
    assert len(memory.waiting(10)) == 1
    memory.close()


def test_the_commands(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch, capsys: pytest.CaptureFixture[str]
) -> None:
    monkeypatch.setenv("PERPEND_TOKEN", "1:a")
    monkeypatch.setenv("PERPEND_DATABASE", f"sqlite:///{tmp_path}/chat.db")
    assert main(["backup", str(tmp_path / "copy.db")]) == 1
    assert "no database file" in capsys.readouterr().err
    Memory(f"sqlite:///{tmp_path}/chat.db").close()
    assert main(["backup", str(tmp_path / "copy.db")]) == 0
    assert main(["restore", str(tmp_path / "copy.db")]) == 0
    assert main(["restore", str(tmp_path / "none.db")]) == 1
    monkeypatch.setenv("PERPEND_DATABASE", "postgresql://somewhere/perpend")
    assert main(["backup", str(tmp_path / "other.db")]) == 1
    assert "own tools" in capsys.readouterr().err
