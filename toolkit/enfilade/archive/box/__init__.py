"""The project box: one file that holds a project with its photographs and all its versions, for anyone to read."""

from enfilade.archive.box.reading import Box, read_box
from enfilade.archive.box.taking import take_in
from enfilade.archive.box.unpacking import unpack
from enfilade.archive.box.writing import write_box

__all__ = ["Box", "read_box", "take_in", "unpack", "write_box"]
