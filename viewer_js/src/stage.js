// The picture: bodies, camera, lights, section plane, exploded view. Draws only when something changed.
import {
  AmbientLight, Box3, BufferAttribute, BufferGeometry, Color, DirectionalLight, DoubleSide, FrontSide, Group,
  LineBasicMaterial, LineSegments, Matrix4, Mesh, MeshLambertMaterial, OrthographicCamera, Plane, Raycaster, Scene,
  SRGBColorSpace, Vector2, Vector3, WebGLRenderer,
} from "three";
import { OrbitControls } from "three/addons/controls/OrbitControls.js";
import { shaded, unpacked } from "./unpack.js";

const PAPER = 0xffffff;
const INK = 0x14181c;
const CHOSEN = new Color(0xffd400); // yellow under black edges: the lightest thing on the page, for every eye
const FADED = 0.72; // share of white in what is not chosen
const GHOST = 0.2; // opacity of what is shown through
const APART = 60; // mm between parts that share a middle, exploded
const SPREAD = 0.9; // how far groups go apart, of their distance from the middle
const LEANS = ["1.0, 1.0", "1.0, -1.0", "1.4, 0.0"]; // of the hatching, so that bodies beside each other differ
const NARROW = 1.3; // a picture less wide for its height is looked at more along the axle, or that would be tiny
const ALONG = [0.55, 1, 0.5];
export const VIEWS = {
  corner: [1, 0.75, 0.55],
  front: [1, 0, 0],
  left: [0, 1, 0],
  rear: [-1, 0, 0],
  right: [0, -1, 0],
  top: [0, 0.0001, 1],
};

export class Stage {
  constructor(canvas, data, store) {
    this.canvas = canvas;
    this.data = data;
    this.store = store;
    this.renderer = new WebGLRenderer({ canvas, antialias: true, powerPreference: "low-power" });
    this.renderer.setClearColor(PAPER);
    this.renderer.localClippingEnabled = true;
    this.camera = new OrthographicCamera(-1, 1, 1, -1, 0, 1);
    this.camera.up.set(0, 0, 1);
    this.scene = new Scene();
    this.scene.add(new AmbientLight(0xffffff, 1.5), this.camera);
    for (const [x, y, z, strength] of [[-0.4, 0.6, 1, 1.9], [0.9, -0.2, 0.8, 0.7]]) {
      const light = new DirectionalLight(0xffffff, strength);
      light.position.set(x, y, z);
      this.camera.add(light);
    }
    this.controls = new OrbitControls(this.camera, canvas);
    this.controls.zoomToCursor = true;
    this.controls.addEventListener("change", () => this.ask());
    this.cut = null; // {axis, at, flip}
    this.plane = new Plane(new Vector3(1, 0, 0), 0);
    this.apart = 0;
    this.pose = null; // [from, to, share] of the poses between which movers stand
    this.chosen = new Set();
    this.hidden = new Map(); // scene name to names that are hidden
    this.axle = "through";
    this.built = new Map();
    this.meshes = new Map();
    this.materials = new Map();
    this.after = []; // told when a picture was drawn
    this.pictures = 0;
    new ResizeObserver(() => this.resize()).observe(canvas.parentElement);
    this.resize();
  }

  resize() {
    const box = this.canvas.parentElement.getBoundingClientRect();
    this.width = Math.max(1, Math.round(box.width));
    this.height = Math.max(1, Math.round(box.height));
    this.renderer.setPixelRatio(Math.min(window.devicePixelRatio || 1, 2));
    this.renderer.setSize(this.width, this.height, false);
    this.frame();
    this.ask();
  }

  ask() {
    if (this.asked) return;
    this.asked = true;
    requestAnimationFrame(() => {
      this.asked = false;
      this.camera.updateMatrixWorld();
      this.renderer.render(this.scene, this.camera);
      this.pictures += 1;
      for (const tell of this.after) tell();
    });
  }

  // ---- bodies

