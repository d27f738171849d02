import { h } from "./dom.js";
import { act } from "./entry.js";

const MAC = /Mac|iPhone|iPad/.test(navigator.platform);
const TYPED = new Set(["text", "search", "number", "date", "email", "url", "tel", "password", "time", "month", "color"]);

/** The name of the house, what can be undone, how it is kept, and what must be chosen first. */
export function view(state, tools) {
  keys(tools);
  announce(state.saved, tools);
  return h(
    "header",
    { id: tools.id("head") },
    h("h1", {}, state.name),
    acts(state.acts),
    sections(state.sections, tools),
    h(
      "div",
      { class: "acts" },
      step("Undo", state.undo, "undo", MAC ? "⌘Z" : "Ctrl+Z", tools),
      step("Do again", state.redo, "redo", MAC ? "⇧⌘Z" : "Ctrl+Shift+Z", tools),
    ),
    kept(state),
    state.question ? question(state.question, tools) : null,
    state.found.map((one) => found(one, tools)),
  );
}

function acts(all) {
  const known = all.filter((one) => one.href);
  if (!known.length) return null;
  const link = (one) => h("a", { key: one.name, href: one.href, "aria-current": one.here ? "page" : null }, one.name[0].toUpperCase() + one.name.slice(1));
  return h("nav", { class: "acts", "aria-label": "The five acts", key: "nav" }, known.map(link));
}

/** Links to the parts of a long page. */
function sections(all, tools) {
  if (!all || !all.length) return null;
  const go = (name) => (event, el) => {
    event.preventDefault();
    const head = el.closest(".enfilade").querySelector(`.part.${name} h2`);
    if (!head) return;
    head.scrollIntoView({ block: "start" });
    head.focus({ preventScroll: true });
  };
  const link = (one) => h("a", { key: one.name, href: `#${tools.part(one.name)}`, on: { click: go(one.name) } }, one.words);
  return h("nav", { class: "acts sections", "aria-label": "On this page", key: "sections" }, all.map(link));
}

function step(word, what, ask, sign, tools) {
  const click = () => what && tools.send({ do: ask });
  const words = what ? `${word}: ${what}` : word;
  // It stays where the focus is when nothing is left to undo.
  return act(words, click, { key: ask, "aria-disabled": what ? null : "true", "aria-keyshortcuts": sign.replace("⇧", "Shift+").replace("⌘", "Meta+").replace("Ctrl", "Control"), title: sign });
}

function kept(state) {
  const saved = state.saved;
  const others = state.others ? `This house is open in ${state.others === 1 ? "another window" : `${state.others} other windows`} too.` : "";
  if (!saved.trouble) return h("p", { class: "small saved", key: "saved" }, [saved.words, others].filter(Boolean).join(" "));
  return h(
    "div",
    { class: "trouble saved", key: "trouble" },
    h("p", {}, h("strong", {}, saved.words)),
    saved.do ? h("p", {}, saved.do) : null,
    others ? h("p", {}, others) : null,
  );
}

// Only the beginning and the end of trouble are told to who listens; each saving is not.
function announce(saved, tools) {
  const before = tools.local.trouble;
  tools.local.trouble = saved.trouble ? saved.words : "";
  if (before === undefined ? saved.trouble : before !== tools.local.trouble) tools.say(`${saved.words} ${saved.do}`.trim());
}

function question(asked, tools) {
  const title = tools.id("question");
  const send = (ask, key) => tools.send({ do: ask, key });
  if (asked.kind === "unreadable") {
    return h(
      "section",
      { class: "question", "aria-labelledby": title, key: "question" },
      h("h2", { id: title }, "The saved file cannot be read"),
      h("p", {}, "You can go on working. To save here again, put your house in its place; the file as it is now is put aside, not thrown away."),
      h("div", { class: "acts" }, act("Put my house in its place", () => send("keep mine", asked.key))),
    );
  }
  const many = asked.lines.length > 1;
  return h(
    "section",
    { class: "question", "aria-labelledby": title, key: "question" },
    h("h2", { id: title }, "Two windows changed the same"),
    h("p", {}, "You can go on working; what you do is kept until you have chosen."),
    h("ul", { class: "plain" }, asked.lines.map((line) => clash(line, send))),
    many
      ? h("div", { class: "acts" }, act("Keep all of mine", () => send("keep mine", asked.key)), act("Take all of theirs", () => send("take theirs", asked.key)))
      : null,
  );
}

function clash(line, send) {
  return h(
    "li",
    { key: line.key },
    h("h3", {}, line.about),
    line.why ? h("p", { class: "small" }, line.why) : null,
    h("dl", {}, h("dt", {}, "In this window"), h("dd", {}, line.mine), h("dt", {}, "In the other window"), h("dd", {}, line.theirs)),
    h(
      "div",
      { class: "acts" },
      act("Keep mine", () => send("keep mine", line.key), { "aria-label": `Keep mine: ${line.about}, ${line.mine}` }),
      act("Take theirs", () => send("take theirs", line.key), { "aria-label": `Take theirs: ${line.about}, ${line.theirs}` }),
    ),
  );
}

function found(one, tools) {
  const title = tools.id(`found-${one.key}`);
  const more = one.more ? ` and ${one.more} more` : "";
  return h(
    "section",
    { class: "question", "aria-labelledby": title, key: one.key },
    h("h2", { id: title }, "Found: work that was not saved"),
    h("p", {}, `A window was closed, or stopped, before this could be saved (last changed ${one.when}): ${one.what.join(", ") || "nothing that differs from what it began with"}${more}.`),
    h(
      "div",
      { class: "acts" },
      act("Bring it back", () => tools.send({ do: "bring back", key: one.key })),
      act("Leave it out", () => tools.send({ do: "leave out", key: one.key })),
    ),
  );
}

// One listener a page, for as long as the page stands.
function keys(tools) {
  const first = !tools.local.tools;
  tools.local.tools = tools;
  if (!first) return;
  let stood = false;
  const heard = (event) => {
    const head = document.getElementById(tools.local.tools.id("head"));
    if (!head) return stood ? document.removeEventListener("keydown", heard) : undefined;
    stood = true;
    if (event.defaultPrevented || event.altKey || event.key.toLowerCase() !== "z" || !(MAC ? event.metaKey : event.ctrlKey)) return;
    const at = event.composedPath()[0];
    const inside = head.closest(".enfilade").contains(at) || at === document.body;
    if (!inside || typing(at)) return;
    event.preventDefault();
    event.stopPropagation();
    tools.local.tools.send({ do: event.shiftKey ? "redo" : "undo" });
  };
  document.addEventListener("keydown", heard);
}

function typing(el) {
  return el.isContentEditable || el.tagName === "TEXTAREA" || (el.tagName === "INPUT" && TYPED.has(el.type));
}
