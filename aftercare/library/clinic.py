"""The one file a clinic edits: who to call, when it is open, where its phone site is, what it offers, and its own wording."""

from __future__ import annotations

import ipaddress
import re
from collections.abc import Mapping
from dataclasses import dataclass
from datetime import time
from enum import StrEnum
from urllib.parse import urlsplit
from zoneinfo import ZoneInfo, available_timezones

import phonenumbers
from phonenumbers import shortnumberinfo

from aftercare.errors import Fault, Problem, Where, did_you_mean
from aftercare.library.header import Fields
from aftercare.library.source import Source, Wording


class Paper(StrEnum):
    """Paper a sheet is laid out for."""

    LETTER = "letter"
    A4 = "a4"


DAYS = ("Mon", "Tue", "Wed", "Thu", "Fri", "Sat", "Sun")


@dataclass(frozen=True, slots=True)
class OpeningHours:
    """Open from `first` to `last` weekday (0 is Monday), between two times of day."""

    first: int
    last: int
    opens: time
    closes: time


@dataclass(frozen=True, slots=True)
class Phone:
    """A number as the clinic writes it, and as a phone dials it (RFC 3966)."""

    display: str
    tel: str


@dataclass(frozen=True, slots=True)
class Clinic:
    """A clinic. `unset` holds what must be filled in before anything is printed; `cautions` what staff should know.

    `approved_edition` is the wording edition the clinic approved, with the role that approved it and the day.
    """

    name: str
    phone: Phone
    after_hours: Phone
    emergency: Phone
    hours: tuple[OpeningHours, ...]
    time_zone: ZoneInfo
    phone_site: str
    paper: Paper
    languages: tuple[str, ...]
    figures: Mapping[str, tuple[tuple[float, ...], Where]]
    approved_edition: str
    approved_by: str
    approved_on: str
    wordings: tuple[Wording, ...]
    unset: tuple[Problem, ...]
    cautions: tuple[Problem, ...]
    where: Where


_NO_PHONE = Phone("", "")


def read_clinic(source: Source, problems: list[Problem]) -> Clinic:
    """The clinic file as a Clinic; what is wrong goes to `problems`, what is only not filled in yet to `unset`."""
    header = source.header
    unset: list[Problem] = []

    def needed(key: str, advice: str) -> str:
        value = header.text(key, "")
        if not value:
            unset.append(Problem(Fault.NOT_SET, f"'{key}' is empty.", advice=advice, where=header.place(key)))
        return value

    name = needed("name", "Write your clinic's name, as patients know it.")
    country = header.text("country", "US").upper()
    if country not in phonenumbers.SUPPORTED_REGIONS:
        header.blame(
            Fault.BAD_VALUE, f"'{country}' is not a country.", "Two letters, such as US or GB.", at=header.place("country").line
        )
        country = "US"
    phones = tuple(
        _phone(needed(key, "Write the number patients call, with its area code."), key, country, header)
        for key in ("phone", "after-hours-phone", "emergency-number")
    )
    site = needed("phone-site", "Write the web address where you put the phone pages, ending in '/'.")
    approved = header.inside("approved")
    clinic = Clinic(
        name=name,
        phone=phones[0],
        after_hours=phones[1],
        emergency=phones[2],
        hours=_hours(needed("hours", "Write the opening hours, such as 'Mon-Fri 08:00-16:30'."), header),
        time_zone=_zone(header.text("time-zone", "America/New_York"), header),
        phone_site=_site(site, header),
        paper=Paper(header.word("paper", tuple(Paper), Paper.LETTER)),
        languages=header.words("languages") or ("en",),
        figures=_figures(header.inside("figures")),
        approved_edition=approved.text("edition", ""),
        approved_by=approved.text("by", ""),
        approved_on=approved.text("on", ""),
        wordings=source.sections,
        unset=tuple(unset),
        cautions=tuple(caution for caution in [unreachable(site, header.place("phone-site"))] if caution),
        where=source.where,
    )
    approved.done()
    header.done()
    for block in source.blocks:
        what = "These words stand before the first '## module-id', so no sheet would show them."
        problems.append(Problem(Fault.BAD_MARKDOWN, what, advice="Move them below a '## module-id'.", where=block.text.where))
    return clinic


