// The panels beside the picture: parts, findings, section, exploded view, travel, measure.
import { assembled, shown, WORDS } from "./measure.js";
import { VIEWS } from "./stage.js";
import { both, LEVELS, long, quantity, short } from "./words.js";

const $ = (id) => document.getElementById(id);
const TABS = ["parts", "findings", "section", "spread", "travel", "measure"];
const STEPS = 1000; // of the slider of the section
const AXES = [
  ["forward of the axle line", "rearward of the axle line"],
  ["to the left of the middle", "to the right of the middle"],
  ["up", "down"],
];
const MIDDLE = 0.05; // mm; nearer is in the middle
const LEVEL_OF = { T: "above the table", A: "above the axle line", V: "above the ground", P: "above the table" };

function made(tag, more = {}, ...inside) {
  const { data, ...rest } = more;
  const found = Object.assign(document.createElement(tag), rest);
  Object.assign(found.dataset, data);
  found.append(...inside);
  return found;
}

function groupWords(group) {
  return group.replace(/-l$/, " left").replace(/-r$/, " right").replace(/[-_]/g, " ");
}

export class Panels {
  constructor(view) {
    this.view = view;
    this.stage = view.stage;
    this.measured = [];
    this.level = "all";
    this.tabs();
    this.bar();
    this.findings();
    this.sectionControls();
    $("v-apart").addEventListener("input", () => {
      this.stage.apart = Number($("v-apart").value) / 100;
      $("v-apart").setAttribute("aria-valuetext", `${$("v-apart").value} of 100 apart`);
      this.stage.place();
    });
    $("v-apart").addEventListener("change", () => this.stage.fit());
    $("v-measure-clear").addEventListener("click", () => this.measureCleared());
    $("v-all").addEventListener("click", () => {
      this.stage.hidden.get(this.stage.now.record.name).clear();
      this.view.pick(null);
      this.lists();
    });
    for (const button of document.querySelectorAll("#v-axle button")) {
      button.addEventListener("click", () => this.axle(button.value));
    }
  }

  // ---- tabs, by finger, mouse and arrow keys

  tabs() {
    for (const name of TABS) {
      const tab = $(`v-tab-${name}`);
      tab.addEventListener("click", () => this.open(name));
      tab.addEventListener("keydown", (event) => {
        const way = { ArrowRight: 1, ArrowLeft: -1 }[event.key];
        if (!way) return;
        const next = TABS[(TABS.indexOf(name) + way + TABS.length) % TABS.length];
        this.open(next);
        $(`v-tab-${next}`).focus();
        event.preventDefault();
      });
    }
    this.open("parts");
  }

  open(name) {
    for (const other of TABS) {
      const on = other === name;
      $(`v-tab-${other}`).setAttribute("aria-selected", on);
      $(`v-tab-${other}`).tabIndex = on ? 0 : -1;
      $(`v-panel-${other}`).hidden = !on;
    }
    this.view.mode = name === "measure" ? "measure" : "pick";
    this.stage.canvas.classList.toggle("v-aim", name === "measure");
    if (name === "measure" && !this.measured.length) this.view.say("Measure: tap two places.");
  }

  bar() {
    const { data } = this.view;
    $("v-scene").replaceChildren(...data.scenes.map((s) => new Option(s.title, s.name)));
    $("v-scene").addEventListener("change", () => this.view.show($("v-scene").value));
    for (const button of document.querySelectorAll("#v-views button")) {
      button.addEventListener("click", () => {
        this.stage.fit(VIEWS[button.value]);
        this.view.say(`${button.textContent}.`);
      });
    }
    $("v-full").addEventListener("click", () => {
      const on = $("view").classList.toggle("v-whole");
      document.documentElement.classList.toggle("v-still", on);
      $("v-full").setAttribute("aria-pressed", on);
      $("v-full").textContent = on ? "Back" : "Full screen";
      if (!on) $("view").scrollIntoView();
    });
  }

  // ---- parts

  scene() {
    const { record } = this.stage.now;
    this.lists();
    $("v-axle").hidden = !record.bodies.some((b) => !b.part && b.group === "axle");
    this.axle(record.frame === "T" ? "through" : "solid");
    this.sectionScene();
    this.part(null);
  }

  lists() {
    const { data } = this.view;
    const { record } = this.stage.now;
    const groups = new Map();
    const here = new Set();
    for (const body of record.bodies) {
      if (here.has(body.name)) continue;
      here.add(body.name);
      const group = body.part ? body.group : "axle and what is round about";
      groups.set(group, [...(groups.get(group) || []), body.name]);
    }
    const elsewhere = data.parts.map((p) => p.name).filter((name) => !here.has(name));
    const blocks = [...groups].map(([group, names]) => this.block(groupWords(group), names, true));
    if (elsewhere.length) blocks.push(this.block("shown elsewhere", elsewhere, false));
    $("v-panel-parts").prepend($("v-part"));
    $("v-parts").replaceChildren(...blocks);
  }

