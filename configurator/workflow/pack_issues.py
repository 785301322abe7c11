"""What a revision of the handover pack says of itself: who, why, what differs, the evidence."""

from __future__ import annotations

from collections.abc import Sequence
from datetime import date

from configurator.build_life.correction_reasons import correction_reasons
from configurator.build_life.entries import PackIssued
from configurator.build_life.evidence import evidence_of_choices
from configurator.build_life.gate import reason_for
from configurator.build_life.life import Life
from configurator.build_life.pack_changes import IN_DETAIL, Reasons, pack_changes
from configurator.build_life.people import Person
from configurator.build_life.tolerances import RecordVerdict
from configurator.build_spec.spec import Spec
from configurator.catalog.models.component import Slot
from configurator.documents.handover_pack.pack_issue import EarlierIssue, PackIssue
from configurator.workflow.issued_catalogs import catalog_of
from configurator.workflow.issuing import read_spec
from configurator.workflow.premises import Premises
from configurator.workflow.sign_offs_asked import sign_offs_asked


def pack_issue_of(
    premises: Premises,
    life: Life,
    spec: Spec,
    verdicts: Sequence[RecordVerdict],
    *,
    by: Person,
    today: date,
) -> PackIssue:
    """Gather what the next revision says of itself and of the revisions before.

    Parameters
    ----------
    premises, life
        Of the build.
    spec : Spec
        With what was measured.
    verdicts : sequence of RecordVerdict
        How each record stands that the vehicle needs.
    by : Person
        Who issues it.
    today : date
        The day of it.
    """
    packs = life.of(PackIssued)
    labels = {found.id: found.label for found in sign_offs_asked(premises, life)}
    return PackIssue(
        revision=len(packs) + 1,
        letter=life.issued.letter if life.issued else "",
        issued_on=today,
        issued_by=by.in_words,
        changes=_changes(premises, life, spec, packs[-1] if packs else None, verdicts),
        signed_by=tuple(
            f"{labels.get(signed.sign_off, signed.sign_off)}: {life.entry_of(signed).by.in_words}"
            for signed in life.holding_sign_offs
        ),
        earlier=tuple(
            EarlierIssue(
                pack.revision,
                life.entry_of(pack).made_at.date(),
                pack.changes,
                life.entry_of(pack).by.in_words,
            )
            for pack in packs
        ),
        answered=tuple(
            f"{finding.sentence} Why: {reason_for(life, finding)}"
            for finding in spec.findings
            if finding.severity == "warns"
        ),
        evidence=evidence_of_choices(spec, _fits(premises, spec), verdicts),
    )


def _fits(premises: Premises, spec: Spec) -> dict[str, tuple[Slot, ...]]:
    """Tell which slots the chosen option of each group fits, by the catalog of the spec."""
    catalog = catalog_of(premises, spec.catalog_sha256)
    chosen = {choice.group_id: choice.option_id for choice in spec.choices}
    return {
        group.id: tuple(option.fits)
        for group in catalog.groups_for(spec.vehicle.id)
        for option in group.options
        if option.id == chosen.get(group.id)
    }


def _changes(
    premises: Premises,
    life: Life,
    spec: Spec,
    last: PackIssued | None,
    verdicts: Sequence[RecordVerdict],
) -> tuple[str, ...]:
    """Say what differs from the revision before, in short sentences."""
    if last is None:
        return ()
    before = read_spec(premises, life, last.spec_sha256)
    reasons: Reasons = {}
    if life.issued is not None:
        issued = read_spec(premises, life, life.issued.spec_sha256)
        reasons = correction_reasons(life, verdicts, issued)
    told = pack_changes(before, spec, reasons)
    if told == (IN_DETAIL,) and reasons:
        labels = {verdict.record.key: verdict.record.label for verdict in verdicts}
        told = tuple(
            f"{labels.get(key, key[0])}: as it was, after it was corrected: {reason.rstrip('.')}."
            for key, reason in reasons.items()
        )
    if life.kept_under(last.spec_sha256) != last.spec_sha256:
        erased = "The owner's name and contact are removed."
        told = (erased, *(sentence for sentence in told if sentence != IN_DETAIL))
    return told
