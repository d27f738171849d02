import { h, listen, morph } from "./dom.js";
import { messenger } from "./messages.js";
import { VIEWS } from "./views.js";

let pages = 0;

// How long what was done stands at the foot of the window.
const SAID_MS = 9000;

// What stands beside the plan where the page is wide.
const BESIDE = new Set(["adding", "selected"]);

// An id may hold no spaces, and must tell apart what it was made from.
const plainId = (text) => String(text).replace(/[^\w-]/g, (sign) => `_${sign.codePointAt(0).toString(36)}`);

/** Show the page: one section a part, in the order that its notebook asks for. */
export function render({ model, el }) {
  const page = `p${++pages}`;
  const spoken = h("p", { class: "said", role: "status", "aria-live": "polite" });
  const away = h("button", { type: "button", class: "away", hidden: true }, "Put away");
  const notice = h("div", { class: "enfilade-said", lang: "en" }, spoken, away);
  // JupyterLab has shortcuts of its own for single keys; here they are typed.
  const root = h("div", { class: "enfilade", lang: "en", "data-lm-suppress-shortcuts": "true" });
  el.append(root);
  const lost = h("p", { class: "trouble lost", role: "alert", hidden: true });
  root.append(lost);
  el.append(notice);
  listen(root);
  let fading = 0;
  let coming = 0;
  const put = (words) => {
    spoken.textContent = words;
    away.hidden = !words;
  };
  const say = (words) => {
    put("");
    clearTimeout(coming);
    clearTimeout(fading);
    if (!words) return;
    say.turn += 1; // tells whether something was said since
    coming = setTimeout(() => put(words), 30); // the same words twice are heard twice
    fading = setTimeout(() => put(""), SAID_MS);
  };
  say.turn = 0;
  away.addEventListener("click", () => say(""));
  const silence = (silent) => {
    lost.hidden = !silent;
    if (!silent) return;
    lost.textContent =
      "Nobody answers: the program behind this page has stopped, or is busy. What is already saved stays saved, and what " +
      "you type now is kept in this browser. Load the page again to go on.";
  };
  const mail = messenger(model, say, silence);
  const shown = new Map();
  const locals = {};
  const beside = h("div", { class: "beside" });

  const show = (name) => {
    const place = shown.get(name);
    const state = model.get(name);
    if (!place || !VIEWS[name] || !state || !Object.keys(state).length) return place && place.replaceChildren();
    const tools = {
      send: mail.send,
      set: mail.set,
      say,
      model,
      units: model.get("units"),
      local: (locals[name] ??= {}),
      redraw: () => show(name),
      later: mail.later,
      during: mail.during,
      part: (other) => `${page}-part-${other}`,
      id: (text) => `${page}-${name}-${plainId(text)}`,
    };
    let fresh;
    try {
      fresh = state.trouble ? h("p", { class: "trouble" }, state.trouble) : VIEWS[name](state, tools);
    } catch (error) {
      console.error(error);
      fresh = h("p", { class: "trouble" }, `This part of the page cannot be shown (${error.message}). Nothing is lost.`);
    }
    if (place.firstChild) morph(place.firstChild, fresh);
    else place.append(fresh);
  };

  const arrange = () => {
    root.className = `enfilade ${model.get("started") ? `acting-${model.get("act")}` : "starting"}`;
    const wanted = model.get("started") ? model.get("sections") : ["start"];
    for (const [name, place] of shown) {
      if (!wanted.includes(name)) {
        place.remove();
        shown.delete(name);
      }
    }
    beside.remove();
    for (const name of wanted) {
      if (!shown.has(name)) shown.set(name, h("div", { class: `part ${name}`, id: `${page}-part-${name}` }));
      const aside = BESIDE.has(name) ? beside : root;
      if (aside === beside && !beside.isConnected) root.append(beside);
      aside.append(shown.get(name));
      show(name);
    }
  };
  const heard = Object.keys(VIEWS).map((name) => [`change:${name}`, () => show(name)]);
  // The page's address tells the room, so that it is there again after a reload, and on the page of the next act.
  const there = () => {
    const room = ((model.get("rooms") || {}).rooms || []).find((one) => one.here);
    if (room) document.dispatchEvent(new CustomEvent("enfilade-room", { detail: room.id }));
  };
  heard.push(["change:sections change:started", arrange], ["change:units", arrange], ["change:rooms", there]);
  for (const [event, handler] of heard) model.on(event, handler);
  arrange();
  there();
  mail.restore();

  let unseen = 0;
  const looking = setInterval(() => {
    // A page that is hidden looks now and then, to say that it is still open.
    unseen = document.hidden ? unseen + 1 : 0;
    if (unseen % 20 === 0 && model.get("started")) mail.look();
  }, 2000);
  const flush = () => mail.flush();
  window.addEventListener("pagehide", flush);
  return () => {
    mail.flush();
    mail.close();
    clearInterval(looking);
    window.removeEventListener("pagehide", flush);
    for (const [event, handler] of heard) model.off(event, handler);
  };
}
