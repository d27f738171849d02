import { instead } from "./archived.js";
import { h } from "./dom.js";
import { act } from "./entry.js";
import { ask, folded, refused, typed } from "./ways.js";

/** What is passed on and taken in: a project box, and a copy for students. */
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
      state.kept ? null : h("p", { class: "small", key: "none" }, "Once a version of this house is kept, it can be handed over as one file, or as a copy for students."),
    ],
    tools.local.busy ? h("p", { class: "small", key: "busy", role: "status" }, tools.local.busy) : null,
  );
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
