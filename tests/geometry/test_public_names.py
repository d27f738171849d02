"""The public names of the package, and that asking for one does not bring in the others."""

from __future__ import annotations

import subprocess
import sys
from importlib import import_module

import pytest

from enfilade import geometry


def test_all_lists_each_public_name_and_nothing_else() -> None:
    homes = [name for names in geometry._HOMES.values() for name in names]
    assert sorted(geometry.__all__) == sorted(homes)
    for home, names in geometry._HOMES.items():
        module = import_module(f"enfilade.geometry.{home}")
        for name in names:
            assert getattr(geometry, name) is getattr(module, name)
            assert name in module.__all__


def test_an_unknown_name_is_an_error() -> None:
    with pytest.raises(AttributeError, match="no attribute 'walkies'"):
        _ = geometry.walkies


def test_importing_the_package_brings_no_geometry_library() -> None:
    code = "import sys, enfilade.geometry; sys.exit('shapely' in sys.modules or 'numpy' in sys.modules)"
    assert subprocess.run([sys.executable, "-c", code], check=False).returncode == 0