  geometry(number) {
    if (!this.meshes.has(number)) {
      const mesh = unpacked(this.data.meshes[number], this.store);
      const { position, normal } = shaded(mesh);
      const solid = new BufferGeometry();
      solid.setAttribute("position", new BufferAttribute(position, 3));
      solid.setAttribute("normal", new BufferAttribute(normal, 3));
      solid.computeBoundingBox();
      const lines = new BufferGeometry();
      lines.setAttribute("position", new BufferAttribute(mesh.points, 3));
      lines.setIndex(new BufferAttribute(new Uint32Array(mesh.sharp), 1));
      this.meshes.set(number, { mesh, solid, lines });
    }
    return this.meshes.get(number);
  }

  material(colour, look, lean) {
    const key = `${colour} ${look} ${lean}`;
    if (!this.materials.has(key)) {
      const shade = new Color().setRGB(...colour, SRGBColorSpace);
      const white = new Color(PAPER);
      if (look === "chosen") shade.copy(CHOSEN);
      if (look === "faded") shade.lerp(white, FADED);
      const through = look === "through";
      const solid = new MeshLambertMaterial({
        color: shade, transparent: through, opacity: through ? GHOST : 1, depthWrite: !through,
        polygonOffset: true, polygonOffsetFactor: 1, polygonOffsetUnits: 1,
      });
      // the inside of a body is seen only where the section opened it: hatched, as a cut face is drawn
      solid.onBeforeCompile = (shader) => {
        shader.fragmentShader = shader.fragmentShader.replace(
          "#include <dithering_fragment>",
          `#include <dithering_fragment>
           if (!gl_FrontFacing) {
             float stripe = step(0.5, fract(dot(gl_FragCoord.xy, vec2(${LEANS[lean]})) / 10.0));
             gl_FragColor = vec4(mix(vec3(1.0), diffuse * 0.55, 0.35 + 0.65 * stripe), max(opacity, 0.75));
           }`,
        );
      };
      solid.customProgramCacheKey = () => String(lean);
      const weak = through || look === "faded";
      const lines = new LineBasicMaterial({ color: weak ? 0x8a949c : INK, transparent: through, opacity: through ? 0.55 : 1 });
      this.materials.set(key, { solid, lines });
      this.clipMaterial(this.materials.get(key));
    }
    return this.materials.get(key);
  }

  clipMaterial({ solid, lines }) {
    solid.clippingPlanes = lines.clippingPlanes = this.cut ? [this.plane] : [];
    // through a body that is seen through one would see its inside hatched where nothing was cut
    solid.side = this.cut && !solid.transparent ? DoubleSide : FrontSide;
    solid.needsUpdate = lines.needsUpdate = true;
  }

  show(name) {
    if (this.now) this.scene.remove(this.now.root);
    if (!this.built.has(name)) this.built.set(name, this.build(this.data.scenes.find((s) => s.name === name)));
    this.now = this.built.get(name);
    if (!this.hidden.has(name)) this.hidden.set(name, new Set());
    this.scene.add(this.now.root);
    this.pose = this.now.record.motions ? [0, 0, 0] : null;
    this.place();
    this.box = this.bounds(this.now.bodies);
    this.reach = this.box.getSize(new Vector3()).length() / 2 || 1;
    this.aimCut();
    this.look();
  }

  build(record) {
    const root = new Group();
    const bodies = record.bodies.map((body, number) => {
      const { solid, lines, mesh } = this.geometry(body.mesh);
      const shape = new Mesh(solid, undefined);
      const ink = new LineSegments(lines, undefined);
      const holder = new Group();
      holder.add(shape, ink);
      holder.matrixAutoUpdate = false;
      root.add(holder);
      const [a, b, c, d, e, f, g, h, i, j, k, l] = body.place;
      const place = new Matrix4().set(a, b, c, d, e, f, g, h, i, j, k, l, 0, 0, 0, 1);
      const middle = solid.boundingBox.getCenter(new Vector3()).applyMatrix4(place);
      const one = { body, lean: number % LEANS.length, holder, shape, ink, mesh, place, middle, shift: new Vector3(), true: place.clone(), known: true };
      shape.userData.one = one;
      return one;
    });
    const movers = {};
    if (record.motions) {
      for (const [name, [at, length]] of Object.entries(record.motions.movers)) {
        movers[name] = new Float32Array(this.store.buffer, this.store.byteOffset + at, length / 4);
      }
    }
    this.explode(bodies);
    return { record, root, bodies, movers };
  }

