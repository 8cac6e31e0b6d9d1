// Reads what fixturegen/viewer/packing.py writes: corners on a grid, differences in planes of bytes.
import { unzlibSync } from "fflate";

const CREASE = Math.cos((35 * Math.PI) / 180); // facets that meet at less are one surface, as in the pictures

export function bytesOf(text) {
  const raw = atob(text);
  const bytes = new Uint8Array(raw.length);
  for (let i = 0; i < raw.length; i++) bytes[i] = raw.charCodeAt(i);
  return bytes;
}

// Whole numbers from planes of bytes: lowest bytes of all first, signs folded in, differences.
function numbers(bytes, at, count) {
  const found = new Int32Array(count);
  let last = 0;
  for (let i = 0; i < count; i++) {
    const folded =
      (bytes[at + i] | (bytes[at + count + i] << 8) | (bytes[at + 2 * count + i] << 16) | (bytes[at + 3 * count + i] << 24)) >>> 0;
    last += folded & 1 ? -((folded + 1) / 2) : folded / 2;
    found[i] = last;
  }
  return found;
}

// One mesh: corners [mm], facets, sharp edges (pairs of corners), round edges (middle, axis, radius).
export function unpacked(record, store) {
  const [start, length] = record.at;
  const bytes = unzlibSync(store.subarray(start, start + length));
  const view = new DataView(bytes.buffer, bytes.byteOffset);
  const [corners, facets, edges, rims] = [0, 4, 8, 12].map((at) => view.getUint32(at, true));
  let at = 16;
  const take = (count) => {
    const found = numbers(bytes, at, count);
    at += 4 * count;
    return found;
  };
  const grid = take(3 * corners);
  const points = new Float32Array(3 * corners);
  for (let axis = 0; axis < 3; axis++) {
    for (let i = 0; i < corners; i++) points[3 * i + axis] = record.low[axis] + grid[axis * corners + i] * record.step;
  }
  const faces = take(3 * facets);
  const sharp = take(2 * edges);
  const round = new Float32Array(7 * rims);
  for (let i = 0; i < round.length; i++) round[i] = view.getFloat32(at + 4 * i, true);
  return { points, faces, sharp, round };
}

// Corners and normals facet by facet: a corner's normal is the mean of the facets round it that are one surface.
export function shaded({ points, faces }) {
  const count = faces.length / 3;
  const own = new Float32Array(3 * count); // as long as twice the area, so that large facets count for more
  for (let f = 0; f < count; f++) {
    const [a, b, c] = [3 * faces[3 * f], 3 * faces[3 * f + 1], 3 * faces[3 * f + 2]];
    const ux = points[b] - points[a], uy = points[b + 1] - points[a + 1], uz = points[b + 2] - points[a + 2];
    const vx = points[c] - points[a], vy = points[c + 1] - points[a + 1], vz = points[c + 2] - points[a + 2];
    own[3 * f] = uy * vz - uz * vy;
    own[3 * f + 1] = uz * vx - ux * vz;
    own[3 * f + 2] = ux * vy - uy * vx;
  }
  const first = new Int32Array(points.length / 3 + 1);
  for (const corner of faces) first[corner + 1]++;
  for (let i = 1; i < first.length; i++) first[i] += first[i - 1];
  const next = first.slice();
  const round = new Int32Array(faces.length);
  for (let k = 0; k < faces.length; k++) round[next[faces[k]]++] = (k / 3) | 0;
  const position = new Float32Array(3 * faces.length);
  const normal = new Float32Array(3 * faces.length);
  for (let k = 0; k < faces.length; k++) {
    const corner = faces[k];
    const f = 3 * ((k / 3) | 0);
    const long = Math.hypot(own[f], own[f + 1], own[f + 2]) || 1;
    let x = 0, y = 0, z = 0;
    for (let j = first[corner]; j < first[corner + 1]; j++) {
      const g = 3 * round[j];
      const size = Math.hypot(own[g], own[g + 1], own[g + 2]) || 1;
      const alike = (own[f] * own[g] + own[f + 1] * own[g + 1] + own[f + 2] * own[g + 2]) / (long * size);
      if (alike < CREASE) continue;
      x += own[g];
      y += own[g + 1];
      z += own[g + 2];
    }
    const all = Math.hypot(x, y, z) || 1;
    for (let axis = 0; axis < 3; axis++) position[3 * k + axis] = points[3 * corner + axis];
    normal[3 * k] = x / all;
    normal[3 * k + 1] = y / all;
    normal[3 * k + 2] = z / all;
  }
  return { position, normal };
}
