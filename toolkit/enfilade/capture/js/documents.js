import { busily } from "./busy.js";
import { h } from "./dom.js";
import { fields } from "./fields.js";
import { leading, lineAt } from "./jump.js";

// A copy for an audience is made to compare it; that waits until nobody types.
const COMPARE_MS = 1500;

/** The documents: for whom, in which forms; written on request, and looked at from here. */
export function view(state, tools) {
  const chosen = (tools.local.audience ??= state.audience);
  const forms = (tools.local.forms ??= new Set(state.chosen));
  const one = state.audiences.find((audience) => audience.value === chosen);
  const choose = (_, element) => {
    tools.local.audience = element.value;
    tools.local.here = null;
    tools.redraw();
  };
  const busy = tools.local.busy;
  const can = state.can && forms.size && !busy;
  return h(
    "div",
    {},
    h("h2", { tabindex: "-1" }, "Documents"),
    h(
      "div",
      { class: "field" },
      h("label", { for: tools.id("audience") }, "Who is it for?"),
      h("select", { id: tools.id("audience"), value: chosen, "aria-describedby": tools.id("told"), on: { change: choose } }, state.audiences.map((each) => h("option", { value: each.value, key: each.value }, each.label))),
      h("p", { id: tools.id("told"), class: "help" }, `Told: ${one.told}. What they may not be told is left out before a document is made.`),
    ),
    which(state, forms, tools),
    issued(one, state, tools),
    faulty(state.faults),
    h("div", { class: "acts" },
      h("button", { type: "button", class: "act main", "aria-disabled": can ? null : "true", on: { click: () => can && write(chosen, forms, tools) } }, "Write the documents"),
      busy ? h("span", { class: "small", key: "busy" }, busy) : forms.size ? null : h("span", { class: "small", key: "none" }, "No form is chosen.")),
    tools.local.said ? h("p", { class: "trouble", role: "alert", key: "said" }, tools.local.said) : null,
    files(one, tools),
  );
}

function which(state, forms, tools) {
  const all = state.forms.length > 0 && state.forms.every((form) => forms.has(form.value));
  const turn = (values, on) => {
    for (const value of values) on ? forms.add(value) : forms.delete(value);
    tools.redraw();
  };
  const tick = (key, words, checked, values) =>
    h("label", { class: "tick", for: tools.id(`form ${key}`), key }, h("input", { type: "checkbox", id: tools.id(`form ${key}`), checked, on: { change: (_, el) => turn(values, el.checked) } }), words);
  return h(
    "fieldset",
    { class: "forms", key: "forms" },
    h("legend", {}, "In which forms?"),
    state.forms.map((form) => tick(form.value, form.label, forms.has(form.value), [form.value])),
    state.forms.length > 1 ? tick("all", "All of these", all, state.forms.map((form) => form.value)) : null,
  );
}

function issued(one, state, tools) {
  const id = tools.id("issue");
  const differs = one.again ? issuedBefore(one.value, state.state, tools) : "";
  return h(
    "div",
    { class: "issue", key: "issue" },
    fields(state.borne, tools),
    h("p", { class: "help" }, "Every document bears this version and date."),
    h("label", { class: "tick", for: id }, h("input", { type: "checkbox", id, checked: !!tools.local.issue, "aria-describedby": `${id}-help`, on: { change: (_, el) => { tools.local.issue = el.checked; } } }), "This is issued"),
    h("p", { class: "help", id: `${id}-help` }, `Tick this when the documents really go out. What they are told is then kept with the project, and the next documents for them say what has changed since. ${one.issued || "Not issued to them before."}`),
    differs ? h("p", { class: "note wrong", key: "differs" }, differs) : null,
  );
}

/** What is said where the same version was issued with something else in it; asked for anew once the house changes. */
function issuedBefore(audience, state, tools) {
  const known = (tools.local.before ??= {});
  const key = `${audience} ${state}`;
  if (known.key !== key && known.asked !== key) {
    known.asked = key;
    clearTimeout(known.timer);
    known.timer = setTimeout(async () => {
      const answer = await tools.send({ do: "issued before", audience }, [], true);
      if (known.asked !== key) return;
      Object.assign(known, { key, audience, words: answer.words || "" });
      tools.redraw();
    }, known.key ? COMPARE_MS : 0);
  }
  return known.audience === audience ? known.words : "";
}

