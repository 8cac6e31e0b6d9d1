// What is written over the picture: which way is front, the place of a finding, the points measured.
import { Vector3 } from "three";

const SVG = "http://www.w3.org/2000/svg";
const WAYS = { T: ["front", "left", "up"], A: ["front", "left", "up"], V: ["front", "left", "up"] };

function drawn(kind, attributes, text) {
  const found = document.createElementNS(SVG, kind);
  for (const [name, value] of Object.entries(attributes)) found.setAttribute(name, value);
  if (text !== undefined) found.textContent = text;
  return found;
}

export class Overlay {
  constructor(svg, stage) {
    this.svg = svg;
    this.stage = stage;
    this.marks = []; // {point: () => Vector3, words, kind}
    this.lines = []; // {from, to, words}
    stage.after.push(() => this.draw());
  }

  draw() {
    const { svg, stage } = this;
    svg.setAttribute("viewBox", `0 0 ${stage.width} ${stage.height}`);
    const found = [];
    for (const { from, to, words } of this.lines) {
      const [p, q] = [from(), to()].map((v) => stage.onPicture(v));
      found.push(drawn("line", { x1: p.x, y1: p.y, x2: q.x, y2: q.y, class: "v-halo" }));
      found.push(drawn("line", { x1: p.x, y1: p.y, x2: q.x, y2: q.y, class: "v-rule" }));
      const [dx, dy, span] = [q.x - p.x, q.y - p.y, Math.hypot(q.x - p.x, q.y - p.y) || 1];
      // beside the line, on its upper side
      const side = dx >= 0 ? 1 : -1;
      const off = 16 + words.length * 4.6 * Math.abs(dy / span);
      found.push(this.label((p.x + q.x) / 2 + (side * off * dy) / span, (p.y + q.y) / 2 - (side * 16 * dx) / span + 6, words, "middle"));
    }
    for (const { point, words, kind } of this.marks) {
      const p = stage.onPicture(point());
      if (kind === "place") {
        found.push(drawn("circle", { cx: p.x, cy: p.y, r: 17, class: "v-ring-halo" }));
        found.push(drawn("circle", { cx: p.x, cy: p.y, r: 17, class: "v-ring" }));
        found.push(drawn("circle", { cx: p.x, cy: p.y, r: 3.5, class: "v-dot" }));
        found.push(this.label(p.x, p.y - 25, words, "middle"));
      } else {
        found.push(drawn("path", { d: `M${p.x - 10} ${p.y}h20M${p.x} ${p.y - 10}v20`, class: "v-halo" }));
        found.push(drawn("path", { d: `M${p.x - 10} ${p.y}h20M${p.x} ${p.y - 10}v20`, class: "v-rule" }));
        const other = this.marks.find((m) => m.kind === "measure" && m.words !== words);
        const from = other ? stage.onPicture(other.point()) : { x: p.x - 1, y: p.y - 1 };
        const far = Math.hypot(p.x - from.x, p.y - from.y) || 1;
        found.push(this.label(p.x + (22 * (p.x - from.x)) / far, p.y + (22 * (p.y - from.y)) / far + 6, words, "middle"));
      }
    }
    found.push(...this.axes());
    svg.replaceChildren(...found);
  }

  label(x, y, words, anchor) {
    const half = anchor === "middle" ? words.length * 4.6 : 0;
    const inside = Math.min(Math.max(x, 6 + half), this.stage.width - 6 - (half || words.length * 9.2));
    return drawn("text", { x: inside, y: Math.min(Math.max(y, 18), this.stage.height - 8), "text-anchor": anchor, class: "v-label" }, words);
  }

  axes() {
    const ways = WAYS[this.stage.now?.record.frame];
    if (!ways) return [];
    const [x, y, arm] = [72, this.stage.height - 54, 32];
    const turn = this.stage.camera.quaternion.clone().invert();
    return ways.flatMap((words, axis) => {
      const way = new Vector3().setComponent(axis, 1).applyQuaternion(turn);
      const [u, v] = [x + arm * way.x, y - arm * way.y];
      const line = { x1: x, y1: y, x2: u, y2: v };
      // pointing at the eye there is no room for the word
      const name = Math.hypot(way.x, way.y) < 0.3 ? [] : [
        drawn("text", { x: x + (arm + 14) * way.x, y: y - (arm + 14) * way.y + 5, "text-anchor": "middle", class: "v-way" }, words),
      ];
      return [drawn("line", { ...line, class: "v-halo" }), drawn("line", { ...line, class: `v-axis v-axis-${axis}` }), ...name];
    });
  }
}
