// Tables on their way in, as a file or a pasted block, and on their way out.

import { h } from "./dom.js";

/** Return how a table is brought in. */
export function bringing(state, tools) {
  const file = tools.id("file");
  const block = tools.id("block");
  const choose = (_, el) => el.parentNode.querySelector("input[type=file]").click();
  const chosen = (_, el) => {
    if (el.files[0]) send(el.files[0], state, tools);
    el.value = ""; // the same file may be chosen again
  };
  const give = (text) => text.trim() && shown(tools.send({ do: "schedule paste", schedule: state.schedule, text }), tools);
  return h(
    "div",
    { class: "bringing", key: "bringing" },
    h("h3", {}, `Bring ${state.title.toLowerCase()} in`),
    h("p", { class: "help", id: tools.id("what") }, `A CSV file or an .xlsx workbook (at most ${state.largest_words}) or a copied table, with a first row of headings such as ${state.columns.slice(0, 4).map((one) => one.heading).join(", ")}. It is shown row by row before anything is taken. Formulas are not worked out.`),
    h("input", { type: "file", id: file, hidden: true, accept: ".csv,.tsv,.txt,.xlsx", "aria-label": "Table to bring in", on: { change: chosen } }),
    h("button", { type: "button", class: "act", "aria-describedby": tools.id("what"), on: { click: choose } }, "Choose a file"),
    h("div", { class: "field" },
      h("label", { for: block }, "Or paste a table here"),
      h("textarea", { id: block, rows: 2, value: "", "aria-describedby": tools.id("what"), on: {
        paste: (event) => {
          const text = event.clipboardData?.getData("text/plain") || "";
          event.preventDefault();
          event.stopPropagation();
          give(text);
        },
        change: (_, el) => { give(el.value); el.value = ""; },
      } })),
    tools.local.trouble ? h("p", { class: "trouble", role: "alert" }, tools.local.trouble) : null,
  );
}

/** Take what is pasted at a cell when it is a block of cells; other text stays the cell's own. */
export function pasted(event, table, state, tools) {
  const text = event.clipboardData?.getData("text/plain") || "";
  const lines = text.replace(/\r?\n$/, "");
  if (!lines.includes("\t") && (!lines.includes("\n") || event.target.tagName === "TEXTAREA")) return;
  const cell = event.target.closest("[data-key]");
  if (!cell) return;
  event.preventDefault();
  const row = cell.closest("[data-row]").getAttribute("data-row");
  shown(tools.send({ do: "schedule paste", schedule: state.schedule, text, row, key: cell.getAttribute("data-key") }), tools);
}

async function send(file, state, tools) {
  if (file.size > state.largest) return shown(Promise.resolve({ ok: false, say: `${file.name} is too large; at most ${state.largest_words} can be read` }), tools);
  const upload = Math.random().toString(36).slice(2) + Date.now().toString(36);
  for (let index = 0; ; index++) {
    const end = Math.min(file.size, (index + 1) * state.piece);
    const last = end >= file.size;
    const message = { do: "schedule file", schedule: state.schedule, name: file.name, upload, index, last };
    let piece;
    try {
      piece = await file.slice(index * state.piece, end).arrayBuffer();
    } catch {
      return shown(Promise.resolve({ ok: false, say: `${file.name} cannot be read any more` }), tools);
    }
    const answer = await tools.send(message, [piece], !last);
    if (last || !answer.ok) return shown(Promise.resolve(answer), tools);
  }
}

async function shown(answering, tools) {
  const answer = await answering;
  tools.local.trouble = answer.ok ? "" : answer.say;
  tools.local.without = new Set();
  tools.redraw();
  if (answer.ok) document.getElementById(tools.id("look"))?.focus();
}

/** Return the ways out: a file of this schedule, or a workbook of all. */
export function exporting(state, tools) {
  const out = (as, every) => async () => {
    const answer = await tools.send({ do: "schedule export", schedule: state.schedule, as, every });
    if (answer.ok) save(answer);
  };
  const title = state.title.toLowerCase();
  return [
    h("button", { type: "button", class: "act", key: "csv", on: { click: out("csv", false) } }, `Export ${title} as CSV`),
    h("button", { type: "button", class: "act", key: "xlsx", on: { click: out("xlsx", false) } }, "As a workbook"),
    h("button", { type: "button", class: "act", key: "all", on: { click: out("xlsx", true) } }, "All schedules as one workbook"),
  ];
}

function save({ base64, type, name }) {
  const bytes = Uint8Array.from(atob(base64), (sign) => sign.charCodeAt(0));
  const url = URL.createObjectURL(new Blob([bytes], { type }));
  const link = h("a", { href: url, download: name, hidden: true });
  document.body.append(link);
  link.click();
  link.remove();
  setTimeout(() => URL.revokeObjectURL(url), 10000);
}