  block(title, names, here) {
    const hidden = this.stage.hidden.get(this.stage.now.record.name);
    const rows = names.map((name) => {
      const part = this.view.parts.get(name);
      const label = part?.label || this.stage.now.record.bodies.find((b) => b.name === name)?.label || "";
      const words = [made("strong", {}, part ? name : label)];
      if (part) words.push(made("span", {}, ` ${label}`));
      if (part?.held) words.push(made("b", { className: "v-held" }, " HELD"));
      if (part?.undrawn) words.push(made("i", {}, ` cannot be drawn: ${part.undrawn}`));
      const pick = made("button", { type: "button", className: "v-row", data: { part: name } }, ...words);
      pick.setAttribute("aria-pressed", this.stage.chosen.has(name));
      pick.addEventListener("click", () => {
        const row = pick.parentElement;
        this.view.pick(this.stage.chosen.has(name) ? null : name);
        // what is known of it stands where one looks: under its row, if the list is still the same
        if (row.isConnected) row.append($("v-part"));
      });
      if (!here) return made("li", {}, pick);
      const seen = made("button", { type: "button", className: "v-eye", data: { eye: name } }, hidden.has(name) ? "Show" : "Hide");
      seen.setAttribute("aria-label", `${seen.textContent} ${part ? name : label}`);
      seen.addEventListener("click", () => {
        const gone = !hidden.has(name);
        if (gone) hidden.add(name);
        else hidden.delete(name);
        seen.textContent = gone ? "Show" : "Hide";
        seen.setAttribute("aria-label", `${seen.textContent} ${part ? name : label}`);
        this.stage.look();
      });
      return made("li", {}, pick, seen);
    });
    const head = made("h4", {}, title);
    if (here) {
      const { colour } = this.stage.now.record.bodies.find((b) => b.name === names[0]);
      const swatch = made("i", { className: "v-swatch" });
      swatch.style.background = `rgb(${colour.map((c) => Math.round(255 * c)).join(" ")})`;
      head.prepend(swatch);
      if (names.length > 1) head.append(this.groupEye(title, names));
    }
    return made("section", {}, head, made("ul", {}, ...rows));
  }

  // Hides a whole group, or shows it again when all of it is hidden.
  groupEye(title, names) {
    const hidden = this.stage.hidden.get(this.stage.now.record.name);
    const all = () => names.every((name) => hidden.has(name));
    const button = made("button", { type: "button", className: "v-eye" }, all() ? "Show all" : "Hide all");
    button.setAttribute("aria-label", `${button.textContent} of ${title}`);
    button.addEventListener("click", () => {
      const gone = !all();
      for (const name of names) {
        if (gone) hidden.add(name);
        else hidden.delete(name);
      }
      this.stage.look();
      this.lists();
    });
    return button;
  }

  axle(how) {
    this.stage.axle = how;
    for (const button of document.querySelectorAll("#v-axle button")) {
      button.setAttribute("aria-pressed", button.value === how);
    }
    this.stage.look();
  }

  // What is known of the part chosen, with its files and what was found of it.
  part(name) {
    for (const row of document.querySelectorAll("#v-parts .v-row")) {
      row.setAttribute("aria-pressed", row.dataset.part === name);
    }
    const box = $("v-part");
    $("v-panel-parts").prepend(box);
    box.hidden = !name;
    if (!name) return box.replaceChildren();
    const part = this.view.parts.get(name);
    const body = this.stage.now.bodies.find((one) => one.body.name === name);
    const title = made("h4", {}, part ? name : body.body.label);
    const inside = [title];
    if (part) {
      if (part.held) inside.push(made("p", { className: "v-held" }, `HELD, do not make it: ${part.held}`));
      const facts = [
        ["What", part.label],
        ["Make", `${part.quantity}${part.hand ? `, hand ${part.hand}` : ""}`],
        ["Stock", [part.thickness_mm ? `${both(part.thickness_mm, this.view.units)} plate` : part.form, part.material].join(", ")],
      ];
      if (part.mass_kg) facts.push(["Mass, each", `${(part.mass_kg / 0.45359237).toFixed(1)} lb (${part.mass_kg.toFixed(2)} kg)`]);
      if (part.datum) facts.push(["Datum", part.datum]);
      inside.push(made("dl", {}, ...facts.flatMap(([k, v]) => [made("dt", {}, k), made("dd", {}, v)])));
      const links = part.files.map(([words, path]) => made("a", { href: path, className: "v-file" }, `${words}: ${path.split("/").pop()}`));
      if (document.getElementById(`part-${name}`)) links.push(made("a", { href: `#part-${name}`, className: "v-file" }, "its drawing and holes, on this page"));
      inside.push(made("p", { className: "v-files" }, ...links));
      for (const words of part.notes) inside.push(made("p", { className: "v-note" }, words));
    } else inside.push(made("p", {}, "Not a part of this job: drawn from the sheet's measures."));
    const acts = made("p", { className: "v-acts" });
    for (const [words, act] of [
      ["Come closer", () => this.view.pick(name, { aim: true })],
      ["Hide it", () => this.view.hideChosen()],
      ["Only this", () => this.only(name)],
    ]) {
      const button = made("button", { type: "button" }, words);
      button.addEventListener("click", act);
      acts.append(button);
    }
    inside.splice(1, 0, acts);
    const own = this.view.data.findings.map((f, k) => [f, k]).filter(([f]) => f.parts.includes(name) && f.level !== "pass");
    if (own.length) {
      const list = made("ul", {}, ...own.map(([f, k]) => made("li", {}, this.findingButton(f, k))));
      inside.push(made("h5", {}, "Found of it"), list);
    }
    box.replaceChildren(...inside);
  }

