"""What is told of a decision: what was chosen, why, over what; what changed on site; what is still open."""

from __future__ import annotations

from collections.abc import Iterator, Mapping, Sequence
from dataclasses import replace
from typing import Final

from enfilade.project.choices import Decision, Option
from enfilade.project.fields import AUDIENCES, Audience
from enfilade.project.project import Project
from enfilade.project.speaking import Shot
from enfilade.walkthrough.drafting.binding import Binding
from enfilade.walkthrough.drafting.items import MOST_SHOWN, Item, about, heard_by, shot_of
from enfilade.walkthrough.drafting.voice import Voice, digest
from enfilade.walkthrough.drafting.wording import Wording, sentences

__all__ = ["DecisionDraft"]

_MOST_WAYS: Final = 4
_LED_OF: Final = 4
"""Of so many reasons, one is led in by a few words."""
_CLIENT: Final[tuple[Audience, ...]] = ("client", "studio")
_LEARNING: Final[tuple[Audience, ...]] = ("student", "studio")
_SIZES: Final = {
    "long": ("wide", "length"), "wide": ("wide", "width"), "deep": ("deep", "depth"), "high": ("high", "top"),
    "tall": ("high", "top"),
}  # fmt: skip
_MATERIALS: Final = Shot(size="close-up")


