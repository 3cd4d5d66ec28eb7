"""Judges of what a sheet says. Each gives what speaks against its item, or None where the item does not apply."""

from __future__ import annotations

from collections.abc import Callable, Iterable, Iterator

from aftercare.library.text import Text
from aftercare.understanding import prose
from aftercare.understanding.reviewed_sheet import Offence, ReviewedSheet, Said

Offences = tuple[Offence, ...]

# One sentence in ten may be passive: "as you were shown" has no better active form, since who showed it does not matter.
_ONE_PASSIVE_IN = 10
# The most words of one step; a longer one holds two (common practice, no source).
_MOST_WORDS_IN_STEP = 15
# Waits that count from when it was put on: the reader would have to add them to that time, so their end is printed.
_WAITS = {"raise_hours": "raise_until", "ice_days": "ice_until"}


def _found(said: Iterable[Said], rule: Callable[[str], Iterable[str]], why: str) -> Offences:
    return tuple(text.against(f"{why}: {word}") for text in said for word in rule(text.counted))


def everyday_words(read: ReviewedSheet) -> Offences:
    """Words too long. The names of device and material are left out: they are names, and the purpose under them explains."""
    return _found(read.told, prose.long_words, "a long word")


def terms_explained(read: ReviewedSheet) -> Offences:
    """Trade words and acronyms without an explanation."""
    return _found(read.told, prose.unexplained, "not explained")


def audience_words(read: ReviewedSheet) -> Offences:
    """Both of the above: the index asks them in one item."""
    return everyday_words(read) + terms_explained(read)


def active_voice(read: ReviewedSheet) -> Offences:
    """Passive sentences, if they are more than the share allowed."""
    sentences = [(said, sentence) for said in read.body for sentence in prose.sentences(said.text)]
    passive = [(said, sentence, found) for said, sentence in sentences if (found := prose.passive(sentence))]
    if len(passive) * _ONE_PASSIVE_IN <= len(sentences):
        return ()
    return tuple(Offence(sentence, f"passive: {found}", said.where) for said, sentence, found in passive)


def message_active(read: ReviewedSheet) -> Offences:
    """The main message and what the danger box calls for: here no sentence may be passive."""
    return _found(main_and_calls(read), lambda text: filter(None, [prose.passive(text)]), "passive")


def main_and_calls(read: ReviewedSheet) -> Iterator[Said]:
    """The main message, and the heading of each urgent tier, which says what to do."""
    yield read.label("main_message")
    yield from (read.say(group.title) for group in read.urgent)


def calls_to_act(read: ReviewedSheet) -> Offences:
    """Neither the main message nor a tier's heading may leave open what to do."""
    return tuple(said.against("does not say what to do") for said in main_and_calls(read) if not prose.commands(said.counted))


def clear_numbers(read: ReviewedSheet) -> Offences | None:
    """Numbers hard to take in; not applicable where the advice and signs hold none."""
    offences = _found(read.told, prose.unclear_numbers, "an unclear number")
    return offences if offences or _numbered(read) else None


def numbers_explained(read: ReviewedSheet) -> Offences | None:
    """Numbers that do not say what they are of."""
    return _found(read.body, prose.bare_numbers, "does not say what the number is of") if _numbered(read) else None


def _numbered(read: ReviewedSheet) -> bool:
    return any(character.isdigit() for said in read.body for character in said.counted)


def no_sums(read: ReviewedSheet) -> Offences:
    """Words that ask for a sum, and waits whose end the paper does not name though it knows when they began.

    Where the nurse gave no time, the end stays blank on paper and the phone works it out.
    """
    waits = _WAITS | {read.sheet.choices.material.dry_after or "": "dry_by"}
    printed = {cell.text for cell in read.paper.root.named("date-name")}
    unnamed = (
        Offence(f"{{{figure}}}", f"the paper does not name the end of this wait ({end})")
        for figure, end in waits.items()
        if figure in read.mentioned() and read.sheet.schedule.applied and read.label(f"date_{end}").text not in printed
    )
    return _found(read.told, prose.sums, "asks for a sum") + tuple(unnamed)


def sums_explained(read: ReviewedSheet) -> Offences | None:
    """Not applicable where nothing has to be calculated; we have no explanation of a sum to look for."""
    return no_sums(read) or None


def actions(read: ReviewedSheet) -> Offences:
    """Each topic must tell something to do, which is more than one action on the whole sheet, as the instruments ask."""
    return tuple(
        read.say(section.title).against("nothing to do stands under this heading")
        for section in read.sheet.sections
        if not any(prose.acts(said.counted) for said in read.advice(section))
    ) or (() if read.sheet.sections else (Offence("", "the sheet gives no advice"),))


def reader_addressed(read: ReviewedSheet) -> Offences:
    """Advice that neither commands nor says "you", and anything that speaks of the reader as somebody else."""
    advice = (said for section in read.sheet.sections for said in read.advice(section))
    distant = (said.against("neither commands nor says 'you'") for said in advice if not prose.addresses_reader(said.counted))
    others = ((said, prose.speaks_of_others(said.text)) for said in read.told)
    return (*distant, *(said.against(f"speaks of somebody else: {found}") for said, found in others if found))


def small_steps(read: ReviewedSheet) -> Offences:
    """Sentences of advice too long for one step.

    That lists are numbered is not asked: most of ours are rules for all day, in no order of time. Nor do we count verbs:
    "Wrap it in a dry cloth and lay it on" is one step.
    """
    return tuple(
        Offence(sentence, f"{count} words in one step, at most {_MOST_WORDS_IN_STEP}", said.where)
        for section in read.sheet.sections
        for said in read.advice(section)
        for sentence in prose.sentences(said.counted)
        if (count := len(prose.words(sentence))) > _MOST_WORDS_IN_STEP
    )


def reasons_for_advice(read: ReviewedSheet) -> Offences:
    """Topics without a reason in words. One reason may stand for all that a topic asks."""
    return tuple(
        read.say(section.title).against("no reason stands under this heading")
        for section in read.sheet.sections
        if not any(_in_words(read, passage.why) for passage in section.passages)
    )


def reasons_for_signs(read: ReviewedSheet) -> Offences:
    """Signs without a reason in words."""
    signs = (sign for group in read.sheet.groups for sign in group.signs)
    bare = (sign for sign in signs if not _in_words(read, sign.why))
    return tuple(read.say(sign.sign).against("no reason stands under this sign") for sign in bare)


def _in_words(read: ReviewedSheet, why: Text | None) -> bool:
    return why is not None and any(word.isalpha() for word in read.say(why).counted.rstrip(".").split())


def directions(read: ReviewedSheet) -> Offences:
    """Topics that never say when, how often or how."""
    return tuple(
        read.say(section.title).against("nothing here says when, how often or how")
        for section in read.sheet.sections
        if not prose.directs(said.counted for said in read.advice(section))
    )


def chances_in_words(read: ReviewedSheet) -> Offences | None:
    """Chances in numbers without words; not applicable where there are none, as on every sheet of ours."""
    if not any(True for said in read.told for _ in prose.chances(said.counted)):
        return None
    return _found(read.told, prose.bare_chances, "a chance in numbers only")
