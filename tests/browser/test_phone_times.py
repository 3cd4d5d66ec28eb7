"""My dates: worked out as on paper, refused when impossible, kept on this phone alone; and the visit as a calendar file."""

from __future__ import annotations

from dataclasses import replace
from datetime import UTC, datetime, timedelta
from pathlib import Path
from zoneinfo import ZoneInfo

import icalendar
import pytest
from playwright.sync_api import Browser, BrowserContext, Page, expect

from aftercare.language.languages import LANGUAGES
from aftercare.language.translate import WHOLE_DAYS
from aftercare.language.values import moment
from aftercare.sheet.address import fragment
from aftercare.sheet.schedule import Schedule
from tests.browser.desk_room import axe_violations
from tests.browser.phone_clock import MIDNIGHT_IS_24
from tests.browser.phone_dates import enter_dates, shown_dates
from tests.phone_world import ARM, LEG, SHEETS, Site, basis, demo_desk

NEW_YORK = ZoneInfo("America/New_York")


def on_paper(dates: Schedule, tag: str, *names: str) -> dict[str, str]:
    """The same dates as the paper writes them, by Babel from CLDR."""
    written = {}
    for name in names:
        when = getattr(dates, name)
        value = moment(when.date() if name in WHOLE_DAYS else when, LANGUAGES[tag])
        written[name] = " ".join(value.text.split())
    return written


# Before and across both clock changes of New York in 2026 (tz database: 8 March and 1 November), and an ordinary week.
APPLIED = ("2026-11-25T14:30", "2026-03-07T23:15", "2026-10-31T12:00", "2026-12-31T23:59", "2028-02-27T08:05")


@pytest.mark.parametrize("sheet", SHEETS, ids=lambda sheet: sheet[0])
@pytest.mark.parametrize("tag", LANGUAGES)
def test_the_dates_are_those_of_the_paper(phone: Page, site: Site, sheet: tuple[str, str], tag: str) -> None:
    library = demo_desk().library
    weight = library.weights["partial"] if sheet == LEG else None
    choices = replace(basis(*sheet), options=(library.options["swelling-risk"],), weight=weight)
    names = ["ice_until", "raise_until", "dry_by", "early_until"] + (["walk_from"] if weight else [])
    phone.goto(f"{site.page(*sheet, tag)}#{fragment(choices)}")

    for applied in APPLIED:
        when = datetime.fromisoformat(applied).replace(tzinfo=NEW_YORK)
        enter_dates(phone, applied)
        assert shown_dates(phone) == on_paper(demo_desk().settle(replace(choices, applied=when)).schedule, tag, *names)


def on_arm(applied: str) -> dict[str, str]:
    """The paper's dates for the arm cast put on then, in English."""
    choices = replace(basis(*ARM), applied=datetime.fromisoformat(applied).replace(tzinfo=NEW_YORK))
    return on_paper(demo_desk().settle(choices).schedule, "en", "ice_until", "raise_until", "dry_by")


@pytest.mark.parametrize("applied", ["2026-03-08T01:30", "2026-03-08T03:30", "2026-11-01T01:30", "2026-11-01T03:30"])
def test_a_time_within_hours_of_a_clock_change_is_taken_as_the_clinics_clock_showed_it(
    phone: Page, site: Site, applied: str
) -> None:
    """New York, tz database: from 2:00 to 3:00 on 8 March 2026, back from 2:00 to 1:00 on 1 November."""
    phone.goto(site.page(*ARM))

    enter_dates(phone, applied)

    assert shown_dates(phone) == on_arm(applied)


def test_a_date_just_after_midnight_is_of_that_day_on_a_phone_that_calls_the_hour_24(phone: Page, site: Site) -> None:
    phone.add_init_script(MIDNIGHT_IS_24)
    phone.goto(site.page(*ARM))

    enter_dates(phone, "2026-12-31T23:30")

    assert shown_dates(phone) == on_arm("2026-12-31T23:30")


