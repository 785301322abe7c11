"""Freeze a spec under the next letter: what stands against it, and which sign-offs it voids."""

from __future__ import annotations

from collections.abc import Collection, Iterable, Iterator, Mapping, Sequence

from configurator.build_life.entries import (
    Body,
    OpenChoice,
    SignOffVoided,
    SpecIssued,
    StageReached,
    WarningAnswered,
)
from configurator.build_life.life import Life, next_letter
from configurator.build_life.sections import changed_sections, section_hashes
from configurator.build_spec.spec import Finding, Spec
from configurator.catalog.models.workshop import Stage
from configurator.errors import Fault, LifeError


def freeze_entries(
    life: Life,
    spec: Spec,
    *,
    revision: int,
    answered: Sequence[WarningAnswered],
    because: str,
    stages: Sequence[Stage],
    not_ordered_because: str = "",
) -> tuple[Body, ...]:
    """Write what freezing a spec adds to a build's book.

    Parameters
    ----------
    life : Life
        As it is while nobody else can add to it.
    spec : Spec
        Complete or with open choices.
    revision : int
        Of the draft it was made from.
    answered : sequence of WarningAnswered
        Why the workshop goes on although a check warns.
    because : str
        Why it takes the place of the letter before.
    stages : sequence of Stage
        Of the workshop, in order.
    not_ordered_because : str
        Why it is issued although the customer has not accepted a quotation that was given.

    Returns
    -------
    tuple of Body
        The issued spec, and each sign-off that no longer holds.

    Raises
    ------
    LifeError
        With everything that stands against it.
    """
    sha256 = spec.sha256()
    open_choices = _open_choices(spec, stages)
    faults = [
        *_from_life(life, sha256, because),
        *findings_against(spec.findings, [(told.code, told.subject) for told in answered]),
        *_too_late(life, spec, open_choices),
    ]
    if faults:
        raise LifeError(faults)
    before = life.issued
    issued = SpecIssued(
        letter=next_letter(before.letter if before else None),
        spec_sha256=sha256,
        catalog_sha256=spec.catalog_sha256,
        revision=revision,
        section_sha256=section_hashes(spec),
        total_gbp=spec.price.total_low_gbp,
        answered=tuple(answered),
        open_choices=open_choices,
        because=because,
        not_ordered_because=not_ordered_because,
    )
    return (issued, *_voided(life, issued))


def findings_against(
    findings: Iterable[Finding], answered: Collection[tuple[str, str]]
) -> Iterator[Fault]:
    """Tell the findings that keep a spec from being issued: blocking, or warning and unanswered.

    Parameters
    ----------
    findings : iterable of Finding
        Of the spec.
    answered : collection of (code, subject)
        Of the findings beside which a reason to go on is written.
    """
    for finding in findings:
        if finding.severity == "blocks":
            yield Fault("L001", finding.code, finding.sentence.rstrip("."), finding.remedy)
        if finding.severity == "warns" and (finding.code, finding.subject) not in answered:
            remedy = "Mend it, or let an engineer write why the work goes on."
            yield Fault("L002", finding.code, finding.sentence.rstrip("."), remedy)


def _from_life(life: Life, sha256: str, because: str) -> Iterator[Fault]:
    issued = life.issued
    if life.handed_over is not None:
        what = "the vehicle was handed over; what was promised then stays as it is"
        yield Fault("L005", "Issued spec", what, "Correct the handover pack by a new revision.")
    if issued is not None and issued.spec_sha256 == sha256:
        what = f"nothing differs from spec {issued.letter}"
        yield Fault("L004", "Issued spec", what, "Change the draft first, or leave it as it is.")
    if issued is not None and not because.strip():
        what = f"spec {issued.letter} stands, and nothing says why another takes its place"
        yield Fault("L006", "Issued spec", what, "Write the reason.")


def _open_choices(spec: Spec, stages: Sequence[Stage]) -> tuple[OpenChoice, ...]:
    ids: Mapping[str, str] = {stage.label: stage.id for stage in stages}
    return tuple(
        OpenChoice(
            group_id=group.group_id,
            closes_at=ids.get(group.closes_at, group.closes_at),
            label=group.group_label[:200],
        )
        for group in spec.open_groups
    )


def _too_late(life: Life, spec: Spec, open_choices: Sequence[OpenChoice]) -> Iterator[Fault]:
    reached = {body.stage_id for body in life.of(StageReached)}
    labels = {group.group_id: group.group_label for group in spec.open_groups}
    for choice in open_choices:
        if choice.closes_at in reached:
            label = labels[choice.group_id]
            what = f"it is still open, and the stage that closes it ({choice.closes_at}) is reached"
            yield Fault("L003", label, what, "Choose with the customer, then issue.")


def _voided(life: Life, issued: SpecIssued) -> Iterator[SignOffVoided]:
    for signed in life.holding_sign_offs:
        changed = changed_sections(signed.section_sha256, issued.section_sha256)
        lost = tuple(section for section in changed if section in signed.section_sha256)
        if lost:
            yield SignOffVoided(
                letter=signed.letter,
                by_letter=issued.letter,
                sign_off=signed.sign_off,
                sections=lost,
            )