  only(name) {
    const hidden = this.stage.hidden.get(this.stage.now.record.name);
    for (const { body } of this.stage.now.bodies) {
      if (body.name === name) hidden.delete(body.name);
      else hidden.add(body.name);
    }
    this.stage.look();
    this.lists();
    this.view.pick(name, { aim: true });
  }

  // ---- findings

  findings() {
    const { findings } = this.view.data;
    const counts = { all: findings.length };
    for (const f of findings) counts[f.level] = (counts[f.level] || 0) + 1;
    counts.open = findings.length - (counts.pass || 0);
    const filters = ["open", ...Object.keys(LEVELS).filter((level) => counts[level]), "all"].map((level) => {
      const words = { all: "All", open: "Not passed" }[level] || LEVELS[level].join(" ");
      const button = made("button", { type: "button", data: { level } }, `${words} ${counts[level]}`);
      button.addEventListener("click", () => this.filter(level));
      return button;
    });
    $("v-levels").replaceChildren(...filters);
    const order = Object.keys(LEVELS);
    const sorted = findings.map((f, k) => [f, k]).sort((p, q) => order.indexOf(p[0].level) - order.indexOf(q[0].level) || p[1] - q[1]);
    $("v-findings").replaceChildren(...sorted.map(([f, k]) => made("li", { data: { level: f.level } }, this.findingButton(f, k))));
    this.filter(counts.open ? "open" : "all");
  }

  findingButton(finding, number) {
    const [sign, words] = LEVELS[finding.level];
    const button = made(
      "button", { type: "button", className: `v-row v-${finding.level}`, data: { finding: number } },
      made("strong", {}, `${sign} ${words} ${finding.code}`), made("span", {}, ` ${finding.words}`),
    );
    button.addEventListener("click", () => {
      this.open("findings");
      this.view.goTo(number);
    });
    return button;
  }

  filter(level) {
    this.level = level;
    for (const button of $("v-levels").children) button.setAttribute("aria-pressed", button.dataset.level === level);
    for (const row of $("v-findings").children) {
      row.hidden = level === "open" ? row.dataset.level === "pass" : level !== "all" && row.dataset.level !== level;
    }
  }

  told(finding, placed) {
    const { units } = this.view;
    const [sign, words] = LEVELS[finding.level];
    const facts = [
      ["Claim", finding.claim],
      ["Found", finding.words],
      ["Value", quantity(finding.value, finding.unit, units)],
      ["Limit", quantity(finding.limit, finding.unit, units)],
      ["Where", [finding.pose, placed ? "" : "no place in the picture"].filter(Boolean).join("; ")],
      ["Do", finding.remedy],
      ["Source", finding.source],
    ].filter(([, v]) => v);
    const row = [...$("v-findings").children].find((li) => Number(li.firstChild.dataset.finding) === this.view.finding);
    row.hidden = false;
    row.append($("v-finding"));
    row.scrollIntoView({ block: "nearest" });
    $("v-finding").hidden = false;
    $("v-finding").className = `v-card v-${finding.level}`;
    $("v-finding").replaceChildren(
      made("h4", {}, `${sign} ${words} ${finding.code}`),
      made("dl", {}, ...facts.flatMap(([k, v]) => [made("dt", {}, k), made("dd", {}, v)])),
    );
    for (const row of document.querySelectorAll("#view .v-row[data-finding]")) {
      row.setAttribute("aria-pressed", Number(row.dataset.finding) === this.view.finding);
    }
  }

  // ---- section

