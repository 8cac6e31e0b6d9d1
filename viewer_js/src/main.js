// Begins when the page is read: shows the 3-D view where the browser can draw it, else leaves the page as it is.
import { Box3, Vector3 } from "three";
import { Overlay } from "./overlay.js";
import { Panels } from "./panels.js";
import { pointOf, poseOf, sceneOf } from "./places.js";
import { VIEWS, Stage } from "./stage.js";
import { snapped } from "./measure.js";
import { Travel } from "./travel.js";
import { bytesOf } from "./unpack.js";

const STILL = 9; // px a finger may wander and still tap
const ROUND = 110; // mm round the place of a finding that are shown at least
const $ = (id) => document.getElementById(id);

class View {
  constructor(data, store) {
    this.data = data;
    this.units = data.units;
    this.stage = new Stage($("v-canvas"), data, store);
    this.overlay = new Overlay($("v-overlay"), this.stage);
    this.travel = new Travel(this);
    this.panels = new Panels(this);
    this.parts = new Map(data.parts.map((p) => [p.name, p]));
    this.mode = "pick";
    this.finding = null;
    this.hand();
    this.keys();
    this.show(data.scenes[0].name);
  }

  say(words) {
    $("v-status").textContent = words;
  }

  show(name, direction = VIEWS.corner) {
    this.clear();
    this.stage.show(name);
    this.stage.fit(direction);
    $("v-scene").value = name;
    this.travel.scene();
    this.panels.scene();
    const [note] = this.stage.now.record.motions ? [] : this.stage.now.record.notes;
    this.say(`${this.stage.now.record.title}. ${note || ""}`);
  }

  clear() {
    this.stage.chosen = new Set();
    this.finding = null;
    this.overlay.marks = [];
    this.overlay.lines = [];
    this.panels.measured = [];
    if (this.stage.now) this.stage.look();
  }

  // A part by name: chosen, and shown where it is not seen; empty for none.
  pick(name, { aim = false } = {}) {
    const { stage } = this;
    this.finding = null;
    this.overlay.marks = this.overlay.marks.filter((m) => m.kind !== "place");
    if (!name) {
      stage.chosen = new Set();
      stage.look();
      this.panels.part(null);
      this.say("Nothing chosen.");
      return;
    }
    if (!stage.now.bodies.some((one) => one.body.name === name)) {
      const other = this.data.scenes.find((s) => s.bodies.some((b) => b.name === name));
      if (other) this.show(other.name);
    }
    stage.hidden.get(stage.now.record.name).delete(name);
    stage.chosen = new Set([name]);
    stage.look();
    if (aim) {
      const box = stage.bounds(stage.seen(name));
      if (!box.isEmpty()) stage.aim(box.expandByScalar(0.6 * box.getSize(new Vector3()).length()));
    }
    this.panels.part(name);
    const known = this.parts.get(name);
    this.say(known ? `${name}: ${known.label}` : stage.now.bodies.find((one) => one.body.name === name)?.body.label || name);
  }

  // To the place of a finding, by its number in the list.
  goTo(number) {
    const { stage, data } = this;
    const finding = data.findings[number];
    const name = sceneOf(data, finding, stage.now.record.name);
    if (name && name !== stage.now.record.name) this.show(name);
    this.finding = number;
    this.overlay.marks = [];
    this.overlay.lines = [];
    if (!name) {
      stage.chosen = new Set();
      stage.look();
      this.panels.told(finding, false);
      this.say(`${finding.code} has no place in the picture.`);
      return;
    }
    if (stage.now.record.motions) this.travel.toPose(poseOf(stage.now.record.motions, finding.pose));
    const hidden = stage.hidden.get(name);
    for (const part of finding.parts) hidden.delete(part);
    stage.chosen = new Set(finding.parts.filter((p) => stage.now.bodies.some((one) => one.body.name === p)));
    stage.look();
    const box = new Box3();
    const point = pointOf(stage, finding);
    if (point) {
      box.setFromCenterAndSize(point(), new Vector3(2, 2, 2).multiplyScalar(ROUND));
      this.overlay.marks = [{ point, words: finding.code, kind: "place" }];
    } else {
      box.copy(stage.bounds(stage.now.bodies.filter((one) => stage.chosen.has(one.body.name) && one.holder.visible)));
      if (!box.isEmpty()) box.expandByScalar(ROUND / 2);
    }
    if (box.isEmpty()) stage.fit();
    else stage.aim(box);
    this.panels.told(finding, true);
    this.say(`${finding.code}: ${stage.now.record.title.toLowerCase()}${finding.pose ? `, ${finding.pose}` : ""}.`);
  }

