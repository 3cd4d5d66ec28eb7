"""The phone page in a real browser: this patient's parts, whatever stands behind `#`, on any screen, for everybody."""

from __future__ import annotations

import random
import re
from collections.abc import Sequence
from dataclasses import replace
from itertools import combinations
from pathlib import Path
from typing import Literal

import pytest
from playwright.sync_api import Browser, Page, expect

from aftercare.language.languages import LANGUAGES
from aftercare.library.modules import URGENT, Option, Tier, Weight
from aftercare.sheet.address import fragment
from aftercare.sheet.choices import Choices, Side
from aftercare.sheet.sheet import FullSheet, PatientSheet
from aftercare.sheet.validate import options_for, weights_for
from tests.browser.desk_room import axe_violations, nu_messages
from tests.phone_world import ARM, LEG, SHEETS, Site, basis, demo_desk, path_of

Scheme = Literal["light", "dark"]
each_sheet = pytest.mark.parametrize(("device", "material"), SHEETS)
each_language = pytest.mark.parametrize("tag", LANGUAGES)

# The places, in the order of the page, of the parts that are in sight.
SHOWN = """() => Array.from(document.querySelectorAll('.signs>li,.passage'))
    .map((part, place) => part.checkVisibility() ? place : -1).filter(place => place >= 0)"""


def all_parts(sheet: FullSheet) -> list[str]:
    """What the page of a full sheet holds, in its order."""
    signs = [(group.tier, entry.item.id) for group in sheet.groups for entry in group.signs]
    return page_order(signs, [entry.item.id for section in sheet.sections for entry in section.passages])


def patient_parts(sheet: PatientSheet) -> list[str]:
    """What the page shows of a patient's sheet, in its order."""
    signs = [(group.tier, sign.id) for group in sheet.groups for sign in group.signs]
    return page_order(signs, [passage.id for section in sheet.sections for passage in section.passages])


def page_order(signs: Sequence[tuple[Tier, str]], advice: Sequence[str]) -> list[str]:
    """The urgent signs, the advice, the other signs."""
    urgent = [f"sign {id_}" for tier, id_ in signs if tier in URGENT]
    return [*urgent, *advice, *(f"sign {id_}" for tier, id_ in signs if tier not in URGENT)]


def patients(device: str, material: str) -> list[Choices]:
    """Patients with no option, one each, some pairs, all, and a handful drawn by lot; with each weight order."""
    library = demo_desk().library
    plain = basis(device, material)
    can = options_for(library, plain.device, plain.material)
    groups = [(), *((option,) for option in can), *list(combinations(can, 2))[::7], can]
    lot = random.Random(2026)
    groups += [tuple(option for option in can if lot.random() < 0.4) for _ in range(10)]
    weights = weights_for(library, plain.device) or (None,)
    sides = (Side.LEFT, Side.RIGHT, None)
    return [
        replace(plain, side=sides[number % 3], options=options, weight=weights[number % len(weights)])
        for number, options in enumerate(groups)
        if not any(conflict in {option.id for option in options} for option in options for conflict in option.conflicts)
    ]


@each_sheet
def test_the_code_shows_just_what_the_same_choices_compose(phone: Page, site: Site, device: str, material: str) -> None:
    phone.goto(site.page(device, material))
    everything = all_parts(demo_desk().sheets[device, material])
    tried = patients(device, material)

    for choices in tried:
        mine = patient_parts(demo_desk().settle(choices))
        phone.evaluate("code => { location.hash = code }", fragment(choices))
        expect(phone.locator("#mine")).to_be_visible()

        assert [everything[place] for place in phone.evaluate(SHOWN)] == mine, fragment(choices)
        assert phone.locator(".if:visible").count() == 0
    assert len(tried) > 20


