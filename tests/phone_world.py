"""A small sheet made by hand for the phone page's tests: a leg cast with one of everything, in three languages."""

from __future__ import annotations

from pathlib import Path

import yaml

from aftercare.errors import Where
from aftercare.language.languages import LANGUAGES, Direction
from aftercare.language.spoken import SpokenSheet, Value
from aftercare.library.body import Landmark, Limb, Part
from aftercare.library.devices import Device, Family, Kind, Material, Removal, Shape
from aftercare.library.figures import Figure
from aftercare.library.modules import Applies, Option, Tier, Weight
from aftercare.library.text import Block, BlockKind, Text
from aftercare.page.phone import phone_page
from aftercare.sheet.choices import Choices
from aftercare.sheet.schedule import Schedule
from aftercare.sheet.sheet import Condition, Passage, Section, Sheet, Sign, SignGroup

TEMPLATES = Path(__file__).parents[1] / "templates"
HERE = Where("tests/phone_world.py")


def option(id_: str, bit: int, condition: str) -> Option:
    return Option(id_, bit, Text(id_), Text(condition), Applies(), Applies(), (), False, HERE)


OPTIONS = {
    o.id: o
    for o in (
        option("swelling-risk", 0, "If you were told you may swell a lot"),
        option("wires", 3, "If you have wires through the skin"),
        option("nerve-block", 8, "If you had a nerve block"),
        option("crutches", 11, "If you were given crutches"),
    )
}
WEIGHTS = {
    w.id: w
    for w in (
        Weight("none", 1, Text("No weight"), Text("If you were told: no weight"), False, HERE),
        Weight("touch", 2, Text("Touch"), Text("If you were told: touch the floor only"), True, HERE),
        Weight("full", 5, Text("Full weight"), Text("If you were told: full weight"), True, HERE),
    )
}


def figure(id_: str, low: float, high: float, unit: str) -> Figure:
    return Figure(id_, low, high, unit, (low, high), "", False, HERE)


FIGURES = {
    f.id: f
    for f in (
        figure("ice_days", 2, 3, "day"),
        figure("raise_hours", 72, 72, "hour"),
        figure("dry", 60, 60, "minute"),
        figure("walk", 60, 60, "minute"),
        figure("recheck_hours", 2, 2, "hour"),
    )
}

DEVICE = Device(
    id="short-leg-cast",
    code="LC",
    name=Text("Short leg cast"),
    purpose=Text("It holds your ankle still while the bone heals."),
    kind=Kind.CAST,
    noun="cast",
    limb=Limb.LEG,
    start=Landmark.BELOW_KNEE,
    end=Landmark.TOE_ROOTS,
    shape=Shape.TUBE,
    held=(Part.ANKLE,),
    enclosed=(),
    materials=("fiberglass",),
    removal=Removal.NEVER,
    loosens=False,
    weights=("none", "touch", "full"),
    first_visit_days=(7, 14),
    weeks=(4, 6),
    position="ankle square",
    checks=(),
    sided=True,
    also_called=(),
    where=HERE,
)
MATERIAL = Material("fiberglass", "F", Text("Fiberglass"), Family.FIBERGLASS, "dry", "walk", None, HERE)


ALWAYS = Condition()


def sign(id_: str, words: str, why: str, picture: str = "", when: Condition = ALWAYS, ifs: tuple[str, ...] = ()) -> Sign:
    return Sign(id_, Text(words), Text(why), picture, when, tuple(map(Text, ifs)), ())


def passage(id_: str, *blocks: str, when: Condition = ALWAYS, ifs: tuple[str, ...] = (), why: str = "") -> Passage:
    made = tuple(
        Block(BlockKind.ITEM if block.startswith("- ") else BlockKind.PARAGRAPH, Text(block.removeprefix("- ")))
        for block in blocks
    )
    return Passage(id_, None, made, Text(why) if why else None, when, tuple(map(Text, ifs)), ())


