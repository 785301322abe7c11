"""Codes of the faults that the record tells, with what each means."""

from __future__ import annotations

from collections.abc import Mapping

FAULT_CODES: Mapping[str, str] = {
    "R001": "The data folder cannot be made or written",
    "R002": "The record is not a database of this tool",
    "R003": "The record was written by a newer version of the tool",
    "R004": "The record stayed busy for too long",
    "R005": "The disk is full or failing",
    "R006": "The record may only be read",
    "R007": "Somebody else changed the draft meanwhile",
    "R008": "The record has no such build",
    "R009": "A stored draft does not read as a build",
    "R010": "The database refused for another reason",
    "R011": "No build reference is left",
    "R012": "Content that an entry points to is lost or altered",
    "R013": "Somebody else did the same a moment before",
    "R014": "A row was altered since it was saved",
    "R015": "The book of entries has a gap or an altered entry",
    "R016": "The book does not end where it ended last",
    "R017": "Something that belongs to a row is not there",
    "R018": "The database is not built as the tool builds it",
    "R019": "A database's address cannot be used",
    "R020": "The database server cannot be reached or does not let the tool in",
    "R021": "The record already holds something",
    "R022": "A customer's data was erased while something that names them was made",
    "R023": "The customer's name or contact stands in words that the book keeps for good",
    "R024": "What was erased may still stand in free pages of the record's file",
}