def test_a_patient_who_may_not_ice_has_no_date_for_ice(phone: Page, site: Site) -> None:
    code = fragment(replace(basis(*ARM), options=(demo_desk().library.options["less-feeling"],)))
    phone.goto(f"{site.page(*ARM)}#{code}")

    enter_dates(phone, "2026-11-25T14:30")

    assert "raise_until" in shown_dates(phone)
    assert "ice_until" not in shown_dates(phone)


def test_the_dates_follow_the_code(phone: Page, site: Site) -> None:
    code = fragment(replace(basis(*ARM), options=(demo_desk().library.options["swelling-risk"],)))
    phone.goto(site.page(*ARM))
    enter_dates(phone, "2026-11-25T14:30")
    assert "early_until" not in shown_dates(phone)

    phone.evaluate("code => { location.hash = code }", code)

    expect(phone.locator(".dates [data-time=early_until]")).to_be_visible()


def test_without_a_code_no_weight_and_no_early_check_are_promised(phone: Page, site: Site) -> None:
    phone.goto(site.page(*LEG))

    enter_dates(phone, "2026-11-25T14:30")

    assert set(shown_dates(phone)) == {"ice_until", "raise_until", "dry_by"}


def test_an_early_check_is_no_longer_asked_for_once_a_visit_within_it_is_known(phone: Page, site: Site) -> None:
    code = fragment(replace(basis(*ARM), options=(demo_desk().library.options["swelling-risk"],)))
    phone.goto(f"{site.page(*ARM)}#{code}")

    enter_dates(phone, "2026-11-25T14:30", "2026-11-27T14:30")
    assert "early_until" not in shown_dates(phone)
    enter_dates(phone, "2026-11-25T14:30", "2026-11-28T09:00")
    assert "early_until" in shown_dates(phone)


IMPOSSIBLE = (
    "2026-99-99T10:00",
    "2026-02-30T10:00",
    "0000-00-00T00:00",
    "2026-11-25T24:00",
    "2026-11-25T10:60",
    "26-11-25T10:00",
)
OTHER = ("2026-11-25", "tomorrow", "<b>2026-11-25T10:00</b>", "2026-11-25T10:00Z", "2026-11-25T10:00+01:00", "1" * 5000)


@pytest.mark.parametrize("zone", ["America/New_York", "Europe/London", "Europe/Berlin", "Australia/Sydney"])
def test_an_hour_that_comes_twice_is_the_first_as_on_paper(phone: Page, site: Site, zone: str) -> None:
    """Clocks went back at 2:00 on 1 November 2026 in New York, at 2:00 and 3:00 on 25 October 2026 in London and Berlin, and at
    3:00 on 5 April 2026 in Sydney (tz database); Python's first of the two is PEP 495's fold 0.
    """
    twice = {
        "America/New_York": "2026-11-01T01:30",
        "Europe/London": "2026-10-25T01:30",
        "Europe/Berlin": "2026-10-25T02:30",
        "Australia/Sydney": "2026-04-05T02:30",
    }[zone]
    put_on = datetime.fromisoformat(twice).replace(tzinfo=ZoneInfo(zone))
    choices = replace(basis(*ARM), applied=put_on)
    phone.goto(f"{site.page(*ARM)}#{fragment(choices)}")
    phone.evaluate("zone => { document.documentElement.dataset.zone = zone }", zone)

    enter_dates(phone, twice)

    dates = on_paper(demo_desk().settle(choices).schedule, "en", "ice_until", "raise_until", "dry_by")
    assert {name: shown_dates(phone)[name] for name in dates} == dates


SKIPPED = ("2026-03-08T02:30",)  # the hour that New York's clocks skip


