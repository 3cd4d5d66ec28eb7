"""One phone page as a file: private, light, whole without scripts."""

from __future__ import annotations

import base64
import gzip
import hashlib
import re

import lxml.html
import phonenumbers
import pytest

from aftercare.language.languages import LANGUAGES, Direction
from aftercare.library.modules import URGENT
from aftercare.page.phone import phone_page
from aftercare.page.phone_assets import DEFERRED, asset, deferred_script
from aftercare.sheet.sheet import Conditional, Passage, Sign
from tests.phone_world import ARM, SHEETS, TEMPLATES, demo_desk, page, translated

each_sheet = pytest.mark.parametrize(("device", "material"), SHEETS)


def policy_of(text: str) -> dict[str, list[str]]:
    """The page's own security policy by directive (Content Security Policy Level 3)."""
    content = lxml.html.fromstring(text).xpath("//meta[@http-equiv='Content-Security-Policy']/@content")[0]
    return {words[0]: words[1:] for part in content.split(";") if (words := part.split())}


def sha256(text: str) -> str:
    return f"'sha256-{base64.b64encode(hashlib.sha256(text.encode()).digest()).decode()}'"


def test_the_policy_allows_just_the_pages_own_style_and_script() -> None:
    text = page()
    style, script = (re.findall(f"<{tag}>(.*?)</{tag}>", text, re.DOTALL) for tag in ("style", "script"))

    policy = policy_of(text)

    assert policy["default-src"] == ["'none'"]
    assert policy["style-src"] == [sha256(style[0])]
    assert policy["script-src"] == ["'self'", sha256(script[0])]
    assert (len(style), len(script)) == (1, 1)
    assert "unsafe" not in str(policy)
    assert [policy[name] for name in ("base-uri", "form-action")] == [["'none'"], ["'none'"]]


@each_sheet
def test_nothing_in_the_page_needs_what_the_policy_forbids(device: str, material: str) -> None:
    tree = lxml.html.fromstring(page(device, material))

    assert tree.xpath("//@style") == []
    assert [name for element in tree.iter() for name in element.attrib if name.startswith("on")] == []
    assert tree.xpath("//iframe | //object | //embed | //img | //base") == []


@each_sheet
def test_every_address_in_the_page_is_a_phone_or_a_file_beside_it(device: str, material: str) -> None:
    tree = lxml.html.fromstring(page(device, material))
    addresses = tree.xpath("//@href | //@src")

    assert all(address.startswith(("../../", "tel:")) for address in addresses)
    assert "http://www.w3.org/2000/svg" in page()  # a name, never fetched
    assert re.findall(r"(?<!xmlns=\")https?://[^\"' ]+", page()) == []


def test_no_page_sends_on_where_the_reader_came_from() -> None:
    assert lxml.html.fromstring(page()).xpath("//meta[@name='referrer']/@content") == ["no-referrer"]


def test_the_scripts_are_the_same_on_every_page() -> None:
    texts = {re.findall("<script.*?</script>", page(device, material), re.DOTALL)[0] for device, material in SHEETS}

    assert len(texts) == 1


def test_the_script_beside_the_page_is_named_and_bound_by_its_hash() -> None:
    beside = deferred_script(TEMPLATES)
    tag = lxml.html.fromstring(page()).xpath("//script[@src]")[0]

    assert tag.get("src") == f"../../{beside.path}"
    assert f"'{tag.get('integrity')}'" == sha256(beside.text)


# One round trip of a new connection: ten segments of 1,460 bytes (RFC 6928).
@pytest.mark.parametrize("tag", LANGUAGES)
@each_sheet
def test_a_page_fits_one_round_trip(device: str, material: str, tag: str) -> None:
    assert len(gzip.compress(page(device, material, tag).encode())) <= 14_600


def test_comments_and_indentation_stay_at_home() -> None:
    script = asset(TEMPLATES, "page.js")

    assert not re.search(r"^\s*//|^\s+", script, re.MULTILINE)
    assert "/*" not in asset(TEMPLATES, "page.css")


