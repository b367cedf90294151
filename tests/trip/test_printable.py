"""No sign that a terminal obeys or that turns the reading direction leaves the program."""

import pytest

from lacet.documents.workbook.page import in_xml
from lacet.intake import write
from lacet.tracks import gpx_write
from lacet.trip.printable import clean, clean_plain

# Controls of ISO 6429, and the explicit formatting characters of Unicode Standard Annex 9.
HIDDEN = ["\x1b", "\x07", "\x9b", *map(chr, range(0x202A, 0x202F)), *map(chr, range(0x2066, 0x206A))]


@pytest.mark.parametrize("sign", HIDDEN, ids=ascii)
def test_hidden_signs_are_left_out_of_texts(sign: str) -> None:
    assert clean(f"Weir{sign} Farm") == "Weir Farm"
    assert sign not in in_xml(f"Weir{sign} Farm")
    assert write._CONTROL.search(sign) is not None
    assert gpx_write._UNWRITABLE.search(sign) is not None


def test_letters_line_ends_and_tabs_stay() -> None:
    text = "Müller\tżółw\n岩"
    assert clean(text) == text


def test_plain_data_is_clean_in_every_depth() -> None:
    plain = {"na\u202eme": ["a\x1bb", {"k": "c\u2066"}], "n": 1, "none": None}
    assert clean_plain(plain) == {"name": ["ab", {"k": "c"}], "n": 1, "none": None}
