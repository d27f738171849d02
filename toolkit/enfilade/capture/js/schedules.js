import { h } from "./dom.js";
import { look } from "./look.js";
import { control, datalists, moved } from "./sheet.js";
import { bringing, exporting, pasted } from "./tables.js";

/** Schedules of what is bought and of openings, each a table that is typed into. */
export function view(state, tools) {
  const lists = {};
  for (const [target, list] of Object.entries(state.choices)) lists[target] = { ...list, id: tools.id(`list ${target}`) };
  return h(
    "div",
    {},
    h("h2", {}, "Schedules"),
    h("p", { class: "effect", role: "status" }, state.effect.join(" ")),
    h("div", { class: "acts", role: "group", "aria-label": "Schedule" }, state.names.map((one) => name(one, state, tools))),
    look(state, tools),
    h("h3", { id: tools.id("title") }, state.title),
    state.long ? finding(state, tools) : null,
    table(state, lists, tools),
    datalists(lists),
    state.long ? paging(state, tools) : null,
    h(
      "div",
      { class: "acts" },
      state.more || state.every
        ? h("button", { type: "button", class: "act", "aria-pressed": String(state.every), on: { click: () => tools.send({ do: "schedule show", every: !state.every }) } }, state.every ? "Fewer columns" : `All columns (${state.more} more)`)
        : null,
      exporting(state, tools),
    ),
    meanings(state),
    adding(state, lists, tools),
    bringing(state, tools),
  );
}

function name(one, state, tools) {
  const here = one.name === state.schedule;
  const show = () => tools.send({ do: "schedule show", schedule: one.name });
  return h("button", { type: "button", class: "act", key: one.name, "aria-current": here ? "true" : null, on: { click: show } }, `${one.title} (${one.count})`);
}

function finding(state, tools) {
  const id = tools.id("filter");
  const typed = (_, el) => tools.later("schedule filter", { do: "schedule show", filter: el.value });
  return h(
    "div",
    { class: "field" },
    h("label", { for: id }, `Rows that hold these words (${state.seen} of ${state.total})`),
    h("input", { id, type: "search", value: state.filter, autocomplete: "off", on: { input: typed } }),
  );
}

function table(state, lists, tools) {
  if (!state.total) return h("p", {}, `No ${state.one} is recorded yet.`);
  const how = tools.id("how");
  const paste = (event, el) => pasted(event, el, state, tools);
  return h(
    "div",
    { class: "wide", role: "region", tabindex: "0", "aria-labelledby": tools.id("title"), id: tools.id("region"), key: state.schedule },
    h("p", { class: "help", id: how }, "Enter and the arrow keys move between cells, Tab to the next. In a long text, Ctrl+Enter moves on. A block that is copied from a spreadsheet can be pasted at any cell; it is shown before it is taken."),
    h(
      "table",
      { class: "sheet", "aria-describedby": how, on: { keydown: moved, paste } },
      h("thead", {}, h("tr", {}, state.columns.map(head), h("th", { scope: "col" }, h("span", { class: "unseen" }, "Remove")))),
      h("tbody", {}, state.rows.map((row) => [line(row, state, lists, tools), asked(row, state, tools)])),
    ),
  );
}

function head(column) {
  return h("th", { scope: "col", key: column.key, class: `${column.kind} ${column.numeric ? "number" : ""}` }, column.heading, column.unit && column.kind !== "length" ? h("span", { class: "unit" }, ` (${column.unit})`) : null);
}

function line(row, state, lists, tools) {
  return h(
    "tr",
    { key: row.id, "data-row": row.id },
    state.columns.map((column, i) => {
      const path = [state.list, row.id, ...column.path];
      const place = {
        id: tools.id(`${row.id} ${column.key}`),
        label: `${column.heading} of ${row.title}${column.unit ? `, in ${column.unit}` : ""}`,
        lists,
        wraps: i === 0, // a long name stays readable
        heard: (typed, now) => tools.set(path, typed, now),
      };
      const props = { key: column.key, "data-label": column.heading, "data-key": column.key, class: column.kind === "longtext" ? "long" : null };
      const inside = control(row.cells[i], column, place);
      return i === 0 ? h("th", { ...props, scope: "row" }, inside) : h("td", props, inside);
    }),
    h("td", { key: "remove" }, h("button", { type: "button", class: "act", "aria-label": `Remove ${row.title}`, on: { click: () => remove(row, state, tools, false) } }, "Remove")),
  );
}