def _phone(written: str, key: str, country: str, header: Fields) -> Phone:
    if not written:
        return _NO_PHONE
    digits = re.sub(r"\D", "", written)
    if shortnumberinfo.is_emergency_number(digits, country) or (
        key == "emergency-number" and digits in ("112", "911", "999", "000")
    ):
        return Phone(written, f"tel:{digits}")
    try:
        number = phonenumbers.parse(written, country)
    except phonenumbers.NumberParseException:
        number = None
    if number is None or not phonenumbers.is_possible_number(number):
        what = f"'{written}' is not a phone number that can be called in {country}."
        header.blame(
            Fault.BAD_PHONE, what, "A full number, such as (202) 555-0143 or +44 20 7946 0018.", at=header.place(key).line
        )
        return _NO_PHONE
    return Phone(written, phonenumbers.format_number(number, phonenumbers.PhoneNumberFormat.RFC3966))


_HOURS = re.compile(r"^([A-Z][a-z]{2})(?:-([A-Z][a-z]{2}))? +(\d\d):(\d\d)-(\d\d):(\d\d)$")


def _hours(written: str, header: Fields) -> tuple[OpeningHours, ...]:
    found: list[OpeningHours] = []
    for part in filter(None, (part.strip() for part in written.split(";"))):
        match = _HOURS.match(part)
        try:
            if not match:
                raise ValueError(part)
            first, last = DAYS.index(match[1]), DAYS.index(match[2] or match[1])
            opens, closes = time(int(match[3]), int(match[4])), time(int(match[5]), int(match[6]))
            if first > last or opens >= closes:
                raise ValueError(part)
        except ValueError:
            allowed = "Days Mon to Sun in order and times of the day in order, such as 'Mon-Fri 08:00-16:30; Sat 09:00-12:00'."
            header.blame(Fault.BAD_VALUE, f"'{part}' is not a time we can read.", allowed, at=header.place("hours").line)
        else:
            found.append(OpeningHours(first, last, opens, closes))
    return tuple(found)


def _zone(written: str, header: Fields) -> ZoneInfo:
    known = available_timezones()
    if written not in known:
        advice = did_you_mean(written, known) or "See the tz database for the names."
        header.blame(
            Fault.BAD_VALUE,
            f"'{written}' is not a time zone.",
            "A name such as America/New_York.",
            advice,
            header.place("time-zone").line,
        )
        written = "UTC"
    return ZoneInfo(written)


def _site(written: str, header: Fields) -> str:
    if not written:
        return ""
    parts = urlsplit(written)
    if parts.scheme not in ("http", "https") or not parts.hostname or parts.query or parts.fragment:
        allowed = "A web address such as https://care.example.org/ with nothing after a '?' or '#'."
        header.blame(
            Fault.BAD_VALUE, f"'{written}' is not a web address we can print.", allowed, at=header.place("phone-site").line
        )
        return ""
    return written if written.endswith("/") else written + "/"


def unreachable(site: str, where: Where | None = None) -> Problem | None:
    """A caution when patients could not open the address at home: a local, private or single-word host, or plain http."""
    host = (urlsplit(site).hostname or "").rstrip(".").lower() if site else ""
    if not host:
        return None
    try:
        private = not ipaddress.ip_address(host).is_global
    except ValueError:
        # RFC 6762 .local, RFC 8375 home.arpa, RFC 6761 .localhost; .internal and .lan are common practice.
        private = "." not in host or host.endswith((".local", ".localhost", ".internal", ".lan", ".home.arpa"))
    if not private:
        return None
    what = f"Patients cannot open '{site}' at home: it is an address of this building or this machine."
    return Problem(Fault.LOCAL_ADDRESS, what, "A public web address.", "Change 'phone-site' in the clinic file.", where)


def _figures(fields: Fields) -> dict[str, tuple[tuple[float, ...], Where]]:
    return {key: (fields.numbers(key), fields.place(key)) for key in fields.keys()}