  sectionControls() {
    for (const button of document.querySelectorAll("#v-axes button")) {
      button.addEventListener("click", () => {
        const axis = button.value === "" ? null : Number(button.value);
        const flip = this.stage.cut?.flip || false;
        this.axis = axis;
        this.flip = flip;
        this.startCut();
        this.section();
        this.faceCut();
        this.view.say(axis === null ? "Whole again." : `Section: ${$("v-cut-at").textContent}`);
      });
    }
    $("v-cut").addEventListener("input", () => this.section());
    $("v-cut-flip").addEventListener("click", () => {
      this.flip = !this.flip;
      this.section();
      this.faceCut();
    });
    this.axis = null;
    this.flip = false;
  }

  sectionScene() {
    this.startCut();
    this.section();
  }

  // A section begins on the axle line or in the middle of the vehicle where that lies in the picture.
  startCut() {
    const { axis, stage } = this;
    const [low, high] = [stage.box?.min, stage.box?.max].map((v) => (axis === null ? 0 : v.getComponent(axis)));
    const share = axis !== null && axis < 2 && low < 0 && high > 0 ? -low / (high - low) : 0.5;
    $("v-cut").value = STEPS * share;
  }

  section() {
    const { axis, flip, stage } = this;
    for (const button of document.querySelectorAll("#v-axes button")) {
      button.setAttribute("aria-pressed", button.value === (axis === null ? "" : String(axis)));
    }
    $("v-cut-more").hidden = axis === null;
    if (axis === null) return stage.section(null);
    const share = Number($("v-cut").value) / STEPS;
    const at = stage.box.min.getComponent(axis) * (1 - share) + stage.box.max.getComponent(axis) * share;
    const { frame } = stage.now.record;
    const words = axis === 2 && at >= 0 ? LEVEL_OF[frame] : frame === "P" ? "along the table" : AXES[axis][at >= 0 ? 0 : 1];
    const middle = axis < 2 && Math.abs(at) < MIDDLE ? ["on the axle line", "in the middle"][axis] : "";
    $("v-cut-at").textContent = middle || `${long(Math.abs(at), this.view.units)} ${words}`;
    $("v-cut").setAttribute("aria-valuetext", $("v-cut-at").textContent);
    $("v-cut-flip").setAttribute("aria-pressed", flip);
    return stage.section({ axis, at, flip });
  }

  // Look at the cut face, not at its back.
  faceCut() {
    if (this.axis === null) return;
    const way = [...VIEWS.corner];
    way[this.axis] *= -1;
    this.stage.fit(this.flip ? way : VIEWS.corner);
  }

  // ---- measure

  measure(point) {
    if (this.measured.length >= 2) this.measured = [];
    this.measured.push(point);
    this.marks();
    const said = this.measured.map((p, k) => `${"AB"[k]}: ${this.pointWords(p)}`);
    if (this.measured.length < 2) {
      $("v-measured").replaceChildren(made("p", {}, said[0]), made("p", {}, "Now tap the second place."));
      this.view.say(`${said[0]}. Now tap the second place.`);
      return;
    }
    const { units } = this.view;
    const way = assembled(this.measured[1]).sub(assembled(this.measured[0]));
    const parts = this.stage.now.record.frame === "P" ? ["across", "along", "up"] : ["fore and aft", "left to right", "up and down"];
    const facts = [["Straight", long(way.length(), units)], ...parts.map((words, k) => [words, long(Math.abs(way.getComponent(k)), units)])];
    $("v-measured").replaceChildren(
      ...said.map((words) => made("p", {}, words)),
      made("dl", {}, ...facts.flatMap(([k, v], n) => [made("dt", {}, k), made("dd", { className: n ? "" : "v-big" }, v)])),
    );
    this.view.say(`From A to B ${long(way.length(), units)}.`);
  }

  pointWords(point) {
    const { body } = point.one;
    const name = body.part ? body.name : body.label;
    const round = point.kind === "middle" ? ` (${both(2 * point.radius, this.view.units)} across)` : "";
    return `${WORDS[point.kind]}${round}, ${name}`;
  }

  marks() {
    const { overlay } = this.view;
    overlay.marks = this.measured.map((p, k) => ({ point: () => shown(p), words: "AB"[k], kind: "measure" }));
    overlay.lines = [];
    if (this.measured.length === 2) {
      const [a, b] = this.measured;
      const span = assembled(b).distanceTo(assembled(a));
      overlay.lines = [{ from: () => shown(a), to: () => shown(b), words: short(span, this.view.units) }];
    }
    this.stage.ask();
  }

  measureCleared() {
    this.measured = [];
    this.marks();
    $("v-measured").replaceChildren(made("p", {}, "Tap the first place."));
  }
}
