// The drawing in the page, and the hand on it: choosing, dragging, the arrow keys, clear widths as they change.

import { carried, clearWidths, corners, within } from "./bodies.js";
import { h } from "./dom.js";
import { STEPS } from "./lengths.js";
import { outline, widthsOf } from "./overlay.js";
import { nextStep, posed } from "./pose.js";
import { underHand } from "./underhand.js";

const SLOP_PX = 4;
const FINGER_PX = 16;
const PAUSE_MS = 350;

export class Handled {
  constructor(tools) {
    this.tools = tools;
    this.seq = 0;
    this.taken = null;
    this.nudging = null;
    this.placed = null;
  }

  /** Show a state of the plan; what a hand holds meanwhile stays in the hand. */
  show(state) {
    const sheet = document.querySelector(`[data-plan="${this.tools.id("plan")}"]`);
    if (!sheet) return;
    if (sheet !== this.sheet) this.enter(sheet);
    this.state = state;
    if (this.taken && this.taken.moved) return;
    this.placed = null;
    this.sheet.classList.remove("holding");
    if (state.svg !== this.markup) {
      this.markup = state.svg;
      const drawn = new DOMParser().parseFromString(state.svg, "image/svg+xml").documentElement;
      drawn.removeAttribute("role");
      drawn.removeAttribute("aria-labelledby");
      drawn.setAttribute("aria-hidden", "true");
      this.svg = document.importNode(drawn, true);
      this.over = h("g", { class: "over" });
      this.svg.append(this.over);
      this.scale = Number(this.svg.dataset.scale);
      this.origin = [Number(this.svg.dataset.originX), Number(this.svg.dataset.originY)];
      sheet.replaceChildren(this.svg);
    }
    this.fit();
    this.mark();
  }

  enter(sheet) {
    this.sheet = sheet;
    this.markup = null;
    sheet.addEventListener("pointerdown", (event) => this.take(event));
    sheet.addEventListener("pointermove", (event) => this.move(event));
    sheet.addEventListener("pointerup", (event) => this.letGo(event));
    sheet.addEventListener("pointercancel", () => this.drop(false));
    sheet.addEventListener("keydown", (event) => this.key(event));
    sheet.addEventListener("blur", () => this.settle());
    // A finger that drags what it chose must not scroll the page as well.
    sheet.addEventListener("touchmove", (event) => this.taken && event.preventDefault(), { passive: false });
    new ResizeObserver(() => this.fit()).observe(sheet);
    this.tools.model.on("change:live", () => this.live(this.tools.model.get("live")));
  }

  /** Ask for the drawing at the width that it has here, so that its words are as large as the page's. */
  fit(now = false) {
    const { zoom } = this.tools.local;
    const [, , wide, high] = this.svg ? this.svg.getAttribute("viewBox").split(" ").map(Number) : [0, 0, 1, 1];
    // The whole room is to be seen at once, unless that makes it small.
    const room = Math.min(this.sheet.clientWidth, Math.max((window.innerHeight * 0.9 * wide) / high, 560));
    if (!this.sheet.clientWidth) return;
    const px = Math.round(Math.max(room, 300) * zoom);
    if (this.svg) this.svg.style.width = `${px}px`;
    this.sheet.classList.toggle("closer", zoom > 1);
    if (Math.abs(px - this.state.px) < 24 || px === this.asked) return;
    this.asked = px;
    clearTimeout(this.fitting);
    this.fitting = setTimeout(() => this.tools.send({ do: "plan width", px }, [], true), now ? 0 : 150);
  }

  sheetPoint([x, y]) {
    return [this.origin[0] + x * this.scale, this.origin[1] - y * this.scale];
  }

  housePoint(event) {
    const p = new DOMPoint(event.clientX, event.clientY).matrixTransform(this.svg.getScreenCTM().inverse());
    return [(p.x - this.origin[0]) / this.scale, (this.origin[1] - p.y) / this.scale];
  }

  get chosen() {
    const [list, id] = this.state.selected || [];
    return this.state.bodies.find((body) => body.list === list && body.id === id) || null;
  }