@pytest.mark.parametrize("written", IMPOSSIBLE + OTHER + SKIPPED, ids=lambda written: written[:24])
def test_an_impossible_date_is_refused_and_never_rolled_over(phone: Page, site: Site, written: str) -> None:
    phone.goto(site.page(*ARM))
    enter_dates(phone, "2026-11-25T14:30")
    before = shown_dates(phone)
    # As on a phone that knows no field for dates and takes any text.
    phone.evaluate("document.getElementById('applied').type = 'text'")

    enter_dates(phone, written)

    expect(phone.locator("#bad-times")).to_be_visible()
    assert shown_dates(phone) == before
    phone.reload()
    expect(phone.locator("#times")).to_be_visible()
    assert shown_dates(phone) == before


@pytest.mark.parametrize("written", ["2026-12-99T09:00", "tomorrow", *SKIPPED])
def test_an_impossible_visit_is_refused_too(phone: Page, site: Site, written: str) -> None:
    phone.goto(site.page(*ARM))
    enter_dates(phone, "2026-01-25T14:30", "2026-12-02T09:00")
    before = shown_dates(phone)
    phone.evaluate("document.getElementById('visit').type = 'text'")

    enter_dates(phone, "2026-01-25T14:30", written)

    expect(phone.locator("#bad-times")).to_be_visible()
    assert shown_dates(phone) == before


def test_a_visit_before_it_was_put_on_is_refused(phone: Page, site: Site) -> None:
    phone.goto(site.page(*ARM))

    enter_dates(phone, "2026-11-25T14:30", "2026-11-25T14:30")

    expect(phone.locator("#bad-times")).to_be_visible()
    assert shown_dates(phone) == {}


def test_a_date_typed_halfway_is_refused_and_not_taken_for_none(phone: Page, site: Site) -> None:
    phone.goto(site.page(*ARM))
    enter_dates(phone, "2026-11-25T14:30", "2026-12-02T09:00")
    before = shown_dates(phone)
    phone.focus("#visit")
    phone.keyboard.press("Delete")
    assert phone.input_value("#visit") == ""

    phone.click("#times form button")

    expect(phone.locator("#bad-times")).to_be_visible()
    assert shown_dates(phone) == before


def test_what_was_wrong_with_the_dates_goes_with_them(phone: Page, site: Site) -> None:
    phone.goto(site.page(*ARM))
    enter_dates(phone, "2026-11-25T14:30")
    enter_dates(phone, "2026-11-25T14:30", "2026-11-24T09:00")
    expect(phone.locator("#bad-times")).to_be_visible()

    phone.click("#forget")

    expect(phone.locator("#bad-times")).to_be_hidden()


def test_dates_planted_in_the_phones_store_are_checked_again(phone: Page, site: Site) -> None:
    phone.goto(site.page(*ARM))
    phone.evaluate("localStorage.setItem('aftercare times SAF', '2026-99-99T10:00|<img src=x onerror=alert(1)>')")

    phone.reload()

    expect(phone.locator("#times")).to_be_visible()
    assert shown_dates(phone) == {}


def test_the_dates_stay_on_the_phone_for_every_language_and_go_with_one_tap(phone: Page, site: Site) -> None:
    phone.goto(site.page(*ARM))
    phone.wait_for_load_state("networkidle")
    enter_dates(phone, "2026-11-25T14:30", "2026-12-02T09:00")

    phone.goto(site.page(*ARM, "es"))
    expect(phone.locator("#times")).to_be_visible()
    assert len(shown_dates(phone)) == 4
    phone.click("#forget")

    assert shown_dates(phone) == {}
    assert phone.evaluate("Object.keys(localStorage).filter(key => key.includes('times'))") == []
    phone.reload()
    expect(phone.locator("#times")).to_be_visible()
    assert phone.input_value("#applied") == ""
    assert not any("2026" in line for line in site.log)


def test_dates_kept_for_one_device_are_not_those_of_another(phone: Page, site: Site) -> None:
    phone.goto(site.page(*ARM))
    enter_dates(phone, "2026-11-25T14:30", "2026-12-02T09:00")

    phone.goto(site.page(*LEG))

    expect(phone.locator("#times")).to_be_visible()
    assert shown_dates(phone) == {}
    assert phone.input_value("#applied") == ""


