import { instead, sentences } from "./archived.js";
import { busily } from "./busy.js";
import { h } from "./dom.js";
import { act, entry, tick } from "./entry.js";

// A table with more rows is folded at first.
const SHORT = 12;
const FIRST = 8;

/** This house beside others, or beside its own earlier versions: what to hold it against, and the tables. */
export function view(state, tools) {
  const not = instead(state, tools);
  const nothing = !state.versions.length && !state.houses.length && !state.named;
  return h(
    "div",
    {},
    h("h2", { tabindex: "-1" }, "Compare"),
    not || (nothing ? h("p", { class: "small", key: "none" }, "Nothing has been kept yet that this house could be held against.") : choosing(state, tools)),
    !not && state.compared ? compared(state.compared, tools) : null,
  );
}

function choosing(state, tools) {
  const local = tools.local;
  const chosen = (local.chosen ??= new Map());
  const full = chosen.size >= state.most;
  const box = (one) => {
    const id = tools.id(`with ${one.key}`);
    const change = (_, el) => {
      if (el.checked) chosen.set(one.key, one.words);
      else chosen.delete(one.key);
      tools.redraw();
    };
    return h("label", { class: "tick", for: id, key: one.key },
      h("input", { type: "checkbox", id, checked: chosen.has(one.key), disabled: full && !chosen.has(one.key), "aria-label": one.words, on: { change } }),
      h("span", {}, one.short || one.words, one.why ? h("span", { class: "small" }, ` ${one.why}`) : null));
  };
  const can = chosen.size > 0 && !local.busy;
  const compare = () => can && busily("Comparing", "Comparing", { do: "compare houses", others: [...chosen.keys()] }, tools);
  return h(
    "div",
    { class: "choosing", key: "choosing" },
    h("p", {}, `${state.name}, as it is now, is held against up to ${state.most} others.`),
    state.versions.length ? h("fieldset", { key: "own" }, h("legend", {}, h("strong", {}, "This house as it was kept")), state.versions.map(box)) : null,
    state.houses.length || state.named ? houses(state, box, tools) : null,
    chosen.size ? h("p", { class: "small", key: "chosen" }, `Chosen: ${[...chosen.values()].join("; ")}.${full ? " Take one away to choose another." : ""}`) : null,
    h("div", { class: "acts" },
      act("Compare", compare, { class: "act main", "aria-disabled": can ? null : "true" }),
      chosen.size ? act("Choose none", () => { chosen.clear(); tools.redraw(); }, { key: "none" }) : null,
      local.busy ? h("span", { class: "small", key: "busy" }, local.busy) : chosen.size ? null : h("span", { class: "small", key: "first" }, "Nothing is chosen yet.")),
    local.said ? h("p", { class: "trouble", role: "alert", key: "said" }, local.said) : null,
  );
}

function houses(state, box, tools) {
  const local = tools.local;
  const find = () => tools.send({ do: "name houses", named: local.named ?? state.named });
  const on = {
    input: (_, el) => { local.named = el.value; },
    keydown: (event) => event.key === "Enter" && !event.isComposing && find(),
  };
  return h(
    "fieldset",
    { key: "houses" },
    h("legend", {}, h("strong", {}, "Other houses of the archive")),
    state.many || state.named ? h("div", { class: "named", key: "named" },
      entry(tools, { name: "named", label: "Part of the name", value: local.named ?? state.named, on }),
      act("Find the house", find)) : null,
    state.counted ? h("p", { class: "small", key: "counted" }, state.counted) : null,
    state.houses.map((one) => house(one, box)),
  );
}

function house(one, box) {
  const [newest, ...earlier] = one.versions;
  return h(
    "div",
    { class: "house", key: one.id },
    box({ ...newest, short: newest.words }),
    earlier.length ? h("details", { key: "earlier" }, h("summary", {}, `Earlier versions of ${one.name}`), earlier.map(box)) : null,
  );
}

function compared(one, tools) {
  const local = tools.local;
  const count = one.columns.length;
  local.differ ??= true;
  const differs = (row) => new Set(row.slice(-count)).size > 1;
  return h(
    "section",
    { class: "compared", key: "compared", "aria-label": "How they compare" },
    h("div", { class: "acts" },
      tick(tools, { name: "differ", label: "Only what differs", checked: local.differ, change: (_, el) => { local.differ = el.checked; tools.redraw(); } }),
      act("Put the comparison away", () => tools.send({ do: "leave comparison" }))),
    one.stale ? h("p", { class: "trouble", key: "stale" }, "The house has changed since it was compared.") : null,
    one.notes.map((note) => h("p", { class: "small", key: note }, note)),
    one.changes.length ? h("div", { class: "changes", key: "changes" }, h("h3", {}, one.between), sentences(one.changes.slice(0, FIRST), one.changes.slice(FIRST), `${one.changes.length - FIRST} more`)) : null,
    count > 2 ? h("p", { class: "small sideways", key: "sideways" }, `Move a table sideways to see all ${count} columns.`) : null,
    one.tables.map((each) => table(each, local.differ ? each.rows.filter(differs) : each.rows, count, tools)),
  );
}

function table(one, rows, count, tools) {
  const id = tools.id(`table ${one.title}`);
  const numeric = new Set(one.numeric);
  const named = one.head.length - count;
  const cell = (words, at) => {
    const lines = words.split("\n");
    const inside = lines.length > 1 ? lines.map((line, i) => h("span", { class: "line", key: i }, line)) : words;
    const kind = numeric.has(at) ? "number" : null;
    return at < named ? h("th", { scope: "row", key: at, class: kind }, inside) : h("td", { key: at, class: kind }, inside);
  };
  const counted = rows.length === one.rows.length ? String(one.rows.length) : `${rows.length} of ${one.rows.length} differ`;
  const inside = h("div", { class: "wide", role: "region", tabindex: "0", "aria-labelledby": id },
    h("table", { class: `of-${count}`, "aria-labelledby": id },
      h("thead", {}, h("tr", {}, one.head.map((words, at) => h("th", { scope: "col", key: at, class: numeric.has(at) ? "number" : null }, words)))),
      h("tbody", {}, rows.map((row, at) => h("tr", { key: at }, row.map(cell))))));
  if (!rows.length) return h("p", { class: "same", key: `same ${one.title}` }, h("strong", {}, one.title), h("span", { class: "small" }, " The same in all."));
  return h(
    "details",
    { key: one.title, open: rows.length <= SHORT ? true : null },
    h("summary", {}, h("span", { id, role: "heading", "aria-level": "3" }, one.title), h("span", { class: "small" }, ` ${counted}`)),
    one.note ? h("p", { class: "small" }, one.note) : null,
    inside,
  );
}
