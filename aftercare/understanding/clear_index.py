"""CDC Clear Communication Index (Baur and Prue, Health Promot Pract 2014; items in words of ours).

An item gives a point only if every instance on the sheet meets it; 90 per cent passes. The parts about behavior (12 to 14),
numbers (15 to 17) and risk (18 to 20) do not apply to a text without them. The form asks item 17 the other way round.
"""

from __future__ import annotations

from aftercare.understanding import layout_items as layout
from aftercare.understanding import message_items as message
from aftercare.understanding import wording_items as wording
from aftercare.understanding.instruments import Item, Scale

INDEX = Scale(
    "CDC Clear Communication Index",
    (
        Item(1, "There is one main message.", message.one_message),
        Item(
            2, "The main message comes first.", message.message_first, "the phone's screen before any scrolling", depends_on=1
        ),
        Item(3, "The main message stands out.", message.message_emphasized, depends_on=1),
        Item(
            4,
            "A picture with a caption supports it.",
            layout.signs_pictured,
            "whether each shows the right thing",
            depends_on=1,
        ),
        Item(5, "It calls on the reader to act.", wording.calls_to_act),
        Item(6, "Main message and call are active.", wording.message_active),
        Item(7, "The words are the reader's own; others are explained.", wording.audience_words),
        Item(8, "Lists are used, none of more than seven items.", layout.lists),
        Item(9, "Chunks have fitting headings.", layout.chunks_headed, "headings against the text"),
        Item(10, "The first section sums up what matters most.", message.first_section),
        Item(11, "It says what is known and what is not.", layout.not_known),
        Item(12, "It recommends what to do.", wording.actions, optional=True),
        # Paper that would overflow is printed without its reasons; the sheets checked here have all of them.
        Item(
            13, "It says why that matters, in words.", wording.reasons_for_advice, "paper too full for reasons", optional=True
        ),
        Item(14, "It says how, when or how often.", wording.directions, optional=True),
        Item(15, "Numbers are of the kind people use.", wording.clear_numbers, optional=True),
        Item(16, "Each number says what it is of.", wording.numbers_explained, optional=True),
        Item(17, "No calculation is needed.", wording.no_sums, optional=True),
        Item(18, "It says what the risk is, and why.", wording.reasons_for_signs, "paper too full for reasons", optional=True),
        Item(
            19,
            "It weighs risks and benefits of what it recommends.",
            look="advice that costs, such as no driving",
            optional=True,
        ),
        Item(20, "Chances in numbers come in words too.", wording.chances_in_words, optional=True),
    ),
    passes_at=90,
)