class DecisionDraft:
    """Tells of one decision after the other.

    Args:
        project: The house.
        weights: How much each decision matters: the weightiest eighth tell two of the ways that were not taken, the
            others one, with why; the lightest two fifths only name one (our own choice, so that it does not drag).
        voice, wording, binding: How it is said.
    """

    def __init__(
        self, project: Project, weights: Mapping[str, float], voice: Voice, wording: Wording, binding: Binding
    ) -> None:
        self._project, self._voice, self._wording, self._binding = project, voice, wording, binding
        ranked = sorted(weights, key=lambda one: -weights[one])
        first, last = max(len(ranked) // 8, 1), len(ranked) - 2 * len(ranked) // 5
        self._weighty, self._light = frozenset(ranked[:first]), frozenset(ranked[last:])

    def of(self, decision: Decision, space: str) -> Iterator[Item]:
        """Yield what is told of a decision in a room: two to four lines."""
        if decision.status == "undecided":
            yield from self._open(decision, space)
        else:
            yield from self._chosen(decision, space)
            yield from self._over(decision, space)
            yield from self._changed(decision, space)
        yield from self._hindsight(decision, space)

    def _item(self, decision: Decision, step: str, text: str, space: str, *, nearer: bool = False) -> Item:
        things = self._shown(decision, space)
        return Item(
            about=about("decision", decision.id, step),
            text=text,
            things=things,
            decisions=(decision.id,),
            shot=self._shot(decision, things, nearer=nearer),
            hear=heard_by(decision.hear),
        )

    def _shot(self, decision: Decision, things: tuple[str, ...], *, nearer: bool) -> Shot:
        material = not things and any(option.finishes for option in decision.options)
        return _MATERIALS if material else shot_of(self._project, things, nearer=nearer)

    def _shown(self, decision: Decision, space: str) -> tuple[str, ...]:
        standing = [
            thing
            for id in decision.things
            if (thing := self._project.things_by_id.get(id)) is not None and thing.state != "removed"
        ]
        here = [thing.id for thing in standing if thing.space == space]
        return tuple(here or [thing.id for thing in standing])[:MOST_SHOWN]

    def _chosen(self, decision: Decision, space: str) -> Iterator[Item]:
        said = [self._topic(decision), self._choice(decision), self._measure(decision, space), self._reason(decision)]
        if decision.id in self._light:
            said += self._ways(decision, _left(decision)[:1], "instead", reasons=False)
        text = " ".join(part for part in said if part)
        if text:
            yield _with_photographs(self._item(decision, "chosen", text, space), self._project, decision)

    def _topic(self, decision: Decision) -> str:
        """Return what the decision is about, where the choice does not say it by itself."""
        kind, title = self._wording.title(decision.title)
        form = self._wording.option(decision.chosen.text)[0] if decision.chosen is not None else ""
        same = kind == form == "act"  # what was set out to do is then what was done
        plain = kind == "name" and form == "thing" and decision.status != "planned" and decision.id in self._light
        if not title or same or plain:
            return ""
        return self._voice.say("opener", kind, decision.id, x=title, X=sentences(decision.title))

    def _choice(self, decision: Decision) -> str:
        if decision.chosen is None:
            return ""
        form, clause, rest = self._wording.option(decision.chosen.text)
        if not clause:
            return ""
        topic = "chosen_planned" if decision.status == "planned" else "chosen_done"
        return f"{self._voice.say(topic, form, decision.id, x=clause, X=sentences(clause))} {rest}".strip()

    def _reason(self, decision: Decision) -> str:
        reason = sentences(decision.reason)
        if not reason or digest(f"reason|{decision.id}")[0] % _LED_OF:
            return reason
        return self._voice.say("reason", "led", decision.id, X=reason)

    def _measure(self, decision: Decision, space: str) -> str:
        """Return a sentence with the size that the decision was about, bound to the record."""
        words = self._wording.title(decision.title)[1].split()
        size = _SIZES.get(words[1]) if len(words) > 1 and words[0] == "how" else None
        shown = self._shown(decision, space)
        if size is None or not shown:
            return ""
        kind, attribute = size
        figure = self._binding.field(attribute, "thing", self._project.things_by_id[shown[0]])
        return self._voice.say("measure", kind, decision.id, figure=figure) if figure else ""

    def _over(self, decision: Decision, space: str) -> Iterator[Item]:
        if decision.id in self._light:
            return
        left, told = _left(decision), 2 if decision.id in self._weighty else 1
        said = self._ways(decision, left[:told], "over")
        if said and len(left) > told + 1:
            said.append(self._voice.say("over_last", "more", decision.id))
        if said:
            yield self._item(decision, "over", " ".join(said), space, nearer=True)

    def _ways(self, decision: Decision, options: Sequence[Option], topic: str, *, reasons: bool = True) -> list[str]:
        said: list[str] = []
        for option in options:
            form, clause, rest = self._wording.option(option.text)
            if clause:
                which = topic if not reasons else f"{topic}_next" if said else f"{topic}_first"
                key = f"{decision.id}|{option.id}"
                way = self._voice.say(which, form, key, x=clause, X=sentences(clause))
                why = (rest, sentences(option.why_not)) if reasons else ()
                said.append(" ".join(part for part in (way, *why) if part))
        return said

    def _changed(self, decision: Decision, space: str) -> Iterator[Item]:
        if changed := sentences(decision.changed):
            text = self._voice.say("changed", "changed", decision.id, X=changed)
            yield self._item(decision, "changed", text, space, nearer=True)

    def _open(self, decision: Decision, space: str) -> Iterator[Item]:
        title = self._wording.title(decision.title)[1]
        said = [self._voice.say("open", "open", decision.id, x=title)] if title else []
        said += self._ways(decision, list(decision.options[:_MOST_WAYS]), "way")
        if said or decision.reason.strip():
            text = " ".join([*said, *([sentences(decision.reason)] if decision.reason.strip() else [])])
            yield _with_photographs(self._item(decision, "open", text, space), self._project, decision)
        by = self._wording.clause(decision.by)
        due = self._binding.field("due day", "decision", decision, "without the year")
        kind = "by_due" if by and due else "by" if by else "due" if due else ""
        if kind:
            text = self._voice.say("who", kind, decision.id, x=by, due=due)
            item = self._item(decision, "who", text, space)
            yield _heard(item, heard_by(decision.hear, _CLIENT))

    def _hindsight(self, decision: Decision, space: str) -> Iterator[Item]:
        if hindsight := sentences(decision.hindsight):
            text = self._voice.say("hindsight", "hindsight", decision.id, X=hindsight)
            yield _heard(self._item(decision, "hindsight", text, space), heard_by(decision.hear, _LEARNING))


def _left(decision: Decision) -> list[Option]:
    """Return the options that were not taken, those with a reason first."""
    left = [option for option in decision.options if option.id != decision.choice]
    return sorted(left, key=lambda option: not option.why_not.strip())


def _heard(item: Item, hear: tuple[Audience, ...]) -> Item:
    return item if hear == AUDIENCES else replace(item, hear=hear)


def _with_photographs(item: Item, project: Project, decision: Decision) -> Item:
    found = tuple(one.id for one in project.photographs if decision.id in one.decisions and one.scan is None)
    return replace(item, photographs=found[:MOST_SHOWN]) if found else item
