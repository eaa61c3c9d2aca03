// The stage: which part of the sheet is seen, how large, and the gestures that move it.

import { find, now, on, short, tell } from "/page/now.js";
import { Layer, Picture } from "/page/tiles.js";

const stage = find("stage");
const canvas = find("canvas");
const paper = canvas.getContext("2d", { alpha: true });
const ROOM = [30, 56]; // pixels left free around the whole: at the sides, above and below
const LARGEST = 160; // pixels a millimetre: single dots at press resolution are large squares

/** `scale` in CSS pixels a millimetre; `x`, `y` is the place at the stage's upper left corner. */
export const camera = { scale: 2, x: 0, y: 0, width: 0, height: 0, whole: true };
let layers = []; // from below: the sheet, the earlier one, places over the limit
let asked = false;

export const toScreen = (x, y) => [(x - camera.x) * camera.scale, (y - camera.y) * camera.scale];
export const toSheet = (x, y) => [x / camera.scale + camera.x, y / camera.scale + camera.y];
/** What is looked at in two words: its kind and its name. */
const looked = () => now.look.split(/:(.*)/s);
export const flat = () => ["sheet", "panel"].includes(looked()[0]);

/** What is looked at, in millimetres or a picture's pixels. */
export function subject() {
  if (!now.cover?.sheet) return null;
  const [kind, name] = looked();
  if (kind === "sheet") return now.cover.sheet.bleed;
  if (kind === "panel") return now.cover.sheet.panels.find((panel) => panel.name === name);
  return layers[0]?.area;
}

export function whole() {
  const area = subject();
  if (!area || !camera.width) return;
  const scale = Math.min((camera.width - 2 * ROOM[0]) / area.width, (camera.height - 2 * ROOM[1]) / area.height);
  camera.scale = Math.max(scale, 0.01);
  centre(area.x + area.width / 2, area.y + area.height / 2);
  camera.whole = true;
}

export function centre(x, y) {
  camera.x = x - camera.width / 2 / camera.scale;
  camera.y = y - camera.height / 2 / camera.scale;
  camera.whole = false;
  redraw();
}

/** So much larger, around a point of the stage that stays where it is. */
export function zoom(factor, x = camera.width / 2, y = camera.height / 2) {
  const [ax, ay] = toSheet(x, y);
  camera.scale = Math.min(LARGEST, Math.max(0.02, camera.scale * factor));
  camera.x = ax - x / camera.scale;
  camera.y = ay - y / camera.scale;
  camera.whole = false;
  hold();
  redraw();
}

export function pan(dx, dy) {
  camera.x += dx / camera.scale;
  camera.y += dy / camera.scale;
  camera.whole = false;
  hold();
  redraw();
}

/** A place comes into the middle, with its surroundings. */
export function goTo(area) {
  const room = Math.min(camera.width / Math.max(area.width, 4), camera.height / Math.max(area.height, 4));
  camera.scale = Math.min(Math.max(camera.scale, room * 0.2), Math.max(room * 0.6, 0.5), 24);
  centre(area.x + area.width / 2, area.y + area.height / 2);
}

/** Something always stays in sight. */
function hold() {
  const area = subject();
  if (!area) return;
  const [w, h] = [camera.width / camera.scale, camera.height / camera.scale];
  camera.x = Math.min(Math.max(camera.x, area.x - w * 0.9), area.x + area.width - w * 0.1);
  camera.y = Math.min(Math.max(camera.y, area.y - h * 0.9), area.y + area.height - h * 0.1);
}

export function redraw() {
  if (asked) return;
  asked = true;
  stage.ariaBusy = true;
  requestAnimationFrame(() => {
    asked = false;
    draw();
  });
}

function draw() {
  const ratio = devicePixelRatio || 1;
  const [w, h] = [Math.round(camera.width * ratio), Math.round(camera.height * ratio)];
  if (canvas.width !== w || canvas.height !== h) [canvas.width, canvas.height] = [w, h];
  paper.setTransform(1, 0, 0, 1, 0, 0);
  paper.clearRect(0, 0, w, h);
  const area = subject();
  if (area) {
    const [x, y] = toScreen(area.x, area.y).map((one) => Math.round(one * ratio));
    const [right, foot] = toScreen(area.x + area.width, area.y + area.height).map((one) => Math.round(one * ratio));
    const split = now.earlier ? Math.round((find("slider").value / 100) * w) : 0;
    for (const layer of layers) {
      paper.save();
      paper.beginPath();
      if (layer.role === "earlier") paper.rect(0, 0, split, h);
      else paper.rect(Math.max(x, split), y, right - Math.max(x, split), foot - y);
      paper.clip();
      layer.draw(paper, camera, ratio);
      paper.restore();
    }
  }
  const ppmm = trueScale();
  find("scale").textContent = flat() ? `${short((100 * camera.scale) / ppmm, camera.scale < ppmm / 10 ? 1 : 0)} %` : `${short(100 * camera.scale, 0)} %`;
  stage.ariaBusy = layers.some((layer) => layer.busy());
  tell("moved");
}