@each_sheet
def test_no_heading_is_left_over_a_section_with_nothing_in_it(phone: Page, site: Site, device: str, material: str) -> None:
    phone.goto(f"{site.page(device, material)}#{fragment(basis(device, material))}")

    empty = phone.evaluate(
        """() => Array.from(document.querySelectorAll('#page .topic, #page .group')).filter(whole => whole.checkVisibility())
        .filter(whole => !Array.from(whole.querySelectorAll('li,p')).some(part => part.checkVisibility())).length"""
    )
    assert empty == 0


HOSTILE = (
    "X",
    "H00",
    "h00q0",
    "H0000",
    "N00ZZZZZZZZZZZZ7",
    "N90" + "0",
    "<script>alert(1)</script>",
    "%3Cimg%20src=x%20onerror=alert(1)%3E",
    "javascript:alert(1)",
    "a" * 100_000,
    "N00-<b>",
    "N000-AAAA-BBBB",
    "../../ES/SAF/",
    "\u202e000N",
    "__proto__",
    "constructor",
)


@pytest.mark.parametrize("code", HOSTILE, ids=range(len(HOSTILE)))
def test_a_code_no_sheet_has_changes_nothing_but_a_gentle_notice(phone: Page, site: Site, code: str) -> None:
    phone.on("dialog", lambda dialog: pytest.fail(f"a script ran: {dialog.message}"))
    phone.goto(site.page())
    before = phone.evaluate(SHOWN), phone.title()

    phone.evaluate("code => { location.hash = code }", code)

    expect(phone.locator("#bad-code")).to_be_visible()
    assert (phone.evaluate(SHOWN), phone.title()) == before
    assert phone.locator("#mine").is_hidden()
    assert all("#" not in href for href in phone.evaluate("Array.from(document.querySelectorAll('a[hreflang]'), a => a.href)"))


def arm_code(side: Side | None = None, options: tuple[Option, ...] = (), weight: Weight | None = None) -> str:
    """A code with the right check character, for the arm cast whether it can have all this or not."""
    return fragment(replace(basis(*ARM), side=side, options=options, weight=weight))


def sound_but_of_no_sheet() -> dict[str, str]:
    """Codes whose check character is right, so that something else must refuse them."""
    library = demo_desk().library
    unknown = replace(library.options["sling"], bit=39)
    return {
        "an option nobody has": arm_code(options=(unknown,)),
        "a weight order on an arm": arm_code(weight=library.weights["partial"]),
        "two editions": f"{arm_code()}-AAAAAA-BBBBBB",
        "an edition that is none": f"{arm_code()}-<B>",
    }


@pytest.mark.parametrize("why", sound_but_of_no_sheet())
def test_a_code_with_a_right_check_character_that_no_sheet_of_this_device_has_is_refused(
    phone: Page, site: Site, why: str
) -> None:
    phone.goto(f"{site.page()}#{sound_but_of_no_sheet()[why]}")

    expect(phone.locator("#bad-code")).to_be_visible()
    assert phone.locator("#mine").is_hidden()


@pytest.mark.parametrize(("side", "mirrored"), [(Side.LEFT, True), (Side.RIGHT, False), (None, False)])
def test_the_picture_shows_the_side_of_the_code(phone: Page, site: Site, side: Side | None, mirrored: bool) -> None:
    """Drawn, it is a right limb; turned over, a left one."""
    phone.goto(f"{site.page()}#{arm_code(side)}")

    transform = phone.evaluate("getComputedStyle(document.querySelector('.drawing svg')).transform")
    assert transform == ("matrix(-1, 0, 0, 1, 0, 0)" if mirrored else "none")


def test_only_while_all_parts_are_shown_a_line_marks_those_that_depend(phone: Page, site: Site) -> None:
    phone.goto(f"{site.page()}#{arm_code(options=(demo_desk().library.options['sling'],))}")
    lines = """() => new Set(Array.from(document.querySelectorAll('.passage[data-o]')).filter(one => one.checkVisibility())
        .map(one => getComputedStyle(one).borderInlineStartWidth))"""
    mine = phone.evaluate(f"Array.from(({lines})())")

    phone.click("#mine")

    assert (mine, phone.evaluate(f"Array.from(({lines})())")) == (["0px"], ["4px"])


