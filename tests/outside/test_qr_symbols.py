"""Tests of QR symbols against ISO/IEC 18004: its worked example, its capacities, and another encoder."""

from __future__ import annotations

import re
from collections.abc import Sequence
from pathlib import Path
from typing import Literal, cast

import pytest
import qrcode
import segno
from qrcode.constants import ERROR_CORRECT_M
from qrcode.util import MODE_NUMBER, QRData
from segno.consts import MODE_ALPHANUMERIC, MODE_BYTE

from aftercare.desk import Desk
from aftercare.errors import Fault, Refused
from aftercare.language.languages import LANGUAGES
from aftercare.page.qr import QUIET_ZONE, qr_matrix, qr_svg
from aftercare.places import find_places
from aftercare.sheet.address import address
from aftercare.sheet.choices import Choices
from aftercare.sheet.validate import options_for, weights_for
from tests.desk_world import clinic_home
from tests.phone_world import demo_desk

# ISO/IEC 18004, Annex I: 01234567, numeric mode, version 1, level M, mask 2; X is dark.
ANNEX_I = """\
XXXXXXX..X.XX.XXXXXXX
X.....X..XXXX.X.....X
X.XXX.X.X.....X.XXX.X
X.XXX.X.XX....X.XXX.X
X.XXX.X.X.XXX.X.XXX.X
X.....X.X...X.X.....X
XXXXXXX.X.X.X.XXXXXXX
........X..XX........
X.XXXXX..X..X.XXXXX..
...X.X.XX.X.X..X.XX..
..X...XX.X.X.X..XXXXX
....X....X.....XXXX..
...XXXXXX..X.X..X....
........X.XXXXX..XX..
XXXXXXX..XX.X.XX.....
X.....X.X.XXXXX...X.X
X.XXX.X.X...X..X.XX..
X.XXX.X.XX..X..X.....
X.XXX.X.X.XX.X..X.X..
X.....X........XX.XX.
XXXXXXX.XXXX.X..X.X.."""

# Data codewords by version from 1 (ISO/IEC 18004, table 7).
CODEWORDS = {
    "M": (16, 28, 44, 64, 86, 108, 124, 154, 182, 216),
    "Q": (13, 22, 34, 48, 62, 76, 88, 110, 132, 154),
}
# The fifteen bits of format information for mask 2 (ISO/IEC 18004, table C.1).
FORMAT_MASK_2 = {"101111001111100": "M", "011111100110001": "Q"}
_ALPHANUMERIC = "0-9A-Z $%*+./:\\-"
_PIECES = re.compile(f"[{_ALPHANUMERIC}]+|[^{_ALPHANUMERIC}]+")


def pieces(text: str) -> list[tuple[str, int]]:
    """Runs of the text with the smallest mode for each, alphanumeric or byte (ISO/IEC 18004, table 5)."""
    return [
        (piece, MODE_ALPHANUMERIC if re.fullmatch(f"[{_ALPHANUMERIC}]+", piece) else MODE_BYTE)
        for piece in _PIECES.findall(text)
    ]


