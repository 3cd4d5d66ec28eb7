"""Checks of the wording of a sheet: each returns what fails its item, or None if the item does not apply."""

from __future__ import annotations

from collections.abc import Callable, Iterable

from aftercare.library.text import Text
from aftercare.understanding import prose
from aftercare.understanding.faces import text_of
from aftercare.understanding.reviewed_sheet import Offence, Offences, ReviewedSheet, SheetText

# Of this many sentences one may be passive: "as you were shown" has no better active form, since it does not matter by whom.
_SENTENCES_PER_PASSIVE = 10
# Limit of one step, in words; a longer one holds two (common practice, no source).
_MOST_WORDS_IN_STEP = 15
# Waiting times that count from the moment it was put on, with the date that ends them. The date must be printed, since
# otherwise the reader would have to add the wait to that moment.
_ENDS_OF_WAITS = {"raise_hours": "raise_until", "ice_days": "ice_until"}


def _matches(texts: Iterable[SheetText], rule: Callable[[str], Iterable[str]], why: str) -> Offences:
    """An offence for each passage that the rule finds in a text."""
    return tuple(text.offence(f"{why}: {match}") for text in texts for match in rule(text.figures_only))


def everyday_words(reviewed: ReviewedSheet) -> Offences:
    """Long words. The names of device and material are not checked; the purpose below them explains them."""
    return _matches(reviewed.patient_texts, prose.long_words, "a long word")


def terms_explained(reviewed: ReviewedSheet) -> Offences:
    """Technical terms and acronyms without an explanation."""
    return _matches(reviewed.patient_texts, prose.unexplained, "not explained")


def audience_words(reviewed: ReviewedSheet) -> Offences:
    """Long words and unexplained terms: one item of the index, two of the other instrument."""
    return everyday_words(reviewed) + terms_explained(reviewed)


def active_voice(reviewed: ReviewedSheet) -> Offences:
    """Passive sentences, if they are more than the share allowed."""
    sentences = [(text, sentence) for text in reviewed.content_texts for sentence in prose.sentences(text.text)]
    passive = [(text, sentence, verb) for text, sentence in sentences if (verb := prose.passive(sentence))]
    if len(passive) * _SENTENCES_PER_PASSIVE <= len(sentences):
        return ()
    return tuple(Offence(sentence, f"passive: {verb}", text.where) for text, sentence, verb in passive)


def message_active(reviewed: ReviewedSheet) -> Offences:
    """Passive forms in the main message and the calls to act, where none is allowed."""
    return _matches(_message_and_calls(reviewed), lambda text: filter(None, [prose.passive(text)]), "passive")


def _message_and_calls(reviewed: ReviewedSheet) -> tuple[SheetText, ...]:
    """The main message, and the heading of each urgent group of signs, which says what to do."""
    return (reviewed.label("main_message"), *(reviewed.filled(group.title) for group in reviewed.urgent_groups))


def calls_to_act(reviewed: ReviewedSheet) -> Offences:
    """The main message and headings of urgent signs that do not say what to do."""
    silent = (text for text in _message_and_calls(reviewed) if not prose.commands(text.figures_only))
    return tuple(text.offence("does not say what to do") for text in silent)


def clear_numbers(reviewed: ReviewedSheet) -> Offences | None:
    """Numbers that are hard to take in; None if advice and signs hold no number."""
    offences = _matches(reviewed.patient_texts, prose.unclear_numbers, "an unclear number")
    return offences if offences or _has_numbers(reviewed) else None


def numbers_explained(reviewed: ReviewedSheet) -> Offences | None:
    """Numbers that do not say what they count; None if advice and signs hold no number."""
    if not _has_numbers(reviewed):
        return None
    return _matches(reviewed.content_texts, prose.bare_numbers, "does not say what the number is of")


def _has_numbers(reviewed: ReviewedSheet) -> bool:
    return any(character.isdigit() for text in reviewed.content_texts for character in text.figures_only)


