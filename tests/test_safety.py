"""Tests that a translation which may differ in meaning from its English is refused."""

from __future__ import annotations

import re

import pytest

from aftercare.errors import Fault
from aftercare.language.safety import CHECKS, REVIEWABLE, unsafe
from tests.translation_mutations import mutations

# English, Spanish, Arabic: sound translations, written for these tests.
SOUND = [
    ("Do not cut the cast.", "No corte el yeso.", "لا تقص الجبيرة."),
    ("Never put anything inside.", "Nunca meta nada dentro.", "لا تدخل أي شيء في الداخل أبدًا."),
    ("Do not walk without crutches.", "No camine sin muletas.", "لا تمشِ دون عكازين."),
    ("If you cannot move your fingers, call.", "Si no puede mover los dedos, llame.", "إذا لم تستطع تحريك أصابعك، فاتصل."),
    ("Nothing may go inside the cast.", "Nada debe entrar en el yeso.", "لا يجوز إدخال شيء في الجبيرة."),
    ("Move your fingers every hour.", "Mueva los dedos cada hora.", "حرّك أصابعك كل ساعة."),
    ("Press for two minutes.", "Apriete durante dos minutos.", "اضغط لمدة دقيقتين."),
    ("Rest it for three days.", "Déjelo en reposo tres días.", "أرحه ثلاثة أيام."),
    ("Put half your weight on it.", "Apoye la mitad de su peso.", "ضع نصف وزنك عليه."),
    ("Ice pack on: {ice_minutes}. Then wait {ice_gap_hours}.", "Hielo: {ice_minutes}. Después espere {ice_gap_hours}.",
     "كمادة ثلج: {ice_minutes}. ثم انتظر {ice_gap_hours}."),
    ("**Call now** if your toes turn blue.", "**Llame ya** si los dedos se ponen azules.", "**اتصل الآن** إذا ازرقّت أصابعك."),
    ("Take it off only if we told you to.", "Quíteselo solo si se lo indicamos.", "لا تخلعها إلا إذا طلبنا منك ذلك."),
    ("Do not eat or drink.", "No coma ni beba.", "لا تأكل ولا تشرب."),
    ("Do not cut or trim the cast.", "No corte ni lime el yeso.", "لا تقص الجبيرة أو تبردها."),
    ("Wash gently, and do not scrub.", "Lave con cuidado y no frote.", "اغسل بلطف ولا تفرك."),
    ("Put nothing inside, not even powder.", "No meta nada dentro, ni siquiera talco.",
     "لا تضع شيئًا في الداخل، ولا حتى مسحوقًا."),
    ("Use no ice unless your clinic says so.", "No use hielo salvo que su clínica lo diga.",
     "لا تستخدم الثلج إلا إذا قالت عيادتك ذلك."),
    ("Tape two bags over it, on both sides.", "Ponga dos bolsas encima, por ambos lados.", "ضع كيسين فوقها، من كلا الجانبين."),
    ("Keep it straight day and night.", "Manténgalo recto de día y de noche.", "أبقِه مستقيمًا ليلًا ونهارًا."),
    ("Call on nights and weekends too.", "Llame también de noche y los fines de semana.", "اتصل ليلًا وفي العطلات أيضًا."),
    ("Wait 48 hours, then 2 days.", "Espere 48 horas y luego 2 días.", "انتظر 48 ساعة ثم 2 يوم."),
]  # fmt: skip
TRIPLES = [(english, tag, text) for english, spanish, arabic in SOUND for tag, text in (("es", spanish), ("ar", arabic))]


@pytest.mark.parametrize(("english", "tag", "text"), TRIPLES)
def test_a_sound_translation_passes(english: str, tag: str, text: str) -> None:
    assert unsafe(english, text, tag) == ()