let trueScale = () => 96 / 25.4;
export const measuredBy = (how) => (trueScale = how);

/** Layers that stay keep their tiles. */
export function setLayers() {
  const wanted = [];
  if (!now.cover?.sheet) layers = [];
  else if (!flat()) {
    const [kind, name] = looked();
    const path = `/${kind}/${now.id}/${encodeURIComponent(name)}.png?build=${now.cover.build}`;
    const old = layers[0];
    if (old?.path !== path) layers = [new Picture(path, redraw, old instanceof Picture && old.look === now.look ? old : null, now.look, whole)];
  } else {
    const plates = now.plates ? now.plates.join(",") : "all";
    wanted.push(["sheet", now.id, plates, now.cover]);
    if (now.earlier) wanted.push(["earlier", now.earlier.id, plates, now.earlier]);
    if (now.over) wanted.push(["over", now.id, "over", now.cover]);
    const old = layers;
    layers = wanted.map(([role, id, plates, cover]) => {
      const known = old.find((one) => one.role === role && one.id === id && one.plates === plates);
      const layer = known ?? new Layer(role, id, plates, redraw);
      layer.build(cover);
      return layer;
    });
    for (const one of old) if (!layers.includes(one)) one.drop?.();
  }
  redraw();
}

function resized() {
  const box = stage.getBoundingClientRect();
  if (!box.width) return;
  const [x, y] = toSheet(camera.width / 2, camera.height / 2);
  [camera.width, camera.height] = [box.width, box.height];
  if (camera.whole) whole();
  else centre(x, y);
}
new ResizeObserver(resized).observe(stage);

// One finger, pen or mouse moves the sheet, two change its size; a short touch reads the ink.
const fingers = new Map();
let travelled = 0;
const place = (event) => {
  const box = stage.getBoundingClientRect();
  return [event.clientX - box.left, event.clientY - box.top];
};
const spread = () => {
  const [a, b] = [...fingers.values()];
  return [Math.hypot(a[0] - b[0], a[1] - b[1]), (a[0] + b[0]) / 2, (a[1] + b[1]) / 2];
};
stage.addEventListener("pointerdown", (event) => {
  if (event.target.closest("button")) return;
  if (fingers.size === 0) travelled = 0;
  fingers.set(event.pointerId, place(event));
  stage.setPointerCapture(event.pointerId);
});
stage.addEventListener("pointermove", (event) => {
  const spot = place(event);
  const last = fingers.get(event.pointerId);
  if (!last) return tell("pointed", spot);
  if (fingers.size === 1) {
    travelled += Math.hypot(spot[0] - last[0], spot[1] - last[1]);
    if (travelled > 4) {
      stage.classList.add("held");
      pan(last[0] - spot[0], last[1] - spot[1]);
    }
    fingers.set(event.pointerId, spot);
  } else if (fingers.size === 2) {
    const [far, x, y] = spread();
    fingers.set(event.pointerId, spot);
    const [wide, nx, ny] = spread();
    travelled += 9;
    pan(x - nx, y - ny);
    if (far > 0) zoom(wide / far, nx, ny);
  }
});
for (const name of ["pointerup", "pointercancel"]) {
  stage.addEventListener(name, (event) => {
    if (fingers.delete(event.pointerId) && name === "pointerup" && travelled <= 4) tell("tapped", place(event));
    stage.classList.toggle("held", fingers.size > 0 && travelled > 4);
  });
}
stage.addEventListener("pointerleave", () => tell("left"));
stage.addEventListener("wheel", (event) => {
  event.preventDefault();
  const step = event.deltaMode === 1 ? 24 : 1; // lines or pixels
  if (event.shiftKey && !event.ctrlKey) return pan(event.deltaY * step, 0);
  zoom(Math.exp((-event.deltaY * step * (event.ctrlKey ? 6 : 1)) / 600), ...place(event));
}, { passive: false });

find("smaller").addEventListener("click", () => zoom(1 / 1.5));
find("larger").addEventListener("click", () => zoom(1.5));
find("whole").addEventListener("click", whole);
on("cover plates over earlier", setLayers);
on("look", () => {
  setLayers();
  whole();
});
on("opened", () => (camera.whole = true));
on("cover", () => camera.whole && whole());
