from __future__ import annotations

import re
import tomllib
from pathlib import Path

import pytest
import streamlit
from streamlit import config

ROOT = Path(__file__).parents[2]
APP = ROOT / "configurator" / "app"
SCREENS = tomllib.loads((APP / ".streamlit" / "config.toml").read_text("utf-8"))
CLONE = tomllib.loads((ROOT / ".streamlit" / "config.toml").read_text("utf-8"))


def test_the_screens_answer_only_this_machine_and_tell_nobody():
    for settings in (SCREENS, CLONE):
        assert settings["server"]["address"] == "127.0.0.1"
        assert settings["server"]["allowedHosts"] == ["127.0.0.1", "localhost"]
        assert settings["browser"]["gatherUsageStats"] is False


def test_a_fault_never_shows_its_details_on_the_screen():
    assert SCREENS["client"]["showErrorDetails"] == "none"


def test_every_setting_is_one_that_this_version_knows():
    known = config.get_config_options()
    for section, values in SCREENS.items():
        for name in values:
            assert f"{section}.{name}" in known, f"{section}.{name}"


def test_the_version_with_the_hidden_setting_is_pinned():
    locked = tomllib.loads((ROOT / "pyproject.toml").read_text("utf-8"))
    assert f"streamlit=={streamlit.__version__}" in locked["project"]["dependencies"]
    assert SCREENS["runner"]["postScriptGC"] is False


def test_fonts_are_served_from_here_and_have_their_licence():
    for face in SCREENS["theme"]["fontFaces"]:
        path = APP / face["url"].removeprefix("app/")
        assert path.is_file(), face["url"]
        family = path.name.split("-latin")[0]
        assert (path.parent / f"{family}-OFL.txt").is_file(), family


@pytest.mark.parametrize("kind", ["css", "js", "py", "toml"])
def test_no_file_of_the_screens_names_another_server(kind: str):
    for path in APP.rglob(f"*.{kind}"):
        found = re.findall(r"https?://(?!x\))\S+", path.read_text("utf-8"))
        assert found == [], path


def test_no_script_of_the_components_writes_markup():
    scripts = list((APP / "components").rglob("*.js"))
    assert {"option_tiles.js", "talk_steps.js"} <= {path.name for path in scripts}
    for path in scripts:
        assert not re.search(
            r"innerHTML|outerHTML|insertAdjacentHTML|document\.write|eval\(",
            path.read_text("utf-8"),
        ), path
