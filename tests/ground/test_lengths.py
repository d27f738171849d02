"""Lengths: an inch is 25.4 mm exactly (international yard and pound agreement, 1959)."""

from __future__ import annotations

import doctest
import math
from fractions import Fraction

import pytest
from hypothesis import given
from hypothesis import strategies as st

from enfilade import lengths
from enfilade.errors import OutOfRange, Refused
from enfilade.lengths import LIMIT_MM, System, inches, parse_length, show_inches, show_length, shown_parts, to_inches


def test_the_examples_in_the_docstrings_are_true() -> None:
    result = doctest.testmod(lengths)
    assert result.attempted > 8
    assert result.failed == 0


# 1 in = 25.4 mm, 1 ft = 304.8 mm; each right side is that product, worked out by hand.
@pytest.mark.parametrize(
    ("typed", "value_mm"),
    [
        ("10' 11 1/4\"", 3333.75),
        ("10'11-1/4\"", 3333.75),
        ("10 ft 11 1/4 in", 3333.75),
        ("10' 11 1/4", 3333.75),
        ("10'", 3048.0),
        ("10 ft", 3048.0),
        ("2.5'", 762.0),
        ('131.25"', 3333.75),
        ("131 1/4 in", 3333.75),
        ('.5"', 12.7),
        ('1/16"', 1.5875),
        ("3.35 m", 3350.0),
        ("3350mm", 3350.0),
        ("12.5 cm", 125.0),
        ("-3'", -914.4),
        ("\u2212 3\u2032", -914.4),
        ("10\u2032 11\u00a01/4\u2033", 3333.75),  # as a word processor sets it, with hard spaces
        ("10\u2019 6\u201d", 3200.4),
        ("10'\t11\t1/4\"", 3333.75),
        ("  42  ", 42.0),
        ("5' - 6\"", 1676.4),
        ("5''", 127.0),
    ],
)
def test_typed_lengths_are_read(typed: str, value_mm: float) -> None:
    assert parse_length(typed) == value_mm


@pytest.mark.parametrize(
    "typed",
    ["", " ", "'", '"', "ten feet", "3,35 m", "3 yd", "1e3", "0x10", "nan", "inf", "--3", "1/2/3", "3 m 20 cm", "10' x",
     "1' 2' 3", "\u00bd", "3\n4", "1 2", "m", "5" * 41],
)  # fmt: skip
def test_what_is_no_length_is_refused_with_the_forms_that_are(typed: str) -> None:
    with pytest.raises(Refused, match="expected 10' 11 1/4\""):
        parse_length(typed)


@pytest.mark.parametrize(
    ("typed", "instead"),
    [
        ("0,66 m", "write 0.66 m;"),
        ("6' 2,5\"", "write 6' 2.5\";"),
        ("3,350 mm", "write 3350 mm or 3.350 mm;"),  # thousands to one reader, decimals to another
        ("3,350 m", "write 3.350 m;"),  # no house is over a kilometre
        ("1,066,800 mm", "is not a length;"),  # over a kilometre without its commas, so nothing is put forward
        ("0,066 m", "write 0.066 m;"),
        # 12 in = 1 ft
        ("6' 14\"", "write 7' 2\";"),
        ("-6' 14 1/2\"", "write -7' 2 1/2\";"),
        ("5 ft 12 in", "write 6' 0\";"),
        ("2' 30.3\"", "write 4' 6.3\";"),
    ],
)
def test_a_length_that_is_nearly_one_is_refused_with_how_it_is_written(typed: str, instead: str) -> None:
    with pytest.raises(Refused) as refusal:
        parse_length(typed)
    message = str(refusal.value)
    assert instead in message
    assert message.count(repr(typed)) == 1
    assert " in, " in message
    assert " cm, " in message


@pytest.mark.parametrize("typed", ["1,2,3", "a,b", ",", "5' 1,2,3"])
def test_nothing_is_put_forward_for_what_no_comma_explains(typed: str) -> None:
    with pytest.raises(Refused) as refusal:
        parse_length(typed)
    assert "write" not in str(refusal.value)


def test_a_fraction_over_nothing_is_refused() -> None:
    with pytest.raises(Refused, match="divides by zero"):
        parse_length('1/0"')


@pytest.mark.parametrize(
    "number",
    [math.nan, math.inf, -math.inf, 1e30, -1e30, LIMIT_MM + 1, "1000.001 m", pytest.param(10**5000, id="5001 digits")],
)
def test_no_length_is_endless_or_over_a_kilometre(number: float | str) -> None:
    with pytest.raises(OutOfRange, match="at most 1000000 mm"):
        parse_length(number)


