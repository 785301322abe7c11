"""The sign-off record names every signature, what it was given for, and what is missing."""

from __future__ import annotations

from datetime import UTC, date, datetime

from configurator.build_life.entries import Body, SignedOff, WarningAnswered
from configurator.build_life.freezing import freeze_entries
from configurator.build_life.life import Entry, Life
from configurator.build_life.people import Person
from configurator.build_life.sections import section_hashes
from configurator.catalog.models.workshop import SignOff, Stage
from configurator.documents.sign_off_record import sign_off_record_pdf
from tests.documents.read_pdf import flat_text, read_pages
from tests.documents.sample_spec import sample_spec

ENGINEER = Person(name="Ada <b>Sample</b>", role="engineer")
SIGN_OFFS = tuple(
    SignOff.model_validate(
        {
            "id": name,
            "label": f"The {name}",
            "role": "engineer",
            "covers": [name],
            "statement": f"I checked the {name}.",
            "source": "common practice, no source",
        }
    )
    for name in ("weights", "price")
)
STAGES = (Stage(id="order", label="Order", due_percent=100),)


def life_of(*bodies: Body) -> Life:
    at = datetime(2026, 11, 26, 9, 30, tzinfo=UTC)
    return Life(tuple(Entry(n, body, ENGINEER, at, "a" * 64) for n, body in enumerate(bodies, 1)))


def text_of(*, signs: bool) -> str:
    spec = sample_spec()
    spec = spec.model_copy(
        update={"findings": tuple(f for f in spec.findings if f.severity != "blocks")}
    )
    warned = [found for found in spec.findings if found.severity == "warns"]
    answered = tuple(
        WarningAnswered(code=f.code, subject=f.subject, reason="Weighed & judged") for f in warned
    )
    frozen = freeze_entries(
        Life(()), spec, revision=1, answered=answered, because="", stages=STAGES
    )
    hashes = section_hashes(spec)
    signed = SignedOff(
        letter="A",
        sign_off="weights",
        spec_sha256=spec.sha256(),
        section_sha256={"weights": hashes["weights"]},
    )
    life = life_of(*frozen, *([signed] if signs else []))
    assert date(2026, 11, 26) == life.entries[0].made_at.date()
    return flat_text(read_pages(sign_off_record_pdf(spec, life, SIGN_OFFS)))


def test_signatures_stand_with_person_time_and_statement() -> None:
    text = text_of(signs=True)
    assert "Ada <b>Sample</b>, engineer" in text
    assert "I checked the weights." in text
    assert "26 November 2026, 09:30 UTC" in text
    assert sample_spec().build.reference in text


def test_what_is_missing_is_said() -> None:
    text = text_of(signs=False)
    assert 2 == text.count("MISSING")
    assert "is not signed yet" in text


def test_the_record_says_that_it_approves_nothing() -> None:
    text = text_of(signs=True)
    assert "it approves nothing to an authority" in text
    assert "Only Ada <b>Sample</b>" in text, "who issued it cannot be the only signer"
