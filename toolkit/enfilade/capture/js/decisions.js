import { h } from "./dom.js";
import { field, fields, removing } from "./fields.js";

const AT_ONCE = 12;

/** The ledger of the room: what is open comes first, and each decision opens in place into its form. */
export function view(state, tools) {
  const own = { ...tools, lists: state.lists };
  const open = state.decisions.filter((one) => one.status === "Undecided" || one.open);
  const settled = state.decisions.filter((one) => !open.includes(one));
  const first = settled.slice(0, Math.max(0, AT_ONCE - open.length));
  const later = settled.slice(first.length);
  return h(
    "div",
    {},
    h("h2", {}, state.everywhere ? "Decisions of every room" : "Decisions"),
    h("p", { class: "small" }, state.words),
    beginning(state, own),
    list([...open, ...first], own),
    folded("later", `${later.length} more that are decided`, later, own),
    folded("house", `Decisions for the whole house (${state.house.length})`, state.house, own),
  );
}

function list(decisions, tools) {
  return h("ol", { class: "plain" }, decisions.map((one) => decision(one, tools)));
}

function folded(key, words, decisions, tools) {
  if (!decisions.length) return null;
  const open = decisions.some((one) => one.open) || null;
  return h("details", { key, open }, h("summary", {}, words), list(decisions, tools));
}

function decision(one, tools) {
  const id = tools.id(one.id);
  const toggle = () => tools.send({ do: "open decision", id: one.id, open: !one.open });
  return h(
    "li",
    { class: "decision", key: one.id, "data-decision": one.id },
    h("h3", {}, h("button", { type: "button", class: "act", "aria-expanded": String(one.open), "aria-controls": one.open ? id : null, on: { click: toggle } }, `${one.number}. ${one.title}`)),
    h("p", { class: `status ${one.status.toLowerCase().replaceAll(" ", "-")}` }, one.status),
    one.open ? form(one, id, tools) : one.sentences.map((line, index) => h("p", { key: `s${index}` }, line)),
  );
}

function form(one, id, tools) {
  return h(
    "div",
    { id, class: "form", key: "form" },
    one.groups.map((group, index) =>
      index < one.groups.length - 1 || group.title !== "More about it"
        ? h("section", { key: group.title, "aria-label": group.title }, h("h4", {}, group.title), fields(group.fields, tools))
        : h("details", { key: group.title }, h("summary", {}, group.title), fields(group.fields, tools)),
    ),
    removing(["decisions", one.id], `decision ${one.number}`, ".decisions", tools),
  );
}

function beginning(state, tools) {
  const title = state.new.find((one) => one.name === "title");
  const write = async (_, el) => {
    const input = el.closest(".beginning").querySelector("input");
    const answer = await tools.send({ do: "new decision", title: input.value });
    if (!answer.ok) return input.focus();
    input.value = "";
    const made = input.closest(".decisions").querySelector(`[data-decision="${answer.key}"] .act`);
    if (made) made.focus();
  };
  const enter = (event, el) => {
    if (event.key === "Enter") write(event, el);
  };
  return h(
    "div",
    { class: "beginning", key: "beginning", on: { keydown: (event) => event.target.nodeName === "INPUT" && enter(event, event.target) } },
    field({ ...title, label: "New decision", help: "What is to be decided, in a few words. The rest can wait.", told: "" }, null, tools),
    h("button", { type: "button", class: "act main", on: { click: write } }, "Write it down"),
  );
}
