"""How long the documents for an office program take, drawings included.

Run on demand, as the other benchmarks; nothing is asserted about time.
"""

from __future__ import annotations

from typing import Any

import pytest

from enfilade.export import docx, pptx, workbook
from enfilade.export.tell import told
from enfilade.project.demo import demo


@pytest.mark.parametrize("writers", [(workbook,), (docx,), (pptx,), (docx, pptx, workbook)], ids=len)
def test_office_documents(benchmark: Any, writers: tuple[Any, ...]) -> None:
    benchmark.group = "office documents"
    project = demo()

    def ready() -> tuple[tuple[Any, ...], dict[str, Any]]:
        return (told(project),), {}  # a new document each time: its drawings are kept with it

    benchmark.pedantic(lambda document: [one.write(document) for one in writers], setup=ready, rounds=3)
