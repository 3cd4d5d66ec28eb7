"""Tests of the scores: a fault planted in a sheet costs the right item and is quoted; no shipped sheet loses an item."""

from __future__ import annotations

import json
from collections.abc import Callable
from dataclasses import replace
from functools import cache
from pathlib import Path

import pytest

from aftercare.desk import Desk
from aftercare.errors import Refused, Where
from aftercare.language.translated import TranslatedSheet
from aftercare.library.text import Block, BlockKind, Text
from aftercare.page.paper import Size, paper_page
from aftercare.page.phone import phone_page
from aftercare.places import find_places
from aftercare.sheet.choices import Choices
from aftercare.sheet.example_dates import with_example_dates
from aftercare.sheet.sheet import PatientSheet, Sign
from aftercare.understanding.clear_index import INDEX
from aftercare.understanding.faces import Face, text_of
from aftercare.understanding.instruments import Answer, Scale, Verdict, score_sheet
from aftercare.understanding.pemat import ACTIONABILITY, UNDERSTANDABILITY
from aftercare.understanding.report import ALL_SCALES, report_data, report_lines, unconditional, understanding
from aftercare.understanding.reviewed_sheet import ReviewedSheet
from tests.desk_world import clinic_home
from tests.phone_world import demo_desk
from tests.shell import Shell

PLANTED = Where("content/advice/planted.md", 12)


@cache
def faultless() -> TranslatedSheet[PatientSheet]:
    """The sheet of a walking cast, which has dates, a weight order and signs of a clot."""
    library = demo_desk().library
    choices = Choices(
        library.devices["short-leg-walking-cast"], library.materials["plaster-rolled"], weight=library.weights["partial"]
    )
    return demo_desk().translate(with_example_dates(choices, library.clinic.time_zone), "en")


def faces(translated: TranslatedSheet[PatientSheet]) -> tuple[str, str]:
    frame = demo_desk().frame
    paper = paper_page(translated, "HTTPS://CARE.EXAMPLE/EN/WCR/#R30A", Size.REGULAR, frame.templates)
    full = TranslatedSheet(
        unconditional(translated.sheet),
        translated.language,
        translated.translations,
        translated.values,
        translated.draft_wording,
        translated.draft_language,
        translated.edition,
    )
    return paper, phone_page(full, frame)


def few(desk: Desk, *devices: str) -> Desk:
    """The desk with these devices only."""
    return replace(desk, library=replace(desk.library, devices={id_: desk.library.devices[id_] for id_ in devices}))


def reviewed(change: Callable[[PatientSheet], PatientSheet] = lambda sheet: sheet, *swaps: tuple[str, str]) -> ReviewedSheet:
    """The faultless sheet, changed. Each swap replaces text in the HTML of both faces; at least one must contain it."""
    sheet = change(faultless().sheet)
    translated = replace(faultless(), sheet=sheet, translations={text.message: text.message for text in sheet.texts()})
    paper, phone = faces(translated)
    for old, new in swaps:
        assert old in paper + phone, old
        paper, phone = paper.replace(old, new), phone.replace(old, new)
    return ReviewedSheet.of(translated, paper, phone)


def answer(scale: Scale, number: int, sheet: ReviewedSheet) -> Answer:
    return next(result for result in score_sheet(scale, sheet).answers if result.item.number == number)


# ---- changes that plant a fault ----


def saying(*texts: str) -> Callable[[PatientSheet], PatientSheet]:
    """Replace the first topic by one with only these instructions."""

    def change(sheet: PatientSheet) -> PatientSheet:
        first, *others = sheet.sections
        blocks = tuple(Block(BlockKind.ITEM, Text(text, PLANTED)) for text in texts)
        passages = (replace(first.passages[0], blocks=blocks),)
        return replace(sheet, sections=(replace(first, title=Text("Raise it", PLANTED), passages=passages), *others))

    return change


def labeled(id_: str, text: str) -> Callable[[PatientSheet], PatientSheet]:
    def change(sheet: PatientSheet) -> PatientSheet:
        labels = {**sheet.full.labels, id_: Text(text, PLANTED)}
        return replace(sheet, full=replace(sheet.full, labels=labels))

    return change


def unreasoned(sheet: PatientSheet) -> PatientSheet:
    first, *others = sheet.sections
    passages = tuple(replace(passage, why=None) for passage in first.passages)
    return replace(sheet, sections=(replace(first, passages=passages), *others))


