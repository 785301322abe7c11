"""Texts: front matter between two lines of three hyphens, then Markdown."""

from __future__ import annotations

from configurator.catalog.document import Document
from configurator.catalog.yaml_lines import read_yaml
from configurator.catalog.yaml_scalars import has_control_characters
from configurator.errors import Fault

FENCE = "---"


def read_text_file(text: str, file: str) -> Document:
    r"""Read a text file; its Markdown becomes the value of `body`.

    Parameters
    ----------
    text : str
        The whole file.
    file : str
        How messages name it.

    Returns
    -------
    Document
        Its value is None when the front matter is missing or not well-formed.

    Examples
    --------
    >>> read_text_file("---\nid: tyres\n---\nLook at them.\n", "tyres.md").value
    {'id': 'tyres', 'body': 'Look at them.'}
    """
    lines = text.split("\n")
    ends = [number for number, line in enumerate(lines) if line.rstrip() == FENCE]
    if len(ends) < 2 or ends[0] != 0:
        what = "it has no front matter; a text says in it what it is for and for whom"
        remedy = f'Begin with a line "{FENCE}", the keys, and a second line "{FENCE}".'
        return Document(file, None, {(): 1}, (Fault("C015", f"{file}:1", what, remedy),))
    front = read_yaml("\n".join(lines[1 : ends[1]]), file, first_line=2)
    if not isinstance(front.value, dict):
        return _without_mapping(front)
    return _with_body(front, front.value, lines[ends[1] + 1 :], ends[1] + 2)


def _without_mapping(front: Document) -> Document:
    if front.faults:
        return front
    what = "its front matter is not a mapping; it is written as key: value"
    fault = Fault("C013", f"{front.file}:2", what, 'Write lines such as "id: tyre-care".')
    return Document(front.file, None, front.lines, (fault,))


def _with_body(
    front: Document, keys: dict[str, object], body_lines: list[str], first_line: int
) -> Document:
    faults = list(front.faults)
    if "body" in keys:
        what = '"body" stands in the front matter; the body is the Markdown below it'
        remedy = f'Move it below the second "{FENCE}".'
        faults.append(Fault("C020", front.where(("body",)), what, remedy))
    for number, line in enumerate(body_lines):
        if has_control_characters(line):
            what = "the line holds control characters; no page can show them"
            where = f"{front.file}:{first_line + number}"
            faults.append(Fault("C014", where, what, "Delete the line and type it again."))
    body = "\n".join(body_lines).strip("\n")
    blank = next((number for number, line in enumerate(body_lines) if line.strip()), 0)
    lines = {**front.lines, ("body",): first_line + blank}
    return Document(front.file, {**keys, "body": body}, lines, tuple(faults), front.faulty_keys)