GROUPS = (
    SignGroup(
        Tier.CALL_EMERGENCY,
        Text("Call {emergency_number} now"),
        (
            sign(
                "chest",
                "You are short of breath or your chest hurts.",
                "A clot from the leg may have moved to the lung.",
                "chest",
            ),
        ),
    ),
    SignGroup(
        Tier.GO_NOW,
        Text("Go to an emergency room now"),
        (
            sign("pain", "The pain is bad and gets worse.", "The leg may be swelling too much inside.", "pain"),
            sign("numb", "Your toes are numb.", "A nerve may be squeezed.", when=Condition(without=("nerve-block",))),
            sign(
                "block",
                "The numb feeling has not gone by the time you were told.",
                "The block may hide a warning sign.",
                when=Condition(options=("nerve-block",)),
                ifs=("If you had a nerve block",),
            ),
        ),
    ),
    SignGroup(
        Tier.SAME_DAY,
        Text("Call us the same day"),
        (sign("wet", "The cast is wet or broken.", "It no longer holds the bone."),),
    ),
)
SECTIONS = (
    Section(
        "raise",
        Text("Keep it raised"),
        "raise",
        (
            passage(
                "raise", "- Rest your leg on pillows, **higher than your heart**.", "- Do this for the first: {raise_hours}."
            ),
            passage(
                "raise-early",
                "You may swell more than most. Keep it up day and night.",
                when=Condition(options=("swelling-risk",)),
                ifs=("If you were told you may swell a lot",),
                why="Swelling under a cast presses on nerves.",
            ),
        ),
    ),
    Section(
        "weight",
        Text("Standing and walking"),
        "weight",
        (
            passage(
                "no-weight", "Do not put weight on it.", when=Condition(weights=("none",)), ifs=("If you were told: no weight",)
            ),
            passage(
                "some-weight",
                "Put on it only the weight you were told.",
                when=Condition(weights=("touch", "full")),
                ifs=("If you were told: touch the floor only", "If you were told: full weight"),
            ),
        ),
    ),
    Section(
        "special",
        Text("Extra care for you"),
        "special",
        (
            passage(
                "wires",
                "Keep the dressing over the wires dry.",
                when=Condition(options=("wires",)),
                ifs=("If you have wires through the skin",),
            ),
        ),
    ),
)
VALUES = {
    "clinic_name": Value("Tern Harbour Fracture Clinic", None),
    "clinic_phone": Value("(202) 555-0143", Direction.LTR, "tel:+1-202-555-0143"),
    "after_hours_phone": Value("(202) 555-0177", Direction.LTR, "tel:+1-202-555-0177"),
    "emergency_number": Value("911", Direction.LTR, "tel:911"),
    "clinic_hours": Value("Mon–Fri 8:00 AM – 4:30 PM", None),
    "raise_hours": Value("72 hours", None),
    "recheck_hours": Value("2 hours", None),
}


def labels() -> dict[str, Text]:
    """The fixed words as they are shipped, with this device's words in them."""
    shipped = yaml.safe_load((TEMPLATES.parent / "content" / "labels.yaml").read_text(encoding="utf-8"))
    words = {"device": "cast", "the device": "the cast", "your digits": "your toes", "your limb": "your leg", "limb": "leg"}
    words |= {key.capitalize(): value.capitalize() for key, value in words.items()}

    def fill(text: str) -> Text:
        for word, with_ in words.items():
            text = text.replace(f"{{{word}}}", with_)
        return Text(text)

    return {key: fill(text) for key, text in shipped.items()}


def sheet() -> Sheet:
    return Sheet(
        choices=Choices(DEVICE, MATERIAL, everyone=True),
        title=Text("Looking after your short leg cast"),
        name=DEVICE.name,
        material=MATERIAL.name,
        purpose=DEVICE.purpose,
        groups=GROUPS,
        sections=SECTIONS,
        moving=DEVICE.moving,
        held=DEVICE.held,
        tips=DEVICE.tips,
        names={},
        labels=labels(),
        schedule=Schedule(),
        figures=FIGURES,
    )


def spoken(tag: str = "en", edition: str = "K7QM") -> SpokenSheet:
    """The sheet in a language; other languages than English get English words, which is enough to lay a page out."""
    made = sheet()
    return SpokenSheet(made, LANGUAGES[tag], {t.message: t.message for t in made.texts()}, VALUES, True, False, edition)


def page(tag: str = "en", edition: str = "K7QM") -> str:
    return phone_page(
        spoken(tag, edition),
        languages=tuple(LANGUAGES.values()),
        options=OPTIONS,
        weights=WEIGHTS,
        picture="",
        templates=TEMPLATES,
    )