# The vectors of published criteria for translated numbers (number equality, order, polarity), one row each.
@pytest.mark.parametrize(
    ("english", "tag", "text", "fault"),
    [
        ("Wait 48 hours.", "es", "Espere 48 horas.", None),
        ("Wait 48 hours.", "es", "Espere 24 horas.", Fault.NUMBER_CHANGED),
        ("Wait 48 hours.", "ar", "انتظر ٤٨ ساعة.", None),
        ("Keep it up for 2 to 3 days.", "es", "Manténgalo en alto de 3 a 2 días.", Fault.NUMBER_CHANGED),
        ("Weigh 2.5 kg", "es", "Pese 2,5 kg", None),
        ("10 minutes on, 20 off", "es", "20 minutos sí, 10 no", Fault.NUMBER_CHANGED),
        ("Wait 48 hours.", "es", "Espere dos días.", Fault.NUMBER_CHANGED),
        ("Do not cut the cast.", "es", "Corte el yeso.", Fault.NEGATION_LOST),
    ],
)
def test_published_vectors(english: str, tag: str, text: str, fault: Fault | None) -> None:
    faults = {problem.fault for problem in unsafe(english, text, tag)}
    assert faults >= ({fault} if fault else set())
    assert bool(faults) == (fault is not None)


@pytest.mark.parametrize(
    ("text", "fault"),
    [
        ("Hielo: {ice_minutes}. Espere después.", Fault.PLACEHOLDER_LOST),
        ("Hielo: {ice_minutes}. Espere {ice_gap_hours}. {ice_minutes}.", Fault.PLACEHOLDER_LOST),
        ("Hielo: {ice_minutes}. Espere {ice_gap_hour}.", Fault.PLACEHOLDER_LOST),
        ("Hielo: {ice_minutes}. Espere {ice_gap_hours}. }", Fault.PLACEHOLDER_LOST),
        ("Hielo: {ice_minutes}. Espere {ice_gap_hours}. Llame al 202-555-0100.", Fault.NUMBER_CHANGED),
        ("Hielo: {ice_minutes}. Espere **{ice_gap_hours}**.", Fault.BAD_MARKDOWN),
        ("Hielo: {ice_minutes}. Espere <b>{ice_gap_hours}</b>.", Fault.BAD_MARKDOWN),
        ("Hielo: {ice_minutes}. Espere \u202d{ice_gap_hours}\u202c.", Fault.BAD_PO),
        ("Hielo: {ice_minutes}. Espere \u2066{ice_gap_hours}.", Fault.BAD_PO),
        ("Ice pack on: {ice_minutes}. Then wait {ice_gap_hours}.", Fault.UNTRANSLATED),
        ("{ice_minutes} {ice_gap_hours}", Fault.UNTRANSLATED),
    ],
)
def test_forbidden_changes_of_a_translation_are_flagged(text: str, fault: Fault) -> None:
    problems = unsafe("Ice pack on: {ice_minutes}. Then wait {ice_gap_hours}.", text, "es")
    assert {problem.fault for problem in problems} == {fault}


def test_a_missing_value_and_an_added_one_are_in_the_subject_and_in_the_sentence() -> None:
    english = "Ice pack on: {ice_minutes}. Then wait {ice_gap_hours}."
    (problem,) = unsafe(english, "Hielo: {ice_minutes}. Espere después {ice_gap}.", "es")
    assert problem.subject == ("{ice_gap_hours}", "{ice_gap}", english)
    assert f"missing '{{ice_gap_hours}}', added '{{ice_gap}}'. In: '{english}'." in problem.sentence()


def test_a_line_break_in_a_translation_is_shown_in_visible_characters() -> None:
    (problem,) = unsafe("Call us now.", "Llame\nya.", "es")
    assert problem.subject == ("\\n", "Call us now.")


def test_a_negation_that_the_english_does_not_have_is_flagged() -> None:
    assert [problem.fault for problem in unsafe("Move your toes.", "No mueva los dedos.", "es")] == [Fault.NEGATION_LOST]


