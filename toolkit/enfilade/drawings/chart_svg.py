"""The charts as standalone SVG, for pages and paper."""

from __future__ import annotations

from collections.abc import Sequence

from enfilade.drawings.chart_data import AisleChart, RunChart, StorageChart
from enfilade.drawings.shapes import mark_markup, number, text_markup
from enfilade.drawings.style import FONT, GREY, INK, PAPER, TABULAR, TEXT, VERDICT_COLOURS
from enfilade.drawings.wording import show_size
from enfilade.drawings.writing import cut, text_width, xml_text
from enfilade.findings import Verdict
from enfilade.lengths import System, shown_parts

__all__ = ["aisle_svg", "run_svg", "storage_svg"]

_BAR = "#8c8c8c"
_LIGHT = "#d9d9d9"
_ROW = 26.0


def storage_svg(chart: StorageChart, *, system: System | None = None, width_px: float = 720.0) -> str:
    """Return bars of the frontage by group, each with its usual share, and the total beside what is asked."""
    units = system or chart.system
    left, right = _left([g.name for g in chart.groups] + ["counted in all"], width_px), 150.0
    most = max([chart.asked_mm, chart.total_mm, *(g.measured_mm for g in chart.groups)])
    scale = (width_px - left - right) / most
    rows, y = [], 10.0
    for group in chart.groups:
        length = show_size(group.measured_mm, units)
        rows.append(text_markup(group.name, (left - 10, y + 8), TEXT["key"], anchor="end"))
        rows.append(_bar(left, y, group.counted_mm * scale, 16))
        if group.measured_mm > group.counted_mm:
            rows.append(
                _bar(left + group.counted_mm * scale, y, (group.measured_mm - group.counted_mm) * scale, 16, _LIGHT)
            )
        rows.append(_tick(left + group.usual_mm * scale, y - 3, 22, dashed=True))
        words = f"{length}; usually {'up to ' if group.group == 'misc' else ''}{show_size(group.usual_mm, units)}"
        end = max(group.measured_mm, group.usual_mm) * scale
        rows.append(text_markup(words, (left + end + 8, y + 8), TEXT["note"], anchor="start", colour=GREY))
        y += _ROW
    y += 8
    rows.append(text_markup("counted in all", (left - 10, y + 8), TEXT["key"], anchor="end", bold=True))
    rows.append(_bar(left, y, chart.total_mm * scale, 16, INK))
    rows.append(_tick(left + chart.asked_mm * scale, y - 5, 26))
    end = left + max(chart.total_mm, chart.asked_mm) * scale
    rows.append(_verdict(chart.verdict, end + 14, y + 8))
    asked = f"{show_size(chart.asked_mm, units)} asked ({chart.label}, {chart.size} kitchen)"
    total = f"{show_size(chart.total_mm, units)} of {asked}"
    rows.append(text_markup(total, (left, y + 30), TEXT["key"], anchor="start"))
    y += 46
    if chart.unknown:
        names = ", ".join(chart.unknown)
        words = cut(f"A lower bound: shelves and drawers are not recorded of {names}", width_px - 24, TEXT["note"])
        rows.append(text_markup(words, (12, y + 6), TEXT["note"], anchor="start", colour=GREY))
        y += 18
    rows.append(
        text_markup(
            "Dashed: the usual share of each group, for guidance.",
            (12, y + 6),
            TEXT["note"],
            anchor="start",
            colour=GREY,
        )
    )
    y += 22
    told = f"Storage frontage: {total}, {chart.verdict}. " + "; ".join(
        f"{g.name} {show_size(g.measured_mm, units)}" for g in chart.groups
    )
    return _svg(f"storage-{chart.space}", "Storage frontage", told, "".join(rows), width_px, y)


def aisle_svg(chart: AisleChart, *, system: System | None = None, width_px: float = 720.0) -> str:
    """Return a bar for each clear width, with a line at what is asked and the verdict in words."""
    units = system or chart.system
    if not chart.aisles:
        return _svg(
            f"aisles-{chart.space}",
            "Clear widths",
            "No clear width was measured.",
            text_markup("No clear width was measured here.", (12, 20), TEXT["key"], anchor="start"),
            width_px,
            40,
        )
    right = 150.0
    most = max(max(a.measured_mm, a.asked_mm) for a in chart.aisles)
    scale = (width_px - 24 - right) / most
    rows, y = [], 6.0
    for aisle in chart.aisles:
        words = f"{aisle.name}: {show_size(aisle.measured_mm, units)}, asked {aisle.asked}"
        rows.append(text_markup(cut(words, width_px - 24, TEXT["key"]), (12, y + 8), TEXT["key"], anchor="start"))
        rows.append(_bar(12, y + 18, aisle.measured_mm * scale, 12))
        rows.append(_tick(12 + aisle.asked_mm * scale, y + 15, 18))
        rows.append(_verdict(aisle.verdict, 12 + max(aisle.measured_mm, aisle.asked_mm) * scale + 14, y + 24))
        y += 42
    told = "Clear widths: " + "; ".join(
        f"{a.name} {show_size(a.measured_mm, units)}, asked {a.asked}, {a.verdict}" for a in chart.aisles
    )
    return _svg(f"aisles-{chart.space}", "Clear widths", told, "".join(rows), width_px, y + 4)


