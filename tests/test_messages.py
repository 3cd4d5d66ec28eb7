"""Tests of messages from PO files: what is read, what is refused, and that there is no fallback to English."""

from __future__ import annotations

import random
from io import StringIO
from pathlib import Path

import babel.messages.pofile
import pytest

from aftercare.errors import Fault
from aftercare.language.messages import Messages, read_messages

HEADER = 'msgid ""\nmsgstr ""\n"Language: es\\n"\n"Content-Type: text/plain; charset=utf-8\\n"\n\n'


def po(*entries: str) -> Messages:
    return read_messages(HEADER + "\n\n".join(entries) + "\n", "translations/es.po")


def pair(message: str, translation: str, *comments: str) -> str:
    return "\n".join((*comments, f'msgid "{message}"', f'msgstr "{translation}"'))


def sound_translation(messages: Messages, message: str) -> str:
    """The translation of a message, which must be sound."""
    assert messages.faults(message) == ()
    return messages.entries[message].translation


def file_problems(messages: Messages) -> list[tuple[Fault, str]]:
    """Fault and place of each problem of the file."""
    return [(problem.fault, str(problem.where)) for problem in messages.problems]


def test_a_translation_is_looked_up_by_its_english() -> None:
    assert sound_translation(po(pair("Keep it dry.", "No lo moje.", "# reviewed: polarity")), "Keep it dry.") == "No lo moje."


def test_a_translation_over_several_lines_is_one_text() -> None:
    messages = po('msgid ""\n"Keep it "\n"dry."\nmsgstr ""\n"Manténgalo "\n"seco."')
    assert sound_translation(messages, "Keep it dry.") == "Manténgalo seco."


@pytest.mark.parametrize(
    ("messages", "fault", "line"),
    [
        (po(), Fault.UNTRANSLATED, 0),
        (po(pair("Keep it dry.", "")), Fault.UNTRANSLATED, 6),
        (po(pair("Keep it dry.", "Manténgalo seco.", "#, fuzzy")), Fault.FUZZY, 7),
        (po(pair("Keep it dry.", "No lo seque.")), Fault.NEGATION_LOST, 6),
    ],
    ids=["absent", "empty", "fuzzy", "unsafe"],
)
def test_a_message_without_a_sound_translation_is_a_problem_with_its_line(messages: Messages, fault: Fault, line: int) -> None:
    problem = messages.faults("Keep it dry.")[0]
    assert (problem.fault, problem.where.line if problem.where else None) == (fault, line)


def test_the_same_message_twice_is_a_problem_naming_both_lines() -> None:
    messages = po(pair("Thumb", "Pulgar"), pair("Thumb", "Dedo gordo"))
    assert file_problems(messages) == [(Fault.BAD_PO, "translations/es.po:9")]
    assert "line 6" in messages.problems[0].what


@pytest.mark.parametrize(
    "broken",
    [
        'msgid "Thumb\nmsgstr "Pulgar"',  # style of the mistake that the parser passes in silence
        'msgid "Thumb"\nmsgstr "Pulgar',
        'msgid "Thumb"',
        'msgid "Thumb"\nmsgstr "Pulgar"\nmsgstr "Otro"',
        'msgstr "Pulgar"',
        'msgctxt "hand"\nmsgid "Thumb"\nmsgstr "Pulgar"',
        'msgid "Thumb"\nmsgid_plural "Thumbs"\nmsgstr[0] "Pulgar"\nmsgstr[1] "Pulgares"',
        "Thumb = Pulgar",
        'msgid "Thumb" "s"\nmsgstr "Pulgar"',
        "msgid Thumb\nmsgstr Pulgar",
        'msgid "Thumb"\nmsgstr "Pulgar\\"',  # the last quote belongs to the word
        'msgid "Thumb"\nmsgstr "Pul\\var"',  # an escape of a character that no text has
        'msgid "Thumb"\n# reviewed: polarity\nmsgstr "Pulgar"',
        'msgid "Thumb"\nmsgstr ""\n#.\n"Pulgar"',
        'msgid "Thumb"\n#~ msgstr "Pulgar"',
        '# reviewed: polarity\n#~ msgid "Thumb"',  # else the next message would count as reviewed
        'msgid ""\nmsgstr "Language: es"',
        "##reviewed: polarity",
        "#,fuzzy",
        "#~ Thumb",
    ],
)
def test_a_broken_file_is_a_problem_and_no_message_of_it_is_sound(broken: str) -> None:
    messages = po(pair("Ankle", "Tobillo"), broken)
    assert [problem.fault for problem in messages.problems][:1] == [Fault.BAD_PO]
    assert messages.faults("Ankle") == messages.problems


