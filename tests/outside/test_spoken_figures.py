"""Figures in words against num2words, a library that is kept elsewhere, and against published conversions."""

from __future__ import annotations

from decimal import Decimal
from fractions import Fraction

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from num2words import num2words

from enfilade.script.number_words import cardinal, decimal_words, fraction_words, ordinal, spoken, year_words
from enfilade.script.typed import typed_figures
from enfilade.script.value import Value
from enfilade.script.wording import for_the_ear, for_the_eye

PLAIN = frozenset[str]()
WHOLE = st.integers(0, 10**15 - 1) | st.integers(0, 10**7)


def told(number: int, **how: str) -> str:
    """Return what the library says, without the commas that no mouth says."""
    return str(num2words(number, **how)).replace(",", "")


@given(WHOLE)
@settings(max_examples=600, deadline=None)
def test_whole_numbers(number: int) -> None:
    assert cardinal(number) == told(number)
    assert ordinal(number) == told(number, to="ordinal")


def test_every_number_of_a_house() -> None:
    assert [cardinal(number) for number in range(20_001)] == [told(number) for number in range(20_001)]


def test_a_hundred_is_said_with_an_article() -> None:
    for number in range(100, 2_000):
        assert spoken(number).replace("a hundred", "one hundred", 1).replace("a thousand", "one thousand") == told(
            number
        )


def test_years() -> None:
    # The library joins `oh` to its number with a hyphen.
    assert [year_words(year) for year in range(1000, 10_000)] == [
        told(year, to="year").replace("oh-", "oh ") for year in range(1000, 10_000)
    ]


@given(st.decimals(0, 99_999, places=3))
@settings(max_examples=300, deadline=None)
def test_decimals(number: Decimal) -> None:
    plain = number.normalize()
    expected = told(int(plain)) if plain == plain.to_integral() else str(num2words(plain)).replace(",", "")
    assert (
        decimal_words(number).replace("a hundred", "one hundred", 1).replace("a thousand", "one thousand", 1)
        == expected
    )


@given(WHOLE)
@settings(max_examples=300, deadline=None)
def test_words_of_the_library_are_read_back_as_the_number(number: int) -> None:
    number %= 10**9
    words = str(num2words(number)).replace(",", "")
    read = typed_figures(words)
    assert [one.value for one in read] == [number]


# Conversions: an inch is 25.4 mm exactly, a foot 0.3048 m, a square foot 0.09290304 m2 (NIST Special Publication 811,
# 2008, appendix B.8). The wording beside each is our own choice.
@pytest.mark.parametrize(
    ("mm", "system", "eye", "ear"),
    [
        (10 * 12 * 25.4, "us", "10 ft", "ten feet"),
        (106 * 25.4, "us", "8 ft 10 in", "eight feet ten inches"),
        (36 * 25.4, "us", "36 in", "thirty-six inches"),
        (3.5 * 25.4, "us", "3 1/2 in", "three and a half inches"),
        (0.5 * 25.4, "us", "1/2 in", "half an inch"),
        (0.75 * 25.4, "us", "3/4 in", "three quarters of an inch"),
        (25.4, "us", "1 in", "one inch"),
        (61 * 25.4, "us", "5 ft 1 in", "five feet one inch"),
        (47.9 * 25.4, "us", "4 ft", "four feet"),
        (119.6 * 25.4, "us", "10 ft", "ten feet"),
        (0, "us", "0 in", "zero inches"),
        (2700, "metric", "2.7 m", "two point seven metres"),
        (1067, "metric", "1.07 m", "one point zero seven metres"),
        (1000, "metric", "1 m", "one metre"),
        (914, "metric", "91 cm", "ninety-one centimetres"),
        (38, "metric", "38 mm", "thirty-eight millimetres"),
        (12_000, "metric", "12 m", "twelve metres"),
    ],
)
def test_lengths(mm: float, system: str, eye: str, ear: str) -> None:
    value = Value("length", mm)
    assert for_the_eye(value, PLAIN, system) == eye
    assert for_the_ear(value, PLAIN, system) == ear


