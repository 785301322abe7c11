from __future__ import annotations

from configurator.app.view_models.faults import fault_lines, spoken
from configurator.errors import ConfiguratorError, Fault

ROOF = Fault("C003", "roof.yaml:14", 'option "fabrik" does not exist', 'Did you mean "fabric"?')
FLOOR = Fault("C004", "floor.yaml:2", "it is empty.", "Write a group.")


def test_every_fault_gets_its_line_with_place_and_remedy():
    lines = fault_lines(ConfiguratorError([ROOF, FLOOR]))
    assert [line.where for line in lines] == ["roof.yaml:14", "floor.yaml:2"]
    assert [line.what for line in lines] == ['Option "fabrik" does not exist.', "It is empty."]
    assert lines[0].remedy == 'Did you mean "fabric"?'


def test_an_error_without_faults_still_says_something():
    assert fault_lines(ConfiguratorError([]))[0].what != ""


def test_a_notice_leaves_out_the_place():
    assert spoken(ConfiguratorError([FLOOR])) == ("It is empty. Write a group.",)


def test_a_place_on_this_machine_stays_off_the_screen():
    places = ["/srv/data/record.sqlite", "C:\\data\\record.sqlite", "postgresql://workshop/record"]
    lines = fault_lines(ConfiguratorError([Fault("R1", place, "gone", "") for place in places]))
    assert ["", "", ""] == [line.where for line in lines]
