// Elements written down as trees, and put in place of what stands without disturbing who is typing.

const SVG = "http://www.w3.org/2000/svg";
const SVG_TAGS = new Set(
  "svg g path line polyline polygon rect circle ellipse text tspan title desc defs pattern clipPath image use".split(" "),
);
const HELD = new Set(["a", "button", "input", "select", "textarea", "summary"]);
const AS_PROPERTY = new Set(["value", "checked", "indeterminate"]);

/** Return an element. See the contract in DEVELOPERS.md: `on` holds handlers, `key` names it among its siblings. */
export function h(tag, props, ...children) {
  const el = SVG_TAGS.has(tag) ? document.createElementNS(SVG, tag) : document.createElement(tag);
  for (const [name, value] of Object.entries(props || {})) give(el, name, value);
  // JupyterLab has commands on single keys, which look at the element that has the focus; here keys are typed.
  if (HELD.has(tag) || (props && "tabindex" in props)) el.setAttribute("data-lm-suppress-shortcuts", "true");
  for (const child of children.flat(Infinity)) {
    if (child === null || child === undefined || child === false) continue;
    el.append(child instanceof Node ? child : String(child));
  }
  // A choice can be made only once its options are there.
  if (tag === "select" && props && "value" in props) el.value = props.value ?? "";
  return el;
}

function give(el, name, value) {
  if (name === "on") el.handlers = value;
  else if (name === "key") el.key = String(value);
  else if (name === "own") el.own = value;
  else if (AS_PROPERTY.has(name)) {
    el.given = { ...el.given, [name]: value };
    if (value !== null && value !== undefined) el[name] = value;
  } else if (value === true) el.setAttribute(name, "");
  else if (value !== false && value !== null && value !== undefined) el.setAttribute(name, value);
}

/** Make `old` like `fresh`, in place; elements that stay keep their focus, selection and typed text. */
export function morph(old, fresh) {
  if (old.nodeType !== fresh.nodeType || old.nodeName !== fresh.nodeName || old.key !== fresh.key) {
    old.replaceWith(fresh);
    return fresh;
  }
  if (old.nodeType === Node.TEXT_NODE) {
    if (old.data !== fresh.data) old.data = fresh.data;
    return old;
  }
  for (const { name } of [...old.attributes]) {
    const opened = old.nodeName === "DETAILS" && name === "open"; // who reads it decides
    if (!fresh.hasAttribute(name) && !opened) old.removeAttribute(name);
  }
  for (const { name, value } of fresh.attributes) if (old.getAttribute(name) !== value) old.setAttribute(name, value);
  old.handlers = fresh.handlers;
  if (!old.own) morphChildren(old, fresh);
  takeGiven(old, fresh);
  return old;
}

function takeGiven(old, fresh) {
  const held = old === old.getRootNode().activeElement && !["checkbox", "radio", "button"].includes(old.type);
  for (const [name, value] of Object.entries(fresh.given || {})) {
    // What somebody is writing stays; a field that only has the focus takes what is new.
    const busy = held && old[name] !== (old.given || {})[name];
    if (!busy && value !== null && value !== undefined && old[name] !== value) old[name] = value;
  }
  if (old.nodeName === "TEXTAREA" && !fresh.given) old.value = fresh.value;
  old.given = fresh.given;
}

function morphChildren(old, fresh) {
  const keyed = new Map();
  for (const child of old.childNodes) if (child.key !== undefined) keyed.set(child.key, child);
  let at = old.firstChild;
  for (const wanted of [...fresh.childNodes]) {
    const match = wanted.key !== undefined ? keyed.get(wanted.key) : at && at.key === undefined ? at : null;
    if (match && match.nodeName === wanted.nodeName) {
      if (match === at) at = at.nextSibling;
      else moveBefore(old, match, at);
      keyed.delete(wanted.key);
      morph(match, wanted);
    } else old.insertBefore(wanted, at);
  }
  while (at) {
    const next = at.nextSibling;
    at.remove();
    at = next;
  }
}

function moveBefore(parent, child, before) {
  // What is moved in the document loses its focus.
  const focused = child.contains(document.activeElement) ? document.activeElement : null;
  parent.insertBefore(child, before);
  if (focused) focused.focus({ preventScroll: true });
}

const HEARD = ["click", "input", "change", "keydown", "paste", "submit", "focusin", "focusout", "dragover", "drop", "toggle"];
const WRITTEN = new Set(["text", "search", "number", "tel", "url", "email"]);
const CAUGHT = new Set(["toggle"]); // it does not bubble

/** Hear events once for a whole tree: handlers stand on its elements, and follow them when they are morphed. */
export function listen(root) {
  for (const type of HEARD) {
    root.addEventListener(
      type,
      (event) => {
        for (let el = event.target; el && el !== root.parentNode; el = el.parentNode) {
          const handler = el.handlers && el.handlers[type];
          if (handler) handler(event, el);
          if (event.cancelBubble || CAUGHT.has(type)) return;
        }
      },
      CAUGHT.has(type),
    );
  }
  // Enter says that a line is written. Where the page stands in another program, that may keep Enter to itself.
  root.addEventListener("keydown", (event) => {
    const el = event.target;
    if (event.key !== "Enter" || event.isComposing || el.nodeName !== "INPUT" || !WRITTEN.has(el.type)) return;
    event.preventDefault();
    el.dispatchEvent(new Event("change", { bubbles: true }));
  });
}