def test_kept_dates_are_in_sight_when_the_page_is_opened_again(phone: Page, site: Site) -> None:
    phone.goto(site.page(*ARM))
    assert phone.locator("#times form").is_hidden()
    enter_dates(phone, "2026-11-25T14:30")

    phone.reload()

    expect(phone.locator(".dates li:visible").first).to_be_visible()


def test_a_visit_alone_can_be_removed_too(phone: Page, site: Site) -> None:
    phone.goto(site.page(*ARM))
    enter_dates(phone, "", "2026-12-02T09:00")

    phone.click("#forget")

    assert shown_dates(phone) == {}
    assert phone.locator("#calendar, #forget").filter(visible=True).count() == 0


def test_a_phone_that_keeps_nothing_still_works(context: BrowserContext, site: Site) -> None:
    """As in some private windows, where even reading the store is refused."""
    phone = context.new_page()
    errors: list[str] = []
    phone.on("pageerror", lambda error: errors.append(str(error)))
    phone.add_init_script(
        "Object.defineProperty(window, 'localStorage', {get() { throw new DOMException('no', 'SecurityError') }})"
    )
    phone.goto(site.page(*ARM))
    phone.click("#larger")

    enter_dates(phone, "2026-11-25T14:30")
    assert shown_dates(phone) != {}
    assert phone.input_value("#applied") == "2026-11-25T14:30"
    phone.click("#forget")
    assert shown_dates(phone) == {}
    assert errors == []


def calendar(phone: Page, folder: Path) -> bytes:
    with phone.expect_download() as started:
        phone.click("#calendar")
    assert started.value.suggested_filename == "visit.ics"
    target = folder / "visit.ics"
    started.value.save_as(target)
    return target.read_bytes()


def time_of(component: icalendar.Component, name: str) -> object:
    """The date, time or duration of a property, as a value of `datetime`."""
    value = component[name]
    assert isinstance(value, icalendar.vDDDTypes)
    return value.dt


@pytest.mark.parametrize("tag", LANGUAGES)
def test_the_calendar_file_holds_the_visit_and_two_reminders(phone: Page, site: Site, tmp_path: Path, tag: str) -> None:
    """RFC 5545, read back by the icalendar library."""
    phone.goto(site.page(*ARM, tag))
    enter_dates(phone, "2026-11-25T14:30", "2026-12-02T09:00")

    file = icalendar.Calendar.from_ical(calendar(phone, tmp_path))

    assert [file["VERSION"], bool(file["PRODID"])] == ["2.0", True]
    (visit,) = file.walk("VEVENT")
    assert time_of(visit, "DTSTART") == datetime(2026, 12, 2, 9, tzinfo=NEW_YORK).astimezone(UTC)
    assert visit["UID"]
    stamp = time_of(visit, "DTSTAMP")
    assert isinstance(stamp, datetime)
    assert stamp.tzinfo is not None
    assert [time_of(alarm, "TRIGGER") for alarm in visit.walk("VALARM")] == [timedelta(hours=-24), timedelta(hours=-2)]
    lines = phone.locator("#page .calls a:not(.sos)").all_inner_texts()
    described = str(visit["DESCRIPTION"]).split("\n")
    assert [" ".join(line.split()) for line in described] == [" ".join(line.split()) for line in lines]
    assert file.errors == []


def test_no_two_calendar_files_share_a_name_by_which_one_would_replace_the_other(
    phone: Page, site: Site, tmp_path: Path
) -> None:
    """RFC 5545, 3.8.4.7: the UID is globally unique."""
    phone.goto(site.page(*ARM))
    enter_dates(phone, "", "2026-12-02T09:00")

    uids = [icalendar.Calendar.from_ical(calendar(phone, tmp_path)).walk("VEVENT")[0]["UID"] for _ in range(2)]

    assert len(set(uids)) == 2


