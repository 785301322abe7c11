from pathlib import Path

import pytest

from configurator.cli import log
from configurator.cli.log import LOG_FILE
from configurator.cli.main import run
from configurator.workflow import demo


def break_down(*_arguments: object, **_named: object) -> None:
    msg = "the moon fell down"
    raise RuntimeError(msg)


def test_something_unforeseen_is_said_calmly_and_its_details_are_kept(
    catalog_folder: Path,
    tmp_path: Path,
    monkeypatch: pytest.MonkeyPatch,
    capsys: pytest.CaptureFixture[str],
) -> None:
    monkeypatch.setattr(demo, "fill_demo", break_down)
    data = tmp_path / "data"
    with pytest.raises(SystemExit) as left:
        run(["demo", "--catalog", str(catalog_folder), "--data", str(data)])
    said = capsys.readouterr().err
    assert 3 == left.value.code
    assert 1 == len(said.splitlines())
    assert "Nothing that was saved is lost" in said
    assert str(data / LOG_FILE) in said
    assert "the moon fell down" not in said
    kept = (data / LOG_FILE).read_text()
    assert "configurator demo --catalog" in kept
    assert "RuntimeError: the moon fell down" in kept


def test_details_go_elsewhere_when_the_data_folder_cannot_be_written(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    (tmp_path / "data").write_text("not a folder")
    monkeypatch.setattr(log.tempfile, "gettempdir", lambda: str(tmp_path))
    path = log.keep_details(tmp_path / "data", "demo", RuntimeError("odd"))
    assert tmp_path / LOG_FILE == path
    assert "RuntimeError: odd" in path.read_text()
