"""Approvals as data: the English wording that the clinic approved, and the translations that a qualified person approved."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass, field, replace
from datetime import date

from aftercare.errors import Fault, Problem, Refused, Where, nearest
from aftercare.language.languages import LANGUAGES
from aftercare.language.messages import Messages
from aftercare.library.clinic import Clinic
from aftercare.library.header import parse_yaml

# Roles that may approve a language; no name of a person is ever stored.
ROLES = ("bilingual clinician", "medical translator", "language service")


@dataclass(frozen=True, slots=True)
class LanguageApproval:
    """The fingerprint of the approved translations, the role that approved them, and the day (ISO 8601)."""

    fingerprint: str
    role: str
    on: str


@dataclass(frozen=True, slots=True)
class Approvals:
    """Approvals by language tag. `wording` is the edition of the English now in force, None until computed."""

    languages: Mapping[str, LanguageApproval] = field(default_factory=dict)
    wording: str | None = None

    def wording_approved(self, clinic: Clinic) -> bool:
        """Whether the clinic file approves the English now in force."""
        return self.wording is not None and clinic.approved_edition == self.wording

    def language_approved(self, messages: Messages) -> bool:
        """Whether exactly these translations were approved; any change to them ends the approval."""
        approval = self.languages.get(messages.tag)
        return approval is not None and approval.fingerprint == messages.fingerprint


def approve(approvals: Approvals, messages: Messages, role: str, on: date) -> Approvals:
    """Approve these translations on the day `on`. Raises Refused for a role not in ROLES.

    The caller must have checked that every message has a sound translation.
    """
    if role not in ROLES:
        raise Refused.one(
            Fault.BAD_VALUE,
            "{} is no role that may approve a translation.",
            subject=(role,),
            allowed=ROLES,
            advice="Give the role, never a person's name.",
        )
    approval = LanguageApproval(messages.fingerprint, role, on.isoformat())
    return replace(approvals, languages={**approvals.languages, messages.tag: approval})


def parse_approvals(text: str, shown: str) -> Approvals:
    """Parse the text of `approvals.yaml`; an empty text approves nothing. Raises Refused with every problem of the text."""
    if not text.strip():
        return Approvals()
    problems: list[Problem] = []
    file = parse_yaml(text, Where(shown, 1), problems)
    languages: dict[str, LanguageApproval] = {}
    for tag in file.keys():
        inner = file.inside(tag)
        languages[tag] = LanguageApproval(inner.text("fingerprint"), inner.word("role", ROLES), inner.text("on"))
        inner.done()
        if tag not in LANGUAGES:
            what = "{} is no language of this program, so its approval would count for nothing."
            file.blame(Fault.UNKNOWN_NAME, what, subject=(tag,), allowed=LANGUAGES, suggestion=nearest(tag, LANGUAGES), key=tag)
    if problems:
        raise Refused(problems)
    return Approvals(languages)


def approvals_text(approvals: Approvals) -> str:
    """Format approvals as the text of `approvals.yaml`, which parse_approvals reads."""
    head = (
        "# Which translations were approved. Written by 'aftercare translate approve'; a changed translation needs it again.\n"
    )
    return head + "".join(
        f'{tag}: {{fingerprint: "{approval.fingerprint}", role: {approval.role}, on: "{approval.on}"}}\n'
        for tag, approval in sorted(approvals.languages.items())
    )