def test_every_bad_line_is_a_problem_at_its_line_with_its_text() -> None:
    messages = po('msgid "Thumb"\nmsgstr "Pulgar', pair("Ankle", "Tobillo"), "what", pair("Ankle", "Otro"))
    assert [(str(problem.where), problem.subject) for problem in messages.problems] == [
        ("translations/es.po:7", ('msgstr "Pulgar',)),
        ("translations/es.po:12", ("what",)),
        ("translations/es.po:14", ("Ankle",)),
    ]


def test_a_second_header_is_a_problem_at_its_line() -> None:
    messages = po(pair("Thumb", "Pulgar"), HEADER.replace("es", "ar", 1).strip())
    assert file_problems(messages) == [(Fault.BAD_PO, "translations/es.po:9")]
    assert "line 1" in messages.problems[0].what


def test_a_file_without_a_header_has_no_language() -> None:
    messages = read_messages(pair("Thumb", "Pulgar"), "translations/es.po")
    assert file_problems(messages) == [(Fault.UNKNOWN_LANGUAGE, "translations/es.po")]


def test_a_byte_order_mark_is_a_problem_and_other_line_ends_are_none() -> None:
    text = HEADER + pair("Thumb", "Pulgar") + "\n"
    assert file_problems(read_messages("\ufeff" + text, "translations/es.po")) == [(Fault.BAD_PO, "translations/es.po:1")]
    assert sound_translation(read_messages(text.replace("\n", "\r\n"), "translations/es.po"), "Thumb") == "Pulgar"


def test_a_text_is_never_read_as_the_name_of_a_file(tmp_path: Path) -> None:
    path = tmp_path / "es.po"
    path.write_text(HEADER + pair("Thumb", "Pulgar"), encoding="utf-8")
    messages = read_messages(str(path), "translations/es.po")
    assert (messages.problems[0].fault, messages.entries) == (Fault.BAD_PO, {})


def test_comments_of_translators_and_their_tools_are_read_or_skipped() -> None:
    comments = (
        "# Check with the list.",
        "# reviewed: length, polarity",
        "#. a finger",
        "#: content/words.yaml:3",
        '#| msgid "T"',
    )
    messages = po('#~| msgid "Old"\n#~ msgid "Toe"\n#~ msgstr "Dedo"', pair("Thumb", "Pulgar", *comments))
    entry = messages.entries["Thumb"]
    assert (entry.reviewed, entry.where.line) == (frozenset({"length", "polarity"}), 15)
    assert entry.comments == ("Check with the list.", "reviewed: length, polarity")
    assert messages.entries.keys() == {"Thumb"}


def test_no_damage_to_a_file_escapes_as_an_exception() -> None:
    whole = HEADER + pair("Thumb", "Pulgar", "#: content/words.yaml") + "\n\n" + pair("Ankle", "Tobillo", "#, fuzzy") + "\n"
    dice = random.Random(8)
    for _ in range(2000):
        start, end = sorted(dice.choices(range(len(whole)), k=2))
        damaged = whole[:start] + dice.choice(["", '"', "\\", "\n", "msgid ", "#", "[9]", ": x;"]) + whole[end:]
        assert isinstance(read_messages(damaged, "translations/es.po"), Messages)