def test_an_arabic_only_without_its_negation_is_flagged() -> None:
    """ "لا ... إلا" says "only"; without its first half the sentence says the opposite."""
    assert unsafe("Take it off only as you were shown.", "لا تخلعها إلا كما علمتك العيادة.", "ar") == ()
    assert unsafe("Take it off only as you were shown.", "تخلعها إلا كما علمتك العيادة.", "ar")


def test_a_spelled_number_may_not_become_another_nor_digits() -> None:
    assert unsafe("Use two pillows.", "Use tres almohadas.", "es")
    assert unsafe("Use two pillows.", "Use 2 almohadas.", "es")


def test_bold_may_be_neither_removed_nor_added() -> None:
    assert [problem.fault for problem in unsafe("**Call us** now.", "Llame ya.", "es")] == [Fault.BAD_MARKDOWN]
    assert [problem.fault for problem in unsafe("Call us now.", "**Llame** ya.", "es")] == [Fault.BAD_MARKDOWN]


def test_a_unit_of_time_that_the_english_does_not_have_is_flagged() -> None:
    assert [problem.fault for problem in unsafe("Check it often.", "Revíselo cada semana.", "es")] == [Fault.NUMBER_CHANGED]


def test_a_thousand_is_the_same_number_with_or_without_its_mark() -> None:
    """CLDR: English groups thousands with a comma, Spanish with a full stop, and either may leave it out."""
    for text in ("Hasta 1.000 pasos.", "Hasta 1000 pasos.", "Hasta 1,000 pasos."):
        assert unsafe("Up to 1,000 steps.", text, "es") == ()
    assert unsafe("Up to 1,000 steps.", "Hasta 1,0 pasos.", "es")


def test_a_negation_is_detected_with_vowel_marks_and_after_a_direction_mark() -> None:
    assert unsafe("Do not cut the cast.", "لَا تَقُصِّ الجَبِيرَة.", "ar") == ()
    assert unsafe("Never put anything inside.", "\u200eNunca meta nada dentro.", "es") == ()


@pytest.mark.parametrize("name", REVIEWABLE)
def test_a_person_may_overrule_exactly_the_check_they_name(name: str) -> None:
    english, text = (
        "Do not wait two hours before you call us.",
        "Llame en 3 días o cuando pueda, sin prisa, y no olvide que no. " * 3,
    )

    def overruled_by(reviewed: frozenset[str]) -> set[str]:
        advice = " ".join(problem.advice for problem in unsafe(english, text, "es", reviewed))
        return set(re.findall(r"reviewed: (\w+)'", advice))

    assert overruled_by(frozenset()) == set(REVIEWABLE)
    assert overruled_by(frozenset({name})) == set(REVIEWABLE) - {name}


def test_added_digits_cannot_be_overruled() -> None:
    everything = frozenset(check.name for check in CHECKS)
    assert unsafe("Call us.", "Llame al 202-555-0100.", "es", everything)


def test_a_language_without_a_table_is_refused_with_advice() -> None:
    (problem,) = unsafe("Do not cut it.", "Đừng cắt nó.", "vi")
    assert problem.fault is Fault.UNKNOWN_LANGUAGE
    assert "grammar.py" in problem.advice


MUTATED = [
    (kind, english, tag, mutant)
    for english, tag, text in TRIPLES
    for kind, mutants in mutations(tag, text).items()
    for mutant in sorted(mutants)
]


@pytest.mark.parametrize("tag", ["es", "ar"])
def test_there_are_mutations_of_every_kind_to_catch(tag: str) -> None:
    assert {kind for kind, _, language, _ in MUTATED if language == tag} == set(mutations(tag, ""))


@pytest.mark.parametrize(("kind", "english", "tag", "mutant"), MUTATED)
def test_every_dangerous_mutation_is_caught(kind: str, english: str, tag: str, mutant: str) -> None:  # noqa: ARG001
    assert unsafe(english, mutant, tag)
