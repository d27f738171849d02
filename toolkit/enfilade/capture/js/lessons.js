import { across } from "./across.js";
import { instead, lookOnce } from "./archived.js";
import { busily } from "./busy.js";
import { h } from "./dom.js";
import { act, choice, entry, wrongAt } from "./entry.js";

const sought = new WeakMap();

/** What was learnt on other houses and bears on this one; on another act's page a line that leads there. */
export function view(state, tools) {
  lookOnce(state, tools);
  if (state.looked && !state.closed && !state.asked) seekOnce(state, tools);
  if (state.short) return brief(state);
  const not = instead(state, tools) || (state.asked ? null : h("p", { class: "small", key: "asking" }, "Looking for lessons."));
  return h("div", {}, h("h2", { tabindex: "-1", id: tools.id("title") }, "Lessons"), not || all(state, tools));
}

function seekOnce(state, tools) {
  if (sought.get(tools.model) === state.turn) return;
  sought.set(tools.model, state.turn);
  tools.send({ do: "look for lessons" }, [], true);
}

function brief(state) {
  if (!state.count) return h("div", {});
  const words = state.count === 1 ? "One lesson from another house bears on this one." : `${state.count} lessons from other houses bear on this one.`;
  return h("div", {}, h("p", {}, words, " ", across(state.count === 1 ? "Read it" : "Read them", "keep", "")));
}

function all(state, tools) {
  const again = () => busily("Looking for lessons", "Looking", { do: "look for lessons", again: true }, tools);
  return [
    h("p", { key: "about" }, state.waiting.length
      ? "What was learnt on other houses, and bears on this one. Each waits for an answer, which is kept with this house."
      : state.there ? "No lesson of another house waits for an answer here." : "Nothing has been kept yet, so there is nothing to learn from."),
    state.waiting.length && !state.kept ? h("p", { class: "small", key: "first" }, "Keep this house first: answers are kept with its versions.") : null,
    state.left ? h("p", { key: "left" }, state.left) : null,
    h("ol", { class: "plain", key: "waiting" }, state.waiting.map((one) => lesson(one, state, tools))),
    state.answered.length ? h("details", { key: "answered" }, h("summary", {}, `Answered (${state.answered.length})`), h("ol", { class: "plain" }, state.answered.map((one) => lesson(one, state, tools)))) : null,
    h("div", { class: "acts", key: "acts" },
      state.there ? act("Look again", again, { "aria-label": "Look again for lessons" }) : null,
      state.stale ? h("span", { class: "small", key: "stale" }, "The house has changed since.") : null,
      tools.local.busy ? h("span", { class: "small", key: "busy" }, tools.local.busy) : null),
  ];
}

function lesson(one, state, tools) {
  const local = tools.local;
  const ways = (local.ways ??= {});
  const way = ways[one.id];
  const turn = (to) => () => {
    ways[one.id] = way === to ? "" : to;
    local.errors = [];
    tools.redraw();
    if (ways[one.id]) setTimeout(() => document.getElementById(tools.id(`${to} ${one.id}`))?.focus(), 0);
  };
  const answer = async (message) => {
    const told = await tools.send({ id: one.id, ...message });
    local.errors = told.errors.map((each) => ({ ...each, id: one.id }));
    if (told.ok) ways[one.id] = "";
    tools.redraw();
    if (told.ok) setTimeout(() => document.getElementById(tools.id("title"))?.focus(), 0);
  };
  const more = { "aria-disabled": state.kept ? null : "true" };
  const can = (click) => () => state.kept && click();
  return h(
    "li",
    { class: "lesson", key: one.id },
    h("p", { class: "text" }, one.text),
    h("p", { class: "small" }, `Learnt on ${one.where}.${one.choice ? ` Chosen there: ${one.choice}` : ""}`),
    one.reasons.map((line, i) => h("p", { class: "small why", key: `why ${i}` }, line)),
    one.answered ? h("p", { key: "said" }, one.answered) : null,
    h("div", { class: "acts" },
      act("Accept", can(() => answer({ do: "answer lesson", kind: "accepted", reason: "" })), { ...more, key: "accept", "aria-label": `Accept: ${one.text.slice(0, 80)}` }),
      act("Dismiss", can(turn("dismiss")), { ...more, key: "dismiss", "aria-expanded": String(way === "dismiss"), "aria-label": `Dismiss: ${one.text.slice(0, 80)}` }),
      one.offers.length ? act("Make it a house rule", can(turn("rule")), { ...more, key: "rule", "aria-expanded": String(way === "rule"), "aria-label": `Make it a house rule: ${one.text.slice(0, 80)}` }) : null),
    way === "dismiss" ? dismissing(one, answer, tools) : null,
    way === "rule" ? ruling(one, answer, tools) : null,
    wrongOf(one, tools, "") ? h("p", { class: "trouble", role: "alert", key: "wrong" }, wrongOf(one, tools, "").what) : null,
  );
}

const wrongOf = (one, tools, place) => wrongAt((tools.local.errors || []).filter((each) => each.id === one.id), place);

/** Handlers of a field whose text is kept while the page stands; Enter does what its button does. */
function kept(name, tools, enter) {
  const put = (_, el) => { tools.local[name] = el.value; };
  return { input: put, change: put, keydown: (event) => event.key === "Enter" && !event.isComposing && enter() };
}

function dismissing(one, answer, tools) {
  const name = `dismiss ${one.id}`;
  const dismiss = () => answer({ do: "answer lesson", kind: "dismissed", reason: tools.local[name] ?? "" });
  return h("div", { class: "form", key: "dismissing" },
    entry(tools, { name, label: "Why it does not hold here", value: tools.local[name] ?? "", wrong: wrongOf(one, tools, "reason"), on: kept(name, tools, dismiss) }),
    h("div", { class: "acts" }, act("Dismiss it", dismiss, { class: "act main" })));
}

function ruling(one, answer, tools) {
  const [row, value] = [`row ${one.id}`, `rule ${one.id}`];
  const chosen = one.offers.find((each) => each.row === tools.local[row]) || one.offers[0];
  const make = () => answer({ do: "make rule", row: chosen.row, value: tools.local[value] ?? "" });
  const pick = (_, el) => { tools.local[row] = el.value; tools.redraw(); };
  return h("div", { class: "form", key: "ruling" },
    one.offers.length > 1
      ? choice(tools, { name: row, label: "Which rule?", value: chosen.row, options: one.offers.map((each) => [each.row, each.label]), on: { change: pick } })
      : h("p", { key: "row" }, chosen.label),
    entry(tools, { name: value, label: `Our own value${chosen.unit && chosen.unit !== "count" ? ` (${chosen.unit})` : ""}`, help: `${chosen.published}. A house rule may only be stricter; the published value stays beside it.`, value: tools.local[value] ?? "", wrong: wrongOf(one, tools, "value"), on: kept(value, tools, make) }),
    h("div", { class: "acts" }, act("Make it a house rule", make, { class: "act main" })));
}
