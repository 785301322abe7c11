"""The sign-off record names every signature, what it was given for, and what is missing."""

from __future__ import annotations

from datetime import UTC, date, datetime

from configurator.build_life.entries import Body, SignedOff, SignOffVoided, WarningAnswered
from configurator.build_life.freezing import freeze_entries
from configurator.build_life.life import Entry, Life
from configurator.build_life.people import Person
from configurator.build_life.sections import section_hashes
from configurator.build_spec.spec import Spec
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


def unblocked() -> Spec:
    spec = sample_spec()
    left = tuple(found for found in spec.findings if found.severity != "blocks")
    return spec.model_copy(update={"findings": left})


def signed_life(*, signs: bool) -> Life:
    spec = unblocked()
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
    return life_of(*frozen, *([signed] if signs else []))


def text_of(*, signs: bool) -> str:
    life = signed_life(signs=signs)
    assert date(2026, 11, 26) == life.entries[0].made_at.date()
    return flat_text(read_pages(sign_off_record_pdf(unblocked(), life, SIGN_OFFS)))


def test_signatures_stand_with_person_time_and_statement() -> None:
    text = text_of(signs=True)
    assert "Ada <b>Sample</b>, engineer" in text
    assert "I checked the weights." in text
    assert "26 November 2026, 09:30 UTC" in text
    assert sample_spec().build.reference in text


def test_what_is_missing_is_said() -> None:
    text = text_of(signs=False)
    assert 2 == text.count("MISSING")
    assert "Still missing" not in text, "the table says it"


def test_a_signature_that_is_void_is_named_with_why() -> None:
    life = signed_life(signs=True)
    void = SignOffVoided(letter="A", by_letter="B", sign_off="weights", sections=("weights",))
    voided = life_of(*(entry.body for entry in life.entries), void)
    text = flat_text(read_pages(sign_off_record_pdf(unblocked(), voided, SIGN_OFFS)))
    assert "Signatures that hold no more" in text
    said = (
        "“The weights” was signed on spec A by Ada <b>Sample</b>, engineer, on 26 November 2026. "
        "It is void since spec B, which changed weights and axle loads."
    )
    assert said in text


def test_the_record_says_that_it_approves_nothing() -> None:
    text = text_of(signs=True)
    assert "it approves nothing to an authority" in text
    assert "Only Ada <b>Sample</b>" in text, "who issued it cannot be the only signer"