  // Which way each body goes when the view is exploded: its group away from the middle, itself out of its group.
  explode(bodies) {
    const groups = new Map();
    for (const one of bodies) groups.set(one.body.group, [...(groups.get(one.body.group) || []), one]);
    const mean = (list) => list.reduce((sum, v) => sum.add(v), new Vector3()).divideScalar(list.length || 1);
    const middle = mean([...groups.values()].map((list) => mean(list.map((o) => o.middle))));
    for (const [group, list] of groups) {
      if (group === "axle") continue; // it stays, so that one sees where things come from
      const centre = mean(list.map((o) => o.middle));
      const away = centre.clone().sub(middle).multiplyScalar(SPREAD);
      away.z = Math.max(away.z, -0.3 * Math.abs(away.y)); // nothing goes far under the table
      const order = [...list].sort((p, q) => p.middle.y - q.middle.y || (p.body.name < q.body.name ? -1 : 1));
      order.forEach((one, rank) => {
        one.shift.copy(away).add(one.middle.clone().sub(centre).multiplyScalar(SPREAD));
        one.shift.y += (rank - (order.length - 1) / 2) * APART;
      });
    }
  }

  // The place of a mover between two poses; null where it is not known.
  moved(mover) {
    const rows = this.now.movers[mover];
    if (!rows || !this.pose) return new Matrix4();
    const [from, to, share] = this.pose;
    const at = (k) => rows[12 * from + k] * (1 - share) + rows[12 * to + k] * share;
    if (Number.isNaN(at(0))) return null;
    return new Matrix4().set(
      at(0), at(1), at(2), at(3), at(4), at(5), at(6), at(7), at(8), at(9), at(10), at(11), 0, 0, 0, 1,
    );
  }

  place() {
    for (const one of this.now.bodies) {
      const moved = this.moved(one.body.mover);
      one.known = moved !== null;
      if (moved) one.true.multiplyMatrices(moved, one.place);
      const { x, y, z } = one.shift;
      one.holder.matrix.makeTranslation(x * this.apart, y * this.apart, z * this.apart).multiply(one.true);
      one.holder.matrixWorldNeedsUpdate = true;
    }
    this.look();
  }

  // Colours and what is seen of every body, from what is chosen and hidden.
  look() {
    const hidden = this.hidden.get(this.now.record.name);
    for (const one of this.now.bodies) {
      const { body } = one;
      const axle = !body.part && body.group === "axle";
      one.holder.visible = one.known && !hidden.has(body.name) && !(axle && this.axle === "hidden");
      const chosen = this.chosen.has(body.name);
      // on the table the axle is seen through or solid as a whole; on its links the tyres alone are seen through
      const whole = this.now.record.frame === "T" ? body.ghost : true;
      const tyre = this.now.record.motions && body.ghost;
      const through =
        !chosen && (axle ? (this.axle === "through" && whole) || (this.axle === "solid" && tyre) : body.ghost);
      const look = chosen ? "chosen" : through ? "through" : this.chosen.size ? "faded" : "plain";
      const { solid, lines } = this.material(body.colour, look, one.lean);
      one.shape.material = solid;
      one.ink.material = lines;
      one.shape.renderOrder = through ? 1 : 0;
      one.through = through;
    }
    this.ask();
  }

  seen(name) {
    return this.now.bodies.filter((one) => one.body.name === name && one.holder.visible);
  }

  bounds(bodies) {
    const box = new Box3();
    for (const one of bodies) box.union(one.shape.geometry.boundingBox.clone().applyMatrix4(one.holder.matrix));
    return box;
  }

  // ---- section

  section(cut) {
    const fresh = !this.cut !== !cut;
    this.cut = cut;
    this.aimCut();
    if (fresh) for (const pair of this.materials.values()) this.clipMaterial(pair);
    this.ask();
  }

  aimCut() {
    if (!this.cut || !this.box) return;
    const { axis, at, flip } = this.cut;
    const normal = new Vector3().setComponent(axis, flip ? 1 : -1);
    this.plane.set(normal, (flip ? -1 : 1) * at);
  }

  // ---- camera

