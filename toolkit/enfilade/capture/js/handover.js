import { instead } from "./archived.js";
import { busily } from "./busy.js";
import { h } from "./dom.js";
import { act, entry, wrongAt } from "./entry.js";

/** What is passed on and taken in: a project box, a copy for students; and a client who is to be forgotten. */
export function view(state, tools) {
  const not = instead(state, tools);
  return h(
    "div",
    {},
    h("h2", { tabindex: "-1" }, "Passing on"),
    not || [
      state.kept ? folded("box", "Write a project box", box(state, tools), state.said.box) : null,
      folded("in", "Take a project box in", takingIn(state, tools), state.said.in),
      state.kept && !state.released ? folded("released", "Release a copy for students", releasing(state, tools), state.said.released) : null,
      state.kept && !state.released ? folded("forget", "Forget the client", forgetting(state, tools), "") : null,
      state.kept ? null : h("p", { class: "small", key: "none" }, "Once a version of this house is kept, it can be handed over as one file, or as a copy for students."),
    ],
    tools.local.busy ? h("p", { class: "small", key: "busy", role: "status" }, tools.local.busy) : null,
  );
}

function folded(key, words, inside, said) {
  return h("details", { key, class: "way" }, h("summary", {}, words), h("div", { class: "folded" }, inside), said ? h("p", { class: "done", key: "done" }, said) : null);
}

/** A field of its own name; what was refused of it stands under it. */
function typed(tools, { name, label, help, begins = "", enter }) {
  const local = tools.local;
  const on = {
    input: (_, el) => { local[name] = el.value; },
    change: (_, el) => { local[name] = el.value; },
    keydown: (event) => event.key === "Enter" && !event.isComposing && enter(),
  };
  return entry(tools, { name, label, help, value: local[name] ?? begins, wrong: wrongAt(local.errors, name), on });
}

async function ask(doing, message, tools) {
  tools.local.errors = [];
  const answer = await busily(doing, doing, message, tools);
  tools.local.errors = answer.errors;
  const first = (answer.errors || []).find((one) => one.place);
  tools.redraw();
  if (first) document.getElementById(tools.id(first.place))?.focus();
  return answer;
}

/** What was refused and belongs to no field. */
function refused(tools) {
  const local = tools.local;
  const about = (local.errors || []).filter((one) => !one.place);
  return about.length ? h("p", { class: "trouble", role: "alert", key: "refused" }, local.said) : null;
}

function box(state, tools) {
  const write = () => ask("Writing the box", { do: "write box", folder: tools.local["box folder"] ?? state.folder }, tools);
  return [
    h("p", {}, `One file, ${state.file}, with every kept version of this house, its photographs and what was found: an open container that says itself how it is read. What is not kept as a version yet is not in it.`),
    typed(tools, { name: "box folder", label: "Folder to write it to", begins: state.folder, enter: write }),
    h("div", { class: "acts" }, act("Write the box", write, { class: "act main" })),
    refused(tools),
  ];
}

function takingIn(state, tools) {
  const local = tools.local;
  const take = () => ask("Taking the box in", { do: "take in box", box: local.box ?? "" }, tools);
  const unpack = () => ask("Unpacking the box", { do: "unpack box", box: local.box ?? "", folder: local["unpack folder"] ?? "" }, tools);
  return [
    h("p", {}, "A box is verified whole before anything of it is taken: what is damaged is named, and nothing is changed."),
    typed(tools, { name: "box", label: "Path of the box", enter: take }),
    h("div", { class: "acts" }, act("Take it into the archive", take, { class: "act main" })),
    typed(tools, { name: "unpack folder", label: "Or a new folder, to unpack its newest version into", enter: unpack }),
    h("div", { class: "acts" }, act("Unpack it", unpack)),
    refused(tools),
  ];
}

function releasing(state, tools) {
  const local = tools.local;
  const release = () => ask("Releasing a copy", { do: "release copy", to: local.students ?? "", why: local["students why"] ?? "" }, tools);
  return [
    h("p", {}, `Version ${state.newest}, without the client’s names, addresses, prices and whatever else students may not know: it is left out before the copy is made, not hidden in it.`),
    typed(tools, { name: "students", label: "The students’ archive", help: state.shared ? "Left empty, the copy stands in this archive, where its rules keep the rest from students." : "The path of its file, another one than this archive’s; it is made when it is not there.", enter: release }),
    typed(tools, { name: "students why", label: "What for", help: "Students may read this.", enter: release }),
    h("div", { class: "acts" }, act("Release a copy", release, { class: "act main" })),
    refused(tools),
  ];
}

function forgetting(state, tools) {
  const told = state.forgetting;
  const show = () => ask("Looking through all versions", { do: "tell forgetting" }, tools);
  const erase = async () => {
    const answer = await ask("Erasing", { do: "forget client", name: tools.local["house name"] ?? "" }, tools);
    if (answer.ok) tools.local["house name"] = "";
    tools.redraw();
  };
  return [
    h("p", {}, "At a client’s request their names, addresses and photographs are erased from every version in the archive and from this house’s folder. What the law asks to be kept, such as contracts, must be known first."),
    h("div", { class: "acts" }, act("Show what would be erased", show)),
    told ? h("div", { key: "told" },
      h("h3", {}, "Would be erased"), lines(told.erased, "Nothing."),
      h("h3", {}, "Would remain"), lines(told.remains, "Nothing."),
      typed(tools, { name: "house name", label: `To erase it for good, type the name of the house: ${state.name}`, help: "It cannot be undone.", enter: () => {} }),
      h("div", { class: "acts" }, act("Erase it for good", erase))) : null,
    state.forgotten.length ? h("div", { key: "forgotten" }, h("h3", {}, "The client is forgotten. What remains"), lines(state.forgotten, "")) : null,
    refused(tools),
  ];
}

function lines(all, none) {
  return all.length ? h("ul", {}, all.map((line, i) => h("li", { key: i }, line))) : h("p", { class: "small" }, none);
}
