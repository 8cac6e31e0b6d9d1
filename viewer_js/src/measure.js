// Points that people measure from: middles of holes and rounds, corners, edges; a bare surface where there is none.
import { Vector3 } from "three";

const REACH = { corner: 16, middle: 20, rim: 12, edge: 12 }; // px round the finger
const BEND = Math.cos((35 * Math.PI) / 180); // edges that bend less go on
const HIDDEN = 0.6; // mm a point may lie behind what is seen before it: meshes lie so far off, and rounding
const COVERED = 2; // mm for the middle of a hole, which lies in the air

// Corners of a mesh: where sharp edges end, meet or bend.
function cornersOf(mesh) {
  if (mesh.corners) return mesh.corners;
  const beside = new Map();
  for (let k = 0; k < mesh.sharp.length; k += 2) {
    const [a, b] = [mesh.sharp[k], mesh.sharp[k + 1]];
    beside.set(a, [...(beside.get(a) || []), b]);
    beside.set(b, [...(beside.get(b) || []), a]);
  }
  const at = (i) => new Vector3(mesh.points[3 * i], mesh.points[3 * i + 1], mesh.points[3 * i + 2]);
  mesh.corners = [];
  for (const [corner, others] of beside) {
    const here = at(corner);
    if (others.length === 2) {
      const [p, q] = others.map((o) => at(o).sub(here).normalize());
      if (-p.dot(q) > BEND) continue;
    }
    mesh.corners.push(here);
  }
  return mesh.corners;
}

function nearestOn(a, b, p) {
  const way = b.clone().sub(a);
  const share = Math.min(1, Math.max(0, p.clone().sub(a).dot(way) / (way.lengthSq() || 1)));
  return a.clone().addScaledVector(way, share);
}

// What a tap at a place of the picture means: {one, local, kind, words, radius}; null on empty paper.
export function snapped(stage, x, y) {
  const hit = stage.under(x, y);
  const found = [];
  const near = (one, local, kind, reach, more = {}) => {
    const world = local.clone().applyMatrix4(one.holder.matrix);
    if (stage.cut && stage.plane.distanceToPoint(world) < -HIDDEN) return;
    const p = stage.onPicture(world);
    const off = Math.hypot(p.x - x, p.y - y);
    if (off <= reach) found.push({ one, local, kind, off: off / reach, depth: p.depth, world, ...more });
  };
  for (const one of stage.now.bodies) {
    if (!one.holder.visible || (one.through && !(hit && hit.one === one))) continue;
    for (const corner of cornersOf(one.mesh)) near(one, corner, "corner", REACH.corner);
    const { round } = one.mesh;
    for (let k = 0; k < round.length; k += 7) {
      const middle = new Vector3(round[k], round[k + 1], round[k + 2]);
      const more = { radius: round[k + 6] };
      near(one, middle, "middle", REACH.middle, more);
      if (!hit || hit.one !== one) continue;
      const axis = new Vector3(round[k + 3], round[k + 4], round[k + 5]);
      const touch = hit.point.clone().applyMatrix4(one.holder.matrix.clone().invert()).sub(middle);
      const height = touch.dot(axis);
      const onRim = touch.addScaledVector(axis, -height);
      if (onRim.length() < 1e-6) continue;
      const rim = onRim.setLength(round[k + 6]).add(middle).applyMatrix4(one.holder.matrix);
      const p = stage.onPicture(rim);
      const off = Math.hypot(p.x - x, p.y - y);
      if (off <= REACH.rim) {
        const world = middle.clone().applyMatrix4(one.holder.matrix);
        found.push({ one, local: middle, kind: "middle", off: 0.5 + off / REACH.rim, depth: stage.onPicture(rim).depth, world, ...more });
      }
    }
  }
  found.sort((p, q) => p.off - q.off || p.depth - q.depth);
  const open = found.find((p) => (p.kind === "middle" ? !covers(hit) || behind(stage, p, hit) < COVERED : inSight(stage, p)));
  if (open) return open;
  if (!hit) return null;
  const local = hit.point.clone().applyMatrix4(hit.one.holder.matrix.clone().invert());
  const { points, sharp } = hit.one.mesh;
  let best = null;
  for (let k = 0; k < sharp.length; k += 2) {
    const [a, b] = [sharp[k], sharp[k + 1]].map((i) => new Vector3(points[3 * i], points[3 * i + 1], points[3 * i + 2]));
    const on = nearestOn(a, b, local);
    const p = stage.onPicture(on.clone().applyMatrix4(hit.one.holder.matrix));
    const off = Math.hypot(p.x - x, p.y - y);
    if (off <= REACH.edge && (!best || off < best.off)) best = { one: hit.one, local: on, kind: "edge", off };
  }
  return best || { one: hit.one, local, kind: "surface" };
}

// What is seen through hides nothing.
function covers(hit) {
  return hit && !hit.one.through;
}

// How far a point lies behind what is hit, along the line of sight [mm].
function behind(stage, point, hit) {
  const way = stage.camera.getWorldDirection(new Vector3());
  return point.world.clone().sub(hit.point).dot(way);
}

function inSight(stage, point) {
  const p = stage.onPicture(point.world);
  const hit = stage.under(p.x, p.y);
  return !covers(hit) || behind(stage, point, hit) < Math.max(HIDDEN, 0.002 * stage.reach);
}

export const WORDS = { corner: "corner", middle: "middle of the hole or round", edge: "edge", surface: "surface" };

// Where a point stands as assembled: without what the exploded view adds.
export function assembled(point) {
  return point.local.clone().applyMatrix4(point.one.true);
}

export function shown(point) {
  return point.local.clone().applyMatrix4(point.one.holder.matrix);
}
