"""Limbs, joints, digits and landmarks that describe a device. Their names for people are in content/words.yaml."""

from __future__ import annotations

from enum import StrEnum


class Limb(StrEnum):
    """The limb under the device; it determines the sheet's word ("your arm") and the drawing."""

    ARM = "arm"
    HAND = "hand"
    FINGER = "finger"
    SHOULDER = "shoulder"
    LEG = "leg"
    FOOT = "foot"
    TOE = "toe"
    TRUNK = "trunk"


class Extremity(StrEnum):
    """Upper or lower extremity; the sheet of a device on the lower one has clot signs and a weight order."""

    UPPER = "upper"
    LOWER = "lower"


EXTREMITY = {
    Limb.ARM: Extremity.UPPER,
    Limb.HAND: Extremity.UPPER,
    Limb.FINGER: Extremity.UPPER,
    Limb.SHOULDER: Extremity.UPPER,
    Limb.LEG: Extremity.LOWER,
    Limb.FOOT: Extremity.LOWER,
    Limb.TOE: Extremity.LOWER,
    Limb.TRUNK: Extremity.LOWER,
}


class Part(StrEnum):
    """A joint or digit that a device can hold still or leave free."""

    SHOULDER = "shoulder"
    ELBOW = "elbow"
    WRIST = "wrist"
    THUMB = "thumb"
    INDEX = "index"
    MIDDLE = "middle"
    RING = "ring"
    LITTLE = "little"
    FINGERS = "fingers"  # all four together; see group_fingers()
    # the joints of one splinted or strapped finger, whichever it is
    BASE_JOINT = "base-joint"
    MIDDLE_JOINT = "middle-joint"
    TIP_JOINT = "tip-joint"
    OTHER_FINGERS = "other-fingers"
    THIS_FINGER = "this-finger"  # checked at the tip, never listed among the moving parts
    HIP = "hip"
    KNEE = "knee"
    ANKLE = "ankle"
    TOES = "toes"
    OTHER_TOES = "other-toes"
    THIS_TOE = "this-toe"


FINGERS = (Part.INDEX, Part.MIDDLE, Part.RING, Part.LITTLE)
_ARM_PARTS = (Part.SHOULDER, Part.ELBOW, Part.WRIST, Part.THUMB, *FINGERS)
_LEG_PARTS = (Part.HIP, Part.KNEE, Part.ANKLE, Part.TOES)

# Every part that a device on this limb could hold, from the trunk outward; a part neither held nor enclosed moves.
PARTS: dict[Limb, tuple[Part, ...]] = {
    Limb.ARM: _ARM_PARTS,
    Limb.HAND: _ARM_PARTS,
    Limb.SHOULDER: _ARM_PARTS,
    Limb.FINGER: (Part.ELBOW, Part.WRIST, Part.THUMB, Part.OTHER_FINGERS, Part.BASE_JOINT, Part.MIDDLE_JOINT, Part.TIP_JOINT),
    Limb.LEG: _LEG_PARTS,
    Limb.FOOT: _LEG_PARTS,
    Limb.TOE: (Part.KNEE, Part.ANKLE, Part.OTHER_TOES),
    Limb.TRUNK: _LEG_PARTS,
}

# Digits, whose color, warmth and feeling can be checked at the tip.
DIGITS = frozenset({Part.THUMB, *FINGERS, Part.OTHER_FINGERS, Part.THIS_FINGER, Part.TOES, Part.OTHER_TOES, Part.THIS_TOE})


def group_fingers(parts: tuple[Part, ...]) -> tuple[Part, ...]:
    """Replace all four fingers by the one part FINGERS, in the place of the index finger; other parts are unchanged."""
    if not set(FINGERS) <= set(parts):
        return parts
    return tuple(Part.FINGERS if part is Part.INDEX else part for part in parts if part not in FINGERS[1:])


class Landmark(StrEnum):
    """A level along a limb where a device may begin or end; `LEVEL` gives its position for drawing."""

    NECK = "neck"
    SHOULDER = "shoulder"
    ARMPIT = "armpit"
    MID_UPPER_ARM = "mid-upper-arm"
    ABOVE_ELBOW = "above-elbow"
    ELBOW = "elbow"
    BELOW_ELBOW = "below-elbow"
    MID_FOREARM = "mid-forearm"
    LOWER_FOREARM = "lower-forearm"
    WRIST = "wrist"
    PALM_CREASE = "palm-crease"
    KNUCKLES = "knuckles"
    MIDDLE_JOINTS = "middle-joints"
    MID_FINGER = "mid-finger"  # between the middle and the tip joint
    TIP_JOINTS = "tip-joints"
    FINGERTIPS = "fingertips"
    CHEST = "chest"
    HIP = "hip"
    UPPER_THIGH = "upper-thigh"
    MID_THIGH = "mid-thigh"
    ABOVE_KNEE = "above-knee"
    KNEE = "knee"
    BELOW_KNEE = "below-knee"
    MID_CALF = "mid-calf"
    ABOVE_ANKLE = "above-ankle"
    ANKLE = "ankle"
    MID_FOOT = "mid-foot"
    TOE_ROOTS = "toe-roots"
    TOE_TIPS = "toe-tips"


# Per cent of the way from the trunk (0) to the tips (100), along the limb. Drawing only; common practice, no source.
LEVEL: dict[Landmark, int] = {
    Landmark.NECK: 0,
    Landmark.SHOULDER: 4,
    Landmark.ARMPIT: 12,
    Landmark.MID_UPPER_ARM: 24,
    Landmark.ABOVE_ELBOW: 34,
    Landmark.ELBOW: 41,
    Landmark.BELOW_ELBOW: 47,
    Landmark.MID_FOREARM: 58,
    Landmark.LOWER_FOREARM: 68,
    Landmark.WRIST: 76,
    Landmark.PALM_CREASE: 84,
    Landmark.KNUCKLES: 87,
    Landmark.MIDDLE_JOINTS: 92,
    Landmark.MID_FINGER: 94,
    Landmark.TIP_JOINTS: 96,
    Landmark.FINGERTIPS: 100,
    Landmark.CHEST: 0,
    Landmark.HIP: 8,
    Landmark.UPPER_THIGH: 18,
    Landmark.MID_THIGH: 30,
    Landmark.ABOVE_KNEE: 40,
    Landmark.KNEE: 46,
    Landmark.BELOW_KNEE: 52,
    Landmark.MID_CALF: 64,
    Landmark.ABOVE_ANKLE: 75,
    Landmark.ANKLE: 80,
    Landmark.MID_FOOT: 89,
    Landmark.TOE_ROOTS: 94,
    Landmark.TOE_TIPS: 100,
}

_LANDMARKS = tuple(Landmark)
_FIRST_LOWER = _LANDMARKS.index(Landmark.CHEST)
UPPER_LANDMARKS, LOWER_LANDMARKS = _LANDMARKS[:_FIRST_LOWER], _LANDMARKS[_FIRST_LOWER:]
