"""The forms that a walkthrough is told in, and what writes each."""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Mapping
from dataclasses import dataclass
from importlib import import_module
from typing import TYPE_CHECKING, Final

from enfilade.errors import Refused

if TYPE_CHECKING:
    from enfilade.export.document import Document  # the command line lists the forms, and must not wait for it

__all__ = ["FORMS", "Form", "forms_of", "written"]


@dataclass(frozen=True)
class Form:
    """One form.

    Attributes:
        name: As the command line takes it.
        words: What it is, for people.
        modules: What writes it: each has `write(document)`, which returns files by name and touches no disk.
    """

    name: str
    words: str
    modules: tuple[str, ...]


FORMS: Final[Mapping[str, Form]] = {
    form.name: form
    for form in (
        Form(
            "html",
            "the walkthrough, a speaker's page and a prompting page, for a browser",
            ("html", "speaker", "prompt"),
        ),
        Form("slides", "slides for a browser", ("slides",)),
        Form("pdf", "the client book, and drawing sheets to scale", ("book", "sheets")),
        Form("docx", "an editable document", ("docx",)),
        Form("pptx", "editable slides", ("pptx",)),
        Form("script", "the two-column script", ("script",)),
        Form("shots", "the shot list and the storyboard", ("shots", "storyboard")),
        Form("captions", "captions, WebVTT and SRT", ("captions",)),
        Form("cards", "cards to print and to hold", ("cards",)),
        Form("schedules", "schedules and registers as a workbook", ("workbook",)),
        Form("calendar", "the service calendar", ("calendar",)),
    )
}


def forms_of(names: Iterable[str]) -> tuple[Form, ...]:
    """Return forms by name, each once; `all` stands for every one.

    Raises:
        Refused: A name is unknown, or there is none.
    """
    wanted = list(dict.fromkeys(names))
    for name in wanted:
        if name != "all" and name not in FORMS:
            raise Refused(f"form {name!r} is unknown", expected=f"{', '.join(FORMS)}, or all")
    if not wanted:
        raise Refused("no form is named", expected=f"{', '.join(FORMS)}, or all")
    return tuple(FORMS.values()) if "all" in wanted else tuple(FORMS[name] for name in wanted)


def written(form: Form, document: Document) -> Iterator[tuple[str, bytes]]:
    """Yield the files of a form, one after the other, as they are made."""
    document.progress(f"setting {form.words}")
    for module in form.modules:
        files: Mapping[str, bytes] = import_module(f"enfilade.export.{module}").write(document)
        yield from files.items()