def one_sign(change_sign: Callable[[Sign], Sign] = lambda sign: sign) -> Callable[[PatientSheet], PatientSheet]:
    """Keep only the first sign of the last group in the danger box, changed."""

    def change(sheet: PatientSheet) -> PatientSheet:
        call, go, *later = sheet.groups
        return replace(sheet, groups=(call, replace(go, signs=(change_sign(go.signs[0]),)), *later))

    return change


def without_picture(sign: Sign) -> Sign:
    return replace(sign, picture="")


def without_reason(sign: Sign) -> Sign:
    return replace(sign, why=Text(""))


def crowded(sheet: PatientSheet) -> PatientSheet:
    call, go, *later = sheet.groups
    more = tuple(replace(go.signs[0], sign=Text(f"Sign {name}.")) for name in ("one", "two", "three"))
    return replace(sheet, groups=(call, replace(go, signs=go.signs + more), *later))


def titled(title: str, picture: str = "raise") -> Callable[[PatientSheet], PatientSheet]:
    def change(sheet: PatientSheet) -> PatientSheet:
        first, *others = sheet.sections
        return replace(sheet, sections=(replace(first, title=Text(title, PLANTED), picture=picture), *others))

    return change


def unchanged(sheet: PatientSheet) -> PatientSheet:
    return sheet


U, A, C = UNDERSTANDABILITY, ACTIONABILITY, INDEX
LONG = "Rest it and keep it up and do not let it hang and look at it often and then call us."
WORDY = "Rest it. " * 28
FOUR_LONG = "Rest it on a soft pillow at night and in the day as well. " * 4
PASSIVE = "The cast is removed. It was put on. The arm is held. It was wetted. It is dried. The skin is washed. It is raised."
MESSAGE = "If pain grows or your toes change, get help now."

