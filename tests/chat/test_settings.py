"""Settings: every fault is named at once, no value is repeated."""

from pathlib import Path

import pytest

from bot.settings import SettingsFault, load


@pytest.fixture(autouse=True)
def _bare(monkeypatch: pytest.MonkeyPatch) -> None:
    for name in ("PERPEND_TOKEN", "PERPEND_API_URL", "PERPEND_DATABASE"):
        monkeypatch.delenv(name, raising=False)


def test_the_token_alone_is_enough(monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setenv("PERPEND_TOKEN", "123:abc-DEF_9")
    settings = load()
    assert settings.database.startswith("sqlite:///")
    assert settings.api_url.startswith("https://")
    assert "abc-DEF_9" not in repr(settings)
    with pytest.raises(Exception, match="frozen"):
        settings.api_url = "http://elsewhere"  # type: ignore[misc]


def test_every_fault_is_named_and_no_secret_shown(monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setenv("PERPEND_TOKEN", "my-secret-token")
    monkeypatch.setenv("PERPEND_API_URL", "ftp://x")
    monkeypatch.setenv("PERPEND_DATABASE", "mysql://x")
    monkeypatch.setenv("PERPEND_TOKN", "1:a")
    with pytest.raises(SettingsFault) as caught:
        load()
    assert len(caught.value.faults) == 4
    for name in ("PERPEND_TOKEN ", "PERPEND_API_URL ", "PERPEND_DATABASE ", "PERPEND_TOKN "):
        assert name in str(caught.value)
    assert "my-secret-token" not in str(caught.value)


@pytest.mark.parametrize("url", ["chat.db", "sqlite://", "sqlite:///", "sqlite:///:memory:", "oracle://x"])
def test_a_database_that_would_not_last_is_refused(monkeypatch: pytest.MonkeyPatch, url: str) -> None:
    monkeypatch.setenv("PERPEND_TOKEN", "1:a")
    monkeypatch.setenv("PERPEND_DATABASE", url)
    with pytest.raises(SettingsFault, match="PERPEND_DATABASE"):
        load()


@pytest.mark.parametrize(
    "token", ["", "abc", "123", "123:", ":abc", "12 3:abc", "123:a b", "123:a/b", "١:abc"]
)
def test_a_token_of_the_wrong_shape_is_refused(monkeypatch: pytest.MonkeyPatch, token: str) -> None:
    monkeypatch.setenv("PERPEND_TOKEN", token)
    with pytest.raises(SettingsFault, match="PERPEND_TOKEN"):
        load()


def test_what_one_way_of_running_needs_is_named_with_the_rest(monkeypatch: pytest.MonkeyPatch) -> None:
    for name, value in (
        ("CHATS", "5, x"),
        ("FOREMEN", "0"),
        ("PERSON_BURST", "0"),
        ("PERSON_A_MINUTE", "many"),
        ("SENDS_A_SECOND", "-1"),
        ("WATCH", "9090"),
        ("LOGS", "xml"),
        ("STOP_SECONDS", "1000"),
        ("FORGET_DAYS", "-1"),
        ("SECRETS", "no-such-folder"),
    ):
        monkeypatch.setenv(f"PERPEND_{name}", value)
    with pytest.raises(SettingsFault) as caught:
        load("webhook_secret")
    assert len(caught.value.faults) == 12  # those ten, the token and the secret
    assert len({fault.split()[0] for fault in caught.value.faults}) == 12


def test_chats_and_people_are_numbers_with_commas_between(monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setenv("PERPEND_TOKEN", "1:a")
    monkeypatch.setenv("PERPEND_CHATS", "5, -1001234567890")
    monkeypatch.setenv("PERPEND_FOREMEN", "7")
    assert load().chats == {5, -1001234567890}
    assert load().foremen == {7}


def test_a_secret_may_lie_in_a_file(monkeypatch: pytest.MonkeyPatch, tmp_path: Path) -> None:
    (tmp_path / "perpend_token").write_text("123:from-a-file\n")
    (tmp_path / "perpend_webhook_secret").write_text("w" * 20)
    (tmp_path / "perpend_database").write_text("postgresql://db/perpend?user=perpend&password=pw")
    monkeypatch.setenv("PERPEND_SECRETS", str(tmp_path))
    settings = load("webhook_secret")
    assert settings.token.get_secret_value() == "123:from-a-file"
    assert "pw" not in repr(settings)