def test_the_button_says_which_parts_a_tap_will_show(phone: Page, site: Site) -> None:
    phone.goto(f"{site.page()}#{arm_code()}")

    said = [phone.locator("#mine").inner_text()]
    for _ in range(2):
        phone.click("#mine")
        said.append(phone.locator("#mine").inner_text())

    assert said == ["Show all parts", "Show only my sheet", "Show all parts"]


def test_a_code_with_one_letter_changed_is_not_taken_for_another(phone: Page, site: Site) -> None:
    library = demo_desk().library
    code = arm_code(Side.LEFT, (library.options["wires"], library.options["sling"]))
    phone.goto(site.page())

    for place in range(len(code)):
        for letter in "0123456789ABCDEFGHJKMNPQRSTVWXYZ":
            if letter != code[place]:
                changed = code[:place] + letter + code[place + 1 :]
                assert (
                    phone.evaluate(
                        "code => { history.replaceState(null, '', '#' + code); return sheet.readPatient() }", changed
                    )
                    is False
                )


def test_a_code_typed_in_small_letters_is_read(phone: Page, site: Site) -> None:
    phone.goto(f"{site.page()}#{arm_code().lower()}")

    expect(phone.locator("#mine")).to_be_visible()


def test_all_parts_can_be_shown_again_and_hidden_again(phone: Page, site: Site) -> None:
    phone.goto(site.page())
    everything = phone.evaluate(SHOWN)
    phone.goto(f"{site.page()}#{arm_code()}")
    mine = phone.evaluate(SHOWN)

    phone.click("#mine")
    assert phone.evaluate(SHOWN) == everything
    phone.click("#mine")
    assert phone.evaluate(SHOWN) == mine != everything


def test_nothing_behind_the_hash_reaches_the_server_and_nothing_is_asked_of_others(phone: Page, site: Site) -> None:
    asked: list[str] = []
    phone.on("request", lambda request: asked.append(request.url))
    code = arm_code()
    site.log.clear()

    phone.goto(f"{site.page()}#{code}", wait_until="networkidle")
    phone.get_by_role("link", name="Español").click()
    phone.wait_for_load_state("networkidle")

    assert phone.url == f"{site.page(tag='es')}#{code}"
    assert all(url.startswith(site.address) for url in asked)
    assert len(site.log) >= 2
    assert not any(code in line or "#" in line for line in site.log)


def test_the_page_is_whole_and_in_order_with_scripts_off(browser: Browser, site: Site) -> None:
    context = browser.new_context(java_script_enabled=False, viewport={"width": 360, "height": 640})
    without = context.new_page()
    without.goto(site.page(*LEG))

    for part in without.locator(".signs > li, .passage, .calls a").all():
        assert part.is_visible()
    assert [button.is_visible() for button in without.locator("button").all()].count(True) == 0
    assert without.locator("#walk, #times, .tools, #bad-code, #changed, #newer, #offline").filter(visible=True).count() == 0
    context.close()


@each_language
def test_the_danger_box_and_a_number_to_call_are_on_the_first_screen(phone: Page, site: Site, tag: str) -> None:
    phone.goto(site.page(tag=tag))

    title = phone.locator("#danger").bounding_box()
    lead = phone.locator(".lead").bounding_box()
    number = phone.locator(".quick a:visible").bounding_box()
    assert title
    assert lead
    assert number
    # The one main message is above the fold (CDC Clear Communication Index, item 2).
    assert title["y"] + title["height"] < lead["y"] + lead["height"] <= number["y"]
    assert number["y"] + number["height"] <= 640


ZOOMS = (("", 320), ("large", 320), ("largest", 320), ("", 640), ("largest", 360))


