// Tiles: squares of a sheet; coarser ones stand in until the sharp one is there.

import { ask } from "/page/talk.js";

const STEPS = 6;
const PIXELS = 512;
const KEPT = 160; // tiles kept: a megabyte each
const FINEST = 600; // pixels an inch at the last step

const perMillimetre = (step) => FINEST / 2 ** (STEPS - 1 - step) / 25.4;

/** The coarsest step that has a pixel for every pixel of the screen. */
export function stepFor(pixels) {
  for (let step = 0; step < STEPS; step += 1) if (perMillimetre(step) >= pixels * 0.99) return step;
  return STEPS - 1;
}

export class Layer {
  constructor(role, id, plates, changed) {
    Object.assign(this, { role, id, plates, changed });
    this.shown = new Map(); // "step/x/y" → { image, name }: the last picture of a square that came
    this.names = new Map(); // "step/x/y" → name, of the present build
    this.loading = new Map(); // name → image on its way
  }

  /** A new build: names are asked again; squares of the step in sight stay until theirs come. */
  build(cover) {
    const number = `${cover.id} ${cover.build}`;
    this.sheet = cover.sheet.bleed;
    if (number === this.number) return;
    if (this.step != null) {
      for (const key of this.shown.keys()) if (!key.startsWith(`${this.step}/`)) this.shown.delete(key);
    }
    this.number = number;
    this.names.clear();
    this.asking?.abort();
    this.asking = null;
  }

  draw(paper, camera, ratio) {
    const wanted = stepFor(camera.scale * ratio);
    this.step = wanted;
    const { x: left, y: top, width, height } = this.sheet;
    // Whole pixels, the same for the end of a square and the beginning of the next: no seams.
    const dots = (at, length, begin, from) => Math.round((Math.min(at, length) + begin - from) * camera.scale * ratio);
    paper.imageSmoothingQuality = "high";
    const steps = [...new Set([...this.shown.keys()].map((key) => Number(key.split("/")[0])))].filter((step) => step <= wanted).sort();
    const [fromX, fromY, toX, toY] = this.seen(wanted, camera);
    // Squares over the limit are clear in places.
    for (const step of this.plates === "over" ? steps.filter((step) => step === wanted) : steps) {
      paper.imageSmoothingEnabled = camera.scale * ratio <= perMillimetre(step) * 1.5 || step < STEPS - 1;
      for (const [key, { image }] of this.shown) {
        const [at, x, y] = key.split("/").map(Number);
        if (at !== step) continue;
        const side = PIXELS / perMillimetre(step);
        const [l, r] = [x, x + 1].map((one) => dots(one * side, width, left, camera.x));
        const [t, f] = [y, y + 1].map((one) => dots(one * side, height, top, camera.y));
        if (r > 0 && f > 0 && l < paper.canvas.width && t < paper.canvas.height) paper.drawImage(image, l, t, r - l, f - t);
      }
    }
    this.want(wanted, fromX, fromY, toX, toY);
  }

  busy = () => !!this.asking || this.loading.size > 0;

  /** Columns and rows of a step that are in sight. */
  seen(step, camera) {
    const side = PIXELS / perMillimetre(step);
    const last = (length) => Math.max(0, Math.ceil(length / side - 1e-9) - 1);
    const clamp = (value, most) => Math.min(Math.max(Math.floor(value), 0), most);
    const [across, down] = [last(this.sheet.width), last(this.sheet.height)];
    return [
      clamp((camera.x - this.sheet.x) / side, across),
      clamp((camera.y - this.sheet.y) / side, down),
      clamp((camera.x + camera.width / camera.scale - this.sheet.x) / side, across),
      clamp((camera.y + camera.height / camera.scale - this.sheet.y) / side, down),
    ];
  }

  /** Gives up what is on its way for another step, or a layer that is gone: others wait behind it. */
  drop(but) {
    for (const [path, image] of this.loading) {
      if (image.step === but) continue;
      this.loading.delete(path); // decode() may never answer for it
      image.src = "";
    }
    if (but == null) this.asking?.abort();
  }

  async want(step, fromX, fromY, toX, toY) {
    this.drop(step);
    let unknown = false;
    for (let y = fromY; y <= toY; y += 1) {
      for (let x = fromX; x <= toX; x += 1) {
        const key = `${step}/${x}/${y}`;
        if (!this.names.has(key)) unknown = true;
        else this.load(key, step, x, y);
      }
    }
    if (!unknown || this.asking) return;
    const [columns, rows] = [toX - fromX + 1, toY - fromY + 1];
    const asking = (this.asking = new AbortController());
    try {
      const path = `/tiles/${this.id}?z=${step}&x=${fromX}&y=${fromY}&columns=${columns}&rows=${rows}&plates=${this.plates}`;
      const { names } = await ask(path, asking.signal);
      names.forEach((name, at) => this.names.set(`${step}/${fromX + (at % columns)}/${fromY + Math.floor(at / columns)}`, name));
    } catch {
      if (asking.signal.aborted) return;
      await new Promise((done) => setTimeout(done, 1000));
    }
    if (this.asking === asking) this.asking = null;
    this.changed();
  }

  load(key, step, x, y) {
    const name = this.names.get(key);
    const old = this.shown.get(key);
    if (!name || old?.name === name) {
      if (!name) this.shown.delete(key);
      else {
        this.shown.delete(key); // seen last: forgotten last
        this.shown.set(key, old);
      }
      return;
    }
    const path = `/tile/${this.id}/${name}.png?z=${step}&x=${x}&y=${y}&plates=${this.plates}`;
    if (this.loading.has(path)) return;
    const image = Object.assign(new Image(), { step });
    this.loading.set(path, image);
    image.src = path;
    const mine = () => this.loading.get(path) === image;
    image.decode().then(
      () => {
        if (!mine()) return;
        this.loading.delete(path);
        if (this.names.has(key) && this.names.get(key) !== name) return this.changed();
        this.shown.delete(key);
        this.shown.set(key, { image, name });
        for (const first of this.shown.keys()) {
          if (this.shown.size <= KEPT) break;
          this.shown.delete(first);
        }
        this.changed();
      },
      () => {
        // No longer current: names are asked again soon.
        setTimeout(() => {
          if (!mine()) return;
          this.loading.delete(path);
          if (this.names.get(key) === name) this.names.delete(key);
          this.changed();
        }, 200);
      },
    );
  }
}

/** A view of the book, or a page of the proof. */
export class Picture {
  constructor(path, changed, old, look, first) {
    Object.assign(this, { path, look, role: "picture", image: old?.image, area: old?.area ?? null });
    const image = new Image();
    image.src = path;
    image.decode().then(
      () => {
        this.image = image;
        const fresh = !this.area;
        this.area = { x: 0, y: 0, width: image.naturalWidth, height: image.naturalHeight };
        if (fresh) first();
        changed();
      },
      () => {
        this.failed = true;
        changed();
      },
    );
  }

  busy = () => !this.image && !this.failed;

  draw(paper, camera, ratio) {
    if (!this.image) return;
    const scale = camera.scale * ratio;
    paper.imageSmoothingQuality = "high";
    paper.drawImage(this.image, -camera.x * scale, -camera.y * scale, this.area.width * scale, this.area.height * scale);
  }
}