FAULTS: tuple[tuple[Scale, int, Callable[[PatientSheet], PatientSheet], tuple[tuple[str, str], ...], str], ...] = (
    (U, 3, saying("Keep it up for optimal recuperation."), (), "recuperation"),
    (U, 4, saying("Watch for edema each day."), (), "edema"),
    (U, 4, saying("Call if you think it is a DVT."), (), "DVT"),
    (U, 5, saying(*[PASSIVE] * 2), (), "is removed"),
    (U, 6, saying("Take half of the pills, 0.5 each day."), (), "0.5"),
    (U, 6, saying("Rest it for two days."), (), "two days"),
    (U, 6, saying("Rest it for {raise_hours}, then 3 more."), (), ": 3"),
    (U, 6, saying("Use 20% less."), (), "%"),
    (U, 7, saying("Take the dose times your weight."), (), "times your"),
    (U, 7, unchanged, (("Keep raised until", "Raised"),), "raise_hours"),
    (U, 8, saying(*[WORDY] * 2), (), "words under this heading"),
    (U, 8, saying(FOUR_LONG), (), "sentences in one paragraph"),
    (U, 9, titled("General"), (), "General"),
    (U, 9, titled("Keep moving"), (), "comes twice"),
    (U, 9, unchanged, (('<h2 id="call">Who to call</h2>', ""),), "no heading"),
    (U, 10, lambda sheet: replace(sheet, sections=sheet.sections[::-1]), (("Nothing inside", "Inside"),), "Nothing inside"),
    (U, 11, labeled("main_message", "If your ears ring, get help now."), (), "ears"),
    (U, 11, unchanged, ((f">{MESSAGE}<", "><"),), MESSAGE),
    (U, 11, one_sign(), (), "numbness"),
    (U, 12, unchanged, (('<section class="danger"', '<section class="plain"'),), "no box"),
    (U, 15, titled("Raise it", ""), (), "Raise it"),
    (U, 15, one_sign(without_picture), (), "Pain keeps growing"),
    (U, 15, unchanged, (("<title>Short leg walking cast</title>", "<title></title>"),), "not drawn"),
    (U, 17, unchanged, (('<p class="caption">', '<p class="other">'),), "no caption"),
    (U, 17, unchanged, (("<title>Short leg walking cast</title>", ""),), "no alternative text"),
    (U, 19, labeled("date_visit", "The day on which you come back"), (), "header"),
    (U, 19, unchanged, (('<p class="scan">', '<table><tr><td>1</td></tr></table><p class="scan">'),), "without headers"),
    (A, 20, saying("A high foot is good."), (), "Raise it"),
    (A, 21, saying("Legs swell less on pillows."), (), "Legs swell"),
    (A, 21, saying("Rest it. The patient should not walk."), (), "The patient"),
    (A, 22, saying(LONG), (), "21 words"),
    (A, 23, unchanged, (('<ul class="boxes">', "<ul>"),), "nothing to tick"),
    (A, 23, unchanged, (('class="date-row"', 'class="row"'),), "no dates"),
    (A, 23, unchanged, (('id="walk-yes"', 'id="other"'),), "no check"),
    (A, 24, saying("Take the dose times your weight."), (), "times your"),
    (A, 26, titled("Raise it", ""), (), "Raise it"),
    (C, 1, unchanged, ((f">{MESSAGE}<", "><"),), MESSAGE),
    (C, 1, unchanged, ((f">{MESSAGE}<", f">{MESSAGE}</p><p>{MESSAGE}<"),), "2 times"),
    (C, 1, labeled("main_message", "Get help now. Do it. Do it fast. Pain."), (), "too long"),
    (C, 2, unchanged, (('<p class="main-message">', '<ul><li>First</li></ul><p class="main-message">'),), "First"),
    (C, 3, unchanged, (('<p class="main-message">', '<p class="small">'),), "not emphasized"),
    (C, 4, one_sign(without_picture), (), "Pain keeps growing"),
    (C, 5, labeled("main_message", "Pain may grow."), (), "Pain may grow"),
    (C, 6, labeled("main_message", "If pain is felt, get help now."), (), "is felt"),
    (C, 7, saying("Watch for edema each day."), (), "edema"),
    (C, 7, saying("Keep it up for optimal recuperation."), (), "recuperation"),
    (C, 8, crowded, (), "9 items"),
    (C, 9, titled("General"), (), "General"),
    (C, 9, saying(FOUR_LONG), (), "sentences"),
    (C, 10, unchanged, (('<section class="danger"', '<section class="topic"></section><section class="danger"'),), "box"),
    (C, 10, one_sign(), (), "numbness"),
    (C, 11, unchanged, (("No one can know yet", "We know"),), "No one can know"),
    (C, 12, saying("A high foot is good."), (), "Raise it"),
    (C, 13, unreasoned, (), "Keep it raised"),
    (C, 14, saying("Look well."), (), "Raise it"),
    (C, 15, saying("Use 20% less."), (), "%"),
    (C, 16, saying("Rest it. {raise_hours}."), (), "72"),
    (C, 17, saying("Take the dose times your weight."), (), "times your"),
    (C, 18, one_sign(without_reason), (), "Pain keeps growing"),
    (C, 20, saying("You may get a sore: 1 in 100 do."), (), "1 in 100"),
)  # fmt: skip


@pytest.mark.parametrize(
    ("scale", "number", "change", "swaps", "words"), FAULTS, ids=[f"{s.name}-{n}-{w}" for s, n, _, _, w in FAULTS]
)
def test_a_planted_fault_costs_its_item_and_is_quoted(
    scale: Scale, number: int, change: Callable[[PatientSheet], PatientSheet], swaps: tuple[tuple[str, str], ...], words: str
) -> None:
    result = answer(scale, number, reviewed(change, *swaps))
    assert result.verdict is Verdict.DISAGREE
    assert words in " ".join(map(str, result.offences))


def test_every_item_that_a_program_scores_has_a_fault_planted_for_it() -> None:
    scored = {(scale.name, item.number) for scale in ALL_SCALES for item in scale.items if item.check}
    assert {(scale.name, number) for scale, number, _, _, _ in FAULTS} == scored


def test_an_offence_names_file_and_line() -> None:
    (offence,) = answer(UNDERSTANDABILITY, 4, reviewed(saying("Watch for edema each day."))).offences
    assert str(offence) == "content/advice/planted.md:12: 'Watch for edema each day.': not explained: edema"


@pytest.mark.parametrize(
    "text",
    ["Watch for edema (swelling) each day.", "Watch for swelling (edema) each day.", "Watch for edema, which is swelling."],
)
def test_a_technical_term_that_is_explained_next_to_it_costs_nothing(text: str) -> None:
    assert answer(UNDERSTANDABILITY, 4, reviewed(saying(text))).verdict is Verdict.AGREE