async function remove(row, state, tools, along) {
  const answer = await tools.send({ do: "remove row", path: [state.list, row.id], along });
  tools.local.ask = answer.ask || !answer.ok ? { id: row.id, words: answer.ask || answer.say, may: Boolean(answer.ask) } : null;
  tools.redraw();
  const next = document.getElementById(tools.id(answer.ask || !answer.ok ? `ask ${row.id}` : "region"));
  if (next) next.focus();
}

function asked(row, state, tools) {
  const ask = tools.local.ask;
  if (!ask || ask.id !== row.id) return null;
  const keep = () => {
    tools.local.ask = null;
    tools.redraw();
    document.getElementById(tools.id("region"))?.focus();
  };
  return h(
    "tr",
    { key: `ask ${row.id}`, class: "asked" },
    h("td", { colspan: state.columns.length + 1 },
      h("div", { class: "trouble", id: tools.id(`ask ${row.id}`), tabindex: "-1" }, ask.words),
      h("div", { class: "acts" },
        ask.may ? h("button", { type: "button", class: "act", on: { click: () => remove(row, state, tools, true) } }, "Remove it from there too") : null,
        h("button", { type: "button", class: "act", on: { click: keep } }, "Keep it"))),
  );
}

function paging(state, tools) {
  if (state.pages < 2) return null;
  const go = (by) => () => tools.send({ do: "schedule show", page: state.page + by });
  return h(
    "div",
    { class: "acts" },
    h("button", { type: "button", class: "act", disabled: state.page === 0, on: { click: go(-1) } }, "Rows before"),
    h("span", {}, `Page ${state.page + 1} of ${state.pages}`),
    h("button", { type: "button", class: "act", disabled: state.page + 1 >= state.pages, on: { click: go(1) } }, "Rows after"),
  );
}

function meanings(state) {
  const told = state.columns.filter((column) => column.help);
  if (!told.length) return null;
  return h("details", { key: `meanings ${state.schedule}` }, h("summary", {}, "What the columns say"), h("dl", {}, told.map((one) => [h("dt", { key: one.key }, one.heading), h("dd", { key: `${one.key} help` }, one.help)])));
}

function adding(state, lists, tools) {
  const kept = Object.fromEntries(state.adding.map((one) => [one.key, one.draft]));
  const typed = tools.local[`typed ${state.schedule}`] ? (tools.local[`new ${state.schedule}`] ??= kept) : (tools.local[`new ${state.schedule}`] = kept);
  const errors = tools.local.errors || {};
  const add = async () => {
    const answer = await tools.send({ do: "schedule add", schedule: state.schedule, values: typed });
    tools.local.errors = {};
    for (const one of answer.errors || []) tools.local.errors[one.place] = `${one.what}${one.expected ? `; expected ${one.expected}` : ""}`;
    if (answer.ok) {
      delete tools.local[`new ${state.schedule}`];
      delete tools.local[`typed ${state.schedule}`];
    }
    tools.redraw();
    if (answer.ok) document.getElementById(tools.id(`${answer.id} ${state.columns[0].key}`))?.focus();
  };
  return h(
    "fieldset",
    { class: "new", key: `new ${state.schedule}` },
    h("legend", {}, h("h3", {}, `Add a ${state.one}`)),
    h(
      "div",
      { class: "columns" },
      state.adding.filter((column) => !column.only || column.only.includes(typed.kind)).map((column) => {
        const id = tools.id(`new ${state.schedule} ${column.key}`);
        const heard = (value) => {
          typed[column.key] = value;
          tools.local[`typed ${state.schedule}`] = true;
          if (column.key === "kind") tools.redraw();
          tools.set(["schedules", state.schedule, "new", column.key], value);
        };
        const words = column.words && !column.words.includes("") ? ["", ...column.words] : column.words;
        const place = { id, lists, heard, asked: true, label: null };
        const inside = control({ typed: typed[column.key], error: errors[column.key] }, { ...column, words }, place);
        return h("div", { class: "field", key: column.key }, h("label", { for: id }, `${column.heading}${column.unit ? ` (${column.unit})` : ""}`), inside);
      }),
    ),
    errors[""] ? h("p", { class: "error", role: "alert" }, errors[""]) : null,
    h("button", { type: "button", class: "act main", on: { click: add } }, "Add"),
  );
}
