// Where bodies stand on the plan [mm], and the clear widths from one of them to what is near.

// As in `clear_round` and `lengths` [mm].
const FARTHEST = 6000;
const EDGE = 12.7;
const TOUCH = 0.8;
const GRAZING = Math.sin((15 * Math.PI) / 180) + 1e-9;

/** Return a point of a body: `u` to the right of its middle, `v` towards its back. */
export function at(body, u, v) {
  const t = (body.turn * Math.PI) / 180;
  return [body.x + u * Math.cos(t) - v * Math.sin(t), body.y + u * Math.sin(t) + v * Math.cos(t)];
}

/** Return how a point lies from a body's middle: to the right, and towards the back. */
export function within(body, [x, y]) {
  const t = (body.turn * Math.PI) / 180;
  const [dx, dy] = [x - body.x, y - body.y];
  return [dx * Math.cos(t) + dy * Math.sin(t), -dx * Math.sin(t) + dy * Math.cos(t)];
}

export function corners(body) {
  const [w, d] = [body.w / 2, body.d / 2];
  return [at(body, -w, -d), at(body, w, -d), at(body, w, d), at(body, -w, d)];
}

/** Return the bodies that move with one: what is set in it, and in that. */
export function carried(bodies, id) {
  const found = [];
  const hosts = [id];
  while (hosts.length) {
    const host = hosts.pop();
    for (const body of bodies) {
      if (body.host === host && !found.includes(body)) {
        found.push(body);
        hosts.push(body.id);
      }
    }
  }
  return found;
}

// The part of a convex ring on one side of a line through `axis` at `value`.
function clipped(ring, axis, value, above) {
  const kept = [];
  for (let i = 0; i < ring.length; i++) {
    const [p, q] = [ring[i], ring[(i + 1) % ring.length]];
    const [a, b] = [p[axis] - value, q[axis] - value].map((one) => (above ? one : -one));
    if (a >= 0) kept.push(p);
    if (a >= 0 !== b >= 0) {
      const share = a / (a - b);
      kept.push([p[0] + (q[0] - p[0]) * share, p[1] + (q[1] - p[1]) * share]);
    }
  }
  return kept;
}

// Shapes in the frame of one side: x along it from its middle, y straight out from it.
function seen(body, side, point) {
  const [u, v] = within(body, point);
  if (side === "front") return [u, -v - body.d / 2];
  if (side === "back") return [-u, v - body.d / 2];
  if (side === "right") return [v, u - body.w / 2];
  return [-v, -u - body.w / 2];
}

function unseen(body, side, [x, y]) {
  if (side === "front") return at(body, x, -y - body.d / 2);
  if (side === "back") return at(body, -x, y + body.d / 2);
  if (side === "right") return at(body, y + body.w / 2, x);
  return at(body, -y - body.w / 2, -x);
}

/**
 * Return the clear width from each side of a body to what stands nearest before it: `{side, mm, name, from, to}`.
 * The rule is that of `clear_round` in Python, which decides; this one keeps up with a hand.
 */
export function clearWidths(body, bodies, walls) {
  if (body.list === "openings") return besideOpening(body, bodies, walls);
  const met = [...thingsBefore(body, bodies), ...wallsBefore(body, bodies, walls)];
  const found = [];
  for (const side of ["front", "back", "left", "right"]) {
    const half = (side === "front" || side === "back" ? body.w : body.d) / 2;
    const inset = Math.min(EDGE, half / 2);
    let best = null;
    for (const { ring, name } of met) {
      let part = ring.map((p) => seen(body, side, p));
      if (part.length === 2 && grazing(part)) continue;
      for (const [axis, value, above] of [[0, inset - half, true], [0, half - inset, false], [1, -TOUCH, true]]) {
        if (part.length) part = clipped(part, axis, value, above);
      }
      if (!part.length) continue;
      const near = Math.min(...part.map(([, y]) => y));
      if (!best || near < best.near - 1e-6) best = { near, name, part };
    }
    if (!best || best.near > FARTHEST) continue;
    const level = best.part.filter(([, y]) => y <= best.near + 1e-3).map(([x]) => x);
    const x = (Math.min(...level) + Math.max(...level)) / 2;
    const mm = Math.max(0, best.near);
    found.push({ side, mm, name: best.name, from: unseen(body, side, [x, 0]), to: unseen(body, side, [x, mm]) });
  }
  return found;
}

