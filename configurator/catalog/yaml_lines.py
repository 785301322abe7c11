"""Read YAML safely and within bounds, and remember the line of every key and value."""

from __future__ import annotations

from datetime import date
from typing import Any, cast

import yaml

from configurator.catalog.document import Document, Keys, shown, spoken
from configurator.catalog.yaml_scalars import (
    SurprisingValueError,
    has_control_characters,
    plain_value,
)
from configurator.errors import Fault

GREATEST_DEPTH = 24

_Loader: type[yaml.SafeLoader] = getattr(yaml, "CSafeLoader", yaml.SafeLoader)

PlainValue = str | int | float | bool | date | None | list["PlainValue"] | dict[str, "PlainValue"]


class _Notes:
    """What is gathered while the tree is walked."""

    def __init__(self, file: str, first_line: int) -> None:
        self.file = file
        self.first_line = first_line
        self.lines: dict[Keys, int] = {}
        self.faults: list[Fault] = []
        self.faulty_keys: set[Keys] = set()

    def line(self, mark: Any) -> int:
        return self.first_line + (mark.line if mark is not None else 0)

    def add(self, code: str, line: int, what: str, remedy: str) -> None:
        self.faults.append(Fault(code, f"{self.file}:{line}", what, remedy))

    def document(self, value: object) -> Document:
        return Document(
            self.file, value, self.lines, tuple(self.faults), frozenset(self.faulty_keys)
        )


def read_yaml(text: str, file: str, first_line: int = 1) -> Document:
    r"""Read YAML text into plain values with their lines; faults are gathered, never raised.

    Parameters
    ----------
    text : str
        The text.
    file : str
        How messages name the file.
    first_line : int
        The line of the file at which the text begins.

    Returns
    -------
    Document
        Its value is None when the text is not well-formed.

    Examples
    --------
    >>> document = read_yaml("roof:\n  - steel\n  - steel\nroof: []\nfloor: no", "roof.yaml")
    >>> [fault.code for fault in document.faults], document.where(("roof", 1))
    (['C009', 'C012'], 'roof.yaml:3')
    """
    notes = _Notes(file, first_line)
    try:
        if _is_bounded(text, notes):
            node = yaml.compose(text, Loader=_Loader)
            if node is not None:
                return notes.document(_value(node, (), notes))
            notes.add("C006", first_line, "it says nothing; a file must hold values", "Fill it.")
    except yaml.YAMLError as error:
        _note_syntax(error, text, notes)
    return notes.document(None)


def _is_bounded(text: str, notes: _Notes) -> bool:
    """Look at the bare events first: what follows is recursive and must not be lured deep."""
    depth = 0
    for event in yaml.parse(text, Loader=_Loader):
        line = notes.line(event.start_mark)
        if isinstance(event, yaml.CollectionStartEvent):
            depth += 1
        elif isinstance(event, yaml.CollectionEndEvent):
            depth -= 1
        if depth > GREATEST_DEPTH:
            what = f"values are nested more than {GREATEST_DEPTH} deep; no catalog needs that"
            notes.add("C011", line, what, "Look for a missing bracket or wrong indentation.")
            return False
        if isinstance(event, yaml.AliasEvent) or _has_anchor_or_tag(event):
            what = (
                "it uses a YAML alias (*), anchor (&) or tag (!); values are written in full here"
            )
            notes.add("C010", line, what, "Write the value itself, in quotes if it is a text.")
    return not notes.faults


def _has_anchor_or_tag(event: yaml.Event) -> bool:
    if not isinstance(event, yaml.NodeEvent):
        return False
    return event.anchor is not None or getattr(event, "tag", None) is not None


def _note_syntax(error: yaml.YAMLError, text: str, notes: _Notes) -> None:
    mark = getattr(error, "problem_mark", None) or getattr(error, "context_mark", None)
    problem = getattr(error, "problem", None) or "a character that YAML does not allow"
    if mark is None:
        position = getattr(error, "position", 0) or 0
        line = notes.first_line + text.count("\n", 0, position)
    else:
        line = notes.line(mark)
    lines = text.split("\n")
    number = min(line - notes.first_line, len(lines) - 1)
    if "\t" in lines[number][: len(lines[number]) - len(lines[number].lstrip())]:
        what = "a tab stands at the start of the line; YAML indents with spaces alone"
        notes.add("C008", line, what, "Replace the tab by spaces.")
        return
    what = f"it is not well-formed YAML ({str(problem)[:120]}); it cannot be read from here on"
    remedy = "Look at this line and the one before: indentation, a missing colon or quote."
    notes.add("C007", line, what, remedy)


def _value(node: yaml.Node, keys: Keys, notes: _Notes) -> PlainValue:
    notes.lines.setdefault(keys, notes.line(node.start_mark))
    if isinstance(node, yaml.MappingNode):
        return _mapping(node, keys, notes)
    if isinstance(node, yaml.SequenceNode):
        return [_value(item, (*keys, number), notes) for number, item in enumerate(node.value)]
    return _scalar(cast("yaml.ScalarNode", node), keys, notes)


def _mapping(node: yaml.MappingNode, keys: Keys, notes: _Notes) -> PlainValue:
    mapping: dict[str, PlainValue] = {}
    for key_node, value_node in node.value:
        line = notes.line(key_node.start_mark)
        if not isinstance(key_node, yaml.ScalarNode) or key_node.value == "<<":
            what = "a key is a list, a mapping or a merge (<<); a key is a plain word here"
            notes.add("C010", line, what, "Write a plain word before the colon.")
            continue
        key = str(key_node.value)
        here = (*keys, key)
        if key in mapping:
            what = f"{shown(key)} stands twice in one mapping; one of the two would be lost"
            remedy = f"Keep one; the first is on line {notes.lines[here]}."
            notes.add("C009", line, what, remedy)
            continue
        notes.lines[here] = line
        mapping[key] = _value(value_node, here, notes)
    return mapping


def _scalar(node: yaml.ScalarNode, keys: Keys, notes: _Notes) -> PlainValue:
    text = str(node.value)
    line = notes.line(node.start_mark)
    if has_control_characters(text):
        notes.faulty_keys.add(keys)
        what = f"{spoken(keys)} holds control characters; no screen or page can show them"
        notes.add("C014", line, what, "Delete the line's text and type it again.")
        return text
    if node.style:
        return text
    try:
        return plain_value(text)
    except SurprisingValueError as error:
        notes.faulty_keys.add(keys)
        what = f"{spoken(keys)} is {text[:60]} without quotes; {error}"
        remedy = (
            f'Write "{text[:60]}" with quotes if it is a text, or true, false or a plain number.'
        )
        notes.add("C012", line, what, remedy)
        return text
