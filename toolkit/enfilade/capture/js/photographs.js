import { h } from "./dom.js";
import { field } from "./fields.js";
import { taking, take } from "./uploading.js";

/** The room's photographs: pictures on the left, what is said of each beside it. */
export function view(state, tools) {
  if (state.nothing) return h("div", {}, h("h2", {}, "Photographs"), h("p", {}, state.nothing));
  askForPictures(state, tools);
  const add = (files) => take([...files], state, tools);
  return h(
    "div",
    {
      on: {
        dragover: (event) => holdsFiles(event.dataTransfer) && event.preventDefault(),
        drop: (event) => given(event, event.dataTransfer, add),
        paste: (event) => given(event, event.clipboardData, add),
      },
    },
    h("h2", {}, "Photographs"),
    h("p", { class: "small" }, state.words),
    adding(state, tools, add),
    taking(tools),
    h("ol", { class: "plain" }, state.photographs.map((one) => photograph(one, state, tools))),
    paging(state, tools),
  );
}

const holdsFiles = (transfer) => Boolean(transfer && [...transfer.types].includes("Files"));

// Only files are taken; text that is pasted into a field stays the field's.
function given(event, transfer, add) {
  if (!transfer || !transfer.files.length) return;
  event.preventDefault();
  add(transfer.files);
}

function adding(state, tools, add) {
  const input = tools.id("files");
  const chosen = (_, el) => {
    add(el.files);
    el.value = ""; // the same file may be chosen again
  };
  const choose = (_, el) => el.parentNode.querySelector("input[type=file]").click();
  return h(
    "div",
    { class: "adding" },
    h("input", { type: "file", id: input, multiple: true, hidden: true, accept: state.accept, "aria-label": "Photographs to add", on: { change: chosen } }),
    h("button", { type: "button", class: "act main", "aria-describedby": tools.id("how"), on: { click: choose } }, "Add photographs"),
    h(
      "p",
      { class: "help", id: tools.id("how") },
      `Several at once, dropped here or pasted as well: JPEG, PNG or WebP, up to ${state.largest_words} each. Where, when and with what they were taken stays out of everything that is told.`,
    ),
  );
}

function photograph(one, state, tools) {
  const heading = tools.id(`${one.id} name`);
  return h(
    "li",
    { class: "photograph", key: one.id, "aria-labelledby": heading },
    h("div", { class: "picture" }, picture(one, tools)),
    h(
      "div",
      { class: "said" },
      h("h3", { id: heading }, one.title),
      one.fields.map((spec) => h("div", { key: spec.name }, field(spec, spec.path, tools))),
      one.links ? h("p", { class: "small" }, one.links) : null,
      more(one, state, tools),
    ),
  );
}

function picture(one, tools) {
  const source = pictures(tools)[one.file];
  if (source) return h("img", { src: source, alt: one.described });
  return h("p", { class: "small" }, source === "" ? "This picture cannot be shown." : "The picture is being fetched.");
}

function more(one, state, tools) {
  const open = tools.local[`open ${one.id}`] === true;
  const toggle = (_, el) => {
    if (el.open === (tools.local[`open ${one.id}`] === true)) return;
    tools.local[`open ${one.id}`] = el.open;
    tools.redraw();
  };
  return h(
    "details",
    { key: "more", on: { toggle } },
    h("summary", {}, "What is in it, and when it was taken"),
    open ? h("div", {}, one.more.map((spec) => h("div", { key: spec.name }, field(spec, spec.path, tools)))) : null,
    open ? ticks("things", "Things in it", one, state, tools) : null,
    open ? ticks("decisions", "Decisions it belongs to", one, state, tools) : null,
    open ? h("p", {}, h("button", { type: "button", class: "act", "aria-label": `Remove this photograph: ${one.name}`, on: { click: () => tools.send({ do: "photograph removed", id: one.id }) } }, "Remove this photograph")) : null,
  );
}

function ticks(links, legend, one, state, tools) {
  const offered = [...state[links], ...one.elsewhere[links]];
  if (!offered.length) return null;
  const tick = (to) => (_, el) => tools.send({ do: "photograph linked", id: one.id, links, to, linked: el.checked });
  return h(
    "fieldset",
    { key: links },
    h("legend", {}, legend),
    h(
      "div",
      { class: "ticks" },
      offered.map((each) => {
        const id = tools.id(`${one.id} ${links} ${each.value}`);
        return h(
          "label",
          { class: "tick", key: each.value, for: id },
          h("input", { type: "checkbox", id, checked: one.linked[links].includes(each.value), on: { change: tick(each.value) } }),
          h("span", {}, each.label),
        );
      }),
    ),
  );
}

function paging(state, tools) {
  if (!state.page.before && !state.page.after) return null;
  const turn = (later) => () => tools.send({ do: "photograph page", later });
  return h(
    "p",
    { class: "acts" },
    h("button", { type: "button", class: "act", disabled: !state.page.before, on: { click: turn(false) } }, "Earlier photographs"),
    h("button", { type: "button", class: "act", disabled: !state.page.after, on: { click: turn(true) } }, "Later photographs"),
    h("span", { class: "small" }, state.page.words),
  );
}

const pictures = (tools) => (tools.local.pictures ??= {});

// Pictures are asked for a few at a time, and kept by the name of their content for as long as the page lives.
async function askForPictures(state, tools) {
  const local = tools.local;
  local.wanted = state.photographs.map((one) => one.file);
  if (local.asking) return;
  local.asking = true;
  for (;;) {
    const files = [...new Set(local.wanted)].filter((file) => !(file in pictures(tools))).slice(0, state.at_once);
    if (!files.length) break;
    const answer = await tools.send({ do: "photograph pictures", files }, [], true);
    for (const file of files) pictures(tools)[file] = (answer.pictures && answer.pictures[file]) || "";
    tools.redraw();
  }
  local.asking = false;
}