def run_svg(chart: RunChart, *, system: System | None = None, width_px: float = 720.0) -> str:
    """Return a run as a ribbon: its pieces with their lengths, and under it each landing that was measured."""
    units = system or chart.system
    scale = (width_px - 24) / max(chart.length_mm, 1.0)
    texts, total = shown_parts([p.end_mm - p.start_mm for p in chart.pieces], units)
    rows: list[str] = []
    top, deep = 30.0, 34.0
    names: list[tuple[str, str]] = []
    for n, (piece, length) in enumerate(zip(chart.pieces, texts, strict=True), 1):
        x, wide = 12 + piece.start_mm * scale, (piece.end_mm - piece.start_mm) * scale
        fill = PAPER if piece.role == "counter" else _LIGHT
        name = "counter" if piece.role == "counter" else piece.name
        rows.append(
            f'<g data-subject="{xml_text(piece.subject)}"><title>{xml_text(f"{name}: {length}")}</title>'
            f'<rect x="{number(x)}" y="{top}" width="{number(max(wide, 0.5))}" height="{deep}" fill="{fill}" '
            f'stroke="{INK}"/></g>'
        )
        label = name
        if text_width(name, TEXT["note"]) > wide - 4:
            label = str(n)
            names.append((label, f"{name} {length}"))
        inside = text_width(label, TEXT["note"]) <= wide - 2
        rows.append(text_markup(label, (x + wide / 2, top + deep / 2 if inside else top - 9), TEXT["note"]))
        if text_width(length, TEXT["note"]) <= wide - 2:
            rows.append(text_markup(length, (x + wide / 2, top - 9), TEXT["note"]))
        if piece.corner_after:
            end = x + wide
            rows.append(
                f'<line x1="{number(end)}" y1="{top - 16}" x2="{number(end)}" y2="{top + deep + 6}" '
                f'stroke="{INK}" stroke-width="2.2"/>'
            )
    y = top + deep + 16
    tracks: list[float] = []
    for landing in sorted(chart.landings, key=lambda one: one.start_mm):
        a, b = 12 + landing.start_mm * scale, 12 + landing.end_mm * scale
        length = show_size(landing.end_mm - landing.start_mm, units)
        words = f"{landing.name}: {length}, asked {landing.asked}, {landing.verdict}"
        wide = text_width(words, TEXT["note"])
        start = min(a, width_px - 12 - wide)
        track = next((i for i, end in enumerate(tracks) if min(a, start) > end + 10), len(tracks))
        if track == len(tracks):
            tracks.append(0.0)
        tracks[track] = max(b, start + wide)
        at = y + track * 30
        colour = VERDICT_COLOURS[landing.verdict]
        style = f'stroke="{colour}" stroke-width="{2.4 if landing.verdict == "falls short" else 1.6}"'
        rows.append(
            f'<path fill="none" {style} d="M{number(a)},{number(at - 4)}v8M{number(a)},{number(at)}H{number(b)}'
            f'M{number(b)},{number(at - 4)}v8"/>'
        )
        rows.append(
            text_markup(
                cut(words, width_px - 24, TEXT["note"]), (max(start, 12), at + 12), TEXT["note"], anchor="start"
            )
        )
    y += len(tracks) * 30
    facts = f"Run {chart.number}: {total} in all, counter {show_size(chart.counter_mm, units)}"
    if any(p.corner_after for p in chart.pieces):
        facts += "; heavy lines: inside corners"
    rows.append(text_markup(facts, (12, y + 6), TEXT["key"], anchor="start", bold=True))
    y += 18
    for line in _wrapped([f"{tag} {words}" for tag, words in names], width_px - 24):
        rows.append(text_markup(line, (12, y + 6), TEXT["note"], anchor="start", colour=GREY))
        y += 14
    told = f"{facts}. " + "; ".join(f"{piece.name} {length}" for piece, length in zip(chart.pieces, texts, strict=True))
    told += "".join(f"; {one.name} {one.verdict}" for one in chart.landings)
    return _svg(
        f"run-{chart.space}-{chart.number}", f"Counter run {chart.number}", told, "".join(rows), width_px, y + 8
    )


def _wrapped(words: Sequence[str], width: float) -> list[str]:
    lines: list[str] = []
    for word in words:
        if lines and text_width(f"{lines[-1]};  {word}", TEXT["note"]) <= width:
            lines[-1] += f";  {word}"
        else:
            lines.append(cut(word, width, TEXT["note"]))
    return lines


def _left(names: Sequence[str], width: float) -> float:
    return min(max(text_width(name, TEXT["key"], True) for name in names) + 24, width / 3)


def _bar(x: float, y: float, wide: float, high: float, fill: str = _BAR) -> str:
    return (
        f'<rect x="{number(x)}" y="{number(y)}" width="{number(max(wide, 0))}" height="{number(high)}" fill="{fill}"/>'
    )


def _tick(x: float, y: float, high: float, dashed: bool = False) -> str:
    dash = ' stroke-dasharray="3 2"' if dashed else ""
    ends = f'x1="{number(x)}" y1="{number(y)}" x2="{number(x)}" y2="{number(y + high)}"'
    return f'<line {ends} stroke="{INK}" stroke-width="1.6"{dash}/>'


def _verdict(verdict: Verdict, x: float, y: float) -> str:
    """Return the sign of a verdict and its word."""
    return mark_markup((x, y), "", verdict, 5.0) + text_markup(
        verdict, (x + 12, y), TEXT["key"], anchor="start", bold=True
    )


def _svg(id: str, title: str, told: str, body: str, width: float, height: float) -> str:
    return (
        f'<svg xmlns="http://www.w3.org/2000/svg" width="{number(width)}" height="{number(height)}" '
        f'viewBox="0 0 {number(width)} {number(height)}" role="img" aria-labelledby="{id}-title {id}-desc" '
        f'font-family="{FONT}" style="{TABULAR}" fill="{INK}"><title id="{id}-title">{xml_text(title)}</title>'
        f'<desc id="{id}-desc">{xml_text(told)}</desc>'
        f'<rect width="{number(width)}" height="{number(height)}" fill="{PAPER}"/>'
        f"{body}</svg>"
    )
