// Where a finding is to be seen: which scene, which pose, which point, which bodies.
import { Matrix4, Vector3 } from "three";

const CORNERS = ["ride", "bump", "droop", "cross-L", "cross-R"];

function matrix(line) {
  return new Matrix4().set(...line, 0, 0, 0, 1);
}

// Index of the pose a finding names ("bump+lock-L", "cross-R, steered 32 deg to the right", "h+050r-03").
export function poseOf(motions, name) {
  if (!motions || !name) return 0;
  const exact = motions.poses.findIndex((p) => p[3] === name);
  if (exact >= 0) return exact;
  const steered = /lock-L|to the left/.test(name) ? 1 : /lock-R|to the right/.test(name) ? -1 : 0;
  const half = /half/.test(name) ? 0.5 : 1;
  const lock = Math.max(...motions.poses.map((p) => Math.abs(p[2])));
  const head = CORNERS.find((c) => name.startsWith(c) || (c === "ride" && name.startsWith("any")));
  const read = /^h([+-]\d+)r([+-]\d+)/.exec(name);
  const ride = motions.poses.find((p) => p[3] === (head || "ride")) || motions.poses[0];
  const [heave, roll] = read ? [Number(read[1]), Number(read[2])] : ride;
  const off = (p) => Math.abs(p[0] - heave) + 10 * Math.abs(p[1] - roll) + 10 * Math.abs(p[2] - steered * half * lock);
  let best = 0;
  motions.poses.forEach((p, k) => {
    if (off(p) < off(motions.poses[best]) - 1e-9) best = k;
  });
  return best;
}

// Name of the scene in which a finding is best seen; null where it has no place at all.
export function sceneOf(data, finding, now) {
  const has = (s) => finding.parts.some((name) => s.bodies.some((b) => b.name === name));
  const travel = data.scenes.find((s) => s.motions);
  if (travel && (finding.frame === "V" || (finding.pose && finding.frame === "A")) && (finding.point || has(travel))) {
    return travel.name;
  }
  const framed = (s) => !finding.point || finding.frame === "P" || s.frame === finding.frame || finding.frame in s.frames;
  // best where both its parts and its point can be shown, in the scene it names or the one that is open
  const order = [finding.assembly, now].flatMap((name) => data.scenes.filter((s) => s.name === name)).concat(data.scenes);
  const found =
    order.find((s) => has(s) && framed(s)) || (finding.point && order.find(framed)) || order.find((s) => has(s));
  return found ? found.name : null;
}

// How to find the finding's point in the picture, exploded or not; null where it has none that can be shown.
export function pointOf(stage, finding) {
  if (!finding.point) return null;
  const { record, bodies } = stage.now;
  const own = bodies.find((one) => one.body.part && finding.parts.includes(one.body.name));
  const raw = new Vector3(...finding.point);
  const shift = () => (own ? own.shift.clone().multiplyScalar(stage.apart) : new Vector3());
  if (finding.frame === "P") {
    return own ? () => raw.clone().applyMatrix4(own.holder.matrix) : null;
  }
  if (finding.frame === record.frame) return () => raw.clone().add(shift());
  if (finding.frame in record.frames) return () => raw.clone().applyMatrix4(matrix(record.frames[finding.frame])).add(shift());
  if (record.motions && finding.frame === "A") {
    return () => {
      const moved = stage.moved("axle");
      return raw.clone().applyMatrix4(moved || new Matrix4()).add(shift());
    };
  }
  return null;
}