def test_the_title_names_no_injury_and_no_device(phone: Page, site: Site, tmp_path: Path) -> None:
    phone.goto(site.page(*ARM))
    enter_dates(phone, "", "2026-12-02T09:00")

    text = calendar(phone, tmp_path).decode().lower()

    assert not any(word in text for word in ("fracture", "broken", "short arm", "splint", "injur", "saf"))


def test_the_lines_end_and_fold_as_the_standard_says(phone: Page, site: Site, tmp_path: Path) -> None:
    """RFC 5545, 3.1: CRLF, at most 75 octets, no character cut in two; 3.3.11: backslash, semicolon, comma, newline escaped."""
    phone.goto(site.page(*ARM))
    title = "Visita de revisión — traiga la hoja; el bastón, y \\ la bolsa: " + "ä€😀" * 40
    phone.evaluate("title => { document.getElementById('calendar').dataset.title = title }", title)
    enter_dates(phone, "", "2026-12-02T09:00")

    written = calendar(phone, tmp_path)

    lines = written.split(b"\r\n")
    assert lines[-1] == b""
    assert b"\n" not in b"".join(lines)
    assert max(len(line) for line in lines) <= 75
    assert all(line.decode() for line in lines[:-1])
    (visit,) = icalendar.Calendar.from_ical(written).walk("VEVENT")
    assert visit["SUMMARY"] == title


def test_each_mark_that_the_standard_gives_a_meaning_is_escaped(phone: Page, site: Site, tmp_path: Path) -> None:
    """RFC 5545, 3.3.11; on the bytes themselves, since readers forgive a bare comma."""
    phone.goto(site.page(*ARM))
    phone.evaluate("title => { document.getElementById('calendar').dataset.title = title }", "one, two; three\\")
    enter_dates(phone, "", "2026-12-02T09:00")

    unfolded = calendar(phone, tmp_path).replace(b"\r\n ", b"").split(b"\r\n")

    assert rb"SUMMARY:one\, two\; three\\" in unfolded


@pytest.mark.parametrize(
    ("visit", "told"),
    [("2026-12-02T09:00", ".dates"), ("2026-11-24T09:00", "#bad-times")],
    ids=["the dates", "what is wrong with them"],
)
def test_what_saving_came_to_is_in_sight_and_has_the_focus(phone: Page, site: Site, visit: str, told: str) -> None:
    phone.emulate_media(reduced_motion="reduce")  # so that nothing is still on its way when it is measured
    phone.set_viewport_size({"width": 320, "height": 454})
    phone.goto(site.page(*ARM))
    enter_dates(phone, "2026-11-25T14:30", visit)

    expect(phone.locator(told)).to_be_focused()
    first = phone.locator(f"{told} li:visible, {told}:not(ul)").first.bounding_box()
    bar = phone.locator(".quick").bounding_box()
    assert first
    assert bar
    assert 0 <= first["y"] < first["y"] + first["height"] <= bar["y"]


def test_removing_the_dates_leaves_the_focus_at_their_heading(phone: Page, site: Site) -> None:
    phone.goto(site.page(*ARM))
    enter_dates(phone, "2026-11-25T14:30", "2026-12-02T09:00")

    phone.click("#forget")

    expect(phone.locator("#times summary")).to_be_focused()


def test_axe_finds_nothing_with_dates_in_sight(phone: Page, site: Site) -> None:
    phone.emulate_media(reduced_motion="reduce")  # so that nothing is still on its way when it is measured
    phone.goto(site.page(*ARM))
    enter_dates(phone, "2026-11-25T14:30", "2026-12-02T09:00")

    assert axe_violations(phone) == []


def test_the_clinics_clock_counts_wherever_the_phone_is(browser: Browser, site: Site) -> None:
    context = browser.new_context(timezone_id="Asia/Tokyo")
    phone = context.new_page()
    phone.goto(site.page(*ARM))
    enter_dates(phone, "2026-11-25T14:30", "2026-12-02T09:00")

    assert shown_dates(phone)["dry_by"] == on_arm("2026-11-25T14:30")["dry_by"]
    context.close()