@each_sheet
def test_without_a_script_every_part_stands_under_its_own_condition(device: str, material: str) -> None:
    """Nothing of the body is hidden; what depends on the patient says on whom, in words."""
    english = translated(device, material, "en")
    tree = lxml.html.fromstring(page(device, material))
    groups = english.sheet.groups
    entries: list[Conditional[Sign] | Conditional[Passage]] = []
    entries += [sign for group in groups if group.tier in URGENT for sign in group.signs]
    entries += [passage for section in english.sheet.sections for passage in section.passages]
    entries += [sign for group in groups if group.tier not in URGENT for sign in group.signs]

    elements = tree.xpath("//ul[@class='signs']/li | //div[@class='passage']")
    for element, entry in zip(elements, entries, strict=True):
        assert element.xpath("ancestor-or-self::*[@hidden]") == []
        leads = [line.text_content() for line in element.xpath(".//p[@class='if']")]
        assert leads == [english.translation(text) for text in entry.lead]


def test_the_danger_box_comes_before_everything_but_the_title_and_then_the_numbers() -> None:
    headings = lxml.html.fromstring(page()).xpath("//main//*[self::h1 or self::h2]")

    assert [heading.get("id") for heading in headings[:3]] == [None, "danger", "call"]


@each_sheet
def test_every_number_can_be_dialed_as_printed(device: str, material: str) -> None:
    """RFC 3966 by the phonenumbers library: the global form, digit for digit the number that is shown."""
    links = lxml.html.fromstring(page(device, material)).xpath("//a[starts-with(@href, 'tel:')]")

    for link in links:
        shown = re.sub(r"\D", "", link.xpath(".//*[@class='tel']")[0].text_content())
        if link.get("href") == "tel:911":
            assert shown == "911"  # emergency numbers are local and dialed bare; common practice, no source
            continue
        number = phonenumbers.parse(link.get("href").removeprefix("tel:"))
        assert link.get("href") == phonenumbers.format_number(number, phonenumbers.PhoneNumberFormat.RFC3966)
        assert str(number.national_number) == shown
    assert {link.get("href") for link in links} == {"tel:911", "tel:+1-202-555-0143", "tel:+1-202-555-0178"}


def test_each_language_is_one_link_away_in_its_own_name() -> None:
    tree = lxml.html.fromstring(page(tag="ar"))

    links = {link.get("hreflang"): link for link in tree.xpath("//nav//a")}
    assert set(links) == set(demo_desk().clinic.languages) - {"ar"}
    for tag, link in links.items():
        language = LANGUAGES[tag]
        assert (link.text, link.get("lang"), link.get("dir")) == (language.own_name, tag, language.direction)
        assert link.get("href") == f"../../{language.path}/SAF/"
    assert tree.get("dir") == Direction.RTL


def test_a_language_that_waits_for_a_translation_is_not_linked() -> None:
    text = phone_page(translated(*ARM, "en"), demo_desk().frame, [LANGUAGES["en"]])

    assert lxml.html.fromstring(text).xpath("//nav//a") == []


@each_sheet
def test_every_number_in_a_right_to_left_page_is_isolated(device: str, material: str) -> None:
    """UAX #9: without isolation 555-0143 shows as 0143-555 in an Arabic line."""
    tree = lxml.html.fromstring(page(device, material, "ar"))

    for text in tree.xpath("//body//text()[not(ancestor::script or ancestor::style or ancestor::*[local-name()='svg'])]"):
        if re.search(r"\d{2}", text):
            assert text.getparent().xpath("ancestor-or-self::bdi[@dir='ltr'] | ancestor-or-self::bdi"), text


@pytest.mark.parametrize("name", ["page.js", *DEFERRED, "worker.js"])
def test_every_script_is_no_longer_than_one_can_take_in_and_asks_for_no_newer_phone(name: str) -> None:
    """ECMAScript 2017: no optional chaining, no nullish operators, no private fields, no lookbehind, no spread of objects."""
    text = TEMPLATES.text(f"phone/{name}")

    assert text.count("\n") <= 250
    newer = (r"\?\.", r"\?\?", r"\(\?<", r"\{\s*\.\.\.", r"\bthis\.#", r"\bcatch\s*\{", r"\.(flatMap|flat|replaceAll|at)\(")
    assert re.findall("|".join(newer), text) == []