def test_one_passive_sentence_in_ten_costs_nothing() -> None:
    assert answer(UNDERSTANDABILITY, 5, reviewed(saying("Rest it as you were shown."))).verdict is Verdict.AGREE


def test_tables_do_not_apply_to_a_sheet_without_one() -> None:
    assert answer(UNDERSTANDABILITY, 19, reviewed(unchanged, ('"date-row"', '"row"'))).verdict is Verdict.NOT_APPLICABLE


def test_a_sheet_without_its_main_message_loses_the_points_that_depend_on_it() -> None:
    full, without = score_sheet(INDEX, reviewed()), score_sheet(INDEX, reviewed(unchanged, (f">{MESSAGE}<", "><")))
    assert full.score.points == full.score.applicable
    assert without.score.points == without.score.applicable - 4


# ---- the HTML of a face ----


def test_only_what_is_displayed_when_the_page_opens_belongs_to_a_face() -> None:
    html = "<!doctype html><title>T</title><body><p>Rest <b hidden>never</b>it.<p hidden>No</p><script>1</script><!-- x -->"
    face = Face.of("phone", html)
    assert face.text == "Rest it."
    assert [element.tag for element, _ in face.elements] == ["html", "body", "p"]


def test_inline_elements_do_not_divide_a_word_but_blocks_do() -> None:
    face = Face.of("paper", "<!doctype html><body><ul><li>your <b>wrist</b>s</li><li>Rest</li></ul>")
    assert face.text == "your wrists Rest"


def test_the_name_of_a_drawing_is_not_part_of_the_text_around_it() -> None:
    face = Face.of("paper", '<!doctype html><body><p>Rest<svg role="img"><title>A cast</title></svg></p>')
    assert face.text == "Rest"
    assert [text_of(title) for title in face.with_tag("title")] == ["A cast"]


def test_elements_that_are_not_displayed_still_have_their_ids() -> None:
    assert Face.of("phone", '<!doctype html><body><div hidden><button id="yes">Yes</button></div>').ids >= {"yes"}


@pytest.mark.parametrize(
    "html", ["<!doctype html><p>Rest</b></p>", "<!doctype html><section><p>Rest</p>", __file__], ids=["stray", "open", "path"]
)
def test_html_that_a_browser_has_to_repair_is_refused(html: str) -> None:
    with pytest.raises(ValueError, match="line 1"):
        Face.of("paper", html)


# ---- the shipped sheets, and the command ----


def test_no_shipped_english_sheet_loses_an_item() -> None:
    desk = demo_desk()
    sheets = understanding(desk)
    lost = {(answer.item.asks, str(offence)) for sheet in sheets for answer in sheet.lost for offence in answer.offences}

    assert len(sheets) > 200
    assert lost == set()


def test_the_report_counts_each_item_and_leaves_to_a_person_what_a_program_cannot_score() -> None:
    desk = demo_desk()
    sheets = understanding(few(desk, "short-arm-cast"))
    lines, data = "\n".join(report_lines(sheets)), report_data(sheets)

    assert f"12. Boxes, bold type or bullets lead to key points. agree {len(sheets)}." in lines
    assert "PEMAT-P understandability 18. Pictures are clear and uncluttered. Look at: the printed drawing" in lines
    assert json.loads(json.dumps(data))["sheets"][0]["scales"][0]["answers"]["18"] == "for a person"


def test_a_clinic_file_not_filled_in_is_refused_before_anything_is_scored() -> None:
    with pytest.raises(Refused):
        understanding(Desk.open(find_places()), progress=lambda _done, _total: pytest.fail("a sheet was scored"))


def test_the_command_ends_with_2_and_names_the_words_when_a_clinics_own_text_loses_an_item(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch, capsys: pytest.CaptureFixture[str]
) -> None:
    own = "\n## pain-medicine\n\n- Ask about analgesic pills each day.\n"
    ended = Shell(clinic_home(tmp_path, more=own), monkeypatch, capsys)("check", "--understanding")
    assert ended.code == 2
    assert "clinic.md:17: 'Ask about analgesic pills each day.': not explained: analgesic" in ended.out
