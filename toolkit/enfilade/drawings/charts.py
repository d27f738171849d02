"""Charts: storage against the guideline, counter runs with landings, clear widths: records, then two renderers."""

from enfilade.drawings.chart_data import (
    Aisle,
    AisleChart,
    Landing,
    RunChart,
    RunPiece,
    StorageChart,
    StorageGroup,
    aisle_chart,
    run_chart,
    run_charts,
    storage_chart,
)
from enfilade.drawings.chart_figures import aisle_figure, run_figure, storage_figure
from enfilade.drawings.chart_svg import aisle_svg, run_svg, storage_svg

__all__ = [
    "Aisle",
    "AisleChart",
    "Landing",
    "RunChart",
    "RunPiece",
    "StorageChart",
    "StorageGroup",
    "aisle_chart",
    "aisle_figure",
    "aisle_svg",
    "run_chart",
    "run_charts",
    "run_figure",
    "run_svg",
    "storage_chart",
    "storage_figure",
    "storage_svg",
]
