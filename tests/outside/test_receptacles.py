"""Counter receptacles against a published example and the published rule."""

import pytest

from enfilade.trade.receptacles import island_receptacles, wall_counter_receptacles

IN = 25.4


@pytest.mark.parametrize("length_in", [60, 240])
def test_peninsula_to_2017_takes_one_whatever_its_length(length_in: float) -> None:
    # Published worked example on National Electrical Code (NFPA) 210.52(C)(2) and (3), editions to 2017;
    # document not found:
    # a peninsula of 60 x 24 in, and one of 20 ft.
    assert island_receptacles(length_in * IN, 24 * IN, edition="2017").count == 1


@pytest.mark.parametrize(
    ("length_in", "count"),
    [(48, 1), (49, 2), (96, 2), (97, 3), (11, 0)],  # rule: NEC (NFPA) 210.52(C)(1); our numbers
)
def test_unbroken_wall_counter(length_in: float, count: int) -> None:
    assert wall_counter_receptacles(length_in * IN).count == count


@pytest.mark.parametrize(("sq_ft", "count"), [(9, 1), (9.1, 2), (27, 2), (27.1, 3)])
def test_island_by_area_to_2020(sq_ft: float, count: int) -> None:
    # Rule recalled (NEC 2020 210.52(C)(2)), our numbers: a top 36 in deep.
    assert island_receptacles(sq_ft * 144 / 36 * IN, 36 * IN, edition="2020").count == count


def test_island_to_2023_asks_for_provision_alone() -> None:
    island = island_receptacles(96 * IN, 42 * IN, edition="2023")  # recalled
    assert (island.count, island.provision) == (0, True)