  tap(x, y) {
    if (this.mode === "measure") {
      const point = snapped(this.stage, x, y);
      if (point) this.panels.measure(point);
      else this.say("Nothing there to measure from: tap on steel.");
      return;
    }
    const hit = this.stage.under(x, y);
    this.pick(hit ? hit.one.body.name : null);
    if (hit) this.panels.open("parts");
    document.querySelector(".v-side").scrollTop = 0;
  }

  // Fingers and mouse: a tap picks; turning, moving and zooming are the controls'.
  hand() {
    const canvas = this.stage.canvas;
    const down = new Map();
    let many = false;
    canvas.addEventListener("pointerdown", (event) => {
      canvas.focus({ preventScroll: true });
      if (!down.size) many = false;
      down.set(event.pointerId, [event.clientX, event.clientY]);
      many = many || down.size > 1;
    });
    const up = (event) => {
      const from = down.get(event.pointerId);
      down.delete(event.pointerId);
      if (!from || many || event.type === "pointercancel" || event.button > 0) return;
      if (Math.hypot(event.clientX - from[0], event.clientY - from[1]) > STILL) return;
      const box = canvas.getBoundingClientRect();
      this.tap(event.clientX - box.left, event.clientY - box.top);
    };
    canvas.addEventListener("pointerup", up);
    canvas.addEventListener("pointercancel", up);
    // a wheel scrolls the page until the picture is in use
    canvas.addEventListener("wheel", (event) => {
      if (document.activeElement !== canvas) event.stopImmediatePropagation();
    }, { capture: true });
    canvas.addEventListener("contextmenu", (event) => event.preventDefault());
  }

  keys() {
    const { stage } = this;
    const turn = 0.13; // rad a key press
    const moves = {
      ArrowLeft: [-1, 0], ArrowRight: [1, 0], ArrowUp: [0, 1], ArrowDown: [0, -1],
    };
    stage.canvas.addEventListener("keydown", (event) => {
      if (event.ctrlKey || event.metaKey || event.altKey) return;
      const move = moves[event.key];
      if (move && event.shiftKey) stage.pan(0.06 * move[0], 0.06 * move[1]);
      else if (move) stage.turn(turn * move[0], turn * move[1]);
      else if (event.key === "+" || event.key === "=") stage.zoom(1.2);
      else if (event.key === "-") stage.zoom(1 / 1.2);
      else if (event.key === "Home") stage.fit();
      else if (event.key === "n" || event.key === "p") this.step(event.key === "n" ? 1 : -1);
      else if (event.key === "h") this.hideChosen();
      else if (event.key === "Enter") this.tap(stage.width / 2, stage.height / 2);
      else if (event.key === "Escape") {
        this.clear();
        this.panels.part(null);
        this.panels.measureCleared();
      } else return;
      event.preventDefault();
    });
  }

  step(way) {
    const names = [...new Set(this.stage.now.bodies.filter((one) => one.body.part).map((one) => one.body.name))];
    if (!names.length) return;
    const at = names.findIndex((name) => this.stage.chosen.has(name));
    this.pick(names[(at + way + (at < 0 && way < 0 ? 1 : 0) + names.length) % names.length]);
  }

  hideChosen() {
    const hidden = this.stage.hidden.get(this.stage.now.record.name);
    for (const name of this.stage.chosen) hidden.add(name);
    const gone = [...this.stage.chosen].join(", ");
    if (gone) {
      this.pick(null);
      this.panels.lists();
      this.say(`${gone} hidden.`);
    }
  }
}

function begin() {
  const data = window.fixturegenData;
  try {
    $("view").hidden = false;
    const view = new View(data, bytesOf($("view-bytes").textContent.trim()));
    document.documentElement.dataset.view = "begun";
    view.stage.after.push(() => {
      if (document.documentElement.dataset.view !== "drawn") performance.mark("view drawn");
      document.documentElement.dataset.view = "drawn";
    });
    // for whoever tries the page out from its console, and for its tests
    window.fixturegenView = view;
  } catch (fault) {
    // the loader says that there is no view
    console.info("no 3-D view:", fault.message);
  }
}

begin();