@each_language
@pytest.mark.parametrize(("size", "width"), ZOOMS)
def test_nothing_runs_off_a_narrow_screen_at_any_text_size(phone: Page, site: Site, tag: str, size: str, width: int) -> None:
    """WCAG 1.4.10 (320 CSS pixels) and 1.4.4 (text at 200 %)."""
    phone.set_viewport_size({"width": width, "height": 640})
    phone.goto(site.page(*LEG, tag))
    if size:
        phone.evaluate("size => document.documentElement.classList.add(size)", size)

    assert phone.evaluate("document.documentElement.scrollWidth") <= width
    wide = phone.evaluate(
        """() => Array.from(document.querySelectorAll('body *')).filter(one => one.checkVisibility())
        .filter(one => { const box = one.getBoundingClientRect(); return box.left < -1 || box.right > innerWidth + 1 })
        .map(one => one.outerHTML.slice(0, 80))"""
    )
    assert wide == []


@each_language
def test_wider_spacing_of_the_readers_own_loses_no_text(phone: Page, site: Site, tag: str) -> None:
    """WCAG 1.4.12."""
    phone.goto(site.page(tag=tag))
    # Through the browser's own tools, as a reader's extension would; the page's policy forbids styles from inside.
    phone.evaluate(
        """() => {
          const sheet = new CSSStyleSheet();
          sheet.replaceSync('* { line-height: 1.5 !important; letter-spacing: .12em !important;'
            + ' word-spacing: .16em !important } p { margin-bottom: 2em !important }');
          document.adoptedStyleSheets = [sheet];
        }"""
    )

    clipped = phone.evaluate(
        """() => Array.from(document.querySelectorAll('#page *')).filter(one => one.checkVisibility() && !one.closest('svg'))
        .filter(one => one.scrollWidth > one.clientWidth + 1 && getComputedStyle(one).overflow !== 'visible')
        .map(one => one.outerHTML.slice(0, 80))"""
    )
    assert clipped == []
    assert phone.evaluate("document.documentElement.scrollWidth") <= 360


@each_language
def test_everything_to_tap_is_at_least_44_pixels(phone: Page, site: Site, tag: str) -> None:
    """WCAG 2.5.5; a link inside a sentence is the criterion's own exception."""
    phone.goto(site.page(tag=tag))

    small = phone.evaluate(
        """() => Array.from(document.querySelectorAll('a,button,input'))
        .filter(one => one.checkVisibility() && !one.closest('p,h3,.passage'))
        .filter(one => { const box = one.getBoundingClientRect(); return box.width < 44 || box.height < 44 })
        .map(one => one.outerHTML.slice(0, 80))"""
    )
    assert small == []


def test_larger_text_grows_twice_and_is_remembered_on_this_phone(phone: Page, site: Site) -> None:
    phone.goto(site.page())
    size = "parseFloat(getComputedStyle(document.documentElement).fontSize)"

    sizes = [phone.evaluate(size)]
    for _ in range(3):
        phone.click("#larger")
        sizes.append(phone.evaluate(size))
    phone.click("#larger")
    phone.reload()
    expect(phone.locator("#larger")).to_be_visible()

    assert sizes == [18, 24, 32, 18]
    assert phone.evaluate(size) == 24


LOW_CONTRAST = """() => {
  const linear = v => { v /= 255; return v <= .04045 ? v / 12.92 : ((v + .055) / 1.055) ** 2.4 };
  const light = color => {
    const [r, g, b] = color.match(/[\\d.]+/g).map(Number).map(linear);
    return .2126 * r + .7152 * g + .0722 * b;
  };
  const ground = one => {
    for (; one; one = one.parentElement) {
      const color = getComputedStyle(one).backgroundColor;
      if (!/, 0\\)|transparent/.test(color)) return color;
    }
    return 'rgb(255, 255, 255)';
  };
  const low = [];
  for (const one of document.querySelectorAll('body *')) {
    if (!one.checkVisibility() || !Array.from(one.childNodes).some(node => node.nodeType === 3 && node.data.trim())) continue;
    const [high, deep] = [light(getComputedStyle(one).color), light(ground(one))].sort((a, b) => b - a);
    const ratio = (high + .05) / (deep + .05);
    if (ratio < 7) low.push(ratio.toFixed(2) + ' ' + one.outerHTML.slice(0, 80));
  }
  return low;
}"""


