"""What was asked for, who lives here, for whom it is, and how it is shown: forms of the house as a whole."""

from __future__ import annotations

from typing import Any, Final

from enfilade.capture.desk import Desk
from enfilade.capture.sight import Sight
from enfilade.editing.forms.forms import Field, Forms
from enfilade.editing.forms.offers import Offers

__all__ = ["HANDLERS", "NAME", "shown"]

NAME: Final = "brief"
_TOLD: Final = ("speaking", "filming")
"""How the house is told is asked where it is told."""


def shown(desk: Desk, sight: Sight) -> dict[str, Any]:
    """Return the forms of the house, each under its heading."""
    offers = Offers(desk.project)
    forms = Forms(desk.project, offers, desk.drafts)
    name = forms.field(("name",)) | {"label": "Name of the house"}
    held = forms.field(("yardstick",)) | {"help": "the published rules that the house is held against"}
    # What the house is held against stands beside how it is shown: both are chosen once.
    show = [field for field in forms.form(("show",)) if field["name"] not in _TOLD]
    shown_as: list[Field] = [name, *show, held]
    sections = [
        {"title": "What was asked for", "fields": forms.form(("brief",))},
        {"title": "Who lives here", "fields": forms.form(("household",))},
        {"title": "For whom", "fields": forms.form(("client",))},
        {"title": "How it is shown", "fields": shown_as},
    ]
    return {"sections": sections, "lists": offers.told}


HANDLERS: Final[dict[str, Any]] = {}
