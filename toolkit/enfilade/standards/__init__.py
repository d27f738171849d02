"""Published values, one data file a source, and the yardsticks that choose among them."""

from enfilade.standards.house_rules import with_house_rules
from enfilade.standards.rows import Row, rows
from enfilade.standards.yardsticks import Option, Yardstick, yardstick, yardstick_names

__all__ = ["Option", "Row", "Yardstick", "rows", "with_house_rules", "yardstick", "yardstick_names"]