def bits(text: str, version: int) -> int:
    """The bits of the text: 4 bits of mode, the count, then 11 bits for two characters or 8 for a byte (7.4, table 3)."""
    total = 0
    for piece, mode in pieces(text):
        if mode == MODE_ALPHANUMERIC:
            total += 4 + (9 if version < 10 else 11) + 11 * (len(piece) // 2) + 6 * (len(piece) % 2)
        else:
            total += 4 + (8 if version < 10 else 16) + 8 * len(piece.encode())
    return total


def least_version(text: str, level: str) -> int:
    """The smallest version that holds the text."""
    return next(v for v, words in enumerate(CODEWORDS[level], 1) if bits(text, v) <= 8 * words)


def version_of(matrix: Sequence[Sequence[bool]]) -> int:
    return (len(matrix) - 17) // 4


def level_of(matrix: Sequence[Sequence[bool]]) -> str:
    """The level given in the symbol itself, next to its upper left corner mark (figure 25)."""
    cells = [*((8, x) for x in (0, 1, 2, 3, 4, 5, 7, 8)), *((y, 8) for y in (7, 5, 4, 3, 2, 1, 0))]
    return FORMAT_MASK_2["".join("01"[matrix[y][x]] for y, x in cells)]


def drawn(matrix: Sequence[Sequence[bool]]) -> str:
    return "\n".join("".join("X" if dark else "." for dark in row) for row in matrix)


def segnos(text: str, level: str, version: int) -> str:
    segments = pieces(text)  # its type hints leave out that it takes segments with their modes
    symbol = segno.make(segments, error=level, version=version, mask=2, boost_error=False, micro=False)  # type: ignore[arg-type]
    return drawn([[bool(module) for module in row] for row in symbol.matrix])


def sample() -> list[str]:
    """The address of every device in one of its materials, languages in turn, with no option and with every option."""
    library, addresses = demo_desk().library, []
    for number, device in enumerate(library.devices.values()):
        tag = tuple(LANGUAGES)[number % len(LANGUAGES)]
        material = library.materials[device.materials[number % len(device.materials)]]
        weight = next(iter(weights_for(library, device)), None)
        for options in ((), options_for(library, device, material)):
            addresses.append(address(library.clinic, Choices(device, material, None, options, weight), tag, "K7Q3MX"))
    return addresses


def test_the_encoder_gives_the_standards_worked_example_bit_for_bit() -> None:
    symbol = qrcode.QRCode(error_correction=ERROR_CORRECT_M, border=QUIET_ZONE, mask_pattern=2)
    symbol.add_data(QRData(b"01234567", mode=cast("Literal[1]", MODE_NUMBER)), optimize=0)
    symbol.make(fit=True)

    assert drawn([[bool(module) for module in row] for row in symbol.modules]) == ANNEX_I


def test_the_other_encoder_gives_the_worked_example_too() -> None:
    symbol = segno.make("01234567", error="M", version=1, mask=2, boost_error=False, micro=False)
    assert drawn([[bool(module) for module in row] for row in symbol.matrix]) == ANNEX_I


def test_addresses_of_all_devices_give_the_other_encoders_symbols() -> None:
    matrices = {text: qr_matrix(text) for text in sample()}
    assert len(matrices) > 80
    assert {t: drawn(m) for t, m in matrices.items()} == {t: segnos(t, level_of(m), version_of(m)) for t, m in matrices.items()}


# Where the terminator happens to end a codeword, the other encoder adds one of zeros, which 7.4.10 does not; such lengths are
# left out here.
@pytest.mark.parametrize("path", ["", "clinic/", "patients/after-care/"])
def test_a_path_with_small_letters_gives_the_other_encoders_symbol(path: str) -> None:
    text = f"HTTPS://CARE.TERNHARBOUR.EXAMPLE/{path}EN/SAF/#H01Y"
    matrix = qr_matrix(text)
    assert drawn(matrix) == segnos(text, level_of(matrix), version_of(matrix))


LENGTHS = [f"HTTPS://A.EXAMPLE/EN/SAF/#H{('0123456789ABCDEF' * 8)[:more]}" for more in range(0, 130, 5)]


@pytest.mark.parametrize("text", LENGTHS, ids=len)
def test_the_smallest_version_of_the_standard_that_holds_the_address_is_used(text: str) -> None:
    assert version_of(qr_matrix(text)) == least_version(text, "M")


@pytest.mark.parametrize("text", LENGTHS, ids=len)
def test_the_stronger_level_is_used_where_it_needs_no_larger_version(text: str) -> None:
    free = least_version(text, "Q") == least_version(text, "M")
    assert level_of(qr_matrix(text)) == ("Q" if free else "M")


def test_the_sampled_lengths_use_both_levels() -> None:
    assert {level_of(qr_matrix(text)) for text in LENGTHS} == {"M", "Q"}


def test_the_drawing_has_the_symbol_with_four_light_modules_around_it() -> None:
    # ISO/IEC 18004, 9.1: a quiet zone of four modules.
    text = sample()[0]
    matrix = qr_matrix(text)
    svg = qr_svg(text, "Code")
    side = len(matrix) + 8
    dark = [[False] * side for _ in range(side)]
    for x, y, run in re.findall(r"M(\d+) (\d+)\.5h(\d+)", svg):
        for step in range(int(run)):
            dark[int(y)][int(x) + step] = True

    assert f'viewBox="0 0 {side} {side}"' in svg
    assert not any(any(row[:4]) or any(row[-4:]) for row in dark)
    assert not any(any(row) for row in (*dark[:4], *dark[-4:]))
    assert drawn([row[4:-4] for row in dark[4:-4]]) == drawn(matrix)


def test_the_drawings_title_is_escaped() -> None:
    assert "<title>Code &lt;&amp;</title>" in qr_svg("HTTPS://A.EXAMPLE/", "Code <&")


@pytest.mark.parametrize("length", [221, 2000, 5000])
def test_an_address_too_long_to_print_as_a_readable_code_is_refused(length: int) -> None:
    # Version 9, level M, holds 180 bytes and 262 characters (table 7); 57 modules of version 10 would be under 0.6 mm.
    with pytest.raises(Refused) as refused:
        qr_matrix("https://a.example/" + "a" * length)
    assert [problem.fault for problem in refused.value.problems] == [Fault.ADDRESS_TOO_LONG]


def test_the_longest_address_that_is_still_printable_is_not_refused() -> None:
    assert version_of(qr_matrix("A" * 262)) == 9


def test_a_clinic_with_too_long_a_web_address_is_refused_by_the_place_in_its_file(tmp_path: Path) -> None:
    home = clinic_home(tmp_path, ("https://care.ternharbour.example/", f"https://care.ternharbour.example/{'a' * 90}/"))
    desk = Desk.open(find_places(), home)
    choices = Choices(desk.device("short-arm-cast"), desk.library.materials["fiberglass"])
    with pytest.raises(Refused) as refused:
        desk.address(desk.translate(choices, "en"))
    assert [problem.fault for problem in refused.value.problems] == [Fault.ADDRESS_TOO_LONG]
    assert "clinic.md" in str(refused.value.problems[0].where)
