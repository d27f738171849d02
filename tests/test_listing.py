"""Names as parts of sentences (English usage, common practice, no source)."""

from __future__ import annotations

import pytest

from enfilade.listing import the


@pytest.mark.parametrize(
    ("name", "said"),
    [
        ("range", "the range"),
        ("The old dresser", "the old dresser"),
        ("A table", "a table"),
        ("a", "the a"),
        ("", ""),
        # It says whose it is.
        ("Hesper's room", "Hesper's room"),
        ("Hesper\u2019s room", "Hesper\u2019s room"),
        ("our bench", "our bench"),
        # For whom it is, is no owner.
        ("women's bath", "the women's bath"),
        # It bears a number.
        ("Bath 2", "Bath 2"),
        ("42 in range", "the 42 in range"),
    ],
)
def test_a_name_has_one_article_and_an_owner_or_a_number_stands_for_it(name: str, said: str) -> None:
    assert the(name) == said
