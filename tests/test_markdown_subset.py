"""Tests that accepted texts have the same meaning in Markdown, and that messages become HTML with bold words only."""

from __future__ import annotations

import html
import random
import re
from concurrent.futures import ThreadPoolExecutor

import markdown
import pytest

from aftercare.errors import Fault, Problem, Refused
from aftercare.language.safety import unsafe
from aftercare.library.source import parse_source
from aftercare.library.text import BlockKind
from aftercare.page.html import inline

TAGS = {BlockKind.PARAGRAPH: "p", BlockKind.ITEM: "li"}
# Lines in and out of the subset; random bodies of them meet most of Markdown's rules.
LINES = """\
Keep it dry|**bold** word|a **b** c|**b|b**|*em*|_em_|snake_case {ice_minutes}|`code`|a \\ b|<b>x</b>|a < b|5 > 3|[x](y)|[x][y]
[x]: http://a|[x]|![p](q)|&amp;|R & D|- item|-item|  - inner|    indented|- - two|- # h|- > q|- 1. x|1. one|1) one|* star|+ plus
> quote|```|~~~|---|===|--|-|=|***|- - -|# Title|# T #|#T|## id|### deep|  # x|word  |***x***|****|__x__|a*b*c|a**b**c|#
- |  more|&#38;|http://a.b|a@b.c|<http://a.b>|<!-- c|**a** **b**|** a **|{a_b}_c|_||||"""


def blocks_of_markdown(body: str) -> list[tuple[str, str]]:
    """Tag and text of each block that the unrestricted library parses; all in other tags is named `other`."""
    # The library begins a list only after an empty line, other Markdown parsers and this program directly after text too.
    rendered = markdown.markdown(body.replace("\n- ", "\n\n- "))
    rendered = re.sub(r"<li>\s*<p>(.*?)</p>\s*</li>", r"<li>\1</li>", re.sub(r"</?ul>", "", rendered), flags=re.DOTALL)
    block = re.compile(r"<(h1|p|li)>(.*?)</\1>", re.DOTALL)
    blocks = [(tag, re.sub(r"</?strong>", "**", text)) for tag, text in block.findall(rendered)]
    blocks += [("other", rest) for rest in block.sub("", rendered).split()]
    return [(tag, " ".join(html.unescape(text).split())) for tag, text in blocks]


def test_a_body_that_is_accepted_is_the_same_to_the_unrestricted_library() -> None:
    dice = random.Random(35)
    lines = re.split(r"[|\n]", LINES)
    accepted = 0
    for _ in range(5000):
        body = "# Title\n" + "\n".join(dice.choices(lines, k=dice.randint(1, 4)))
        problems: list[Problem] = []
        source = parse_source(f"---\nid: x\n---\n{body}", "x.md", problems)
        if not problems:
            accepted += 1
            parsed = [("h1", source.title.message), *((TAGS[block.kind], block.text.message) for block in source.blocks)]
            assert [(tag, " ".join(text.split())) for tag, text in parsed] == blocks_of_markdown(body), body
    assert accepted > 400


@pytest.mark.parametrize(
    ("message", "expected"),
    [
        ("Keep it dry.", "Keep it dry."),
        ('**Stop** & "call", it\'s {a_b}: **now**.', '<strong>Stop</strong> &amp; "call", it\'s {a_b}: <strong>now</strong>.'),
        ("a < b > c &", "a &lt; b &gt; c &amp;"),
        ("**أبقِها** جافة.", "<strong>أبقِها</strong> جافة."),
    ],
)
def test_a_message_becomes_escaped_text_with_bold_words(message: str, expected: str) -> None:
    assert inline(message) == expected


REFUSED = ["*a*", "_a_", "`a`", "<b>a</b>", "[a](b)", "![a](b)", "a \\* b", "**a", "**a ** b", "a **b `c`**", "&lt;", "a | b"]


@pytest.mark.parametrize("message", REFUSED)
def test_a_message_with_any_other_mark_is_refused(message: str) -> None:
    with pytest.raises(Refused) as refused:
        inline(message)
    assert [(problem.fault, problem.subject) for problem in refused.value.problems] == [(Fault.BAD_MARKDOWN, (message,))]


@pytest.mark.parametrize("translation", REFUSED)
def test_a_translation_with_refused_markdown_is_unsafe(translation: str) -> None:
    english = translation.count("**") * "**"  # as many bold marks, so that no other check notices them
    assert Fault.BAD_MARKDOWN in {problem.fault for problem in unsafe(f"Keep {english}", translation, "es")}


def test_threads_convert_messages_at_the_same_time() -> None:
    messages = [f"**{number}** a_b & **{number + 1}**" for number in range(2000)]
    expected = [f"<strong>{number}</strong> a_b &amp; <strong>{number + 1}</strong>" for number in range(2000)]

    with ThreadPoolExecutor(8) as threads:
        assert list(threads.map(inline, messages)) == expected
