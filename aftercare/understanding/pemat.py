"""PEMAT-P: the form of the Patient Education Materials Assessment Tool for printable texts (AHRQ publication 14-0002-EF, 2013,
items in words of ours). It has no items 13 and 14, which are for films.

The tool asks that an item hold for about 80 to 100 per cent of a text. We ask for all of it, except for the passive voice.
70 per cent passes, a convention of later studies.
"""

from __future__ import annotations

from aftercare.understanding import layout_items as layout
from aftercare.understanding import message_items as message
from aftercare.understanding import wording_items as wording
from aftercare.understanding.instruments import Item, Scale

UNDERSTANDABILITY = Scale(
    "PEMAT-P understandability",
    (
        Item(1, "The purpose is plain at once.", look="title and purpose, read by somebody new to them"),
        Item(2, "Nothing leads away from the purpose.", look="each passage: would the patient miss it?"),
        Item(3, "The words are everyday words.", wording.everyday_words, "short words that are still strange"),
        Item(4, "Trade words stand only where they are explained.", wording.terms_explained),
        Item(5, "Sentences say who does what.", wording.active_voice),
        Item(6, "Numbers are clear.", wording.clear_numbers, optional=True),
        Item(7, "Nothing has to be calculated.", wording.no_sums),
        Item(8, "The text comes in short chunks.", layout.chunks, optional=True),
        Item(
            9, "Each chunk has a heading that tells what it holds.", layout.headings, "headings against the text", optional=True
        ),
        Item(10, "The order makes sense.", layout.order, "whether the patient needs things in this order"),
        Item(11, "There is a summary.", message.summary, optional=True),
        Item(12, "Boxes, bold type or bullets lead to key points.", layout.cues),
        Item(15, "There are pictures where they help.", layout.pictured),
        Item(16, "Pictures say what the text says.", look="device drawing and pictograms beside their text", optional=True),
        Item(17, "Pictures have titles or captions.", layout.captioned, optional=True),
        Item(18, "Pictures are clear and uncluttered.", look="the printed drawing, in black and white", optional=True),
        Item(19, "Tables are simple, with short headers.", layout.tables, optional=True),
    ),
    passes_at=70,
)
ACTIONABILITY = Scale(
    "PEMAT-P actionability",
    (
        Item(20, "It names something to do.", wording.actions),
        Item(21, "It speaks to the reader.", wording.reader_addressed),
        Item(22, "Actions come in small, explicit steps.", wording.small_steps),
        Item(23, "It gives something to act with, such as a list to tick.", layout.tool),
        Item(24, "A calculation is explained.", wording.sums_explained, optional=True),
        Item(25, "It explains how to act on charts and drawings.", look="the arrows on the device drawing", optional=True),
        Item(26, "Pictures stand wherever they make acting easier.", layout.topics_pictured),
    ),
    passes_at=70,
)
SCALES = (UNDERSTANDABILITY, ACTIONABILITY)