@pytest.mark.parametrize("scheme", ["light", "dark"])
@each_sheet
def test_every_text_stands_out_seven_to_one(browser: Browser, site: Site, device: str, material: str, scheme: Scheme) -> None:
    """WCAG 1.4.6, by its formula."""
    context = browser.new_context(color_scheme=scheme, viewport={"width": 360, "height": 640})
    page = context.new_page()
    page.goto(site.page(device, material))

    assert page.evaluate(LOW_CONTRAST) == []
    context.close()


@pytest.mark.parametrize("scheme", ["light", "dark"])
@each_language
@each_sheet
def test_axe_finds_nothing(browser: Browser, site: Site, device: str, material: str, tag: str, scheme: Scheme) -> None:
    context = browser.new_context(color_scheme=scheme, viewport={"width": 360, "height": 640})
    page = context.new_page()
    page.goto(site.page(device, material, tag), wait_until="networkidle")

    assert axe_violations(page) == []
    context.close()


def test_axe_finds_nothing_on_the_pages_around(phone: Page, site: Site) -> None:
    for path in ("", "EN/", "AR/"):
        phone.goto(site.address + path)
        assert axe_violations(phone) == []


def test_the_nu_checker_finds_nothing(tmp_path: Path, site: Site) -> None:
    paths = [path_of(device, material, tag) for device, material in SHEETS for tag in LANGUAGES]
    pages = {path.replace("/", "-"): (site.folder / path / "index.html").read_text() for path in (*paths, "", "EN/", "AR/")}

    # A file has no origin, so to the checker our own script is not 'self'; in the browser above, served, it is.
    # And this site says English words in every language.
    known = re.compile("external script “../../more-|appears to be written in English")
    assert [message for message in nu_messages(pages, tmp_path) if not known.search(message)] == []


def test_a_phone_number_reads_left_to_right_in_an_arabic_line(phone: Page, site: Site) -> None:
    """By where each character is drawn: UAX #9 would show 555-0143 as 0143-555 without isolation."""
    phone.goto(site.page(tag="ar"))

    drawn = phone.evaluate(
        """() => Array.from(document.querySelectorAll('.tel')).filter(one => one.checkVisibility()).map(one => {
          const text = one.firstChild, found = [], range = document.createRange();
          for (let at = 0; at < text.length; at++) {
            range.setStart(text, at);
            range.setEnd(text, at + 1);
            const box = range.getBoundingClientRect();
            if (box.width) found.push([Math.round(box.top), box.left, text.data[at]]);
          }
          found.sort((a, b) => a[1] - b[1]);
          return {lines: new Set(found.map(one => one[0])).size, text: found.map(one => one[2]).join(''), said: text.data};
        })"""
    )
    assert len(drawn) >= 4
    for number in drawn:
        assert re.sub(r"\s", "", number["text"]) == re.sub(r"\s", "", number["said"])
        assert number["lines"] == 1


def test_on_paper_the_page_has_no_buttons_and_black_text(phone: Page, site: Site) -> None:
    phone.goto(site.page())
    phone.emulate_media(media="print")

    assert phone.locator("button:visible, nav:visible, .quick:visible, form:visible").count() == 0
    assert phone.evaluate("getComputedStyle(document.body).color") == "rgb(0, 0, 0)"


def test_nothing_moves_for_a_reader_who_asked_for_that(phone: Page, site: Site) -> None:
    phone.emulate_media(reduced_motion="reduce")
    phone.goto(site.page())

    assert phone.evaluate("getComputedStyle(document.documentElement).scrollBehavior") == "auto"
