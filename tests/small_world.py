"""A whole content folder small enough to read at a glance, for tests that change one line of it."""

from __future__ import annotations

from collections.abc import Mapping
from functools import cache
from pathlib import Path

from aftercare.desk import Desk
from aftercare.library.catalogue import Library, load_library
from aftercare.library.pictograms import PAGE_PICTOGRAMS
from aftercare.page.templates import Templates
from aftercare.places import Places
from tests.conftest import ROOT

TIERS = {f"tier_{tier}": f"Tier {tier.replace('_', ' ')}" for tier in ("call_emergency", "go_now", "same_day", "office_hours")}
COVERED = (
    "pain_out_of_proportion, stretch_pain, tightness, numbness, cannot_move, color_or_cold, swelling, burning, infection, "
    "wet_or_broken, nothing_inside, no_self_removal, keep_dry, raise, move, who_to_call"
)

PICTOGRAM = """\
<svg xmlns="http://www.w3.org/2000/svg" viewBox="0 0 32 32" fill="none" stroke="currentColor" stroke-width="2" \
stroke-linejoin="round" stroke-linecap="round">
<path d="M4 4h24v24H4z"/>
</svg>
"""

FILES: Mapping[str, str] = {
    **{f"pictograms/{name}.svg": PICTOGRAM for name in ("raise", "ice", *PAGE_PICTOGRAMS)},
    "figures.yaml": """\
ice_minutes: {value: [15, 20], unit: minute, published: [15, 30], source: a leaflet}
ice_days: {value: 2, unit: day, published: [2, 3], source: a leaflet}
raise_hours: {value: 72, unit: hour, published: [24, 168], source: a leaflet}
early_visit_hours: {value: [24, 48], unit: hour, published: [24, 72], source: a leaflet}
plaster_dry_hours: {value: 72, unit: hour, published: [24, 72], source: a leaflet}
""",
    "topics.yaml": "care: {title: Care, picture: raise}\nice: {title: Ice, picture: ice}\n",
    "labels.yaml": "sheet_title: Caring for {the device}\n" + "".join(f"{key}: {text}\n" for key, text in TIERS.items()),
    "weights.yaml": """\
none: {digit: 1, label: None, condition: If none, walks: false}
full: {digit: 5, label: Full, condition: If full, walks: true}
""",
    "words.yaml": """\
nouns:
  cast: {device: cast, the device: the cast}
  splint: {device: splint, the device: the splint}
limbs:
  arm: {your limb: your arm}
  leg: {your limb: your leg}
extremities:
  upper: {your digits: your fingers}
  lower: {your digits: your toes}
parts: {shoulder: shoulder, elbow: elbow, wrist: wrist, thumb: thumb, index: index finger, middle: middle finger,
  ring: ring finger, little: little finger, fingers: fingers, base-joint: base joint, middle-joint: middle joint,
  tip-joint: tip joint, other-fingers: other fingers, this-finger: this finger, hip: hip, knee: knee, ankle: ankle,
  toes: toes, other-toes: other toes, this-toe: this toe}
""",
    "supply-codes.yaml": "arm: {words: Arm cast, codes: {adult-plaster: Q4009}, devices: [arm-cast]}\n",
    "exclusive.yaml": "ice: {why: one forbids the other, modules: [ice, no-ice]}\n",
    "devices/arm-cast.md": """\
---
id: arm-cast
code: AC
kind: cast
noun: cast
limb: arm
from: below-elbow
to: palm-crease
shape: tube
holds: [wrist]
materials: [plaster]
removal: never
---
# Arm cast
It holds {your limb} still.
""",
    "devices/leg-cast.md": """\
---
id: leg-cast
code: LC
kind: cast
noun: cast
limb: leg
from: below-knee
to: toe-roots
shape: tube
holds: [ankle]
materials: [plaster]
removal: never
weights: [none, full]
---
# Leg cast
It holds {your limb} still.
""",
    "materials/plaster.md": """\
---
id: plaster
code: P
family: plaster
dry-after: plaster_dry_hours
walk-after: plaster_dry_hours
---
# Plaster
""",
    "advice/care.md": f"""\
---
id: care
topic: care
order: 10
covers: [{COVERED}]
---
# Care
- Raise {{your limb}}.
- Move {{your digits}} often: {{moving_parts}}.
- Keep it up for: {{raise_hours}}.
""",
    "advice/ice.md": """\
---
id: ice
topic: ice
order: 10
not: {options: [numb]}
covers: [ice]
---
# Ice
Ice on {the device}: {ice_minutes}.
""",
    "advice/ice-days.md": """\
---
id: ice-days
topic: ice
order: 30
not: {options: [numb]}
---
# How long
Use ice for: {ice_days}.
""",
    "advice/no-ice.md": """\
---
id: no-ice
topic: ice
order: 20
applies: {options: [numb]}
covers: [ice]
---
# No ice
Do not use ice.
""",
    "advice/leg.md": """\
---
id: leg
topic: care
order: 20
applies: {extremities: [lower]}
covers: [calf_signs, chest_signs, weight_order]
---
# Legs
Do as you were told.
""",
    "warnings/pain.md": """\
---
id: pain
tier: go-now
order: 10
why: Too tight.
---
# Pain
It hurts more. Call {clinic_phone}.
""",
    "options/numb.md": """\
---
id: numb
bit: 0
condition: If you feel less
---
# Feels less
""",
    "options/swelling.md": """\
---
id: swelling
bit: 1
early-visit: true
conflicts: [full]
condition: If it may swell
---
# May swell
""",
    "clinic.md": """\
---
name: Tern Harbour Fracture Clinic
phone: (202) 555-0143
after-hours-phone: (202) 555-0178
emergency-number: "911"
country: US
hours: Mon-Fri 08:00-16:30
time-zone: America/New_York
phone-site: https://care.ternharbour.example/
languages: [en]
---
""",
}


def small_world(folder: Path, changed: Mapping[str, str | None] | None = None) -> Places:
    """The files above, some changed or (None) left out, written below a folder."""
    for name, text in {**FILES, **(changed or {})}.items():
        if text is not None:
            path = folder / "content" / name
            path.parent.mkdir(parents=True, exist_ok=True)
            path.write_text(text, encoding="utf-8")
    return Places(folder / "content", folder / "translations", ROOT / "templates")


def small_library(folder: Path, changed: Mapping[str, str | None] | None = None) -> Library:
    """The library of a small world."""
    return load_library(small_world(folder, changed))


def small_desk(folder: Path, changed: Mapping[str, str | None] | None = None) -> Desk:
    """The desk of a small world. Raises Refused where one of its sheets lacks a required fact."""
    return Desk.open(small_world(folder, changed), templates=_templates())


@cache
def _templates() -> Templates:
    return Templates(ROOT / "templates")


def advice(id_: str, more: str = "", text: str = "Do so.") -> dict[str, str | None]:
    """A module of advice with some lines of header."""
    return {f"advice/{id_}.md": f"---\nid: {id_}\ntopic: care\norder: 50\n{more}\n---\n# Title\n{text}\n"}


def option(id_: str, bit: int, more: str = "") -> dict[str, str | None]:
    """An option with some lines of header."""
    return {f"options/{id_}.md": f"---\nid: {id_}\nbit: {bit}\ncondition: If so\n{more}\n---\n# So\n"}


def without_fact(fact: str) -> dict[str, str | None]:
    """The advice that covers most required facts, without one of them."""
    names = [name for name in COVERED.split(", ") if name != fact]
    return {"advice/care.md": FILES["advice/care.md"].replace(COVERED, ", ".join(names))}
