from __future__ import annotations

from pathlib import Path

import pytest
from typer.testing import CliRunner, Result

from configurator.cli import accounts_command
from configurator.cli.main import app, run
from configurator.record.accounts import account_and_hash
from configurator.record.database import open_record
from configurator.record.passwords import is_password


@pytest.fixture
def in_folder(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> Path:
    monkeypatch.chdir(tmp_path)
    return tmp_path


def _accounts(*arguments: str, typed: str = "") -> Result:
    return CliRunner().invoke(app, ["accounts", *arguments], input=typed)


def test_accounts_are_added_changed_listed_and_disabled(in_folder: Path) -> None:
    assert "Nobody has an account yet.\n" == _accounts("list").stdout
    added = _accounts(
        "add",
        "Ann Sample",
        "--role",
        "manager",
        "--role",
        "engineer",
        typed="four invented words\n",
    )
    assert "Ann Sample: engineer, manager; by password\n" == added.stdout
    mail = _accounts("add", "By Mail", "--role", "second-person", "--identity", "B@mail.example")
    assert "By Mail: second person; by b@mail.example\n" == mail.stdout
    assert "Ann Sample: manager; by password\n" == (
        _accounts("roles", "ann sample", "--role", "manager").stdout
    )
    assert "disabled" in _accounts("disable", "Ann Sample").stdout
    listed = _accounts("list").stdout.splitlines()
    assert [
        "Ann Sample: manager; by password; disabled",
        "By Mail: second person; by b@mail.example",
    ] == listed
    assert "disabled" not in _accounts("enable", "Ann Sample").stdout


def test_a_password_is_read_as_a_line_and_written_nowhere(in_folder: Path) -> None:
    said = _accounts("add", "Ann Sample", "--role", "manager", typed="four invented words\n")
    said2 = _accounts("password", "Ann Sample", typed="other invented words\r\n")
    assert "invented words" not in said.output + said2.output
    record = open_record(in_folder / "outputs")
    _, kept = account_and_hash(record, "Ann Sample")
    record.engine.dispose()
    assert is_password("other invented words", kept)
    for path in (in_folder / "outputs").iterdir():
        assert b"invented words" not in path.read_bytes(), path


def test_a_password_at_a_terminal_is_asked_for_twice_and_unseen(
    in_folder: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    asked: list[tuple[str, dict[str, object]]] = []

    def prompt(question: str, **how: object) -> str:
        asked.append((question, how))
        return "four invented words"

    monkeypatch.setattr("typer.prompt", prompt)
    monkeypatch.setattr("sys.stdin.isatty", lambda: True)
    accounts_command.add("Ann Sample", ["manager"], data=in_folder / "data")
    ((question, how),) = asked
    assert "Password for Ann Sample, 12 characters or more" == question
    assert how["hide_input"] is True
    assert how["confirmation_prompt"]


def test_what_is_refused_leaves_with_1_and_says_why(
    in_folder: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    with pytest.raises(SystemExit) as left:
        run(["accounts", "disable", "Nobody Known"])
    assert 1 == left.value.code
    assert '"Nobody Known" has an account. There is none yet' in capsys.readouterr().err