  get here() {
    return this.state.bodies.filter((body) => !body.beyond);
  }

  get step() {
    return STEPS[this.tools.units][this.tools.local.fine ? "fine" : "coarse"];
  }

  /** The bodies under a point, the smallest first; a finger reaches a little further than a pointer. */
  under(point, event) {
    const px = this.scale * (this.svg.getScreenCTM().a || 1);
    const reach = (event.pointerType === "touch" ? FINGER_PX : 3) / px;
    return this.here
      .filter((body) => {
        const [u, v] = within(body, point);
        return Math.abs(u) <= Math.max(body.w / 2, reach) && Math.abs(v) <= Math.max(body.d / 2, reach);
      })
      .sort((a, b) => a.w * a.d - b.w * b.d);
  }

  take(event) {
    if (event.button || !this.svg) return;
    this.settle();
    const point = this.housePoint(event);
    const under = this.under(point, event);
    const before = this.chosen;
    // What is chosen stays in the hand even where something smaller lies over it.
    const body = before && under.includes(before) ? before : under[0];
    if (!body) {
      if (event.pointerType !== "touch" && this.state.selected) this.select(null);
      return;
    }
    this.taken = { body, point, at: [event.clientX, event.clientY], under, was: before, moved: false, held: null };
    if (event.pointerType !== "touch" || body === before) {
      this.sheet.setPointerCapture(event.pointerId);
      event.preventDefault();
      this.sheet.focus({ preventScroll: true });
    }
  }

  move(event) {
    const taken = this.taken;
    if (!taken) return;
    const far = Math.hypot(event.clientX - taken.at[0], event.clientY - taken.at[1]);
    if (!taken.moved && far < SLOP_PX) return;
    if (event.pointerType === "touch" && taken.body !== taken.was) return void (this.taken = null); // it scrolls
    if (!taken.moved && taken.body !== taken.was) this.select(taken.body);
    taken.moved = true;
    const [x, y] = this.housePoint(event);
    const middle = [taken.body.x + x - taken.point[0], taken.body.y + y - taken.point[1]];
    const step = event.shiftKey ? STEPS[this.tools.units].fine : this.step;
    this.hold(taken, posed(taken.body, middle, this.state, step));
  }

  /** Show a body where it is held, with its clear widths, and ask what that does to the findings. */
  hold(taken, pose) {
    if (!pose) return;
    const started = performance.now();
    taken.held = pose;
    const { body } = taken;
    const [ax, ay] = this.sheetPoint([body.x, body.y]);
    const [bx, by] = this.sheetPoint([pose.x, pose.y]);
    const turn = body.turn - pose.turn;
    const moving = `translate(${bx - ax} ${by - ay}) rotate(${turn} ${ax} ${ay})`;
    for (const group of this.groupsOf(body)) group.setAttribute("transform", moving);
    this.sheet.classList.add("holding");
    this.overlay({ ...body, ...pose });
    this.sheet.dataset.redrawMs = (performance.now() - started).toFixed(2);
    this.seq += 1;
    this.sheet.dataset.seq = this.seq;
    this.tools.model.set("hand", { seq: this.seq, id: body.id, list: body.list, ...pose });
    this.tools.model.save_changes();
  }

  groupsOf(body) {
    const ids = [body.id, ...carried(this.state.bodies, body.id).map((one) => one.id)];
    return ids.flatMap((id) => [...this.svg.querySelectorAll(`g[data-subject="${CSS.escape(id)}"]`)]);
  }

  letGo(event) {
    const taken = this.taken;
    if (!taken) return;
    if (taken.moved) return this.drop(true);
    this.taken = null;
    const at = taken.under.indexOf(taken.was);
    // A second touch on the same place takes what lies under it.
    const next = at >= 0 ? taken.under[(at + 1) % taken.under.length] : taken.under[0];
    if (next !== taken.was) this.select(next);
    event.preventDefault();
  }