function grazing([[ax, ay], [bx, by]]) {
  return Math.abs(bx - ax) / Math.hypot(bx - ax, by - ay) < GRAZING;
}

function thingsBefore(body, bodies) {
  const own = new Set([body.id, ...carried(bodies, body.id).map((one) => one.id)]);
  const others = bodies.filter(
    (one) =>
      one.list === "things" &&
      !own.has(one.id) &&
      one.counts &&
      one.host === body.host &&
      ((!body.hangs && !one.hangs) || shareHeight(body, one)) &&
      !overOrUnder(body, one),
  );
  const tops = others.filter((one) => one.tops);
  return others.map((one) => {
    const top = tops.find((t) => t !== one && holds(t, one) && one.top <= t.top + TOUCH) || one;
    return { ring: one.ring || corners(one), name: top.name };
  });
}

function wallsBefore(body, bodies, walls) {
  const host = body.host && bodies.find((one) => one.id === body.host);
  if (!host) return walls.filter((wall) => !wall.open).map((wall) => ({ ring: [wall.a, wall.b], name: wall.name }));
  const [a, b, c, d] = corners(host);
  const edges = { front: [a, b], right: [b, c], back: [c, d], left: [d, a] };
  return Object.entries(edges).map(([side, ring]) => ({ ring, name: `${side} edge of the ${host.name}` }));
}

function besideOpening(body, bodies, walls) {
  const wall = walls.find((one) => one.id === body.wall);
  if (!wall) return [];
  const length = Math.hypot(wall.b[0] - wall.a[0], wall.b[1] - wall.a[1]);
  const [ux, uy] = [(wall.b[0] - wall.a[0]) / length, (wall.b[1] - wall.a[1]) / length];
  const along = (one) => (one.x - wall.a[0]) * ux + (one.y - wall.a[1]) * uy;
  const [start, end] = [along(body) - body.w / 2, along(body) + body.w / 2];
  let left = { to: 0, name: `left end of the ${wall.name}` };
  let right = { to: length, name: `right end of the ${wall.name}` };
  for (const one of bodies) {
    if (one.list !== "openings" || one.wall !== body.wall || one.id === body.id) continue;
    const [near, far] = [along(one) - one.w / 2, along(one) + one.w / 2];
    if (far <= start + TOUCH && far > left.to) left = { to: far, name: one.name };
    else if (near >= end - TOUCH && near < right.to) right = { to: near, name: one.name };
  }
  const point = (at_) => [wall.a[0] + ux * at_, wall.a[1] + uy * at_];
  return [
    { side: "left", mm: Math.max(0, start - left.to), name: left.name, from: point(start), to: point(left.to) },
    { side: "right", mm: Math.max(0, right.to - end), name: right.name, from: point(end), to: point(right.to) },
  ];
}

const shareHeight = (a, b) => Math.min(a.top, b.top) - Math.max(a.bottom, b.bottom) > TOUCH;

function overOrUnder(one, other) {
  return overlaps(one, other) && (holds(one, other) || holds(other, one) || !shareHeight(one, other));
}

// Whether the middle of one body lies in another.
function holds(body, other) {
  const [u, v] = within(body, [other.x, other.y]);
  return Math.abs(u) <= body.w / 2 + TOUCH && Math.abs(v) <= body.d / 2 + TOUCH;
}

// Two bodies cover each other by more than a touch (separating axes).
function overlaps(one, other) {
  for (const [a, b] of [[one, other], [other, one]]) {
    const ring = corners(b).map((p) => within(a, p));
    const [us, vs] = [ring.map(([u]) => u), ring.map(([, v]) => v)];
    if (Math.min(...us) > a.w / 2 - TOUCH || Math.max(...us) < -a.w / 2 + TOUCH) return false;
    if (Math.min(...vs) > a.d / 2 - TOUCH || Math.max(...vs) < -a.d / 2 + TOUCH) return false;
  }
  return true;
}
