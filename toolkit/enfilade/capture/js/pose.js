// Where a hand puts a body: on the step, against a wall that is near, along the side of its host.

import { at, within } from "./bodies.js";

const NEAR_WALL_MM = 120;
const LEAVES_WALL_MM = 250;
const THROUGH_WALL_MM = 1500;
const NEAR_TURN_DEG = 25;

const onStep = (value, step) => Math.round(value / step) * step;
const angle = (deg) => ((((deg + 180) % 360) + 360) % 360) - 180;

/** Return the next step from a value in a direction; none (0) leaves it where it is. */
export function nextStep(value, way, step) {
  if (way > 0) return (Math.floor(value / step + 1e-6) + 1) * step;
  return way < 0 ? (Math.ceil(value / step - 1e-6) - 1) * step : value;
}

/** A wall as a frame: how far along it from its left end, and how far out into the room. */
export function frameOf(wall) {
  const [dx, dy] = [wall.b[0] - wall.a[0], wall.b[1] - wall.a[1]];
  const length = Math.hypot(dx, dy);
  const [ux, uy] = [dx / length, dy / length];
  return {
    length,
    turn: (Math.atan2(uy, ux) * 180) / Math.PI,
    place: ([x, y]) => [(x - wall.a[0]) * ux + (y - wall.a[1]) * uy, (x - wall.a[0]) * uy - (y - wall.a[1]) * ux],
    point: (along, out) => [wall.a[0] + ux * along + uy * out, wall.a[1] + uy * along - ux * out],
  };
}

function againstWall(body, wall, middle, step) {
  const frame = frameOf(wall);
  const [along] = frame.place(middle);
  const left = onStep(along - body.w / 2, step);
  const most = Math.max(0, frame.length - body.w);
  const offset = Math.min(Math.max(left, 0), most);
  const gap = body.wall === wall.id ? body.gap : 0;
  const [x, y] = frame.point(offset + body.w / 2, gap + body.d / 2);
  return { x, y, turn: frame.turn, wall: wall.id };
}

function alongOpening(body, wall, middle, step) {
  const frame = frameOf(wall);
  const offset = Math.min(Math.max(onStep(frame.place(middle)[0] - body.w / 2, step), 0), frame.length - body.w);
  const [x, y] = frame.point(offset + body.w / 2, -body.d / 2);
  return { x, y, turn: frame.turn, wall: wall.id };
}

function inHost(body, host, middle, step) {
  const [u, v] = within(host, middle);
  const turned = Math.abs(angle(body.turn - host.turn)) % 180 > 45;
  const [w, d] = turned ? [body.d, body.w] : [body.w, body.d];
  const [mu, mv] = [Math.max(0, (host.w - w) / 2), Math.max(0, (host.d - d) / 2)];
  const hold = (value, most) => Math.min(Math.max(value, -most), most);
  const su = onStep(u + host.w / 2 - w / 2, step) - host.w / 2 + w / 2;
  const sv = onStep(v + host.d / 2 - d / 2, step) - host.d / 2 + d / 2;
  const [x, y] = at(host, hold(su, mu), hold(sv, mv));
  return { x, y, turn: body.turn, wall: null };
}

/**
 * Return the pose of a body whose middle a hand holds at a point: `{x, y, turn, wall}`.
 * @param body its state before it was taken
 * @param middle where the hand holds its middle [mm]
 * @param plan bodies and walls
 * @param step [mm]
 */
export function posed(body, middle, plan, step, hardly = step / 2) {
  const walls = plan.walls.filter((wall) => !wall.open && (!wall.beyond || wall.id === body.wall));
  if (body.list === "openings") {
    const wall = walls.find((one) => one.id === body.wall);
    return wall ? alongOpening(body, wall, middle, step) : null;
  }
  if (body.host) {
    const host = plan.bodies.find((one) => one.id === body.host);
    return host ? inHost(body, host, middle, step) : null;
  }
  let best = null;
  for (const wall of walls) {
    const frame = frameOf(wall);
    const [along, out] = frame.place(middle);
    const gap = out - body.d / 2 - (body.wall === wall.id ? body.gap : 0);
    const reach = body.wall === wall.id ? LEAVES_WALL_MM : NEAR_WALL_MM;
    const square = Math.abs(angle(body.turn - frame.turn)) < NEAR_TURN_DEG || body.wall !== null;
    // A hand that goes on through a wall leaves the thing standing at it.
    if (!square || gap > reach || gap < -THROUGH_WALL_MM || along < 0 || along > frame.length) continue;
    if (!best || Math.abs(gap) < best.gap) best = { gap: Math.abs(gap), wall };
  }
  if (best) return againstWall(body, best.wall, middle, step);
  // An axis along which it was hardly moved keeps its place, off the steps or not.
  const [x, y] = [body.x, body.y].map((was, i) => (middle[i] === was || Math.abs(middle[i] - was) < hardly ? was : onStep(middle[i], step)));
  return { x, y, turn: body.turn, wall: null };
}
