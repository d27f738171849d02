"""The office documents in a program that others have written: LibreOffice opens, sets and calculates them."""

from __future__ import annotations

import csv
import io
import shutil
import subprocess
from pathlib import Path

import pytest
from pypdf import PdfReader

import enfilade as ef
from building import house
from enfilade.export.tell import tell
from hostile import with_hostile_text
from needs import need


def office() -> str:
    return need(shutil.which("soffice"), "LibreOffice")


def converted(path: Path, to: str, folder: Path) -> Path:
    """Return a file as LibreOffice converts it, with a profile of its own, so that no other run is in its way."""
    profile = f"-env:UserInstallation={(folder / 'profile').as_uri()}"
    done = subprocess.run(
        [office(), profile, "--headless", "--convert-to", to, "--outdir", str(folder), str(path)],
        capture_output=True, timeout=300, check=False,
    )  # fmt: skip
    made = folder / f"{path.stem}.{to.split(':')[0]}"
    assert made.is_file(), done.stderr.decode(errors="replace")
    return made


def text_of(path: Path) -> str:
    return " ".join(" ".join(page.extract_text() for page in PdfReader(path).pages).split())


@pytest.fixture(scope="module")
def told(tmp_path_factory: pytest.TempPathFactory) -> Path:
    office()
    folder = tmp_path_factory.mktemp("told")
    tell(ef.demo(), to=["docx", "pptx", "schedules"], out=folder)
    return folder


@pytest.mark.parametrize(
    ("name", "said"),
    [
        ("walkthrough.docx", ("Still to be decided", "4 Kitchen", "One long table in three tops", "Page 2 of")),
        ("walkthrough.pptx", ("The Long Shed", "Still to be decided", "One table for fourteen", "Chosen")),
        ("schedules.xlsx", ("Still to be decided", "larch floor boards", "pan drawers right of the range")),
    ],
)
def test_it_opens_and_says_what_it_should(told: Path, tmp_path: Path, name: str, said: tuple[str, ...]) -> None:
    text = text_of(converted(told / name, "pdf", tmp_path))
    for words in said:
        assert words in text


@pytest.mark.parametrize("form", ["docx", "pptx", "schedules"])
def test_a_hostile_house_opens_too(tmp_path: Path, form: str) -> None:
    office()
    (path,) = tell(with_hostile_text(ef.demo())[0], to=[form], out=tmp_path)
    assert "zzhostile" in text_of(converted(path, "pdf", tmp_path))


def test_a_cell_that_looks_like_a_formula_is_shown_and_not_calculated(tmp_path: Path) -> None:
    office()
    names = ["=1+1", '=HYPERLINK("http://x.example","press")', "+2+2", "-3", "@A1", "a_x0041_b", "#N/A", "1/2"]
    products = [{"id": f"p{n}", "name": name} for n, name in enumerate(names)]
    (path,) = tell(house(spaces=[], products=products), to=["schedules"], out=tmp_path)
    made = _second_sheet(path, tmp_path)
    rows = list(csv.reader(io.StringIO(made)))
    assert [row[0] for row in rows[1:]] == names


def _second_sheet(path: Path, folder: Path) -> str:
    # The filter's options: comma, quotes, UTF-8, from row 1, as shown, and the second sheet (LibreOffice help).
    form = "csv:Text - txt - csv (StarCalc):44,34,76,1,,0,false,true,false,false,false,2"
    profile = f"-env:UserInstallation={(folder / 'profile').as_uri()}"
    subprocess.run(
        [office(), profile, "--headless", "--convert-to", form, "--outdir", str(folder), str(path)],
        capture_output=True, timeout=300, check=True,
    )  # fmt: skip
    (made,) = folder.glob("*.csv")
    return made.read_text("utf-8")