@pytest.mark.parametrize("wrong", [True, None, [3], {"mm": 3}])
def test_what_is_no_number_and_no_text_is_refused(wrong: object) -> None:
    with pytest.raises(Refused):
        parse_length(wrong)  # type: ignore[arg-type]


def test_a_bare_number_is_in_the_unit_that_was_asked_for() -> None:
    assert parse_length("42", bare="in") == 1066.8
    assert parse_length(42, bare="in") == 1066.8
    assert parse_length("3'", bare="in") == 914.4
    for text in ("42", 42):
        with pytest.raises(Refused, match="no unit"):
            parse_length(text, bare=None)
    with pytest.raises(Refused, match="unit 'yd'"):
        parse_length(42, bare="yd")


def test_there_is_no_minus_nought() -> None:
    assert math.copysign(1, parse_length("-0")) == 1
    assert math.copysign(1, parse_length(-0.0)) == 1


@pytest.mark.parametrize(
    ("value_mm", "us", "inches_alone", "metric"),
    [
        (0, '0"', '0"', "0 mm"),
        (25.4, '1"', '1"', "25 mm"),
        (1.5875, '1/16"', '1/16"', "2 mm"),
        (304.8, "1' 0\"", '12"', "305 mm"),
        (304.7, "1' 0\"", '12"', "305 mm"),  # 11.996 in: the sixteenths carry into the foot
        (3333.75, "10' 11 1/4\"", '131 1/4"', "3334 mm"),
        (-1066.8, "-3' 6\"", '-42"', "-1067 mm"),
        (0.3, '0"', '0"', "0 mm"),
        (-0.3, '0"', '0"', "0 mm"),
    ],
)
def test_lengths_are_shown_to_a_sixteenth_or_a_millimetre(
    value_mm: float, us: str, inches_alone: str, metric: str
) -> None:
    assert show_length(value_mm, "us") == us
    assert show_inches(value_mm) == inches_alone
    assert show_length(value_mm, "metric") == metric


@pytest.mark.parametrize("endless", [math.nan, math.inf, -math.inf])
def test_what_is_not_finite_is_never_shown(endless: float) -> None:
    for system in ("us", "metric"):
        with pytest.raises(OutOfRange, match="finite"):
            show_length(endless, system)


house_lengths = st.floats(-20_000, 20_000, allow_nan=False)


@given(house_lengths)
def test_what_is_shown_reads_back_within_half_of_a_sixteenth(value_mm: float) -> None:
    for shown in (show_length(value_mm, "us"), show_inches(value_mm)):
        assert abs(parse_length(shown) - value_mm) <= 25.4 / 32 + 1e-6
    assert abs(parse_length(show_length(value_mm, "metric")) - value_mm) <= 0.5 + 1e-6


@given(st.decimals(-20_000, 20_000, places=6))
def test_a_length_typed_exactly_in_the_other_system_is_the_same_length(value: object) -> None:
    value_mm = float(str(value))
    # As a fraction of an inch: 1 mm is 5/127 in, exactly.
    exact = Fraction(str(value)) * Fraction(5, 127)
    sign = "-" if exact < 0 else ""
    assert parse_length(f'{sign}{abs(exact.numerator)}/{exact.denominator}"') == value_mm
    # As decimals, to a millionth of a millionth of an inch.
    assert parse_length(f"{float(exact):.12f} in") == value_mm
    assert inches(to_inches(value_mm)) == pytest.approx(value_mm, abs=1e-7)


@given(st.lists(st.floats(0, 5000), max_size=30), st.sampled_from(["us", "metric"]))
def test_shown_parts_add_up_to_the_shown_total(parts_mm: list[float], system: System) -> None:
    shown, total = shown_parts(parts_mm, system)
    step = Fraction("25.4") / 16 if system == "us" else Fraction(1)

    def steps(text: str) -> int:
        count = Fraction(str(parse_length(text))).limit_denominator(10**6) / step
        return round(count)

    assert sum(map(steps, shown)) == steps(total)
    assert abs(steps(total) - math.fsum(parts_mm) / float(step)) < 0.5 + 1e-6
    for part, text in zip(parts_mm, shown, strict=True):
        assert abs(steps(text) - part / float(step)) < 1 + 1e-6
