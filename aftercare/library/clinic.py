"""Reads the one file a clinic edits: phones, opening hours, phone site, languages, figures and its own wording."""

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

from aftercare.errors import Fault, Problem, Where, nearest
from aftercare.library.header import Fields
from aftercare.library.source import Source, Wording


class Paper(StrEnum):
    """Paper size of a sheet."""

    LETTER = "letter"
    A4 = "a4"


DAYS = ("Mon", "Tue", "Wed", "Thu", "Fri", "Sat", "Sun")


@dataclass(frozen=True, slots=True)
class OpeningHours:
    """Open from `first` to `last` weekday (0 is Monday), between two local times of day."""

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
    """A clinic. `unset` are the values to fill in before anything is printed, `cautions` do not prevent printing.

    `approved_edition` is the wording edition that the clinic approved, with the role that approved it and the day.
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
    """Convert the clinic file; mistakes are added to `problems`, values not filled in yet to the clinic's `unset`."""
    header = source.header
    unset: list[Problem] = []

    def required_text(key: str, advice: str) -> str:
        value = header.text(key, "")
        if not value:
            what = "The value of {} is empty."
            unset.append(Problem(Fault.NOT_SET, what, subject=(key,), advice=advice, where=header.place(key)))
        return value

    name = required_text("name", "Write your clinic's name, as patients know it.")
    country = header.text("country", "US").upper()
    if country not in phonenumbers.SUPPORTED_REGIONS:
        allowed = ("two letters, such as US or GB",)
        header.blame(Fault.BAD_VALUE, "{} is not a country.", subject=(country,), allowed=allowed, key="country")
        country = "US"
    phones = tuple(
        _phone(required_text(key, "Write the number patients call, with its area code."), key, country, header)
        for key in ("phone", "after-hours-phone", "emergency-number")
    )
    site = required_text("phone-site", "Write the web address where you put the phone pages, ending in '/'.")
    approved = header.inside("approved")
    clinic = Clinic(
        name=name,
        phone=phones[0],
        after_hours=phones[1],
        emergency=phones[2],
        hours=_hours(required_text("hours", "Write the opening hours, such as 'Mon-Fri 08:00-16:30'."), header),
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
        cautions=_site_cautions(site, header.place("phone-site")),
        where=source.where,
    )
    approved.done()
    header.done()
    unused = [block.text for block in source.blocks] + ([source.title] if source.title.message else [])
    for text in unused:
        what = "These words stand before the first '## module-id', so no sheet would show them."
        problems.append(Problem(Fault.BAD_MARKDOWN, what, advice="Move them below a '## module-id'.", where=text.where))
    return clinic


def _phone(written: str, key: str, country: str, header: Fields) -> Phone:
    """Parse a phone number as it is dialed in `country`; one that cannot be called is a problem."""
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
        what = "{} is not a phone number that can be called in {}."
        allowed = ("a full number, such as (202) 555-0143 or +44 20 7946 0018",)
        header.blame(Fault.BAD_PHONE, what, subject=(written, country), allowed=allowed, key=key)
        return _NO_PHONE
    return Phone(written, phonenumbers.format_number(number, phonenumbers.PhoneNumberFormat.RFC3966))


_HOURS = re.compile(r"^([A-Z][a-z]{2})(?:-([A-Z][a-z]{2}))? +(\d\d):(\d\d)-(\d\d):(\d\d)$")


def _hours(written: str, header: Fields) -> tuple[OpeningHours, ...]:
    """Parse entries such as 'Mon-Fri 08:00-16:30', with ';' between them."""
    hours: list[OpeningHours] = []
    for entry in filter(None, (entry.strip() for entry in written.split(";"))):
        match = _HOURS.match(entry)
        try:
            if not match:
                raise ValueError(entry)
            first, last = DAYS.index(match[1]), DAYS.index(match[2] or match[1])
            opens, closes = time(int(match[3]), int(match[4])), time(int(match[5]), int(match[6]))
            if first > last or opens >= closes:
                raise ValueError(entry)
        except ValueError:
            allowed = ("days Mon to Sun in order and times of the day in order, such as Mon-Fri 08:00-16:30; Sat 09:00-12:00",)
            header.blame(Fault.BAD_VALUE, "{} is not opening hours.", subject=(entry,), allowed=allowed, key="hours")
        else:
            hours.append(OpeningHours(first, last, opens, closes))
    return tuple(hours)


def _zone(written: str, header: Fields) -> ZoneInfo:
    """The time zone with this name; UTC, and a problem, for an unknown one."""
    zones = available_timezones()
    if written not in zones:
        header.blame(
            Fault.BAD_VALUE,
            "{} is not a time zone.",
            subject=(written,),
            allowed=("a name of the tz database, such as America/New_York",),
            suggestion=nearest(written, zones),
            key="time-zone",
        )
        written = "UTC"
    return ZoneInfo(written)


def _site(written: str, header: Fields) -> str:
    """The web address, ending in '/'; "", and a problem, for one that cannot be printed."""
    if not written:
        return ""
    parts = urlsplit(written)
    if parts.scheme not in ("http", "https") or not parts.hostname or parts.query or parts.fragment:
        what = "{} is not a web address that can be printed."
        allowed = ("a web address such as https://care.example.org/ with nothing after a '?' or '#'",)
        header.blame(Fault.BAD_VALUE, what, subject=(written,), allowed=allowed, key="phone-site")
        return ""
    return written if written.endswith("/") else written + "/"


def _site_cautions(site: str, where: Where) -> tuple[Problem, ...]:
    """A caution where patients cannot open the address at home, because its host is local, private or a single word."""
    host = (urlsplit(site).hostname or "").rstrip(".").lower() if site else ""
    if not host:
        return ()
    try:
        is_private = not ipaddress.ip_address(host).is_global
    except ValueError:
        # RFC 6762 .local, RFC 8375 home.arpa, RFC 6761 .localhost; .internal and .lan are common practice.
        is_private = "." not in host or host.endswith((".local", ".localhost", ".internal", ".lan", ".home.arpa"))
    if not is_private:
        return ()
    what = "Patients cannot open {} at home: it is an address of this building or this machine."
    allowed, advice = ("a public web address",), "Change the phone site in the clinic file."
    return (Problem(Fault.LOCAL_ADDRESS, what, subject=(site,), allowed=allowed, advice=advice, where=where),)


def _figures(fields: Fields) -> dict[str, tuple[tuple[float, ...], Where]]:
    """The clinic's own figures: one number or (low, high) each, with its place."""
    figures = {}
    for key in fields.keys():
        problem_count = len(fields.problems)
        figures[key] = fields.numbers(key), fields.place(key)
        if len(figures[key][0]) not in (1, 2) and len(fields.problems) == problem_count:
            what = "The figure {} needs one number, or [low, high]."
            fields.blame(Fault.BAD_VALUE, what, subject=(key,), key=key)
    return figures