@pytest.mark.parametrize("tag", ["", "en", "xx", "ar"])
def test_the_language_of_the_header_must_be_offered_and_match_the_file_name(tag: str) -> None:
    messages = read_messages(HEADER.replace("es", tag, 1), "translations/es.po")
    assert [problem.fault for problem in messages.problems] == [Fault.BAD_PO if tag == "ar" else Fault.UNKNOWN_LANGUAGE]


def test_a_review_of_an_unknown_check_is_a_problem_with_a_suggestion() -> None:
    messages = po(pair("Thumb", "Pulgar", "# reviewed: polarty"))
    assert file_problems(messages) == [(Fault.UNKNOWN_NAME, "translations/es.po:7")]
    assert "Did you mean 'polarity'?" in str(messages.problems[0])


def test_obsolete_messages_are_not_read() -> None:
    assert "Thumb" not in po('#~ msgid "Thumb"\n#~ msgstr "Pulgar"').entries


def test_a_clinics_own_translation_replaces_the_shipped_one() -> None:
    shipped = po(pair("Thumb", "Pulgar"), pair("Ankle", "Tobillo"))
    own = po(pair("Thumb", "Dedo pulgar"), pair("Ankle", ""))
    merged = shipped.overridden_by(own)
    assert (sound_translation(merged, "Thumb"), sound_translation(merged, "Ankle")) == ("Dedo pulgar", "Tobillo")


def test_a_corrected_file_is_checked_again_and_problems_have_their_own_lines() -> None:
    wrong = pair("Keep it dry.", "No lo seque.")
    assert str(po(wrong).faults("Keep it dry.")[0].where) == "translations/es.po:6"
    assert str(po(pair("Thumb", "Pulgar"), wrong).faults("Keep it dry.")[0].where) == "translations/es.po:9"
    assert po(pair("Keep it dry.", "Manténgalo seco.")).faults("Keep it dry.") == ()
    assert po(pair("Keep it dry.", "No lo seque.", "# reviewed: polarity")).faults("Keep it dry.") == ()


def test_files_with_the_same_text_are_equal_and_the_fingerprint_depends_on_what_is_printed() -> None:
    shipped = po(pair("Thumb", "Pulgar"), pair("Ankle", "Tobillo"))
    moved = po(pair("Ankle", "Tobillo", "# Checked."), pair("Thumb", "Pulgar"))
    changed = po(pair("Thumb", "Dedo pulgar"), pair("Ankle", "Tobillo"))

    assert shipped == po(pair("Thumb", "Pulgar"), pair("Ankle", "Tobillo"))
    assert shipped.fingerprint == moved.fingerprint
    assert shipped.fingerprint != changed.fingerprint == shipped.overridden_by(changed).fingerprint
    assert shipped.fingerprint != po(pair("Thumb", "Pulgar", "# reviewed: length"), pair("Ankle", "Tobillo")).fingerprint


def test_an_independent_reader_finds_the_same_messages() -> None:
    """Compared with Babel's reader of PO files, which shares no code with polib."""
    text = HEADER + "\n\n".join(
        [
            pair('Say \\"now\\".', 'Diga \\"ya\\".', "# reviewed: length"),
            pair("Thumb", "Pulgar", "#. a part of the body", "#: content/words.yaml"),
            'msgid ""\n"Two "\n"lines"\nmsgstr ""\n"Dos "\n"líneas"',
            pair("Ankle", "Tobillo", "#, fuzzy"),
        ]
    )
    catalog = babel.messages.pofile.read_po(StringIO(text))
    expected = {message.id: (message.string, message.fuzzy) for message in catalog if message.id}
    parsed = {entry.message: (entry.translation, entry.fuzzy) for entry in read_messages(text, "es.po").entries.values()}
    assert parsed == expected