/** Lines whose field names nothing, or whose figure is not the record's: named before anything goes out. */
function faulty(faults) {
  if (!faults.length) return null;
  const many = faults.length === 1 ? "One line is" : `${faults.length} lines are`;
  return h(
    "section",
    { class: "faulty", key: "faulty", "aria-label": "Lines that do not agree with the record" },
    h("h3", {}, `${many} not as the record has it`),
    h("ul", { class: "plain" }, faults.map((one) =>
      h("li", { key: one.at.join("/") }, leading(`${one.where ? `${one.where}: ` : ""}“${one.begins}”`, lineAt(one.at)), h("p", { class: "note wrong" }, one.words)))),
  );
}

async function write(audience, forms, tools) {
  const message = { do: "write documents", audience, forms: [...forms], issue: !!tools.local.issue };
  const answer = await busily("Writing the documents", "Writing", message, tools);
  if (!answer.ok) return;
  tools.local.issue = false;
  tools.redraw();
}

function files(one, tools) {
  if (!one.files.length) return null;
  return h(
    "section",
    { class: "written", key: `files ${one.value}`, "aria-label": `Files for ${one.label.toLowerCase()}` },
    h("h3", {}, `Files for ${one.label.toLowerCase()}`),
    h("p", { class: "small" }, `In ${one.folder}`),
    h("ul", { class: "plain" }, one.files.map((file) => fileLine(file, one, tools))),
  );
}

function fileLine(file, one, tools) {
  const shown = tools.local.here && tools.local.here.name === file.name && tools.local.here.audience === one.value ? tools.local.here : null;
  const act = (words, click, more = {}) => h("button", { type: "button", class: "act", key: words, "aria-label": `${words}: ${file.called} for ${one.label.toLowerCase()}`, on: { click }, ...more }, words);
  return h(
    "li",
    { key: file.name },
    h("strong", {}, file.called),
    h("span", { class: "small" }, `${file.called === file.name ? "" : `${file.name}, `}${file.size}, ${file.when}`),
    h("span", { class: "acts small" },
      file.how === "save" ? act("Save a copy", () => open(file, one.value, tools)) : act("Open", () => open(file, one.value, tools)),
      file.how === "page" ? act(shown ? "Close it" : "Show it here", () => here(file, one.value, shown, tools), { "aria-expanded": String(!!shown) }) : null),
    // Its scripts run, and reach nothing of this page.
    shown ? h("iframe", { key: "here", sandbox: "allow-scripts", src: shown.address, title: `${file.called} for ${one.label.toLowerCase()}` }) : null,
  );
}

async function here(file, audience, shown, tools) {
  if (tools.local.here) URL.revokeObjectURL(tools.local.here.address);
  tools.local.here = null;
  if (!shown) {
    const answer = await tools.send({ do: "read document", audience, name: file.name }, [], true);
    tools.local.said = answer.ok ? "" : answer.say;
    if (answer.ok) tools.local.here = { name: file.name, audience, address: URL.createObjectURL(new Blob([answer.html], { type: "text/html" })) };
  }
  tools.redraw();
}

// A browser lets no page from a server open a file; what is in it is handed over and opened from memory.
async function open(file, audience, tools) {
  const beside = file.how === "save" ? null : window.open("", "_blank");
  const answer = await tools.send({ do: "read document", audience, name: file.name }, [], true);
  if (!answer.ok || (file.how !== "save" && !beside)) {
    if (beside) beside.close();
    tools.local.said = answer.ok ? "The browser kept it from opening; open the file itself." : answer.say;
    return tools.redraw();
  }
  const bytes = answer.html === undefined ? Uint8Array.from(atob(answer.base64), (sign) => sign.charCodeAt(0)) : answer.html;
  const address = URL.createObjectURL(new Blob([bytes], { type: answer.html === undefined ? answer.type : "text/html" }));
  if (beside) {
    beside.opener = null;
    beside.location = address;
    return;
  }
  const link = h("a", { href: address, download: file.name, hidden: true });
  document.body.append(link);
  link.click();
  link.remove();
  setTimeout(() => URL.revokeObjectURL(address), 10000);
}