@pytest.mark.parametrize(
    ("m2", "forms", "eye", "ear"),
    [
        (140 * 0.09290304, PLAIN, "140 sq ft", "a hundred and forty square feet"),
        (141.2 * 0.09290304, {"rounded"}, "140 sq ft", "a hundred and forty square feet"),
        (9.5 * 0.09290304, PLAIN, "9.5 sq ft", "nine point five square feet"),
        (13.06, {"in square metres"}, "13.1 m²", "thirteen point one square metres"),
    ],
)
def test_areas(m2: float, forms: set[str], eye: str, ear: str) -> None:
    value = Value("area", m2)
    assert for_the_eye(value, frozenset(forms), "us") == eye
    assert for_the_ear(value, frozenset(forms), "us") == ear


# Currency codes as ISO 4217 has them.
@pytest.mark.parametrize(
    ("amount", "currency", "forms", "eye", "ear"),
    [
        ("9840.00", "USD", (), "USD\u00a09,840", "nine thousand eight hundred and forty dollars"),
        ("1.00", "EUR", (), "EUR\u00a01", "one euro"),
        ("0.01", "GBP", (), "GBP\u00a00.01", "one penny"),
        ("99.50", "USD", (), "USD\u00a099.50", "ninety-nine dollars and fifty cents"),
        ("150000", "USD", (), "USD\u00a0150,000", "a hundred and fifty thousand dollars"),
        ("31500", "USD", ("rounded",), "USD\u00a032,000", "thirty-two thousand dollars"),
        ("9840.40", "USD", (), "USD\u00a09,840", "nine thousand eight hundred and forty dollars"),
        (
            "9840.40",
            "USD",
            ("exact",),
            "USD\u00a09,840.40",
            "nine thousand eight hundred and forty dollars and forty cents",
        ),
        ("12", "", (), "12", "twelve"),
        ("12", "ZZZ", (), "ZZZ\u00a012", "twelve ZZZ"),
    ],
)
def test_money(amount: str, currency: str, forms: tuple[str, ...], eye: str, ear: str) -> None:
    value = Value("money", Decimal(amount), currency=currency)
    assert for_the_eye(value, frozenset(forms), "us") == eye
    assert for_the_ear(value, frozenset(forms), "us") == ear


LENGTH_FORMS = st.sampled_from([
    PLAIN, frozenset({"in metres"}), frozenset({"in centimetres"}), frozenset({"in feet"}), frozenset({"in inches"}),
    frozenset({"in feet and inches"}), frozenset({"exact"}), frozenset({"rounded"}),
])  # fmt: skip


@given(st.floats(5, 40_000), LENGTH_FORMS, st.sampled_from(["us", "metric"]))
@settings(max_examples=600, deadline=None)
def test_eye_and_ear_read_the_same_length(mm: float, forms: frozenset[str], system: str) -> None:
    """What is read on the page and what is said are the same number, as whoever hears or reads it works it out."""
    value = Value("length", mm)
    eye, ear = typed_figures(for_the_eye(value, forms, system)), typed_figures(for_the_ear(value, forms, system))
    assert len(eye) == len(ear) == 1
    assert eye[0].kind == ear[0].kind == "length"
    assert eye[0].value == pytest.approx(ear[0].value)


@given(st.floats(5, 40_000), st.sampled_from(["us", "metric"]))
@settings(max_examples=400, deadline=None)
def test_a_length_is_off_by_no_more_than_it_says(mm: float, system: str) -> None:
    # Half of: 1 in from 4 ft on, 1/2 in below, 1/4 in under 1 ft, 1/8 in under 3 in; 0.1 m from 2 m, 0.01 m below,
    # 1 mm under 0.1 m (the rounding that `rounding.py` states).
    inch = mm / 25.4
    if system == "us":
        most = 25.4 * (0.5 if inch >= 47.75 else 0.25 if inch >= 12 else 0.125 if inch >= 3 else 1 / 16)
    else:
        most = 50 if mm >= 1995 else 5 if mm >= 99.5 else 0.5
    read = typed_figures(for_the_eye(Value("length", mm), PLAIN, system))
    assert abs(read[0].value - mm) <= most + 1e-3


@given(st.integers(0, 63))
def test_sixty_fourths_are_said_in_their_lowest_terms(part: int) -> None:
    count, under = Fraction(part, 64).as_integer_ratio()
    name = {2: "half", 4: "quarter"}.get(under, told(under, to="ordinal"))
    one = f"{'an' if name == 'eighth' else 'a'} {name}"
    rest = "" if not part else f" and {one}" if count == 1 else f" and {told(count)} {name}s"
    assert fraction_words(3 + Fraction(part, 64)) == f"three{rest}"
