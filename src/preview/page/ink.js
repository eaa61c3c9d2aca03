// Inks: how much of each is printed at a point, what is printed there, and which plates are shown.

import { find, make, now, on, short, tell } from "/page/now.js";
import { camera, flat, pan, toScreen, toSheet } from "/page/stage.js";
import { ask } from "/page/talk.js";
import { source } from "/page/findings.js";

const cross = find("cross");
const spot = { at: null, keys: false }; // the point that is read, on the sheet
let busy = false;
let next = null;
let bars = [];

/** Reads the point; while an answer is on its way only the last question waits. */
async function read(point) {
  if (busy) return void (next = point);
  busy = true;
  try {
    const said = await ask(`/ink/${now.id}?x=${point[0].toFixed(3)}&y=${point[1].toFixed(3)}`);
    if (spot.at) show(said);
  } catch {
    // The last reading stays.
  }
  busy = false;
  if (next) {
    const later = next;
    next = null;
    read(later);
  }
}

export function readAt(x, y, keys = false) {
  const { bleed } = now.cover.sheet;
  const inside = x >= bleed.x && y >= bleed.y && x < bleed.x + bleed.width && y < bleed.y + bleed.height;
  spot.keys = keys;
  if (!flat() || !inside) return rest();
  spot.at = [x, y];
  put();
  read(spot.at);
}

function put() {
  cross.hidden = !spot.at || !spot.keys || !flat();
  if (cross.hidden) return;
  const [x, y] = toScreen(...spot.at);
  cross.style.transform = `translate(${x}px, ${y}px)`;
}

/** The keyboard's point: begins in the middle of what is seen, and the sheet follows it. */
export function walk(dx, dy) {
  if (!now.cover?.sheet || !flat()) return;
  const { bleed } = now.cover.sheet;
  const begin = spot.keys && spot.at ? spot.at : toSheet(camera.width / 2, camera.height / 2);
  const step = 10 / camera.scale;
  const clamp = (value, from, length) => Math.min(Math.max(value, from), from + length - 0.01);
  const to = [clamp(begin[0] + dx * step, bleed.x, bleed.width), clamp(begin[1] + dy * step, bleed.y, bleed.height)];
  const [x, y] = toScreen(...to);
  pan(x < 40 ? x - 40 : Math.max(0, x - camera.width + 40), y < 40 ? y - 40 : Math.max(0, y - camera.height + 40));
  readAt(...to, true);
}

function rest() {
  Object.assign(spot, { at: null, keys: false });
  put();
  find("ink").classList.add("resting");
  for (const bar of bars) bar.set(null);
  find("ink-total").replaceChildren();
  find("ink-what").replaceChildren("Point at the cover, or tap it. With the keyboard: go to the sheet and press an arrow key.");
}

function show(said) {
  const { ink_limit: limit, inks, elements } = now.cover;
  find("ink").classList.remove("resting");
  said.inks.forEach((percent, at) => bars[at]?.set(percent));
  const { over } = said;
  find("ink-total").replaceChildren(
    make("strong", {}, `${short(said.total, 0)} %`), ` of ink in all`,
    limit ? make("span", { class: over ? "over" : "under" }, over ? `; around here over the limit of ${limit} %` : `; the limit is ${limit} %`) : "");
  const one = said.element == null ? null : elements[said.element];
  const what = one ? [make("strong", {}, one.name), ` ${about(one)}`, source(one.file, one.line)] : ["Bare paper"];
  const where = `${short(said.x)} mm across, ${short(said.y)} mm down`;
  find("ink-what").replaceChildren(...what.filter(Boolean), make("span", { class: "where" }, where));
  if (spot.keys) say(`${one ? `${one.name}. ` : "Bare paper. "}${inks.map((ink, at) => `${ink.name} ${short(said.inks[at], 0)}`).join(", ")}. In all ${short(said.total, 0)} percent${over ? ", over the limit" : ""}.`);
}