  drop(keep) {
    const taken = this.taken;
    this.taken = null;
    if (!taken || !taken.held) return;
    const put = () => {
      this.sheet.classList.remove("holding");
      for (const group of this.groupsOf(taken.body)) group.removeAttribute("transform");
      this.mark();
    };
    if (!keep) return put();
    const { x, y, turn, wall } = taken.held;
    // Until the answer is there, the next step goes on from here.
    this.placed = { id: taken.body.id, held: taken.held };
    this.tools.send({ do: "move", list: taken.body.list, id: taken.body.id, x, y, turn, wall }).then((answer) => {
      if (!answer.ok) put();
    });
  }

  select(body) {
    return this.tools.send({ do: "select", list: body ? body.list : null, id: body ? body.id : null });
  }

  key(event) {
    const body = this.chosen;
    const fine = event.shiftKey;
    const step = STEPS[this.tools.units][fine || this.tools.local.fine ? "fine" : "coarse"];
    const way = { ArrowLeft: [-1, 0], ArrowRight: [1, 0], ArrowUp: [0, 1], ArrowDown: [0, -1] }[event.key];
    if (event.ctrlKey || event.metaKey || event.altKey) return;
    if (way && body) this.nudge(body, way, step);
    else if (event.key === "PageDown" || event.key === "PageUp") this.next(event.key === "PageDown" ? 1 : -1);
    else if (event.key === "Escape" && this.taken) this.drop(false);
    else if (event.key === "Escape") this.select(null);
    else if ((event.key === "r" || event.key === "R") && body) {
      this.settle();
      this.tools.send({ do: "turn", list: body.list, id: body.id, deg: fine ? 15 : 90 });
    } else if (event.key === "Delete" && body) this.tools.send({ do: "remove", list: body.list, id: body.id });
    else return;
    event.preventDefault();
    event.stopPropagation();
  }

  /** Move by steps: shown at once, put down after a pause. */
  nudge(body, [dx, dy], step) {
    const from = this.placed && this.placed.id === body.id ? this.placed.held : body;
    const taken = this.taken || { body, moved: true, held: { x: from.x, y: from.y, turn: from.turn, wall: from.wall } };
    this.taken = taken;
    const free = !taken.held.wall && !body.host && body.list === "things";
    const { x, y } = taken.held;
    const middle = free ? [nextStep(x, dx, step), nextStep(y, dy, step)] : [x + dx * step, y + dy * step];
    const pose = posed({ ...body, x, y, wall: taken.held.wall }, middle, this.state, step, 0);
    this.hold(taken, pose || taken.held);
    clearTimeout(this.nudging);
    this.nudging = setTimeout(() => this.settle(), PAUSE_MS);
  }

  settle() {
    clearTimeout(this.nudging);
    if (this.taken && this.taken.moved && !this.taken.point) this.drop(true);
  }

  next(way) {
    const bodies = this.here;
    if (!bodies.length) return;
    const at = bodies.indexOf(this.chosen);
    this.select(bodies[(at + way + bodies.length) % bodies.length]);
  }

  mark() {
    const body = this.chosen;
    this.overlay(body, true);
    const wall = this.state.selected && this.state.walls.find((one) => one.id === this.state.selected[1]);
    if (wall && !body) this.over.append(outline([wall.a, wall.b].map((p) => this.sheetPoint(p)), false));
  }

  overlay(body, settled = false) {
    this.over.replaceChildren();
    if (!body) return underHand(this.under_, null, this.tools);
    const ring = corners(body).map((p) => this.sheetPoint(p));
    const widths = clearWidths(body, this.state.bodies, this.state.walls);
    this.over.append(outline(ring, true), ...widthsOf(widths, (p) => this.sheetPoint(p), this.tools.units));
    underHand(this.under_, { body, widths, settled }, this.tools);
  }

  get under_() {
    return this.sheet.parentNode.querySelector(".underhand");
  }

  live(state) {
    if (!this.sheet || !this.sheet.isConnected || !state) return;
    underHand(this.under_, { live: state }, this.tools);
    this.sheet.dataset.tookMs = state.took_ms;
    this.sheet.dataset.judged = state.seq;
  }
}
