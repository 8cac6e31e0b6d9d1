// The travel: poses that were worked out with the parts, played in order.
import { short } from "./words.js";

const PACE = 5; // poses a second
const $ = (id) => document.getElementById(id);

export class Travel {
  constructor(view) {
    this.view = view;
    this.stage = view.stage;
    this.playing = false;
    this.path = [];
    $("v-path").addEventListener("change", () => this.choose(Number($("v-path").value)));
    $("v-along").addEventListener("input", () => {
      this.stop();
      this.stand(Number($("v-along").value));
    });
    $("v-play").addEventListener("click", () => (this.playing ? this.stop() : this.play()));
    $("v-go-travel").addEventListener("click", () => view.show(view.data.scenes.find((s) => s.motions).name));
  }

  scene() {
    this.stop();
    const { motions, notes } = this.stage.now.record;
    const any = this.view.data.scenes.some((s) => s.motions);
    $("v-travel-here").hidden = !motions;
    $("v-travel-there").hidden = Boolean(motions) || !any;
    $("v-travel-none").hidden = any;
    $("v-travel-notes").replaceChildren(...notes.map((words) => Object.assign(document.createElement("li"), { textContent: words })));
    if (!motions) return;
    $("v-path").replaceChildren(...motions.paths.map((p, k) => new Option(p.name, k)));
    this.choose(0);
  }

  choose(number) {
    this.stop();
    $("v-path").value = number;
    this.path = this.stage.now.record.motions.paths[number]?.poses || [0];
    $("v-along").max = this.path.length - 1;
    const ride = this.path.indexOf(0);
    this.stand(ride < 0 ? 0 : ride);
  }

  // Where the wheels stand along the path; between two poses while it plays.
  stand(at) {
    const low = Math.floor(at);
    const high = Math.min(low + 1, this.path.length - 1);
    this.at = at;
    this.stage.pose = [this.path[low], this.path[high], at - low];
    $("v-along").value = Math.round(at);
    this.tell(this.path[Math.round(at)]);
    this.stage.place();
  }

  toPose(number) {
    this.stop();
    this.stage.pose = [number, number, 0];
    this.tell(number);
    this.stage.place();
  }

  tell(number) {
    const [heave, roll, steer, name] = this.stage.now.record.motions.poses[number];
    const words = [`axle ${short(Math.abs(heave), this.view.units)} ${heave > 0.05 ? "up" : heave < -0.05 ? "down" : "from ride height"}`];
    if (Math.abs(roll) > 0.05) words.push(`${Math.abs(roll).toFixed(1)}° rolled, ${roll > 0 ? "left" : "right"} wheel up`);
    if (Math.abs(steer) > 0.05) words.push(`steered ${Math.abs(steer).toFixed(0)}° to the ${steer > 0 ? "left" : "right"}`);
    $("v-pose").textContent = `${name.startsWith("h") ? "" : `${name}: `}${words.join(", ")}`;
    $("v-along").setAttribute("aria-valuetext", $("v-pose").textContent);
  }

  play() {
    this.playing = true;
    $("v-play").setAttribute("aria-pressed", "true");
    $("v-play").textContent = "❚❚ Stop";
    let last = performance.now();
    let way = 1;
    const step = (now) => {
      if (!this.playing) return;
      const end = this.path.length - 1;
      let at = this.at + (way * Math.min(now - last, 100) * PACE) / 1000;
      last = now;
      if (at >= end || at <= 0) {
        way = at >= end ? -1 : 1;
        at = Math.min(end, Math.max(0, at));
      }
      this.stand(at);
      requestAnimationFrame(step);
    };
    requestAnimationFrame(step);
  }

  stop() {
    this.playing = false;
    $("v-play").setAttribute("aria-pressed", "false");
    $("v-play").textContent = "▶ Play";
  }
}
