import { h } from "./dom.js";

const KINDS = ["to mend", "accepted", "not relevant here"];

/** What falls short in the room; the few most worth mending stand open, the rest can be opened. */
export function view(state, tools) {
  if (state.nothing) return h("div", {}, h("h2", {}, "What falls short"), h("p", {}, state.nothing));
  return h(
    "div",
    {},
    h("h2", {}, "What falls short"),
    h("p", { class: "small" }, state.tally.map(([name, count]) => `${name}: ${count}`).join(" · ")),
    state.worth.length
      ? h("ol", { class: "plain worth" }, state.worth.map((one) => finding(one, state, tools)))
      : h("p", {}, "Nothing that was checked falls short and waits for an answer."),
    more("About the house as a whole", state.house, state, tools),
    more("Also falls short", state.short, state, tools),
    more("Answered", state.answered, state, tools),
    more("Not assessed: a fact is missing", state.open, state, tools),
    state.held.length
      ? h("details", { key: "held" }, h("summary", {}, `Holds (${state.held.length})`), h("ul", {}, state.held.map((one) => h("li", {}, one))))
      : null,
    state.cautions.map((one) => h("p", { class: "caution small", key: one }, one)),
    h("datalist", { id: tools.id("people") }, state.people.map((name) => h("option", { value: name }))),
  );
}

function more(title, findings, state, tools) {
  if (!findings.length) return null;
  return h(
    "details",
    { key: title },
    h("summary", {}, `${title} (${findings.length})`),
    h("ol", { class: "plain" }, findings.map((one) => finding(one, state, tools))),
  );
}

function finding(one, state, tools) {
  const open = tools.local[one.id] === undefined && one.draft ? "answer" : tools.local[one.id];
  const redraw = () => tools.redraw();
  const toggle = (name) => () => {
    tools.local[one.id] = open === name ? null : name;
    redraw();
  };
  const id = tools.id(one.id);
  return h(
    "li",
    { class: "finding", key: one.id, "data-finding": one.id },
    h(
      "p",
      {},
      h("span", { class: `verdict ${one.verdict.toLowerCase().replace(" ", "-")}` }, one.verdict),
      one.number ? h("span", { class: "mark" }, ` mark ${one.number} on the plan`) : null,
      h("br"),
      one.sentence,
      one.about ? h("span", { class: "small" }, ` About: ${one.about}.`) : null,
    ),
    one.answer ? h("p", { class: one.lapsed ? "trouble" : "small" }, one.answer) : null,
    h(
      "div",
      { class: "acts" },
      button(one.answer ? "Change the answer" : "Answer", toggle("answer"), open === "answer", `${id}-answer`, one),
      button("How it was worked out", toggle("working"), open === "working", `${id}-working`, one),
      one.subjects.length ? h("button", { type: "button", class: "act", "aria-label": `Show on the plan: ${one.sentence}`, on: { click: () => point(one, tools) } }, "Show on the plan") : null,
    ),
    open === "working" ? working(one, `${id}-working`) : null,
    open === "answer" ? answering(one, `${id}-answer`, tools) : null,
  );
}

function button(words, click, open, controls, one) {
  return h("button", { type: "button", class: "act", "aria-expanded": String(open), "aria-controls": open ? controls : null, "aria-label": `${words}: ${one.sentence}`, on: { click } }, words);
}

function working(one, id) {
  return h(
    "div",
    { id, class: "small", key: "working" },
    h("ul", {}, [...one.working, ...one.also].map((line, i) => h("li", { key: i }, line))),
    one.assumed.length ? h("p", {}, `Rests on what is assumed: ${one.assumed.join(", ")}.`) : null,
    h("p", {}, `${one.level}. ${one.source}. Known: ${one.known}.`),
    one.caution ? h("p", { class: "caution" }, one.caution) : null,
  );
}

async function point(one, tools) {
  for (const list of ["things", "openings", "walls"]) {
    for (const id of one.subjects) {
      const answer = await tools.send({ do: "select", list, id }, [], true);
      if (answer.ok) {
        const sheet = document.querySelector(".enfilade .plan .sheet");
        if (sheet) {
          sheet.scrollIntoView({ block: "center" });
          sheet.focus({ preventScroll: true });
        }
        return tools.say(answer.say);
      }
    }
  }
  return tools.say("It has no place on this plan.");
}

function answering(one, id, tools) {
  const kept = (tools.local[`${one.id} typed`] ??= one.draft || { kind: one.kind || "to mend", reason: one.reason, by: one.by });
  const keep = () => tools.later(`draft ${one.id}`, { do: "keep answer", finding: one.id, kind: kept.kind, reason: kept.reason, by: kept.by });
  const field = (name) => `${id}-${name.replace(" ", "-")}`;
  const give = async () => {
    const answer = await tools.send({ do: "answer", finding: one.id, ...kept });
    kept.errors = Object.fromEntries(answer.errors.map((one) => [one.place || "reason", `${one.what}${one.expected ? `: ${one.expected}` : ""}`]));
    if (answer.ok) {
      delete tools.local[`${one.id} typed`];
      tools.local[one.id] = null;
    }
    tools.redraw();
  };
  const errors = kept.errors || {};
  const wrong = (name) => (errors[name] ? { "aria-invalid": "true", "aria-describedby": field(`${name} error`) } : {});
  const told = (name) => (errors[name] ? h("p", { class: "error", id: field(`${name} error`), role: "alert" }, errors[name]) : null);
  const type = (name) => ({ input: (_, el) => { kept[name] = el.value; keep(); } });
  return h(
    "fieldset",
    { id, class: "answering", key: "answering" },
    h("legend", { class: "unseen" }, `Answer to: ${one.sentence}`),
    KINDS.map((kind) =>
      h("label", { class: "tick", key: kind, for: field(kind) },
        h("input", { type: "radio", id: field(kind), name: field("kind"), value: kind, checked: kept.kind === kind, on: { change: () => { kept.kind = kind; keep(); tools.redraw(); } } }),
        kind[0].toUpperCase() + kind.slice(1)),
    ),
    h("div", { class: "field" }, h("label", { for: field("reason") }, kept.kind === "to mend" ? "Reason or remark" : "Reason (needed)"),
      h("textarea", { id: field("reason"), rows: 2, value: kept.reason, ...wrong("reason"), on: type("reason") }), told("reason")),
    h("div", { class: "field" }, h("label", { for: field("by") }, kept.kind === "accepted" ? "By whom (needed)" : "By whom"),
      h("input", { id: field("by"), value: kept.by, list: tools.id("people"), autocomplete: "off", ...wrong("by"), on: type("by") }), told("by")),
    h("div", { class: "acts" },
      h("button", { type: "button", class: "act main", on: { click: give } }, "Give this answer"),
      one.answer ? h("button", { type: "button", class: "act", on: { click: () => tools.send({ do: "take answer back", finding: one.id }).then(() => { delete tools.local[`${one.id} typed`]; tools.local[one.id] = null; tools.redraw(); }) } }, "Take the answer back") : null),
  );
}
