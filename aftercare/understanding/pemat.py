"""PEMAT-P: the printable form of the Patient Education Materials Assessment Tool (AHRQ publication 14-0002-EF, 2013, items in
words of ours). It leaves out numbers 13 and 14, which are for films.

The tool asks that an item hold through about 80 to 100 per cent of a text; we ask for all of it, but for the passive.
It passes at 70 per cent, a convention of later studies.
"""

from __future__ import annotations

from aftercare.understanding import judging_faces as faces
from aftercare.understanding import judging_message as message
from aftercare.understanding import judging_words as words
from aftercare.understanding.instruments import Item, Scale

UNDERSTANDABILITY = Scale(
    "PEMAT-P understandability",
    (
        Item(1, "The purpose is plain at once.", look="title and purpose, read by somebody new to them"),
        Item(2, "Nothing leads away from the purpose.", look="each passage: would the patient miss it?"),
        Item(3, "The words are everyday words.", words.everyday_words, "short words that are still strange"),
        Item(4, "Trade words stand only where they are explained.", words.terms_explained),
        Item(5, "Sentences say who does what.", words.active_voice),
        Item(6, "Numbers are clear.", words.clear_numbers, optional=True),
        Item(7, "Nothing has to be calculated.", words.no_sums),
        Item(8, "The text comes in short chunks.", faces.chunks, optional=True),
        Item(
            9, "Each chunk has a heading that tells what it holds.", faces.headings, "headings against the text", optional=True
        ),
        Item(10, "The order makes sense.", faces.order, "whether the patient needs things in this order"),
        Item(11, "There is a summary.", message.summary, optional=True),
        Item(12, "Boxes, bold type or bullets lead to key points.", faces.cues),
        Item(15, "There are pictures where they help.", faces.pictured),
        Item(16, "Pictures say what the text says.", look="device drawing and pictograms beside their text", optional=True),
        Item(17, "Pictures have titles or captions.", faces.captioned, optional=True),
        Item(18, "Pictures are clear and uncluttered.", look="the printed drawing, in black and white", optional=True),
        Item(19, "Tables are simple, with short headers.", faces.tables, optional=True),
    ),
    passes_at=70,
)
ACTIONABILITY = Scale(
    "PEMAT-P actionability",
    (
        Item(20, "It names something to do.", words.actions),
        Item(21, "It speaks to the reader.", words.reader_addressed),
        Item(22, "Actions come in small, explicit steps.", words.small_steps),
        Item(23, "It gives something to act with, such as a list to tick.", faces.tool),
        Item(24, "A calculation is explained.", words.sums_explained, optional=True),
        Item(25, "It explains how to act on charts and drawings.", look="the arrows on the device drawing", optional=True),
        Item(26, "Pictures stand wherever they make acting easier.", faces.topics_pictured),
    ),
    passes_at=70,
)
SCALES = (UNDERSTANDABILITY, ACTIONABILITY)