let saying;
function say(words) {
  clearTimeout(saying);
  saying = setTimeout(() => (find("ink-said").textContent = words), 350);
}

/** What an element is: its font and size, or its picture and resolution. */
export function about(one) {
  const parts = [one.kind];
  if (one.font) parts.push(`${one.font}${one.points ? `, ${short(one.points, 2)} pt` : ""}`);
  if (one.picture) parts.push(`${one.picture}${one.ppi ? `, ${short(one.ppi, 0)} ppi` : ""}`);
  return parts.join(" · ");
}

function meters() {
  bars = now.cover.inks.map((ink) => {
    const fill = make("span", { class: "fill" });
    const number = make("span", { class: "number" }, "–");
    fill.style.background = ink.look;
    const row = make("div", { class: "bar" }, make("span", { class: "name" }, ink.name), make("span", { class: "track", "aria-hidden": "true" }, fill), number);
    return {
      row,
      set(percent) {
        fill.style.width = `${percent ?? 0}%`;
        number.textContent = percent == null ? "–" : `${short(percent, percent < 10 ? 1 : 0)} %`;
      },
    };
  });
  find("ink-bars").replaceChildren(...bars.map((bar) => bar.row));
}

function plates() {
  const { inks } = now.cover;
  const boxes = inks.map((ink, at) => {
    const box = make("input", { type: "checkbox", "data-plate": at, onchange: () => togglePlate(at) });
    box.checked = !now.plates || now.plates.includes(at);
    const dot = make("span", { class: "dot", "aria-hidden": "true" });
    dot.style.background = ink.look;
    return make("label", {}, box, dot, make("span", { class: "choice" }, ink.name, ink.finishing ? make("span", { class: "count" }, " finishing") : ""), make("button", { type: "button", class: "small", "aria-label": `${ink.name} alone`, onclick: () => setPlates([at]) }, "Alone"),
      at < 9 && make("kbd", { "aria-hidden": "true" }, String(at + 1)));
  });
  const every = make("button", { type: "button", id: "all-plates", class: "small", onclick: () => setPlates(null) }, "All plates");
  const limit = make("input", { type: "checkbox", id: "over", onchange: toggleOver });
  limit.checked = now.over;
  find("plates").replaceChildren(...boxes, make("p", { class: "row" }, every, make("kbd", { "aria-hidden": "true" }, "0")),
    make("label", {}, limit, make("span", { class: "choice" }, `Mark where ink is over ${now.cover.ink_limit ?? "the limit"}${now.cover.ink_limit ? " %" : ""}`), make("kbd", { "aria-hidden": "true" }, "x")));
  count();
}
const count = () => (find("plates-count").textContent = now.plates ? `${now.plates.length} of ${now.cover.inks.length}` : "all");

export function setPlates(wanted) {
  now.plates = wanted && wanted.length && wanted.length < now.cover.inks.length ? wanted : null;
  for (const box of find("plates").querySelectorAll("[data-plate]")) box.checked = !now.plates || now.plates.includes(Number(box.dataset.plate));
  count();
  tell("plates");
}

export function togglePlate(at) {
  if (at >= now.cover.inks.length) return;
  const present = now.plates ?? now.cover.inks.map((_, one) => one);
  setPlates(present.includes(at) ? present.filter((one) => one !== at) : [...present, at].sort((a, b) => a - b));
}

export function toggleOver() {
  now.over = !now.over;
  find("over").checked = now.over;
  tell("over");
}

let inks = "";
on("cover", () => {
  const names = JSON.stringify([now.cover.inks, now.cover.ink_limit]);
  if (names !== inks) {
    inks = names;
    now.plates = null;
    meters();
    plates();
    rest();
  }
  if (spot.at && now.cover.sheet) read(spot.at);
});
const aim = (stays) => ([x, y]) => now.cover?.sheet && readAt(...toSheet(x, y), stays);
on("pointed", aim(false));
on("tapped", aim(true));
on("left", () => spot.keys || rest());
on("moved", put);
on("look", rest);
