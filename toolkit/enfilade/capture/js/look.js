// A table that is looked at before it is taken: what each row would change, and what is refused and why.

import { h } from "./dom.js";

/** Return the table that waits to be taken or left; nothing when there is none. */
export function look(state, tools) {
  const { look: seen } = state;
  if (!seen) return null;
  const without = (tools.local.without ??= new Set());
  const takes = Math.max(0, seen.takes - without.size);
  const act = (message) => () => tools.send(message).then((answer) => done(answer, tools));
  const clear = tools.id("clear");
  return h(
    "section",
    { class: "look", key: "look", "aria-labelledby": tools.id("look") },
    h("h3", { id: tools.id("look"), tabindex: "-1" }, `${seen.title} from ${seen.source}`),
    h("p", {}, `${seen.words[0].toUpperCase()}${seen.words.slice(1)}. Nothing is written before it is taken.`),
    seen.notes.map((note) => h("p", { class: "small", key: note }, note)),
    seen.unread.length ? h("div", { class: "trouble", key: "unread" }, h("p", {}, "Columns that are not read:"), h("ul", {}, seen.unread.map(([heading, why]) => h("li", { key: heading }, `${heading}: ${why}.`)))) : null,
    h("label", { class: "tick", for: clear },
      h("input", { type: "checkbox", id: clear, checked: seen.clear, on: { change: (_, el) => tools.send({ do: "schedule turn", clear: el.checked }).then(() => { without.clear(); tools.redraw(); }) } }),
      "Empty cells clear what is recorded"),
    seen.rows.length ? rows(seen, without, tools) : h("p", {}, "There is nothing to take."),
    seen.pages > 1 ? paging(seen, tools) : null,
    tools.local.refused ? h("p", { class: "trouble", role: "alert" }, tools.local.refused) : null,
    h(
      "div",
      { class: "acts" },
      takes ? h("button", { type: "button", class: "act main", on: { click: act({ do: "schedule take", without: [...without] }) } }, `Take ${takes} ${takes === 1 ? "row" : "rows"}`) : null,
      h("button", { type: "button", class: "act", on: { click: act({ do: "schedule leave" }) } }, takes ? "Leave them" : "Leave it"),
    ),
  );
}

function done(answer, tools) {
  tools.local.refused = answer.ok ? "" : answer.say;
  if (answer.ok) tools.local.without = new Set();
  tools.redraw();
  if (answer.ok) document.getElementById(tools.id("region"))?.focus();
}

function rows(seen, without, tools) {
  return h(
    "div",
    { class: "wide", role: "region", tabindex: "0", "aria-label": `Rows of ${seen.source}` },
    h(
      "table",
      {},
      h("thead", {}, h("tr", {}, ["Take", "Row", "What", "Changes"].map((words) => h("th", { scope: "col", key: words }, words)))),
      h("tbody", {}, seen.rows.map((row) => line(row, without, tools))),
    ),
  );
}

function line(row, without, tools) {
  const id = tools.id(`take ${row.number}`);
  const refused = row.what === "refused";
  const tick = (_, el) => {
    if (el.checked) without.delete(row.number);
    else without.add(row.number);
    tools.redraw();
  };
  const name = row.name || `row ${row.number}`;
  return h(
    "tr",
    { key: row.number },
    h("td", { "data-label": "Take" }, refused ? h("span", { class: "nothing" }, "–") : h("input", { type: "checkbox", id, checked: !without.has(row.number), "aria-label": `Take ${name}`, on: { change: tick } })),
    h("th", { scope: "row" }, `${row.number}. ${name}`),
    h("td", { "data-label": "What" }, refused ? h("span", { class: "verdict falls-short" }, row.words) : row.words),
    h("td", {},
      h("ul", { class: "plain" },
        row.changes.filter(([, before, after]) => before || after).map(([heading, before, after]) => h("li", { key: heading }, `${heading}: ${before ? `${before} → ` : ""}${after || "(nothing)"}`)),
        row.refusals.map(([heading, typed, what, expected], i) => h("li", { key: `refused ${i}` }, `${heading ? `${heading}: ` : ""}${what}${expected ? `; expected ${expected}` : ""}${typed && !what.includes(typed) ? ` (the cell holds ${typed})` : ""}`)))),
  );
}

function paging(seen, tools) {
  const go = (by) => () => tools.send({ do: "schedule turn", page: seen.page + by });
  return h(
    "div",
    { class: "acts" },
    h("button", { type: "button", class: "act", disabled: seen.page === 0, on: { click: go(-1) } }, "Rows before"),
    h("span", {}, `Page ${seen.page + 1} of ${seen.pages}`),
    h("button", { type: "button", class: "act", disabled: seen.page + 1 >= seen.pages, on: { click: go(1) } }, "Rows after"),
  );
}
