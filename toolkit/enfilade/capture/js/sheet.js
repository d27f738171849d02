// A table that is typed into: how its cells are made, and how one moves between them.

import { h } from "./dom.js";

const CONTROL = "input, select, textarea, button";

/** Return the control of a cell, or its words where it cannot be changed. */
export function control(cell, column, place) {
  const { id, label, lists, heard } = place;
  if (!cell) return h("span", { class: "nothing" }, "–");
  if (!column.editable && !place.asked) return h("span", { class: column.numeric ? "number" : null }, cell.typed);
  const error = cell.error ? `${id}-error` : null;
  const props = { id, "aria-label": label, "aria-invalid": error ? "true" : null, "aria-describedby": error };
  const list = column.target ? lists[column.target] : null;
  const value = cell.draft ?? cell.typed;
  const words = cell.words || column.words;
  const on = { input: (_, el) => heard(el.value, false), change: (_, el) => heard(el.value, true) };
  let made;
  if (list && list.listed) {
    const named = new Map(list.options.map(([key, name]) => [name, key]));
    const said = (el, now) => heard(named.get(el.value) ?? el.value, now);
    on.input = (_, el) => said(el, false);
    on.change = (_, el) => said(el, true);
    made = h("input", { ...props, list: list.id, value: cell.draft ?? cell.label ?? cell.typed, autocomplete: "off", on });
  } else if (list || words) {
    const options = list ? [["", ""], ...(value === "none" || column.nothing ? [["none", "none"]] : []), ...list.options] : words.map((word) => [word, word]);
    if (!options.some(([key]) => key === value)) options.unshift([value, value]);
    made = h("select", { ...props, value, on: { change: on.change } }, options.map(([key, name]) => h("option", { value: key, key }, name)));
  } else if (column.kind === "longtext" || place.wraps) made = h("textarea", { ...props, class: place.wraps ? "line" : null, rows: 1, value, on });
  else made = h("input", { ...props, class: column.numeric ? "number" : null, value, autocomplete: "off", on });
  return [made, error ? h("p", { class: "error", id: error }, cell.error) : null];
}

/** Return the lists that cells offer names from; each is made once for the whole table. */
export function datalists(lists) {
  return Object.values(lists)
    .filter((list) => list.listed)
    .map((list) => h("datalist", { id: list.id, key: list.id }, list.options.map(([key, name]) => h("option", { value: name, key }))));
}

/** Move to another cell: Enter and the arrow keys, as on a sheet of squared paper. */
export function moved(event) {
  const from = event.target;
  const cell = from.closest("td, th");
  if (!cell || event.altKey || event.isComposing) return;
  const step = stepOf(event, from);
  if (!step) return;
  const next = cellFrom(cell, step);
  if (!next) return;
  event.preventDefault();
  next.focus();
  if (next.select && (next.tagName === "INPUT" || next.classList.contains("line"))) next.select();
}

function stepOf(event, from) {
  const { key, shiftKey, ctrlKey, metaKey } = event;
  const long = from.tagName === "TEXTAREA" && !from.classList.contains("line");
  if (from.tagName === "BUTTON") return null;
  if (key === "Enter" && (!long || ctrlKey || metaKey)) return [shiftKey ? -1 : 1, 0];
  if (shiftKey || ctrlKey || metaKey || long || from.tagName === "SELECT") return null;
  if (key === "ArrowDown" && !from.list) return [1, 0];
  if (key === "ArrowUp" && !from.list) return [-1, 0];
  const whole = from.selectionStart === 0 && from.selectionEnd === from.value.length;
  if (key === "ArrowLeft" && (whole || from.selectionEnd === 0)) return [0, -1];
  if (key === "ArrowRight" && (whole || from.selectionStart === from.value.length)) return [0, 1];
  return null;
}

function cellFrom(cell, [down, right]) {
  let row = cell.parentNode;
  let column = [...row.children].indexOf(cell);
  for (;;) {
    if (down) row = down > 0 ? row.nextElementSibling : row.previousElementSibling;
    column += right;
    const there = row && row.children[column];
    if (!there) return null;
    const found = there.querySelector(CONTROL);
    if (found) return found;
  }
}