  frame() {
    const tall = 1000;
    const ratio = this.width / this.height;
    Object.assign(this.camera, { left: (-tall * ratio) / 2, right: (tall * ratio) / 2, top: tall / 2, bottom: -tall / 2 });
    this.camera.updateProjectionMatrix();
  }

  // Look at a box from a direction; the direction stays when none is given.
  aim(box, direction) {
    const middle = box.getCenter(new Vector3());
    const narrow = direction === VIEWS.corner && this.width < NARROW * this.height;
    const way = direction ? new Vector3(...(narrow ? ALONG : direction)) : this.camera.position.clone().sub(this.controls.target);
    way.normalize();
    this.controls.target.copy(middle);
    this.camera.position.copy(middle).addScaledVector(way, 4 * this.reach);
    this.camera.near = 0;
    this.camera.far = 12 * this.reach;
    this.camera.lookAt(middle);
    this.camera.updateMatrixWorld();
    const back = this.camera.matrixWorldInverse.copy(this.camera.matrixWorld).invert();
    let [wide, tall] = [1, 1];
    for (let k = 0; k < 8; k++) {
      const corner = new Vector3(
        k & 1 ? box.max.x : box.min.x, k & 2 ? box.max.y : box.min.y, k & 4 ? box.max.z : box.min.z,
      ).applyMatrix4(back);
      wide = Math.max(wide, 2.1 * Math.abs(corner.x));
      tall = Math.max(tall, 2.1 * Math.abs(corner.y));
    }
    this.camera.zoom = Math.min((this.camera.right - this.camera.left) / wide, (this.camera.top - this.camera.bottom) / tall);
    this.camera.updateProjectionMatrix();
    this.controls.update();
    this.ask();
  }

  fit(direction) {
    const seen = this.now.bodies.filter((one) => one.holder.visible);
    const box = this.bounds(seen.length ? seen : this.now.bodies);
    if (this.cut) {
      const { axis, at, flip } = this.cut;
      const [low, high] = [box.min.getComponent(axis), box.max.getComponent(axis)];
      if (flip) box.min.setComponent(axis, Math.min(Math.max(low, at), high));
      else box.max.setComponent(axis, Math.max(Math.min(high, at), low));
    }
    this.aim(box, direction);
  }

  turn(across, up) {
    const arm = this.camera.position.clone().sub(this.controls.target);
    const level = Math.atan2(arm.y, arm.x) - across;
    const long = arm.length();
    const high = Math.min(1.55, Math.max(-1.55, Math.asin(arm.z / long) + up));
    arm.set(Math.cos(high) * Math.cos(level), Math.cos(high) * Math.sin(level), Math.sin(high)).multiplyScalar(long);
    this.camera.position.copy(this.controls.target).add(arm);
    this.controls.update();
    this.ask();
  }

  pan(right, up) {
    const step = new Vector3(right, up, 0)
      .multiplyScalar((this.camera.top - this.camera.bottom) / this.camera.zoom)
      .applyQuaternion(this.camera.quaternion);
    this.camera.position.add(step);
    this.controls.target.add(step);
    this.controls.update();
    this.ask();
  }

  zoom(factor) {
    this.camera.zoom *= factor;
    this.camera.updateProjectionMatrix();
    this.ask();
  }

  // ---- from the picture to the bodies and back

  // Place on the picture [px], and depth; world points are those of the exploded view.
  onPicture(point) {
    const p = point.clone().project(this.camera);
    return { x: ((p.x + 1) / 2) * this.width, y: ((1 - p.y) / 2) * this.height, depth: p.z };
  }

  // Nearest body under a place of the picture; solid ones stand before those that are shown through.
  under(x, y) {
    const caster = new Raycaster();
    caster.setFromCamera(new Vector2((x / this.width) * 2 - 1, 1 - (y / this.height) * 2), this.camera);
    this.now.root.updateMatrixWorld(true);
    const shapes = this.now.bodies.filter((one) => one.holder.visible).map((one) => one.shape);
    const hits = caster
      .intersectObjects(shapes, false)
      .filter((hit) => !this.cut || this.plane.distanceToPoint(hit.point) >= 0)
      .map((hit) => ({ one: hit.object.userData.one, point: hit.point, facet: hit.faceIndex, distance: hit.distance }));
    return hits.find((hit) => !hit.one.through) || hits[0] || null;
  }
}