def no_sums(reviewed: ReviewedSheet) -> Offences:
    """Words that ask for a calculation, and waiting times whose end the paper does not print.

    Without a time at which it was put on, the end stays blank on paper and the phone calculates it.
    """
    ends = _ENDS_OF_WAITS | {reviewed.sheet.choices.material.dry_after or "": "dry_by"}
    printed = {text_of(cell) for cell in reviewed.paper.with_class("date-name")}
    unprinted = (
        Offence(f"{{{wait}}}", f"the paper does not name the end of this wait ({end})")
        for wait, end in ends.items()
        if wait in reviewed.values_in_advice()
        and reviewed.sheet.schedule.applied
        and reviewed.label(f"date_{end}").text not in printed
    )
    return _matches(reviewed.patient_texts, prose.sums, "asks for a sum") + tuple(unprinted)


def sums_explained(reviewed: ReviewedSheet) -> Offences | None:
    """Calculations, none of which our sheets explain; None if nothing has to be calculated."""
    return no_sums(reviewed) or None


def actions(reviewed: ReviewedSheet) -> Offences:
    """Topics that name nothing to do. The instruments are content with one action on the whole sheet."""
    if not reviewed.sheet.sections:
        return (Offence("", "the sheet gives no advice"),)
    return tuple(
        reviewed.filled(section.title).offence("nothing to do stands under this heading")
        for section in reviewed.sheet.sections
        if not any(prose.acts(text.figures_only) for text in reviewed.advice(section))
    )


def reader_addressed(reviewed: ReviewedSheet) -> Offences:
    """Advice that neither commands nor says "you", and any text that speaks of the reader in the third person."""
    advice = (text for section in reviewed.sheet.sections for text in reviewed.advice(section))
    distant = (text for text in advice if not prose.addresses_reader(text.figures_only))
    third_person = ((text, prose.speaks_of_others(text.text)) for text in reviewed.patient_texts)
    return (
        *(text.offence("neither commands nor says 'you'") for text in distant),
        *(text.offence(f"speaks of somebody else: {words}") for text, words in third_person if words),
    )


def small_steps(reviewed: ReviewedSheet) -> Offences:
    """Sentences of advice that are too long for one step.

    Lists need no numbers: most of them are rules for all day, in no order of time. Nor are verbs counted: "Wrap it in a dry
    cloth and lay it on" is one step.
    """
    return tuple(
        Offence(sentence, f"{count} words in one step, at most {_MOST_WORDS_IN_STEP}", text.where)
        for section in reviewed.sheet.sections
        for text in reviewed.advice(section)
        for sentence in prose.sentences(text.figures_only)
        if (count := len(prose.words(sentence))) > _MOST_WORDS_IN_STEP
    )


def reasons_for_advice(reviewed: ReviewedSheet) -> Offences:
    """Topics without a reason in words. One reason is enough for everything that a topic asks."""
    return tuple(
        reviewed.filled(section.title).offence("no reason stands under this heading")
        for section in reviewed.sheet.sections
        if not any(_is_in_words(reviewed, passage.why) for passage in section.passages)
    )


def reasons_for_signs(reviewed: ReviewedSheet) -> Offences:
    """Signs without a reason in words."""
    signs = (sign for group in reviewed.sheet.groups for sign in group.signs)
    without_reason = (sign for sign in signs if not _is_in_words(reviewed, sign.why))
    return tuple(reviewed.filled(sign.sign).offence("no reason stands under this sign") for sign in without_reason)


def _is_in_words(reviewed: ReviewedSheet, why: Text | None) -> bool:
    """Whether a reason is given and holds a word."""
    return why is not None and any(word.isalpha() for word in reviewed.filled(why).figures_only.rstrip(".").split())


def directions(reviewed: ReviewedSheet) -> Offences:
    """Topics that never say when, how often or how."""
    return tuple(
        reviewed.filled(section.title).offence("nothing here says when, how often or how")
        for section in reviewed.sheet.sections
        if not prose.directs(text.figures_only for text in reviewed.advice(section))
    )


def chances_in_words(reviewed: ReviewedSheet) -> Offences | None:
    """Chances in numbers without words; None if there are no chances, as on every shipped sheet."""
    if not any(prose.chances(text.figures_only) for text in reviewed.patient_texts):
        return None
    return _matches(reviewed.patient_texts, prose.bare_chances, "a chance in numbers only")
