import { across } from "./across.js";
import { instead } from "./archived.js";
import { busily } from "./busy.js";
import { h } from "./dom.js";
import { act, entry, tick } from "./entry.js";
import { pictureOf } from "./pictures.js";

const PLANS_AT_ONCE = 4;

/** A search through all that was kept, and what it found with the room's plan in small. */
export function view(state, tools) {
  const not = instead(state, tools);
  return h(
    "div",
    {},
    h("h2", { tabindex: "-1", id: tools.id("title") }, "Find"),
    not || (state.there ? [asking(state, tools), state.found ? answer(state.found, tools) : null] : h("p", { class: "small", key: "none" }, "Nothing has been kept yet, so there is nothing to look through.")),
  );
}

function asking(state, tools) {
  const local = tools.local;
  const words = local.words ?? (state.found ? state.found.words : "");
  const find = () => busily("Looking", "Looking", { do: "find", words: local.words ?? words, past: local.past ?? state.found?.past ?? false }, tools);
  const on = {
    input: (_, el) => { local.words = el.value; },
    keydown: (event) => event.key === "Enter" && !event.isComposing && find(),
  };
  return h(
    "div",
    { class: "asking", role: "search", key: "asking", "aria-labelledby": tools.id("title") },
    entry(tools, { name: "words", type: "search", label: `What is looked for, in ${state.houses}`, help: "Words in any order; a typing error is forgiven. Numbers too: islands between 2.4 and 3.0 m with four seats whose aisle fell short.", value: words, on }),
    tick(tools, { name: "past", label: "Earlier versions too", checked: local.past ?? state.found?.past ?? false, change: (_, el) => { local.past = el.checked; } }),
    h("div", { class: "acts" },
      act("Find", find, { class: "act main" }),
      state.found ? act("Clear", async () => { local.words = ""; await tools.send({ do: "clear found" }); tools.redraw(); }, { key: "clear" }) : null,
      local.busy ? h("span", { class: "small", key: "busy" }, local.busy) : null),
    local.said ? h("p", { class: "trouble", role: "alert", key: "said" }, local.said) : null,
  );
}

function answer(found, tools) {
  const seen = plans(found, tools);
  return h(
    "section",
    { class: "answer", key: "answer", "aria-label": "What was found" },
    h("p", { class: "count" }, found.count),
    found.read_as.map((line) => h("p", { class: "small", key: `read ${line}` }, line)),
    found.facets.length ? h("dl", { class: "facets", key: "facets" }, found.facets.map((one) => facet(one, tools))) : null,
    found.narrowed ? h("div", { class: "acts", key: "widen" }, act("Show all of them again", () => tools.send({ do: "widen found" }))) : null,
    h("ol", { class: "plain hits", key: "hits" }, found.hits.map((one) => hit(one, seen, tools))),
    found.more ? h("div", { class: "acts", key: "more" }, act("Show more", () => busily("Looking for more", "Looking", { do: "more found" }, tools))) : null,
    found.ended ? h("p", { class: "small", key: "ended" }, "More than can be read through are not shown. Narrow it above, or add a word.") : null,
  );
}

function facet(one, tools) {
  const choose = (each) => act(`${each.label} (${each.count})`, () => tools.send({ do: "narrow found", facet: one.name, value: each.value }), { key: each.value, "aria-pressed": each.on ? "true" : "false", "aria-label": `${one.title}: ${each.label}, ${each.count}` });
  return [
    h("dt", { key: `${one.name} title` }, one.title),
    h("dd", { key: one.name }, one.first.map(choose), one.more.length ? h("details", { key: "more" }, h("summary", {}, `${one.more.length} more`), one.more.map(choose)) : null),
  ];
}

function hit(one, seen, tools) {
  const place = [one.room ? (one.space ? across(one.room, "measure", one.space) : one.room) : "The whole house", one.version];
  const plan = seen[one.key];
  return h(
    "li",
    { key: one.key },
    h("div", { class: "plan" }, plan ? pictureOf(plan, `Plan of ${one.room || "the room"} in ${one.name}`) : null),
    h(
      "div",
      { class: "told" },
      h("p", { class: "kind" }, one.kind, one.state ? h("span", { class: `verdict ${one.state.replaceAll(" ", "-")}` }, one.state) : null, one.past ? h("span", { class: "small" }, "no longer stands") : null),
      h("p", { class: "text" }, one.text),
      h("p", { class: "small" }, h("strong", {}, one.name), ", ", place[0], ", ", place[1]),
    ),
  );
}

/** The plans of what was found; asked for a few at a time once it stands, and kept while it does. */
function plans(found, tools) {
  const local = tools.local;
  if (local.number === found.number) return local.plans;
  Object.assign(local, { number: found.number, plans: {} });
  const wanted = found.hits.filter((one) => one.planned).map((one) => one.key);
  const ask = async () => {
    while (wanted.length && local.number === found.number) {
      const answer = await tools.send({ do: "plans of found", keys: wanted.splice(0, PLANS_AT_ONCE) }, [], true);
      if (!answer.ok || local.number !== found.number) return;
      Object.assign(local.plans, answer.plans);
      tools.redraw();
    }
  };
  ask();
  return local.plans;
}
