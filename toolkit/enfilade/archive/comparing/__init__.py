"""Two to six projects or versions side by side."""

from __future__ import annotations

from enfilade.archive.comparing.comparison import Comparison
from enfilade.archive.comparing.side_by_side import FEWEST, MOST, compare

__all__ = ["FEWEST", "MOST", "Comparison", "compare"]
